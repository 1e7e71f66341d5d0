"""Fault codes in our own short words, and the causes and checks behind them."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from gettext import NullTranslations

from generator.trade.fault_code_table import Circuit, FaultCode, Noticed, OtherPart, Subject
from generator.trade.likely_causes import Symptom

CODES = "codes"
"""The folder of the site-wide code pages."""


def code_file(code: str) -> str:
    """The file name of a code's own page, inside the folder of codes."""
    return f"{code}.html"


def short_words(code: FaultCode, t: NullTranslations) -> str:
    """What a code says, without saying of which sensor: ``Heater: fault``."""
    _ = t.gettext
    if code.other_part is not None:
        return first_capital(other_part(code.other_part, t))
    if code.noticed is None:
        return code.code
    if code.subject is Subject.SWAPPED:
        return _("Two sensors exchanged")
    noticed = noticed_words(t)[code.noticed]
    return _("%(part)s: %(noticed)s") % {"part": first_capital(part(code, t)), "noticed": noticed}


def part(code: FaultCode, t: NullTranslations) -> str:
    """The circuit or the subject that a code is about."""
    _ = t.gettext
    if code.circuit is not None:
        return circuit(code.circuit, t)
    return {
        Subject.SENSOR: _("sensor"),
        Subject.SWAPPED: _("two sensors"),
        Subject.FUEL_TRIM: _("mixture"),
        Subject.CATALYST: _("catalyst"),
        Subject.FALSE_FRIEND: _("another part"),
    }[code.subject]


def circuit(circuit_: Circuit, t: NullTranslations) -> str:
    """A circuit of a sensor."""
    _ = t.gettext
    return {
        Circuit.SIGNAL: _("signal"),
        Circuit.HEATER: _("heater"),
        Circuit.HEATER_CONTROL: _("heater control"),
        Circuit.REFERENCE: _("reference"),
        Circuit.PUMP_CURRENT_POSITIVE: _("pump current +"),
        Circuit.PUMP_CURRENT_NEGATIVE: _("pump current −"),
        Circuit.PUMP_CURRENT_TRIM: _("pump trim"),
    }[circuit_]


@lru_cache(maxsize=8)
def noticed_words(t: NullTranslations) -> dict[Noticed, str]:
    """What the engine computer noticed, in a few words."""
    _ = t.gettext
    return {
        Noticed.FAULT: _("fault"),
        Noticed.FAULT_OR_OPEN: _("open or faulty"),
        Noticed.OPEN: _("open"),
        Noticed.LOW: _("reads low"),
        Noticed.HIGH: _("reads high"),
        Noticed.PERFORMANCE: _("not plausible"),
        Noticed.RESISTANCE: _("resistance off"),
        Noticed.SHORTED_TO_HEATER: _("shorted to the heater"),
        Noticed.SLOW_RESPONSE: _("slow"),
        Noticed.SLOW_RICH_TO_LEAN: _("slow, rich to lean"),
        Noticed.SLOW_LEAN_TO_RICH: _("slow, lean to rich"),
        Noticed.LATE_RICH_TO_LEAN: _("late, rich to lean"),
        Noticed.LATE_LEAN_TO_RICH: _("late, lean to rich"),
        Noticed.NO_ACTIVITY: _("does not move"),
        Noticed.STUCK_LEAN: _("stuck lean"),
        Noticed.STUCK_RICH: _("stuck rich"),
        Noticed.OUT_OF_RANGE_ON_OVERRUN: _("wrong on overrun"),
        Noticed.EXHAUST_SAMPLE: _("not of exhaust gas"),
        Noticed.EXCHANGED: _("exchanged"),
        Noticed.LEAN: _("lean"),
        Noticed.RICH: _("rich"),
        Noticed.LEAN_AT_IDLE: _("lean at idle"),
        Noticed.RICH_AT_IDLE: _("rich at idle"),
        Noticed.LEAN_OFF_IDLE: _("lean off idle"),
        Noticed.RICH_OFF_IDLE: _("rich off idle"),
        Noticed.LEAN_AFTER_CATALYST: _("lean after the catalyst"),
        Noticed.RICH_AFTER_CATALYST: _("rich after the catalyst"),
        Noticed.LOW_EFFICIENCY: _("converts too little"),
    }


