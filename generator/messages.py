"""The message catalogue: every fixed sentence of guide pages, and its translations.

``python -m generator.messages`` writes generator/locale anew: the template (.pot) from the sources,
each translation (.po) brought up to it, each compiled (.mo), which is what a build reads. It needs
Babel, which a build does not. A new language: ``python -m generator.messages add fr``.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog, Message
from babel.messages.extract import DEFAULT_KEYWORDS, extract_from_file
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from generator.guide.trade_words import trade_words
from generator.profile.form_schema import form_words
from generator.site.language import DOMAIN, FOLDER
from generator.site.profile_form import LAYOUT_FAULTS
from generator.site.theme import theme_folder

_SOURCES = Path(__file__).parent
# As the templates are rendered; see generator/site/renderer.py
_JINJA = {"trimmed": "true", "newstyle_gettext": "true", "silent": "false"}
_HEADERS = ("Language", "Plural-Forms", "MIME-Version", "Content-Type", "Content-Transfer-Encoding")
_UNFINDABLE: Mapping[str, Callable[[], Iterable[str]]] = {
    "generator/guide/trade_words.py": trade_words,
    "generator/profile/form_schema.py": form_words,
    "generator/site/profile_form.py": lambda: LAYOUT_FAULTS,
}
"""Sentences that are made rather than written, by where they are made."""
TEMPLATE = FOLDER / f"{DOMAIN}.pot"


def template() -> Catalog:
    """Every message of the sources, with the files it stands in."""
    catalog = _catalog()
    for path in _sources():
        method = "python" if path.suffix == ".py" else "jinja2"
        options = {} if path.suffix == ".py" else _JINJA
        for _line, message, _comments, context in extract_from_file(
            method, path, DEFAULT_KEYWORDS, options=options
        ):
            catalog.add(message, locations=[(_place(path), 0)], context=context)
    for place, words in _UNFINDABLE.items():
        for message in words():
            catalog.add(str(message), locations=[(place, 0)])
    return catalog


def _sources() -> Iterator[Path]:
    yield from sorted(_SOURCES.rglob("*.py"))
    yield from sorted(theme_folder().rglob("*.html"))


def _place(path: Path) -> str:
    if path.is_relative_to(_SOURCES):
        return f"generator/{path.relative_to(_SOURCES).as_posix()}"
    return f"overrides/{path.relative_to(theme_folder()).as_posix()}"


class _Catalog(Catalog):
    """A catalogue whose head holds no day and no version: same sources, same file."""

    @property
    def mime_headers(self) -> list[tuple[str, str]]:
        """What a reader of the file needs."""
        return [each for each in super().mime_headers if each[0] in _HEADERS]


def _catalog(locale: str | None = None) -> Catalog:
    comment = "# The fixed sentences of Sondebook's guide pages."
    return _Catalog(locale, domain=DOMAIN, header_comment=comment, fuzzy=False)


def translated(path: Path) -> Catalog:
    """A translation as it stands in its file."""
    with path.open("rb") as file:
        return read_po(file, locale=path.parts[-3], domain=DOMAIN)


def updated(path: Path) -> Catalog:
    """A translation brought up to the sources: what is new is empty, what is gone is gone."""
    old, new = translated(path), _catalog(path.parts[-3])
    for message in template():
        if not message.id:
            continue
        said = old.get(_first(message.id), message.context)
        string = said.string if said and said.id == message.id else ""
        new.add(
            message.id,
            string,
            message.locations,
            flags=message.flags,
            user_comments=said.user_comments if said else (),
            context=message.context,
        )
    return new


def _first(message_id: str | tuple[str, ...] | list[str]) -> str:
    return message_id if isinstance(message_id, str) else message_id[0]


def po_text(catalog: Catalog) -> bytes:
    """A catalogue as a .po or .pot file, without line numbers, which move too often."""
    text = BytesIO()
    write_po(text, catalog, width=100, include_lineno=False)
    return text.getvalue()


def mo_text(catalog: Catalog) -> bytes:
    """A translation as a build reads it."""
    text = BytesIO()
    write_mo(text, catalog)
    return text.getvalue()


def po_files() -> list[Path]:
    """The file of each translation."""
    return sorted(FOLDER.glob(f"*/LC_MESSAGES/{DOMAIN}.po"))


def write_all() -> None:
    """Write the template, and every translation brought up to it and compiled."""
    FOLDER.mkdir(exist_ok=True)
    TEMPLATE.write_bytes(po_text(template()))
    for path in po_files():
        catalog = updated(path)
        path.write_bytes(po_text(catalog))
        path.with_suffix(".mo").write_bytes(mo_text(catalog))
        empty = sum(not is_said(each) for each in catalog if each.id)
        print(f"{path.parts[-3]}: {len(catalog)} messages, {empty} to translate")


def is_said(message: Message) -> bool:
    """Whether a message is translated, in each of its plural forms."""
    said = message.string
    return bool(said) if said is None or isinstance(said, str) else all(said)


def add(language: str) -> None:
    """Begin a translation: an empty one."""
    path = FOLDER / language / "LC_MESSAGES" / f"{DOMAIN}.po"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(po_text(_catalog(language)))


if __name__ == "__main__":
    if sys.argv[1:2] == ["add"]:
        add(sys.argv[2])
    write_all()
