"""The languages that guide pages speak: English, in which they are written, and translations.

A collection chooses one with ``theme.language`` in mkdocs.yml. A translation is a compiled message
catalogue, read with the standard library.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from gettext import NullTranslations, translation
from pathlib import Path
from urllib.parse import urljoin, urlsplit

import generator

SOURCE = "en"
DOMAIN = "sondebook"
FOLDER = Path(generator.__file__).parent / "locale"


class NotTranslated(LookupError):
    """There is no catalogue for a language; the message is one sentence for a person."""


@dataclass(frozen=True, slots=True)
class SiteInLanguage:
    """The same guides in another language: its code, its name in itself, and where the site stands.

    `folder` is relative to the root of the site that leads there, and ends in a slash.
    """

    code: str
    name: str
    folder: str

    def address(self, from_address: str) -> str:
        """Its address, which ends in a slash, when that of the site that leads there is known."""
        return urljoin(from_address, self.folder)


def sites_in(folders: Mapping[str, str]) -> tuple[SiteInLanguage, ...]:
    """The sites in other languages, by the code of each and its folder from this site's root.

    Raises:
        ValueError: a language has no catalogue, or what should be a relative folder is none.
    """
    return tuple(_site_in(code, folder) for code, folder in folders.items())


def _site_in(code: str, folder: str) -> SiteInLanguage:
    parts = urlsplit(folder)
    is_relative = not (parts.scheme or parts.netloc or folder.startswith("/"))
    if code not in languages() or not is_relative or not folder.endswith("/"):
        raise ValueError(f"{code}: {folder}")
    own_name = translations(code).pgettext("name of the language, in itself", "English")
    return SiteInLanguage(code, own_name, folder)


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
