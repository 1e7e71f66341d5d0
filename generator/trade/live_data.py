"""Live data of the oxygen sensors: which parameter, in which unit, and what to expect.

Service 01 of SAE J1979 / ISO 15031-5, as republished in open tables. A parameter is asked for by
its number (PID); the bytes meant here are the data bytes, without the answer's 0x41 and PID.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from enum import Enum, StrEnum
from typing import Final

from generator.trade.sensor import SensorKind, SensorPlace


class Layout(Enum):
    """How a vehicle counts its eight possible sensors; the value is the PID that says which."""

    TWO_BANKS = 0x13
    """Two banks of four positions."""
    FOUR_BANKS = 0x1D
    """Four banks of two positions."""

    @property
    def banks(self) -> int:
        """Number of banks."""
        return 2 if self is Layout.TWO_BANKS else 4

    @property
    def positions(self) -> int:
        """Number of positions in a bank."""
        return 8 // self.banks


def layout_for(banks: Collection[int]) -> Layout:
    """Give the layout a vehicle with these banks reports: more than two banks need 0x1D.

    COVESA Vehicle Signal Specification, overlay OBD. A vehicle answers one of the two only, and
    its own answer outranks this. Raises ValueError for no banks, or banks other than 1 to 4.
    """
    if not banks or not set(banks) <= {1, 2, 3, 4}:
        raise ValueError(f"live data knows banks 1 to 4, not {sorted(banks)}")
    return Layout.FOUR_BANKS if max(banks) > 2 else Layout.TWO_BANKS


def sensor_index(bank: int, position: int, layout: Layout) -> int:
    """Give the sensor's place, 0 to 7, in the layout: its bit, and its step from the first PID.

    Raises ValueError for a sensor the layout has no place for.
    """
    if not (1 <= bank <= layout.banks and 1 <= position <= layout.positions):
        raise ValueError(
            f"bank {bank} sensor {position} has no live data of its own: this vehicle's layout "
            f"has {layout.banks} banks of {layout.positions} sensors"
        )
    return (bank - 1) * layout.positions + position - 1


def sensors_present(data: bytes, layout: Layout) -> tuple[SensorPlace, ...]:
    """Give the sensors that the one byte of PID 0x13 or 0x1D says are there."""
    _require_bytes(data, 1)
    return tuple(
        SensorPlace(index // layout.positions + 1, index % layout.positions + 1)
        for index in range(8)
        if data[0] >> index & 1
    )


def presence_bytes(sensors: Iterable[tuple[int, int]], layout: Layout) -> bytes:
    """Give the byte of PID 0x13 or 0x1D for these sensors; the inverse of `sensors_present`."""
    bits = {1 << sensor_index(bank, position, layout) for bank, position in sensors}
    return bytes([sum(bits)])


class Quantity(StrEnum):
    """What a parameter measures, in our words."""

    VOLTAGE = "sensor voltage"
    LAMBDA = "lambda"
    PUMP_CURRENT = "pump current"
    SENSOR_TRIM = "short-term trim from this sensor"
    SHORT_TERM_TRIM = "short-term trim"
    LONG_TERM_TRIM = "long-term trim"
    SECONDARY_SHORT_TERM_TRIM = "short-term trim after the catalyst"
    SECONDARY_LONG_TERM_TRIM = "long-term trim after the catalyst"
    COMMANDED_LAMBDA = "lambda asked for"


@dataclass(frozen=True, slots=True)
class Scaling:
    """value = raw x per_bit + offset, in `unit` ("" for lambda, which has none)."""

    unit: str
    size_bytes: int
    per_bit: float
    offset: float = 0.0
    unused: int | None = None
    """The raw number that means "does not apply"."""


@dataclass(frozen=True, slots=True)
class Maximums:
    """Full scales that a vehicle reports in PID 0x4F; zero means the standard's own scale.

    That a number other than zero replaces the scale, and how, is from memory.
    """

    lambda_ratio: int = 0
    voltage_v: int = 0
    current_ma: int = 0


def maximums(data: bytes) -> Maximums:
    """Give the full scales from the four bytes of PID 0x4F; the fourth is the manifold's."""
    _require_bytes(data, 4)
    return Maximums(*data[:3])


_TRIM: Final = Scaling("%", 1, 100 / 128, -100.0)
_NARROW_VOLTAGE: Final = Scaling("V", 1, 1 / 200)
_NARROW_TRIM: Final = Scaling("%", 1, 100 / 128, -100.0, unused=0xFF)


def _lambda_scaling(full: Maximums) -> Scaling:
    return Scaling("", 2, full.lambda_ratio / 65535 or 2 / 65536)


def _wide_voltage_scaling(full: Maximums) -> Scaling:
    return Scaling("V", 2, full.voltage_v / 65535 or 8 / 65536)


