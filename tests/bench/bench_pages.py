"""What a page weighs, and when the largest thing on it is painted, on a slow phone: ``make bench``.

    python tests/bench/bench_pages.py [SITE]

The network is Chromium's own throttling (CDP, ``Network.emulateNetworkConditions``): 1.6 Mbit/s
down, 0.75 up, and 150 ms on each request. It does not model the handshake of a connection, one
more 150 ms on a first visit. The processor is slowed to a quarter. Each run begins with empty
caches; the server runs on this machine, compresses, and has sent each page once before. Other work
on the machine can only add to a time, so the best of the runs is what a page is held to.
"""

from __future__ import annotations

import gzip
import statistics
import sys
import tempfile
from collections.abc import Iterable
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

from playwright.sync_api import Browser, sync_playwright

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(Path(__file__).parent)]

from served import compressed, served  # noqa: E402 - its folder is put on the path above

from generator.site.project import build_site  # noqa: E402
from tests.browser.pictures import ARGUMENTS, KINDS, executable  # noqa: E402

RUNS = 5
DOWN_BYTES_S, UP_BYTES_S, LATENCY_MS, SLOWER = 1.6e6 / 8, 0.75e6 / 8, 150, 4
WANTED_LCP_MS = 600
OTHERS = ("finder-data", "profile-")
"""Data, and the page that builds a profile, which is not read at a vehicle."""
HELD = ("overview", "access", "test", "refit", "bench")
"""The pages that are held to the wanted time."""
SETTLED_MS = 400
SEEN = """() => {
  window.painted = 0; window.what = ""; window.moved = 0;
  new PerformanceObserver(list => list.getEntries().forEach(each => {
    window.painted = each.startTime;
    window.what = each.element ? each.element.tagName + "." + each.element.className : "";
  })).observe({type: "largest-contentful-paint", buffered: true});
  new PerformanceObserver(list => list.getEntries().forEach(each => {
    window.moved += each.value;
  })).observe({type: "layout-shift", buffered: true});
}"""
HEAD = (
    f"{'':<15}{'requests':>9}{'html':>8}{'css':>8}{'js':>8}{'all B':>8}"
    f"{'best ms':>8}{'median':>7}{'shift':>7}  largest"
)


def loaded(browser: Browser, url: str) -> dict[str, Any]:
    """One cold visit: when the largest thing was painted, in ms, what moved, what was asked for."""
    context = browser.new_context(viewport={"width": 360, "height": 740}, device_scale_factor=2)
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.add_init_script(f"({SEEN})()")
    throttle = context.new_cdp_session(page)
    throttle.send("Network.enable")
    throttle.send(
        "Network.emulateNetworkConditions",
        {
            "offline": False,
            "latency": LATENCY_MS,
            "downloadThroughput": DOWN_BYTES_S,
            "uploadThroughput": UP_BYTES_S,
        },
    )
    throttle.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    page.goto(url, wait_until="load")
    page.wait_for_timeout(SETTLED_MS)
    seen = page.evaluate("() => ({lcp: window.painted, what: window.what, moved: window.moved})")
    context.close()
    return {**seen, "asked": asked}


def weights(site: Path, asked: Iterable[str]) -> dict[Path, int]:
    """The files that a page asked for, and what each weighs compressed, in bytes."""
    paths = {site / unquote(urlsplit(url).path).lstrip("/") for url in asked}
    return {path: len(compressed(path)) for path in paths if path.is_file()}


def row(name: str, runs: list[dict[str, Any]], weight: dict[Path, int]) -> str:
    """One page's figures."""
    times = [run["lcp"] for run in runs]
    kinds = [
        sum(w for path, w in weight.items() if path.suffix == f".{kind}")
        for kind in ("html", "css", "js")
    ]
    return (
        f"{name:<15}{len(weight):>9}{kinds[0]:>8}{kinds[1]:>8}{kinds[2]:>8}"
        f"{sum(weight.values()):>8}{min(times):>8.0f}{statistics.median(times):>7.0f}"
        f"{max(run['moved'] for run in runs):>7.3f}  {runs[-1]['what']}"
    )


def scripts_as_shipped(site: Path) -> int:
    """All own scripts of a site together, each compressed by itself, in bytes."""
    worker = (site / "sw.js").read_bytes().partition(b"\n")[2]
    return len(gzip.compress(worker, 9)) + sum(map(len, map(compressed, own_scripts(site))))


def own_scripts(site: Path) -> list[Path]:
    """The scripts of guides and of the finder, without its data."""
    return [path for path in (site / "assets").glob("*.js") if not path.name.startswith(OTHERS)]


def report(site: Path) -> list[str]:
    """Print every kind of page; the pages that are too late or move."""
    failed = []
    print(HEAD)
    with sync_playwright() as playwright, served(site) as address:
        browser = playwright.chromium.launch(executable_path=executable(), args=ARGUMENTS)
        for name, path in KINDS.items():
            url = f"{address}/{path}"
            loaded(browser, url)
            runs = [loaded(browser, url) for _ in range(RUNS)]
            print(row(name, runs, weights(site, runs[-1]["asked"])), flush=True)
            late = min(run["lcp"] for run in runs) > WANTED_LCP_MS
            if late and name in HELD:
                failed.append(f"{name}: painted later than {WANTED_LCP_MS} ms")
        browser.close()
    print(f"all own scripts: {scripts_as_shipped(site)} B compressed")
    return failed


def main() -> None:
    """Measure a site that is built, or build it first."""
    with tempfile.TemporaryDirectory(prefix="sondebook-bench-") as folder:
        site = Path(sys.argv[1]) if sys.argv[1:] else Path(folder) / "site"
        if not sys.argv[1:]:
            build_site(str(ROOT / "mkdocs.yml"), str(site))
        failed = report(site.resolve())
    if failed:
        sys.exit("\n".join(failed))


if __name__ == "__main__":
    main()
