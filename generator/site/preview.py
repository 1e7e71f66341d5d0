"""One vehicle as its file has it now: only that profile is read, only what is asked is made."""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from dataclasses import dataclass
from gettext import NullTranslations
from mimetypes import guess_type
from pathlib import Path
from threading import Condition, Event

from jinja2 import TemplateError

from generator.guide.page import Frame, Page, Row
from generator.guide.pages import vehicle_pages
from generator.guide.photo_view import FOLDER
from generator.guide.vehicle import GUIDES, Vehicle, page_path
from generator.profile import Finding, ProfileFile, read_profile
from generator.profile.folder import shown_path
from generator.profile.photo_file import PhotoRefused
from generator.site.collection import collect
from generator.site.photos import MEDIA_TYPES, PhotoPress
from generator.site.renderer import Renderer

Told = Callable[[tuple[Finding, ...]], None]
"""Called with the findings after each reading of the file."""

LOOK_EVERY_S = 0.1
"""How often the file is looked at."""

FINDINGS_FILE = "preview/findings.html"
SCRIPT_FILE = "preview/reload.js"
TEMPLATE = "guide/preview.html"

_MAIN = re.compile(r"<main[^>]*>")


@dataclass(frozen=True, slots=True)
class Answer:
    """What a browser gets: a status of HTTP, the kind of content, the content."""

    status: int
    kind: str
    content: bytes


@dataclass(frozen=True, slots=True)
class PreviewView:
    """What a page of the preview itself says."""

    lead: str
    findings: list[Finding]
    ways_on: list[Row]


@dataclass(frozen=True, slots=True)
class _State:
    """The file as it was read last; ``number`` grows with every reading.

    ``stamp`` is that of the file and of ``photos``, the files that it names as such.
    """

    number: int
    stamp: tuple[int, ...]
    photos: tuple[Path, ...]
    findings: tuple[Finding, ...]
    vehicle: Vehicle | None
    pages: dict[str, Page]


