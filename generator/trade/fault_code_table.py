"""What each fault code of the oxygen sensors is about.

Numbering after SAE J2012 / ISO 15031-6, as republished in open code lists; the words are ours.
Numbers that look regular are still not counted: the characters of a code are decimal digits in
some families and hexadecimal ones in others (P0059 is followed by P0060, P2A00 has an A), so a
family states the first code of each sensor, and only a run inside one sensor is counted.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from generator.trade.sensor import SensorPlace


class Subject(StrEnum):
    """What kind of thing a code points at."""

    SENSOR = "one sensor"
    SWAPPED = "two sensors exchanged"
    FUEL_TRIM = "mixture of a bank"
    CATALYST = "catalyst of a bank"
    FALSE_FRIEND = "not a sensor"
    """Numbered between the sensor codes, but about another part."""


class Circuit(StrEnum):
    """Which of a sensor's circuits a code is about."""

    SIGNAL = "signal"
    HEATER = "heater"
    HEATER_CONTROL = "heater control"
    REFERENCE = "reference voltage"
    PUMP_CURRENT_POSITIVE = "positive pump current"
    PUMP_CURRENT_NEGATIVE = "negative pump current"
    PUMP_CURRENT_TRIM = "pump current trim"


PUMP_CIRCUITS = frozenset(
    {
        Circuit.REFERENCE,
        Circuit.PUMP_CURRENT_POSITIVE,
        Circuit.PUMP_CURRENT_NEGATIVE,
        Circuit.PUMP_CURRENT_TRIM,
    }
)
"""Circuits that only a sensor with a pump cell has, so only a wide-range one."""


class Noticed(StrEnum):
    """What the engine computer noticed."""

    FAULT = "fault, no closer description"
    FAULT_OR_OPEN = "fault or open circuit"
    OPEN = "open circuit"
    LOW = "reads low"
    HIGH = "reads high"
    PERFORMANCE = "out of range or implausible"
    RESISTANCE = "resistance out of limits"
    SHORTED_TO_HEATER = "shorted to the heater circuit"
    SLOW_RESPONSE = "slow response"
    SLOW_RICH_TO_LEAN = "slow change from rich to lean"
    SLOW_LEAN_TO_RICH = "slow change from lean to rich"
    LATE_RICH_TO_LEAN = "late start of the change from rich to lean"
    LATE_LEAN_TO_RICH = "late start of the change from lean to rich"
    NO_ACTIVITY = "no activity"
    STUCK_LEAN = "stuck or biased lean"
    STUCK_RICH = "stuck or biased rich"
    OUT_OF_RANGE_ON_OVERRUN = "out of range on overrun"
    EXHAUST_SAMPLE = "exhaust sample not plausible"
    EXCHANGED = "signals exchanged"
    LEAN = "lean"
    RICH = "rich"
    LEAN_AT_IDLE = "lean at idle"
    RICH_AT_IDLE = "rich at idle"
    LEAN_OFF_IDLE = "lean off idle"
    RICH_OFF_IDLE = "rich off idle"
    LEAN_AFTER_CATALYST = "lean after the catalyst"
    RICH_AFTER_CATALYST = "rich after the catalyst"
    LOW_EFFICIENCY = "conversion below its limit"


class OtherPart(StrEnum):
    """What a false friend is really about."""

    TURBO_BYPASS = "turbocharger bypass valve"
    BOOST_CONTROL = "boost pressure control"
    TURBINE_SPEED = "overspeed of the turbocharger turbine"
    FUEL_DELIVERY = "fuel delivery"
    FUEL_TIMING = "fuel timing"
    SECONDARY_AIR = "secondary air control"
    INTAKE_LEAK = "air leak in the intake"
    EVAPORATIVE = "switching valve of the evaporative system"


@dataclass(frozen=True, slots=True)
class FaultCode:
    """One code, and which sensor, bank or other part it is about.

    `bank` and `position` are None where the code names none; `swapped` holds the two sensors of
    a code for exchanged sensors; `other_part` is set for false friends only.
    """

    code: str
    subject: Subject
    noticed: Noticed | None = None
    circuit: Circuit | None = None
    bank: int | None = None
    position: int | None = None
    swapped: tuple[SensorPlace, ...] = ()
    other_part: OtherPart | None = None

    @property
    def sensors(self) -> tuple[SensorPlace, ...]:
        """The sensors named by the code: one, two for exchanged sensors, or none."""
        if self.bank is None or self.position is None:
            return self.swapped
        return (SensorPlace(self.bank, self.position),)


_Firsts = Mapping[tuple[int, int], int]

