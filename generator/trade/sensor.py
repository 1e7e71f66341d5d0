"""Which sensor it is, of what kind, what it may be called, and what a healthy one shows."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar, Final, NamedTuple, TypeAlias


class SensorKind(StrEnum):
    """How a sensor measures; decides its terminals, its live data and its healthy signal."""

    SWITCHING = "switching"
    """Zirconia cell whose voltage jumps at lambda 1; one to four wires."""
    WIDE_RANGE = "wide-range"
    """Zirconia cell with a pump whose current follows lambda (air-fuel sensor); four to six."""
    TITANIA = "titania"
    """Oxide whose resistance jumps at lambda 1, read as a divided voltage; three or four."""


class SensorPlace(NamedTuple):
    """The two numbers that name a sensor.

    Bank 1 is the bank holding cylinder 1; position 1 is the first sensor the exhaust meets, and
    positions count along its flow (SAE J1930 and J2012, ISO 15031-6, from memory).
    """

    bank: int
    position: int

    def __str__(self) -> str:
        return f"B{self.bank}S{self.position}"


def names_on_scan_tools(bank: int, position: int, kind: SensorKind) -> tuple[str, ...]:
    """Give names under which scan tools in general list the sensor (SAE J1930 style, from memory).

    Tools differ; the bank and the position are what to look for.
    """
    place, digits = f"B{bank}S{position}", f"{bank}{position}"
    common = (f"O2 {place}", f"O2S{digits}")
    if kind is SensorKind.WIDE_RANGE:
        words = f"lambda, bank {bank} sensor {position}"
        return (*common, f"A/F {place}", f"EQ_RAT{digits}", words)
    return (*common, f"HO2S{digits}", f"voltage, bank {bank} sensor {position}")


class Condition(StrEnum):
    """How the warm engine is run while the live data is watched."""

    IDLE = "idle"
    RPM_2500 = "2,500 rpm, steady"
    SNAP = "snap of the throttle"
    OVERRUN = "overrun"


class Behaviour(StrEnum):
    """What a healthy sensor's value does."""

    SWITCHES = "swings between lean and rich, several times in 10 seconds"
    SWITCHES_SLOWLY = "swings between lean and rich, slower than at 2,500 rpm"
    NEARLY_STEADY = "nearly steady"
    RICH_AT_ONCE = "goes rich at once"
    RICH_LATER = "goes rich, a little after the upstream sensor"
    LEAN_AT_ONCE = "goes lean at once, and stays there while fuel is cut"
    LEAN_LATER = "goes lean, a little after the upstream sensor"


@dataclass(frozen=True, slots=True)
class ExpectedValue:
    """What to expect in one unit ("" is lambda): a guide to the eye, never a pass or fail limit.

    None for `low` or `high` means that no number can be given for that end.
    """

    basis: ClassVar[str] = "common practice, no source"

    low: float | None
    high: float | None
    unit: str
    behaviour: Behaviour


_Range: TypeAlias = tuple[float | None, float | None]

_UNKNOWN: Final[_Range] = (None, None)
_STEADY_STATES: Final = (Condition.IDLE, Condition.RPM_2500)
_SWITCHING_V: Final[Mapping[Condition, _Range]] = {
    Condition.IDLE: (0.1, 0.9),
    Condition.RPM_2500: (0.1, 0.9),
    Condition.SNAP: (0.6, None),
    Condition.OVERRUN: (None, 0.3),
}
_AFTER_CATALYST_V: Final[_Range] = (0.5, 0.8)
_LAMBDA: Final[Mapping[Condition, _Range]] = {
    Condition.IDLE: (0.97, 1.03),
    Condition.RPM_2500: (0.97, 1.03),
    Condition.SNAP: (None, 1.0),
    Condition.OVERRUN: (1.0, None),
}
_PUMP_MA: Final[Mapping[Condition, _Range]] = {
    Condition.IDLE: (-0.2, 0.2),
    Condition.RPM_2500: (-0.2, 0.2),
    Condition.SNAP: (None, 0.0),
    Condition.OVERRUN: (0.0, None),
}


def expected(kind: SensorKind, position: int, condition: Condition) -> tuple[ExpectedValue, ...]:
    """Give what a healthy warm sensor shows: volts, or lambda and mA for a wide-range one.

    Common practice, no source; the widths about lambda 1 and 0 mA are from memory. A titania
    sensor has no numbers: its volts depend on the divider (0 to 1 V or 0 to 5 V) and may run the
    other way round. Downstream values suppose a catalyst that works. Raises ValueError for a
    position below 1.
    """
    if position < 1:
        raise ValueError(f"positions are counted from 1, not {position}")
    behaviour = _behaviour(kind, position == 1, condition)
    if kind is SensorKind.TITANIA:
        return (ExpectedValue(*_UNKNOWN, "V", behaviour),)
    if kind is SensorKind.WIDE_RANGE:
        return (
            ExpectedValue(*_LAMBDA[condition], "", behaviour),
            ExpectedValue(*_PUMP_MA[condition], "mA", behaviour),
        )
    if position > 1 and condition in _STEADY_STATES:
        return (ExpectedValue(*_AFTER_CATALYST_V, "V", behaviour),)
    return (ExpectedValue(*_SWITCHING_V[condition], "V", behaviour),)


def _behaviour(kind: SensorKind, upstream: bool, condition: Condition) -> Behaviour:
    if condition is Condition.SNAP:
        return Behaviour.RICH_AT_ONCE if upstream else Behaviour.RICH_LATER
    if condition is Condition.OVERRUN:
        return Behaviour.LEAN_AT_ONCE if upstream else Behaviour.LEAN_LATER
    if kind is SensorKind.WIDE_RANGE or not upstream:
        return Behaviour.NEARLY_STEADY
    return Behaviour.SWITCHES if condition is Condition.RPM_2500 else Behaviour.SWITCHES_SLOWLY
