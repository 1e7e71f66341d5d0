"""The maps in a browser: letters as they are really drawn, and the choice of standpoint."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from generator.guide.vehicle import Vehicle, page_file
from tests.browser.opened import a_phone

pytestmark = pytest.mark.browser

MEASURE = """svg => {
  const box = each => {
    const {x, y, width, height} = each.getBBox();
    return [x, y, x + width, y + height];
  };
  const view = svg.viewBox.baseVal;
  const texts = [...svg.querySelectorAll("text")];
  return {
    view: [view.x, view.y, view.x + view.width, view.y + view.height],
    texts: texts.map(each => [each.textContent, box(each)]),
    signs: [...svg.querySelectorAll("circle, polygon")].map(box),
    letters_px: Math.min(...texts.map(
      each => parseFloat(getComputedStyle(each).fontSize) * svg.getScreenCTM().a)),
  };
}"""


@pytest.fixture(scope="module")
def phone(browser: Browser) -> Iterator[Page]:
    """A page on a phone, without scripts: the maps need none."""
    context = a_phone(browser, java_script_enabled=False)
    yield context.new_page()
    context.close()


def apart(one: list[float], other: list[float]) -> bool:
    """Whether two boxes do not overlap; a box is higher than its letters by a line's own room."""
    room = 2
    return (
        one[2] <= other[0]
        or other[2] <= one[0]
        or one[3] - room <= other[1]
        or other[3] - room <= one[1]
    )


def check(measured: dict[str, Any], where: str) -> None:
    left, top, right, bottom = measured["view"]
    assert measured["letters_px"] >= 11, where
    for text, box in measured["texts"]:
        assert left <= box[0] and box[2] <= right, (where, text)
        assert top <= box[1] and box[3] <= bottom, (where, text)
        inside = [sign for sign in measured["signs"] if not apart(box, sign)]
        # A cylinder's number is the only text inside a sign
        assert len(inside) == (1 if text.isdigit() else 0), (where, text)
    for index, (text, box) in enumerate(measured["texts"]):
        for other, other_box in measured["texts"][index + 1 :]:
            assert apart(box, other_box), (where, text, other)


def test_labels_as_drawn_lie_on_the_paper_and_apart(
    phone: Page, site: Path, demo: dict[str, Vehicle]
) -> None:
    for slug, vehicle in demo.items():
        sensor = vehicle.sensors[-1]
        phone.goto((site / "guides" / slug / page_file(sensor, "access")).as_uri())
        for index, label in enumerate(phone.locator(".map label").all()):
            label.click()
            svg = phone.locator(".map svg").nth(index)
            assert svg.is_visible()
            check(svg.evaluate(MEASURE), f"{slug} {label.inner_text()}")
        phone.goto((site / "guides" / slug / "index.html").as_uri())
        exhausts = phone.locator("svg[id^=exhaust-]").all()
        assert len(exhausts) == len(vehicle.profile.banks)
        for svg in exhausts:
            check(svg.evaluate(MEASURE), f"{slug} {svg.get_attribute('id')}")


def test_the_adapters_labels_lie_on_the_paper_and_apart(phone: Page, site: Path) -> None:
    phone.goto((site / "guides/fenwright-carrow-3-2-v6/bank-1-position-1-refit.html").as_uri())
    check(phone.locator("#adapter").evaluate(MEASURE), "adapter")


def test_one_drawing_shows_and_the_keyboard_turns_to_the_next(phone: Page, site: Path) -> None:
    folder = site / "guides/wexmoor-ardent-4-0-v8-hybrid"
    phone.goto((folder / "bank-1-position-2-test.html").as_uri())
    shown = phone.locator(".map svg:visible")
    assert shown.count() == 1
    assert shown.get_attribute("id") == "bay-under-head-rearward", "it is reached from below"
    phone.locator(".map :checked").focus()
    phone.keyboard.press("ArrowRight")
    assert shown.count() == 1
    assert shown.get_attribute("id") == "bay-drivers-seat"
    outline = phone.locator(".map :focus-visible + label").evaluate(
        "each => getComputedStyle(each).outlineStyle"
    )
    assert outline == "solid", "the focus is seen"


def test_the_buttons_are_large_enough_for_a_thumb_and_hold_their_words(
    phone: Page, site: Path
) -> None:
    phone.goto((site / "guides/wexmoor-ardent-4-0-v8-hybrid/index.html").as_uri())
    for label in phone.locator(".map label").all():
        box = label.bounding_box()
        assert box is not None
        assert box["height"] >= 44
        assert box["width"] >= 44
        assert label.evaluate("each => each.scrollWidth <= each.clientWidth")


def test_the_steering_wheel_follows_the_readers_choice(browser: Browser, site: Path) -> None:
    context = a_phone(browser)
    page = context.new_page()
    page.goto((site / "guides/wexmoor-ardent-4-0-v8-hybrid/index.html").as_uri())
    wheels = page.locator(".map svg:visible [class^=steer-]:visible")
    assert wheels.count() == 2
    page.evaluate("document.documentElement.dataset.wheel = 'right'")
    assert wheels.count() == 1
    assert wheels.get_attribute("class") == "steer-right"
    context.close()


def test_on_paper_the_chosen_drawing_stands_without_its_buttons(phone: Page, site: Path) -> None:
    phone.goto((site / "guides/lowmere-pip-1-4/bank-1-position-1-access.html").as_uri())
    phone.emulate_media(media="print")
    assert phone.locator(".map svg:visible").count() == 1
    assert phone.locator(".map label:visible").count() == 0
    fill = phone.locator(".map svg:visible .filled polygon").evaluate(
        "each => getComputedStyle(each).fill"
    )
    assert fill == "rgb(0, 0, 0)"
    phone.emulate_media(media="screen")
