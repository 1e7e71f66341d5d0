"""A guide as posts for a forum, cut at its limit: each can be read alone.

A caution is in the post of its step. A post that goes on within a part says which one, and once
more what can hurt there: who reads it may not have read the one before.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from gettext import NullTranslations
from pathlib import Path
from urllib.parse import quote

from generator.guide.vehicle import Vehicle, page_path
from generator.profile import read_profile
from generator.profile.finding import nearest
from generator.profile.folder import profile_paths
from generator.profile.sensor_model import Sensor
from generator.site.forum_markup import MARKUPS, Markup
from generator.site.post_blocks import (
    Block,
    Heading,
    Items,
    Table,
    Warn,
    blocks,
)

LEAST_LIMIT = 2000
"""The shortest post that the longest step fits into, with the cautions before it, nearly always."""

_UNKNOWN_NUMBER = 99


class CannotPost(Exception):
    """There is nothing to post, or it does not fit; the message is a sentence."""


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands around each post: its title, and the address that it leads back to, or none."""

    title: str
    address: str
    t: NullTranslations

    def around(self, markup: Markup, body: str, number: int, of: int) -> str:
        """A whole post."""
        _ = self.t.gettext
        told = {"title": self.title, "number": number, "of": of}
        title = _("%(title)s (%(number)s of %(of)s)") % told if of > 1 else self.title
        lines = [markup.title(title), body]
        if self.address:
            label = _("The whole guide, with drawings and later corrections")
            lines.append(markup.link(label, self.address))
        return "\n\n".join(lines) + "\n"


def posts(row: Sequence[Block], frame: Frame, markup: Markup, limit: int | None) -> list[str]:
    """The posts, each at most ``limit`` characters long; one of any length without a limit.

    Raises:
        CannotPost: a step, or a row of a table, does not fit into a post with its cautions.
    """
    groups = list(_groups(row))
    if limit is None:
        return [frame.around(markup, _body(markup, [each for one in groups for each in one]), 1, 1)]
    room = limit - len(frame.around(markup, "", _UNKNOWN_NUMBER, _UNKNOWN_NUMBER))
    bodies = list(_bodies(groups, frame.t, markup, room))
    return [
        frame.around(markup, body, number, len(bodies))
        for number, body in enumerate(bodies, start=1)
    ]


def _groups(row: Sequence[Block]) -> Iterator[list[Block]]:
    """Blocks that stay together: headings and cautions with what they stand before."""
    group: list[Block] = []
    for block in row:
        group.append(block)
        if not isinstance(block, Heading | Warn):
            yield group
            group = []
    if group:
        yield group


@dataclass(frozen=True, slots=True)
class _Part:
    """A part that the text is in: its heading, and what has been said to hurt since."""

    heading: Heading
    cautions: tuple[Warn, ...] = ()


def _open_after(parts: tuple[_Part, ...], group: Sequence[Block]) -> tuple[_Part, ...]:
    """The parts that are open after a group, the outermost first."""
    for block in group:
        if isinstance(block, Heading):
            parts = (*_outside(parts, block), _Part(block))
        elif isinstance(block, Warn) and parts:
            parts = (*parts[:-1], replace(parts[-1], cautions=(*parts[-1].cautions, block)))
    return parts


def _outside(parts: tuple[_Part, ...], heading: Heading) -> tuple[_Part, ...]:
    return tuple(each for each in parts if each.heading.level < heading.level)


def _bodies(
    groups: Sequence[list[Block]], t: NullTranslations, markup: Markup, room: int
) -> Iterator[str]:
    todo = list(groups)[::-1]
    parts: tuple[_Part, ...] = ()
    taken: list[Block] = []
    is_begun = False
    while todo:
        group = todo.pop()
        if len(_body(markup, [*taken, *group])) <= room:
            taken += group
            is_begun = True
            parts = _open_after(parts, group)
            continue
        if is_begun:
            yield _body(markup, taken)
            taken, is_begun = _resumed(parts, group, t), False
        elif _can_be_cut(group):
            group, rest = _halves(group)
            todo.append(rest)
        elif taken:
            # Rather without what went before than not at all; what hurts at the step itself stays
            taken = []
        else:
            raise CannotPost(
                "a step with its cautions is longer than a post may be; raise the limit."
            )
        todo.append(group)
    if is_begun:
        yield _body(markup, taken)


