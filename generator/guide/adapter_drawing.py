"""The geometry of a torque wrench with an offset adapter: what L, E and the angle are."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from gettext import NullTranslations
from math import cos, radians, sin

from generator.guide.drawn import Point, Text, hexagon, numbers, path, rounded

WIDTH, HEIGHT = 306, 190
ANGLE_DEG = 42
GRIP: Point = (38, 116)
SQUARE: Point = (160, 116)
OFFSET = 78
_GRIP_HALF, _SHAFT_HALF, _HEAD = (34, 10), 5, 17
_SQUARE_HALF = 6
_ADAPTER_HALF, RING = 8, 15
_AXIS, _ARC = 104, 44
_TURN, _TURN_FROM_DEG, _TURN_TO_DEG = 25, 130, 10
_BELOW, _ASIDE, _CLEAR = 44, 34, 6


@dataclass(frozen=True, slots=True)
class AdapterDrawing:
    """The drawing, ready for its template; `fastener` is the middle of the sensor's hexagon.

    `lever` and `offset` are the two lengths as lines with an end mark each, `axes` the directions
    of 0 and 90 degrees, `arc` the angle between the first of them and the adapter.
    """

    title: str
    description: str
    width: int
    height: int
    fastener: Point
    corners: str
    square: tuple[float, float, float]
    head: tuple[float, float, float]
    grip: tuple[float, float, float, float]
    shaft: str
    adapter: str
    lever: str
    offset: str
    axes: str
    arc: str
    turn: str
    arrow: str
    ring: int
    texts: tuple[Text, ...]


def out(angle_deg: float, length: float, origin: Point = SQUARE) -> Point:
    """A place at a distance from another; the angle counts upward from the line of the wrench."""
    angle = radians(angle_deg)
    return rounded((origin[0] + length * cos(angle), origin[1] - length * sin(angle)))


@lru_cache(maxsize=8)
def adapter_drawing(t: NullTranslations) -> AdapterDrawing:
    """The drawing, the same for every vehicle."""
    _ = t.gettext
    fastener = out(ANGLE_DEG, OFFSET)
    return AdapterDrawing(
        title=_("Torque wrench with an offset adapter"),
        description=_(
            "L runs along the wrench, from the centre of its square drive to the centre of the "
            "grip. E runs along the adapter, from the centre of the square drive to the centre of "
            "the sensor. The angle is between the adapter and the line of the wrench drawn on "
            "beyond the square: 0 degrees is in line, 90 degrees is square to it."
        ),
        width=WIDTH,
        height=HEIGHT,
        fastener=fastener,
        corners=hexagon(fastener),
        square=(SQUARE[0] - _SQUARE_HALF, SQUARE[1] - _SQUARE_HALF, 2 * _SQUARE_HALF),
        head=(*SQUARE, _HEAD),
        grip=(
            GRIP[0] - _GRIP_HALF[0],
            GRIP[1] - _GRIP_HALF[1],
            2 * _GRIP_HALF[0],
            2 * _GRIP_HALF[1],
        ),
        shaft=_shaft(),
        adapter=_adapter(fastener),
        lever=_measure(GRIP, SQUARE, (0, _BELOW)),
        offset=_measure(SQUARE, fastener, out(ANGLE_DEG + 90, _ASIDE, (0, 0))),
        axes=path([[SQUARE, out(0, _AXIS)], [SQUARE, out(90, _AXIS - 8)]]),
        arc=f"M{numbers(*out(0, _ARC))}A{_ARC} {_ARC} 0 0 0 {numbers(*out(ANGLE_DEG, _ARC))}",
        turn=_turn(fastener),
        arrow=_turn_tip(fastener),
        ring=RING,
        texts=_texts(fastener, t),
    )


def _shaft() -> str:
    left, right = GRIP[0] + _GRIP_HALF[0], SQUARE[0] - _HEAD
    low, high = SQUARE[1] - _SHAFT_HALF, SQUARE[1] + _SHAFT_HALF
    return path([[(left, low), (right, low)], [(left, high), (right, high)]])


def _adapter(fastener: Point) -> str:
    """The arm of the adapter, from the head of the wrench to the ring around the sensor."""
    sides = [
        [out(ANGLE_DEG + aside, _ADAPTER_HALF, end) for end in (SQUARE, fastener)]
        for aside in (90, -90)
    ]
    return f"{path([[*sides[0], *reversed(sides[1])]])}z"


def _measure(start: Point, end: Point, shift: Point) -> str:
    """A length drawn beside what it measures, with a line out to it from each end."""
    drawn = [(x + shift[0], y + shift[1]) for x, y in (start, end)]
    over = [(x + 1.15 * shift[0], y + 1.15 * shift[1]) for x, y in (start, end)]
    return path([drawn, [start, over[0]], [end, over[1]]])


def _turn(fastener: Point) -> str:
    """The way to tighten, about the sensor: clockwise, as right-hand threads are."""
    start, end = (out(angle, _TURN, fastener) for angle in (_TURN_FROM_DEG, _TURN_TO_DEG))
    return f"M{numbers(*start)}A{_TURN} {_TURN} 0 0 1 {numbers(*end)}"


def _turn_tip(fastener: Point) -> str:
    ahead = _TURN_TO_DEG - 22
    inner, outer = (out(_TURN_TO_DEG, _TURN + aside, fastener) for aside in (-6, 6))
    return f"{path([[out(ahead, _TURN, fastener), inner, outer]])}z"


def _texts(fastener: Point, t: NullTranslations) -> tuple[Text, ...]:
    _ = t.gettext
    lever_y = GRIP[1] + _BELOW
    beside = out(ANGLE_DEG + 90, _ASIDE + _CLEAR, out(ANGLE_DEG, OFFSET / 4))
    angle = out(ANGLE_DEG / 2, _ARC + _CLEAR)
    return (
        Text((GRIP[0] + SQUARE[0]) / 2, lever_y + 18, "middle", _("L, lever")),
        Text(*beside, "end", _("E, offset")),
        Text(angle[0], angle[1] + 4, "start", _("angle")),
        Text(SQUARE[0] + _AXIS, SQUARE[1] + 18, "end", _("0°, in line")),
        Text(SQUARE[0] - _CLEAR, SQUARE[1] - _AXIS + 18, "end", _("90°")),
        Text(GRIP[0], GRIP[1] - 18, "middle", _("grip")),
        Text(fastener[0] + _TURN + 12, fastener[1] - 6, "start", _("sensor")),
    )
