"""Profiles that say nearly the same of two vehicles: a copy, of which only the names were changed.

Compared are specifications and what is read off the vehicle with them, as values under their
dimension: contributors' names, wordings and the order of entries do not count.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from generator.profile.exceptions import NEAR_COPY, excepts_near_copy
from generator.profile.finding import Finding, Severity, in_order
from generator.profile.model import Profile
from generator.profile.reading import ProfileFile
from generator.profile.sensor_model import Sensor

ALIKE = 0.8
"""The share of all values from which two profiles are nearly equal: our choice, no source."""

FEWEST = 5
"""Fewer values than these may be equal by chance."""

MOST_HOLDERS = 20
"""A value that more different profiles hold leads to none of them: it is an ordinary one."""

Value = tuple[Hashable, ...]


@dataclass(frozen=True, slots=True)
class Likeness:
    """The profile most like another one, by its index, and the share of values both have."""

    index: int
    share: float


def with_near_copies(files: list[ProfileFile], *, is_whole: bool) -> list[ProfileFile]:
    """The files with a warning at each that is nearly equal to one before it.

    An exception in either of the two silences it. Where the files are a whole collection, one that
    silences nothing is found too.
    """
    found = likenesses([file.profile for file in files])
    near = found.keys() | {each.index for each in found.values()}
    judged = []
    for index, file in enumerate(files):
        more: list[Finding] = []
        like = found.get(index)
        if like and not _is_excepted(file, files[like.index]):
            more.append(_finding(file, files[like.index], like.share))
        if is_whole and index not in near:
            more.extend(file.unless_near)
        judged.append(replace(file, findings=in_order((*file.findings, *more))) if more else file)
    return judged


def likenesses(profiles: Iterable[Profile | None]) -> dict[int, Likeness]:
    """By index of a profile: that before it which is most like it, where one is nearly equal.

    Values lead to the profiles that hold them, so that no profile is compared with every other.
    """
    holders: dict[Value, list[int]] = {}
    same: dict[frozenset[Value], int] = {}
    sets: dict[int, frozenset[Value]] = {}
    found: dict[int, Likeness] = {}
    for index, profile in enumerate(profiles):
        values = stated_values(profile) if profile else frozenset()
        if len(values) < FEWEST:
            continue
        if values in same:
            found[index] = Likeness(same[values], 1.0)
            continue
        same[values], sets[index] = index, values
        if best := _most_alike(values, sets, holders):
            found[index] = best
        for value in values:
            holders.setdefault(value, []).append(index)
    return found


def _most_alike(
    values: frozenset[Value],
    sets: Mapping[int, frozenset[Value]],
    holders: Mapping[Value, list[int]],
) -> Likeness | None:
    shared: Counter[int] = Counter()
    for value in values:
        known = holders.get(value, ())
        if len(known) <= MOST_HOLDERS:
            shared.update(known)
    likely = [Likeness(other, share(values, sets[other])) for other, _ in shared.most_common(3)]
    best = max(likely, key=lambda each: (each.share, -each.index), default=None)
    return best if best and best.share >= ALIKE else None


def share(some: frozenset[Value], others: frozenset[Value]) -> float:
    """How much of what either of the two states both of them state (the Jaccard index)."""
    return len(some & others) / len(some | others)


def stated_values(profile: Profile) -> frozenset[Value]:
    """What a profile states, without its names; a value that comes twice counts twice."""
    counts: Counter[Value] = Counter(_values(profile))
    return frozenset((*value, n) for value, count in counts.items() for n in range(count))


def _values(profile: Profile) -> Iterator[Value]:
    for obstacle in profile.obstacles.values():
        for each in obstacle.undo:
            if each.torque or each.hex:
                thread = each.thread and each.thread.text
                yield "fastener", each.count, thread, _ends(each.hex), _stated(each.torque)
    for fuse in profile.fuses.values():
        yield "fuse", _stated(fuse.rating)
    for connector in profile.connectors.values():
        face = tuple(
            (number, pin.job, pin.sensor_wire, pin.harness_wire)
            for number, pin in sorted(connector.pins.items())
        )
        yield "connector", connector.rows, connector.columns, connector.latch, face
    for sensor in profile.sensors:
        for what, value in _of_sensor(sensor):
            yield "sensor", sensor.bank, sensor.position, what, value


def _of_sensor(sensor: Sensor) -> Iterator[tuple[str, Hashable]]:
    if cold := sensor.cold_resistance:
        yield "cold resistance", (_stated(cold), _ends(cold.at))
    if sensor.torque:
        yield "torque", _stated(sensor.torque)
    if sensor.curve:
        yield "curve", tuple(sensor.curve.points)
    if wire := sensor.supply_wire:
        yield "supply wire", (_ends(wire.size), _ends(wire.length))
    if sensor.minutes:
        yield "minutes", _ends(sensor.minutes)


def _stated(stated: Any) -> Hashable:
    return stated and _ends(stated.value)


def _ends(quantity: Any) -> Hashable:
    """Both ends of a quantity in its base unit, however they are written."""
    if quantity is None:
        return None
    low, high = (getattr(quantity, name) for name in quantity.__slots__[:2])
    return low, high


def _is_excepted(file: ProfileFile, other: ProfileFile) -> bool:
    return any(each.profile and excepts_near_copy(each.profile) for each in (file, other))


def _finding(file: ProfileFile, other: ProfileFile, share: float) -> Finding:
    assert file.vehicle is not None
    assert other.vehicle is not None
    return Finding(
        NEAR_COPY,
        Severity.WARNING,
        file.vehicle,
        f"{int(share * 100)} % of the specifications are those of {other.vehicle.file}.",
        "If the file began as a copy of it, put in this vehicle's own values. If the two share "
        "them, say so under `exceptions` of either.",
    )
