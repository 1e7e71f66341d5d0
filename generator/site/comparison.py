"""What changes on the published pages between two states of the profiles, value by value.

Nothing here knows which key goes to which page. Both states are built and compared; to tell what
one value does, the older state is built once more with that value alone changed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from gettext import NullTranslations
from pathlib import PurePosixPath

from generator.guide.catalogue import by_make
from generator.guide.pages import vehicle_pages
from generator.guide.vehicle import Vehicle
from generator.profile.difference import Difference, differences, with_only, without
from generator.profile.finding import Finding, Severity
from generator.profile.model import Profile
from generator.profile.near_copy import ALIKE, share, stated_values
from generator.profile.reading import ProfileFile, checked, data_of, read_text
from generator.profile.revision import Stand
from generator.profile.tree import Data
from generator.site.collection import Collection
from generator.site.computed import computed_values
from generator.site.page_change import (
    Kind,
    PageChange,
    Published,
    changed_paths,
    page_changes,
)
from generator.site.renderer import Renderer

MOST_ALONE = 60
"""More values than these are not looked at one by one: each takes a build of its vehicle."""


@dataclass(frozen=True, slots=True)
class Effect:
    """Something computed that comes out otherwise; empty where there is nothing to compute."""

    what: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class ValueChange:
    """One value, and what it does by itself; ``pages`` is None where it does nothing alone."""

    difference: Difference
    effects: tuple[Effect, ...]
    pages: tuple[str, ...] | None


@dataclass(frozen=True, slots=True)
class VehicleChange:
    """What became of one vehicle.

    ``was`` is its slug before it was renamed. ``faults`` are sentences that say which side was not
    built, and why. ``warnings`` are those of the check that come, and ``settled`` those that go.
    """

    kind: Kind
    slug: str
    name: str
    was: str = ""
    values: tuple[ValueChange, ...] = ()
    effects: tuple[Effect, ...] = ()
    pages: tuple[PageChange, ...] = ()
    faults: tuple[str, ...] = ()
    warnings: tuple[Finding, ...] = ()
    settled: tuple[Finding, ...] = ()
    fails: bool = False


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two states of the profiles: what they are called, how many there are, what changes."""

    old: str
    new: str
    profiles: int
    vehicles: tuple[VehicleChange, ...]
    pages: tuple[PageChange, ...] = ()
    """Pages of no single vehicle: the lists, the fault codes."""

    @property
    def fails(self) -> bool:
        """Whether a profile of the newer state cannot be built."""
        return any(each.fails for each in self.vehicles)


@dataclass(frozen=True, slots=True)
class _Read:
    """A profile on one side."""

    content: bytes
    file: ProfileFile
    data: dict[str, Data] | None


def compared(old: Stand, new: Stand, renderer: Renderer) -> Comparison:
    """What changes from one state to the other; both are files, or both are collections.

    Vehicles come by slug, and the values of each by the first page that they change.
    """
    if old.is_file:
        (name,), (content,) = new.contents, old.contents.values()
        old = replace(old, contents={name: content})
    before = _read(old)
    after = _read(new, before)
    renamed = {} if new.is_file else _renamed(before, after)
    comparer = _Comparer(renderer)
    vehicles = [
        comparer.vehicle(slug, was := renamed.get(slug, slug), before.get(was), after.get(slug))
        for slug in sorted({*before, *after} - set(renamed.values()))
        if slug in renamed or not _is_same(before.get(slug), after.get(slug))
    ]
    pages = [] if new.is_file else comparer.site_pages(before, after)
    count = len({*before, *after} - set(renamed.values()))
    return Comparison(old.shown_as, new.shown_as, count, tuple(vehicles), tuple(pages))


def _read(stand: Stand, known: Mapping[str, _Read] | None = None) -> dict[str, _Read]:
    read = {}
    for name, content in sorted(stand.contents.items()):
        slug = PurePosixPath(name).stem
        same = known.get(slug) if known else None
        if same and same.content == content:
            read[slug] = same
        else:
            read[slug] = _Read(content, read_text(content, name, slug), data_of(content, name))
    return read


def _is_same(one: _Read | None, other: _Read | None) -> bool:
    return one is not None and other is not None and one.content == other.content


def _renamed(before: Mapping[str, _Read], after: Mapping[str, _Read]) -> dict[str, str]:
    """By slug that is new: the slug that went, where both are of one vehicle."""
    gone = {slug: before[slug].file.profile for slug in before if slug not in after}
    found: dict[str, str] = {}
    for slug, read in after.items():
        profile = read.file.profile
        if slug in before or profile is None:
            continue
        likely = {each: _likeness(other, profile) for each, other in gone.items() if other}
        best = max(likely, key=lambda each: likely[each], default="")
        if best and likely[best] >= ALIKE:
            found[slug] = best
            del gone[best]
    return found


def _likeness(old: Profile, new: Profile) -> float:
    if old.vehicle == new.vehicle and old.engine == new.engine:
        return 1.0
    values, others = stated_values(old), stated_values(new)
    return share(values, others) if values and others else 0.0


