"""The sections that the links of a built site lead to: each page is read once, and asked no host.

linkchecker reads a page anew for every link with a section that leads to it, which takes hours for
a collection of hundreds.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from os.path import normpath
from pathlib import Path
from urllib.parse import unquote, urlsplit

_TEXT_DIRECTIVE = ":~:"


@dataclass(slots=True)
class _Page:
    """What a page has of it: the names in it that links may lead to, and its links with one."""

    names: set[str] = field(default_factory=set)
    links: set[str] = field(default_factory=set)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.page = _Page()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs:
            if value and (name == "id" or (name == "name" and tag == "a")):
                self.page.names.add(value)
            elif value and name == "href" and "#" in value:
                self.page.links.add(value)


def section_links(site: Path) -> Iterator[tuple[str, str, bool]]:
    """Every link within a site that leads to a section of a page that is there.

    Each is the page, from the site's root, the address as it is written there, and whether the
    section is there too. A link to a page that is missing is not among them.

    Raises:
        OSError: a page cannot be read.
    """
    pages = {
        path.relative_to(site).as_posix(): _read(path) for path in sorted(site.rglob("*.html"))
    }
    for name, page in pages.items():
        for address in sorted(page.links):
            way, section = _way(name, address)
            if section and way in pages:
                yield name, address, section in pages[way].names


def _read(path: Path) -> _Page:
    reader = _Reader()
    reader.feed(path.read_text(encoding="utf-8", errors="replace"))
    reader.close()
    return reader.page


def _way(page: str, address: str) -> tuple[str, str]:
    """The page that an address leads to, from the site's root, and the section; or nothing.

    An empty section and `#top` are the top of any page (HTML, 7.4.6.3).
    """
    parts = urlsplit(address)
    section = unquote(parts.fragment).partition(_TEXT_DIRECTIVE)[0]
    if parts.scheme or parts.netloc or parts.path.startswith("/") or section.lower() == "top":
        return "", ""
    if not parts.path:
        return page, section
    folder = page.rpartition("/")[0]
    return normpath(f"{folder}/{unquote(parts.path)}" if folder else unquote(parts.path)), section
