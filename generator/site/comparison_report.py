"""A comparison written for a person: at a terminal, or in a comment on a change."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from gettext import NullTranslations
from itertools import chain
from typing import Final

from generator.guide.figures import breakable
from generator.profile.difference import ABSENT
from generator.profile.excerpt import excerpt
from generator.profile.photo_file import PhotoFile
from generator.profile.tree import Data
from generator.site.comparison import (
    MOST_ALONE,
    Comparison,
    Effect,
    StatedValue,
    ValueChange,
    VehicleChange,
)
from generator.site.page_change import Kind, PageChange
from generator.site.photo_change import PhotoChange

MOST_LETTERS: Final = 160
MOST_ALIKE: Final = 4
"""More pages of no vehicle than these that change in the same part are told on one line."""
LONGEST_COMMENT: Final = 60_000
"""Letters that a comment may have; forges take some 65,000 (common practice, no source)."""

_ENGLISH: Final = NullTranslations()
_BACKTICKS = re.compile("`+")


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of a report: how deep it is set in, our words with named gaps, and what fills them.

    ``theirs`` is what someone else wrote, and is quoted; ``ours`` is not.
    """

    depth: int
    words: str
    theirs: Mapping[str, str] = field(default_factory=dict)
    ours: Mapping[str, str] = field(default_factory=dict)

    def told(self, quoted: Callable[[str], str]) -> str:
        """The line with each gap filled."""
        return self.words % {
            **self.ours,
            **{gap: quoted(text) for gap, text in self.theirs.items()},
        }


def as_text(comparison: Comparison, t: NullTranslations = _ENGLISH) -> str:
    """For a person at a terminal."""
    teller = _Teller(t)
    blocks = [
        "".join(f"{'  ' * line.depth}{line.told(_plain)}\n" for line in lines)
        for lines in teller.blocks(comparison)
    ]
    return "\n".join((*blocks, f"{teller.summary(comparison)}\n"))


def as_markdown(comparison: Comparison, t: NullTranslations = _ENGLISH) -> str:
    """For a comment on a proposed change, in CommonMark.

    What others wrote stands in code spans, where it is no markup, no link, and calls nobody.
    """
    teller = _Teller(t)
    left = LONGEST_COMMENT
    blocks, cut = [], 0
    for lines in teller.blocks(comparison):
        head, *rest = (line.told(_quoted) for line in lines)
        depths = (line.depth for line in lines[1:])
        items = "".join(f"{'  ' * (n - 1)}- {each}\n" for n, each in zip(depths, rest, strict=True))
        block = f"### {head}\n\n{items}"
        left -= len(block)
        if left > 0:
            blocks.append(block)
        else:
            cut += 1
    if cut:
        blocks.append(f"{teller.cut(cut)}\n")
    return "\n".join((*blocks, f"{teller.summary(comparison)}\n"))


