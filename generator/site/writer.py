"""Rendered pages to files."""

from __future__ import annotations

import gc
from itertools import groupby
from pathlib import Path

from generator.guide.finder import DATA_FILE, finder_script
from generator.guide.page import Page
from generator.guide.vehicle import pocket_path
from generator.site.collection import Collection
from generator.site.edition import Edition
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


def write_guides(
    collection: Collection, renderer: Renderer, site: Path, edition: Edition
) -> int:
    """Write the guide pages of a collection, and what goes with them, under the site's folder.

    With them go the finder's data and what keeps guides on a phone. Gives the number of pages.

    Raises:
        OSError: a file cannot be written, or one that a page loads is missing.
    """
    _write(site, DATA_FILE, finder_script(collection.makes, collection.t))
    _write(site, MANIFEST_FILE, manifest(edition))
    assets = AssetFolder((site, *edition.theme))
    pockets = pocket_maker(assets, edition, renderer, collection.t) if edition.has_pocket else None
    # What was read stays: looking through all of it for garbage, page after page, costs a tenth
    gc.freeze()
    made: set[str] = set()
    count = 0
    for slug, pages in groupby(collection.pages(), lambda page: page.frame.slug):
        needs = KeptList(slug, assets)
        kept: list[Page] = []
        for page in pages:
            folder, _, _ = page.path.rpartition("/")
            if folder not in made:
                (site / folder).mkdir(parents=True, exist_ok=True)
                made.add(folder)
            html = renderer.html(page)
            content = html.encode()
            with open(f"{site}/{page.path}", "wb") as file:  # noqa: PTH123 - twice as fast as Path
                file.write(content)
            if slug or page.path == KEPT_FILE:
                needs.add(page, html, content)
                kept.append(page)
            count += 1
        if slug and pockets:
            _write(site, pocket_path(slug), pockets.html(kept))
        if slug:
            _write(site, needs.path, needs.text(edition.built))
        elif needs:
            _write(site, WORKER_FILE, worker_script(needs, assets.content(WORKER).decode()))
    gc.unfreeze()
    return count


def _write(site: Path, path: str, text: str) -> None:
    (site / path).parent.mkdir(parents=True, exist_ok=True)
    (site / path).write_bytes(text.encode())