def _current_scaling(full: Maximums) -> Scaling:
    full_ma = full.current_ma or 128
    return Scaling("mA", 2, full_ma / 32768, -float(full_ma))


@dataclass(frozen=True, slots=True)
class Parameter:
    """One value in the answer to one PID: where it stands, and how it is scaled.

    `position` is None for what belongs to a bank, and `bank` too for what belongs to the engine.
    """

    pid: int
    quantity: Quantity
    scaling: Scaling
    first_byte: int = 0
    bank: int | None = None
    position: int | None = None

    @property
    def unit(self) -> str:
        """The unit of the value; empty for lambda."""
        return self.scaling.unit

    def decode(self, data: bytes) -> float | None:
        """Give the value in the data bytes of an answer; None where it does not apply.

        Raises ValueError when the answer is too short to hold it.
        """
        last = self.first_byte + self.scaling.size_bytes
        if len(data) < last:
            raise ValueError(f"PID 0x{self.pid:02X} needs {last} data bytes, not {len(data)}")
        raw = int.from_bytes(data[self.first_byte : last], "big")
        if raw == self.scaling.unused:
            return None
        return raw * self.scaling.per_bit + self.scaling.offset

    def encode(self, value: float | None) -> bytes:
        """Give the bytes of the nearest value that can be sent; the inverse of `decode`.

        None stands for "does not apply". Raises ValueError for a value outside the scale.
        """
        scaling = self.scaling
        raw = scaling.unused
        if value is not None:
            nearest = round((value - scaling.offset) / scaling.per_bit)
            fits = 0 <= nearest < 256**scaling.size_bytes and nearest != scaling.unused
            raw = nearest if fits else None
        if raw is None:
            raise ValueError(f"{self.quantity} cannot be {value} in PID 0x{self.pid:02X}")
        return raw.to_bytes(scaling.size_bytes, "big")


COMMANDED_LAMBDA: Final = Parameter(0x44, Quantity.COMMANDED_LAMBDA, _lambda_scaling(Maximums()))
"""The mixture the engine computer asks for, to hold a wide-range sensor's lambda against."""


def parameters_for(
    bank: int,
    position: int,
    kind: SensorKind,
    layout: Layout,
    full_scale: Maximums = Maximums(),
) -> tuple[Parameter, ...]:
    """Give what service 01 can report of one sensor, in the order of the PIDs.

    A switching or titania sensor: voltage and its trim, 0x14 to 0x1B. A wide-range sensor:
    lambda and voltage, 0x24 to 0x2B, and lambda and pump current, 0x34 to 0x3B; a vehicle
    supports one of the two as a rule (common practice, no source). `full_scale` is what PID 0x4F
    says. Raises ValueError for a sensor the layout has no place for.
    """
    index = sensor_index(bank, position, layout)
    if kind is not SensorKind.WIDE_RANGE:
        pid = 0x14 + index
        return (
            Parameter(pid, Quantity.VOLTAGE, _NARROW_VOLTAGE, 0, bank, position),
            Parameter(pid, Quantity.SENSOR_TRIM, _NARROW_TRIM, 1, bank, position),
        )
    lambda_, volts = _lambda_scaling(full_scale), _wide_voltage_scaling(full_scale)
    current = _current_scaling(full_scale)
    return (
        Parameter(0x24 + index, Quantity.LAMBDA, lambda_, 0, bank, position),
        Parameter(0x24 + index, Quantity.VOLTAGE, volts, 2, bank, position),
        Parameter(0x34 + index, Quantity.LAMBDA, lambda_, 0, bank, position),
        Parameter(0x34 + index, Quantity.PUMP_CURRENT, current, 2, bank, position),
    )


def trims_for(bank: int) -> tuple[Parameter, ...]:
    """Give the fuel trims of a bank: 0x06 to 0x09, and 0x55 to 0x58 for those after the catalyst.

    A trim is the correction, not the mixture: negative means fuel is being taken out because
    the mixture was rich. Banks 3 and 4 stand in the second byte of banks 1 and 2; for 0x06 to
    0x09 that is from memory. Raises ValueError for other banks.
    """
    if bank not in (1, 2, 3, 4):
        raise ValueError(f"live data has fuel trims for banks 1 to 4, not bank {bank}")
    second_bank, byte = (bank - 1) % 2, (bank - 1) // 2
    rows = (
        (0x06, Quantity.SHORT_TERM_TRIM),
        (0x07, Quantity.LONG_TERM_TRIM),
        (0x55, Quantity.SECONDARY_SHORT_TERM_TRIM),
        (0x56, Quantity.SECONDARY_LONG_TERM_TRIM),
    )
    return tuple(
        Parameter(first + 2 * second_bank, quantity, _TRIM, byte, bank) for first, quantity in rows
    )


