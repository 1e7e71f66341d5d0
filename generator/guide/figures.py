"""Numbers as they are printed: rounded once, here, and never broken from their unit."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import cache
from math import log10

from generator.profile.quantity import Duration, Resistance
from generator.trade.heater import ResistanceRange, rounded_to_step, step_for
from generator.trade.torque import TorqueRange, TorqueUnit, converted

NO_BREAK = "\u00a0"
WORD_JOINER = "\u2060"
_DECIMALS = re.compile(r"\d+(?:\.(\d+))?")


def unbroken(text: str) -> str:
    """A text that stays on one line."""
    return text.replace(" ", NO_BREAK).replace("–", f"–{WORD_JOINER}")


def with_unit(number: str, unit: str) -> str:
    """A number or range and its unit, which stay on one line."""
    return unbroken(f"{number} {unit}")


def span(low: str, high: str) -> str:
    """A range of two printed numbers; one number where both are the same."""
    if low == high:
        return low
    # "−20–50" misreads, "−20 to 50" does not
    return f"{low} to {high}" if "−" in low + high else f"{low}–{high}"


def number(value: float, decimals: int) -> str:
    """A number with so many decimals and a true minus sign."""
    return f"{value:.{decimals}f}".replace("-", "−")


def short(value: float) -> str:
    """A number as short as it can be written: 7.5, 10, 0.25."""
    return f"{value:g}".replace("-", "−")


def stated_step_ohm(stated: Resistance) -> float:
    """The last decimal in which a resistance is stated: 0.01 for ``2.15 to 2.9 ohm``."""
    decimals = max(len(match[1] or "") for match in _DECIMALS.finditer(stated.text))
    return float(Decimal(1).scaleb(-decimals))


def resistance(expected: ResistanceRange, stated_step_ohm: float | None) -> str:
    """A heater range in steps no coarser than its specification's, without the unit."""
    step_ohm = step_for(expected, stated_step_ohm)
    shown = rounded_to_step(expected, step_ohm)
    decimals = decimals_of(step_ohm)
    return span(number(shown.low_ohm, decimals), number(shown.high_ohm, decimals))


@cache
def decimals_of(step: float) -> int:
    """How many decimals a step of 1, 0.1, 0.01 ... needs."""
    return max(0, -round(log10(step)))


def minutes(durations: list[Duration]) -> str | None:
    """The sum of some durations as ``7–14``, or None when there are none."""
    if not durations:
        return None
    low = sum(each.low_min for each in durations)
    high = sum(each.high_min for each in durations)
    return span(short(round(low)), short(round(high)))


def torque(stated: TorqueRange, unit: TorqueUnit) -> str:
    """A torque in a unit, rounded into its range to steps of a wrench, without the unit."""
    shown = converted(stated, unit)
    return span(f"{shown.low:f}", f"{shown.high:f}")


def newton_metres(stated: TorqueRange) -> str:
    """A torque in N·m with its unit."""
    return with_unit(torque(stated, TorqueUnit.NEWTON_METRE), TorqueUnit.NEWTON_METRE.value)
