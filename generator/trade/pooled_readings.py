"""Heater readings of known-good sensors, pooled into a range of their own.

From eight readings on, the range is a two-sided statistical tolerance interval for a normal
distribution with unknown mean and deviation (ISO 16269-6): with 90 % confidence it holds at least
95 % of good sensors. It is what was measured, never a specification, and shown as such.

Limits. One reading a sensor, and sensors of one kind: repeats of the same sensor make the range too
narrow. Whether the readings are normally distributed is not tested.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, stdev
from typing import Final

from generator.trade.heater import (
    AMBIENT_HIGHEST_C,
    AMBIENT_LOWEST_C,
    Element,
    ResistanceRange,
    resistance_factors,
)

REFERENCE_C: Final = 20.0
FEWEST: Final = 8
"""Below this the readings are listed as they are (our choice, no source)."""
COVERAGE: Final = 0.95
CONFIDENCE: Final = 0.90

# For 8, 9 ... 60 readings: the exact factor, the integral over the mean solved numerically
# (ISO 16269-6 tabulates it; Howe's formula falls short of it). A published check computes
# every figure again.
_TOLERANCE_FACTORS: Final = (
    3.2699, 3.1322, 3.0257, 2.9405, 2.8707, 2.8122, 2.7625, 2.7196, 2.6821, 2.6491,
    2.6197, 2.5934, 2.5696, 2.5481, 2.5285, 2.5105, 2.4939, 2.4786, 2.4644, 2.4512,
    2.4389, 2.4274, 2.4166, 2.4064, 2.3969, 2.3878, 2.3793, 2.3712, 2.3635, 2.3562,
    2.3492, 2.3426, 2.3362, 2.3301, 2.3243, 2.3188, 2.3135, 2.3083, 2.3034, 2.2987,
    2.2941, 2.2897, 2.2855, 2.2814, 2.2774, 2.2736, 2.2699, 2.2663, 2.2629, 2.2595,
    2.2562, 2.2531, 2.2500,
)  # fmt: skip
# For 8, 9 ... 60 readings: Grubbs' limit for one outlier on either side at 5 %.
_OUTLIER_LIMITS: Final = (
    2.127, 2.215, 2.290, 2.355, 2.412, 2.462, 2.507, 2.548, 2.586, 2.620,
    2.652, 2.681, 2.708, 2.734, 2.758, 2.780, 2.802, 2.822, 2.841, 2.859,
    2.876, 2.893, 2.908, 2.924, 2.938, 2.952, 2.965, 2.978, 2.991, 3.003,
    3.014, 3.025, 3.036, 3.047, 3.057, 3.067, 3.076, 3.085, 3.094, 3.103,
    3.112, 3.120, 3.128, 3.136, 3.144, 3.151, 3.159, 3.166, 3.173, 3.180,
    3.187, 3.193, 3.200,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class GoodReading:
    """One reading of a known-good sensor, cold, with the leads' own resistance and the air.

    Raises ValueError for a resistance that is not above the leads', or air outside -20 to 50 degC.
    """

    shown_ohm: float
    air_c: float
    lead_zero_ohm: float = 0.0

    def __post_init__(self) -> None:
        if not 0 < self.shown_ohm - self.lead_zero_ohm < math.inf:
            raise ValueError(
                f"{self.shown_ohm:g} ohm less {self.lead_zero_ohm:g} ohm of the leads is no "
                "reading of a heater"
            )
        if not AMBIENT_LOWEST_C <= self.air_c <= AMBIENT_HIGHEST_C:
            raise ValueError(
                f"cold resistance is corrected from {AMBIENT_LOWEST_C:g} to "
                f"{AMBIENT_HIGHEST_C:g} degC, not from {self.air_c:g} degC"
            )


@dataclass(frozen=True, slots=True)
class Pool:
    """Readings corrected to 20 degC, in order of size, and the range they make.

    `tolerance` is None with fewer than eight readings kept. `left_out_ohm` is the outlier, if any.
    """

    kept_ohm: tuple[float, ...]
    left_out_ohm: float | None
    tolerance: ResistanceRange | None


def corrected_ohm(reading: GoodReading, element: Element = Element.UNKNOWN) -> float:
    """Give the heater's resistance at 20 degC: leads subtracted, temperature corrected.

    For an unknown element by the middle between platinum and tungsten: at -20 degC that is within
    2.2 % of either, at 0 degC within 1 %.
    """
    lowest, highest = resistance_factors(reading.air_c, REFERENCE_C, element)
    return (reading.shown_ohm - reading.lead_zero_ohm) / ((lowest + highest) / 2)


def pooled(
    readings: Sequence[GoodReading],
    element: Element = Element.UNKNOWN,
    resolution_ohm: float = 0.1,
) -> Pool:
    """Give the readings at 20 degC, the outlier left out, and from eight on their range.

    From eight readings on, the one furthest from the mean is left out if it fails Grubbs' test at
    5 % (two-sided, one pass: a second outlier stays). The range is mean -/+ k s, widened by half
    a step of the meter's `resolution_ohm` at each end, because a reading stands for its whole
    step; it is cut off at zero, below which no resistance lies.

    Raises ValueError for a resolution that is negative or no number.
    """
    if not 0 <= resolution_ohm < math.inf:
        raise ValueError(f"not a meter's resolution: {resolution_ohm} ohm")
    ohms = sorted(corrected_ohm(reading, element) for reading in readings)
    outlier = _outlier(ohms) if len(ohms) >= FEWEST else None
    if outlier is not None:
        ohms.remove(outlier)
    if len(ohms) < FEWEST:
        return Pool(tuple(ohms), outlier, None)
    half_width = tolerance_factor(len(ohms)) * stdev(ohms) + resolution_ohm / 2
    mean = fmean(ohms)
    tolerance = ResistanceRange(max(0.0, mean - half_width), mean + half_width)
    return Pool(tuple(ohms), outlier, tolerance)


def tolerance_factor(count: int) -> float:
    """Give k of ISO 16269-6, two-sided, 95 % coverage at 90 % confidence, both parameters unknown.

    Above 60 readings the factor for 60, which is a little too wide. Raises ValueError below eight.
    """
    return _row(_TOLERANCE_FACTORS, count)


def outlier_limit(count: int) -> float:
    """Give how many standard deviations from the mean is too far (Grubbs, 5 %, two-sided).

    F. E. Grubbs, Technometrics 11 (1969) 1-21. Above 60 readings the limit for 60, which leaves
    out a little too readily. Raises ValueError below eight.
    """
    return _row(_OUTLIER_LIMITS, count)


def _row(table: Sequence[float], count: int) -> float:
    if count < FEWEST:
        raise ValueError(f"the table begins at {FEWEST} readings, not {count}")
    return table[min(count - FEWEST, len(table) - 1)]


def _outlier(ohms: Sequence[float]) -> float | None:
    mean, deviation = fmean(ohms), stdev(ohms)
    furthest = max(ohms, key=lambda ohm: abs(ohm - mean))
    too_far = abs(furthest - mean) > outlier_limit(len(ohms)) * deviation
    return furthest if deviation > 0 and too_far else None