_HEATER_CONTROL: _Firsts = {
    (1, 1): 30, (1, 2): 36, (1, 3): 42, (2, 1): 50, (2, 2): 56, (2, 3): 62,
}  # fmt: skip
_HEATER_RESISTANCE: _Firsts = {
    (1, 1): 53, (1, 2): 54, (1, 3): 55, (2, 1): 59, (2, 2): 60, (2, 3): 61,
}  # fmt: skip
_SIGNAL: _Firsts = {
    (1, 1): 130, (1, 2): 136, (1, 3): 142, (2, 1): 150, (2, 2): 156, (2, 3): 162,
}  # fmt: skip
_HEATER: _Firsts = {place: first + 5 for place, first in _SIGNAL.items()}
_STUCK: _Firsts = {
    (1, 1): 2195, (2, 1): 2197, (1, 2): 2270, (2, 2): 2272, (1, 3): 2274, (2, 3): 2276,
}  # fmt: skip
_SHORTED_TO_HEATER: _Firsts = {
    (1, 1): 2231, (1, 2): 2232, (1, 3): 2233, (2, 1): 2234, (2, 2): 2235, (2, 3): 2236,
}  # fmt: skip

_OPEN_LOW_HIGH = (Noticed.OPEN, Noticed.LOW, Noticed.HIGH)

_DECIMAL_FAMILIES: tuple[tuple[Circuit, _Firsts, tuple[Noticed, ...]], ...] = (
    (Circuit.HEATER_CONTROL, _HEATER_CONTROL, (Noticed.FAULT_OR_OPEN, Noticed.LOW, Noticed.HIGH)),
    (Circuit.HEATER, _HEATER_RESISTANCE, (Noticed.RESISTANCE,)),
    (
        Circuit.SIGNAL,
        _SIGNAL,
        (
            Noticed.FAULT,
            Noticed.LOW,
            Noticed.HIGH,
            Noticed.SLOW_RESPONSE,
            Noticed.NO_ACTIVITY,
        ),
    ),
    (Circuit.HEATER, _HEATER, (Noticed.FAULT,)),
    (Circuit.SIGNAL, _STUCK, (Noticed.STUCK_LEAN, Noticed.STUCK_RICH)),
    (Circuit.SIGNAL, _SHORTED_TO_HEATER, (Noticed.SHORTED_TO_HEATER,)),
    (Circuit.PUMP_CURRENT_POSITIVE, {(1, 1): 2237, (2, 1): 2240}, _OPEN_LOW_HIGH),
    (
        Circuit.REFERENCE,
        {(1, 1): 2243, (2, 1): 2247},
        (Noticed.OPEN, Noticed.PERFORMANCE, Noticed.LOW, Noticed.HIGH),
    ),
    (Circuit.PUMP_CURRENT_NEGATIVE, {(1, 1): 2251, (2, 1): 2254}, _OPEN_LOW_HIGH),
    (Circuit.SIGNAL, {(1, 1): 2297, (2, 1): 2298}, (Noticed.OUT_OF_RANGE_ON_OVERRUN,)),
    (Circuit.SIGNAL, {(1, 1): 2414, (2, 1): 2415}, (Noticed.EXHAUST_SAMPLE,)),
    (Circuit.PUMP_CURRENT_TRIM, {(1, 1): 2626, (2, 1): 2629}, _OPEN_LOW_HIGH),
)

_SIGNAL_ROWS: tuple[tuple[str, int, int, Noticed], ...] = (
    ("P013A", 1, 2, Noticed.SLOW_RICH_TO_LEAN),
    ("P013B", 1, 2, Noticed.SLOW_LEAN_TO_RICH),
    ("P013C", 2, 2, Noticed.SLOW_RICH_TO_LEAN),
    ("P013D", 2, 2, Noticed.SLOW_LEAN_TO_RICH),
    ("P013E", 1, 2, Noticed.LATE_RICH_TO_LEAN),
    ("P013F", 1, 2, Noticed.LATE_LEAN_TO_RICH),
    ("P014A", 2, 2, Noticed.LATE_RICH_TO_LEAN),
    ("P014B", 2, 2, Noticed.LATE_LEAN_TO_RICH),
    ("P014C", 1, 1, Noticed.SLOW_RICH_TO_LEAN),
    ("P014D", 1, 1, Noticed.SLOW_LEAN_TO_RICH),
    ("P014E", 2, 1, Noticed.SLOW_RICH_TO_LEAN),
    ("P014F", 2, 1, Noticed.SLOW_LEAN_TO_RICH),
    ("P015A", 1, 1, Noticed.LATE_RICH_TO_LEAN),
    ("P015B", 1, 1, Noticed.LATE_LEAN_TO_RICH),
    ("P015C", 2, 1, Noticed.LATE_RICH_TO_LEAN),
    ("P015D", 2, 1, Noticed.LATE_LEAN_TO_RICH),
    ("P2A00", 1, 1, Noticed.PERFORMANCE),
    ("P2A01", 1, 2, Noticed.PERFORMANCE),
    ("P2A02", 1, 3, Noticed.PERFORMANCE),
    ("P2A03", 2, 1, Noticed.PERFORMANCE),
    ("P2A04", 2, 2, Noticed.PERFORMANCE),
    ("P2A05", 2, 3, Noticed.PERFORMANCE),
)