class Preview:
    """The guide of one profile file, always of its newest state; used by several threads."""

    def __init__(self, path: Path, renderer: Renderer, theme: list[Path]) -> None:
        """Read the file for the first time; ``theme`` are its folders, its own first."""
        self._path = path
        self._renderer = renderer
        self._assets = _assets(theme)
        self._changed = Condition()
        self._t = renderer.translations
        self._press = PhotoPress(path.parent, memory={})
        self._judged: set[str] = set()
        # No number comes twice, even when the preview was ended and started again
        self._state = self._read(time.time_ns())

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the check finds in the file as it is."""
        return self._state.findings

    def watch(self, ended: Event, told: Told) -> None:
        """Look at the file again and again, until the preview ends."""
        while not ended.wait(LOOK_EVERY_S):
            if self.look():
                told(self.findings)

    def look(self) -> bool:
        """Read the file if it was saved since it was read last; whether it was."""
        if self._stamp(self._state.photos) == self._state.stamp:
            return False
        with self._changed:
            self._state = self._read(self._state.number + 1, self._state.photos)
            self._changed.notify_all()
        return True

    def wait(self, known: int, longest_s: float) -> int:
        """The number of the state, as soon as it is not the known one, or after so long."""
        with self._changed:
            self._changed.wait_for(lambda: self._state.number != known, longest_s)
            return self._state.number

    def answer(self, path: str) -> Answer:
        """What stands at a path of the site, without its leading slash."""
        state = self._state
        if asset := self._assets.get(path):
            kind = guess_type(asset.name)[0] or "application/octet-stream"
            return Answer(200, kind, asset.read_bytes())
        if state.vehicle is None:
            lead = self._t.gettext("The guide is built again as soon as the errors are mended.")
            return self._own_page(path, state, self._t.gettext("Not built"), lead)
        if path == FINDINGS_FILE:
            return self._own_page(path, state, self._t.gettext("What the check finds"), "")
        folder = f"{GUIDES}/{state.vehicle.slug}/{FOLDER}/"
        is_picture = path.startswith(folder)
        if is_picture and (answer := self._picture(state.vehicle, path.removeprefix(folder))):
            return answer
        page = state.pages.get(path) or self._site_page(path, state)
        if page is None:
            return self._not_here(path, state)
        return self._page(page, state)

    def index_of(self, path: str) -> str:
        """The page that a folder's address leads to; empty where it is none of a folder."""
        folder = path.strip("/")
        if folder in ("", "index.html"):
            return self.first_path
        if "." in folder.rpartition("/")[2]:
            return ""
        index = f"{folder}/index.html"
        state = self._state
        if index == self.first_path or index in state.pages or self._site_page(index, state):
            return index
        return ""

    @property
    def first_path(self) -> str:
        """Where the vehicle's guide begins."""
        return page_path(self._path.stem)

    def _read(self, number: int, photos: tuple[Path, ...] = ()) -> _State:
        """The file as it is, with the photos that it was last known to name."""
        stamp = self._stamp(photos)
        try:
            file = read_profile(self._path, shown_path(self._path, Path.cwd()), self._judged)
        except OSError:
            # An editor that puts a new file in place of the old one may be caught between
            return _State(number, stamp, photos, (), None, {})
        named = tuple(self._path.parent / each.file for each in file.named_photos)
        if named != photos:
            # Their stamps must be older than what is read of them
            return self._read(number, named)
        self._judged.update(each.key for each in file.photos.values())
        vehicle = _vehicle(file, self._t)
        pages = {page.path: page for page in vehicle_pages(vehicle)} if vehicle else {}
        return _State(number, stamp, photos, file.findings, vehicle, pages)

    def _stamp(self, photos: tuple[Path, ...]) -> tuple[int, ...]:
        stamp: list[int] = []
        for path in (self._path, *photos):
            try:
                found = path.stat()
            except OSError:
                stamp.append(0)
            else:
                stamp += (found.st_mtime_ns, found.st_size, found.st_ino)
        return tuple(stamp)

    def _picture(self, vehicle: Vehicle, name: str) -> Answer | None:
        """A picture of the vehicle, made when it is asked for; None where it has none so called."""
        try:
            content = self._press.picture(vehicle, name)
        except PhotoRefused:
            # It was changed a moment ago: the page is loaded again as soon as it is read
            return None
        kind = MEDIA_TYPES.get(name.rpartition(".")[2], "")
        return Answer(200, kind, content) if content else None

    def _site_page(self, path: str, state: _State) -> Page | None:
        """A list or a code's page, as it is where this vehicle is the only one."""
        if state.vehicle is None:
            return None
        file = ProfileFile(state.vehicle.slug, state.vehicle.profile, ())
        pages = collect([file], self._t, None).site_pages()
        return next((page for page in pages if page.path == path), None)

    def _not_here(self, path: str, state: _State) -> Answer:
        """What is said of an address that leads nowhere: the pages there are."""
        lead = self._t.gettext(
            "It is not part of the preview of one vehicle, whose pages are these. Without a file, "
            "sondebook serve shows the whole site."
        )
        up = "../" * path.count("/")
        ways_on = [Row(page.frame.title, f"{up}{page.path}") for page in state.pages.values()]
        view = PreviewView(lead, [], ways_on)
        page = Page(path, TEMPLATE, self._frame(path, self._t.gettext("Another page")), view)
        return self._page(page, None, 404)

    def _own_page(self, path: str, state: _State, title: str, lead: str) -> Answer:
        view = PreviewView(lead, list(state.findings), [])
        return self._page(Page(path, TEMPLATE, self._frame(path, title), view), state)

    def _frame(self, path: str, title: str) -> Frame:
        overview = f"{'../' * path.count('/')}{self.first_path}"
        return Frame(title, self._path.name, ((self._path.stem, overview),))

    def _page(self, page: Page, state: _State | None, status: int = 200) -> Answer:
        number = self._state.number if state is None else state.number
        try:
            html = self._renderer.html(page)
        except TemplateError as error:
            return Answer(
                500, "text/plain; charset=utf-8", f"A template is at fault: {error}".encode()
            )
        script = f'<script src="{page.root}{SCRIPT_FILE}?{number}"></script>\n</body>'
        html = html.replace("</body>", script)
        if state and state.findings and page.template != TEMPLATE:
            html = _MAIN.sub(lambda main: main[0] + self._notice(page, state), html, count=1)
        return Answer(status, "text/html; charset=utf-8", html.encode())

    def _notice(self, page: Page, state: _State) -> str:
        """A line above a page that leads to the warnings; without contributed text."""
        count = len(state.findings)
        said = self._t.ngettext("%(count)s warning", "%(count)s warnings", count) % {"count": count}
        href = f"{page.root}{FINDINGS_FILE}"
        return f'\n<p class="missing"><a class="more" href="{href}">{said}</a></p>'


def _vehicle(file: ProfileFile, t: NullTranslations) -> Vehicle | None:
    return Vehicle(file.slug, file.profile, t, photos=file.photos) if file.profile else None


def _assets(theme: list[Path]) -> dict[str, Path]:
    """Styles, scripts and pictures, by path in the site; no other path leads to a file."""
    return {
        file.relative_to(folder).as_posix(): file
        for folder in reversed(theme)
        for file in (folder / "assets").rglob("*")
        if file.is_file()
    }
