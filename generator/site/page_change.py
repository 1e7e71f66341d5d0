"""Which pages differ between two states of a vehicle or a collection, and where on each."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from gettext import NullTranslations
from html import unescape
from itertools import chain, pairwise

from generator.guide import figures
from generator.guide.page import Page
from generator.site.renderer import Renderer

_PARTS = re.compile(r'(?:<section[^>]*>\s*)?<h2|<nav class="turn"|<footer')
_HEADING = re.compile(r"(?:<section[^>]*>\s*)?<h2[^>]*>(.*?)</h2>", re.DOTALL)
_TAG = re.compile(r"<[^>]*>")


class Kind(StrEnum):
    """What became of a page, or of a vehicle."""

    NEW = "new"
    CHANGED = "changed"
    REMOVED = "removed"
    RENAMED = "renamed"


@dataclass(frozen=True, slots=True)
class PageChange:
    """A page that differs: where it stands, its title, and the titles of the parts that differ."""

    path: str
    title: str
    kind: Kind
    parts: tuple[str, ...] = ()


class Published:
    """Pages as they are published, by path; one is rendered when its view does not tell enough."""

    def __init__(self, pages: Iterable[Page], renderer: Renderer) -> None:
        self.pages = {page.path: page for page in pages}
        self.t = renderer.translations
        self._renderer = renderer
        self._html: dict[str, str] = {}

    def html(self, path: str) -> str:
        """The HTML of a page."""
        if path not in self._html:
            self._html[path] = self._renderer.html(self.pages[path])
        return self._html[path]


def page_changes(old: Published, new: Published) -> list[PageChange]:
    """The pages that a reader finds changed, in the order of the newer ones; then those gone."""
    found = []
    for path in dict.fromkeys(chain(new.pages, old.pages)):
        if path not in old.pages:
            found.append(PageChange(path, _title(new.pages[path]), Kind.NEW))
        elif path not in new.pages:
            found.append(PageChange(path, _title(old.pages[path]), Kind.REMOVED))
        elif _differ(old, new, path):
            parts = _changed_parts(old.html(path), new.html(path), new.t)
            found.append(PageChange(path, _title(new.pages[path]), Kind.CHANGED, parts))
    return found


def _title(page: Page) -> str:
    return figures.breakable(page.frame.title)


def changed_paths(old: Published, new: Published) -> list[str]:
    """The paths of the pages that differ, in the order of the newer ones; then those gone."""
    return [
        path
        for path in dict.fromkeys(chain(new.pages, old.pages))
        if path not in old.pages or path not in new.pages or _differ(old, new, path)
    ]


def _differ(old: Published, new: Published, path: str) -> bool:
    # What is equal before it is rendered is equal afterwards; the opposite does not follow
    return old.pages[path] != new.pages[path] and old.html(path) != new.html(path)


def _changed_parts(old: str, new: str, t: NullTranslations) -> tuple[str, ...]:
    before, after = _parts(old, t), _parts(new, t)
    return tuple(
        name
        for name in dict.fromkeys(chain(after, before))
        if before.get(name, "") != after.get(name, "")
    )


def _parts(html: str, t: NullTranslations) -> dict[str, str]:
    """A page cut at its headings."""
    parts: dict[str, str] = {}
    starts = [0, *(found.start() for found in _PARTS.finditer(html)), len(html)]
    for start, end in pairwise(starts):
        piece = html[start:end]
        name = _name(piece, t) if start else t.gettext("top of the page")
        parts[name] = parts.get(name, "") + piece
    return parts


def _name(piece: str, t: NullTranslations) -> str:
    heading = _HEADING.match(piece)
    return unescape(_TAG.sub("", heading[1])).strip() if heading else t.gettext("foot of the page")
