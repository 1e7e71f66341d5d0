"""Every kind of page in longer words: in a made-up language, and in German, on a phone."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

pytestmark = pytest.mark.browser

VEHICLE = "guides/fenwright-carrow"


@pytest.mark.parametrize("name", ["pseudo_site", "german_site"])
def test_longer_words_do_not_stick_out(
    opened: Any,
    request: pytest.FixtureRequest,
    guide_pages: list[str],
    overflow: Callable[[Page], list[str]],
    name: str,
) -> None:
    site: Path = request.getfixturevalue(name)
    faults: dict[str, list[str]] = {}
    # Every kind of page of one vehicle, and those of no single one
    chosen = [path for path in guide_pages if path.count("/") < 2 or path.startswith(VEHICLE)]
    assert len(chosen) >= 10
    for path in ["index.html", *chosen]:
        page = opened.go(site / path)
        page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true; })")
        if wide := overflow(page):
            faults[path] = wide
        assert opened.faults == [], path
    assert faults == {}


TABLES = """() => [...document.querySelectorAll("main .scroller")].filter(
    each => each.scrollWidth > each.clientWidth + 1).map(each => each.getAttribute("aria-label"))"""


def test_tables_of_a_german_guide_need_no_push_of_the_thumb(opened: Any, german_site: Path) -> None:
    guide = german_site / "guides/fenwright-carrow-3-2-v6"
    wide = {}
    for path in sorted(guide.glob("*.html")):
        if found := opened.go(path).evaluate(TABLES):
            wide[path.name] = found
    assert wide == {}


def test_a_german_bench_sheet_takes_both_marks_and_shows_a_comma(
    new_phone: Any, german_site: Path
) -> None:
    sheet = "guides/fenwright-carrow-3-2-v6/bank-1-position-1-bench.html"
    page = new_phone.go(german_site / sheet)
    filled = {"percent": "0,5", "counts": "2", "resolution": "0.01"}
    for field, written in filled.items():
        page.fill(f"#meter-{field}", written)
    for field, written in {"air": "20", "meter-zero": "0.2", "reading": "2,70"}.items():
        page.fill(f"#{field}", written)
    assert page.locator("#corrected").inner_text() == "2,50\u00a0Ω"
    assert page.locator("#expected").inner_text().startswith("2,1")
    assert page.locator("#meter-said").inner_text() == "±(0,5\u00a0% + 2), 0,01\u00a0Ω"
    assert page.locator("[data-outcome=in-range]").inner_text().startswith("Im Bereich")
    page.fill("#reading", "2.345")
    assert "Tausender" in page.locator("#reading-fault").inner_text()
    page.fill("#reading", "2,345")
    assert page.locator("#reading-fault").inner_text() == ""
    page.evaluate("Object.defineProperty(navigator, 'clipboard', {value: undefined})")
    page.click("#copy")
    assert "reading: 2.345 ohm" in page.locator("#text").input_value(), "the text is for a program"