class _Teller:
    """Tells a comparison in one language, line by line."""

    def __init__(self, t: NullTranslations) -> None:
        self._t = t
        _ = t.gettext
        self._kinds = {
            Kind.NEW: _("new"),
            Kind.CHANGED: _("changed"),
            Kind.REMOVED: _("removed"),
            Kind.RENAMED: _("renamed"),
        }
        self._said_of_photos = {
            "file": _("file"),
            "at": _("beside"),
            "caption": _("caption"),
            "shows": _("alternative text"),
        }

    def blocks(self, comparison: Comparison) -> Iterator[list[_Line]]:
        """A block of lines for each vehicle, and one for the pages of none."""
        for vehicle in comparison.vehicles:
            yield list(self._vehicle(vehicle))
        if comparison.pages:
            head = _Line(0, self._t.gettext("Pages of no single vehicle"))
            yield [head, *self._alike(comparison.pages)]

    def summary(self, comparison: Comparison) -> str:
        """The last line: how much changes."""
        _, vehicles = self._t.gettext, comparison.vehicles
        if not vehicles and not comparison.pages:
            nothing = self._t.ngettext(
                "Nothing changes in %(count)s profile.",
                "Nothing changes in %(count)s profiles.",
                comparison.profiles,
            )
            return nothing % {"count": comparison.profiles}
        pages = len(list(chain(comparison.pages, *(each.pages for each in vehicles))))
        failing = sum(each.fails for each in vehicles)
        said = (
            _("%(vehicles)s of %(all)s with changes, %(pages)s; %(profiles)s not built.")
            if failing
            else _("%(vehicles)s of %(all)s with changes, %(pages)s.")
        )
        ngettext, count = self._t.ngettext, len(vehicles)
        return said % {
            "vehicles": ngettext("%(count)s vehicle", "%(count)s vehicles", count)
            % {"count": count},
            "all": comparison.profiles,
            "pages": self._page_count(pages),
            "profiles": ngettext("%(count)s profile", "%(count)s profiles", failing)
            % {"count": failing},
        }

    def cut(self, count: int) -> str:
        """What stands in place of blocks that do not fit."""
        said = self._t.ngettext(
            "%(count)s more part of this comparison did not fit here.",
            "%(count)s more parts of this comparison did not fit here.",
            count,
        )
        return said % {"count": count}

    def _vehicle(self, vehicle: VehicleChange) -> Iterator[_Line]:
        _ = self._t.gettext
        yield self._headline(vehicle)
        for fault in vehicle.faults:
            yield _Line(1, "%(fault)s", {"fault": fault})
        yield from map(self._stated, vehicle.stated)
        is_alone = not vehicle.faults and _looked_at(vehicle) <= MOST_ALONE
        for value in vehicle.values:
            yield from self._value(value, is_alone)
        for photo in vehicle.photos:
            yield from self._photo(photo, is_alone)
        if _looked_at(vehicle) > MOST_ALONE:
            said = _("More than %(count)s values: what each does alone is not worked out.")
            yield _Line(1, said, ours={"count": str(MOST_ALONE)})
        alone = {effect for value in vehicle.values for effect in value.effects}
        if together := [effect for effect in vehicle.effects if effect not in alone]:
            yield _Line(1, _("All together"))
            yield from map(self._effect, together)
        for warning in vehicle.warnings:
            told = {"rule": warning.rule, "message": warning.message}
            yield _Line(1, _("new warning [%(rule)s] %(message)s"), told)
        for warning in vehicle.settled:
            told = {"rule": warning.rule, "message": warning.message}
            yield _Line(1, _("settled warning [%(rule)s] %(message)s"), told)
        if vehicle.pages:
            yield _Line(1, self._page_count(len(vehicle.pages)))
            yield from self._pages(vehicle.pages, 2)
        elif not vehicle.faults:
            yield _Line(1, _("No page changes."))

    def _headline(self, vehicle: VehicleChange) -> _Line:
        words, theirs = "%(slug)s", {"slug": vehicle.slug}
        renamed = self._t.gettext("(renamed: its addresses change)")
        if vehicle.kind is Kind.RENAMED:
            words, theirs["was"] = self._t.gettext("%(slug)s, before %(was)s"), vehicle.was
        if vehicle.name:
            words, theirs["name"] = f"{words}: %(name)s", vehicle.name
        if vehicle.kind is Kind.RENAMED:
            words = f"{words} {renamed}"
        elif vehicle.kind is not Kind.CHANGED:
            return _Line(0, f"{words} (%(kind)s)", theirs, {"kind": self._kinds[vehicle.kind]})
        return _Line(0, words, theirs)

    def _stated(self, stated: StatedValue) -> _Line:
        theirs = {"at": stated.at, "value": _short(stated.value), "source": _short(stated.source)}
        if stated.source:
            return _Line(1, self._t.gettext("%(at)s: %(value)s, from %(source)s"), theirs)
        return _Line(1, self._t.gettext("%(at)s: %(value)s, without a source"), theirs)

    def _value(self, value: ValueChange, is_alone: bool) -> Iterator[_Line]:
        difference = value.difference
        sides = [
            None if side is ABSENT else _short(_flow(side))
            for side in (difference.before, difference.after)
        ]
        yield self._from_to(_Line(1, "%(at)s", {"at": difference.at}), *sides)
        yield from map(self._effect, value.effects)
        yield from self._on(value.pages, is_alone)

    def _photo(self, photo: PhotoChange, is_alone: bool) -> Iterator[_Line]:
        _ = self._t.gettext
        told = {"file": photo.file}
        if photo.kind is Kind.CHANGED:
            yield _Line(1, _("photo %(file)s"), told)
        else:
            kind = {"kind": self._kinds[photo.kind]}
            yield _Line(1, _("photo %(file)s") + " (%(kind)s)", told, kind)
        if photo.is_another_picture:
            yield self._picture(photo)
        for key, before, after in photo.traits:
            sides = (_short(side) if side else None for side in (before, after))
            what = {"what": self._said_of_photos[key]}
            yield self._from_to(_Line(2, "%(what)s", ours=what), *sides)
        yield from self._on(photo.pages, is_alone)

    def _picture(self, photo: PhotoChange) -> _Line:
        _, old, new = self._t.gettext, photo.picture_before, photo.picture_after
        if old and new and _size(old) == _size(new):
            said = _("picture: another one of the same size, %(size)s pixels")
            return _Line(2, said, ours={"size": _size(new)})
        sides = (
            _("%(size)s pixels") % {"size": _size(each)} if each else _("nothing")
            for each in (old, new)
        )
        before, after = sides
        said = "%(what)s: %(before)s → %(after)s"
        return _Line(2, said, ours={"what": _("picture"), "before": before, "after": after})

    def _on(self, pages: tuple[str, ...] | None, is_alone: bool) -> Iterator[_Line]:
        """Where something by itself is seen."""
        _ = self._t.gettext
        if pages:
            files = ", ".join(path.rpartition("/")[2].removesuffix(".html") for path in pages)
            yield _Line(2, _("on %(pages)s"), {"pages": files})
        elif pages is not None:
            yield _Line(2, _("on no page"))
        elif is_alone:
            yield _Line(2, _("only together with other values"))

    def _effect(self, effect: Effect) -> _Line:
        line = _Line(2, "%(what)s", ours={"what": effect.what})
        return self._from_to(line, effect.before or None, effect.after or None)

    def _from_to(self, line: _Line, before: str | None, after: str | None) -> _Line:
        """A line that goes on with what was and what is; None is nothing."""
        theirs, ours = {**line.theirs}, {**line.ours}
        for gap, side in (("before", before), ("after", after)):
            if side is None:
                ours[gap] = self._t.gettext("nothing")
            else:
                theirs[gap] = side
        return _Line(line.depth, f"{line.words}: %(before)s → %(after)s", theirs, ours)

    def _alike(self, pages: Sequence[PageChange]) -> Iterator[_Line]:
        """Pages of which many change in the same part, such as those of the codes, on one line."""
        by_part: dict[tuple[str, ...], list[PageChange]] = {}
        for page in pages:
            by_part.setdefault((page.kind, *page.parts), []).append(page)
        for (kind, *parts), alike in by_part.items():
            if kind != Kind.CHANGED or len(alike) <= MOST_ALIKE:
                yield from self._pages(alike, 1)
                continue
            paths = ", ".join(page.path.removesuffix(".html") for page in alike)
            yield _Line(1, "%(paths)s: %(parts)s", {"paths": paths, "parts": "; ".join(parts)})

    def _pages(self, pages: Iterable[PageChange], depth: int) -> Iterator[_Line]:
        for page in pages:
            theirs = {"path": page.path, "title": page.title}
            if page.kind is Kind.CHANGED:
                theirs["parts"] = "; ".join(page.parts)
                yield _Line(depth, "%(path)s %(title)s: %(parts)s", theirs)
            else:
                ours = {"kind": self._kinds[page.kind]}
                yield _Line(depth, "%(path)s %(title)s (%(kind)s)", theirs, ours)

    def _page_count(self, count: int) -> str:
        return self._t.ngettext("%(count)s page", "%(count)s pages", count) % {"count": count}


def _looked_at(vehicle: VehicleChange) -> int:
    """How many values and photos would each take a build."""
    return len(vehicle.values) + len(vehicle.photos)


def _size(picture: PhotoFile) -> str:
    return f"{picture.width_px} × {picture.height_px}"


def _flow(data: Data) -> str:
    """A value on one line, as YAML's flow style has it."""
    if isinstance(data, dict):
        return "{" + ", ".join(f"{key}: {_flow(each)}" for key, each in data.items()) + "}"
    if isinstance(data, list):
        return "[" + ", ".join(map(_flow, data)) + "]"
    return data or ""


def _short(text: str) -> str:
    return excerpt(text, MOST_LETTERS)


def _plain(text: str) -> str:
    """A text on one line, of which a terminal shows every character and acts on none."""
    line = " ".join(breakable(text).split()) or "-"
    return "".join(each if each.isprintable() else "?" for each in line)


def _quoted(text: str) -> str:
    """A text as a code span of CommonMark 0.31, section 6.1: its fence is longer than any in it."""
    line = _plain(text)
    longest = max(map(len, _BACKTICKS.findall(line)), default=0)
    fence = "`" * (longest + 1)
    space = " " if longest else ""
    return f"{fence}{space}{line}{space}{fence}"
