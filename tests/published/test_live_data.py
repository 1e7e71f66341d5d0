"""Live data against SAE J1979 service 01, as republished; rows and their sources in codes.yml."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.trade.live_data import (
    FuelSystem,
    Layout,
    Monitor,
    Parameter,
    Quantity,
    fuel_systems,
    layout_for,
    monitor_bytes,
    monitor_status,
    parameters_for,
    presence_bytes,
    sensors_present,
    trims_for,
)
from generator.trade.sensor import SensorKind

FACTS: dict[str, Any] = yaml.safe_load((Path(__file__).parent / "codes.yml").read_text("utf-8"))
WORKED = FACTS["worked_decodes"]

UNITS = {"lambda": "", "V": "V", "mA": "mA", "%": "%"}
QUANTITIES = {
    "voltage": Quantity.VOLTAGE,
    "trim": Quantity.SENSOR_TRIM,
    "lambda": Quantity.LAMBDA,
    "current": Quantity.PUMP_CURRENT,
}
MONITORS = {
    "misfire": Monitor.MISFIRE,
    "fuel system": Monitor.FUEL_SYSTEM,
    "components": Monitor.COMPONENTS,
    "catalyst": Monitor.CATALYST,
    "heated catalyst": Monitor.HEATED_CATALYST,
    "evaporative": Monitor.EVAPORATIVE,
    "secondary air": Monitor.SECONDARY_AIR,
    "gasoline particulate filter": Monitor.PARTICULATE_FILTER,
    "oxygen sensor": Monitor.OXYGEN_SENSOR,
    "oxygen sensor heater": Monitor.OXYGEN_SENSOR_HEATER,
    "EGR and/or VVT": Monitor.EXHAUST_RECIRCULATION,
}
FUEL_STATES = {
    "engine off": FuelSystem.ENGINE_OFF,
    "open loop, too cold": FuelSystem.OPEN_LOOP_COLD,
    "closed loop on oxygen sensor": FuelSystem.CLOSED_LOOP,
    "open loop, load or fuel cut": FuelSystem.OPEN_LOOP_LOAD,
    "open loop, system fault": FuelSystem.OPEN_LOOP_FAULT,
    "closed loop with a fault in feedback": FuelSystem.CLOSED_LOOP_FAULT,
}


def sensor(name: str) -> tuple[int, int]:
    return int(name[1]), int(name[3])


def parameters(pid: int, layout: Layout = Layout.TWO_BANKS) -> list[Parameter]:
    """Every parameter that any sensor of the layout has under this PID."""
    return [
        parameter
        for bank in range(1, layout.banks + 1)
        for position in range(1, layout.positions + 1)
        for kind in (SensorKind.SWITCHING, SensorKind.WIDE_RANGE)
        for parameter in parameters_for(bank, position, kind, layout)
        if parameter.pid == pid
    ]


@pytest.mark.parametrize(
    ("banks", "pid"), FACTS["layout_for_banks"]["pid_for_number_of_banks"].items()
)
def test_number_of_banks_decides_the_layout(banks: int, pid: int) -> None:
    assert layout_for(range(1, banks + 1)) is Layout(pid)


@pytest.mark.parametrize(("pid", "names"), FACTS["sensor_of_bit"]["maps"].items())
def test_every_bit_of_the_presence_maps(pid: int, names: list[str]) -> None:
    for bit, name in enumerate(names):
        assert sensors_present(bytes([1 << bit]), Layout(pid)) == (sensor(name),)
        assert presence_bytes([sensor(name)], Layout(pid)) == bytes([1 << bit])


@pytest.mark.parametrize(
    ("layout_pid", "first_pid", "names"),
    [
        (layout_pid, first_pid, names)
        for layout_pid, rows in FACTS["sensor_of_pid"]["maps"].items()
        for first_pid, names in rows.items()
    ],
)
def test_every_pid_of_every_sensor(layout_pid: int, first_pid: int, names: list[str]) -> None:
    for step, name in enumerate(names):
        there = parameters(first_pid + step, Layout(layout_pid))
        assert {(p.bank, p.position) for p in there} == {sensor(name)}


@pytest.mark.parametrize("end", FACTS["scale_ends"]["ends"], ids=str)
def test_ends_of_the_scales(end: dict[str, Any]) -> None:
    (parameter,) = (p for p in parameters(end["pid"]) if p.unit == UNITS[end["unit"]])
    assert parameter.decode(bytes(4)) == end["smallest"]
    top = parameter.decode(b"\xff" * 4)
    assert top is not None
    if "largest" in end:
        assert top == pytest.approx(end["largest"], rel=1e-12)
    else:
        assert end["below"] - parameter.scaling.per_bit == pytest.approx(top, rel=1e-12)
        assert top < end["below"]


def test_the_byte_for_a_sensor_not_used_for_trim() -> None:
    fact = FACTS["scale_ends"]["not_used_for_trim"]
    (trim,) = (p for p in parameters(fact["pid"]) if p.quantity is Quantity.SENSOR_TRIM)
    assert trim.decode(bytes([0, fact["second_byte"]])) is None
    assert trim.decode(bytes([0, fact["second_byte"] - 1])) is not None


def test_older_rounded_scalings_agree() -> None:
    values = FACTS["per_bit"]["values"]
    lambda_, volts = parameters(0x24)
    assert lambda_.scaling.per_bit == pytest.approx(values["lambda"], rel=1e-3)
    assert volts.scaling.per_bit == pytest.approx(values["wide_voltage_v"], rel=1e-3)


@pytest.mark.parametrize(("pid", "row"), FACTS["fuel_trims"]["pids"].items())
def test_fuel_trims(pid: int, row: list[Any]) -> None:
    term, bank = row
    (trim,) = (p for p in trims_for(bank) if p.pid == pid)
    assert trim.quantity.name == f"{term.upper()}_TERM_TRIM"
    low, high = FACTS["fuel_trims"]["ends_percent"]
    assert trim.decode(b"\x00") == low
    assert trim.decode(b"\xff") == pytest.approx(high, abs=0.05), "published to one decimal"


@pytest.mark.parametrize(("pid", "row"), FACTS["secondary_trims"]["pids"].items())
def test_trims_after_the_catalyst(pid: int, row: list[Any]) -> None:
    term, *banks = row
    for byte, bank in enumerate(banks):
        (trim,) = (p for p in trims_for(bank) if p.pid == pid)
        assert trim.quantity.name == f"SECONDARY_{term.upper()}_TERM_TRIM"
        assert (trim.first_byte, trim.decode(b"\x80\x80")) == (byte, 0.0)


def assert_decodes(pid: int, data: bytes, values: dict[str, float]) -> None:
    for name, value in values.items():
        (parameter,) = (p for p in parameters(pid) if p.quantity is QUANTITIES[name])
        assert parameter.decode(data) == pytest.approx(value, rel=1e-12)
        first = parameter.first_byte
        assert parameter.encode(value) == data[first : first + parameter.scaling.size_bytes]


@pytest.mark.parametrize("fact", FACTS["boundary_decodes"]["decodes"], ids=str)
def test_boundary_decodes(fact: dict[str, Any]) -> None:
    values = {name: value for name, value in fact.items() if name in QUANTITIES}
    assert len(values) == 2
    assert_decodes(fact["pid"], bytes.fromhex(fact["data"]), values)


def test_worked_decode_of_a_switching_sensor() -> None:
    fact = WORKED["0x15"]
    values = {"voltage": fact["voltage"], "trim": fact["trim"]}
    assert_decodes(0x15, bytes.fromhex(fact["data"]), values)


def test_worked_decode_of_the_sensors_present() -> None:
    fact = WORKED["0x13"]
    there = sensors_present(bytes.fromhex(fact["data"]), Layout.TWO_BANKS)
    assert [str(place) for place in there] == fact["sensors"]
    kind = SensorKind.SWITCHING
    pids = [parameters_for(*place, kind, Layout.TWO_BANKS)[0].pid for place in there]
    assert pids == fact["pids"]


def test_worked_decode_of_the_monitor_status() -> None:
    fact = WORKED["0x01"]
    data = bytes.fromhex(fact["data"])
    status = monitor_status(data)
    once_a_trip = FACTS["monitor_bits"]["once_a_trip"]
    assert fact["available"][-1] == "all eight of the third byte"
    available = [*fact["available"][:-1], *once_a_trip]
    assert (status.lamp_is_on, status.confirmed_codes) == (fact["lamp"], fact["codes"])
    assert status.available == {MONITORS[name] for name in available}
    assert status.incomplete == {MONITORS[name] for name in fact["incomplete"]}
    assert monitor_bytes(status) == data


@pytest.mark.parametrize(("bit", "name"), enumerate(FACTS["monitor_bits"]["continuous"]))
def test_bits_of_the_continuous_monitors(bit: int, name: str) -> None:
    assert monitor_status(bytes([0, 1 << bit, 0, 0])).available == {MONITORS[name]}
    assert monitor_status(bytes([0, 1 << bit + 4, 0, 0])).incomplete == {MONITORS[name]}


@pytest.mark.parametrize(("bit", "name"), enumerate(FACTS["monitor_bits"]["once_a_trip"]))
def test_bits_of_the_other_monitors(bit: int, name: str) -> None:
    assert monitor_status(bytes([0, 0, 1 << bit, 0])).available == {MONITORS[name]}
    assert monitor_status(bytes([0, 0, 0, 1 << bit])).incomplete == {MONITORS[name]}


@pytest.mark.parametrize(("byte", "words"), FACTS["fuel_system_states"]["bytes"].items())
def test_fuel_system_states(byte: int, words: str) -> None:
    assert fuel_systems(bytes([byte, 0])) == (FUEL_STATES[words], FuelSystem.ENGINE_OFF)
