"""The bench sheet in a browser: Python's verdict, what is kept, and how it is filled in."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from generator.guide.vehicle import Vehicle, cold_heater
from generator.trade.verdict import Meter, Reading, judge
from tests.browser.bench_sheets import CARROW, COARSE, FINE, GOOD, copied, fill, outcome, shown
from tests.browser.conftest import OVERFLOW
from tests.browser.storage import with_room
from tests.trade.verdict_vectors import vectors

pytestmark = pytest.mark.browser

MOOR = "kestrin-moor-2-0-flat"
FINGER_PX = 44


def steps(page: Page) -> list[str]:
    told = page.locator("[data-step]:visible")
    return [str(told.nth(at).get_attribute("data-step")) for at in range(told.count())]


def test_the_script_gives_the_verdicts_of_python(open_sheet: Callable[..., Page]) -> None:
    given = vectors()
    assert len(given) > 1000
    found = open_sheet().evaluate(
        """vectors => vectors.map(each => {
            const told = sondebookVerdict.judge(each.reading, each.meter, each.heater);
            return told && {...told, text: sondebookVerdict.shown(told.range, each.step)};
        })""",
        given,
    )
    for vector, told in zip(given, found, strict=True):
        expected = vector["expected"]
        assert (told is None) == (expected is None), vector
        if expected is None:
            continue
        assert told["outcome"] == expected["outcome"], vector
        assert told["beyond"] == expected["beyond"], vector
        for name in ("corrected", "uncertainty"):
            if expected[name] is None:
                assert told[name] is None, vector
            else:
                assert told[name] == pytest.approx(expected[name], rel=1e-12, abs=1e-12), vector
        for end in ("low", "high"):
            assert told["range"][end] == pytest.approx(expected[end], rel=1e-12), vector
        left = [step for step in expected["all_steps"] if step not in told["pointless"]]
        assert left == expected["steps"], vector
        ends = [float(end) for end in told["text"].split("–")]
        assert [ends[0], ends[-1]] == expected["shown"], vector


ENTRIES = [
    (CARROW, {**GOOD}),
    (CARROW, {**GOOD, "reading": "2,60", "meter-percent": "0,5"}),
    (CARROW, {**GOOD, "reading": "3.9"}),
    (CARROW, {**GOOD, "reading": "0.25"}),
    (CARROW, {**GOOD, "reading": "54000"}),
    (CARROW, {**GOOD, **COARSE, "reading": "2.9"}),
    (CARROW, {**GOOD, "air": "\u221220", "reading": "2.05"}),
    (CARROW, {**GOOD, "meter-zero": "2", "reading": "1.2"}),
    (MOOR, {**GOOD}),
    (MOOR, {**GOOD, "reading": "9.4"}),
    (MOOR, {**GOOD, "meter-zero": "-.1", "reading": "1.2"}),
]


@pytest.mark.parametrize(("slug", "entries"), ENTRIES)
def test_what_is_typed_gets_the_verdict_of_python(
    open_sheet: Callable[..., Page], demo: dict[str, Vehicle], slug: str, entries: dict[str, str]
) -> None:
    page = open_sheet(slug)
    fill(page, entries)
    number = {
        name: float(text.replace(",", ".").replace("\u2212", "-")) for name, text in entries.items()
    }
    heater = cold_heater(demo[slug].sensors[0])
    assert heater is not None
    verdict = judge(
        Reading(number["reading"], number["meter-zero"], number["air"], 1.0),
        Meter(number["meter-percent"], number["meter-counts"], number["meter-resolution"]),
        heater.specified,
        heater.reference_c,
        heater.element,
    )
    assert outcome(page) == verdict.outcome.value
    told = [step for step in verdict.next_steps if page.locator(f"[data-step={step}]").count()]
    assert steps(page) == told
    assert float(shown(page, "corrected").rstrip(" Ω").replace("\u2212", "-")) == pytest.approx(
        verdict.corrected_ohm, abs=0.0051
    )
    assert float(shown(page, "uncertainty").strip("± Ω")) == pytest.approx(
        verdict.expanded_uncertainty_ohm, abs=0.0051
    )


def test_fahrenheit_is_understood(open_sheet: Callable[..., Page]) -> None:
    page = open_sheet()
    fill(page, {**GOOD, "air": "8"})
    in_celsius = shown(page, "expected")
    page.select_option("#air-unit", "degF")
    fill(page, {"air": "46.4"})
    assert shown(page, "expected") == in_celsius
    for limit in ("-4", "122"):
        fill(page, {"air": limit})
        assert shown(page, "air-fault") == ""
        assert outcome(page)


def test_over_range_is_an_open_circuit_without_any_meter(open_sheet: Callable[..., Page]) -> None:
    page = open_sheet()
    page.fill("#air", "20")
    page.check("#over-range")
    assert outcome(page) == "open-circuit"
    assert page.is_disabled("#reading")
    assert shown(page, "corrected") == "–"
    page.uncheck("#over-range")
    assert outcome(page) is None
    assert page.is_enabled("#reading")


def test_what_is_still_wanted_is_named_and_nothing_is_assumed(
    open_sheet: Callable[..., Page],
) -> None:
    page = open_sheet()
    assert shown(page, "wanted") == (
        "For the verdict, still wanted: Air and sensor, Meter zero, Reading."
    )
    fill(page, {"air": "8", "meter-zero": "0.2", "reading": "2.6"})
    assert "your meter's accuracy" in shown(page, "wanted")
    for reading, lies in {"1.5": "below", "3.9": "above", "2.6": "inside"}.items():
        fill(page, {"reading": reading})
        assert shown(page, "wanted").startswith(f"So far {lies} the range. For the verdict,")
    assert outcome(page) is None
    assert shown(page, "corrected") == "2.4 Ω", "and what can be told is told"
    assert shown(page, "uncertainty") == "–"
    fill(page, FINE)
    assert shown(page, "wanted") == ""
    assert outcome(page) == "in-range"


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        ("air", "51", "from −20 to 50 °C"),
        ("air", "warm", "from −20 to 50 °C"),
        ("air", "8 C", "from −20 to 50 °C"),
        ("thermometer", "11", "from 0 to 10"),
        ("thermometer", "-1", "from 0 to 10"),
        ("meter-zero", "o.2", "Write ohms as a number, such as 0.2."),
        ("meter-zero", "2.6", "Leads that read more than 2 Ω are worn out."),
        ("meter-zero", "-2.6", "Write ohms as a number, such as 0.2."),
        ("reading", "2.6.1", "Write ohms as a number, such as 2.5."),
        ("reading", "OL", "Write ohms as a number, such as 2.5."),
        ("reading", "1e3", "Write ohms as a number, such as 2.5."),
        ("reading", "1,200", "Thousands, or a decimal comma? Write 1200, or 1.2."),
        ("meter-percent", "-1", "from 0 to 10"),
        ("meter-percent", "80", "from 0 to 10"),
        ("meter-counts", "0.5", "Write a whole number, such as 3"),
        ("meter-resolution", "5", "such as 0.1"),
        ("supply", "127", "such as 12.4"),
        ("meter-resolution", "0", "such as 0.1"),
        ("supply", "12 V", "Write a number, such as 12.4."),
        ("torque", "40-48", "Write a number, such as 44."),
    ],
)
def test_an_entry_that_cannot_be_gets_one_sentence(
    open_sheet: Callable[..., Page], name: str, typed: str, said: str
) -> None:
    page = open_sheet()
    fill(page, {**GOOD, name: typed})
    assert said in shown(page, f"{name}-fault")
    assert page.get_attribute(f"#{name}", "aria-invalid") == "true"
    assert page.get_attribute(f"#{name}", "aria-describedby") == f"{name}-fault"
    told = [each for each in page.locator(".fault").all_text_contents() if each]
    assert len(told) == 1
    if name not in ("supply", "torque"):
        assert outcome(page) is None
    fill(page, {name: {**GOOD, "thermometer": "1"}.get(name, "12.4")})
    assert page.get_attribute(f"#{name}", "aria-invalid") == "false"
    assert outcome(page) == "in-range"


def test_it_stays_on_the_phone_each_sensor_by_itself(open_sheet: Callable[..., Page]) -> None:
    page = with_room(open_sheet())
    fill(page, {**GOOD, "notes": "one\ntwo", "date": "2026-03-14", "distance": "120 000"})
    page.select_option("#distance-unit", "miles")
    page.check("#known-to-work")
    again = open_sheet()
    assert again.input_value("#reading") == "2.60"
    assert again.input_value("#notes") == "one\ntwo"
    assert again.input_value("#date") == "2026-03-14"
    assert again.is_checked("#known-to-work")
    assert outcome(again) == "in-range"
    assert again.locator("#meter[open]").count() == 0, "the meter is known by now"
    other = open_sheet(CARROW, 2)
    assert other.input_value("#reading") == ""
    assert other.input_value("#meter-percent") == "0.5", "the meter goes with the person"
    assert other.input_value("#distance-unit") == "miles"
    assert open_sheet(MOOR).input_value("#reading") == ""


def test_the_units_are_the_readers_until_another_is_picked(
    open_sheet: Callable[..., Page],
) -> None:
    def units(page: Page) -> list[str]:
        return [page.input_value(f"#{name}-unit") for name in ("distance", "air", "torque")]

    page = with_room(open_sheet())
    assert units(page) == ["km", "degC", "N.m"]
    page.locator(".choices summary").click()
    page.get_by_role("button", name="lbf·ft and °F").click()
    assert units(page) == ["miles", "degF", "lbf.ft"]
    page.select_option("#air-unit", "degC")
    again = open_sheet()
    assert units(again) == ["miles", "degC", "lbf.ft"]
    again.locator(".choices summary").click()
    again.get_by_role("button", name="N·m and °C").click()
    assert units(again) == ["km", "degC", "N.m"]


def test_two_sites_on_one_host_stay_apart(
    context: BrowserContext, sheet_folder: Path, tmp_path: Path
) -> None:
    path = f"guides/{CARROW}/bank-1-position-1-bench.html"
    page = context.new_page()
    page.goto((sheet_folder / path).as_uri())
    fill(page, GOOD)
    shutil.copytree(sheet_folder, tmp_path / "other")
    page.goto((tmp_path / "other" / path).as_uri())
    assert page.input_value("#reading") == ""
    assert page.input_value("#meter-percent") == ""


def test_clearing_keeps_the_meter_and_can_be_undone(open_sheet: Callable[..., Page]) -> None:
    page = with_room(open_sheet())
    fill(page, {**GOOD, "thermometer": "2"})
    page.check("#known-to-work")
    page.click("#clear")
    assert page.input_value("#reading") == ""
    assert page.input_value("#thermometer") == "1"
    assert not page.is_checked("#known-to-work")
    assert page.input_value("#meter-counts") == "2"
    assert shown(page, "said") == "Cleared."
    assert open_sheet(in_new_tab=True).input_value("#reading") == ""
    page.click("#put-back")
    assert page.input_value("#reading") == "2.60"
    assert page.input_value("#thermometer") == "2"
    assert page.is_checked("#known-to-work")
    assert open_sheet().input_value("#reading") == "2.60"


@pytest.mark.parametrize(
    "broken",
    [
        "Object.defineProperty(window, 'localStorage', {get() { throw new Error('no'); }})",
        "Storage.prototype.setItem = () => { throw new Error('full'); }",
    ],
)
def test_a_browser_that_keeps_nothing_still_judges_and_says_so(
    open_sheet: Callable[..., Page], broken: str
) -> None:
    page = open_sheet(before=broken)
    fill(page, GOOD)
    assert outcome(page) == "in-range"
    assert "keeps nothing here" in shown(page, "said")
    assert "reading: 2.60 ohm" in copied(page)


@pytest.mark.parametrize("kept", ["5", "null", '"x"', "[1]", "{", '{"reading": 7, "date": {}}'])
def test_whatever_stands_in_the_storage_does_no_harm(
    open_sheet: Callable[..., Page], kept: str
) -> None:
    page = open_sheet(before=f"Storage.prototype.getItem = () => {json.dumps(kept)}")
    fill(page, GOOD)
    assert outcome(page) == "in-range"


def test_without_scripts_there_is_a_sheet_to_print(browser: Browser, sheet_folder: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((sheet_folder / f"guides/{CARROW}/bank-1-position-1-bench.html").as_uri())
    assert page.is_visible("#reading")
    assert page.is_hidden("#buttons")
    assert page.is_visible("noscript a[href='bank-1-position-1-test.html']")
    assert page.is_visible(".by-air")
    context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_thumb_in_a_glove_hits_every_field(open_sheet: Callable[..., Page], scheme: Any) -> None:
    page = open_sheet()
    page.emulate_media(color_scheme=scheme)
    fill(page, {**GOOD, **COARSE, "reading": "2.9", "supply": "x"})
    copied(page)
    small = page.evaluate(
        """least => [...document.querySelectorAll(
            "#bench :is(input:not([type=checkbox]), select, textarea, button, summary, .tick label)"
        )].filter(each => {
            const box = each.getBoundingClientRect();
            return each.checkVisibility() && (box.height < least || box.width < least);
        }).map(each => each.id || each.className)""",
        FINGER_PX,
    )
    assert small == []
    assert page.evaluate(OVERFLOW) == []


def test_numbers_bring_up_a_keyboard_of_numbers(open_sheet: Callable[..., Page]) -> None:
    modes = open_sheet().eval_on_selector_all(
        "#bench input:not([type=checkbox]):not([type=date])",
        "all => all.map(each => [each.id, each.inputMode])",
    )
    assert len(modes) == 11
    # Not every keypad of digits has a minus
    of_text = {"air", "meter-zero"}
    assert {name for name, mode in modes if not mode} == of_text
    assert {mode for name, mode in modes if name not in of_text | {"distance"}} == {"decimal"}
    assert dict(modes)["distance"] == "numeric"
