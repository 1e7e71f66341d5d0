"""Rendered pages to files."""

from __future__ import annotations

from pathlib import Path

from generator.guide.finder import DATA_FILE, finder_script
from generator.site.collection import Collection
from generator.site.renderer import Renderer


def write_guides(collection: Collection, renderer: Renderer, site: Path) -> int:
    """Write every guide page of a collection, and the finder's data, under the site's folder.

    Gives the number of pages.

    Raises:
        OSError: a file cannot be written.
    """
    made: set[str] = set()
    count = 0
    for page in collection.pages():
        folder, _, _ = page.path.rpartition("/")
        if folder not in made:
            (site / folder).mkdir(parents=True, exist_ok=True)
            made.add(folder)
        with open(f"{site}/{page.path}", "wb") as file:  # noqa: PTH123 - twice as fast as Path
            file.write(renderer.html(page).encode())
        count += 1
    data = site / DATA_FILE
    data.parent.mkdir(parents=True, exist_ok=True)
    data.write_bytes(finder_script(collection.makes, collection.t).encode())
    return count
