"""Codes in a table: what was noticed down the side, the sensors along the top."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from gettext import NullTranslations

from generator.guide.code_words import short_words
from generator.trade.fault_code_table import FaultCode
from generator.trade.sensor import SensorPlace

Href = Callable[[str], str]
"""Where a code leads from the page its table is on."""


@dataclass(frozen=True, slots=True)
class CodeMatrix:
    """A table of codes; a cell is empty where a sensor has no such code."""

    caption: str
    columns: list[tuple[str, str]]
    rows: list[tuple[str, list[tuple[str, str] | None]]]


def code_matrix(
    caption: str,
    places: Iterable[SensorPlace],
    codes: Iterable[FaultCode],
    href: Href,
    t: NullTranslations,
) -> CodeMatrix:
    """The codes of some sensors, rows in the order of their first codes."""
    _ = t.gettext
    columns = list(places)
    by_words: dict[str, dict[SensorPlace, str]] = {}
    for code in sorted(codes, key=lambda each: each.code):
        for place in code.sensors:
            by_words.setdefault(short_words(code, t), {})[place] = code.code
    return CodeMatrix(
        caption,
        [
            (
                _("Bank %(bank)s") % {"bank": place.bank},
                _("pos. %(position)s") % {"position": place.position},
            )
            for place in columns
        ],
        [
            (words, [(row[place], href(row[place])) if place in row else None for place in columns])
            for words, row in by_words.items()
        ],
    )
