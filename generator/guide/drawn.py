"""What all line drawings share: texts with an anchor, hexagons, paths as SVG wants them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

Point = tuple[float, float]

_HEXAGON = ((0, -10), (8.7, -5), (8.7, 5), (0, 10), (-8.7, 5), (-8.7, -5))


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text: the foot of its anchor, and SVG's word for how it is anchored."""

    x: float
    y: float
    anchor: str
    text: str


@dataclass(frozen=True, slots=True)
class Mark:
    """The middle of a cylinder or steering wheel, and what it is called."""

    x: float
    y: float
    name: str


@dataclass(frozen=True, slots=True)
class SensorMark:
    """A sensor: its middle, the corners of its hexagon, its name with its place, its class."""

    x: float
    y: float
    corners: str
    name: Text
    mark: str = ""


def rounded(point: Point) -> Point:
    """A place to a tenth, which is as fine as a drawing needs."""
    # A zero may come out of a mirror as -0
    return round(point[0], 1) + 0.0, round(point[1], 1) + 0.0


def numbers(*values: float) -> str:
    """Numbers to a tenth, with a space between."""
    return " ".join(f"{round(value, 1) + 0.0:g}" for value in values)


def path(lines: Sequence[Sequence[Point]]) -> str:
    """Lines, each from point to point, as one path."""
    return "".join("M" + "L".join(numbers(*point) for point in points) for points in lines)


def hexagon(middle: Point) -> str:
    """The corners of a sensor's sign."""
    return " ".join(numbers(middle[0] + dx, middle[1] + dy) for dx, dy in _HEXAGON)
