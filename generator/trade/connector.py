"""The face of a connector: which terminal sits where, and what it is for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final


class PinJob(StrEnum):
    """What a terminal of an exhaust oxygen sensor is for."""

    HEATER_SUPPLY = "heater-supply"
    HEATER_CONTROL = "heater-control"
    SIGNAL = "signal"
    SIGNAL_GROUND = "signal-ground"
    PUMP = "pump"
    PUMP_RETURN = "pump-return"
    REFERENCE = "reference"
    TRIM = "trim"

    @property
    def takes_ohmmeter(self) -> bool:
        """Whether an ohmmeter may be put here: on the heater only.

        Its test current can damage a zirconia cell (common practice, no source).
        """
        return self in HEATER_JOBS


HEATER_JOBS: Final = (PinJob.HEATER_SUPPLY, PinJob.HEATER_CONTROL)


class Side(StrEnum):
    """Which half of the connector is looked into."""

    SENSOR = "sensor"
    HARNESS = "harness"


class Latch(StrEnum):
    """The edge of the face that carries the latch."""

    TOP = "top"
    BOTTOM = "bottom"
    LEFT = "left"
    RIGHT = "right"


class Corner(StrEnum):
    """The corner where terminal 1 sits."""

    TOP_LEFT = "top-left"
    TOP_RIGHT = "top-right"
    BOTTOM_LEFT = "bottom-left"
    BOTTOM_RIGHT = "bottom-right"


class Along(StrEnum):
    """Which way the numbers run on from terminal 1."""

    ROWS = "rows"
    COLUMNS = "columns"


_OTHER_HAND: Final[Mapping[Corner, Corner]] = {
    Corner.TOP_LEFT: Corner.TOP_RIGHT,
    Corner.TOP_RIGHT: Corner.TOP_LEFT,
    Corner.BOTTOM_LEFT: Corner.BOTTOM_RIGHT,
    Corner.BOTTOM_RIGHT: Corner.BOTTOM_LEFT,
}


@dataclass(frozen=True, slots=True)
class ConnectorFace:
    """One half's face, looking into its terminals; a profile describes the sensor's half.

    `first` is the corner of terminal 1, `along` the way the count goes on: along the row,
    then the next row, or down the column, then the next column.
    """

    rows: int
    columns: int
    latch: Latch
    first: Corner = Corner.TOP_LEFT
    along: Along = Along.ROWS


@dataclass(frozen=True, slots=True)
class ConnectorFault:
    """What cannot be right about a connector; `pin` is None where the face itself is wrong."""

    pin: int | None
    reason: str


def mirrored(face: ConnectorFace) -> ConnectorFace:
    """Give the face of the other half, looking into its terminals.

    The halves meet face to face, so the other one is seen mirrored left to right, as if it
    were turned about an upright axis. A latch on top or bottom stays where it is; a latch on
    the left appears on the right. Mirroring twice gives the first face back.
    """
    swap = {Latch.LEFT: Latch.RIGHT, Latch.RIGHT: Latch.LEFT}
    latch = swap.get(face.latch, face.latch)
    return replace(face, latch=latch, first=_OTHER_HAND[face.first])


def seen_from(face: ConnectorFace, side: Side) -> ConnectorFace:
    """Give the face as it looks on the named side, for a face described on the sensor's side."""
    return mirrored(face) if side is Side.HARNESS else face


def positions(face: ConnectorFace, side: Side) -> dict[int, tuple[int, int]]:
    """Give pin -> (row, column), looking into the terminals of the named side.

    Rows count from 1 at the top, columns from 1 at the left; pins count from 1.

    Raises:
        ValueError: the face has no row or no column.
    """
    if face.rows < 1 or face.columns < 1:
        raise ValueError(f"a face of {face.rows} rows by {face.columns} columns has no terminals")
    seen = seen_from(face, side)
    from_bottom = seen.first in (Corner.BOTTOM_LEFT, Corner.BOTTOM_RIGHT)
    from_right = seen.first in (Corner.TOP_RIGHT, Corner.BOTTOM_RIGHT)
    found: dict[int, tuple[int, int]] = {}
    for index in range(seen.rows * seen.columns):
        if seen.along is Along.ROWS:
            row, column = divmod(index, seen.columns)
        else:
            column, row = divmod(index, seen.rows)
        found[index + 1] = (
            seen.rows - row if from_bottom else row + 1,
            seen.columns - column if from_right else column + 1,
        )
    return found


def heater_pins(jobs: Mapping[int, PinJob]) -> tuple[int, int] | None:
    """Give the two pins an ohmmeter may touch, supply first.

    None unless each end of the heater is on one pin and no other: a wrong pin can harm the cell.
    """
    supply, control = ([pin for pin in jobs if jobs[pin] is job] for job in HEATER_JOBS)
    return (supply[0], control[0]) if len(supply) == len(control) == 1 else None


def faults(face: ConnectorFace, jobs: Mapping[int, PinJob]) -> tuple[ConnectorFault, ...]:
    """Give everything about a face and its pins that cannot be right, in the order of the pins.

    An empty cavity is no fault: `jobs` need not name every pin.
    """
    if face.rows < 1 or face.columns < 1:
        reason = f"{face.rows} rows by {face.columns} columns leave no room for a terminal"
        return (ConnectorFault(None, reason),)
    size = face.rows * face.columns
    grid = f"{face.rows} rows by {face.columns} columns hold pins 1 to {size}"
    count = Counter(jobs.values())
    found: list[ConnectorFault] = []
    for pin, job in sorted(jobs.items()):
        if not 1 <= pin <= size:
            found.append(ConnectorFault(pin, f"there is no pin {pin}: {grid}"))
        if count[job] > 1:
            found.append(
                ConnectorFault(pin, f"{count[job]} pins are called {job}; only one can be")
            )
    halves = [job for job in HEATER_JOBS if job in count]
    if len(halves) == 1:
        (missing,) = set(HEATER_JOBS) - set(halves)
        pin = next(pin for pin, job in sorted(jobs.items()) if job is halves[0])
        found.append(ConnectorFault(pin, f"{halves[0]} without {missing}: a heater has two ends"))
    return tuple(found)
