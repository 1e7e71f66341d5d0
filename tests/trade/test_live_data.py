"""Live data: which parameter a sensor has, its scaling both ways, and what to expect."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.live_data import (
    COMMANDED_LAMBDA,
    FuelSystem,
    Layout,
    Maximums,
    Monitor,
    MonitorStatus,
    Parameter,
    Quantity,
    fuel_system_bytes,
    fuel_systems,
    layout_for,
    maximums,
    monitor_bytes,
    monitor_status,
    parameters_for,
    presence_bytes,
    sensor_index,
    sensors_present,
    trims_for,
)
from generator.trade.sensor import (
    Behaviour,
    Condition,
    ExpectedValue,
    SensorKind,
    expected,
    names_on_scan_tools,
)

PARAMETERS = (
    *parameters_for(1, 1, SensorKind.SWITCHING, Layout.TWO_BANKS),
    *parameters_for(2, 1, SensorKind.WIDE_RANGE, Layout.TWO_BANKS),
    *parameters_for(1, 2, SensorKind.WIDE_RANGE, Layout.TWO_BANKS, Maximums(4, 16, 12)),
    *trims_for(1),
    *trims_for(4),
    COMMANDED_LAMBDA,
)
ANY_PARAMETER = st.sampled_from(PARAMETERS)


def one(parameters: tuple[Parameter, ...], quantity: Quantity) -> Parameter:
    return next(p for p in parameters if p.quantity is quantity)


@pytest.mark.parametrize(
    ("banks", "layout"),
    [
        ({1}, Layout.TWO_BANKS),
        ([1, 2, 2], Layout.TWO_BANKS),
        ({1, 2, 3}, Layout.FOUR_BANKS),
        ((4, 1), Layout.FOUR_BANKS),
    ],
)
def test_layout_follows_the_highest_bank(banks: set[int], layout: Layout) -> None:
    assert layout_for(banks) is layout


@pytest.mark.parametrize("banks", [set(), {0, 1}, {5}])
def test_layout_needs_banks_it_knows(banks: set[int]) -> None:
    with pytest.raises(ValueError, match="banks 1 to 4"):
        layout_for(banks)


@pytest.mark.parametrize("layout", Layout)
def test_every_place_of_a_layout_has_its_own_index(layout: Layout) -> None:
    places = itertools.product(range(1, layout.banks + 1), range(1, layout.positions + 1))
    assert [sensor_index(*place, layout) for place in places] == list(range(8))


@pytest.mark.parametrize(
    ("bank", "position", "layout"),
    [
        (3, 1, Layout.TWO_BANKS),
        (1, 5, Layout.TWO_BANKS),
        (1, 3, Layout.FOUR_BANKS),
        (5, 1, Layout.FOUR_BANKS),
        (0, 1, Layout.TWO_BANKS),
        (1, 0, Layout.FOUR_BANKS),
    ],
)
def test_a_sensor_the_layout_has_no_place_for(bank: int, position: int, layout: Layout) -> None:
    message = f"bank {bank} sensor {position} .* {layout.banks} banks of {layout.positions} sensors"
    with pytest.raises(ValueError, match=message):
        parameters_for(bank, position, SensorKind.SWITCHING, layout)


@given(st.binary(min_size=1, max_size=1), st.sampled_from(Layout))
def test_presence_both_ways(data: bytes, layout: Layout) -> None:
    there = sensors_present(data, layout)
    assert presence_bytes(there, layout) == data
    assert len(there) == data[0].bit_count()


def test_a_sensor_named_twice_is_there_once() -> None:
    assert presence_bytes([(1, 1), (1, 1), (2, 1)], Layout.TWO_BANKS) == b"\x11"


def test_the_second_bank_moves_with_the_layout() -> None:
    kind = SensorKind.SWITCHING
    assert {p.pid for p in parameters_for(2, 1, kind, Layout.TWO_BANKS)} == {0x18}
    assert {p.pid for p in parameters_for(2, 1, kind, Layout.FOUR_BANKS)} == {0x16}


@pytest.mark.parametrize(
    ("kind", "rows"),
    [
        (SensorKind.SWITCHING, [(0x15, "V"), (0x15, "%")]),
        (SensorKind.TITANIA, [(0x15, "V"), (0x15, "%")]),
        (SensorKind.WIDE_RANGE, [(0x25, ""), (0x25, "V"), (0x35, ""), (0x35, "mA")]),
    ],
)
def test_parameters_follow_the_kind(kind: SensorKind, rows: list[tuple[int, str]]) -> None:
    parameters = parameters_for(1, 2, kind, Layout.TWO_BANKS)
    assert [(p.pid, p.unit) for p in parameters] == rows
    assert {(p.bank, p.position) for p in parameters} == {(1, 2)}


@given(ANY_PARAMETER, st.binary(min_size=4, max_size=4))
def test_decoding_and_encoding_give_the_bytes_back(parameter: Parameter, data: bytes) -> None:
    first, size = parameter.first_byte, parameter.scaling.size_bytes
    assert parameter.encode(parameter.decode(data)) == data[first : first + size]


@given(ANY_PARAMETER, st.data())
def test_a_value_survives_to_half_a_step(parameter: Parameter, data: st.DataObject) -> None:
    scaling = parameter.scaling
    steps = 256**scaling.size_bytes - 1 - (scaling.unused is not None)
    raw = data.draw(st.floats(0, steps))
    value = raw * scaling.per_bit + scaling.offset
    back = parameter.decode(bytes(parameter.first_byte) + parameter.encode(value))
    assert back == pytest.approx(value, abs=scaling.per_bit * (0.5 + 1e-6))


@pytest.mark.parametrize("parameter", PARAMETERS, ids=str)
def test_a_value_outside_the_scale_is_refused(parameter: Parameter) -> None:
    span = parameter.scaling.per_bit * 256**parameter.scaling.size_bytes
    for value in (parameter.scaling.offset - span / 100, parameter.scaling.offset + span * 1.01):
        with pytest.raises(ValueError, match=f"PID 0x{parameter.pid:02X}"):
            parameter.encode(value)


@pytest.mark.parametrize("parameter", PARAMETERS, ids=str)
def test_an_answer_too_short_is_refused(parameter: Parameter) -> None:
    needed = parameter.first_byte + parameter.scaling.size_bytes
    with pytest.raises(ValueError, match=f"needs {needed} data bytes, not {needed - 1}"):
        parameter.decode(bytes(needed - 1))


def test_a_sensor_not_used_for_trim_has_no_trim() -> None:
    parameters = parameters_for(1, 2, SensorKind.SWITCHING, Layout.TWO_BANKS)
    trim = one(parameters, Quantity.SENSOR_TRIM)
    assert trim.decode(b"\x90\xff") is None
    assert trim.encode(None) == b"\xff"
    with pytest.raises(ValueError, match="cannot be"):
        trim.encode(99.21875)  # the value that 0xFF would stand for


def test_only_that_trim_may_be_missing() -> None:
    with pytest.raises(ValueError, match="cannot be None"):
        trims_for(1)[0].encode(None)


def test_full_scales_that_the_vehicle_reports_are_honoured() -> None:
    # The rule for PID 0x4F is from memory; this holds the code to it, not to a published table.
    reported = maximums(bytes([4, 16, 12, 0]))
    assert reported == Maximums(lambda_ratio=4, voltage_v=16, current_ma=12)
    wide = parameters_for(1, 1, SensorKind.WIDE_RANGE, Layout.TWO_BANKS, reported)
    assert one(wide, Quantity.LAMBDA).decode(b"\xff\xff") == pytest.approx(4)
    assert one(wide, Quantity.VOLTAGE).decode(b"\0\0\xff\xff") == pytest.approx(16)
    current = one(wide, Quantity.PUMP_CURRENT)
    assert current.decode(b"\0\0\x80\x00") == 0
    assert current.decode(b"\0\0\x00\x00") == -12
    assert current.decode(b"\0\0\xc0\x00") == 6


def test_full_scales_of_zero_leave_the_standard_ones() -> None:
    place, kind = (1, 1), SensorKind.WIDE_RANGE
    reported = parameters_for(*place, kind, Layout.TWO_BANKS, maximums(bytes([0, 0, 0, 25])))
    assert reported == parameters_for(*place, kind, Layout.TWO_BANKS)
    narrow = parameters_for(*place, SensorKind.SWITCHING, Layout.TWO_BANKS)
    rescaled = parameters_for(*place, SensorKind.SWITCHING, Layout.TWO_BANKS, Maximums(4, 16, 12))
    assert narrow == rescaled, "only the wide-range parameters have reported scales"


def test_a_trim_is_the_correction() -> None:
    short = one(trims_for(1), Quantity.SHORT_TERM_TRIM)
    taking_fuel_out = short.decode(b"\x70")
    assert taking_fuel_out == -12.5


@pytest.mark.parametrize(
    ("bank", "pids", "byte"),
    [
        (1, [0x06, 0x07, 0x55, 0x56], 0),
        (2, [0x08, 0x09, 0x57, 0x58], 0),
        (3, [0x06, 0x07, 0x55, 0x56], 1),
        (4, [0x08, 0x09, 0x57, 0x58], 1),
    ],
)
def test_trims_of_a_bank(bank: int, pids: list[int], byte: int) -> None:
    trims = trims_for(bank)
    assert [t.pid for t in trims] == pids
    assert {(t.first_byte, t.bank, t.position, t.unit) for t in trims} == {(byte, bank, None, "%")}


def test_trims_need_a_bank_that_live_data_knows() -> None:
    with pytest.raises(ValueError, match="not bank 5"):
        trims_for(5)


@given(st.sampled_from(FuelSystem), st.sampled_from(FuelSystem))
def test_fuel_systems_both_ways(first: FuelSystem, second: FuelSystem) -> None:
    assert fuel_systems(fuel_system_bytes(first, second)) == (first, second)


@pytest.mark.parametrize("byte", [3, 32, 255])
def test_a_fuel_system_is_in_one_state(byte: int) -> None:
    with pytest.raises(ValueError, match=f"0x{byte:02X}"):
        fuel_systems(bytes([2, byte]))


@given(
    st.builds(
        MonitorStatus,
        lamp_is_on=st.booleans(),
        confirmed_codes=st.integers(0, 127),
        available=st.frozensets(st.sampled_from(Monitor)),
        incomplete=st.frozensets(st.sampled_from(Monitor)),
    )
)
def test_monitor_status_both_ways(status: MonitorStatus) -> None:
    data = monitor_bytes(status)
    assert monitor_status(data) == status
    assert data[1] & 0x88 == 0, "spark ignition, and the reserved bit"


def test_ready_means_no_test_of_this_vehicle_is_open() -> None:
    done = monitor_status(bytes([0, 0x07, 0x61, 0x00]))
    assert done.is_ready
    assert done.available == {
        Monitor.MISFIRE,
        Monitor.FUEL_SYSTEM,
        Monitor.COMPONENTS,
        Monitor.CATALYST,
        Monitor.OXYGEN_SENSOR,
        Monitor.OXYGEN_SENSOR_HEATER,
    }
    assert not monitor_status(bytes([0, 0x07, 0x61, 0x40])).is_ready
    assert monitor_status(bytes([0, 0x07, 0x61, 0x02])).is_ready, "it has no heated catalyst"


def test_the_lamp_is_not_counted_as_codes() -> None:
    assert monitor_status(b"\x80\0\0\0").lamp_is_on
    assert monitor_status(b"\x80\0\0\0").confirmed_codes == 0
    assert not monitor_status(b"\x7f\0\0\0").lamp_is_on
    assert monitor_status(b"\x7f\0\0\0").confirmed_codes == 127


def test_compression_ignition_has_other_tests() -> None:
    with pytest.raises(ValueError, match="compression ignition"):
        monitor_status(bytes([0, 0x0F, 0, 0]))


@pytest.mark.parametrize("codes", [-1, 128])
def test_more_codes_than_can_be_sent_are_refused(codes: int) -> None:
    with pytest.raises(ValueError, match="0 to 127"):
        monitor_bytes(MonitorStatus(True, codes, frozenset(), frozenset()))


def test_answers_of_the_wrong_length_are_refused() -> None:
    for call, count in ((monitor_status, 4), (maximums, 4), (fuel_systems, 2)):
        for data in (bytes(count - 1), bytes(count + 1)):
            with pytest.raises(ValueError, match=f"{count} data bytes"):
                call(data)
    with pytest.raises(ValueError, match="1 data bytes"):
        sensors_present(b"\x11\x00", Layout.TWO_BANKS)


EVERY_CASE = list(itertools.product(SensorKind, (1, 2, 3), Condition))


@pytest.mark.parametrize(("kind", "position", "condition"), EVERY_CASE)
def test_expectations_use_a_unit_the_live_data_has(
    kind: SensorKind, position: int, condition: Condition
) -> None:
    units = {p.unit for p in parameters_for(1, position, kind, Layout.TWO_BANKS)}
    values = expected(kind, position, condition)
    assert values
    for value in values:
        assert value.unit in units
        assert value.basis == "common practice, no source"
        assert value.low is None or value.high is None or value.low < value.high


def test_a_switching_sensor_swings_upstream_and_rests_downstream() -> None:
    kind = SensorKind.SWITCHING
    assert expected(kind, 1, Condition.RPM_2500) == (
        ExpectedValue(0.1, 0.9, "V", Behaviour.SWITCHES),
    )
    assert expected(kind, 2, Condition.RPM_2500) == (
        ExpectedValue(0.5, 0.8, "V", Behaviour.NEARLY_STEADY),
    )


@pytest.mark.parametrize("position", [1, 2])
def test_snap_is_rich_and_overrun_is_lean_in_the_sense_of_each_unit(position: int) -> None:
    for condition in (Condition.SNAP, Condition.OVERRUN):
        rich = condition is Condition.SNAP
        (volts,) = expected(SensorKind.SWITCHING, position, condition)
        lambda_, current = expected(SensorKind.WIDE_RANGE, position, condition)
        assert (volts.low is not None) == rich, "a switching sensor's voltage is high when rich"
        assert (lambda_.low, lambda_.high) == ((None, 1.0) if rich else (1.0, None))
        assert (current.low, current.high) == ((None, 0.0) if rich else (0.0, None))
        assert lambda_.behaviour is current.behaviour is volts.behaviour


def test_a_wide_range_sensor_rests_about_lambda_one() -> None:
    for condition in (Condition.IDLE, Condition.RPM_2500):
        lambda_, current = expected(SensorKind.WIDE_RANGE, 1, condition)
        for value, middle in ((lambda_, 1.0), (current, 0.0)):
            assert value.low is not None
            assert value.high is not None
            assert value.low < middle < value.high
            assert value.behaviour is Behaviour.NEARLY_STEADY


def test_a_titania_sensor_has_a_behaviour_and_no_numbers() -> None:
    (value,) = expected(SensorKind.TITANIA, 1, Condition.RPM_2500)
    assert value == ExpectedValue(None, None, "V", Behaviour.SWITCHES)


def test_downstream_follows_upstream() -> None:
    (upstream,) = expected(SensorKind.SWITCHING, 1, Condition.OVERRUN)
    (downstream,) = expected(SensorKind.SWITCHING, 2, Condition.OVERRUN)
    assert upstream.behaviour is Behaviour.LEAN_AT_ONCE
    assert downstream.behaviour is Behaviour.LEAN_LATER


def test_positions_are_counted_from_one() -> None:
    with pytest.raises(ValueError, match="from 1, not 0"):
        expected(SensorKind.SWITCHING, 0, Condition.IDLE)


def test_names_carry_bank_and_position() -> None:
    for kind in SensorKind:
        names = names_on_scan_tools(2, 1, kind)
        assert "O2 B2S1" in names
        assert "O2S21" in names
        assert len(set(names)) == len(names)
        assert all("2" in name and "1" in name for name in names)
    assert "lambda, bank 2 sensor 1" in names_on_scan_tools(2, 1, SensorKind.WIDE_RANGE)
    assert "HO2S21" not in names_on_scan_tools(2, 1, SensorKind.WIDE_RANGE)
