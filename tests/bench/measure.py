"""One measurement in a fresh process, so that neither caches nor memory of another count.

    python tests/bench/measure.py guides PROJECT SITE
    python tests/bench/measure.py mkdocs PROJECT SITE

prints seconds, pages, bytes and the peak of memory as JSON. Seconds of the processor stand beside
those of the clock: on a machine with other work, only they can be compared.
"""

from __future__ import annotations

import json
import os
import resource
import shutil
import sys
import time
from pathlib import Path

from mkdocs.commands.build import build
from mkdocs.config import load_config

KILOBYTE = 1024

# What is wanted is asked of one process, and only one process's seconds are counted
os.cpu_count = lambda: 1


def guides(project: Path, site: Path) -> dict[str, float]:
    """The guides alone, by the plugin's own steps: reading; then computing, rendering, writing."""
    config = load_config(str(project / "mkdocs.yml"), site_dir=str(site))
    # Dirty, so that the pages are written into the folder itself
    config.plugins.on_startup(command="build", dirty=True)
    config = config.plugins.on_config(config)
    # MkDocs itself would have left a sitemap to add to
    site.mkdir(parents=True)
    (site / "sitemap.xml").write_text("<urlset>\n</urlset>")
    plugin = config.plugins["sondebook"]
    began, clock = time.process_time(), time.perf_counter()
    plugin.on_pre_build(config=config)
    read = time.process_time()
    plugin.on_post_build(config=config)
    ended, clock = time.process_time(), time.perf_counter() - clock
    peak = _peak_mb()
    write_s, size = _written_again(site)
    return {
        "read_s": read - began,
        "make_s": ended - read - write_s,
        "write_s": write_s,
        "all_s": ended - began,
        "clock_s": clock,
        "pages": len(list(site.rglob("*.html"))),
        "bytes": size,
        "peak_mb": peak,
    }


def mkdocs(project: Path, site: Path) -> dict[str, float]:
    """A whole site by MkDocs."""
    began, clock = time.process_time(), time.perf_counter()
    build(load_config(str(project / "mkdocs.yml"), site_dir=str(site)))
    return {
        "all_s": time.process_time() - began,
        "clock_s": time.perf_counter() - clock,
        "pages": len(list(site.rglob("*.html"))),
        "bytes": sum(path.stat().st_size for path in site.rglob("*.html")),
        "peak_mb": _peak_mb(),
    }


def _written_again(site: Path) -> tuple[float, int]:
    """Seconds to write the same bytes to the same names in a new folder, and how many bytes."""
    content = {path.relative_to(site): path.read_bytes() for path in site.rglob("*.html")}
    again = site.with_name(f"{site.name}-again")
    began = time.process_time()
    for folder in {path.parent for path in content}:
        (again / folder).mkdir(parents=True, exist_ok=True)
    for path, body in content.items():
        with open(f"{again}/{path}", "wb") as file:  # noqa: PTH123 - as the writer does
            file.write(body)
    ended = time.process_time()
    shutil.rmtree(again)
    return ended - began, sum(map(len, content.values()))


def _peak_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / KILOBYTE


if __name__ == "__main__":
    what, project_folder, site_folder = sys.argv[1:]
    measured = {"guides": guides, "mkdocs": mkdocs}[what](Path(project_folder), Path(site_folder))
    print(json.dumps(measured))
