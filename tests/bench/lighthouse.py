"""Lighthouse's four scores, on a phone, of a built site served compressed: ``make lighthouse``.

    python tests/bench/lighthouse.py SITE [WORD ...]

With words, only pages whose name has one of them. Needs Node.js; npx fetches Lighthouse when it is
not there. Scores of 100 are wanted on guides, of 95 on hand-written pages. Of a page below them the
audits that cost it are listed. The score for speed depends on how busy the machine is; the others
do not.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parents[1]), str(HERE)]

from served import served  # noqa: E402 - its folder is put on the path above

from tests.browser.pictures import KINDS, executable  # noqa: E402

LIGHTHOUSE = os.environ.get("LIGHTHOUSE", "npx --yes lighthouse@12.2.3").split()
GUIDES = ("overview", "access", "test", "refit", "bench")
CATEGORIES = ("performance", "accessibility", "best-practices", "seo")
WANTED_OF_GUIDE, WANTED_OF_PAGE = 100, 95
HEAD = f"{'':<28}" + "".join(f"{name:>15}" for name in CATEGORIES) + f"{'LCP':>9}{'CLS':>7}"


def pages(site: Path) -> dict[str, str]:
    """The guides and the hand-written pages, by name."""
    written = ["index.html", "cautions.html", "add-a-vehicle.html"]
    written += sorted(path.relative_to(site).as_posix() for path in site.glob("reference/*.html"))
    return {name: KINDS[name] for name in GUIDES} | {path: path for path in written}


def visited(url: str) -> dict[str, Any]:
    """What Lighthouse says of a page."""
    with tempfile.TemporaryDirectory(prefix="sondebook-lighthouse-") as folder:
        told = Path(folder) / "told.json"
        subprocess.run(
            [*LIGHTHOUSE, url, "--quiet", "--output=json", f"--output-path={told}",
             "--chrome-flags=--headless=new --no-sandbox --disable-gpu"],
            env={**os.environ, "CHROME_PATH": executable()},
            check=True,
        )  # fmt: skip
        return dict(json.loads(told.read_text()))


def scores(told: dict[str, Any]) -> list[int]:
    """The four scores, of 100."""
    return [round(100 * (told["categories"][name]["score"] or 0)) for name in CATEGORIES]


def costs(told: dict[str, Any]) -> list[str]:
    """The audits that count and are not passed."""
    counted = {
        each["id"] for name in CATEGORIES for each in told["categories"][name]["auditRefs"]
        if each["weight"]
    }  # fmt: skip
    return [
        f"    {name}: {audit['title']} {audit.get('displayValue', '')}"
        for name, audit in told["audits"].items()
        if name in counted and audit["score"] is not None and audit["score"] < 1
    ]


def report(site: Path, words: list[str]) -> list[str]:
    """Print each page's scores; the pages that are below what is wanted."""
    below = []
    print(HEAD)
    with served(site) as address:
        for name, path in pages(site).items():
            if words and not any(word in name for word in words):
                continue
            told = visited(f"{address}/{path}")
            found, audits = scores(told), told["audits"]
            lcp_ms = audits["largest-contentful-paint"]["numericValue"]
            shift = audits["cumulative-layout-shift"]["numericValue"]
            row = "".join(f"{score:>15}" for score in found)
            print(f"{name:<28}{row}{lcp_ms:>9.0f}{shift:>7.3f}", flush=True)
            if min(found) < (WANTED_OF_GUIDE if name in GUIDES else WANTED_OF_PAGE):
                below.append(name)
            print(*costs(told), sep="\n", end="\n" if costs(told) else "")
    return below


def main() -> None:
    """Visit the pages of a site."""
    site, *words = sys.argv[1:]
    if below := report(Path(site).resolve(), words):
        sys.exit(f"Below what is wanted: {', '.join(below)}")


if __name__ == "__main__":
    main()
