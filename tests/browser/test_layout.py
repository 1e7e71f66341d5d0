"""Every kind of page on a phone, a tablet and a screen: nothing sticks out, nothing fails."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.opened import a_phone
from tests.browser.pictures import KINDS, LIGHTS, in_light

pytestmark = pytest.mark.browser

WIDTHS_PX = (360, 768, 1280)
SCHEMES = ("light", "dark")
TAP_PX = 44

BRIGHTNESS = """() => getComputedStyle(document.body).backgroundColor
    .match(/[0-9.]+/g).slice(0, 3).map(Number).reduce((a, b) => a + b) / 765"""

# Everything that answers to a finger, in px as drawn. A link among words of a sentence is as high
# as its line: to make it larger would push the lines apart, and WCAG 2.2, 2.5.8 excepts it.
TARGETS = """least => {
  const inRunningText = each => each.tagName === "A" && [...each.parentElement.childNodes].some(
    other => other.nodeType === Node.TEXT_NODE && other.textContent.trim());
  const small = [];
  let count = 0;
  for (const each of document.querySelectorAll("a, button, input, select, textarea, summary")) {
    // A box inside its label answers to a tap anywhere on the label
    const box = (each.closest("label") || each).getBoundingClientRect();
    if (!box.width || box.right <= 0 || inRunningText(each)) { continue; }
    count += 1;
    if (Math.round(box.width * 10) / 10 < least || Math.round(box.height * 10) / 10 < least) {
      small.push(each.outerHTML.slice(0, 100) + " " + box.width + " x " + box.height);
    }
  }
  return [count, small];
}"""


OPEN = "all => all.forEach(each => { each.open = true; })"
SIDEWAYS = """() => [...document.querySelectorAll("body *:not(textarea)")].filter(each =>
  each.scrollWidth > each.clientWidth + 1
  && /auto|scroll/.test(getComputedStyle(each).overflowX)
).map(each => each.outerHTML.slice(0, 120))"""


def said(faults: dict[str, list[str]]) -> str:
    """The faults, each once with the first page that has it."""
    first = {fault: place for place, found in reversed(faults.items()) for fault in found}
    return "\n".join(f"{place}: {fault}" for fault, place in first.items())


@pytest.fixture(scope="module")
def seen(
    opened: Any,
    site: Path,
    all_pages: list[str],
    guide_pages: list[str],
    overflow: Callable[[Page], list[str]],
) -> dict[str, dict[str, list[str]]]:
    """Each page opened once and looked at in every setting: faults by what they are, and where."""
    seen: dict[str, dict[str, list[str]]] = {
        "wide": {}, "failed": {}, "outside": {}, "small": {}, "dark": {}, "light": {},
        "sideways": {},
    }  # fmt: skip
    for path in all_pages:
        page = opened.go(site / path)
        page.locator("main details, .menu").evaluate_all(OPEN)
        for scheme in SCHEMES:
            page.emulate_media(color_scheme=scheme)
            seen[scheme][path] = [page.evaluate(BRIGHTNESS)]
        for width in WIDTHS_PX:
            page.set_viewport_size({"width": width, "height": 740})
            where = f"{path} at {width} px"
            seen["wide"][where] = overflow(page)
            if path in guide_pages:
                count, seen["small"][where] = page.evaluate(TARGETS, TAP_PX)
                assert count >= 5, where
        page.set_viewport_size({"width": WIDTHS_PX[0], "height": 740})
        page.locator("details").evaluate_all(OPEN)
        seen["sideways"][path] = page.evaluate(SIDEWAYS)
        assert len(opened.requests) > 1, path
        seen["failed"][path] = opened.faults.copy()
        seen["outside"][path] = [each for each in opened.requests if not each.startswith("file://")]
    return seen


def test_nothing_sticks_out(seen: dict[str, dict[str, list[str]]]) -> None:
    assert len(seen["wide"]) > 20 * len(WIDTHS_PX)
    assert not any(seen["wide"].values()), said(seen["wide"])


def test_nothing_fails_and_no_other_host_is_asked(seen: dict[str, dict[str, list[str]]]) -> None:
    assert len(seen["failed"]) > 20
    assert not any(seen["failed"].values()), said(seen["failed"])
    assert not any(seen["outside"].values()), said(seen["outside"])


def test_dark_is_dark_and_light_is_light(seen: dict[str, dict[str, list[Any]]]) -> None:
    assert {where: is_at for where, [is_at] in seen["light"].items() if is_at < 0.85} == {}
    assert {where: is_at for where, [is_at] in seen["dark"].items() if is_at > 0.2} == {}


def test_everything_to_tap_on_a_guide_page_is_large_enough_for_a_glove(
    seen: dict[str, dict[str, list[str]]],
) -> None:
    assert len(seen["small"]) > 15 * len(WIDTHS_PX)
    assert not any(seen["small"].values()), said(seen["small"])


def test_the_measure_of_what_sticks_out_can_fail(
    opened: Any, site: Path, overflow: Callable[[Page], list[str]]
) -> None:
    page = opened.go(site / "guides/index.html")
    page.evaluate("document.querySelector('h1').style.width = '2000px'")
    assert overflow(page) != []


@pytest.mark.parametrize("light", LIGHTS)
def test_the_stages_of_the_job_stand_in_one_row(opened: Any, site: Path, light: str) -> None:
    """Of the row that stays in view, the second line would be cut off."""
    page = opened.go(site / KINDS["refit"])
    in_light(page, light)
    tops = "all => all.map(each => each.getBoundingClientRect().top)"
    assert len(set(page.eval_on_selector_all(".stages li", tops))) == 1


def test_letters_twice_as_large_do_not_stick_out_on_a_phone(
    large_text_browser: Browser,
    site: Path,
    all_pages: list[str],
    overflow: Callable[[Page], list[str]],
) -> None:
    context = a_phone(large_text_browser)
    page = context.new_page()
    faults: dict[str, list[str]] = {}
    for path in all_pages:
        page.goto((site / path).as_uri())
        size = page.evaluate("getComputedStyle(document.body).fontSize")
        assert size == "32px", "the reader's setting is obeyed"
        page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true; })")
        if wide := overflow(page):
            faults[path] = wide
    context.close()
    assert not faults, said(faults)


def test_the_menu_opens_on_a_phone_without_a_script(browser: Browser, site: Path) -> None:
    context = a_phone(browser, java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "guides/index.html").as_uri())
    ways = page.locator(".menu nav a")
    assert not ways.first.is_visible()
    page.locator(".menu summary").click()
    assert ways.first.is_visible()
    context.close()


def test_the_skip_link_is_the_first_stop_of_the_tab_key(opened: Any, site: Path) -> None:
    page = opened.go(site / "guides/index.html")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    box = page.locator(".skip").bounding_box()
    assert box
    assert box["x"] >= 0, "it is seen as soon as it has the focus"
    page.keyboard.press("Enter")
    assert page.evaluate("location.hash") == "#content"


def test_nothing_scrolls_sideways_by_itself_on_a_phone(
    seen: dict[str, dict[str, list[str]]], opened: Any, site: Path, all_pages: list[str]
) -> None:
    """A number that is needed must not stand beyond the edge of a box, as it may in a table."""
    assert len(seen["sideways"]) == len(all_pages)
    assert not any(seen["sideways"].values()), said(seen["sideways"])
    page = opened.go(site / "reference/numbers.html")
    page.set_viewport_size({"width": 240, "height": 740})
    assert page.evaluate(SIDEWAYS), "what scrolls would be seen"
