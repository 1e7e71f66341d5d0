"""What a page weighs with all it loads, compressed as a host sends it, and that it stands still."""

from __future__ import annotations

import gzip
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.bench.served import served
from tests.browser.opened import a_phone
from tests.browser.pictures import KINDS

pytestmark = pytest.mark.browser

OF_A_VEHICLE = ("keep", "report", "share")
SCRIPTS = {
    "overview": ("planner", *OF_A_VEHICLE),
    "vehicle-codes": ("codes", *OF_A_VEHICLE),
    "codes": (),
    "code": (),
    "access": OF_A_VEHICLE,
    "test": ("range", *OF_A_VEHICLE),
    "refit": OF_A_VEHICLE,
    "bench": ("verdict", "bench", *OF_A_VEHICLE),
    "kept": ("keep",),
}
GUIDES = tuple(SCRIPTS)
PAGE_BYTES = 40_000
SCRIPT_BYTES = 15_000
SHIFTS = """() => new Promise(done => {
  const seen = [];
  new PerformanceObserver(list => seen.push(...list.getEntries().map(each => each.value)))
    .observe({type: "layout-shift", buffered: true});
  setTimeout(() => done(seen), 300);
})"""
PUSH = """() => {
  const pushed = document.createElement("p");
  pushed.style.height = "200px";
  document.querySelector("main").prepend(pushed);
}"""


def compressed(path: Path) -> int:
    return len(gzip.compress(path.read_bytes(), 9))


@pytest.mark.parametrize("kind", GUIDES)
def test_a_guide_page_with_all_it_loads_is_light(opened: Any, site: Path, kind: str) -> None:
    opened.go(site / KINDS[kind])
    loaded = {Path(unquote(urlsplit(url).path)) for url in opened.requests}
    assert site / "assets/guide.css" in loaded
    weights = {path.name: compressed(path) for path in loaded}
    assert sum(weights.values()) <= PAGE_BYTES, weights
    scripts = {name: weight for name, weight in weights.items() if name.endswith(".js")}
    # A page asks for the scripts that it uses, and for no other
    assert set(scripts) == {f"{name}.js" for name in SCRIPTS[kind]}
    assert sum(scripts.values()) <= SCRIPT_BYTES, scripts


def test_the_list_of_what_is_kept_pushes_nothing_down(browser: Browser, site: Path) -> None:
    """On a host the browser tells it late, and it may be empty."""
    context = a_phone(browser)
    page = context.new_page()
    with served(site) as address:
        page.goto(f"{address}/kept.html")
        assert sum(page.evaluate(SHIFTS)) < 0.001
        expect(page.locator(".keeping [data-is=said]")).to_contain_text("Nothing is kept")
        expect(page.get_by_role("heading", name="How long it is kept")).to_be_visible()
        expect(page.locator(".foot")).to_be_visible()
    context.close()


@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("kind", [*GUIDES, "home", "list", "cautions"])
def test_nothing_on_a_page_moves_while_it_loads(
    new_tab: Page, site: Path, kind: str, width: int
) -> None:
    page = new_tab
    page.set_viewport_size({"width": width, "height": 740})
    page.goto((site / KINDS[kind]).as_uri())
    # A word that changes counts, as the date does that a script fills in on a bench sheet
    assert sum(page.evaluate(SHIFTS)) <= 0.001
    page.evaluate(PUSH)
    assert sum(page.evaluate(SHIFTS)) > 0.01, "what moves would be seen"
