"""Numbers as they are printed: rounded once, here, never broken from their unit, in the reader's
language: its decimal mark, its form of a date and its word between two ends of a range are messages
of the catalogue like any other.
"""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from functools import cache, lru_cache
from gettext import NullTranslations
from math import log10

from generator.profile.dimension import Duration, Resistance
from generator.trade.heater import ResistanceRange, rounded_to_step, step_for
from generator.trade.torque import TorqueRange, TorqueUnit, converted

NO_BREAK = "\u00a0"
WORD_JOINER = "\u2060"
_DECIMALS = re.compile(r"\d+(?:\.(\d+))?")
_POINT = re.compile(r"(?<=\d)\.(?=\d)")


def unbroken(text: str) -> str:
    """A text that stays on one line."""
    return text.replace(" ", NO_BREAK).replace("–", f"–{WORD_JOINER}")


def breakable(text: str) -> str:
    """A text without what keeps it on one line on a page: as a terminal or a data file wants it."""
    return text.replace(NO_BREAK, " ").replace(WORD_JOINER, "")


def with_unit(number: str, unit: str) -> str:
    """A number or range and its unit, which stay on one line."""
    return unbroken(f"{number} {unit}")


def span(low: str, high: str, t: NullTranslations) -> str:
    """A range of two printed numbers; one number where both are the same."""
    if low == high:
        return low
    # "−20–50" misreads, "−20 to 50" does not
    return f"{low}{t.gettext(' to ')}{high}" if "−" in low + high else f"{low}–{high}"


def number(value: float, decimals: int, t: NullTranslations) -> str:
    """A number with so many decimals and a true minus sign."""
    return marked(f"{value:.{decimals}f}".replace("-", "−"), t)


def short(value: float, t: NullTranslations) -> str:
    """A number as short as it can be written: 7.5, 10, 0.25."""
    return marked(f"{value:g}".replace("-", "−"), t)


@lru_cache
def decimal_mark(t: NullTranslations) -> str:
    """What stands before the decimals of a number."""
    return t.pgettext("decimal mark", ".")


def marked(plain: str, t: NullTranslations) -> str:
    """A number written with a point, with the decimal mark of the reader's language."""
    return plain.replace(".", decimal_mark(t)) if "." in plain else plain


@lru_cache(maxsize=1024)
def stated(text: str, t: NullTranslations) -> str:
    """A quantity as a profile states it: the same figures, in the reader's way of writing."""
    written = _POINT.sub(decimal_mark(t), text)
    return written.replace(" to ", t.gettext(" to ")).replace(" ohm", t.gettext(" ohm"))


def day(when: date, t: NullTranslations) -> str:
    """A date in figures."""
    return when.strftime(t.pgettext("date, as strftime wants it", "%Y-%m-%d"))


def stated_step_ohm(stated: Resistance) -> float:
    """The last decimal in which a resistance is stated: 0.01 for ``2.15 to 2.9 ohm``."""
    decimals = max(len(match[1] or "") for match in _DECIMALS.finditer(stated.text))
    return float(Decimal(1).scaleb(-decimals))


def resistance(
    expected: ResistanceRange, stated_step_ohm: float | None, t: NullTranslations
) -> str:
    """A heater range in steps no coarser than its specification's, without the unit."""
    step_ohm = step_for(expected, stated_step_ohm)
    shown = rounded_to_step(expected, step_ohm)
    return _resistance_text(shown.low_ohm, shown.high_ohm, decimals_of(step_ohm), t)


@lru_cache(maxsize=4096)
def _resistance_text(low_ohm: float, high_ohm: float, decimals: int, t: NullTranslations) -> str:
    return span(number(low_ohm, decimals, t), number(high_ohm, decimals, t), t)


@cache
def decimals_of(step: float) -> int:
    """How many decimals a step of 1, 0.1, 0.01 ... needs."""
    return max(0, -round(log10(step)))


def minutes(durations: list[Duration], t: NullTranslations) -> str | None:
    """The sum of some durations as ``7–14``, or None when there are none."""
    if not durations:
        return None
    low = sum(each.low_min for each in durations)
    high = sum(each.high_min for each in durations)
    return span(short(round(low), t), short(round(high), t), t)


def torque(stated: TorqueRange, unit: TorqueUnit, t: NullTranslations) -> str:
    """A torque in a unit, rounded into its range to steps of a wrench, without the unit."""
    shown = converted(stated, unit)
    return span(marked(f"{shown.low:f}", t), marked(f"{shown.high:f}", t), t)


def newton_metres(stated: TorqueRange, t: NullTranslations) -> str:
    """A torque in N·m with its unit."""
    return with_unit(torque(stated, TorqueUnit.NEWTON_METRE, t), TorqueUnit.NEWTON_METRE.value)
