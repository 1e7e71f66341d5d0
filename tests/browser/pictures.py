"""Pictures of every kind of page in every width and light, and on paper: evidence to look at.

    python tests/browser/pictures.py SITE FOLDER [WORD ...]

With words, only kinds of page whose name has one of them. Pictures of paper need pdftoppm
(poppler-utils); the printed files stay in any case.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from itertools import product
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from generator.site.pdf import installed_chromium

ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
VEHICLE = "fenwright-carrow-3-2-v6"
SENSOR = f"guides/{VEHICLE}/bank-1-position-1"
KINDS = {
    "home": "index.html",
    "list": "guides/index.html",
    "overview": f"guides/{VEHICLE}/index.html",
    "vehicle-codes": f"guides/{VEHICLE}/codes.html",
    "codes": "codes/index.html",
    "code": "codes/P0135.html",
    "access": f"{SENSOR}-access.html",
    "test": f"{SENSOR}-test.html",
    "refit": f"{SENSOR}-refit.html",
    "bench": f"{SENSOR}-bench.html",
    "kept": "kept.html",
    "numbers": "reference/numbers.html",
    "signal": "reference/signal.html",
    "profile-keys": "reference/profile.html",
    "add-a-vehicle": "add-a-vehicle.html",
    "rules": "reference/rules.html",
    "build-a-profile": "build-a-profile.html",
    "cautions": "cautions.html",
    "pocket": f"pocket/{VEHICLE}.html",
}
"""One page of every kind, by a name for its pictures."""
WIDTHS_PX = (360, 768, 1280)
LIGHTS = ("light", "dark", "sunlight")
PAPERS = ("A4", "Letter")


def in_light(page: Page, light: str) -> None:
    """The page as a reader sees it who chose this light."""
    page.evaluate("light => { document.documentElement.dataset.light = light; }", light)


def screens(page: Page, folder: Path, name: str) -> None:
    """A picture of the whole page for each width and light."""
    for width, light in product(WIDTHS_PX, LIGHTS):
        page.set_viewport_size({"width": width, "height": 740})
        in_light(page, light)
        page.screenshot(path=folder / f"{name}-{width}-{light}.png", full_page=True)


def papers(page: Page, folder: Path, name: str) -> None:
    """The page printed, as a file for each size of paper, and each sheet of it as a picture."""
    for paper in PAPERS:
        printed = folder / f"{name}-{paper}.pdf"
        page.pdf(path=printed, format=paper, prefer_css_page_size=False)
        if shutil.which("pdftoppm"):
            subprocess.run(
                ["pdftoppm", "-r", "60", "-png", printed, printed.with_suffix("")], check=True
            )


def take(browser: Browser, site: Path, folder: Path, words: list[str]) -> int:
    """How many kinds of page were pictured, into a folder that is made."""
    folder.mkdir(parents=True, exist_ok=True)
    chosen = {n: path for n, path in KINDS.items() if not words or any(w in n for w in words)}
    for name, path in chosen.items():
        page = browser.new_page()
        page.goto((site / path).absolute().as_uri())
        screens(page, folder, name)
        in_light(page, "dark")
        papers(page, folder, name)
        page.close()
    return len(chosen)


def executable() -> str:
    """Where Chromium is; without one, the program ends."""
    # What is measured and looked at is the whole browser, as readers have it, where there is one
    found = shutil.which("chromium") or installed_chromium()
    if found is None:
        raise SystemExit("No Chromium is installed: nothing to look with.")
    return found


def main() -> None:
    """Take the pictures."""
    site, folder, *words = sys.argv[1:]
    with sync_playwright() as running:
        browser = running.chromium.launch(executable_path=executable(), args=ARGUMENTS)
        print(f"{take(browser, Path(site), Path(folder), words)} kinds of page in {folder}")


if __name__ == "__main__":
    main()
