"""The reader's choice of units and wheel side: it stays, it shows what Python wrote, it fits."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from generator.guide.heater_view import REACH_F
from generator.guide.test_page import test as heater_test
from generator.guide.vehicle import Vehicle, page_path
from tests.browser.opened import a_phone
from tests.browser.storage import visit, with_room

pytestmark = pytest.mark.browser

REFIT = "guides/fenwright-carrow-3-2-v6/bank-1-position-1-refit.html"
TEST = "guides/fenwright-carrow-3-2-v6/bank-1-position-1-test.html"
OVERVIEW = "guides/fenwright-carrow-3-2-v6/index.html"
MOOR = "guides/kestrin-moor-2-0-flat/bank-1-position-1-test.html"
MOOR_OVERVIEW = "guides/kestrin-moor-2-0-flat/index.html"
BUTTONS = {
    "metric": "N·m and °C",
    "us": "lbf·ft and °F",
    "left": "on the left",
    "right": "on the right",
}


def choose(page: Page, choice: str) -> None:
    panel = page.locator(".choices")
    if panel.get_attribute("open") is None:
        panel.locator("summary").click()
    panel.get_by_role("button", name=BUTTONS[choice]).click()


def card(page: Page) -> str:
    return " ".join(page.locator(".wanted").inner_text().replace("\u2060", "").split())


def step(page: Page) -> str:
    told = page.locator(".steps li", has_text="slotted socket").inner_text()
    return " ".join(told.replace("\u2060", "").split())


def test_without_a_choice_both_units_are_shown(context: BrowserContext, site: Path) -> None:
    page = context.new_page()
    page.goto((site / REFIT).as_uri())
    assert "40–48 N·m" in card(page) and "30–35 lbf·ft" in card(page)
    assert "Tighten to 40–48 N·m (30–35 lbf·ft) with" in step(page)
    assert "In every unit" in page.locator("body").inner_text()


def test_the_chosen_unit_is_the_large_one_and_the_one_in_the_steps(
    context: BrowserContext, site: Path
) -> None:
    page = context.new_page()
    page.goto((site / REFIT).as_uri())
    choose(page, "us")
    assert page.locator(".number").inner_text().replace("\u2060", "").split() == [
        "30–35", "lbf·ft",
    ]  # fmt: skip
    assert "40–48 N·m" in card(page), "the other stands second"
    assert "Tighten to 30–35 lbf·ft with" in step(page)
    assert "kgf·m" in page.locator("#units table").inner_text(), "tables keep all units"
    choose(page, "metric")
    assert page.locator(".number").inner_text().replace("\u2060", "").split() == ["40–48", "N·m"]
    assert "Tighten to 40–48 N·m with" in step(page)


def test_the_choice_stays_over_pages_and_reload_and_can_be_taken_back(
    context: BrowserContext, site: Path
) -> None:
    page = context.new_page()
    page.goto((site / REFIT).as_uri())
    with_room(page)
    assert page.url.startswith("file://")
    choose(page, "us")
    choose(page, "right")
    visit(page)
    assert "Tighten to 30–35 lbf·ft with" in step(page)
    visit(page, (site / TEST).as_uri())
    assert page.locator("#air-f").is_visible()
    assert not page.locator("#air").is_visible()
    assert page.evaluate("document.documentElement.dataset.wheel") == "right"
    button = page.locator(".choices").get_by_role("button", name=BUTTONS["us"], include_hidden=True)
    assert button.get_attribute("aria-pressed") == "true"
    choose(page, "us")
    assert page.locator("#air").is_visible() and page.locator("#air-f").is_visible()
    visit(page)
    assert page.locator("#air").is_visible(), "taken back for good"


def test_the_wheel_side_is_told_for_the_chosen_side_only(
    context: BrowserContext, site: Path
) -> None:
    page = context.new_page()
    page.goto((site / MOOR).as_uri())
    with_room(page)
    lead = page.locator(".lead")
    both = "passenger's side where the wheel is on the left, else driver's side"
    assert both in lead.inner_text()
    choose(page, "right")
    assert lead.inner_text() == (
        "Air-fuel sensor (wide-range): right bank, driver's side, before the catalyst"
    )
    choose(page, "left")
    assert "right bank, passenger's side, before" in lead.inner_text()
    visit(page, (site / MOOR_OVERVIEW).as_uri())
    body = page.locator("main").inner_text()
    assert "where the wheel is" not in body
    assert "Bank 1: right bank, passenger's side" in body


def test_every_degree_fahrenheit_shows_what_python_computed(
    context: BrowserContext, site: Path, demo: dict[str, Vehicle]
) -> None:
    page = context.new_page()
    compared = 0
    for slug, vehicle in demo.items():
        sensor = vehicle.sensors[0]
        heater = heater_test(vehicle, sensor).heater
        if heater is None:
            continue
        page.goto((site / page_path(slug, sensor, "test")).as_uri())
        read = page.evaluate(
            """degrees => degrees.map(degree => {
                const air = document.getElementById("air-f");
                air.value = String(degree);
                air.dispatchEvent(new Event("input", {bubbles: true}));
                return document.getElementById("range").textContent;
            })""",
            list(REACH_F),
        )
        assert read == heater.fahrenheit.by_degree.split()
        assert page.input_value("#air") == "", "nothing is converted in the browser"
        compared += len(read)
    assert compared >= 4 * 127


def test_both_scales_agree_where_both_are_whole(demo: dict[str, Vehicle]) -> None:
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            heater = heater_test(vehicle, sensor).heater
            if heater is None:
                continue
            by_c, by_f = heater.by_degree.split(), heater.fahrenheit.by_degree.split()
            assert heater.fahrenheit.by_degree.split()[heater.fahrenheit.shown_f - REACH_F[0]]
            for place, shown in enumerate(by_c[::5]):
                assert by_f[place * 9] == shown, "five degrees C are nine degrees F"
            assert len(by_f) == len(REACH_F) == 127


def test_what_is_no_temperature_in_fahrenheit_says_why(context: BrowserContext, site: Path) -> None:
    page = context.new_page()
    page.goto((site / TEST).as_uri())
    page.fill("#air-f", "150")
    assert page.locator("#range").inner_text() == "–"
    assert "-4 to 122 °F" in page.locator("#air-fault").inner_text().replace("−", "-")
    page.fill("#air", "99")
    assert "°C" in page.locator("#air-fault").inner_text()


def test_it_works_while_the_page_is_open_where_nothing_may_be_stored(
    context: BrowserContext, site: Path
) -> None:
    context.add_init_script(
        """Object.defineProperty(window, "localStorage", {
            get() { throw new DOMException("refused", "SecurityError"); }
        });"""
    )
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto((site / REFIT).as_uri())
    choose(page, "us")
    assert "Tighten to 30–35 lbf·ft with" in step(page)
    page.goto((site / TEST).as_uri())
    assert page.locator("#air").is_visible(), "forgotten, and both are shown"
    assert faults == []


def test_a_stored_value_that_is_no_choice_is_no_choice(context: BrowserContext, site: Path) -> None:
    page = context.new_page()
    page.goto((site / REFIT).as_uri())
    with_room(page)
    page.evaluate("localStorage.setItem('sondebook-units', 'cubits')")
    visit(page)
    assert page.evaluate("document.documentElement.dataset.units") is None
    assert "40–48 N·m" in card(page)


def test_without_a_script_nothing_is_offered_and_both_are_shown(
    browser: Browser, site: Path
) -> None:
    context = a_phone(browser, java_script_enabled=False)
    page = context.new_page()
    page.goto((site / REFIT).as_uri())
    assert not page.locator(".choices").is_visible()
    assert "40–48 N·m" in card(page) and "30–35 lbf·ft" in card(page)
    context.close()


def test_the_controls_are_large_enough_for_a_glove(context: BrowserContext, site: Path) -> None:
    page = context.new_page()
    page.goto((site / REFIT).as_uri())
    choose(page, "metric")
    targets = page.locator(".choices summary, .choices button")
    assert targets.count() == 9
    for target in targets.all():
        assert (target.bounding_box() or {})["height"] >= 44


@pytest.mark.parametrize("chosen", [("metric", "left"), ("us", "right")])
def test_no_page_is_too_wide_with_any_choice(
    context: BrowserContext,
    site: Path,
    guide_pages: list[str],
    overflow: Callable[[Page], list[str]],
    chosen: tuple[str, str],
) -> None:
    page = context.new_page()
    page.goto((site / REFIT).as_uri())
    with_room(page)
    for choice in chosen:
        choose(page, choice)
    wide: dict[str, Any] = {}
    for path in guide_pages:
        visit(page, (site / path).as_uri())
        assert page.evaluate("document.documentElement.dataset.units") == chosen[0]
        page.evaluate("document.querySelectorAll('details.choices').forEach(d => d.open = true)")
        if found := overflow(page):
            wide[path] = found
    assert wide == {}