def _resumed(parts: tuple[_Part, ...], group: list[Block], t: NullTranslations) -> list[Block]:
    """What a post begins with that goes on within parts: which they are, and what hurts there."""
    first = next((each for each in group if isinstance(each, Heading)), None)
    words = t.gettext("%(heading)s, continued")
    row: list[Block] = []
    for part in _outside(parts, first) if first else parts:
        row.append(replace(part.heading, text=words % {"heading": part.heading.text}))
        row += part.cautions
    return row


def _can_be_cut(group: Sequence[Block]) -> bool:
    match group[-1]:
        case Items(lines) | Table(rows=lines):
            return len(lines) > 1
    return False


def _halves(group: list[Block]) -> tuple[list[Block], list[Block]]:
    """A group that can be cut in two, its cautions in the first."""
    *before, last = group
    match last:
        case Items(lines):
            middle = len(lines) // 2
            return [*before, Items(lines[:middle])], [Items(lines[middle:])]
        case Table(rows=rows):
            middle = len(rows) // 2
            return [*before, replace(last, rows=rows[:middle])], [replace(last, rows=rows[middle:])]
    raise TypeError(last)


def _body(markup: Markup, row: Sequence[Block]) -> str:
    return "\n\n".join(markup.block(block) for block in row)


def vehicle_to_post(folder: Path, slug: str, t: NullTranslations) -> Vehicle:
    """A vehicle by the name of its profile in a folder, with or without `.yml`, or its path.

    Raises:
        CannotPost: there is no such profile, or it has errors.
        OSError: the profile cannot be read.
    """
    slug = Path(slug).name.removesuffix(".yml").removesuffix(".yaml")
    profiles = {path.stem: path for path in profile_paths(folder)}
    if slug not in profiles:
        near = nearest(slug, profiles)
        hint = f" Did you mean {near}?" if near else ""
        raise CannotPost(f"there is no profile {slug}.yml in {folder}.{hint}")
    read = read_profile(profiles[slug])
    if read.profile is None:
        raise CannotPost(f"{profiles[slug]} has errors: run `sondebook check`.")
    return Vehicle(slug, read.profile, t, photos=read.photos)


def chosen(vehicle: Vehicle, wanted: Sequence[str]) -> list[Sensor]:
    """The sensors that are named so, such as ``1.2``, each once; all of them where none is named.

    Raises:
        CannotPost: there is no such sensor.
    """
    named = {f"{each.bank}.{each.position}": each for each in vehicle.sensors}
    for name in wanted:
        if name not in named:
            raise CannotPost(f"{vehicle.slug} has no sensor {name}; it has {', '.join(named)}.")
    return [named[name] for name in dict.fromkeys(wanted or named)]


def vehicle_posts(
    vehicle: Vehicle, wanted: Sequence[str], form: str, limit: int | None, address: str
) -> list[str]:
    """The posts of a vehicle; ``wanted`` are sensors such as ``1.2``, or none for all.

    ``form`` is one of `MARKUPS`; ``address`` is the site's, with a slash at its end, or empty.

    Raises:
        CannotPost: there is no such sensor, or a step does not fit.
    """
    sensors = chosen(vehicle, wanted)
    back = f"{address}{quote(page_path(vehicle.slug))}" if address else ""
    title = f"{vehicle.name}, {vehicle.years}"
    if vehicle.profile.is_draft:
        title = vehicle.t.gettext("DRAFT: %(title)s") % {"title": title}
    frame = Frame(title, back, vehicle.t)
    return posts(list(blocks(vehicle, sensors)), frame, MARKUPS[form], limit)
