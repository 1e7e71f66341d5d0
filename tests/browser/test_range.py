"""The heater's range follows the temperature typed in, and is always what Python computed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from generator.guide.heater_view import HeaterView
from generator.guide.test_page import test as heater_test
from generator.guide.vehicle import Vehicle, page_path
from tests.browser.opened import Opened, a_phone

pytestmark = pytest.mark.browser

MOOR = "guides/kestrin-moor-2-0-flat/bank-1-position-1-test.html"


def heaters(demo: dict[str, Vehicle]) -> Iterator[tuple[str, HeaterView]]:
    for slug, vehicle in demo.items():
        for sensor in vehicle.sensors:
            if heater := heater_test(vehicle, sensor).heater:
                yield page_path(slug, sensor, "test"), heater


EVERY_DEGREE = """([id, degrees]) => degrees.map(degree => {
    const box = document.getElementById(id);
    box.value = String(degree);
    box.dispatchEvent(new Event("input", {bubbles: true}));
    return document.getElementById("range").textContent;
})"""


def type_in(page: Page, text: str, box: str = "#air") -> str:
    """Type a temperature as a person does; the range then shown."""
    page.fill(box, text)
    return page.locator("#range").inner_text()


def test_every_degree_shows_what_python_computed(
    opened: Any, site: Path, demo: dict[str, Vehicle]
) -> None:
    compared = 0
    for path, heater in heaters(demo):
        page = opened.go(site / path)
        assert page.input_value("#air") == str(heater.shown_c)
        assert page.locator("#range").text_content() == heater.number
        degrees_c = list(range(heater.coldest_c, heater.hottest_c + 1))
        shown = page.evaluate(EVERY_DEGREE, ["air", degrees_c])
        assert shown == heater.by_degree.split()
        in_f = heater.fahrenheit
        degrees_f = list(range(in_f.coldest_f, in_f.hottest_f + 1))
        shown_f = page.evaluate(EVERY_DEGREE, ["air-f", degrees_f])
        assert shown_f == in_f.by_degree.split()
        by_degree_f = dict(zip(degrees_f, shown_f, strict=True))
        for degree_c, ohm in zip(degrees_c, shown, strict=True):
            if degree_c % 5 == 0:
                assert by_degree_f[degree_c * 9 // 5 + 32] == ohm, "one air, two thermometers"
        compared += len(shown)
        assert opened.faults == []
    assert compared >= 10 * 71


@pytest.fixture(scope="module")
def moor(reader: BrowserContext, site: Path) -> Opened:
    """The page of a heater, opened once for all that is typed into it."""
    tab = Opened(reader.new_page())
    tab.go(site / MOOR)
    return tab


@pytest.mark.parametrize(
    ("typed", "means_c"),
    [
        ("8", 8), ("8.4", 8), ("8,6", 9), (" 12 ", 12), ("0", 0), ("-5", -5), ("−5", -5),
        ("-0.2", 0), ("-20", -20), ("50", 50), ("007", 7),
    ],
)  # fmt: skip
def test_a_temperature_is_understood_as_people_write_it(
    moor: Opened, demo: dict[str, Vehicle], typed: str, means_c: int
) -> None:
    heater = dict(heaters(demo))[MOOR]
    page = moor.page
    wanted = heater.by_degree.split()[means_c - heater.coldest_c]
    assert type_in(page, typed) == wanted
    assert page.locator("#air-fault").inner_text() == ""


@pytest.mark.parametrize(
    "typed", ["", "-", "warm", "51", "-21", "1e1", "20 °C", "0x10", "1.2.3", "999999999999", "NaN"]
)
def test_what_is_no_temperature_shows_no_number_and_says_why(moor: Opened, typed: str) -> None:
    page = moor.page
    assert type_in(page, typed) == "–"
    assert "-20" in page.locator("#air-fault").inner_text().replace("−", "-")
    assert type_in(page, "20") != "–", "and goes on when it is mended"
    assert page.locator("#air-fault").inner_text() == ""
    assert moor.faults == []


def test_of_two_thermometers_only_the_one_read_shows_a_number(opened: Any, site: Path) -> None:
    page = opened.go(site / MOOR)
    assert type_in(page, "46", "#air-f") == type_in(page, "8"), "46.4 °F is 8 °C"
    assert page.input_value("#air-f") == ""
    type_in(page, "50", "#air-f")
    assert page.input_value("#air") == ""


def test_without_a_script_the_number_and_the_table_are_there(
    browser: Browser, site: Path, demo: dict[str, Vehicle]
) -> None:
    context = a_phone(browser, java_script_enabled=False)
    page = context.new_page()
    for path, heater in heaters(demo):
        page.goto((site / path).as_uri())
        assert page.locator("#range").inner_text() == heater.number
        assert page.locator("#range").is_visible()
        assert page.locator("#air").input_value() == str(heater.shown_c)
        for box in ("#air", "#air-f"):
            assert page.locator(box).is_disabled(), "what is typed in would change nothing"
        rows = page.locator("table", has_text="temperature of the air").locator("tbody tr")
        assert rows.count() == len(heater.table)
        assert rows.first.is_visible()
    context.close()


def test_each_stage_can_be_reached_by_tapping_from_the_home_page(opened: Any, site: Path) -> None:
    page = opened.go(site / "index.html")
    page.get_by_role("link", name="Pip").first.click()
    # The planner, once it has run, leads there too
    page.get_by_role("link", name="Test Bank 1, position 1").first.click()
    assert page.locator("#range").is_visible()
    page.locator(".stages").get_by_role("link", name="Refit").click()
    assert "refit" in page.url
    assert opened.faults == []


@pytest.mark.parametrize(
    ("typed", "unit", "begun"),
    [("8", "degC", "8"), ("46", "degF", "46"), ("99", "degC", "")],
)
def test_the_bench_sheet_begins_with_the_temperature_typed_here(
    browser: Browser, site: Path, typed: str, unit: str, begun: str
) -> None:
    with a_phone(browser) as phone:
        page = phone.new_page()
        page.goto((site / MOOR).as_uri())
        type_in(page, typed, "#air" if unit == "degC" else "#air-f")
        page.goto((site / MOOR.replace("-test", "-bench")).as_uri())
        assert page.input_value("#air") == ("" if unit == "degF" else begun), "in its own unit only"
        page.select_option("#air-unit", unit)
        page.fill("#reading", "2.6")
        page.reload()
        assert page.input_value("#air") == begun
