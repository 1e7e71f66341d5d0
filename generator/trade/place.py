"""Where a sensor is, in words a reader can use: bank, side, landmark, position.

The one door to the geometry (standpoint) and to the check of the banks (layout): import every
name about place from here.
"""

from enum import StrEnum

from generator.trade.layout import (
    Arrangement,
    Bank,
    Engine,
    FaultKind,
    LayoutFault,
    Mounting,
    allowed_sides,
    layout_faults,
)
from generator.trade.standpoint import (
    Bay,
    BayCorner,
    Direction,
    Side,
    Standpoint,
    seen_from,
    standpoints,
)

__all__ = [
    "Arrangement",
    "Bank",
    "Bay",
    "BayCorner",
    "CabinSide",
    "Direction",
    "Engine",
    "FaultKind",
    "Landmark",
    "LayoutFault",
    "Mounting",
    "PositionPlace",
    "Side",
    "Standpoint",
    "Wheel",
    "allowed_sides",
    "landmark",
    "layout_faults",
    "position_place",
    "seen_from",
    "standpoints",
    "wheel_side",
]


class Wheel(StrEnum):
    """The side the steering wheel is on."""

    LEFT = "left"
    RIGHT = "right"


class CabinSide(StrEnum):
    """The driver's or the passenger's side, which depends on the steering wheel."""

    DRIVERS = "drivers"
    PASSENGERS = "passengers"


class Landmark(StrEnum):
    """What one runs into on the way from the engine to a side of its bay."""

    RADIATOR = "radiator"
    BULKHEAD = "bulkhead"  # behind the seats when the engine is mid or rear
    REAR_BUMPER = "rear-bumper"


class PositionPlace(StrEnum):
    """Where along the exhaust a sensor position is."""

    BEFORE_CATALYST = "before-catalyst"
    AFTER_CATALYST = "after-catalyst"
    FURTHER_DOWN = "further-down"


def landmark(side: Side, bay: Bay) -> Landmark | None:
    """What lies on a side of the engine bay, or None to the left and right.

    Radiator ahead of a front engine: common practice, no source.
    """
    if side not in (Side.FRONT, Side.REAR):
        return None
    ahead, behind = (
        (Landmark.RADIATOR, Landmark.BULKHEAD)
        if bay is Bay.FRONT
        else (Landmark.BULKHEAD, Landmark.REAR_BUMPER)
    )
    return ahead if side is Side.FRONT else behind


def wheel_side(side: Side, wheel: Wheel) -> CabinSide | None:
    """Whose side a left or right side is, given the steering wheel; None for front and rear."""
    if side not in (Side.LEFT, Side.RIGHT):
        return None
    return CabinSide.DRIVERS if side.value == wheel.value else CabinSide.PASSENGERS


def position_place(position: int) -> PositionPlace:
    """Where along the exhaust a position is, counted with the gas from the engine.

    SAE J1979 counts up to four positions a bank (from memory). Raises ValueError for any other.
    """
    if not 1 <= position <= 4:
        raise ValueError(f"a position is 1 to 4, counted from the engine, not {position}")
    if position == 1:
        return PositionPlace.BEFORE_CATALYST
    if position == 2:
        return PositionPlace.AFTER_CATALYST
    return PositionPlace.FURTHER_DOWN