_SWAPPED_ROWS: tuple[tuple[str, tuple[int, int], tuple[int, int]], ...] = (
    ("P0040", (1, 1), (2, 1)),
    ("P0041", (1, 2), (2, 2)),
    ("P2278", (1, 3), (2, 3)),
    ("P2416", (1, 2), (1, 3)),
    ("P2417", (2, 2), (2, 3)),
)

_BANK_ROWS: tuple[tuple[str, str, Subject, Noticed], ...] = (
    ("P0170", "P0173", Subject.FUEL_TRIM, Noticed.FAULT),
    ("P0171", "P0174", Subject.FUEL_TRIM, Noticed.LEAN),
    ("P0172", "P0175", Subject.FUEL_TRIM, Noticed.RICH),
    ("P2096", "P2098", Subject.FUEL_TRIM, Noticed.LEAN_AFTER_CATALYST),
    ("P2097", "P2099", Subject.FUEL_TRIM, Noticed.RICH_AFTER_CATALYST),
    ("P2177", "P2179", Subject.FUEL_TRIM, Noticed.LEAN_OFF_IDLE),
    ("P2178", "P2180", Subject.FUEL_TRIM, Noticed.RICH_OFF_IDLE),
    ("P2187", "P2189", Subject.FUEL_TRIM, Noticed.LEAN_AT_IDLE),
    ("P2188", "P2190", Subject.FUEL_TRIM, Noticed.RICH_AT_IDLE),
    ("P0420", "P0430", Subject.CATALYST, Noticed.LOW_EFFICIENCY),
)

_FALSE_FRIENDS: Mapping[OtherPart, tuple[str, ...]] = {
    OtherPart.TURBO_BYPASS: ("P0033", "P0034", "P0035", "P0039"),
    OtherPart.BOOST_CONTROL: ("P0045", "P0046", "P0047", "P0048"),
    OtherPart.TURBINE_SPEED: ("P0049",),
    OtherPart.FUEL_DELIVERY: ("P0148",),
    OtherPart.FUEL_TIMING: ("P0149",),
    OtherPart.SECONDARY_AIR: ("P2257",),
    OtherPart.INTAKE_LEAK: ("P2279",),
    OtherPart.EVAPORATIVE: ("P2418",),
}


def _sensor_codes() -> Iterator[FaultCode]:
    for circuit, firsts, run in _DECIMAL_FAMILIES:
        for (bank, position), first in firsts.items():
            for step, noticed in enumerate(run):
                code = f"P{first + step:04d}"
                yield FaultCode(code, Subject.SENSOR, noticed, circuit, bank, position)
    for code, bank, position, noticed in _SIGNAL_ROWS:
        yield FaultCode(code, Subject.SENSOR, noticed, Circuit.SIGNAL, bank, position)


def _swapped_codes() -> Iterator[FaultCode]:
    for code, one, other in _SWAPPED_ROWS:
        yield FaultCode(
            code,
            Subject.SWAPPED,
            Noticed.EXCHANGED,
            bank=one[0] if one[0] == other[0] else None,
            swapped=(SensorPlace(*one), SensorPlace(*other)),
        )


def _related_codes() -> Iterator[FaultCode]:
    for of_bank_1, of_bank_2, subject, noticed in _BANK_ROWS:
        yield FaultCode(of_bank_1, subject, noticed, bank=1)
        yield FaultCode(of_bank_2, subject, noticed, bank=2)
    for part, codes_of_part in _FALSE_FRIENDS.items():
        for code in codes_of_part:
            yield FaultCode(code, Subject.FALSE_FRIEND, other_part=part)


def _table() -> Mapping[str, FaultCode]:
    rows = sorted((*_sensor_codes(), *_swapped_codes(), *_related_codes()), key=lambda r: r.code)
    table = {row.code: row for row in rows}
    if len(table) != len(rows):
        raise ValueError("two rows of the fault code table claim one code")
    return MappingProxyType(table)


FAULT_CODES = _table()
"""Every code of the table by its own name, in the order of the codes."""
