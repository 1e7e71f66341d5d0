"""First current and power of a heater at switch-on, and what the fuse sees.

Ohm's law. The current is highest at switch-on and falls over about a minute as the element heats:
hot resistance is about 3 to 4 times cold (common practice, no source).
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from generator.trade.heater import ResistanceRange

# From a rested battery to a charging alternator: common practice, no source.
SUPPLY_LOW_V = 12.0
SUPPLY_HIGH_V = 14.7

# Hot over cold resistance: common practice, no source.
HOT_OVER_COLD_LOW = 3.0
HOT_OVER_COLD_HIGH = 4.0


@dataclass(frozen=True, slots=True)
class CurrentRange:
    """A range of current in ampere."""

    low_a: float
    high_a: float


@dataclass(frozen=True, slots=True)
class PowerRange:
    """A range of power in watt."""

    low_w: float
    high_w: float


class FuseStatus(StrEnum):
    """How the worst first current of all heaters on a fuse stands to its rating."""

    WITHIN = "within"
    # For seconds only, so it need not blow the fuse (common practice, no source); and a larger fuse
    # is never the mend.
    ABOVE_AT_SWITCH_ON = "above-at-switch-on"
    # More than the rating even hot: the rating, a resistance or the list of heaters is wrong.
    ABOVE_WHEN_HOT = "above-when-hot"


@dataclass(frozen=True, slots=True)
class FuseLoad:
    """The summed first and hot currents of the heaters on one fuse, against its rating."""

    first: CurrentRange
    hot: CurrentRange
    rating_a: float
    status: FuseStatus


def cold_current_a(
    cold: ResistanceRange, supply_low_v: float = SUPPLY_LOW_V, supply_high_v: float = SUPPLY_HIGH_V
) -> CurrentRange:
    """First current: lowest supply over highest resistance, to highest over lowest.

    `cold` is the range at the temperature of the air; the colder, the higher the current. Raises
    ValueError for a resistance or a supply that is not positive.
    """
    _check_positive(cold, supply_low_v, supply_high_v)
    return CurrentRange(supply_low_v / cold.high_ohm, supply_high_v / cold.low_ohm)


def hot_current_a(first: CurrentRange) -> CurrentRange:
    """Current once hot: the first current over 4, to the first current over 3."""
    return CurrentRange(first.low_a / HOT_OVER_COLD_HIGH, first.high_a / HOT_OVER_COLD_LOW)


def power(
    cold: ResistanceRange, supply_low_v: float = SUPPLY_LOW_V, supply_high_v: float = SUPPLY_HIGH_V
) -> PowerRange:
    """Power at switch-on, V^2 / R. Raises ValueError as `cold_current_a` does."""
    _check_positive(cold, supply_low_v, supply_high_v)
    return PowerRange(supply_low_v**2 / cold.high_ohm, supply_high_v**2 / cold.low_ohm)


def fuse_load(
    heaters: Iterable[ResistanceRange],
    rating_a: float,
    supply_low_v: float = SUPPLY_LOW_V,
    supply_high_v: float = SUPPLY_HIGH_V,
) -> FuseLoad:
    """What the heaters on a fuse draw together at switch-on and hot, against its rating.

    `heaters` are cold resistances; the worst case is the highest supply over the lowest
    resistance. Whatever else the fuse feeds comes on top. Raises ValueError for a rating that is
    not positive, and as `cold_current_a` does.
    """
    if not 0 < rating_a < math.inf:
        raise ValueError(f"not a fuse rating: {rating_a} A")
    currents = [cold_current_a(heater, supply_low_v, supply_high_v) for heater in heaters]
    first = CurrentRange(sum(c.low_a for c in currents), sum(c.high_a for c in currents))
    hot = hot_current_a(first)
    return FuseLoad(first, hot, rating_a, _status(first, hot, rating_a))


def _status(first: CurrentRange, hot: CurrentRange, rating_a: float) -> FuseStatus:
    # The lowest hot current: the others rest on a rule of thumb and may well be too high.
    if hot.low_a > rating_a:
        return FuseStatus.ABOVE_WHEN_HOT
    return FuseStatus.ABOVE_AT_SWITCH_ON if first.high_a > rating_a else FuseStatus.WITHIN


def _check_positive(cold: ResistanceRange, supply_low_v: float, supply_high_v: float) -> None:
    if cold.low_ohm <= 0:
        raise ValueError("a heater of 0 ohm has no first current: it is a short circuit")
    if not 0 < supply_low_v <= supply_high_v < math.inf:
        raise ValueError(f"not a supply: {supply_low_v} to {supply_high_v} V")
