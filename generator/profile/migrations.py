"""Profiles of older formats brought to the present one, as text: comments and layout stay.

A migration says which words of the text become others. So it can be undone for a position: a
finding in the text brought up to date is shown where it stands in the file as it is.

To add one: raise ``FORMAT`` in ``model``, append a `Migration` to `MIGRATIONS`, and take out the
first of them once it has been read for a version.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import yaml

from generator.profile.finding import Finding, Place, Severity
from generator.profile.model import FORMAT
from generator.profile.source_text import Refused
from generator.profile.tree import Document, read_tree

_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+")
_NUMBER = re.compile(r"[1-9][0-9]{0,8}")


@dataclass(frozen=True, slots=True)
class Replacement:
    """Words within one line that become others; line and column count from 0."""

    line: int
    column: int
    length: int
    words: str


@dataclass(frozen=True, slots=True)
class Migration:
    """One step between formats: what changes in a profile, and a sentence that says so."""

    from_format: int
    to_format: int
    notice: str
    changes: Callable[[yaml.MappingNode], Iterator[Replacement]]


@dataclass(frozen=True, slots=True)
class Migrated:
    """A profile in the present format: its bytes, the migrations made, and the way back."""

    content: bytes
    document: Document
    steps: tuple[Migration, ...]
    replaced: tuple[tuple[Replacement, ...], ...]

    def place_before(self, place: Place, before: Document) -> Place:
        """Where a place in the migrated text stands in the text as it was."""
        column = place.column - 1
        for replacements in reversed(self.replaced):
            column = _column_before(place.line - 1, column, replacements)
        return before.at(place.line - 1, column)


def stated_format(document: Document) -> int | None:
    """The number of the format that a profile states, or None where it states none."""
    stated = document.data.get("format")
    return int(stated) if isinstance(stated, str) and _NUMBER.fullmatch(stated) else None


def newer_format(document: Document) -> Finding | None:
    """The one finding about a profile that a later version of the program wrote for."""
    stated = stated_format(document)
    if stated is None or stated <= FORMAT:
        return None
    return Finding(
        "newer-format",
        Severity.ERROR,
        document.place(("format",)),
        f"The profile is of format {stated}, and this version of the program reads format "
        f"{FORMAT} and older: install a newer version.",
    )


def migrated(document: Document, content: bytes) -> Migrated | None:
    """A profile brought to the present format; None where it is, or where no migration leads on.

    Raises:
        Refused: the migrated text is not read, such as one that has grown too large.
    """
    steps: list[Migration] = []
    replaced: list[tuple[Replacement, ...]] = []
    while step := _step_from(stated_format(document)):
        changes = (*_of_format(document.root, step), *step.changes(document.root))
        content = applied(content, changes)
        document, _ = read_tree(document.file, content)
        if stated_format(document) != step.to_format:
            return None  # The number is written in a way that cannot be replaced
        steps.append(step)
        replaced.append(changes)
    if not steps:
        return None
    return Migrated(content, document, tuple(steps), tuple(replaced))


def old_format(before: Document, done: Migrated) -> Finding:
    """The notice about a profile of an older format, with the command that mends it."""
    notices = " ".join(step.notice for step in done.steps)
    return Finding(
        "old-format",
        Severity.WARNING,
        before.place(("format",)),
        f"Format {done.steps[0].from_format} is read for this version only. {notices}",
        f"`sondebook migrate {before.file}` brings the file to format {FORMAT}.",
    )


def migrated_content(file: str, content: bytes) -> tuple[bytes, Finding | None]:
    """A profile's bytes in the present format, or as they are with what stands against it."""
    try:
        document, _ = read_tree(file, content)
        done = migrated(document, content)
    except Refused as refused:
        return content, refused.finding
    return (done.content if done else content), newer_format(document)


def _step_from(number: int | None) -> Migration | None:
    return next((step for step in MIGRATIONS if step.from_format == number), None)


def _of_format(root: yaml.MappingNode, step: Migration) -> Iterator[Replacement]:
    for key, value in root.value:
        if key.value == "format":
            yield from _in_place_of(value, str(step.to_format))


def _in_place_of(node: yaml.Node, words: str) -> Iterator[Replacement]:
    """A scalar replaced within its quotes; nothing where it does not stand on one line."""
    start, end = node.start_mark, node.end_mark
    if isinstance(node, yaml.ScalarNode) and start.line == end.line:
        quote = node.style or ""
        words = f"{quote}{words}{quote}"
        yield Replacement(start.line, start.column, end.column - start.column, words)


def applied(content: bytes, replacements: tuple[Replacement, ...]) -> bytes:
    """The content with words replaced; every other byte stays, line ends included."""
    mark = b"\xef\xbb\xbf" if content.startswith(b"\xef\xbb\xbf") else b""
    lines = _LINE.findall(content.decode("utf-8-sig"))
    for each in sorted(replacements, key=lambda one: one.column, reverse=True):
        line = lines[each.line]
        lines[each.line] = line[: each.column] + each.words + line[each.column + each.length :]
    return mark + "".join(lines).encode()


def _column_before(line: int, column: int, replacements: tuple[Replacement, ...]) -> int:
    """The column, from 0, that a column of the changed line had before."""
    shift = 0
    for each in sorted(replacements, key=lambda one: one.column):
        start = each.column + shift
        if each.line != line or column < start:
            continue
        if column < start + len(each.words):
            return each.column
        shift += len(each.words) - each.length
    return column - shift


def _readings_have_a_date(root: yaml.MappingNode) -> Iterator[Replacement]:
    for sensor in _items(_value(root, "sensors")):
        for reading in _items(_value(sensor, "readings")):
            # With both keys one of the two is wrong, and only a person knows which
            if _value(reading, "date") is None and isinstance(reading, yaml.MappingNode):
                for key, _ in reading.value:
                    if key.value == "on":
                        yield from _in_place_of(key, "date")


def _value(node: yaml.Node | None, key: str) -> yaml.Node | None:
    if not isinstance(node, yaml.MappingNode):
        return None
    return next((value for each, value in node.value if each.value == key), None)


def _items(node: yaml.Node | None) -> list[yaml.Node]:
    return node.value if isinstance(node, yaml.SequenceNode) else []


MIGRATIONS: tuple[Migration, ...] = (
    Migration(
        1,
        2,
        "A reading's `on` is called `date` now, because many tools read `on` as a yes.",
        _readings_have_a_date,
    ),
)
"""Every migration there is, in order; each leads to the next number."""
