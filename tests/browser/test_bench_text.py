"""A bench sheet given as text: what Python reads back, and how it is copied."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page

from generator.guide.vehicle import Vehicle
from generator.profile.pool import pool
from generator.profile.sheet_text import Sheet, sheets
from tests.browser.bench_sheets import CARROW, GOOD, copied, fill, shown
from tests.browser.storage import with_room

pytestmark = pytest.mark.browser


def test_the_text_is_read_back_by_python(
    open_sheet: Callable[..., Page], demo: dict[str, Vehicle], root: Path
) -> None:
    page = open_sheet()
    fill(page, {**GOOD, "reading": "2,60", "distance": "120 000", "date": "2026-03-14"})
    fill(page, {"notes": "a: b\n> end of bench sheet?\nreading: 9 ohm", "supply": "12.40"})
    page.check("#known-to-work")
    text = copied(page)
    (found,) = sheets(text)
    assert isinstance(found, Sheet)
    assert (found.slug, found.bank, found.position) == (CARROW, 1, 1)
    assert found.values == {
        "date": "2026-03-14",
        "distance": "120 000 km",
        "meter percent": "0.5 %",
        "meter counts": "2",
        "meter resolution": "0.01 ohm",
        "air": "8 degC",
        "thermometer": "1 K",
        "meter zero": "0.2 ohm",
        "reading": "2.60 ohm",
        "corrected": "2.40 ohm",
        "uncertainty": shown(page, "uncertainty").strip("± Ω") + " ohm",
        "range": "2.0 to 2.8 ohm",
        "verdict": "in-range",
        "supply": "12.40 V",
        "known to work": "yes",
        "notes": "a: b > end of bench sheet? reading: 9 ohm",
    }
    before = (root / f"vehicle_profiles/{CARROW}.yml").read_bytes()
    done = pool(before, CARROW, "x.yml", text)
    assert (done.taken, done.refusals) == (1, ())
    assert (
        b"{resistance: 2.60 ohm, air: 8 \xc2\xb0C, meter_zero: 0.2 ohm, date: 2026" in done.content
    )


def test_the_text_is_plain_but_for_what_people_write(open_sheet: Callable[..., Page]) -> None:
    page = open_sheet()
    fill(page, {**GOOD, "air": "\u22125", "meter-zero": "\u22120,10", "torque": "44"})
    text = copied(page)
    assert text.isascii()
    assert "air: -5 degC\n" in text
    assert "meter zero: -0.10 ohm\n" in text
    assert "torque: 44 N.m\n" in text
    fill(page, {"reading": "x"})
    page.check("#over-range")
    assert "reading: over range\n" in copied(page)
    page.uncheck("#over-range")
    assert "reading:" not in copied(page), "an entry that cannot be is not carried on"


def test_without_a_clipboard_the_text_is_marked(open_sheet: Callable[..., Page]) -> None:
    page = open_sheet()
    page.evaluate("document.execCommand = () => false")
    text = copied(page)
    assert shown(page, "said") == "The text is marked: copy it from here."
    assert page.evaluate("document.activeElement.id") == "text"
    marked = page.evaluate("(b => [b.selectionStart, b.selectionEnd])(document.activeElement)")
    assert marked == [0, len(text)]


def test_with_a_clipboard_it_is_used(open_sheet: Callable[..., Page]) -> None:
    page = open_sheet()
    page.evaluate(
        """() => {
            window.got = [];
            const clipboard = {writeText: text => { got.push(text); return Promise.resolve(); }};
            Object.defineProperty(navigator, "clipboard", {value: clipboard});
            Object.defineProperty(window, "isSecureContext", {value: true});
        }"""
    )
    page.click("#copy")
    page.wait_for_function("document.getElementById('said').textContent")
    assert shown(page, "said") == "Copied. Paste it into a post."
    assert page.is_hidden("#text")
    (text,) = page.evaluate("got")
    assert [type(each) for each in sheets(text)] == [Sheet]


def test_a_sensor_without_heater_keeps_and_copies_too(
    open_sheet: Callable[..., Page], demo: dict[str, Vehicle]
) -> None:
    slug, sensor = next(
        (slug, sensor)
        for slug, vehicle in demo.items()
        for sensor in vehicle.sensors
        if not sensor.is_heated
    )
    page = with_room(open_sheet(slug, sensor.bank, sensor.position))
    fill(page, {"torque": "44", "notes": "steady", "date": "2026-03-14"})
    (found,) = sheets(copied(page))
    assert isinstance(found, Sheet)
    assert found.values == {"date": "2026-03-14", "torque": "44 N.m", "notes": "steady"}
    assert open_sheet(slug, sensor.bank, sensor.position).input_value("#notes") == "steady"
