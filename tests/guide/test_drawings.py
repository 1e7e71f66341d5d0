"""The geometry of the drawings: the connector's face and the heater's band."""

from __future__ import annotations

from collections.abc import Callable
from gettext import NullTranslations
from itertools import pairwise, product
from typing import Any

import pytest

from generator.guide.connector_drawing import CELL, ConnectorDrawing, connector_drawing
from generator.guide.heater_chart import HeaterChart, heater_chart
from generator.guide.test_page import test as heater_test
from generator.guide.vehicle import Vehicle
from generator.profile.model import Connector
from generator.trade.connector import Along, Corner, Latch, Side
from generator.trade.heater import ResistanceRange, expected_range

Small = Callable[..., Vehicle]
JOBS = ["heater-supply", "heater-control", "signal", "signal-ground", "pump", "reference"]


def connector(rows: int, columns: int, **about: Any) -> Connector:
    jobs = JOBS[: rows * columns]
    pins = {number: {"job": job} for number, job in enumerate(jobs, start=1)}
    return Connector.model_validate({"rows": rows, "columns": columns, "pins": pins, **about})


def drawn(of: Connector, side: Side) -> ConnectorDrawing:
    return connector_drawing(of, side, (1, 2), title="A title", description="A description")


FACES = list(product(Latch, Corner, Along, [(2, 2), (1, 4), (2, 3)]))


@pytest.mark.parametrize(("latch", "first", "along", "size"), FACES)
def test_the_harness_face_is_the_mirror_image(
    latch: Latch, first: Corner, along: Along, size: tuple[int, int]
) -> None:
    of = connector(*size, latch=latch, first=first, along=along)
    sensor, harness = drawn(of, Side.SENSOR), drawn(of, Side.HARNESS)
    assert (sensor.width, sensor.height) == (harness.width, harness.height)
    seen = {each.number: each for each in harness.cavities}
    assert len(seen) == len(sensor.cavities) == len(of.pins)
    for cavity in sensor.cavities:
        assert seen[cavity.number].x == sensor.width - cavity.x - CELL
        assert seen[cavity.number].y == cavity.y
        assert seen[cavity.number].is_touched is cavity.is_touched
    x, y, width, height = sensor.latch
    assert harness.latch == (sensor.width - x - width, y, width, height)
    assert sensor.id != harness.id, "both may stand on one page"


@pytest.mark.parametrize(("latch", "first", "along", "size"), FACES)
def test_terminals_lie_in_the_housing_and_the_latch_on_its_edge(
    latch: Latch, first: Corner, along: Along, size: tuple[int, int]
) -> None:
    drawing = drawn(connector(*size, latch=latch, first=first, along=along), Side.SENSOR)
    left, top, width, height = drawing.housing
    assert left + width <= drawing.width
    assert top + height <= drawing.height
    for cavity in drawing.cavities:
        assert left < cavity.x
        assert cavity.x + CELL < left + width
        assert top < cavity.y
        assert cavity.y + CELL < top + height
        assert (cavity.centre_x, cavity.centre_y) == (cavity.x + CELL // 2, cavity.y + CELL // 2)
    places = {(each.x, each.y) for each in drawing.cavities}
    assert len(places) == len(drawing.cavities)
    assert all(
        abs(x - other_x) >= CELL or abs(y - other_y) >= CELL
        for (x, y), (other_x, other_y) in product(places, places)
        if (x, y) != (other_x, other_y)
    ), "no terminal lies on another"
    x, y, across, down = drawing.latch
    touching = {
        Latch.TOP: y + down == top,
        Latch.BOTTOM: y == top + height,
        Latch.LEFT: x + across == left,
        Latch.RIGHT: x == left + width,
    }
    assert [edge for edge, touches in touching.items() if touches] == [latch]


def test_terminal_1_is_in_its_corner_and_2_beside_or_below_it() -> None:
    for first, along in product(Corner, Along):
        drawing = drawn(connector(2, 3, latch="top", first=first, along=along), Side.SENSOR)
        one, two = sorted(drawing.cavities, key=lambda each: each.number)[:2]
        xs, ys = {each.x for each in drawing.cavities}, {each.y for each in drawing.cavities}
        assert one.x == (min(xs) if first.value.endswith("left") else max(xs))
        assert one.y == (min(ys) if first.value.startswith("top") else max(ys))
        assert (one.y == two.y) is (along is Along.ROWS)
        assert (one.x == two.x) is (along is Along.COLUMNS)


def test_an_empty_cavity_is_not_drawn(demo: dict[str, Vehicle]) -> None:
    moor = demo["kestrin-moor-2-0-flat"].profile.connectors["upstream-plug"]
    assert moor.rows * moor.columns == 6
    assert sorted(each.number for each in drawn(moor, Side.SENSOR).cavities) == [1, 2, 3, 4, 5]


def points(text: str) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in (pair.split(",") for pair in text.split())]


