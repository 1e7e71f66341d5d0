"""The keys of each part brought into the order of the model, whole lines at a time.

A key goes with the lines below it and with the comments right above it; blank lines stay where they
are. A part is left alone where it is not plain which comment belongs to which key.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

import yaml

from generator.profile.finding import Path
from generator.profile.model_walk import part_nodes
from generator.profile.nodes import last_line
from generator.profile.part import Part
from generator.profile.source_text import Refused
from generator.profile.tree import read_tree

_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+")
_DASHES = re.compile(r" *(?:- +)+")


class _LeftAlone(Exception):
    """A part that cannot be put in order without a doubt."""


@dataclass(frozen=True, slots=True)
class _Entry:
    """The lines of one key: the comments above it, then its own; then ``gap``, the blank ones."""

    key: str
    comments: list[str]
    body: list[str]
    gap: list[str]


@dataclass(frozen=True, slots=True)
class Moved:
    """A part whose keys were brought into order: the keys as they stood, and as they stand."""

    path: Path
    was: tuple[str, ...]
    now: tuple[str, ...]


def in_model_order(content: bytes) -> tuple[bytes, list[Moved]]:
    """The content of a profile with its keys in order; as it is, where it cannot be read."""
    left: set[Path] = set()
    moved: list[Moved] = []
    while True:
        try:
            document, twice = read_tree("", content)
        except Refused:
            return content, moved
        out_of_order = (
            (path, node, part)
            for path, node, part in part_nodes(document.root)
            if path not in left and _is_out_of_order(node, part)
        )
        path, node, part = next(out_of_order, ((), None, Part))
        if node is None:
            return content, moved
        order = list(part.model_fields)
        try:
            after = _reordered(content, node, order)
            again, twice_again = read_tree("", after)
        except (_LeftAlone, Refused):
            left.add(path)
            continue
        if again.data == document.data and len(twice) == len(twice_again):
            keys = [key.value for key, _ in node.value]
            moved.append(Moved(path, tuple(keys), tuple(sorted(keys, key=order.index))))
            content = after
        else:
            left.add(path)


def _is_out_of_order(node: yaml.MappingNode, part: type[Part]) -> bool:
    order = list(part.model_fields)
    keys = [key.value for key, _ in node.value]
    if node.flow_style or not set(keys) <= set(order) or len(set(keys)) < len(keys):
        return False
    return keys != sorted(keys, key=order.index)


def _reordered(content: bytes, node: yaml.MappingNode, order: list[str]) -> bytes:
    mark = b"\xef\xbb\xbf" if content.startswith(b"\xef\xbb\xbf") else b""
    lines = _LINE.findall(content.decode("utf-8-sig"))
    ending = re.search(r"[\r\n]*$", lines[0])
    is_ended = lines[-1].endswith(("\r", "\n"))
    if not is_ended:
        lines[-1] += ending[0] if ending else "\n"
    start, end, entries = _entries(lines, node, order)
    sorted_entries = sorted(entries, key=lambda each: order.index(each.key))
    _swap_dash(entries[0], sorted_entries[0], node.start_mark.column)
    moved: list[str] = []
    for place, entry in zip(entries, sorted_entries, strict=True):
        moved += [*entry.comments, *entry.body, *place.gap]
    lines[start:end] = moved
    text = "".join(lines)
    return mark + (text if is_ended else text.rstrip("\r\n")).encode()


def _entries(
    lines: list[str], node: yaml.MappingNode, order: list[str]
) -> tuple[int, int, list[_Entry]]:
    """The first line of a mapping, the line after its last, and its entries."""
    column = node.start_mark.column
    starts = [key.start_mark.line for key, _ in node.value]
    for (key, _), line in zip(node.value, starts, strict=True):
        before = lines[line][:column]
        is_first = line == starts[0]
        if key.start_mark.column != column or not (
            not before.strip() or (is_first and _DASHES.fullmatch(before))
        ):
            raise _LeftAlone
    last_key = max((key.value for key, _ in node.value), key=order.index)
    end = _end_of_last(lines, node, moves=node.value[-1][0].value != last_key)
    tops = [_first_comment(lines, line, column) for line in starts]
    if _DASHES.fullmatch(lines[starts[0]][:column]):
        tops[0] = starts[0]  # What stands above the dash belongs to the whole entry
    elif tops[0] < starts[0] and column == 0:
        raise _LeftAlone  # The head of the file, or a comment on its first key
    entries = []
    for index, (key, _) in enumerate(node.value):
        stop = tops[index + 1] if index + 1 < len(tops) else end
        gap = stop
        while index + 1 < len(tops) and not lines[gap - 1].strip():
            gap -= 1
        comments, body = lines[tops[index] : starts[index]], lines[starts[index] : gap]
        if any(_is_comment(line) and _indent(line) <= column for line in body[1:]):
            raise _LeftAlone
        entries.append(_Entry(key.value, comments, body, lines[gap:stop]))
    return tops[0], end, entries


def _first_comment(lines: list[str], line: int, column: int) -> int:
    while line and _is_comment(lines[line - 1]) and _indent(lines[line - 1]) == column:
        line -= 1
    return line


def _end_of_last(lines: list[str], node: yaml.MappingNode, *, moves: bool) -> int:
    """The line after the last entry; what stands there must not be its own, if it moves."""
    end = last_line(node)
    if end is None:
        if moves:
            raise _LeftAlone
        return int(node.value[-1][0].start_mark.line) + 1
    column = node.start_mark.column
    after = lines[end + 1] if end + 1 < len(lines) else ""
    if moves and _is_comment(after) and _indent(after) >= column:
        raise _LeftAlone
    return end + 1


def _swap_dash(old: _Entry, new: _Entry, column: int) -> None:
    """Give the dash of a list's entry to what becomes its first line."""
    if old is new or not _DASHES.fullmatch(old.body[0][:column]):
        return
    if new.comments:
        raise _LeftAlone
    dash = old.body[0][:column]
    old.body[0] = " " * column + old.body[0][column:]
    new.body[0] = dash + new.body[0][column:]


def _is_comment(line: str) -> bool:
    return line.lstrip().startswith("#")


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip(" "))
