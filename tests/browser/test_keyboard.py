"""Everything by the keyboard alone: reached in the order of the page, seen, and worked."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.opened import a_phone
from tests.browser.pictures import KINDS

pytestmark = pytest.mark.browser

# Where the focus is: what has it, whether it can be seen, and what of it shows. The ring may stand
# on the label of a box that draws itself.
STOP = """() => {
  const each = document.activeElement;
  if (!each || each === document.body) { return null; }
  const ring = [each, ...(each.labels || [])].some(one => {
    const style = getComputedStyle(one);
    return style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2
      && style.outlineColor !== getComputedStyle(document.body).backgroundColor;
  });
  const shown = each.offsetWidth > 2 ? each : (each.labels && each.labels[0]) || each;
  const box = shown.getBoundingClientRect();
  const all = [...document.querySelectorAll("*")];
  return {
    what: each.outerHTML.slice(0, 110), ring, place: all.indexOf(each),
    seen: box.width > 0 && box.bottom > 0 && box.top < innerHeight && box.left < innerWidth,
  };
}"""
STOPS_AT_MOST = 60
MOVING = """() => [...document.querySelectorAll("*")].filter(each => {
  const style = getComputedStyle(each);
  return [style.transitionDuration, style.animationDuration].join().split(",")
    .some(each => parseFloat(each) > 0) || style.scrollBehavior === "smooth";
}).map(each => each.outerHTML.slice(0, 80))"""


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A page the size of a phone, of a reader who has chosen nothing."""
    context = a_phone(browser)
    yield context.new_page()
    context.close()


def stops(page: Page) -> list[dict[str, Any]]:
    """What the tab key comes to, in its order."""
    found = []
    for _ in range(STOPS_AT_MOST):
        page.keyboard.press("Tab")
        stop = page.evaluate(STOP)
        if stop is None:
            break
        found.append(stop)
    return found


def tab_to(page: Page, selector: str) -> None:
    """Press the tab key until the focus is on what the selector names."""
    for _ in range(STOPS_AT_MOST):
        if page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
        page.keyboard.press("Tab")
    pytest.fail(f"the tab key does not come to {selector}")


@pytest.fixture(scope="module")
def reader(browser: Browser) -> Iterator[BrowserContext]:
    """A reader who only looks at pages, one after the other."""
    context = a_phone(browser)
    yield context
    context.close()


@pytest.fixture(scope="module", params=KINDS)
def opened_kind(
    request: pytest.FixtureRequest, reader: BrowserContext, site: Path
) -> Iterator[Page]:
    """A page of each kind, once for all that is asked of it.

    In a tab of its own: the focus that left the page before would not leave this one at its end.
    """
    page = reader.new_page()
    page.goto((site / KINDS[request.param]).as_uri())
    yield page
    page.close()


def test_the_focus_is_seen_and_goes_down_the_page(opened_kind: Page) -> None:
    page = opened_kind
    assert page.evaluate(STOP) is None
    found = stops(page)
    assert len(found) >= 5
    assert [stop["what"] for stop in found if not stop["ring"]] == []
    assert [stop["what"] for stop in found if not stop["seen"]] == []
    places = [stop["place"] for stop in found]
    assert places == sorted(places), "the order of the page"
    assert page.locator("[tabindex]:not([tabindex='0'], [tabindex='-1'])").count() == 0


def test_nothing_moves_for_a_reader_who_asks_for_that(opened_kind: Page) -> None:
    assert opened_kind.evaluate(MOVING) == []


def test_the_menu_opens_and_leads_on(page: Page, site: Path) -> None:
    page.goto((site / KINDS["refit"]).as_uri())
    tab_to(page, ".menu summary")
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Guides"
    page.keyboard.press("Enter")
    page.wait_for_url("**/guides/index.html")


def test_the_light_is_chosen_and_the_focus_stays(page: Page, site: Path) -> None:
    page.goto((site / KINDS["cautions"]).as_uri())
    tab_to(page, ".choices summary")
    page.keyboard.press("Enter")
    tab_to(page, "[value=sunlight]")
    page.keyboard.press("Space")
    assert page.evaluate("document.documentElement.dataset.light") == "sunlight"
    assert page.evaluate("document.activeElement.value") == "sunlight"
    assert page.evaluate("document.activeElement.getAttribute('aria-pressed')") == "true"


def test_a_job_is_planned(page: Page, site: Path) -> None:
    page.goto((site / KINDS["overview"]).as_uri())
    minutes = page.locator("[data-sum=minutes]")
    everything = minutes.inner_text()
    tab_to(page, ".picks input")
    page.keyboard.press("Space")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.value") == "2-1"
    one = minutes.inner_text()
    assert one != everything
    page.keyboard.press("Space")
    assert page.locator(".picks :checked").count() == 2
    tab_to(page, ".ways a")


def test_a_bench_sheet_comes_to_its_verdict(page: Page, site: Path) -> None:
    page.goto((site / KINDS["bench"]).as_uri())
    typed = {
        "air": "20", "meter-zero": "0.2", "reading": "2.7",
        "meter-percent": "0.5", "meter-counts": "2", "meter-resolution": "0.01",
    }  # fmt: skip
    expected = [
        each.get_attribute("id")
        for each in page.locator(".bench :is(input, select, textarea):visible:enabled").all()
    ]
    tab_to(page, ".bench input")
    came_to: list[str] = []
    while "copy" not in came_to:
        name = page.evaluate("document.activeElement.id")
        if name not in came_to:  # a date has a stop for day, month, year and calendar
            came_to.append(name)
        page.keyboard.type(typed.pop(name, ""))
        page.keyboard.press("Tab")
        assert len(came_to) < STOPS_AT_MOST
    assert [name for name in came_to if name in expected] == expected, "from top to bottom"
    assert not typed
    told = page.locator(".verdict.told")
    expect(told).to_be_visible()
    assert told.get_attribute("aria-live") == "polite"
