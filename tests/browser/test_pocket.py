"""The pocket copy in a browser, opened from a folder where nothing else is."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from generator.guide.heater_view import heater_view
from generator.guide.vehicle import Vehicle, cold_heater
from tests.browser.opened import a_phone
from tests.browser.storage import visit, with_room

pytestmark = pytest.mark.browser

CARROW = "fenwright-carrow-3-2-v6"
FINE = {"meter-percent": "0.5", "meter-counts": "2", "meter-resolution": "0.01"}


@pytest.fixture(scope="module")
def copy(site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One file alone in a download folder."""
    path = tmp_path_factory.mktemp("downloads") / f"{CARROW}.html"
    shutil.copy(site / "pocket" / path.name, path)
    return path


@pytest.fixture
def page(browser: Browser, copy: Path) -> Iterator[Page]:
    """The file on a phone; a fault, a refused style or script, or a request fails the test."""
    context = a_phone(browser)
    made = context.new_page()
    wrong: list[str] = []
    made.on("pageerror", lambda error: wrong.append(str(error)))
    made.on("console", lambda said: wrong.append(said.text))
    made.on("request", lambda each: wrong.append(each.url) if copy.name not in each.url else None)
    made.goto(copy.as_uri())
    yield made
    assert wrong == []
    context.close()


def test_every_section_is_reached_by_links_and_shown_alone(page: Page) -> None:
    hrefs = page.eval_on_selector_all(
        ".contents a", "all => all.map(each => each.getAttribute('href'))"
    )
    assert len(hrefs) == 2 + 4 * 4
    for href in hrefs:
        page.locator(f".contents a[href='{href}']").click()
        expect(page.locator(".part:visible")).to_have_count(1)
        expect(page.locator(href)).to_be_visible()
        page.locator(f"{href} a[href='#top'], .foot a[href='#top']").first.click()
        expect(page.locator(".contents")).to_be_visible()


def test_a_link_from_one_section_to_another_works(page: Page) -> None:
    page.goto(page.url + "#refit-1-1")
    page.click("text=What the old tip's look points at")
    expect(page.locator("#access-1-1-tip")).to_be_in_viewport()
    page.go_back()
    expect(page.locator("#refit-1-1")).to_be_visible()


def test_sections_of_a_sensor_lead_to_each_other_and_codes_to_their_group(page: Page) -> None:
    hrefs = "all => all.map(each => each.getAttribute('href'))"
    for stage in ("access", "test", "refit", "bench"):
        found = page.eval_on_selector_all(f"#{stage}-2-1 > :is(h2, .lead) + .ways a", hrefs)
        others = [each for each in ("access", "test", "refit", "bench") if each != stage]
        assert found == [*(f"#{each}-2-1" for each in others), "#top"]
    page.goto(page.url + "#codes")
    cells = page.locator(".codes td:not(:empty)")
    assert cells.count() > 60
    assert cells.all_inner_texts() == [
        str(href)[1:] for href in page.eval_on_selector_all(".codes td a", hrefs)
    ]
    page.click(".codes a[href='#P0155']")
    expect(page.locator("details[open] #P0155")).to_be_in_viewport()


def test_what_is_shared_stands_in_every_place(page: Page, copy: Path) -> None:
    assert "As above" in copy.read_text()
    assert "As above" not in page.inner_text("body")
    page.goto(page.url + "#access-2-2")
    expect(page.locator("#access-2-2")).to_contain_text("slotted socket over the sensor")
    names = page.eval_on_selector_all("[id]", "all => all.map(each => each.id)")
    assert len(names) == len(set(names))


def test_each_signal_word_stands_on_its_colour(page: Page) -> None:
    page.goto(page.url + "#test-1-1")
    found = page.locator(".part:visible [role=note]").evaluate_all(
        """all => all.map(each => [
            each.firstElementChild.textContent.trim(),
            getComputedStyle(each.firstElementChild).backgroundColor,
            getComputedStyle(each.children[1]).backgroundColor,
        ])"""
    )
    colours = {"DANGER": "rgb(193, 18, 31)", "WARNING": "rgb(255, 130, 0)"}
    colours |= {"CAUTION": "rgb(255, 209, 0)", "NOTICE": "rgb(11, 87, 164)"}
    assert {word for word, _, _ in found} >= {"DANGER", "WARNING", "NOTICE"}
    for word, behind_word, behind_text in found:
        assert (behind_word, behind_text) == (colours[word], "rgba(0, 0, 0, 0)")


def test_a_code_is_found_and_its_group_opened(page: Page) -> None:
    page.fill("#code", "p 0141")
    page.click("#codes-found a")
    expect(page.locator("#codes #P0141")).to_be_in_viewport()
    assert page.locator("details:has(#P0141)").get_attribute("open") is not None
    page.goto(page.url.partition("#")[0])
    page.fill("#code", "P1130")
    expect(page.locator("#codes-found")).to_contain_text("the maker's own")


