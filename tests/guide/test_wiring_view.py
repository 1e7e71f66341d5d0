"""Both faces of a connector, never confused, and the supply wire under load."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from itertools import product
from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.guide.connector_drawing import ConnectorDrawing
from generator.guide.terminal_view import TerminalView, terminal_view
from generator.guide.vehicle import Vehicle, cold_heater, page_file
from generator.guide.wiring_view import SupplyWireView, supply_wire_view
from generator.trade.connector import Along, Corner, Latch
from generator.trade.wiring import COLOURS

Small = Callable[..., Vehicle]
PageOf = Callable[[Vehicle, str], Any]
WIRE: dict[str, Any] = yaml.safe_load(
    (Path(__file__).parents[1] / "published/wire.yml").read_text("utf-8")
)
OHM_PER_KM = {
    **WIRE["class_5_plain_ohm_per_km"]["values"],
    **{size: max(ends) for size, ends in WIRE["below_half_mm2_ohm_per_km"]["values"].items()},
}
PINS = {
    1: {"job": "signal", "sensor_wire": "BK", "harness_wire": "YE"},
    2: {"job": "signal-ground", "sensor_wire": "GY"},
    3: {"job": "heater-supply", "sensor_wire": "WH", "harness_wire": "RDBK"},
    4: {"job": "heater-control", "sensor_wire": "WH", "harness_wire": "BUWH"},
}


def connected(small: Small, **face: object) -> Vehicle:
    shape = {"rows": 2, "columns": 2, "latch": "top", "pins": PINS, **face}
    return small(
        {"connectors": {"plug": shape}, "sensors.0.connector": {"face": "plug", "where": "here"}}
    )


def terminals(vehicle: Vehicle) -> TerminalView:
    return terminal_view(vehicle, vehicle.profile.connectors["plug"])


def grid(drawing: ConnectorDrawing) -> list[list[int]]:
    """The numbers as they are drawn, rows from the top and each from the left."""
    rows = sorted({cavity.y for cavity in drawing.cavities})
    return [
        [c.number for c in sorted(drawing.cavities, key=lambda c: c.x) if c.y == y] for y in rows
    ]


def latch_edge(drawing: ConnectorDrawing) -> str:
    latch_x, latch_y, _, _ = drawing.latch
    x, y, width, height = drawing.housing
    if latch_x < x:
        return "left"
    if latch_x >= x + width:
        return "right"
    return "top" if latch_y < y else "bottom" if latch_y >= y + height else "inside"


@pytest.mark.parametrize(
    ("corner", "along", "latch"), product(Corner, Along, Latch), ids=lambda part: part.value
)
def test_the_faces_are_mirror_images(
    small: Small, corner: Corner, along: Along, latch: Latch
) -> None:
    vehicle = connected(
        small, columns=3, first=corner.value, along=along.value, latch=latch.value, pins=PINS
    )
    view = terminals(vehicle)
    sensor, harness = grid(view.drawing), grid(view.harness)
    # Two cavities of the six are empty, so rows are compared by where each number stands
    for cavity in view.drawing.cavities:
        (other,) = (c for c in view.harness.cavities if c.number == cavity.number)
        x, _, width, _ = view.drawing.housing
        harness_x, _, _, _ = view.harness.housing
        from_left = cavity.centre_x - x
        assert other.centre_x - harness_x == width - from_left, "as far from the other edge"
        assert other.y - view.harness.housing[1] == cavity.y - view.drawing.housing[1]
    assert sensor == [row[::-1] for row in harness]
    opposite = {"left": "right", "right": "left"}
    assert latch_edge(view.drawing) == latch.value
    assert latch_edge(view.harness) == opposite.get(latch.value, latch.value)


def test_each_face_says_whose_it_is_and_which_meter_goes_where(small: Small) -> None:
    view = terminals(connected(small))
    assert view.name == "Sensor's half"
    assert view.drawing.description.startswith("Sensor's half.")
    assert "Ohmmeter: 3, 4." in view.caption
    assert view.harness_name == "Harness half"
    assert view.harness.description.startswith("Harness half.")
    assert "mirror image" in view.harness_caption
    assert "mirror image" not in view.caption
    assert "Voltmeter: 3 only." in view.harness_caption, "the control side is left alone"
    assert {c.number for c in view.drawing.cavities if c.is_touched} == {3, 4}
    assert {c.number for c in view.harness.cavities if c.is_touched} == {3}
    assert view.drawing.id != view.harness.id
    assert view.drawing.title != view.harness.title


def test_no_meter_goes_where_there_is_no_heater(small: Small) -> None:
    pins = {number: pin for number, pin in PINS.items() if number not in (3, 4)}
    view = terminals(connected(small, pins=pins))
    for drawing in (view.drawing, view.harness):
        assert not any(cavity.is_touched for cavity in drawing.cavities)
        assert "touch" not in drawing.description
    assert "meter:" not in view.caption + view.harness_caption
    assert "No ohmmeter here" in view.caption


def test_a_face_is_told_in_words_as_it_is_drawn(small: Small) -> None:
    for latch, corner in product(Latch, Corner):
        view = terminals(connected(small, latch=latch.value, first=corner.value))
        for drawing in (view.drawing, view.harness):
            rows = "; ".join(", ".join(map(str, row)) for row in grid(drawing))
            assert f"each from the left: {rows}." in drawing.description
            assert f"Latch {'at' if latch_edge(drawing) == 'bottom' else 'on'} " in (
                drawing.description
            )
            assert latch_edge(drawing) in drawing.description


def test_an_empty_cavity_is_said(small: Small) -> None:
    view = terminals(connected(small, columns=3))
    assert "1, 2, 3; 4, empty, empty." in view.drawing.description
    assert "3, 2, 1; empty, empty, 4." in view.harness.description


def test_both_faces_are_on_the_page_each_in_its_own_figure(
    demo: dict[str, Vehicle], page_of: PageOf
) -> None:
    shown = 0
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            page = page_of(vehicle, page_file(sensor, "test"))
            figures = [each for each in page.iter("figure") if "half" in "".join(each.itertext())]
            if sensor.connector is None:
                assert figures == []
                continue
            assert len(figures) == 2
            names = ["".join(each.find("p").itertext()) for each in figures]
            assert names == ["Sensor's half", "Harness half"]
            assert "mirror image" in "".join(figures[1].find("figcaption").itertext())
            shown += 1
    assert shown >= 10


def test_every_wire_colour_is_spelled_out(demo: dict[str, Vehicle]) -> None:
    spelled = 0
    for vehicle in demo.values():
        for connector in vehicle.profile.connectors.values():
            for number, _job, *wires in terminal_view(vehicle, connector).pins:
                pin = connector.pins[int(number)]
                for code, told in zip((pin.sensor_wire, pin.harness_wire), wires, strict=True):
                    if code is None:
                        assert told == "not stated"
                        continue
                    pairs = [code[at : at + 2] for at in range(0, len(code), 2)]
                    assert told == f"{' and '.join(COLOURS[each] for each in pairs)} ({code})"
                    spelled += 1
    assert spelled >= 20


# ---- the supply wire


def wired(small: Small, wire: dict[str, str], **changes: object) -> Vehicle:
    heater = {"resistance": {"value": "2.1 to 2.9 ohm", "at": "20 °C"}}
    return small({"sensors.0.heater": heater, "sensors.0.supply_wire": wire, **changes})


def supply(vehicle: Vehicle) -> SupplyWireView | None:
    (sensor,) = vehicle.sensors
    return supply_wire_view(vehicle, sensor, cold_heater(sensor))


def number(text: str) -> float:
    return float(re.findall(r"[\d.]+", text)[-1])


@pytest.mark.parametrize("size", OHM_PER_KM)
@pytest.mark.parametrize("length_m", [0.8, 3, 6.5])
def test_the_volts_left_are_ohms_law_and_never_too_many(
    small: Small, size: float, length_m: float
) -> None:
    view = supply(wired(small, {"size": f"{size} mm²", "length": f"{length_m} m"}))
    assert view is not None
    wire_ohm = OHM_PER_KM[size] / 1000 * length_m
    assert [name for name, *_ in view.rows] == ["Switch-on", "Hot"]
    for (_, drawn, *left), heater_ohm in zip(view.rows, (2.1, 2.1 * 3), strict=True):
        assert number(drawn) == pytest.approx(14.7 / heater_ohm, abs=0.051)
        for battery_v, shown in zip((12.0, 14.7), left, strict=True):
            exact_v = battery_v - battery_v / heater_ohm * wire_ohm
            assert exact_v - 0.1 < number(shown) <= exact_v + 1e-9
    assert [number(each) for each in view.head[2:]] == [12.0, 14.7]


def test_the_limits_of_the_statement_are_said(small: Small) -> None:
    view = supply(wired(small, {"size": "0.75 mm²", "length": "3 m"}))
    assert view is not None
    for said in (
        "0.75\u00a0mm²",
        "3\u00a0m one way",
        "IEC 60228, class 5",
        "Fuse, relay, terminals and splices are not in it",
        "At 80\u00a0°C it loses 24\u00a0% more",
        "common practice, no source",
    ):
        assert said in view.basis
    assert "rule of thumb" not in view.basis
    assert view.source == "", "and the page says that no source is stated"
    thin = supply(wired(small, {"size": "0.34 mm²", "length": "3 m"}))
    assert thin is not None
    assert "DIN VDE 0295" in thin.basis
    assert "IEC 60228" not in thin.basis


def test_a_rule_of_thumb_is_called_one_here_too(small: Small) -> None:
    view = supply(small({"sensors.0.supply_wire": {"size": "1.0 mm²", "length": "2 m"}}))
    assert view is not None
    assert "rule of thumb, not on a specification" in view.basis


def test_a_size_that_is_not_tabulated_gets_a_sentence_and_no_volts(
    small: Small, page_of: PageOf
) -> None:
    vehicle = wired(small, {"size": "0.6 mm²", "length": "3 m"})
    view = supply(vehicle)
    assert view is not None
    assert view.rows == []
    assert view.basis == "No published resistance is known here for a wire of 0.6 mm²."
    page = page_of(vehicle, page_file(vehicle.sensors[0], "test"))
    (section,) = (each for each in page.iter("section") if each.get("id") == "supply")
    assert section.find(".//table") is None


@pytest.mark.parametrize("changes", [{}, {"sensors.0.wires": 1}])
def test_nothing_is_said_where_nothing_is_stated(
    small: Small, page_of: PageOf, changes: dict[str, object]
) -> None:
    """Not stated, or stated of a sensor without a heater."""
    wire = {"sensors.0.supply_wire": {"size": "0.75 mm²", "length": "3 m"}} if changes else {}
    vehicle = small({**wire, **changes})
    assert supply(vehicle) is None
    page = page_of(vehicle, page_file(vehicle.sensors[0], "test"))
    assert "supply wire" not in "".join(page.itertext())


def test_a_stated_wire_stands_in_supply_and_control_with_its_source(
    demo: dict[str, Vehicle], page_of: PageOf
) -> None:
    shown = 0
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            if sensor.supply_wire is None:
                continue
            page = page_of(vehicle, page_file(sensor, "test"))
            (section,) = (each for each in page.iter("section") if each.get("id") == "supply")
            text = " ".join("".join(section.itertext()).split())
            assert sensor.supply_wire.source
            assert vehicle.profile.sources[sensor.supply_wire.source].title in text
            volts = [number(cell.text) for cell in section.iter("td") if cell.text.endswith("V")]
            assert len(volts) == 4
            assert all(10 < each < 14.7 and math.isfinite(each) for each in volts)
            assert text.index("Exhaust gas kills") < text.index("heater on"), "said before"
            shown += 1
    assert shown >= 3
