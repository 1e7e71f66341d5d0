"""One bench sheet to one reading of a sensor known to be good, or the reason why it brings none."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from generator.profile.dimension import TEMPERATURE
from generator.profile.model import Profile
from generator.profile.quantity import NotAQuantity, read_quantity
from generator.profile.sensor_model import KnownGood, Sensor
from generator.profile.sheet_text import OVER_RANGE, YES, Sheet, Unreadable
from generator.trade.heater import RULE_OF_THUMB_REFERENCE_C, Element, ResistanceRange
from generator.trade.pooled_readings import GoodReading
from generator.trade.verdict import (
    LEAD_ZERO_HIGHEST_OHM,
    LEAD_ZERO_LOWEST_OHM,
    Meter,
    Reading,
    judge,
)

_OHM = re.compile(r"([-+]?\d+(?:\.\d+)?)\s*(?:ohm|Ω|\u2126)", re.IGNORECASE)
_LEADING_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_LONGEST_DISTANCE = 60


class NotTaken(Exception):
    """A sheet whose reading is not taken; the message is the reason, in a sentence."""


@dataclass(frozen=True, slots=True)
class _Given:
    """What a sheet says of its heater, as it is written there, in ohms where it is a number."""

    shown_ohm: Decimal
    zero_ohm: Decimal
    air: str


def reading_of(
    profile: Profile, slug: str, sheet: Sheet | Unreadable, *, known_good: bool
) -> tuple[int, KnownGood]:
    """The sensor, counted from 0, and the reading that a sheet brings.

    Raises:
        NotTaken: the sheet is unreadable, of another vehicle, of a sensor not known to work, or
            holds no reading; ``known_good`` takes the sensor as known to work.
    """
    if isinstance(sheet, Unreadable):
        raise NotTaken(sheet.reason)
    if sheet.slug != slug:
        raise NotTaken(f"it is for `{sheet.slug}`, and this profile is `{slug}`.")
    at = _sensor_at(profile, sheet)
    given = _given(sheet)
    if not known_good:
        _refuse_doubtful(profile.sensors[at], sheet, given)
    return at, _known_good(sheet, given)


def _sensor_at(profile: Profile, sheet: Sheet) -> int:
    for at, sensor in enumerate(profile.sensors):
        if (sensor.bank, sensor.position) == (sheet.bank, sheet.position):
            if not sensor.is_heated:
                raise NotTaken("its sensor has one or two wires, and so no heater to read.")
            return at
    raise NotTaken(f"the profile has no sensor at bank {sheet.bank}, position {sheet.position}.")


def _given(sheet: Sheet) -> _Given:
    if sheet.values.get("reading", "").casefold() == OVER_RANGE:
        raise NotTaken("its meter showed over range, which is no resistance to pool.")
    given = _Given(_ohms(sheet, "reading"), _ohms(sheet, "meter zero"), _wanted(sheet, "air"))
    try:
        air = read_quantity(given.air, TEMPERATURE)
        GoodReading(float(given.shown_ohm), air.low_c, float(given.zero_ohm))
    except NotAQuantity as error:
        raise NotTaken(f"`air`: {error.message} {error.mend}") from None
    except ValueError as error:
        raise NotTaken(f"{error}.") from None
    if not LEAD_ZERO_LOWEST_OHM <= given.zero_ohm <= LEAD_ZERO_HIGHEST_OHM:
        raise NotTaken(f"leads held together do not read {given.zero_ohm} ohm: look at the sheet.")
    return given


def _wanted(sheet: Sheet, key: str) -> str:
    if not sheet.values.get(key):
        raise NotTaken(f"it has no `{key}`.")
    return sheet.values[key]


def _ohms(sheet: Sheet, key: str) -> Decimal:
    text = _wanted(sheet, key)
    match = _OHM.fullmatch(text)
    if match is None:
        raise NotTaken(f"`{key}: {text}` is not a resistance such as `{key}: 2.6 ohm`.")
    return Decimal(match[1])


def _refuse_doubtful(sensor: Sensor, sheet: Sheet, given: _Given) -> None:
    if sheet.values.get("known to work", "").casefold() != YES:
        raise NotTaken(
            "it does not say `known to work: yes`. The sheet has a tick for that, and in range is "
            "not enough; `--known-good` takes it on your word."
        )
    meter = _meter(sheet)
    if meter is None:
        return
    stated = sensor.cold_resistance
    verdict = judge(
        Reading(
            float(given.shown_ohm),
            float(given.zero_ohm),
            read_quantity(given.air, TEMPERATURE).low_c,
            _number(sheet, "thermometer") or 0.0,
        ),
        meter,
        ResistanceRange(stated.value.low_ohm, stated.value.high_ohm) if stated else None,
        stated.at.low_c if stated else RULE_OF_THUMB_REFERENCE_C,
        sensor.heater.element if sensor.heater else Element.UNKNOWN,
    )
    if verdict.outcome.condemns:
        raise NotTaken(
            f"it is ticked as known to work, and its reading says {verdict.outcome}; "
            "`--known-good` takes it on your word."
        )


def _meter(sheet: Sheet) -> Meter | None:
    percent, counts = _number(sheet, "meter percent"), _number(sheet, "meter counts")
    resolution_ohm = _number(sheet, "meter resolution")
    if percent is None or counts is None or not resolution_ohm:
        return None
    return Meter(percent, counts, resolution_ohm)


def _number(sheet: Sheet, key: str) -> float | None:
    found = _LEADING_NUMBER.match(sheet.values.get(key, ""))
    return float(found[0]) if found else None


def _known_good(sheet: Sheet, given: _Given) -> KnownGood:
    """The reading as the profile states it; leads that read zero or less are taken off at once."""
    shown_ohm, zero = given.shown_ohm, f"{given.zero_ohm} ohm"
    if given.zero_ohm <= 0:
        shown_ohm, zero = shown_ohm - given.zero_ohm, ""
    stated = {
        "resistance": f"{shown_ohm} ohm",
        "air": re.sub(r"\s*deg(?=[CF]$)", " °", given.air, flags=re.IGNORECASE),
        "meter_zero": zero,
        "date": _day(sheet),
        "distance": sheet.values.get("distance", "")[:_LONGEST_DISTANCE].strip(),
    }
    return KnownGood.model_validate({key: text for key, text in stated.items() if text})


def _day(sheet: Sheet) -> str:
    text = sheet.values.get("date", "")
    try:
        return date.fromisoformat(text).isoformat() if text else ""
    except ValueError:
        raise NotTaken(f"`date: {text}` is not a date such as `date: 2026-03-14`.") from None
