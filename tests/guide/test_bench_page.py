"""The bench sheet: the fields of the work in its order, and words for every verdict there is."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from generator.guide.bench_fields import Field
from generator.guide.bench_page import BenchView, bench, bench_row
from generator.guide.pages import vehicle_pages
from generator.guide.refit_page import refit
from generator.guide.test_page import test as heater_test
from generator.guide.vehicle import Vehicle, cold_heater, page_file
from generator.guide.verdict_words import verdict_words
from generator.profile.sheet_text import KEYS, first_line
from generator.trade.verdict import NextStep, Outcome, steps_after
from tests.trade.verdict_vectors import vectors

Small = Callable[..., Vehicle]
PageOf = Callable[[Vehicle, str], Any]
SPECIFIED = {"sensors.0.heater": {"resistance": {"value": "2.15 to 2.9 ohm", "at": "68 °F"}}}


def fields(view: BenchView) -> list[Field]:
    return [field for group in view.groups for field in group.fields]


def sheet_of(vehicle: Vehicle) -> BenchView:
    return bench(vehicle, vehicle.sensors[0])


def test_the_fields_stand_in_the_order_of_the_work(small: Small) -> None:
    keys = [field.key for field in fields(sheet_of(small(SPECIFIED)))]
    assert keys == [
        *("date", "distance", "meter percent", "meter counts", "meter resolution", "air"),
        *("thermometer", "meter zero", "reading", "over range", "supply", "current"),
        *("torque", "known to work", "notes"),
    ]
    in_text = [key for key in keys if key != "over range"]
    assert [key for key in KEYS if key in in_text] == in_text, "and the text has that order too"


@pytest.mark.parametrize(
    ("stated", "torque"), [("44 N·m", "lbf.ft"), ("8 N·m", "lbf.in"), (None, "lbf.ft")]
)
def test_who_chose_us_customary_units_writes_in_them(
    small: Small, stated: str | None, torque: str
) -> None:
    with_torque = {"sensors.0.torque": {"value": stated, "thread_state": "as-delivered"}}
    vehicle = small(SPECIFIED | (with_torque if stated else {}))
    found = {field.key: field for field in fields(sheet_of(vehicle)) if len(field.units) > 1}
    assert {key: field.us_unit for key, field in found.items()} == {
        "distance": "miles",
        "air": "degF",
        "torque": torque,
    }
    for field in found.values():
        assert field.us_unit in [written for _, written in field.units[1:]]


@pytest.mark.parametrize("wires", [1, 2])
def test_without_a_heater_there_is_no_field_for_one_and_no_hole(
    small: Small, page_of: PageOf, wires: int
) -> None:
    vehicle = small({"sensors.0.wires": wires})
    view = sheet_of(vehicle)
    assert view.heater is None
    assert [field.key for field in fields(view)] == [
        *("date", "distance", "signal lowest", "signal highest", "torque", "notes")
    ]
    page = page_of(vehicle, page_file(vehicle.sensors[0], "bench"))
    text = "".join(page.find("body").itertext()).lower()
    for word in ("heater", "meter", "verdict", "known to work"):
        assert word not in text.replace("kilometer", ""), word
    for tag in ("section", "dl", "ul", "div"):
        assert all("".join(each.itertext()).strip() or len(each) for each in page.iter(tag))


def test_the_script_judges_by_the_numbers_of_the_profile(small: Small) -> None:
    heater = sheet_of(small(SPECIFIED)).heater
    assert heater is not None
    assert (heater.low_ohm, heater.high_ohm) == ("2.15", "2.9")
    assert float(heater.reference_c) == pytest.approx(20)
    assert (heater.element, heater.step_ohm) == ("unknown", "0.01")
    platinum = {"sensors.0.heater": {"element": "platinum"}}
    unspecified = sheet_of(small(platinum)).heater
    assert unspecified is not None
    assert (unspecified.low_ohm, unspecified.high_ohm, unspecified.step_ohm) == ("", "", "")
    assert unspecified.element == "platinum"
    assert unspecified.basis[0] == "Rule of thumb"
    assert "no specification" in unspecified.basis[1]


def test_the_range_by_air_is_that_of_the_test_page(demo: dict[str, Vehicle]) -> None:
    compared = 0
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            shown, tested = bench(vehicle, sensor).heater, heater_test(vehicle, sensor).heater
            assert (shown is None) == (tested is None)
            if shown and tested:
                assert shown.by_air == [(celsius, ohms) for celsius, _, ohms in tested.table]
                compared += 1
    assert compared >= 10


def test_every_verdict_there_is_has_its_words(small: Small) -> None:
    told = {True: set[str](), False: set[str]()}
    for vector in vectors():
        if vector["expected"]:
            is_specified = vector["heater"]["specified"] is not None
            told[is_specified].add(vector["expected"]["outcome"])
    for is_specified, outcomes in told.items():
        heater = sheet_of(small(SPECIFIED if is_specified else {})).heater
        assert heater is not None
        assert {words.outcome.value for words in heater.verdicts} == outcomes


def test_every_step_is_told_but_comparing_where_there_is_nothing_to_compare(
    small: Small, demo: dict[str, Vehicle]
) -> None:
    carrow = demo["fenwright-carrow-3-2-v6"]
    for vehicle, is_left_out in ((small(SPECIFIED), True), (carrow, False)):
        sensor = vehicle.sensors[0]
        heater = cold_heater(sensor)
        assert heater is not None
        for told in verdict_words(vehicle, sensor, heater):
            wanted = [
                step
                for step in steps_after(told.outcome)
                if not (is_left_out and step is NextStep.COMPARE_OTHER_BANK)
            ]
            assert [step for step, _ in told.steps] == wanted
            assert all(words and not words.endswith(".") for _, words in told.steps)


def test_no_outcome_without_a_specification_condemns_by_the_rule_of_thumb(small: Small) -> None:
    vehicle = small()
    heater = cold_heater(vehicle.sensors[0])
    assert heater is not None
    condemning = {
        told.outcome
        for told in verdict_words(vehicle, vehicle.sensors[0], heater)
        if NextStep.REPLACE_SENSOR in dict(told.steps)
    }
    assert condemning == {Outcome.OPEN_CIRCUIT, Outcome.SHORT_CIRCUIT}


def test_the_sensing_cell_is_named_before_the_reading(small: Small, page_of: PageOf) -> None:
    vehicle = small(SPECIFIED)
    page = page_of(vehicle, page_file(vehicle.sensors[0], "bench"))
    order = [
        "cell" if "damage the cell" in "".join(each.itertext()) else each.get("id")
        for each in page.iter()
        if (each.tag == "p" and "damage the cell" in "".join(each.itertext()))
        or each.get("id") == "reading"
    ]
    assert order == ["cell", "reading"]


def test_a_missing_torque_is_said_to_be_missing(small: Small) -> None:
    (torque,) = (field for field in fields(sheet_of(small())) if field.key == "torque")
    assert torque.hint == "Not stated in this guide: see the workshop literature."
    stated = small({"sensors.0.torque": "40 to 48 N·m"})
    (torque,) = (field for field in fields(sheet_of(stated)) if field.key == "torque")
    assert torque.hint.replace("\u00a0", " ").replace("\u2060", "") == (
        "Specified: 40–48 N·m, 30–35 lbf·ft."
    )


def test_no_accuracy_of_a_meter_is_assumed(small: Small) -> None:
    assumed = {field.key: field.value for field in fields(sheet_of(small())) if field.value}
    assert assumed == {"thermometer": "1"}


def test_the_text_names_vehicle_and_sensor(demo: dict[str, Vehicle]) -> None:
    carrow = demo["fenwright-carrow-3-2-v6"]
    view = bench(carrow, carrow.sensors[1])
    assert view.first_line == first_line("fenwright-carrow-3-2-v6", 1, 2)
    assert view.first_line.endswith(f": {view.slug}, {view.sensor}")


def test_every_sensor_has_its_sheet_and_is_led_to_it(
    demo: dict[str, Vehicle], page_of: PageOf
) -> None:
    for vehicle in demo.values():
        files = {page.path.rpartition("/")[2] for page in vehicle_pages(vehicle)}
        for sensor in vehicle.sensors:
            row = bench_row(vehicle, sensor)
            assert row.href in files
            assert heater_test(vehicle, sensor).bench == row
            assert refit(vehicle, sensor).bench == row
    pip = demo["lowmere-pip-1-4"]
    for stage in ("test", "refit"):
        page = page_of(pip, page_file(pip.sensors[0], stage))
        hrefs = [link.get("href") for link in page.iter("a")]
        assert hrefs.count("bank-1-position-1-bench.html") == 1


def test_there_is_no_script_and_no_style_in_the_page(small: Small, page_of: PageOf) -> None:
    page = page_of(small(SPECIFIED), "bank-1-position-1-bench.html")
    own = [each.get("src") for each in page.find("body").iter("script")]
    assert own[:2] == ["../../assets/verdict.js", "../../assets/bench.js"], "in this order"
    in_body = page.find("body").iter("script")
    assert not [each for each in in_body if "".join(each.itertext()).strip()]
    names = {name for each in page.iter() for name in each.attrib}
    assert not {name for name in names if name.startswith("on")} | (names & {"style", "action"})


def test_every_field_has_its_label(small: Small, page_of: PageOf) -> None:
    page = page_of(small(SPECIFIED), "bank-1-position-1-bench.html")
    labelled = {label.get("for") for label in page.iter("label")}
    inside = {field.get("id") for label in page.iter("label") for field in label.iter("input")}
    asked = [each for tag in ("input", "textarea", "select") for each in page.iter(tag)]
    assert len(asked) >= 17
    for field in asked:
        assert field.get("id") in labelled | inside or field.get("aria-label"), field.get("id")
