"""What a sensor gives out for a mixture: volts of a switching one, mA of a wide-range one.

A titania sensor is no cell but a resistance. No published relation is used for it here, so it
has words only (`TITANIA_BEHAVIOUR`).
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from generator.trade.exhaust_gas import exhaust_gas
from generator.trade.stoichiometry import PETROL_FORMULA, Formula

GAS_CONSTANT_J_MOL_K: Final = 8.31446261815324
FARADAY_C_MOL: Final = 96485.33212331
AIR_OXYGEN_ATM: Final = 0.209
"""Oxygen in the reference air; 0.20946 instead would change 0.05 mV at 1000 K."""

LEAN_BELOW_V: Final = (0.2, 0.3)
"""A healthy switching sensor falls below 0.2 to 0.3 V in lean gas (common practice, no source)."""
RICH_ABOVE_V: Final = (0.6, 0.8)
"""It rises over 0.6 to 0.8 V in rich gas (common practice, no source)."""
MIDDLE_V: Final = 0.45
"""What it crosses on the way (common practice, no source)."""

TITANIA_BEHAVIOUR: Final = (
    "The resistance is low in rich gas and high in lean gas, and swings between the two. The volts "
    "that are read depend on the divider in the control unit, so rich may read high or low: what "
    "counts is that it swings (common practice, no source)."
)

Points = Sequence[tuple[float, float]]
"""(lambda, pump current in mA) in rising order of lambda."""


def nernst_emf_v(
    temperature_k: float, oxygen_atm: float, reference_atm: float = AIR_OXYGEN_ATM
) -> float:
    """Give the volts of a zirconia cell between reference air and a gas: R T / 4F ln(ref / gas).

    Nernst's relation with four electrons to a molecule of oxygen. Open circuit: a cold cell has
    so much resistance of its own that a meter does not see all of it.

    Raises:
        ValueError: a temperature or pressure that is not above zero.
    """
    if min(temperature_k, oxygen_atm, reference_atm) <= 0:
        raise ValueError("temperature and partial pressures must be above zero")
    slope_v = GAS_CONSTANT_J_MOL_K * temperature_k / (4 * FARADAY_C_MOL)
    return slope_v * math.log(reference_atm / oxygen_atm)


def switching_emf_v(
    lambda_: float, tip_temperature_k: float, formula: Formula = PETROL_FORMULA
) -> float:
    """Give the volts of a switching sensor in gas at equilibrium on its tip, at 1 atm.

    A real one falls short of it: it gives about 0.1 to 0.9 V, and switches slightly lean of
    lambda 1 with unburnt gas about (common practice, no source).

    Raises:
        ValueError: outside the range of `exhaust_gas`.
    """
    gas = exhaust_gas(lambda_, tip_temperature_k, formula)
    return nernst_emf_v(tip_temperature_k, gas.oxygen)


@dataclass(frozen=True, slots=True)
class CurveFault:
    """One thing that keeps a curve from being computed with, at the point it shows at."""

    point: int | None
    reason: str


def curve_faults(points: Points) -> tuple[CurveFault, ...]:
    """Give everything that keeps a curve from being computed with, in the order of its points.

    It needs three points, and both lambda and the current rise all the way.
    """
    found = []
    if len(points) < 3:
        found.append(CurveFault(None, f"{len(points)} points; a curve needs three or more"))
    for index, point in enumerate(points):
        if not all(math.isfinite(number) for number in point):
            return (*found, CurveFault(index, "a point is not a number"))
    for index, ((lambda_0, current_0), (lambda_1, current_1)) in enumerate(pairwise(points), 1):
        if lambda_1 <= lambda_0:
            reason = f"lambda {lambda_1:g} does not come after {lambda_0:g}"
            found.append(CurveFault(index, reason))
        elif current_1 <= current_0:
            reason = (
                f"the current does not rise from lambda {lambda_0:g} ({current_0:g} mA) "
                f"to {lambda_1:g} ({current_1:g} mA)"
            )
            found.append(CurveFault(index, reason))
    return tuple(found)


def pump_curve_faults(points: Points) -> tuple[str, ...]:
    """Give everything wrong with a wide-range sensor's curve, or nothing.

    As `curve_faults`; and the current is 0 at lambda 1, positive lean and negative rich (the sign
    of SAE J1979). A curve that only misses that zero can still be computed with.
    """
    found = [fault.reason for fault in curve_faults(points)]
    if "a point is not a number" not in found and (1.0, 0.0) not in map(tuple, points):
        found.append("no point says 0 mA at lambda 1")
    return tuple(found)


def pump_current_ma(points: Points, lambda_: float) -> float:
    """Give the pump current at a lambda, on a smooth curve that rises through all the points.

    Piecewise cubic (F. N. Fritsch and R. E. Carlson, SIAM J. Numer. Anal. 17, 1980), slopes after
    F. N. Fritsch and J. Butland, 1984: never over- or undershoots its points.

    Raises:
        ValueError: the points have faults, or lambda lies beyond them: nothing is extrapolated.
    """
    _refuse_faults(points)
    xs, ys = zip(*points, strict=True)
    if not xs[0] <= lambda_ <= xs[-1]:
        raise ValueError(f"lambda {lambda_:g} is beyond the curve, {xs[0]:g} to {xs[-1]:g}")
    slopes = _slopes(xs, ys)
    left = min(bisect_right(xs, lambda_), len(xs) - 1) - 1
    width = xs[left + 1] - xs[left]
    t = (lambda_ - xs[left]) / width
    rise = ys[left + 1] - ys[left]
    start, end = slopes[left] * width, slopes[left + 1] * width
    # Hermite's cubic, written about its first point
    return float(
        ys[left] + t * (start + t * (3 * rise - 2 * start - end + t * (start + end - 2 * rise)))
    )


def lambda_from_pump_current(points: Points, current_ma: float) -> float:
    """Give the lambda at which the curve of `pump_current_ma` has this current.

    Raises:
        ValueError: the points have faults, or the current lies beyond them.
    """
    _refuse_faults(points)
    (low, least), (high, most) = points[0], points[-1]
    if not least <= current_ma <= most:
        raise ValueError(f"{current_ma:g} mA is beyond the curve, {least:g} to {most:g} mA")
    for _ in range(60):
        middle = (low + high) / 2
        if pump_current_ma(points, middle) < current_ma:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _refuse_faults(points: Points) -> None:
    faults = curve_faults(points)
    if faults:
        raise ValueError("; ".join(fault.reason for fault in faults))


def _slopes(xs: Sequence[float], ys: Sequence[float]) -> list[float]:
    widths = [after - before for before, after in pairwise(xs)]
    secants = [(y1 - y0) / width for (y0, y1), width in zip(pairwise(ys), widths, strict=True)]
    inner = []
    for (h0, h1), (d0, d1) in zip(pairwise(widths), pairwise(secants), strict=True):
        w0, w1 = 2 * h1 + h0, h1 + 2 * h0
        inner.append((w0 + w1) / (w0 / d0 + w1 / d1))
    first = _end_slope(widths[0], widths[1], secants[0], secants[1])
    last = _end_slope(widths[-1], widths[-2], secants[-1], secants[-2])
    return [first, *inner, last]


def _end_slope(near: float, far: float, near_secant: float, far_secant: float) -> float:
    # Through the three end points; a rising curve must not start or end downhill.
    slope = ((2 * near + far) * near_secant - near * far_secant) / (near + far)
    return max(0.0, slope)
