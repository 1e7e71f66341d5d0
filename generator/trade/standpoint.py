"""Where things are: sides of the vehicle, and how they look from where the reader stands.

Axes are the vehicle's own (ISO 8855, from memory): x forward, y left, z up. Left and right are
therefore those of someone in the driver's seat looking forward, wherever the steering wheel is.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

Vector: TypeAlias = tuple[int, int, int]

_FORWARD: Vector = (1, 0, 0)
_REARWARD: Vector = (-1, 0, 0)
_LEFTWARD: Vector = (0, 1, 0)
_RIGHTWARD: Vector = (0, -1, 0)
_UPWARD: Vector = (0, 0, 1)


class Bay(StrEnum):
    """Where the engine is: ahead of the cabin, behind the seats, or behind the rear axle."""

    FRONT = "front"
    MID = "mid"
    REAR = "rear"


class Side(StrEnum):
    """A side of the vehicle, in the vehicle's own axes."""

    FRONT = "front"
    REAR = "rear"
    LEFT = "left"
    RIGHT = "right"

    @property
    def outward(self) -> Vector:
        """Unit vector pointing to this side."""
        return _OUTWARD[self]

    @property
    def opposite(self) -> "Side":
        """The side across the vehicle from this one."""
        return _OPPOSITE[self]


class BayCorner(StrEnum):
    """A corner of the engine bay, in the vehicle's own axes."""

    FRONT_LEFT = "front-left"
    FRONT_RIGHT = "front-right"
    REAR_LEFT = "rear-left"
    REAR_RIGHT = "rear-right"

    @property
    def sides(self) -> tuple[Side, Side]:
        """Front or rear, then left or right."""
        end, _, hand = self.value.partition("-")
        return Side(end), Side(hand)


_OUTWARD = {
    Side.FRONT: _FORWARD,
    Side.REAR: _REARWARD,
    Side.LEFT: _LEFTWARD,
    Side.RIGHT: _RIGHTWARD,
}
_OPPOSITE = {
    Side.FRONT: Side.REAR,
    Side.REAR: Side.FRONT,
    Side.LEFT: Side.RIGHT,
    Side.RIGHT: Side.LEFT,
}


class Standpoint(StrEnum):
    """Where the reader is, and so how the vehicle is turned before their eyes."""

    DRIVERS_SEAT = "drivers-seat"  # looking forward
    FRONT_BUMPER = "front-bumper"  # leaning in over it, looking rearward
    REAR_BUMPER = "rear-bumper"  # leaning in over it, looking forward
    UNDER_HEAD_REARWARD = "under-head-rearward"  # on the back, slid in from the front
    UNDER_HEAD_FORWARD = "under-head-forward"  # on the back, slid in from the rear

    @property
    def frame(self) -> "Frame":
        """The reader's own axes at this standpoint."""
        return _FRAMES[self]


@dataclass(frozen=True, slots=True)
class Frame:
    """A reader's axes in vehicle axes: where they look, and where the top of their head points."""

    facing: Vector
    head_up: Vector

    @property
    def right_hand(self) -> Vector:
        """Where the reader's right hand points: facing x up."""
        return _cross(self.facing, self.head_up)


_FRAMES = {
    Standpoint.DRIVERS_SEAT: Frame(_FORWARD, _UPWARD),
    Standpoint.FRONT_BUMPER: Frame(_REARWARD, _UPWARD),
    Standpoint.REAR_BUMPER: Frame(_FORWARD, _UPWARD),
    Standpoint.UNDER_HEAD_REARWARD: Frame(_UPWARD, _REARWARD),
    Standpoint.UNDER_HEAD_FORWARD: Frame(_UPWARD, _FORWARD),
}


class Direction(StrEnum):
    """Where a side of the vehicle lies for the reader."""

    LEFT_HAND = "left-hand"
    RIGHT_HAND = "right-hand"
    TOWARD_READER = "toward-reader"
    AWAY_FROM_READER = "away-from-reader"
    TOWARD_HEAD = "toward-head"
    TOWARD_FEET = "toward-feet"


def seen_from(side: Side, standpoint: Standpoint) -> Direction:
    """The direction in which a side of the vehicle lies for a reader at a standpoint.

    The side's vector is projected on the reader's right hand, line of sight and body; plain
    geometry, one formula for every standpoint.
    """
    frame = standpoint.frame
    choices = (
        (frame.right_hand, Direction.RIGHT_HAND, Direction.LEFT_HAND),
        (frame.facing, Direction.AWAY_FROM_READER, Direction.TOWARD_READER),
        (frame.head_up, Direction.TOWARD_HEAD, Direction.TOWARD_FEET),
    )
    for axis, along, against in choices:
        share = _dot(side.outward, axis)
        if share:
            return along if share > 0 else against
    raise AssertionError("a reader's three axes span the vehicle")


def standpoints(bay: Bay) -> tuple[Standpoint, ...]:
    """The standpoints from which an engine in this bay is worked on, driver's seat first.

    Common practice, no source.
    """
    if bay is Bay.FRONT:
        return (
            Standpoint.DRIVERS_SEAT,
            Standpoint.FRONT_BUMPER,
            Standpoint.UNDER_HEAD_REARWARD,
        )
    return (
        Standpoint.DRIVERS_SEAT,
        Standpoint.REAR_BUMPER,
        Standpoint.UNDER_HEAD_FORWARD,
    )


def _cross(a: Vector, b: Vector) -> Vector:
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )


def _dot(a: Vector, b: Vector) -> int:
    return sum(x * y for x, y in zip(a, b, strict=True))
