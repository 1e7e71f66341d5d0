"""The text of a bench sheet, as it is carried in a post and found again among other text.

A first line names the format's version, the vehicle and the sensor; then come lines of
``key: value`` with fixed English keys, in ASCII but for what people write themselves; a last line
says that nothing was cut off. Quoting marks before a line, and blanks around it, do not matter.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

FORMAT = 1
LAST_LINE = "end of bench sheet"
OVER_RANGE = "over range"
YES = "yes"

KEYS = (
    "date",
    "distance",
    "meter percent",
    "meter counts",
    "meter resolution",
    "air",
    "thermometer",
    "meter zero",
    "reading",
    "corrected",
    "uncertainty",
    "range",
    "verdict",
    "supply",
    "current",
    "signal lowest",
    "signal highest",
    "torque",
    "known to work",
    "notes",
)
"""Every key of a sheet, in the order of the work."""

_FIRST = re.compile(r"Sondebook bench sheet\s+(\d+)\s*:\s*(.*)", re.IGNORECASE)
_SENSOR = re.compile(r"([a-z0-9-]+)\s*,\s*bank\s+(\d)\s*,\s*position\s+(\d)\b.*", re.IGNORECASE)
# What forums and mail put before a line: blanks, quoting marks, list marks, tags in brackets
_BEFORE = re.compile(r"^(?:\[[^\]]*\]|[^\w\[])+")
_LINE = re.compile(r"([a-z]+(?: [a-z]+)*)\s*:\s*(.*)", re.IGNORECASE)
_AFTER = re.compile(r"(?:<br\s*/?>|\[/\w+\]|\s)+$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: the line it starts at, counted from 1, which sensor it is for, and its values."""

    line: int
    slug: str
    bank: int
    position: int
    values: dict[str, str]


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A sheet that cannot be read: the line that says so, and why in a sentence."""

    line: int
    reason: str


@dataclass(slots=True)
class _Open:
    """A sheet whose last line has not come yet."""

    line: int
    sensor: tuple[str, int, int] | None
    fault: Unreadable | None
    values: dict[str, str] = field(default_factory=dict)

    def closed(self) -> Sheet | Unreadable:
        if self.fault or self.sensor is None:
            return self.fault or Unreadable(self.line, "its first line names no sensor.")
        return Sheet(self.line, *self.sensor, self.values)


def first_line(slug: str, bank: int, position: int) -> str:
    """The line a sheet of a sensor begins with."""
    return f"Sondebook bench sheet {FORMAT}: {slug}, bank {bank}, position {position}"


def sheets(text: str) -> Iterator[Sheet | Unreadable]:
    """Every sheet in a text, in its order; text around and between them is passed over."""
    current: _Open | None = None
    for number, raw in enumerate(text.splitlines(), start=1):
        said = _AFTER.sub("", " ".join(_BEFORE.sub("", raw).split()))
        if first := _FIRST.search(said):
            if current:
                yield _cut_off(current)
            current = _opened(number, first)
        elif current and said.casefold().startswith(LAST_LINE):
            yield current.closed()
            current = None
        elif current:
            _take(current, number, said)
    if current:
        yield _cut_off(current)


def _opened(number: int, first: re.Match[str]) -> _Open:
    if int(first[1]) != FORMAT:
        reason = f"it is a sheet of format {first[1]}, and format {FORMAT} is read here."
        return _Open(number, None, Unreadable(number, reason))
    sensor = _SENSOR.fullmatch(first[2])
    if sensor is None:
        reason = "its first line does not end in a vehicle, `bank 1, position 1`."
        return _Open(number, None, Unreadable(number, reason))
    return _Open(number, (sensor[1].lower(), int(sensor[2]), int(sensor[3])), None)


def _take(sheet: _Open, number: int, said: str) -> None:
    found = _LINE.fullmatch(said)
    key = found[1].casefold() if found else ""
    if found is None or key not in KEYS or sheet.fault:
        return  # A wrapped note, or something between the lines
    if key in sheet.values and key != "notes":
        sheet.fault = Unreadable(number, f"it says `{key}` twice.")
    # What is not printed has no place in a profile: control characters, what turns text round
    value = "".join(filter(str.isprintable, found[2]))
    sheet.values.setdefault(key, value.replace("\u2212", "-").strip())


def _cut_off(sheet: _Open) -> Unreadable:
    return sheet.fault or Unreadable(
        sheet.line, f"it is cut off: its last line, `{LAST_LINE}`, is missing."
    )