@dataclass(frozen=True, slots=True)
class _Built:
    """A vehicle built on one side: its pages, and what is computed for it."""

    name: str
    pages: Published
    computed: Mapping[str, str]


class _Comparer:
    """Builds and compares vehicles with one renderer."""

    def __init__(self, renderer: Renderer) -> None:
        self._renderer = renderer
        self._t = NullTranslations()

    def site_pages(
        self, before: Mapping[str, _Read], after: Mapping[str, _Read]
    ) -> list[PageChange]:
        """The pages of no single vehicle that differ."""
        return page_changes(*(self._site_pages(read) for read in (before, after)))

    def vehicle(self, slug: str, was: str, old: _Read | None, new: _Read | None) -> VehicleChange:
        """What became of one vehicle."""
        kind = Kind.RENAMED if slug != was else Kind.CHANGED
        if old is None or new is None:
            kind = Kind.NEW if old is None else Kind.REMOVED
        # Under one slug, so that a rename does not make every page another one
        before, after = (
            self._built(slug, each.file.profile if each else None) for each in (old, new)
        )
        built = after or before
        warnings, settled = _findings(old, new)
        change = VehicleChange(
            kind,
            slug,
            built.name if built else "",
            was if slug != was else "",
            faults=_faults(old, new),
            warnings=warnings,
            settled=settled,
            fails=new is not None and new.file.profile is None,
        )
        if old and new:
            change = replace(change, values=self._values(slug, old, new, before, after))
        if before and after:
            effects = _effects(before, after)
            change = replace(change, effects=effects)
        elif old and new:
            return change
        none = Published((), self._renderer)
        sides = (each.pages if each else none for each in (before, after))
        return replace(change, pages=tuple(page_changes(*sides)))

    def _values(
        self, slug: str, old: _Read, new: _Read, before: _Built | None, after: _Built | None
    ) -> tuple[ValueChange, ...]:
        if old.data is None or new.data is None:
            return ()
        found = differences(old.data, new.data)
        if before is None or after is None or len(found) > MOST_ALONE:
            return tuple(ValueChange(each, (), None) for each in found)
        order = {path: n for n, path in enumerate((*after.pages.pages, *before.pages.pages))}
        changes = []
        for each in found:
            made = self._built(slug, checked(with_only(old.data, new.data, each)))
            undone = None if made else self._built(slug, checked(without(old.data, new.data, each)))
            if made:
                changes.append(_alone(each, before, made))
            else:
                changes.append(
                    _alone(each, undone, after) if undone else ValueChange(each, (), None)
                )
        return tuple(
            sorted(changes, key=lambda each: order[each.pages[0]] if each.pages else len(order))
        )

    def _built(self, slug: str, profile: Profile | None) -> _Built | None:
        if profile is None:
            return None
        vehicle = Vehicle(slug, profile, self._t)
        pages = Published(vehicle_pages(vehicle), self._renderer)
        return _Built(vehicle.name, pages, computed_values(vehicle))

    def _site_pages(self, read: Mapping[str, _Read]) -> Published:
        vehicles = (
            Vehicle(slug, each.file.profile, self._t)
            for slug, each in read.items()
            if each.file.profile
        )
        return Published(Collection(by_make(vehicles), self._t).site_pages(), self._renderer)


def _alone(difference: Difference, before: _Built, after: _Built) -> ValueChange:
    """What lies between two builds that one value tells apart."""
    paths = changed_paths(before.pages, after.pages)
    return ValueChange(difference, _effects(before, after), tuple(paths))


def _effects(before: _Built, after: _Built) -> tuple[Effect, ...]:
    old, new = before.computed, after.computed
    return tuple(
        Effect(what, old.get(what, ""), new.get(what, ""))
        for what in dict.fromkeys((*old, *new))
        if old.get(what, "") != new.get(what, "")
    )


def _faults(old: _Read | None, new: _Read | None) -> tuple[str, ...]:
    sides = (("older", old), ("newer", new))
    return tuple(
        f"The {side} profile fails its check, so its pages are not built: {_first_error(read.file)}"
        for side, read in sides
        if read and read.file.profile is None
    )


def _first_error(file: ProfileFile) -> str:
    errors = [each for each in file.findings if each.severity is Severity.ERROR]
    first, more = errors[0], len(errors) - 1
    said = f"line {first.place.line} [{first.rule}] {first.message}"
    return f"{said} And {more} more." if more else said


def _findings(
    old: _Read | None, new: _Read | None
) -> tuple[tuple[Finding, ...], tuple[Finding, ...]]:
    """The warnings that come, and those that go; places move with every edit and do not count."""
    before, after = (
        {
            (finding.rule, finding.at, finding.message): finding
            for finding in (read.file.findings if read and read.file.profile else ())
        }
        for read in (old, new)
    )
    return (
        tuple(after[key] for key in after if key not in before),
        tuple(before[key] for key in before if key not in after),
    )
