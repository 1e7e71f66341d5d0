"""A finding: one fault in a contributed file, with its place and its mend."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum
from heapq import nsmallest

from generator.profile import other_words

_WIDEST_LINE = 120
# Comparing words takes time by their length squared, and a hint is worth a millisecond
_MOST_COMPARED = 25
_LONGEST_COMPARED = 32

Path = tuple[str | int, ...]
"""Where a value stands in a profile, e.g. ``("sensors", 0, "heater", "resistance")``."""


class Severity(StrEnum):
    """How much a finding weighs: an error keeps the vehicle from being published."""

    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True, slots=True)
class Place:
    """A place in a text file; line and column count from 1, ``text`` is the whole line."""

    file: str
    line: int
    column: int
    text: str = ""


@dataclass(frozen=True, slots=True)
class Fault:
    """What a rule has to say about one path, before the path becomes a place."""

    path: Path
    message: str
    mend: str = ""
    at_key: bool = False


@dataclass(frozen=True, slots=True)
class Finding:
    """One fault, ready to be shown: rule, severity, place, what is wrong, how to mend it."""

    rule: str
    severity: Severity
    place: Place
    message: str
    mend: str = ""
    at: str = ""
    """The way to the value, as an exception names it; empty where no profile was read."""

    def __str__(self) -> str:
        """The finding as it is printed: place, rule, the line with a caret, and the sentences."""
        where = f"{self.place.file}:{self.place.line}:{self.place.column}"
        said = f"{where}: {self.severity} [{self.rule}]"
        number = str(self.place.line)
        if self.place.text.strip():
            shown, caret = _shown_line(self.place)
            said += f"\n  {number} | {shown}"
            said += f"\n  {' ' * len(number)} | {' ' * caret}^"
        said += f"\n  {printable(self.message)}"
        if self.mend:
            said += f"\n  {printable(self.mend)}"
        return said


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings in the order of their places."""
    return tuple(sorted(findings, key=lambda f: (f.place.line, f.place.column, f.rule)))


def printable(text: str) -> str:
    """A text as a terminal shows it: on one line, with a question mark for what would move it."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else " " if c.isspace() else "?" for c in text)


def _shown_line(place: Place) -> tuple[str, int]:
    """The line, cut to what fits a screen, and how many characters stand before the caret."""
    line, before = place.text.replace("\t", " "), place.column - 1
    start = max(0, before - _WIDEST_LINE // 2) if len(line) > _WIDEST_LINE else 0
    cut = line[start : start + _WIDEST_LINE]
    head, tail = "… " if start else "", " …" if start + len(cut) < len(line) else ""
    return f"{head}{cut}{tail}", before - start + len(head)


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word nearest to a mistyped one, or None when nothing is near."""
    folded = word.strip()[:_LONGEST_COMPARED].casefold()
    by_folded = {each.casefold()[:_LONGEST_COMPARED]: each for each in known}
    if other_words.plain(folded) in other_words.NEVER_NEAR:
        return None
    if meant := other_words.word_meant(folded, by_folded):
        return by_folded[meant]
    likely: Iterable[str] = by_folded
    if len(by_folded) > _MOST_COMPARED:
        likely = nsmallest(_MOST_COMPARED, by_folded, lambda each: abs(len(each) - len(folded)))
    close = get_close_matches(folded, likely, n=1, cutoff=0.6)
    return by_folded[close[0]] if close else None


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """``Did you mean `transverse`?``, or nothing when no known word is near."""
    near = nearest(word, known)
    return f"Did you mean `{near}`?" if near else ""
