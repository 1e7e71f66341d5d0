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
from difflib import unified_diff
from pathlib import Path

from generator.profile.finding import Finding
from generator.profile.insertion import readings_insertion
from generator.profile.model import Profile
from generator.profile.reading import ProfileFile, read_text
from generator.profile.sensor_model import KnownGood
from generator.profile.sheet_reading import NotTaken, reading_of
from generator.profile.sheet_text import sheets
from generator.profile.tree import read_tree

_PLAIN_IN_BRACES = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 .°/·-]*[A-Za-z0-9.°])?")


class CannotPool(Exception):
    """The profile itself cannot take readings; ``findings`` say why."""

    def __init__(self, sentence: str, findings: tuple[Finding, ...] = ()) -> None:
        super().__init__(sentence)
        self.findings = findings


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


def pool(content: bytes, slug: str, shown_as: str, text: str, known_good: bool = False) -> Pooling:
    """The content of a profile with the readings of every sheet in a text that may be taken.

    ``known_good`` takes sheets without the tick too, and readings that condemn their sensor.

    Raises:
        CannotPool: the profile has errors, before or after, or is of an older format.
    """
    read = read_text(content, shown_as, slug)
    if read.profile is None:
        raise CannotPool(f"{shown_as} has errors; mend them first.", read.findings)
    if any(finding.rule == "old-format" for finding in read.findings):
        raise CannotPool(f"{shown_as} is of an older format; migrate it first.", read.findings)
    taken: dict[int, list[KnownGood]] = {}
    refusals = []
    for count, sheet in enumerate(sheets(text), start=1):
        try:
            at, reading = reading_of(read.profile, slug, sheet, known_good=known_good)
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


def _what_counts(reading: KnownGood) -> tuple[object, ...]:
    """By what two readings are one, however their numbers are written."""
    zero_ohm = reading.meter_zero.low_ohm if reading.meter_zero else 0.0
    shown_ohm = reading.resistance.low_ohm
    return shown_ohm, zero_ohm, reading.air.low_c, reading.date, reading.distance


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