def test_a_tick_is_kept_and_cleared(page: Page) -> None:
    with_room(page).goto(page.url + "#test-1-1")
    box = page.locator("#test-1-1 .steps input").first
    box.check()
    assert "line-through" in page.locator("#test-1-1 .steps li > p").first.evaluate(
        "each => getComputedStyle(each).textDecorationLine"
    )
    visit(page)
    expect(box).to_be_checked()
    page.click("#untick")
    visit(page)
    expect(box).not_to_be_checked()


def test_ticks_cleared_by_a_slip_are_put_back(page: Page) -> None:
    page.goto(page.url + "#test-1-1")
    ticked, other = (page.locator("#test-1-1 .steps input").nth(at) for at in (0, 2))
    page.click("#untick")
    expect(page.locator("#tick-again")).to_be_hidden()
    ticked.check()
    page.click("#untick")
    expect(ticked).not_to_be_checked()
    page.click("#tick-again")
    expect(ticked).to_be_checked()
    expect(other).not_to_be_checked()
    expect(page.locator("#tick-again")).to_be_hidden()


def test_the_codes_of_a_sensor_lead_to_its_sections(page: Page) -> None:
    hrefs = page.eval_on_selector_all(
        "#codes h4 ~ .ways a", "all => all.map(each => each.getAttribute('href'))"
    )
    sensors = ("1-1", "1-2", "2-1", "2-2")
    stages = [f"#{stage}-{key}" for key in sensors for stage in ("access", "test", "refit")]
    assert hrefs == stages


def test_a_bench_sheet_begins_with_the_temperature_beside_the_range(page: Page) -> None:
    page.goto(page.url + "#test-1-1")
    page.locator("#test-1-1 [data-range] input").fill("8")
    page.locator("#test-1-1").get_by_text("Fill in the bench sheet").click()
    expect(page.locator("#bench-1-1 #air")).to_have_value("8")


@pytest.mark.parametrize("number", range(4))
def test_the_range_follows_every_degree_as_python_says(
    page: Page, demo: dict[str, Vehicle], number: int
) -> None:
    vehicle = demo[CARROW]
    sensor = vehicle.sensors[number]
    heater = cold_heater(sensor)
    assert heater
    view = heater_view(vehicle, sensor, heater, None)
    section = f"#test-{sensor.bank}-{sensor.position}"
    page.goto(page.url + section)
    card = page.locator(f"{section} [data-range]")
    for unit, coldest, expected in (
        ("°C", view.coldest_c, view.by_degree),
        ("°F", view.fahrenheit.coldest_f, view.fahrenheit.by_degree),
    ):
        card.locator("select").select_option(label=unit)
        found = card.evaluate(
            """(card, [coldest, count]) => Array.from({length: count}, (_, at) => {
                const box = card.querySelector("input");
                box.value = String(coldest + at);
                box.dispatchEvent(new Event("input"));
                return card.querySelector(".number b").textContent;
            })""",
            [coldest, len(expected.split())],
        )
        assert found == expected.split()
    for outside in ("123", "-5", "400", "warm"):
        card.locator("input").fill(outside)
        expect(card.locator("output")).to_contain_text("Known from -4 to 122 °F")
        expect(card.locator(".number b")).to_have_text("–")


def test_each_sensor_has_its_own_bench_sheet(page: Page) -> None:
    page.goto(page.url + "#bench-1-1")
    for name, value in {**FINE, "air": "20", "meter-zero": "0.2", "reading": "2.70"}.items():
        page.fill(f"#{name}", value)
    expect(page.locator("[data-outcome=in-range]")).to_be_visible()
    page.evaluate("location.hash = '#bench-1-2'")
    expect(page.locator("#bench-1-2 #bench")).to_be_visible()
    assert page.locator("#bench").count() == 1
    assert page.input_value("#reading") == ""
    page.fill("#reading", "2.70")
    page.fill("#air", "20")
    page.fill("#meter-zero", "0.2")
    expect(page.locator("[data-outcome=out-of-range]")).to_be_visible()
    page.evaluate("location.hash = '#bench-1-1'")
    expect(page.locator("#bench-1-1 #bench")).to_be_visible()
    assert page.input_value("#reading") == "2.70"
    expect(page.locator("[data-outcome=in-range]")).to_be_visible()
    page.evaluate("Object.defineProperty(navigator, 'clipboard', {value: undefined})")
    page.click("#copy")
    assert f"{CARROW}, bank 1, position 1" in page.input_value("#text")


def test_nothing_is_wider_than_a_phone(page: Page, overflow: Callable[[Page], list[str]]) -> None:
    for href in ("#top", "#overview", "#codes", "#access-1-1", "#test-1-1", "#refit-1-1",
                 "#bench-1-1"):  # fmt: skip
        page.evaluate(f"location.hash = '{href}'")
        expect(page.locator(href)).to_be_visible()
        assert overflow(page) == [], href


def test_without_scripts_all_of_it_can_be_read(browser: Browser, copy: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(copy.as_uri())
    text = page.inner_text("body").replace("\u00a0", " ")
    for said in ("2.1–2.9", "DANGER", "Bank 2, position 2: Refit", "Everything off in one order"):
        assert said in text
    page.click(".contents a[href='#test-2-1']")
    assert re.search(r"#test-2-1$", page.url)
    context.close()
