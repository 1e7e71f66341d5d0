"""The languages that guide pages speak: English, in which they are written, and translations.

A collection chooses one with ``theme.language`` in mkdocs.yml. A translation is a compiled message
catalogue, read with the standard library.
"""

from __future__ import annotations

from gettext import NullTranslations, translation
from pathlib import Path

import generator

SOURCE = "en"
DOMAIN = "sondebook"
FOLDER = Path(generator.__file__).parent / "locale"


class NotTranslated(LookupError):
    """There is no catalogue for a language; the message is one sentence for a person."""


def languages() -> tuple[str, ...]:
    """The codes of all languages there are, English first."""
    found = sorted(path.parts[-3] for path in FOLDER.glob(f"*/LC_MESSAGES/{DOMAIN}.mo"))
    return (SOURCE, *found)


def translations(language: str) -> NullTranslations:
    """The messages in a language: ``de``, or ``de-AT``, for which ``de`` serves.

    Raises:
        NotTranslated: there is no catalogue for it.
    """
    known = languages()
    spoken = language.split("-", maxsplit=1)[0].split("_", maxsplit=1)[0].lower()
    if spoken not in known:
        raise NotTranslated(
            f"the guides speak {', '.join(known)}, not {language} (theme.language); they stay "
            "English."
        )
    if spoken == SOURCE:
        return NullTranslations()
    return translation(DOMAIN, FOLDER, [spoken])
