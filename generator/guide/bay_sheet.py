"""The sheet a bay map is drawn on: the body around the engine, its landmarks, who reads where.

All in the vehicle's own axes, as the plan of the bay itself.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.trade.bay_layout import BayLayout
from generator.trade.bay_spots import PIECE_HALF_WIDTH, Point, sign
from generator.trade.place import Bay, Landmark, Side, Wheel, landmark

LETTER = 7.4
"""Width that one letter of the drawing's text takes at most on the average; it is 13 high."""
LINE = 15
_MARGIN, _BAR, _CURVE, _CABIN, _LEAST_HALF_WIDTH = 10, 24, 16, 44, 146


@dataclass(frozen=True, slots=True)
class Bar:
    """A landmark as a bar across the vehicle: its middle, and half its length and width."""

    landmark: Landmark
    x: float
    half_length: float
    half_width: float


@dataclass(frozen=True, slots=True)
class Sheet:
    """The body around a plan: `outer` is its bumper end, the cabin is at the other.

    `outer_x` is where the sides of the body end, `nose_x` the tip of the curve between them,
    `cabin_x` the middle of the strip with the steering wheel, `open_x` where the drawing ends.
    """

    outer: Side
    half_width: float
    outer_x: float
    nose_x: float
    cabin_x: float
    open_x: float
    bars: tuple[Bar, ...]

    def end(self, side: Side) -> float:
        """x of the drawing's end to the front or rear, where notes may follow."""
        return self.nose_x if side is self.outer else self.open_x

    def wheel(self, wheel: Wheel) -> Point:
        """Where a steering wheel is."""
        return self.cabin_x, 0.78 * self.half_width * sign(Side(wheel.value))


def letters_width(text: str) -> float:
    """About how wide a text is drawn, and rather more than less."""
    return len(text) * LETTER


def sheet_of(layout: BayLayout, bay: Bay, labels: dict[Point, str]) -> Sheet:
    """The sheet that holds a plan and its labels, the widest line of each by where it begins."""
    outer = Side.FRONT if bay is Bay.FRONT else Side.REAR
    lowest, highest, aside = _extent(layout, labels)
    near, far = (highest, lowest) if outer is Side.FRONT else (lowest, highest)
    way = sign(outer)
    half_width = max(_LEAST_HALF_WIDTH, aside + _MARGIN)
    outer_bar = near + way * (_MARGIN + _BAR / 2)
    bulkhead = far - way * (_MARGIN + _BAR / 2)
    open_x = bulkhead - way * (_BAR / 2 + _CABIN)
    return Sheet(
        outer,
        half_width,
        outer_x=outer_bar,
        nose_x=outer_bar + way * (_BAR / 2 + _CURVE),
        cabin_x=bulkhead - way * (_BAR + _CABIN) / 2,
        open_x=open_x,
        bars=(
            Bar(_landmark(outer, bay), outer_bar, _BAR / 2, 0.66 * half_width),
            Bar(_landmark(outer.opposite, bay), bulkhead, _BAR / 2, half_width),
        ),
    )


def _landmark(side: Side, bay: Bay) -> Landmark:
    mark = landmark(side, bay)
    assert mark is not None, "there is one on each end of every bay"
    return mark


def _extent(layout: BayLayout, labels: dict[Point, str]) -> tuple[float, float, float]:
    """Lowest x, highest x and greatest distance from the middle of all that is drawn."""
    xs, ys = [-layout.half_length, layout.half_length], [layout.half_width]
    for pipe in layout.pipes:
        xs += [x for x, _ in pipe.points]
        ys += [abs(y) + PIECE_HALF_WIDTH for _, y in pipe.points]
    outward = {spot.label_at: spot.outward for spot in layout.pieces}
    outward |= {spot.label_at: spot.outward for spot in layout.banks}
    for (x, y), side in outward.items():
        width = letters_width(labels[x, y])
        if side in (Side.LEFT, Side.RIGHT):
            xs += [x - LINE, x + LINE]
            ys.append(abs(y) + width)
        else:
            xs.append(x + 2 * LINE * sign(side))
            ys.append(abs(y) + width / 2)
    return min(xs), max(xs), max(ys)
