"""The sheet a bay map is drawn on: the body around the engine, its landmarks, who reads where.

All in the vehicle's own axes, as the plan of the bay itself.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.trade.bay_layout import BayLayout
from generator.trade.bay_spots import PIECE_HALF_WIDTH, Point, sign
from generator.trade.place import Bay, BayCorner, Landmark, Side, Wheel, landmark

LETTER = 7.4
"""Width that one letter of the drawing's text takes at most on the average; it is 13 high."""
LINE = 15
_MARGIN, _BAR, _CURVE, _CABIN, _LEAST_HALF_WIDTH = 10, 24, 16, 44, 146
_BOX = 22


@dataclass(frozen=True, slots=True)
class Bar:
    """A landmark as a bar across the vehicle: its middle, and half its length and width."""

    landmark: Landmark
    x: float
    half_length: float
    half_width: float


@dataclass(frozen=True, slots=True)
class FuseBox:
    """A fuse box in its corner: its name, its middle, half its width across the vehicle."""

    name: str
    at: Point
    half_width: float
    half_length: float = _BOX / 2


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
    boxes: tuple[FuseBox, ...] = ()

    def end(self, side: Side) -> float:
        """x of the drawing's end to the front or rear, where notes may follow."""
        return self.nose_x if side is self.outer else self.open_x

    def wheel(self, wheel: Wheel) -> Point:
        """Where a steering wheel is."""
        return self.cabin_x, 0.78 * self.half_width * sign(Side(wheel.value))

    def cabin_words(self, wheels: Iterable[Wheel]) -> Point:
        """The middle of what is said of the cabin: beside the only wheel, between two."""
        toward = sum(sign(Side(wheel.value)) for wheel in wheels)
        return self.cabin_x, 0.3 * self.half_width * toward


def letters_width(text: str) -> float:
    """About how wide a text is drawn, and rather more than less."""
    return len(text) * LETTER


def sheet_of(
    layout: BayLayout, bay: Bay, labels: dict[Point, str], boxes: dict[BayCorner, str]
) -> Sheet:
    """The sheet that holds a plan and its labels, the widest line of each by where it begins.

    `boxes` are the names of fuse boxes. They lie in a strip of their own at their end of the plan,
    which is there only if one of them is, so that nothing crosses them.
    """
    outer = Side.FRONT if bay is Bay.FRONT else Side.REAR
    lowest, highest, aside = _extent(layout, labels)
    widest = max((_box_half_width(name) for name in boxes.values()), default=0)
    half_width = max(_LEAST_HALF_WIDTH, aside + _MARGIN, 2 * (widest + _MARGIN))
    placed = tuple(
        _fuse_box(corner, name, (lowest, highest), half_width) for corner, name in boxes.items()
    )
    lowest = min([lowest, *(box.at[0] - box.half_length for box in placed)])
    highest = max([highest, *(box.at[0] + box.half_length for box in placed)])
    near, far = (highest, lowest) if outer is Side.FRONT else (lowest, highest)
    way = sign(outer)
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
        boxes=placed,
    )


def _box_half_width(name: str) -> float:
    return (letters_width(name) + _MARGIN) / 2


def _fuse_box(
    corner: BayCorner, name: str, plan_ends: tuple[float, float], half_width: float
) -> FuseBox:
    """A box just outside the rear or front end of a plan, against the side of the body."""
    end, hand = corner.sides
    lowest, highest = plan_ends
    x = (highest if end is Side.FRONT else lowest) + sign(end) * (_MARGIN + _BOX / 2)
    half = _box_half_width(name)
    return FuseBox(name, (x, sign(hand) * (half_width - _MARGIN - half)), half)


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
