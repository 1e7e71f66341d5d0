"""Torques: exact unit factors, wrench steps, offset adapters, and the wrenches a job needs.

A converted range is rounded INTO the specified range, to steps a wrench can be set to, so it
never leaves it.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from enum import StrEnum
from fractions import Fraction
from functools import cache, lru_cache
from itertools import combinations

# Exact by definition: foot and inch in metre, pound in kilogram (international yard and pound,
# NIST SP 811 appendix B), standard acceleration in metre per second squared.
FOOT_M = Fraction("0.3048")
INCH_M = FOOT_M / 12
POUND_KG = Fraction("0.45359237")
STANDARD_GRAVITY = Fraction("9.80665")
POUND_FORCE_N = POUND_KG * STANDARD_GRAVITY

# A value that was converted once already carries the error of a float, some 1e-16 of itself. It is
# cut off at twelve figures, or 30 lbf·ft would come back from N·m as 31, rounded into the range.
_FIGURES = 12
_SIGNIFICANT_FIGURES = 3


class TorqueUnit(StrEnum):
    """A unit a torque wrench may be marked in; the value is its symbol."""

    NEWTON_METRE = "N·m"
    POUND_FORCE_FOOT = "lbf·ft"
    POUND_FORCE_INCH = "lbf·in"
    KILOGRAM_FORCE_METRE = "kgf·m"

    @property
    def newton_metres(self) -> Fraction:
        """This unit in N·m, exactly."""
        return _NEWTON_METRES[self]


_NEWTON_METRES = {
    TorqueUnit.NEWTON_METRE: Fraction(1),
    TorqueUnit.POUND_FORCE_FOOT: POUND_FORCE_N * FOOT_M,
    TorqueUnit.POUND_FORCE_INCH: POUND_FORCE_N * INCH_M,
    TorqueUnit.KILOGRAM_FORCE_METRE: STANDARD_GRAVITY,
}

# All four end within 28 figures, so nothing is lost
_DECIMAL_NEWTON_METRES = {
    unit: Decimal(factor.numerator) / Decimal(factor.denominator)
    for unit, factor in _NEWTON_METRES.items()
}

# Steps of wrench scales, coarse to fine: common practice, no source.
WRENCH_STEPS = {
    TorqueUnit.NEWTON_METRE: tuple(map(Decimal, ("1", "0.5", "0.1", "0.05", "0.01"))),
    TorqueUnit.POUND_FORCE_FOOT: tuple(map(Decimal, ("1", "0.5", "0.1", "0.05", "0.01"))),
    TorqueUnit.POUND_FORCE_INCH: tuple(map(Decimal, ("5", "1", "0.5", "0.1"))),
    TorqueUnit.KILOGRAM_FORCE_METRE: tuple(map(Decimal, ("0.1", "0.05", "0.01", "0.005", "0.001"))),
}


# A click wrench is trusted from 20 % to 100 % of its scale: US Army TM 1-1500-204-23-9 table 8-1
# states no accuracy below 20 %; ISO 6789 tests from 20 % (from memory).
LOWEST_SHARE_OF_SCALE = 0.2

# Full scales on sale nearly everywhere: common practice, no source.
COMMON_SCALES_NM = (5.0, 10.0, 25.0, 60.0, 110.0, 210.0, 340.0)


@dataclass(frozen=True, slots=True)
class TorqueRange:
    """A range of torque in N·m, or one torque when both ends are equal.

    Raises ValueError unless 0 < low <= high.
    """

    low_nm: float
    high_nm: float

    def __post_init__(self) -> None:
        if not 0 < self.low_nm <= self.high_nm < math.inf:
            raise ValueError(f"not a torque range: {self.low_nm} to {self.high_nm} N·m")


@dataclass(frozen=True, slots=True)
class ShownTorque:
    """A torque as shown in a unit: multiples of `step`, printed with the step's own decimals.

    `exact` says that nothing was rounded: the figures are the specified torque, converted.
    """

    low: Decimal
    high: Decimal
    step: Decimal
    unit: TorqueUnit
    exact: bool


@dataclass(frozen=True, slots=True)
class WrenchRange:
    """A torque wrench by its full scale in N·m."""

    scale_nm: float

    @property
    def low_nm(self) -> float:
        """The lowest torque it is trusted at: 20 % of full scale."""
        return self.scale_nm * LOWEST_SHARE_OF_SCALE

    @property
    def high_nm(self) -> float:
        """The highest torque it is trusted at: full scale."""
        return self.scale_nm

    def covers(self, torque_nm: float) -> bool:
        """Whether it is trusted at a torque."""
        return self.low_nm <= torque_nm <= self.high_nm


COMMON_WRENCHES = tuple(map(WrenchRange, COMMON_SCALES_NM))
_WRENCH_SETS = sorted(
    (
        chosen
        for count in range(len(COMMON_WRENCHES) + 1)
        for chosen in combinations(COMMON_WRENCHES, count)
    ),
    key=lambda chosen: (len(chosen), sum(wrench.scale_nm for wrench in chosen)),
)


@lru_cache(maxsize=4096)
def converted(torque: TorqueRange, unit: TorqueUnit) -> ShownTorque:
    """A torque in a unit, in steps a wrench can be set to.

    A range is rounded into itself, at the coarsest step of which two multiples lie inside, and
    at ever finer steps when the scale's own are too coarse. It never leaves the specified range
    by more than the twelfth figure.

    A single torque states no tolerance, so it is rounded to nearest with three significant
    figures, unless it falls on a step of the scale anyway (`exact`).
    """
    low, high = _in_unit(torque.low_nm, unit), _in_unit(torque.high_nm, unit)
    if low == high:
        return _nearest(low, unit)
    for step in WRENCH_STEPS[unit]:
        inside = _inside(low, high, step, unit)
        if inside.low < inside.high:
            return inside
    step = WRENCH_STEPS[unit][-1]
    while inside.low >= inside.high:
        step /= 10
        inside = _inside(low, high, step, unit)
    return inside


@lru_cache(maxsize=64)
def scale_in(wrench: WrenchRange, unit: TorqueUnit) -> tuple[int, int]:
    """The trusted part of a wrench's scale in a unit, rounded OUT of it to whole units.

    A tool must reach a torque: rounded inward, one of 45 lbf·in would be called too small for
    44.3 (`converted`, of a single torque). Never for a torque to set.
    """
    low, high = _in_unit(wrench.low_nm, unit), _in_unit(wrench.high_nm, unit)
    return math.floor(low), math.ceil(high)


def adapter_setting(
    torque_nm: float, wrench_length_mm: float, adapter_length_mm: float, angle_deg: float = 0.0
) -> float:
    """The setting in N·m of a torque wrench that gives a torque through an offset adapter.

    T L / (L + E cos a): L from the centre of the square drive to the centre of the grip, E from
    the square to the fastener, a the angle of the adapter to the wrench. 0 degrees lengthens the
    wrench, 90 changes nothing, 180 points back to the hand. Public worked examples: US Army
    TM 1-1500-204-23-9 chapter 8 (in line), TM 9-254 figure 4-6 (angled), US Navy NAVEDTRA 14008
    (right angle). Lengths in any one unit, and the setting in that of the torque.

    Raises ValueError for a torque, a wrench or a lever that is not positive.
    """
    lever_mm = wrench_length_mm + adapter_length_mm * math.cos(math.radians(angle_deg))
    for name, number in (
        ("torque", torque_nm),
        ("wrench length", wrench_length_mm),
        ("lever with the adapter", lever_mm),
    ):
        if not 0 < number < math.inf:
            raise ValueError(f"the {name} must be positive, not {number:g}")
    return torque_nm * wrench_length_mm / lever_mm


def adapter_range(
    torque: TorqueRange, wrench_length_mm: float, adapter_length_mm: float, angle_deg: float = 0.0
) -> TorqueRange:
    """The settings through an offset adapter for both ends of a range, as `adapter_setting`."""
    return TorqueRange(
        adapter_setting(torque.low_nm, wrench_length_mm, adapter_length_mm, angle_deg),
        adapter_setting(torque.high_nm, wrench_length_mm, adapter_length_mm, angle_deg),
    )


def wrenches_covering(torques_nm: Iterable[float]) -> tuple[WrenchRange, ...]:
    """The fewest common wrenches that cover every torque of a job, and of those the smallest.

    In order of scale. Torques that no common wrench covers are left out: see `not_covered`.
    """
    return _fewest(frozenset(map(_covering, torques_nm)) - {frozenset()})


@lru_cache(maxsize=4096)
def _covering(torque_nm: float) -> frozenset[WrenchRange]:
    return frozenset(wrench for wrench in COMMON_WRENCHES if wrench.covers(torque_nm))


@cache
def _fewest(choices: frozenset[frozenset[WrenchRange]]) -> tuple[WrenchRange, ...]:
    """The fewest wrenches with one of each choice among them, and of those the smallest."""
    return next(
        chosen for chosen in _WRENCH_SETS if all(each.intersection(chosen) for each in choices)
    )


def not_covered(torques_nm: Iterable[float]) -> tuple[float, ...]:
    """The torques no common wrench covers, in rising order."""
    return tuple(sorted(each for each in set(torques_nm) if not _covering(each)))


def _in_unit(torque_nm: float, unit: TorqueUnit) -> Decimal:
    quotient = Decimal(repr(torque_nm)) / _DECIMAL_NEWTON_METRES[unit]
    return quotient.quantize(_power_of_ten(quotient.adjusted() + 1 - _FIGURES))


def _inside(low: Decimal, high: Decimal, step: Decimal, unit: TorqueUnit) -> ShownTorque:
    lowest = (low / step).to_integral_value(ROUND_CEILING) * step
    highest = (high / step).to_integral_value(ROUND_FLOOR) * step
    return ShownTorque(lowest, highest, step, unit, exact=lowest == low and highest == high)


def _nearest(torque: Decimal, unit: TorqueUnit) -> ShownTorque:
    for step in WRENCH_STEPS[unit]:
        if torque % step == 0:
            shown = torque.quantize(step)
            return ShownTorque(shown, shown, step, unit, exact=True)
    step = _power_of_ten(torque.adjusted() + 1 - _SIGNIFICANT_FIGURES)
    shown = (torque / step).to_integral_value(ROUND_HALF_EVEN) * step
    return ShownTorque(shown, shown, step, unit, exact=shown == torque)


def _power_of_ten(exponent: int) -> Decimal:
    return Decimal(1).scaleb(exponent)
