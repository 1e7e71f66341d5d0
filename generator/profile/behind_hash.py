"""Text that YAML makes a comment of because a `#` stands before it, and that belongs to a value."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator

from generator.profile.excerpt import named
from generator.profile.finding import Finding, Path, Place, Severity
from generator.profile.meant import is_taken, quoted
from generator.profile.nodes import values
from generator.profile.tree import Document

_CLOSE = re.compile(r"[ \t]#[^\s#]")
"""A comment that begins at once behind its `#`: most often no comment at all."""
_REMARK = re.compile(r"\s#(?:\s|$)")
_KEY = re.compile(r"(?:[^\s:#]+:|-)?")
_PLAIN = re.compile(r"\w[\w .·°/-]*")
"""Text that needs no quotes, whatever stands around it."""
_WHY = "`#` after a blank begins a comment"
_IF_A_REMARK = "A remark has a blank behind its `#`."


def mend_of_empty(path: Path, place: Place) -> str:
    """How to write what `#` took from the key, or the entry, at a place; empty for nothing."""
    key = _KEY.match(place.text, place.column - 1)
    behind = _behind(place.text, key.end() if key else 0)
    return f"{_WHY}: {_instead(path, behind)}." if behind else ""


def text_behind_hash(document: Document, told_lines: Container[int]) -> Iterator[Finding]:
    """A warning for each value that a `#` ends or takes away, but on lines, from 1, told already.

    None where the value could not go on, as a number cannot: there it is a remark.
    """
    lines = enumerate(document.lines)
    close = {number for number, line in lines if "#" in line and _CLOSE.search(line)}
    for path, node in values(document.root) if close else ():
        line, column = node.end_mark.line, node.end_mark.column
        behind = _behind(document.lines[line], column) if line in close else ""
        if not behind or node.style or line + 1 in told_lines:
            continue
        if not node.value:
            message, mend = f"The value is empty: {_WHY}.", f"To mend it, {_instead(path, behind)}."
        elif is_taken(path, f"{node.value} #"):
            message = f"{named(behind)} is not read: {_WHY}."
            mend = "Put the value in straight quotes."
        else:
            continue
        place = document.at(line, document.lines[line].index("#", column))
        mend = f"{mend} {_IF_A_REMARK}"
        yield Finding("text-behind-hash", Severity.WARNING, place, message, mend)


def _behind(line: str, column: int) -> str:
    """The comment close behind its `#` that follows a column, without a remark behind it again."""
    comment = line[column:].strip()
    return _REMARK.split(comment)[0].rstrip() if _CLOSE.match(f" {comment}") else ""


def _instead(path: Path, behind: str) -> str:
    alone = behind.lstrip("#").strip()
    ways = [f"`{quoted(behind)}` in quotes"] if is_taken(path, behind) else []
    if _PLAIN.fullmatch(alone) and is_taken(path, alone):
        ways.append(f"`{alone}` alone")
    return f"write {', or '.join(ways)}" if ways else "write the value without it"
