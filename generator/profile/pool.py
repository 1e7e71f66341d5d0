"""Bench sheets read back into the readings of a profile.

A sheet is taken when its sensor is known to work, which its writer ticks; a reading that condemns
the sensor contradicts the tick. A sheet that is not taken gets a sentence, and the rest still are.
"""

from __future__ import annotations

import json
import os
import re
import stat
import tempfile
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from difflib import unified_diff
from pathlib import Path

from generator.profile.finding import Finding
from generator.profile.insertion import readings_insertion
from generator.profile.model import KnownGood, Profile, Sensor
from generator.profile.quantity import TEMPERATURE, NotAQuantity, read_quantity
from generator.profile.reading import ProfileFile, read_text
from generator.profile.sheet_text import OVER_RANGE, YES, Sheet, Unreadable, sheets
from generator.profile.tree import read_tree
from generator.trade.heater import RULE_OF_THUMB_REFERENCE_C, Element, ResistanceRange
from generator.trade.pooled_readings import GoodReading
from generator.trade.verdict import Meter, Reading, judge

_OHM = re.compile(r"([-+]?\d+(?:\.\d+)?)\s*(?:ohm|Ω|\u2126)", re.IGNORECASE)
_LEADING_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_PLAIN_IN_BRACES = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 .°/·-]*[A-Za-z0-9.°])?")
_LONGEST_DISTANCE = 60


class CannotPool(Exception):
    """The profile itself cannot take readings; ``findings`` say why."""

    def __init__(self, sentence: str, findings: tuple[Finding, ...] = ()) -> None:
        super().__init__(sentence)
        self.findings = findings


class NotTaken(Exception):
    """A sheet whose reading is not taken; the message is the reason, in a sentence."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """A sheet that was not taken: its number and line in the text, both from 1, and why."""

    number: int
    line: int
    reason: str

    def __str__(self) -> str:
        """The refusal as it is printed."""
        return f"Sheet {self.number}, line {self.line}, is not taken: {self.reason}"


@dataclass(frozen=True, slots=True)
class Pooling:
    """The profile's new content, how many readings it gained, and what was not taken."""

    content: bytes
    taken: int
    refusals: tuple[Refusal, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class _Given:
    """What a sheet says of its heater, as it is written there, in ohms where it is a number."""

    shown_ohm: Decimal
    zero_ohm: Decimal
    air: str


def pool(content: bytes, slug: str, shown_as: str, text: str, known_good: bool = False) -> Pooling:
    """The content of a profile with the readings of every sheet in a text that may be taken.

    ``known_good`` takes sheets without the tick too, and readings that condemn their sensor.

    Raises:
        CannotPool: the profile has errors, before or after.
    """
    read = read_text(content, shown_as, slug)
    if read.profile is None:
        raise CannotPool(f"{shown_as} has errors; mend them first.", read.findings)
    taken: dict[int, list[KnownGood]] = {}
    refusals = []
    count = 0
    for count, sheet in enumerate(sheets(text), start=1):
        try:
            at, reading = _taken(read.profile, slug, sheet, known_good=known_good)
            known = [*read.profile.sensors[at].readings, *taken.get(at, [])]
            if _what_counts(reading) in map(_what_counts, known):
                raise NotTaken("the profile, or a sheet before it, has this very reading.")
        except NotTaken as refused:
            refusals.append(Refusal(count, sheet.line, str(refused)))
        else:
            taken.setdefault(at, []).append(reading)
    after = _inserted(content, shown_as, taken)
    return Pooling(
        after,
        sum(map(len, taken.values())),
        tuple(refusals),
        _checked(after, slug, shown_as, read, taken),
    )


def changes(before: bytes, after: bytes, shown_as: str) -> str:
    """The lines that change, as a unified diff."""
    old, new = (each.decode("utf-8-sig").splitlines(keepends=True) for each in (before, after))
    return "".join(unified_diff(old, new, shown_as, shown_as))


def replace_file(path: Path, content: bytes) -> None:
    """Put new content in a file's place in one step, so that no reader finds half of it.

    Raises:
        OSError: the folder cannot be written; the file is as it was.
    """
    target = path.resolve()
    mode = stat.S_IMODE(target.stat().st_mode)
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            os.fchmod(file.fileno(), mode)
        Path(name).replace(target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _taken(
    profile: Profile, slug: str, sheet: Sheet | Unreadable, *, known_good: bool
) -> tuple[int, KnownGood]:
    """The sensor, counted from 0, and the reading a sheet brings; NotTaken says why not."""
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


def _what_counts(reading: KnownGood) -> tuple[object, ...]:
    """By what two readings are one, however their numbers are written."""
    zero_ohm = reading.meter_zero.low_ohm if reading.meter_zero else 0.0
    shown_ohm = reading.resistance.low_ohm
    return shown_ohm, zero_ohm, reading.air.low_c, reading.date, reading.distance


def _day(sheet: Sheet) -> str:
    text = sheet.values.get("date", "")
    try:
        return date.fromisoformat(text).isoformat() if text else ""
    except ValueError:
        raise NotTaken(f"`date: {text}` is not a date such as `date: 2026-03-14`.") from None


def _item(reading: KnownGood) -> str:
    """A reading as a mapping in braces, its words in quotes where they need them."""
    pairs = [f"resistance: {reading.resistance.text}", f"air: {reading.air.text}"]
    if reading.meter_zero:
        pairs.append(f"meter_zero: {reading.meter_zero.text}")
    if reading.date:
        pairs.append(f"date: {reading.date.isoformat()}")
    if distance := reading.distance:
        plain = _PLAIN_IN_BRACES.fullmatch(distance)
        pairs.append(f"distance: {distance if plain else json.dumps(distance, ensure_ascii=False)}")
    return f"{{{', '.join(pairs)}}}"


def _inserted(content: bytes, shown_as: str, taken: dict[int, list[KnownGood]]) -> bytes:
    for at, readings in taken.items():
        document, _ = read_tree(shown_as, content)
        items = [_item(each) for each in readings]
        content = readings_insertion(document, at, items).into(content)
    return content


def _checked(
    after: bytes,
    slug: str,
    shown_as: str,
    before: ProfileFile,
    taken: dict[int, list[KnownGood]],
) -> tuple[Finding, ...]:
    """What the check newly finds; the profile must have gained the readings and nothing else."""
    read = read_text(after, shown_as, slug)
    assert before.profile is not None
    if read.profile is None:
        raise CannotPool(f"{shown_as} would have errors; nothing was written.", read.findings)
    if _in_any_order(read.profile, {}) != _in_any_order(before.profile, taken):
        raise CannotPool(f"the readings found no safe place in {shown_as}; nothing was written.")
    known = {(finding.rule, finding.message) for finding in before.findings}
    return tuple(each for each in read.findings if (each.rule, each.message) not in known)


def _in_any_order(profile: Profile, gained: dict[int, list[KnownGood]]) -> Profile:
    """The profile with what it gains, its readings in an order of their own, for comparing."""
    sensors = [
        sensor.model_copy(
            update={"readings": sorted([*sensor.readings, *gained.get(at, [])], key=repr)}
        )
        for at, sensor in enumerate(profile.sensors)
    ]
    return profile.model_copy(update={"sensors": sensors})
