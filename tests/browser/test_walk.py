"""The technician's walk on a phone, with one thumb: from a fault code to the number, to refit.

Each tap must hit what is on the screen already: to scroll for it would be to hunt for it.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from generator.guide.vehicle import Vehicle
from generator.profile.sensor_model import Sensor
from tests.browser.opened import a_phone

pytestmark = pytest.mark.browser

WIDTH, HEIGHT = 360, 740
HEATER_CODES = {(1, 1): "P0135", (1, 2): "P0141", (2, 1): "P0155", (2, 2): "P0161"}
"""The code "heater: fault" of each bank and position (numbering after SAE J2012)."""
KEYBOARD = 300
"""Height that a phone's keyboard covers, px: common practice, no source."""


class Thumb:
    """A page under one thumb, which counts its taps and finds nothing that is off the screen."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.taps = 0

    def reach(self, place: Locator, lowest: int = HEIGHT) -> dict[str, float]:
        """Where a thing is; it must be on the screen as it stands."""
        expect(place).to_be_visible()
        box = place.bounding_box()
        assert box is not None
        assert box["y"] >= 0 and box["y"] + box["height"] <= lowest, (self.page.url, box)
        sideways = self.page.evaluate("document.documentElement.scrollWidth")
        assert sideways <= WIDTH, self.page.url
        return dict(box)

    def tap(self, place: Locator, lowest: int = HEIGHT) -> None:
        """Touch the middle of a thing."""
        box = self.reach(place, lowest)
        assert box["height"] >= 24, "large enough to hit (WCAG 2.2, 2.5.8)"
        self.page.touchscreen.tap(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        self.taps += 1


@pytest.fixture
def thumb(browser: Browser, site: Path) -> Iterator[Thumb]:
    context = a_phone(browser, has_touch=True, is_mobile=True)
    page = context.new_page()
    page.goto((site / "index.html").as_uri())
    yield Thumb(page)
    context.close()


def walks(demo: dict[str, Vehicle]) -> Iterator[tuple[Vehicle, Sensor, str]]:
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            code = HEATER_CODES.get((sensor.bank, sensor.position))
            if sensor.is_heated and sensor.heater and code:
                yield vehicle, sensor, code


def test_from_a_code_to_the_number_in_three_taps_and_to_refit_in_five(
    thumb: Thumb, site: Path, demo: dict[str, Vehicle]
) -> None:
    page = thumb.page
    walked = list(walks(demo))
    assert len(walked) > 10
    for vehicle, sensor, code in walked:
        page.goto((site / "index.html").as_uri())
        thumb.taps = 0
        thumb.tap(page.get_by_label("Vehicle", exact=True), HEIGHT - KEYBOARD)
        page.keyboard.type(vehicle.profile.vehicle.model)
        thumb.tap(page.get_by_label("Fault code", exact=True))
        page.keyboard.type(code)
        thumb.tap(page.locator("#finder-found a").first)
        page.wait_for_url(f"**/{vehicle.slug}/codes.html#{code}")

        number = page.locator("details[open] .rows a").first
        thumb.reach(number)
        assert "Ω" in number.inner_text()
        thumb.reach(page.get_by_role("heading", name=vehicle.called(sensor), exact=True))
        assert thumb.taps == 3

        thumb.tap(number)
        page.wait_for_url(f"**/bank-{sensor.bank}-position-{sensor.position}-test.html")
        thumb.reach(page.locator(".number"))
        thumb.tap(page.locator(".stages a", has_text="Refit"))
        page.wait_for_url("**-refit.html")
        if sensor.torque:
            thumb.reach(page.locator(".number"))
        assert thumb.taps == 5


def test_a_thing_off_the_screen_is_not_reached(thumb: Thumb) -> None:
    with pytest.raises(AssertionError):
        thumb.tap(thumb.page.locator(".foot a").last)


def test_where_in_the_job_stays_in_view_however_far_down(
    thumb: Thumb, site: Path, demo: dict[str, Vehicle]
) -> None:
    page = thumb.page
    for slug in demo:
        page.goto((site / f"guides/{slug}/bank-1-position-1-test.html").as_uri())
        refit = page.locator(".stages a", has_text="Refit")
        height = page.evaluate("document.documentElement.scrollHeight")
        page.evaluate("scrollTo({top: 3000, behavior: 'instant'})")
        expect(page.locator(".stages [aria-current] span")).to_be_hidden()
        box = refit.bounding_box()
        assert box is not None and box["y"] < 3, "stuck to the upper edge, but for its frame"
        # What is left of it is a row that a thumb hits; below it is the text again
        at = "y => document.elementFromPoint(300, y).closest('.stages') !== null"
        assert [page.evaluate(at, y) for y in (1, 42, 46)] == [True, True, False]
        assert page.evaluate("document.documentElement.scrollHeight") == height, "nothing moved"
        page.touchscreen.tap(300, 22)
        page.wait_for_url("**-refit.html")
        # A section that is linked to stands below it
        page.goto((site / f"guides/{slug}/bank-1-position-1-test.html").as_uri() + "#live-data")
        top_of = "document.querySelector('#live-data').getBoundingClientRect().top"
        for _wait in range(50):
            page.wait_for_timeout(100)
            if page.evaluate(top_of) < 100:
                break
        assert 44 <= page.evaluate(top_of) < 100
