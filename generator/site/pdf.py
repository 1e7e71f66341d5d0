"""One PDF of a vehicle: its pages one after another, with contents, an outline and page numbers.

The pages are those of the site. Their styles for paper lay them out, and an installed Chromium
prints them, twice: only a printed page has a number that the contents can tell.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from urllib.parse import quote

from markupsafe import Markup

from generator.guide.page import Page
from generator.guide.pages import vehicle_pages
from generator.guide.vehicle import Vehicle, page_path
from generator.profile.sensor_model import Sensor
from generator.site.offline import AssetFolder

TEMPLATE = "guide/print.html"
PAPERS = ("A4", "Letter")
CHROMIUM = (
    *("chromium-headless-shell", "chromium", "chromium-browser"),
    *("google-chrome", "google-chrome-stable"),
)
"""The names Chromium goes by; first the one without windows, which starts three times as fast."""

_BENCH = "guide/bench.html"
_LONGEST_S = 120
_MAIN = re.compile(r"<main\b[^>]*>(.*)</main>", re.DOTALL)
_NAMED = re.compile(r' (id|for|name|aria-labelledby|aria-describedby)="([^"]+)"')
_LINK = re.compile(r' href="([^"#:]*)(?:#([^"]*))?"')
_ID = re.compile(r"#([a-z][\w-]*)")
_PAGE_RULE = re.compile(r"@page\s*\{[^}]*\}")
_TREE = re.compile(rb"\n(\d+) 0 obj\s*<<\s*/Type /Pages\b(.*?)/Kids \[([^\]]*)\]", re.DOTALL)
_REFERENCE = re.compile(rb"(\d+) 0 R")
_DESTINATIONS = re.compile(rb"/Dests (\d+) 0 R")
_DESTINATION = re.compile(rb"/(\S+) \[(\d+) 0 R")


class CannotPrint(Exception):
    """There is no Chromium, or it did not print; the message is a sentence."""


@dataclass(frozen=True, slots=True)
class Section:
    """One page of the site within the document; `number` is that of its first sheet, or empty."""

    key: str
    title: str
    html: Markup
    is_sheet: bool
    number: str = ""


@dataclass(frozen=True, slots=True)
class PrintView:
    """The document: what it is called, its styles, and its sections in order.

    `address` is that of the guide online, which has later corrections, or empty.
    """

    title: str
    style: Markup
    sections: tuple[Section, ...]
    address: str = ""


@dataclass(frozen=True, slots=True)
class PrintOrder:
    """How a guide is printed.

    `styles` are the texts of the site's style sheet and of the bench sheet's; `browser` is the
    Chromium to use, where it is not found by itself; `address` is the site's, with a slash at its
    end, or empty.
    """

    styles: tuple[str, str]
    paper: str = "A4"
    browser: str | None = None
    address: str = ""


def vehicle_pdf(pages: Sequence[Page], render: Callable[[Page], str], order: PrintOrder) -> bytes:
    """The PDF of the vehicle whose pages these are, its overview first, its fault codes last.

    Raises:
        CannotPrint: there is no Chromium, or it did not print.
    """
    browser = order.browser or _chromium_to_print()
    document = _document(pages, render, order)
    first = _printed(browser, render(document))
    numbers = section_numbers(first)
    missing = [section.key for section in document.view.sections if section.key not in numbers]
    if missing:
        raise CannotPrint(
            "Chromium's file does not say where its sections begin; is it an old one?"
        )
    return _printed(browser, render(_numbered(document, numbers)))


def pages_to_print(vehicle: Vehicle, sensors: Sequence[Sensor]) -> list[Page]:
    """The pages of a vehicle, its overview first.

    With sensors, only theirs follow it: its fault codes speak of all sensors.
    """
    pages = list(vehicle_pages(vehicle))
    if not sensors:
        return pages
    starts = tuple(page_path(vehicle.slug, each).removesuffix(".html") for each in sensors)
    return [page for page in pages if _key(page) == "index" or page.path.startswith(starts)]


def printed_styles(theme: Sequence[Path]) -> tuple[str, str]:
    """The texts of the guides' style sheets and of the bench sheet's, as a theme has them.

    Raises:
        FileNotFoundError: no folder has it.
    """
    assets = AssetFolder(theme)
    first, rest, bench = (
        assets.content(f"assets/{name}.css").decode() for name in ("sondebook", "guide", "bench")
    )
    return first + rest, bench


def installed_chromium() -> str | None:
    """Where Chromium is, under whichever of its names."""
    return next(filter(None, map(shutil.which, CHROMIUM)), None)


def _chromium_to_print() -> str:
    found = installed_chromium()
    if found is None:
        raise CannotPrint(
            "a PDF needs Chromium, and none is installed: install it, or name it with --chromium."
        )
    return found


def _document(
    pages: Sequence[Page],
    render: Callable[[Page], str],
    order: PrintOrder,
) -> Page:
    overview = pages[0]
    ordered = sorted(pages, key=lambda page: _key(page) == "codes")
    keys = {_key(page) for page in pages}
    title = overview.frame.title
    view = PrintView(
        title=title,
        style=Markup(_style(*order.styles, title, order.paper)),
        sections=tuple(
            Section(
                _key(page), page.frame.title, _body(page, render, keys), page.template == _BENCH
            )
            for page in ordered
        ),
        address=f"{order.address}{quote(overview.path)}" if order.address else "",
    )
    frame = replace(overview.frame, breadcrumbs=(), previous=None, next=None, slug="")
    return Page(overview.path, TEMPLATE, frame, view)


def _numbered(document: Page, numbers: dict[str, int]) -> Page:
    sections = tuple(
        replace(section, number=str(numbers[section.key])) for section in document.view.sections
    )
    return replace(document, view=replace(document.view, sections=sections))


def _key(page: Page) -> str:
    return page.path.rpartition("/")[2].removesuffix(".html")


def _body(page: Page, render: Callable[[Page], str], keys: set[str]) -> Markup:
    """What a page says, with names that are its own in a document of many pages."""
    found = _MAIN.search(render(page))
    if found is None:
        raise CannotPrint(f"the template {page.template} has no <main>.")
    key = _key(page)

    def named(name: re.Match[str]) -> str:
        return f' {name[1]}="{" ".join(f"{key}-{each}" for each in name[2].split())}"'

    def led(link: re.Match[str]) -> str:
        file, anchor = link[1], link[2]
        target = file.removesuffix(".html") if file else key
        if target not in keys:
            return ""
        return f' href="#{target}-{anchor}"' if anchor else f' href="#{target}"'

    return Markup(_LINK.sub(led, _NAMED.sub(named, found[1])))


def _style(site: str, bench: str, title: str, paper: str) -> str:
    """The styles of the document; those of the bench sheet reach no other page."""
    bench = _ID.sub(r'[id$="-\1"]', _PAGE_RULE.sub("", bench))
    return (
        f"{site}\n"
        f".sheet-of-bench {{ page: sheet; font-size: 9pt; line-height: 1.3;\n{bench} }}\n"
        f"@page {{ size: {paper}; margin-bottom: 18mm;\n"
        f"@bottom-left {{ content: {_css_string(title)}; font: 8pt sans-serif; }}\n"
        f"@bottom-right {{ content: counter(page); font: bold 9pt sans-serif; }} }}\n"
        f"@page sheet {{ margin: 10mm 10mm 16mm; }}\n"
    )


def _css_string(text: str) -> str:
    """A text as a string of a style sheet, whatever is in it."""
    return '"' + "".join(c if c.isalnum() else f"\\{ord(c):x} " for c in text) + '"'


def _printed(browser: str, html: str) -> bytes:
    with tempfile.TemporaryDirectory(
        # A browser that was stopped may still be writing into it
        prefix="sondebook-pdf-",
        ignore_cleanup_errors=True,
    ) as folder:
        document, file = Path(folder, "guide.html"), Path(folder, "guide.pdf")
        document.write_text(html, encoding="utf-8")
        command = [
            browser,
            "--headless",
            "--disable-gpu",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--no-first-run",
            f"--user-data-dir={folder}/profile",
            "--no-pdf-header-footer",
            "--generate-pdf-document-outline",
            f"--print-to-pdf={file}",
            document.as_uri(),
        ]
        if hasattr(os, "geteuid") and os.geteuid() == 0:
            # Chromium has no sandbox for root; the document is ours and has no script
            command.insert(1, "--no-sandbox")
        try:
            subprocess.run(command, check=True, capture_output=True, timeout=_LONGEST_S)
            return file.read_bytes()
        except (OSError, subprocess.SubprocessError):
            raise CannotPrint(f"{browser} did not print the guide.") from None


def section_numbers(pdf: bytes) -> dict[str, int]:
    """The number of the page, from 1, on which each named place of Chromium's PDF stands.

    Only for the plain layout that Chromium writes: names and page tree not compressed (PDF 1.4,
    7.7.3.2 and 12.3.2.3 of ISO 32000-1). Of another, nothing is found.
    """
    nodes = {
        int(number): ([int(each) for each in _REFERENCE.findall(kids)], b"/Parent" in before)
        for number, before, kids in _TREE.findall(pdf)
    }

    def leaves(node: int) -> list[int]:
        return [leaf for kid in nodes[node][0] for leaf in leaves(kid)] if node in nodes else [node]

    tops = set(nodes) - {kid for kids, _ in nodes.values() for kid in kids}
    place = _DESTINATIONS.search(pdf)
    if len(tops) != 1 or place is None:
        return {}
    numbers = {leaf: number for number, leaf in enumerate(leaves(tops.pop()), start=1)}
    start = pdf.find(b"\n%s 0 obj" % place[1])
    told = pdf[start : pdf.find(b"endobj", start)]
    return {
        name.decode("latin-1"): numbers[int(page)]
        for name, page in _DESTINATION.findall(told)
        if int(page) in numbers
    }
