"""The face of a connector from both of its halves."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.connector import (
    Along,
    ConnectorFace,
    Corner,
    Latch,
    PinJob,
    Side,
    faults,
    heater_pins,
    mirrored,
    positions,
    seen_from,
)

faces = st.builds(
    ConnectorFace,
    rows=st.integers(1, 4),
    columns=st.integers(1, 6),
    latch=st.sampled_from(Latch),
    first=st.sampled_from(Corner),
    along=st.sampled_from(Along),
)
sides = st.sampled_from(Side)
SQUARE = ConnectorFace(2, 2, Latch.TOP)


def test_a_square_face_and_its_mirror() -> None:
    assert positions(SQUARE, Side.SENSOR) == {1: (1, 1), 2: (1, 2), 3: (2, 1), 4: (2, 2)}
    assert positions(SQUARE, Side.HARNESS) == {1: (1, 2), 2: (1, 1), 3: (2, 2), 4: (2, 1)}


def test_counting_down_the_columns_from_the_bottom_right() -> None:
    face = ConnectorFace(2, 3, Latch.TOP, Corner.BOTTOM_RIGHT, Along.COLUMNS)
    assert positions(face, Side.SENSOR) == {
        1: (2, 3),
        2: (1, 3),
        3: (2, 2),
        4: (1, 2),
        5: (2, 1),
        6: (1, 1),
    }


@pytest.mark.parametrize(
    ("latch", "opposite"),
    [
        (Latch.TOP, Latch.TOP),
        (Latch.BOTTOM, Latch.BOTTOM),
        (Latch.LEFT, Latch.RIGHT),
        (Latch.RIGHT, Latch.LEFT),
    ],
)
def test_where_the_latch_appears_on_the_other_half(latch: Latch, opposite: Latch) -> None:
    assert seen_from(ConnectorFace(1, 4, latch), Side.HARNESS).latch is opposite
    assert seen_from(ConnectorFace(1, 4, latch), Side.SENSOR).latch is latch


@given(faces)
def test_mirroring_twice_changes_nothing(face: ConnectorFace) -> None:
    assert mirrored(mirrored(face)) == face
    assert mirrored(face) != face


@given(faces, sides)
def test_every_cavity_holds_one_pin(face: ConnectorFace, side: Side) -> None:
    cavities = [(r + 1, c + 1) for r in range(face.rows) for c in range(face.columns)]
    found = positions(face, side)
    assert sorted(found.values()) == cavities
    assert sorted(found) == list(range(1, len(cavities) + 1))


@given(faces)
def test_the_harness_side_swaps_columns_and_keeps_rows(face: ConnectorFace) -> None:
    harness = positions(face, Side.HARNESS)
    for pin, (row, column) in positions(face, Side.SENSOR).items():
        assert harness[pin] == (row, face.columns + 1 - column)


@given(faces, sides)
def test_a_pin_keeps_its_distance_from_the_latch(face: ConnectorFace, side: Side) -> None:
    """Whoever finds pin 1 next to the latch on one half finds it there on the other."""

    def steps(face: ConnectorFace, place: tuple[int, int]) -> int:
        row, column = place
        return {
            Latch.TOP: row,
            Latch.BOTTOM: face.rows + 1 - row,
            Latch.LEFT: column,
            Latch.RIGHT: face.columns + 1 - column,
        }[face.latch]

    here = positions(face, Side.SENSOR)
    there = positions(face, side)
    for pin in here:
        assert steps(face, here[pin]) == steps(seen_from(face, side), there[pin])


def test_a_face_without_terminals_has_no_positions() -> None:
    with pytest.raises(ValueError, match="0 rows by 2 columns"):
        positions(ConnectorFace(0, 2, Latch.TOP), Side.SENSOR)
    (fault,) = faults(ConnectorFace(2, 0, Latch.TOP), {1: PinJob.SIGNAL})
    assert fault.pin is None
    assert "no room" in fault.reason


def test_the_two_pins_for_the_ohmmeter() -> None:
    jobs = {1: PinJob.SIGNAL, 2: PinJob.HEATER_CONTROL, 4: PinJob.HEATER_SUPPLY}
    assert heater_pins(jobs) == (4, 2)
    assert heater_pins({1: PinJob.SIGNAL, 4: PinJob.HEATER_SUPPLY}) is None
    assert heater_pins({1: PinJob.SIGNAL}) is None
    assert heater_pins(jobs | {1: PinJob.HEATER_SUPPLY}) is None, "which of the two?"
    allowed = {job for job in PinJob if job.takes_ohmmeter}
    assert allowed == {PinJob.HEATER_SUPPLY, PinJob.HEATER_CONTROL}


def test_a_sound_connector_has_no_faults() -> None:
    four = [PinJob.HEATER_SUPPLY, PinJob.HEATER_CONTROL, PinJob.PUMP, PinJob.REFERENCE]
    assert faults(SQUARE, dict(enumerate(four, start=1))) == ()
    assert faults(SQUARE, {1: PinJob.SIGNAL}) == ()


def test_faults_are_all_named_with_their_pin() -> None:
    jobs = {
        0: PinJob.PUMP,
        1: PinJob.SIGNAL,
        2: PinJob.SIGNAL,
        3: PinJob.HEATER_SUPPLY,
        5: PinJob.TRIM,
    }
    found = [(fault.pin, fault.reason) for fault in faults(SQUARE, jobs)]
    assert found == [
        (0, "there is no pin 0: 2 rows by 2 columns hold pins 1 to 4"),
        (1, "2 pins are called signal; only one can be"),
        (2, "2 pins are called signal; only one can be"),
        (5, "there is no pin 5: 2 rows by 2 columns hold pins 1 to 4"),
        (3, "heater-supply without heater-control: a heater has two ends"),
    ]