def chart_of(low_ohm: float, high_ohm: float) -> HeaterChart:
    cold = ResistanceRange(low_ohm, high_ohm)
    band = [(float(t_c), expected_range(cold, 20.0, float(t_c))) for t_c in range(-20, 51, 5)]
    return heater_chart(band, 20, NullTranslations(), title="A title", description="A")


RANGES = [(2.1, 2.9), (2.0, 4.0), (5.0, 6.4), (7.8, 9.6), (0.2, 0.3), (14, 22), (90, 110), (3, 3),
          (900, 1100), (0.001, 0.002), (400_000, 500_000)]  # fmt: skip


@pytest.mark.parametrize(("low_ohm", "high_ohm"), RANGES)
def test_the_band_rises_and_its_low_edge_lies_below_its_high_one(
    low_ohm: float, high_ohm: float
) -> None:
    chart = chart_of(low_ohm, high_ohm)
    low, high = points(chart.low_points), points(chart.high_points)
    assert [x for x, _ in low] == [x for x, _ in high]
    assert all(x < next_x for (x, _), (next_x, _) in pairwise(low))
    # SVG counts downward: rising with temperature is a falling y, and below is a greater y
    for edge in (low, high):
        ys = [y for _, y in edge]
        assert ys == sorted(ys, reverse=True)
    assert all(low_y >= high_y for (_, low_y), (_, high_y) in zip(low, high, strict=True))
    assert points(chart.band_points) == low + high[::-1]


@pytest.mark.parametrize(("low_ohm", "high_ohm"), RANGES)
def test_the_band_fills_its_frame_and_the_ticks_fit_the_scale(
    low_ohm: float, high_ohm: float
) -> None:
    chart = chart_of(low_ohm, high_ohm)
    for x, y in points(chart.band_points):
        assert 0 <= x <= chart.width
        assert 0 <= y <= chart.height
    assert 2 <= len(chart.y_ticks) <= 7, "few enough to read"
    labels = [float(label.removesuffix(" Ω")) for *_, label in chart.y_ticks]
    ys = [y for _, _, y, _, _ in chart.y_ticks]
    assert labels[0] == 0
    assert labels == sorted(set(labels))
    assert labels[-1] >= high_ohm
    highest = min(y for _, y in points(chart.high_points))
    assert (ys[0] - highest) / (ys[0] - ys[-1]) > 0.5, "the band uses most of the height"
    # One scale: the drawn height of the band's ends is that of their value between the ticks
    hottest = expected_range(ResistanceRange(low_ohm, high_ohm), 20.0, 50.0).high_ohm
    drawn_ohm = (ys[0] - highest) / (ys[0] - ys[-1]) * labels[-1]
    assert drawn_ohm == pytest.approx(hottest, abs=labels[-1] * 0.002)


def test_the_marker_stands_at_its_temperature(small: Small) -> None:
    vehicle = small()
    heater = heater_test(vehicle, vehicle.sensors[0]).heater
    assert heater is not None
    x, y1, y2, label, _ = heater.chart.marker
    ticks = {text.removesuffix(" °C"): at for at, _, text in heater.chart.x_ticks}
    assert label.startswith(str(heater.shown_c))
    assert x == ticks[str(heater.shown_c)]
    assert 0 <= y1 < y2 <= heater.chart.height
    assert list(ticks) == ["−20", "0", "20", "40"]
    assert list(ticks.values()) == sorted(ticks.values())
