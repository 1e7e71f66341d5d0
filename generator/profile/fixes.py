"""Safe mends of a profile's text: what cannot change what it means. Comments and layout stay.

Mended are the spelling of units, decimal commas that cannot be marks of thousands, characters that
came along unseen, typographic quotation marks round a value, words that the format has retired, and
the order of keys. Done twice, nothing more changes.
"""

from __future__ import annotations

from codecs import BOM_UTF8
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, Final

import yaml

from generator.profile.characters import slip, without_slips
from generator.profile.dimension import Dimension
from generator.profile.excerpt import named
from generator.profile.finding import printable
from generator.profile.key_order import Moved, in_model_order
from generator.profile.migrations import Replacement, applied, stated_format
from generator.profile.model import FORMAT
from generator.profile.model_walk import part_nodes, quantity_nodes
from generator.profile.nodes import values
from generator.profile.part import Part
from generator.profile.quantity import NotAQuantity, read_quantity, respelt, with_points
from generator.profile.quotation import straight_mark
from generator.profile.source_text import Refused
from generator.profile.tree import Document, read_tree


@dataclass(frozen=True, slots=True)
class Retired:
    """A word of the format that another one took the place of, with the same meaning.

    With ``key`` it is a word that stood at that key of a part; without, it is a key itself.
    """

    part: type[Part]
    was: str
    now: str
    key: str = ""


RETIRED: Final[tuple[Retired, ...]] = ()
"""None so far. One is added where a word gets a better name without a new format."""


@dataclass(frozen=True, slots=True)
class Mend:
    """What one mend changed: the line, from 1, where it stood, the words there, and those now."""

    line: int
    was: str
    now: str

    def __str__(self) -> str:
        """The mend as it is printed."""
        became = f"is now {named(printable(self.now))}" if self.now else "is deleted"
        return f"{named(printable(self.was))} {became}."


@dataclass(frozen=True, slots=True)
class Fixed:
    """A profile's bytes, mended, and each mend in the order of the lines."""

    content: bytes
    mends: tuple[Mend, ...] = ()


def fixed(content: bytes, retired: Sequence[Retired] = RETIRED) -> Fixed:
    """A profile, mended; as it is, where it is no profile of this format."""
    try:
        after = _without_slips(content)
        document, _ = read_tree("", after)
    except (Refused, UnicodeDecodeError):
        return Fixed(content)
    if stated_format(document) != FORMAT:
        return Fixed(content)
    mends = [*_slips(content)]
    for changes in (_quotes, _quantities, partial(_words, retired=retired)):
        replacements = tuple(changes(document))
        mends += (_mend(document, each) for each in replacements)
        after = applied(after, replacements)
        document, _ = read_tree("", after)
    after, moved = in_model_order(after)
    mends += (_mend_of_order(document, each) for each in moved)
    return Fixed(after, tuple(sorted(mends, key=lambda each: each.line)))


def _mend(document: Document, done: Replacement) -> Mend:
    line = document.lines[done.line]
    return Mend(done.line + 1, line[done.column : done.column + done.length], done.words)


def _mend_of_order(document: Document, moved: Moved) -> Mend:
    """The keys from the first to the last that stand elsewhere now, where the first stood."""
    differs = [was != now for was, now in zip(moved.was, moved.now, strict=True)]
    first, end = differs.index(True), len(differs) - differs[::-1].index(True)
    was, now = (", ".join(keys[first:end]) for keys in (moved.was, moved.now))
    place = document.place((*moved.path, moved.was[first]), at_key=True)
    return Mend(place.line, was, now)


def _slips(content: bytes) -> Iterator[Mend]:
    for number, line in enumerate(content.decode("utf-8-sig").splitlines(), start=1):
        for found in sorted({each for each in line if slip(each)}):
            yield Mend(number, f"U+{ord(found):04X}", "")


def _without_slips(content: bytes) -> bytes:
    mark = BOM_UTF8 if content.startswith(BOM_UTF8) else b""
    return mark + without_slips(content.decode("utf-8-sig")).encode()


def _quotes(document: Document) -> Iterator[Replacement]:
    """Straight quotation marks in place of the typographic ones that the tree is read without."""
    for _, node in values(document.root):
        start, end, mark = node.start_mark, node.end_mark, straight_mark(node.value)
        is_read_as_quoted = node.style == '"' and document.lines[start.line][start.column] != '"'
        if not (is_read_as_quoted and mark):
            continue
        if start.line == end.line:
            inner = document.lines[start.line][start.column + 1 : end.column - 1]
            length = end.column - start.column
            yield Replacement(start.line, start.column, length, f"{mark}{inner}{mark}")
        else:
            yield Replacement(start.line, start.column, 1, mark)
            yield Replacement(end.line, end.column - 1, 1, mark)


def _quantities(document: Document) -> Iterator[Replacement]:
    for node, dimension in quantity_nodes(document.root):
        mended = _mended(node.value, dimension)
        if mended != node.value:
            yield from _in_place_of(document, node, mended)


def _mended(text: str, dimension: Dimension[Any]) -> str:
    """A quantity as it is spelt here, if that states what it stated."""
    pointed = with_points(text)
    spelt = respelt(pointed, dimension)
    try:
        before, after = (read_quantity(each.strip(), dimension) for each in (pointed, spelt))
    except NotAQuantity:
        return text
    low, high, _ = dimension.value.__slots__  # type: ignore[attr-defined]
    same = all(getattr(before, end) == getattr(after, end) for end in (low, high))
    return spelt if same else text


def _words(document: Document, retired: Sequence[Retired]) -> Iterator[Replacement]:
    if not retired:
        return
    for _path, node, part in part_nodes(document.root):
        keys = {key.value for key, _ in node.value}
        for each in retired:
            if each.part is not part:
                continue
            for key, value in node.value:
                if not each.key and key.value == each.was and each.now not in keys:
                    yield from _in_place_of(document, key, each.now)
                elif each.key and key.value == each.key and value.value == each.was:
                    yield from _in_place_of(document, value, each.now)


def _in_place_of(document: Document, node: yaml.Node, words: str) -> Iterator[Replacement]:
    """A scalar replaced within its quotes; nothing where it is not written as it is read."""
    start, end = node.start_mark, node.end_mark
    if not isinstance(node, yaml.ScalarNode) or start.line != end.line:
        return
    quotes = 1 if node.style in ("'", '"') else 0
    first, last = start.column + quotes, end.column - quotes
    if document.lines[start.line][first:last] == node.value:
        yield Replacement(start.line, first, last - first, words)