def other_part(part_: OtherPart, t: NullTranslations) -> str:
    """What a code that only looks like a sensor's is really about."""
    _ = t.gettext
    return {
        OtherPart.TURBO_BYPASS: _("turbocharger bypass valve"),
        OtherPart.BOOST_CONTROL: _("boost pressure control"),
        OtherPart.TURBINE_SPEED: _("turbocharger turning too fast"),
        OtherPart.FUEL_DELIVERY: _("fuel delivery"),
        OtherPart.FUEL_TIMING: _("fuel timing"),
        OtherPart.SECONDARY_AIR: _("secondary air control"),
        OtherPart.INTAKE_LEAK: _("air leak in the intake"),
        OtherPart.EVAPORATIVE: _("switching valve of the tank's vapour system"),
    }[part_]


@lru_cache(maxsize=8)
def symptom_words(t: NullTranslations) -> dict[Symptom, str]:
    """What a group of codes has in common."""
    _ = t.gettext
    return {
        Symptom.HEATER_CIRCUIT: _("Heater"),
        Symptom.SIGNAL_CIRCUIT: _("Signal circuit"),
        Symptom.SHORTED_TO_HEATER: _("Signal shorted to the heater"),
        Symptom.PUMP_CIRCUIT: _("Pump and reference circuits"),
        Symptom.SLOW_SIGNAL: _("Slow signal"),
        Symptom.IMPLAUSIBLE_SIGNAL: _("Signal not plausible"),
        Symptom.STUCK_LEAN: _("Stuck lean"),
        Symptom.STUCK_LEAN_AFTER_EXHAUST_WORK: _("Stuck lean, just after work on the exhaust"),
        Symptom.STUCK_RICH: _("Stuck rich"),
        Symptom.SENSORS_SWAPPED: _("Two sensors exchanged"),
        Symptom.CATALYST_EFFICIENCY: _("Catalyst"),
    }


def place_words(bank: int, position: int, t: NullTranslations) -> str:
    """A bank and position inside a sentence: ``bank 1, position 2``."""
    return t.gettext("bank %(bank)s, position %(position)s") % {"bank": bank, "position": position}


def where_words(code: FaultCode, t: NullTranslations) -> str:
    """The sensors or the bank that a code names; empty for another part."""
    _ = t.gettext
    if code.sensors:
        return _(" and ").join(place_words(*place, t) for place in code.sensors)
    return _("bank %(bank)s") % {"bank": code.bank} if code.bank is not None else ""


def first_capital(text: str) -> str:
    """Words as they begin a sentence."""
    return text[:1].upper() + text[1:]


def listed_runs(codes: Iterable[FaultCode]) -> str:
    """Codes in order, with those that follow one another drawn together: ``P0030–P0032``."""
    runs: list[list[str]] = []
    for code in sorted(each.code for each in codes):
        if runs and _follows(runs[-1][-1], code):
            runs[-1].append(code)
        else:
            runs.append([code])
    # Two that follow one another read better apart
    return ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 2 else ", ".join(run) for run in runs)


def drawn_together(strangers: Iterable[FaultCode], t: NullTranslations) -> list[tuple[str, str]]:
    """Codes of other parts as runs, each with the part it is about."""
    by_part: dict[OtherPart, list[FaultCode]] = {}
    for code in strangers:
        if code.other_part is not None:
            by_part.setdefault(code.other_part, []).append(code)
    return [(listed_runs(codes), other_part(each, t)) for each, codes in by_part.items()]


def _follows(one: str, other: str) -> bool:
    """Whether the second code is the next number after the first, in decimal."""
    return one[1:].isdigit() and other[1:].isdigit() and int(other[1:]) == int(one[1:]) + 1
