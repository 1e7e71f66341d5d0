"""How fast a collection is built, how that grows, and how plain MkDocs compares: ``make bench``.

Everything is measured in one run on one machine; the ratios travel, the seconds do not.
"""

from __future__ import annotations

import gzip
import json
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
sys.path.insert(0, str(HERE))

from as_markdown import write_markdown  # noqa: E402 - its folder is put on the path above
from synthetic import write_profiles  # noqa: E402

SIZES = (50, 200, 800)
AGAINST_MKDOCS = (50, 200)
RUNS = {50: 3, 200: 3, 800: 1}
PLAIN = """site_name: Plain
use_directory_urls: false
theme: {name: material, font: false}
plugins: []
nav: [index.md]
markdown_extensions: [tables]
validation: {omitted_files: ignore}
"""

HEAD = (
    f"\n{'':<20}{'cars':>5}{'pages':>7}{'read s':>8}{'make s':>8}{'write s':>8}{'all s':>8}"
    f"{'clock s':>8}{'pages/s':>9}{'ms/page':>9}{'MB peak':>8}{'MB html':>8}"
)
LEGEND = """
read: YAML to checked profiles. make: computing and rendering. write: the same bytes as plain files.
clock: all of it by the clock; the other seconds are the processor's, and only these are compared.
plain MkDocs: the same text as Markdown with Material, nothing in its navigation and no search.
"""

Measured = dict[str, float]


@contextmanager
def scratch(where: Path) -> Iterator[Path]:
    """A folder that is gone afterwards."""
    with tempfile.TemporaryDirectory(prefix="sondebook-bench-", dir=where) as folder:
        yield Path(folder)


def measure(what: str, project: Path, where: Path, runs: int) -> Measured:
    """The run with the median time, each in a process of its own and into a new folder."""
    measured: list[Measured] = []
    for _ in range(runs):
        with scratch(where) as folder:
            ended = subprocess.run(
                [sys.executable, HERE / "measure.py", what, project, folder / "site"],
                capture_output=True,
                text=True,
                check=False,
            )
        if ended.returncode:
            sys.exit(f"{what} failed:\n{ended.stderr}")
        measured.append(json.loads(ended.stdout.splitlines()[-1]))
    middle = statistics.median_low(each["all_s"] for each in measured)
    return next(each for each in measured if each["all_s"] == middle)


def collection(folder: Path, count: int) -> Path:
    """A project with so many vehicles and the settings of this one."""
    profiles = folder / "vehicle_profiles"
    profiles.mkdir(parents=True)
    # The demo profiles, which all are made from, name these
    shutil.copytree(ROOT / "vehicle_profiles" / "photos", profiles / "photos")
    shutil.copytree(ROOT / "docs", folder / "docs")
    shutil.copy(ROOT / "mkdocs.yml", folder)
    size = write_profiles(ROOT / "vehicle_profiles", profiles, count)
    print(f"{count} vehicles: {size / count / 1000:.1f} kB of profile each", flush=True)
    return folder


def row(name: str, count: int, got: Measured) -> None:
    phases = "".join(
        f"{got[key]:8.2f}" if key in got else "       –" for key in ("read_s", "make_s", "write_s")
    )
    pages = int(got["pages"])
    print(
        f"{name:<20}{count:>5}{pages:>7}{phases}{got['all_s']:>8.2f}{got['clock_s']:>8.2f}"
        f"{pages / got['all_s']:>9.0f}{got['all_s'] / pages * 1000:>9.2f}"
        f"{got['peak_mb']:>8.0f}{got['bytes'] / 1e6:>8.1f}",
        flush=True,
    )


def page_weights(site: Path) -> list[tuple[int, str]]:
    """The compressed bytes of each guide page with all it loads, lightest first."""
    packed: dict[Path, int] = {}

    def weight(path: Path) -> int:
        if path not in packed:
            packed[path] = len(gzip.compress(path.read_bytes(), 9))
        return packed[path]

    found = []
    for page in site.glob("guides/**/*.html"):
        loads = re.findall(
            r'<(?:script|img)[^>]* src="([^"]+)"|<link rel="(?:icon|stylesheet)" href="([^"]+)"',
            page.read_text(),
        )
        files = {(page.parent / (script or link)).resolve() for script, link in loads}
        found.append((weight(page) + sum(map(weight, files)), page.relative_to(site).as_posix()))
    return sorted(found)


def main() -> None:
    disk = Path("/var/tmp") if Path("/var/tmp").is_dir() else Path(tempfile.gettempdir())
    memory = Path("/dev/shm") if Path("/dev/shm").is_dir() else None
    fast = memory or disk
    results: dict[tuple[str, int], Measured] = {}
    with scratch(disk) as work:
        projects = {count: collection(work / str(count), count) for count in SIZES}
        print(HEAD)
        for count, project in projects.items():
            for name, where in (("guides, disk", disk), ("guides, in memory", memory)):
                if where:
                    got = measure("guides", project, where, RUNS[count])
                    results[name, count] = got
                    row(name, count, got)
        for count in AGAINST_MKDOCS:
            with scratch(fast) as folder:
                ours = measure("mkdocs", projects[count], fast, 1)
                results["whole site", count] = ours
                row("whole site", count, ours)
                build = [
                    Path(sys.executable).with_name("sondebook"),
                    "build",
                    "-d",
                    folder / "site",
                ]
                subprocess.run(build, cwd=projects[count], check=True, capture_output=True)
                (folder / "plain/docs").mkdir(parents=True)
                write_markdown(folder / "site", folder / "plain/docs")
                (folder / "plain/mkdocs.yml").write_text(PLAIN)
                plain = measure("mkdocs", folder / "plain", fast, 1)
                results["plain MkDocs", count] = plain
                row("plain MkDocs", count, plain)
                if count == AGAINST_MKDOCS[0]:
                    weights = page_weights(folder / "site")
    notes(results, weights, "guides, in memory" if memory else "guides, disk")


def notes(
    results: dict[tuple[str, int], Measured], weights: list[tuple[int, str]], at: str
) -> None:
    """The ratios, beside what the project asks for."""

    def ms_a_page(name: str, count: int) -> float:
        return results[name, count]["all_s"] / results[name, count]["pages"] * 1000

    largest, middle = SIZES[-1], SIZES[1]
    growth = ms_a_page(at, largest) / ms_a_page(at, middle)
    print(LEGEND)
    for count in AGAINST_MKDOCS:
        whole = ms_a_page("plain MkDocs", count) / ms_a_page("whole site", count)
        guides = ms_a_page("plain MkDocs", count) / ms_a_page(at, count)
        print(f"{count} vehicles: plain MkDocs takes {guides:.1f} times as long a page as the "
              f"guides, {whole:.1f} times as long as the whole site (wanted: 10)")  # fmt: skip
    print(f"pages a second at {middle} vehicles, {at}: {1000 / ms_a_page(at, middle):.0f} "
          "(wanted: 1,500)")  # fmt: skip
    print(f"time a page at {largest} vehicles over that at {middle}: {growth:.2f} "
          "(wanted: 1.15 at most)")  # fmt: skip
    lightest, middling, heaviest = (weights[at] for at in (0, len(weights) // 2, -1))
    print(f"a guide page with all it loads, gzip -9: {lightest[0] / 1000:.1f} kB the lightest, "
          f"{middling[0] / 1000:.1f} kB in the middle, {heaviest[0] / 1000:.1f} kB the heaviest, "
          f"{heaviest[1]} (wanted: 40 at most)")  # fmt: skip


if __name__ == "__main__":
    main()
