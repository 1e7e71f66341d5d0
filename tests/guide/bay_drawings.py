"""Engine bays to draw, and what their drawings are held to."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from generator.guide.bay_map import bay_map
from generator.guide.bay_sheet import LETTER
from generator.guide.drawn import Text
from generator.guide.vehicle import Vehicle
from generator.trade.place import (
    Direction,
    Standpoint,
    standpoints,
)

Small = Callable[..., Vehicle]

# A way on the page, (right, down), for each direction in which something can lie for a reader.
# Who lies underneath has the head at the top; for all others the far end is at the top.
WAYS = {
    Direction.RIGHT_HAND: (1, 0),
    Direction.LEFT_HAND: (-1, 0),
    Direction.AWAY_FROM_READER: (0, -1),
    Direction.TOWARD_READER: (0, 1),
    Direction.TOWARD_HEAD: (0, -1),
    Direction.TOWARD_FEET: (0, 1),
}


def engine(**about: Any) -> dict[str, Any]:
    return {f"engine.{key}": value for key, value in about.items()}


def sensors(*places: tuple[int, int, str]) -> list[dict[str, Any]]:
    return [
        {
            "bank": bank,
            "position": position,
            "kind": "switching",
            "wires": 4,
            "place": {"where": "in the pipe", "reach": reach},
        }
        for bank, position, reach in places
    ]


def drawings(vehicle: Vehicle) -> Iterator[tuple[Standpoint, Any]]:
    seen = bay_map(vehicle).bays.seen
    stands = standpoints(vehicle.profile.engine.bay)
    assert [each.key for each in seen] == [stand.value for stand in stands]
    for stand, each in zip(stands, seen, strict=True):
        yield stand, each.drawing


def text_box(text: Text) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a text, rather too wide than too narrow."""
    width = LETTER * len(text.text)
    left = text.x - {"start": 0, "middle": width / 2, "end": width}[text.anchor]
    return left, text.y - 10, left + width, text.y + 3


def overlap(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
