"""A date that is not written as year, month and day, and the one that was meant."""

from __future__ import annotations

import re
from datetime import date
from typing import Final

_MONTHS: Final = "jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec"
_MONTH = rf"(?P<month>{_MONTHS})[a-z]*\.?"
_DAY = r"(?P<day>[0-9]{1,2})(?:st|nd|rd|th|\.)?"
_WITH_WORD = (
    re.compile(rf"{_DAY}[\s-]+(?:of\s+)?{_MONTH},?[\s-]+(?P<year>[0-9]{{4}})"),
    re.compile(rf"{_MONTH}\s+{_DAY},?\s+(?P<year>[0-9]{{4}})"),
)
_YEAR_FIRST = re.compile(r"([0-9]{4})[-/. ]+([0-9]{1,2})[-/. ]+([0-9]{1,2})\.?")
_YEAR_LAST = re.compile(r"([0-9]{1,2})[-/. ]+([0-9]{1,2})[-/. ]+([0-9]{4}|[0-9]{2})")


def mend_of_date(text: str) -> str:
    """The sentence that leads to a date; it names one only where day and month cannot be mixed up.

    A year of two digits could itself be a day, so that date is asked, not told.
    """
    said = text.strip().casefold()
    for pattern in _WITH_WORD:
        if found := pattern.fullmatch(said):
            month = _MONTHS.split("|").index(found["month"]) + 1
            return _told(found["year"], month, found["day"])
    if found := _YEAR_FIRST.fullmatch(said):
        return _told(found[1], found[2], found[3])
    if found := _YEAR_LAST.fullmatch(said):
        one, other = int(found[1]), int(found[2])
        if one != other and one <= 12 and other <= 12:
            return _told()
        return _told(found[3], min(one, other), max(one, other))
    return _told()


def _told(year: str = "", month: int | str = 0, day: int | str = 0) -> str:
    try:
        meant = date(int(year) + (2000 if len(year) == 2 else 0), int(month), int(day))
    except ValueError:
        return "Write year, month and day, such as `2026-03-14`."
    return f"Did you mean `{meant}`?" if len(year) == 2 else f"Write `{meant}`."
