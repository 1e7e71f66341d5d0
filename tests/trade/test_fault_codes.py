"""Reading fault codes as people type them, and finding the sensor behind one."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.fault_codes import (
    FAULT_CODES,
    Circuit,
    FaultCode,
    MakerSpecific,
    Noticed,
    Subject,
    Unknown,
    Unreadable,
    codes_for,
    location,
    look_up,
    normalised,
    packed,
    related_codes,
    unpacked,
)
from generator.trade.sensor import SensorKind, SensorPlace

two_bytes = st.binary(min_size=2, max_size=2)


@pytest.mark.parametrize(
    "text",
    [
        "P0135", "p135", "P0135 ", "0135", "135", "P-0135", "p 0135", "\tp0135\n", "PO135",
        "P–0135", "Ｐ０１３５", "P0135-13", "P0135:1a", "P 0135-13",
    ],
)  # fmt: skip
def test_spellings_that_are_forgiven(text: str) -> None:
    assert normalised(text) == "P0135"


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("p2a00", "P2A00"),
        ("2195", "P2195"),
        ("u0158", "U0158"),
        ("C135", "C0135"),
        ("13a", "P013A"),
    ],
)
def test_the_letter_is_kept_and_a_missing_one_means_powertrain(text: str, code: str) -> None:
    assert normalised(text) == code


@pytest.mark.parametrize(
    "text",
    ["", "P", "13", "P13", "P01355", "P4135", "A123", "Q0135", "P0135 P0136", "P01G5", "135-13",
     "heater", "P0135-1", "٠١٣٥", "P0135\nP0136"],
)  # fmt: skip
def test_other_texts_are_unreadable_and_say_how_to_write_a_code(text: str) -> None:
    result = look_up(text)
    assert isinstance(result, Unreadable)
    assert "P0135" in result.sentence
    assert f"“{text.strip()}”" in result.sentence
    with pytest.raises(ValueError, match="four digits") as caught:
        normalised(text)
    assert str(caught.value) == result.sentence


def test_braces_in_a_text_are_only_text() -> None:
    assert "“{text.__class__}”" in Unreadable("{text.__class__}").sentence


@given(st.text(max_size=12))
def test_any_text_is_a_code_or_unreadable(text: str) -> None:
    result = look_up(text)
    if isinstance(result, Unreadable):
        assert result.text == text.strip()
    else:
        assert re.fullmatch(r"[PCBU][0-3][0-9A-F]{3}", result.code)
        assert normalised(result.code) == result.code


@pytest.mark.parametrize("code", ["P1130", "P1FFF", "P3000", "P33A0", "C1234", "B2000", "U1000"])
def test_codes_of_the_makers(code: str) -> None:
    result = look_up(code)
    assert isinstance(result, MakerSpecific)
    assert code in result.sentence
    assert "maker" in result.sentence


@pytest.mark.parametrize("code", ["P0300", "P2A06", "P3400", "C0035", "U0100", "P005A"])
def test_standard_codes_outside_the_table(code: str) -> None:
    result = look_up(code)
    assert isinstance(result, Unknown)
    assert code in result.sentence


def test_a_code_found_is_the_row_of_the_table() -> None:
    assert look_up("p135") == FaultCode(
        "P0135", Subject.SENSOR, Noticed.FAULT, Circuit.HEATER, bank=1, position=1
    )


def test_location_names_the_sensors_of_a_code() -> None:
    assert location("p0141") == (SensorPlace(1, 2),)
    assert location("P0040") == (SensorPlace(1, 1), SensorPlace(2, 1))
    assert location("P0171") == location("P0033") == location("P0300") == location("?") == ()
    assert [str(place) for place in location("P0161")] == ["B2S2"]


def test_codes_of_one_sensor_are_in_order_and_all_name_it() -> None:
    codes = codes_for(1, 1)
    assert [c.code for c in codes] == sorted(c.code for c in codes)
    assert all((1, 1) in c.sensors for c in codes)
    assert {"P0030", "P0040", "P0053", "P0135", "P2195", "P2243", "P2A00"} <= {
        c.code for c in codes
    }
    assert not {"P0136", "P0150", "P0171", "P0033"} & {c.code for c in codes}


def test_codes_of_all_sensors_together_are_the_sensor_rows() -> None:
    listed = {c.code for bank in (1, 2) for place in (1, 2, 3) for c in codes_for(bank, place)}
    about_sensors = (Subject.SENSOR, Subject.SWAPPED)
    assert listed == {c.code for c in FAULT_CODES.values() if c.subject in about_sensors}


def test_only_a_wide_range_sensor_has_codes_about_its_pump() -> None:
    every, wide, switching = (
        {c.code for c in codes_for(1, 1, kind)}
        for kind in (None, SensorKind.WIDE_RANGE, SensorKind.SWITCHING)
    )
    assert every == wide
    assert wide - switching == {
        *(f"P{number}" for number in range(2237, 2240)),
        *(f"P{number}" for number in range(2243, 2247)),
        *(f"P{number}" for number in range(2251, 2254)),
        *(f"P{number}" for number in range(2626, 2629)),
    }


@pytest.mark.parametrize(("bank", "position"), [(3, 1), (1, 4), (0, 1)])
def test_sensors_without_codes_of_their_own(bank: int, position: int) -> None:
    assert codes_for(bank, position) == ()


def test_related_codes_are_of_the_bank() -> None:
    first, second, third = (related_codes(bank, is_seen_behind=True) for bank in (1, 2, 3))
    assert {"P0171", "P0420", "P2187"} <= {c.code for c in first}
    assert {"P0174", "P0430", "P2189"} <= {c.code for c in second}
    assert not {c.code for c in first} & {c.code for c in second}
    assert all(c.sensors == () and c.bank == 1 for c in first)
    assert third == ()


def test_what_only_a_sensor_behind_the_catalyst_tells_needs_one() -> None:
    with_it, without = (related_codes(1, is_seen_behind=seen) for seen in (True, False))
    assert {c.code for c in with_it} - {c.code for c in without} == {"P0420", "P2096", "P2097"}


@pytest.mark.parametrize("row", FAULT_CODES.values(), ids=str)
def test_every_row_says_what_it_is_about(row: FaultCode) -> None:
    assert (row.other_part is not None) == (row.subject is Subject.FALSE_FRIEND)
    assert (row.noticed is None) == (row.subject is Subject.FALSE_FRIEND)
    assert (row.circuit is not None) == (row.subject is Subject.SENSOR)
    assert len(row.sensors) == {Subject.SENSOR: 1, Subject.SWAPPED: 2}.get(row.subject, 0)


@given(two_bytes)
def test_unpacking_and_packing_give_the_bytes_back(sent: bytes) -> None:
    assert packed(unpacked(sent)) == sent


@given(st.from_regex(r"[PCBU][0-3][0-9A-F]{3}", fullmatch=True))
def test_packing_and_unpacking_give_the_code_back(code: str) -> None:
    assert unpacked(packed(code)) == code


@pytest.mark.parametrize("sent", [b"", b"\x01", b"\x01\x35\x00"])
def test_unpacking_needs_two_bytes(sent: bytes) -> None:
    with pytest.raises(ValueError, match=f"2 bytes, not {len(sent)}"):
        unpacked(sent)


def test_packing_refuses_what_is_no_code() -> None:
    with pytest.raises(ValueError, match="not a fault code"):
        packed("heater")