class FuelSystem(StrEnum):
    """State of one fuel system, in the order of the bits of PID 0x03."""

    ENGINE_OFF = "engine off"
    OPEN_LOOP_COLD = "open loop: too cold"
    CLOSED_LOOP = "closed loop: the oxygen sensor steers the mixture"
    OPEN_LOOP_LOAD = "open loop: engine load, or fuel cut on overrun"
    OPEN_LOOP_FAULT = "open loop: a system fault"
    CLOSED_LOOP_FAULT = "closed loop, with a fault in the feedback"


_FUEL_SYSTEM_BYTES: Final = (0, 1, 2, 4, 8, 16)


def fuel_systems(data: bytes) -> tuple[FuelSystem, FuelSystem]:
    """Give the state of both fuel systems from the two bytes of PID 0x03.

    Raises ValueError for a byte that is none of the states; only one bit may be set.
    """
    _require_bytes(data, 2)
    for byte in data:
        if byte not in _FUEL_SYSTEM_BYTES:
            raise ValueError(f"PID 0x03 knows no fuel system state 0x{byte:02X}")
    first, second = (tuple(FuelSystem)[_FUEL_SYSTEM_BYTES.index(byte)] for byte in data)
    return first, second


def fuel_system_bytes(first: FuelSystem, second: FuelSystem) -> bytes:
    """Give the two bytes of PID 0x03; the inverse of `fuel_systems`."""
    order = tuple(FuelSystem)
    return bytes(_FUEL_SYSTEM_BYTES[order.index(state)] for state in (first, second))


class Monitor(StrEnum):
    """Self-tests of a spark-ignition engine, in the order of their bits."""

    MISFIRE = "misfire"
    FUEL_SYSTEM = "fuel system"
    COMPONENTS = "components"
    CATALYST = "catalyst"
    HEATED_CATALYST = "heated catalyst"
    EVAPORATIVE = "evaporative system"
    SECONDARY_AIR = "secondary air"
    PARTICULATE_FILTER = "particulate filter"
    """Newest edition; older ones print air conditioning refrigerant, or reserved."""
    OXYGEN_SENSOR = "oxygen sensor"
    OXYGEN_SENSOR_HEATER = "oxygen sensor heater"
    EXHAUST_RECIRCULATION = "exhaust gas recirculation or valve timing"


_CONTINUOUS: Final = tuple(Monitor)[:3]
_ONCE_A_TRIP: Final = tuple(Monitor)[3:]
_COMPRESSION: Final = 0x08


@dataclass(frozen=True, slots=True)
class MonitorStatus:
    """The warning lamp, the number of confirmed codes, and which self-tests have run."""

    lamp_is_on: bool
    confirmed_codes: int
    available: frozenset[Monitor]
    incomplete: frozenset[Monitor]

    @property
    def is_ready(self) -> bool:
        """Whether every self-test the vehicle has is complete."""
        return not self.available & self.incomplete


def monitor_status(data: bytes) -> MonitorStatus:
    """Give the status from the four bytes of PID 0x01 (since clearing) or 0x41 (this cycle).

    A bit set among the completeness bits means NOT complete. Raises ValueError for a
    compression-ignition engine, whose third and fourth bytes mean other tests.
    """
    _require_bytes(data, 4)
    lamp, continuous, present, missing = data
    if continuous & _COMPRESSION:
        raise ValueError("the engine reports compression ignition: its self-tests are others")
    return MonitorStatus(
        lamp_is_on=bool(lamp & 0x80),
        confirmed_codes=lamp & 0x7F,
        available=_named(continuous, _CONTINUOUS) | _named(present, _ONCE_A_TRIP),
        incomplete=_named(continuous >> 4, _CONTINUOUS) | _named(missing, _ONCE_A_TRIP),
    )


def monitor_bytes(status: MonitorStatus) -> bytes:
    """Give the four bytes of PID 0x01 for a status; the inverse of `monitor_status`.

    Raises ValueError for a number of codes outside 0 to 127.
    """
    if not 0 <= status.confirmed_codes <= 127:
        raise ValueError(f"PID 0x01 counts 0 to 127 codes, not {status.confirmed_codes}")
    continuous = _bits(status.available, _CONTINUOUS) | _bits(status.incomplete, _CONTINUOUS) << 4
    return bytes(
        [
            status.lamp_is_on << 7 | status.confirmed_codes,
            continuous,
            _bits(status.available, _ONCE_A_TRIP),
            _bits(status.incomplete, _ONCE_A_TRIP),
        ]
    )


def _named(bits: int, monitors: tuple[Monitor, ...]) -> frozenset[Monitor]:
    return frozenset(m for bit, m in enumerate(monitors) if bits >> bit & 1)


def _bits(chosen: frozenset[Monitor], monitors: tuple[Monitor, ...]) -> int:
    return sum(1 << bit for bit, m in enumerate(monitors) if m in chosen)


def _require_bytes(data: bytes, count: int) -> None:
    if len(data) != count:
        raise ValueError(f"{count} data bytes are needed, not {len(data)}")
