"""A fault in how lines stand to one another, told at the line that has it.

A YAML parser stops where it can go no further, and that is often the innocent line below.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

import yaml

from generator.profile.excerpt import named

_LINE = re.compile(
    r"(?P<before> *(?:- +)*)(?P<key>[^\s:#\"'-][^:#\"']*?):"
    r"(?:\s+(?P<value>[^\s#].*)|\s*(?:\s#.*)?$)"
)
"""A key, with what stands before it, and with its value where that stands in the same line."""
_BARE = re.compile(r" *(?P<key>[a-z_]+)(?::| +)(?P<value>[^\s:].*)")
_SPACES = "Indent with two spaces for each level"


@dataclass(frozen=True, slots=True)
class LineFault:
    """What is wrong with a line, and the mend; line and column count from 0."""

    line: int
    column: int
    message: str
    mend: str


def line_fault(error: yaml.MarkedYAMLError, lines: Sequence[str]) -> LineFault | None:
    """The fault in the lines of what a parser could not read; None where it is in none of them."""
    stopped = error.problem_mark
    if stopped is None or stopped.line >= len(lines):
        return None
    line = lines[stopped.line]
    if _is_tabbed(line, stopped.column):
        return _tabbed(lines, stopped.line, stopped.column)
    if "could not find expected ':'" in (error.problem or "") and error.context_mark:
        return _without_colon(lines, error.context_mark.line)
    here, above = _LINE.match(line), _above(lines, stopped.line)
    if not here or "-" in here["before"] or above is None:
        return None
    if stopped.column not in here.span("key"):
        return None
    return _beside_above(lines, above, stopped.line, here)


def _beside_above(
    lines: Sequence[str], above: int, line: int, here: re.Match[str]
) -> LineFault | None:
    """What is wrong between a line with a key and the line above, if that is what stops reading."""
    inset, key_above = here.start("key"), _LINE.match(lines[above])
    if key_above is None and _inset(lines[above]) == inset and lines[above][inset] not in "-\"'":
        return _without_colon(lines, above)
    if key_above and key_above["value"] and key_above.start("key") < inset:
        return LineFault(
            line,
            inset,
            "This line stands further in than the one above, which has its value already.",
            f"Line it up with {named(key_above['key'])}, or put the whole text in quotes if this "
            "line goes on with it.",
        )
    return None


def _is_tabbed(line: str, column: int) -> bool:
    before = line[: column + 1]
    return "\t" in before and not before.strip()


def _tabbed(lines: Sequence[str], line: int, column: int) -> LineFault:
    above = _above(lines, line)
    key = _LINE.match(lines[above]) if above is not None else None
    mend = f"{_SPACES}."
    if key and key["value"]:
        mend = f"{_SPACES}: {key.start('key')} here, if it stands beside {named(key['key'])}."
    elif key:
        mend = f"{_SPACES}: {key.start('key') + 2} here, below {named(key['key'])}."
    return LineFault(line, column, "A tab cannot indent YAML.", mend)


def _without_colon(lines: Sequence[str], line: int) -> LineFault:
    found = _BARE.fullmatch(lines[line].rstrip())
    meant = f"{found['key']}: {found['value']}" if found else "key: value"
    return LineFault(
        line,
        _inset(lines[line]),
        "A colon with a space after it is missing in this line.",
        f"Write {named(meant)}; text that goes on from the line above stands further in than its "
        "key.",
    )


def _above(lines: Sequence[str], line: int) -> int | None:
    """The line above that is neither blank nor a comment."""
    others = (n for n in range(line - 1, -1, -1) if lines[n].strip() and lines[n].strip()[0] != "#")
    return next(others, None)


def _inset(line: str) -> int:
    return len(line) - len(line.lstrip(" "))
