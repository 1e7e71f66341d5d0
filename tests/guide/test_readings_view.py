"""Pooled readings stand beside the specification, counted and explained, never in its place."""

from __future__ import annotations

from collections.abc import Callable
from statistics import fmean, stdev
from typing import Any

import pytest

from generator.guide.readings_view import ReadingsView, readings_view
from generator.guide.test_page import test as heater_test
from generator.guide.vehicle import Vehicle, cold_heater
from generator.guide.verdict_words import verdict_words
from generator.trade.pooled_readings import tolerance_factor
from generator.trade.verdict import Outcome

Small = Callable[..., Vehicle]
PageOf = Callable[[Vehicle, str], Any]
EIGHT = (2.41, 2.44, 2.46, 2.47, 2.50, 2.52, 2.55, 2.58)
STATED = {"resistance": {"value": "2.1 to 2.9 ohm", "at": "20 °C"}}


def with_readings(small: Small, *ohms: float, heater: Any = STATED) -> Vehicle:
    readings = [{"resistance": f"{ohm:.2f} ohm", "air": "20 °C"} for ohm in ohms]
    return small({"sensors.0.heater": heater, "sensors.0.readings": readings})


def view_of(vehicle: Vehicle) -> ReadingsView:
    view = readings_view(vehicle, vehicle.sensors[0])
    assert view is not None
    return view


def plain(text: str) -> str:
    return text.replace("\u00a0", " ").replace("\u2060", "")


def test_no_readings_no_view(small: Small) -> None:
    assert readings_view(small(), small().sensors[0]) is None


@pytest.mark.parametrize("count", [1, 7])
def test_fewer_than_eight_are_listed_and_make_no_range(small: Small, count: int) -> None:
    view = view_of(with_readings(small, *EIGHT[:count]))
    assert len(view.rows) == count
    assert [float(row[0]) for row in view.rows] == list(EIGHT[:count])
    noun = "1 reading of a sensor" if count == 1 else "7 readings of sensors"
    assert plain(view.summary).startswith(f"Measured, not specified: {noun} known to work, ")
    facts = dict(view.facts)
    assert facts["Range"] == "None: under 8 readings are listed as they are."
    assert facts["Readings"] == str(count)
    assert "Outlier" not in facts


def test_eight_make_a_tolerance_interval(small: Small) -> None:
    view = view_of(with_readings(small, *EIGHT))
    half = tolerance_factor(8) * stdev(EIGHT) + 0.01 / 2
    low, high = fmean(EIGHT) - half, fmean(EIGHT) + half
    facts = {name: plain(said) for name, said in view.facts}
    assert facts["Readings"] == "8"
    assert facts["Lowest to highest, at 20 °C"] == "2.41–2.58 Ω"
    assert facts["Standard deviation"] == f"{stdev(EIGHT):.3f} Ω"
    assert facts["Outlier"].startswith("None left out; the reading furthest from the mean goes")
    assert "Grubbs" in facts["Outlier"]
    assert facts["Range"].startswith(f"{low:.2f}–{high:.2f} Ω: a tolerance interval (ISO 16269-6)")
    assert "95 % of good sensors, with 90 % confidence" in facts["Range"]
    assert plain(view.summary) == (
        "Measured, not specified: 8 sensors known to work make a range of "
        f"{low:.2f}–{high:.2f} Ω at 20 °C."
    )


@pytest.mark.parametrize("others", [EIGHT, EIGHT[:7]])
def test_an_outlier_is_named_and_stays_in_the_list(small: Small, others: tuple[float, ...]) -> None:
    view = view_of(with_readings(small, *others, 4.2))
    facts = {name: plain(said) for name, said in view.facts}
    assert facts["Outlier"].startswith("4.20 Ω left out; ")
    assert facts["Readings"] == str(len(others))
    assert len(view.rows) == len(others) + 1
    assert facts["Range"].startswith("None:") == (len(others) < 8)


def test_a_row_tells_what_was_read_and_what_it_is_at_20_degrees(small: Small) -> None:
    reading = {
        "resistance": "2.6 ohm",
        "air": "68 °F",
        "meter_zero": "0.2 ohm",
        "date": "2026-03-14",
        "distance": "120000 km",
    }
    vehicle = small({"sensors.0.readings": [reading, {"resistance": "2.4 ohm", "air": "0 °C"}]})
    first, second = view_of(vehicle).rows
    assert tuple(map(plain, first)) == (
        "2.4",
        "2.6 ohm, leads 0.2 ohm, 68 °F",
        "2026-03-14, 120000 km",
    )
    # Colder read lower: at 20 degrees it is more, by about a twelfth
    assert float(second[0]) == pytest.approx(2.4 * 1.083, abs=0.06)
    assert plain(second[1]) == "2.4 ohm, leads taken off, 0 °C"
    assert second[2] == "not stated"


def test_the_specification_keeps_its_place(small: Small, page_of: PageOf) -> None:
    without = small({"sensors.0.heater": STATED})
    pooled = with_readings(small, *EIGHT)
    before = heater_test(without, without.sensors[0]).heater
    after = heater_test(pooled, pooled.sensors[0]).heater
    assert before == after
    page = page_of(pooled, "bank-1-position-1-test.html")
    number = page.find(".//*[@id='range']")
    assert before is not None
    assert "".join(number.itertext()) == before.number
    order = [each.get("id") for each in page.iter() if each.get("id") in ("range", "readings")]
    assert order == ["range", "readings"]
    assert "never takes its place" in "".join(page.find(".//*[@id='readings']").itertext())
    link = [each.get("href") for each in page.iter("a")]
    assert "#readings" in link
    assert page_of(without, "bank-1-position-1-test.html").find(".//*[@id='readings']") is None


def test_a_missing_specification_stays_missing(small: Small) -> None:
    vehicle = with_readings(small, *EIGHT, heater={})
    heater = heater_test(vehicle, vehicle.sensors[0]).heater
    assert heater is not None
    assert not heater.is_specified
    assert "Rule of thumb, not a specification" in heater.basis


@pytest.mark.parametrize(
    ("ohms", "misleads"),
    [
        ((2.0, 4.0), False),
        ((2.4, 3.1), False),
        ((2.4, 4.04), False),
        ((2.4, 4.06), True),
        ((1.94, 3.0), True),
    ],
)
def test_readings_outside_the_rule_of_thumb_are_set_against_it(
    small: Small, ohms: tuple[float, ...], misleads: bool
) -> None:
    vehicle = with_readings(small, *ohms, heater={})
    heater = heater_test(vehicle, vehicle.sensors[0]).heater
    assert heater is not None
    assert ("misleads on this vehicle" in heater.basis) is misleads
    low, high = min(ohms), max(ohms)
    # Where it misleads, the number at arm's length is what was read, and the words say so
    assert heater.number == (f"{low:.1f}–{high:.1f}" if misleads else "2.0–4.0")
    assert heater.is_specified is False
    words = verdict_words(vehicle, vehicle.sensors[0], cold_heater(vehicle.sensors[0]))
    inside = next(each for each in words if each.outcome is Outcome.WITHIN_RULE_OF_THUMB)
    assert ("no judgement" in inside.meaning) is misleads
    stated = with_readings(small, *ohms)
    of_stated = heater_test(stated, stated.sensors[0]).heater
    assert of_stated is not None
    assert "misleads" not in of_stated.basis, "there is no rule of thumb to be misled by"
