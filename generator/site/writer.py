"""Rendered pages to files."""

from __future__ import annotations

import gc
import os
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from generator.guide.finder import DATA_FILE, finder_script
from generator.guide.page import Page
from generator.guide.pages import vehicle_pages
from generator.guide.vehicle import Vehicle, data_path, pocket_path
from generator.site.collection import Collection
from generator.site.data_files import (
    CATALOGUE_FILE,
    SCHEMA_FILE,
    catalogue_text,
    schema_text,
    vehicle_text,
)
from generator.site.edition import Edition
from generator.site.lean import lean_script, write_lean_assets
from generator.site.offline import (
    KEPT_FILE,
    MANIFEST_FILE,
    WORKER,
    WORKER_FILE,
    AssetFolder,
    KeptList,
    manifest,
    worker_script,
)
from generator.site.pocket import pocket_maker
from generator.site.renderer import Renderer
from generator.site.shares import in_shares

_VEHICLES_A_COLLECTION = 16
# What outlives its vehicle is for all of them
_YOUNGEST = 0
# Windows would else translate the ends of lines
_NEW_FILE = os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0)


def write_guides(
    collection: Collection,
    renderer: Renderer,
    site: Path,
    edition: Edition,
    processes: int = 1,
) -> int:
    """Write the guide pages of a collection, and what goes with them, under the site's folder.

    With them go the finder's data, the guides as data, and what keeps guides on a phone.
    Gives the number of pages.
    With more than one process the vehicles are shared out; the files are the same.

    Raises:
        OSError: a file cannot be written, or one that a page loads is missing.
    """
    write_lean_assets(edition.theme, site)
    _write(site, DATA_FILE, finder_script(collection.makes, collection.t).encode())
    _write(site, MANIFEST_FILE, manifest(edition).encode())
    _write(site, CATALOGUE_FILE, catalogue_text(collection.vehicles).encode())
    _write(site, SCHEMA_FILE, schema_text().encode())
    writer = _Writer(collection, renderer, site, edition)
    with _little_garbage_collected():
        count = writer.site_wide(collection.site_pages())
        return count + in_shares(collection.vehicles, writer.vehicles, processes)


@contextmanager
def _little_garbage_collected() -> Iterator[None]:
    """Leave looking for garbage to the writer.

    What was read stays: looking through all of it, page after page, costs a tenth.
    """
    gc.freeze()
    gc.disable()
    try:
        yield
    finally:
        gc.enable()
        gc.unfreeze()


class _Writer:
    """Writes the pages of one build."""

    def __init__(
        self, collection: Collection, renderer: Renderer, site: Path, edition: Edition
    ) -> None:
        self._renderer = renderer
        self._site = site
        self._built = edition.built
        self._photos = edition.photos
        self._assets = AssetFolder((site, *edition.theme))
        self._pockets = (
            pocket_maker(self._assets, edition, renderer, collection.t)
            if edition.has_pocket
            else None
        )

    def site_wide(self, pages: Iterable[Page]) -> int:
        """Write the pages of no single vehicle, and the worker with what the kept page needs."""
        needs = KeptList("", self._assets)
        count = 0
        for page in pages:
            content = self._page(page)
            if page.path == KEPT_FILE:
                needs.add(page, content)
            count += 1
        if needs:
            worker = self._assets.content(WORKER).decode()
            _write(self._site, WORKER_FILE, worker_script(needs, lean_script(worker)).encode())
        return count

    def vehicles(self, vehicles: Sequence[Vehicle]) -> int:
        """Write all pages of some vehicles, and what keeps each of them on a phone."""
        count = 0
        for number, vehicle in enumerate(vehicles):
            count += self._vehicle(vehicle)
            if number % _VEHICLES_A_COLLECTION == 0:
                gc.collect(_YOUNGEST)
        return count

    def _vehicle(self, vehicle: Vehicle) -> int:
        if vehicle.photos and self._photos:
            # Before the pages, which say what they load
            self._photos.write(vehicle, self._site)
        needs = KeptList(vehicle.slug, self._assets)
        pages = list(vehicle_pages(vehicle))
        for page in pages:
            needs.add(page, self._page(page))
        if self._pockets:
            _write(self._site, pocket_path(vehicle.slug), self._pockets.html(pages).encode())
        _write(self._site, needs.path, needs.text(self._built).encode())
        _write(self._site, data_path(vehicle.slug), vehicle_text(vehicle).encode())
        return len(pages)

    def _page(self, page: Page) -> bytes:
        content = self._renderer.html(page).encode()
        _write(self._site, page.path, content)
        return content


def _write(site: Path, name: str, content: bytes) -> None:
    """Write a file, and make its folder if it is the first in it.

    Descriptors rather than `Path` or `open`: thousands of small files take half the time.
    """
    path = f"{site}/{name}"
    try:
        file = os.open(path, _NEW_FILE, 0o666)
    except FileNotFoundError:
        Path(path).parent.mkdir(parents=True, exist_ok=True)
        file = os.open(path, _NEW_FILE, 0o666)
    try:
        written = os.write(file, content)
        while written < len(content):
            written += os.write(file, content[written:])
    finally:
        os.close(file)
