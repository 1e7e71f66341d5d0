"""The adapter drawing: L, E and the angle are drawn where the formula measures them."""

from __future__ import annotations

import re
from collections.abc import Callable
from gettext import NullTranslations
from math import atan2, degrees, dist
from typing import Any

import pytest

from generator.guide.adapter_drawing import (
    ANGLE_DEG,
    GRIP,
    HEIGHT,
    OFFSET,
    SQUARE,
    WIDTH,
    adapter_drawing,
    out,
)
from generator.guide.bay_sheet import LETTER
from generator.guide.vehicle import Vehicle, page_file
from generator.trade.torque import adapter_setting

Point = tuple[float, float]


@pytest.fixture(scope="module")
def drawing() -> Any:
    return adapter_drawing(NullTranslations())


SVG = "{http://www.w3.org/2000/svg}"


def lines(path: str) -> list[list[Point]]:
    """The lines of a path of straight lines."""
    return [
        [(float(x), float(y)) for x, y in (point.split() for point in line.split("L"))]
        for line in path.strip("Mz").split("M")
    ]


def test_l_is_as_long_as_from_the_grip_to_the_square_and_parallel_to_it(drawing: Any) -> None:
    (start, end), *beside = lines(drawing.lever)
    assert dist(start, end) == pytest.approx(dist(GRIP, SQUARE), abs=0.2)
    assert start[1] == end[1] > SQUARE[1]
    assert [line[0] for line in beside] == [GRIP, SQUARE], "measured between the centres"


def test_e_is_as_long_as_from_the_square_to_the_sensor_and_parallel_to_it(drawing: Any) -> None:
    (start, end), *beside = lines(drawing.offset)
    assert dist(start, end) == pytest.approx(OFFSET, abs=0.2)
    assert dist(SQUARE, drawing.fastener) == pytest.approx(OFFSET, abs=0.2)
    assert direction_deg(start, end) == pytest.approx(ANGLE_DEG, abs=0.5)
    assert [line[0] for line in beside] == [SQUARE, drawing.fastener]


def direction_deg(start: Point, end: Point) -> float:
    """The angle of a line, upward from the line of the wrench: SVG counts downward."""
    return degrees(atan2(start[1] - end[1], end[0] - start[0]))


def test_the_angle_is_between_the_wrench_drawn_on_and_the_adapter(drawing: Any) -> None:
    in_line, square_to_it = lines(drawing.axes)
    assert direction_deg(*in_line) == 0
    assert direction_deg(*square_to_it) == 90
    assert in_line[0] == square_to_it[0] == SQUARE
    assert in_line[1][0] > SQUARE[0] > GRIP[0], "away from the hand"
    numbers = [float(n) for n in re.findall(r"[\d.]+", drawing.arc)]
    from_, to = (numbers[0], numbers[1]), (numbers[-2], numbers[-1])
    assert direction_deg(SQUARE, from_) == 0
    assert direction_deg(SQUARE, to) == pytest.approx(ANGLE_DEG, abs=0.5)


def test_the_directions_drawn_are_those_of_the_formula() -> None:
    """The further the sensor is from the hand along the wrench, the lower the setting."""
    lever = dist(GRIP, SQUARE)
    for angle_deg in (0, ANGLE_DEG, 90):
        along = out(angle_deg, OFFSET)[0] - GRIP[0]
        setting = adapter_setting(45, lever, OFFSET, angle_deg)
        assert setting == pytest.approx(45 * lever / along, rel=0.01)


def test_the_arrow_tightens_clockwise_about_the_sensor(drawing: Any) -> None:
    numbers = [float(n) for n in re.findall(r"[\d.]+", drawing.turn)]
    start, end = (numbers[0], numbers[1]), (numbers[-2], numbers[-1])
    assert direction_deg(drawing.fastener, start) > direction_deg(drawing.fastener, end)
    ((tip, *foot),) = lines(drawing.arrow)
    middle = (sum(x for x, _ in foot) / 2, sum(y for _, y in foot) / 2)
    assert direction_deg(drawing.fastener, tip) < direction_deg(drawing.fastener, middle)


def test_the_texts_lie_on_the_paper(drawing: Any) -> None:
    assert {"L, lever", "E, offset", "angle", "90°", "0°, in line", "grip", "sensor"} == {
        text.text for text in drawing.texts
    }
    for text in drawing.texts:
        width = LETTER * len(text.text)
        left = text.x - {"start": 0, "middle": width / 2, "end": width}[text.anchor]
        assert left >= 0
        assert left + width <= WIDTH
        assert 10 < text.y < HEIGHT


def test_it_stands_with_the_table_of_settings_and_only_there(
    demo: dict[str, Vehicle], page_of: Callable[[Vehicle, str], Any]
) -> None:
    for vehicle in demo.values():
        sensor = vehicle.sensors[0]
        tree = page_of(vehicle, page_file(sensor, "refit"))
        svgs = [each for each in tree.iter(f"{SVG}svg") if each.get("id") == "adapter"]
        assert len(svgs) == (sensor.torque is not None)
        text = "".join(tree.itertext())
        if svgs:
            assert "L, lever: from the centre of the square to the centre of your grip." in text
            assert "E, offset: from the centre of the square to the centre of the sensor." in text
