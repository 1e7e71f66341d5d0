"""The threads that sensors are made with."""

import pytest

from generator.trade.sensor_threads import (
    ANY_SENSOR_TORQUE,
    SENSOR_THREADS,
    SensorThread,
    sensor_thread,
)
from generator.trade.threads import is_made
from generator.trade.tightening import fastener_band


@pytest.mark.parametrize("known", SENSOR_THREADS, ids=lambda known: str(known.thread))
def test_a_sensor_thread_is_one_that_is_made(known: SensorThread) -> None:
    thread = known.thread
    assert is_made(thread.diameter_mm, thread.pitch_mm)


@pytest.mark.parametrize("known", SENSOR_THREADS, ids=lambda known: str(known.thread))
def test_no_sensor_is_tightened_beyond_what_a_bolt_of_its_thread_bears(known: SensorThread) -> None:
    torque = known.torque
    bolt = fastener_band(known.thread)
    assert torque.low_nm < torque.high_nm < bolt.high_nm
    assert torque.basis == "common practice, no source"


def test_what_is_ordinary_for_any_sensor_spans_the_threads() -> None:
    assert (ANY_SENSOR_TORQUE.low_nm, ANY_SENSOR_TORQUE.high_nm) == (15.0, 60.0)
    assert ANY_SENSOR_TORQUE.basis == "M18×1.5 or M12×1.25, common practice, no source"


def test_a_thread_is_found_with_and_without_its_pitch() -> None:
    assert sensor_thread(18, 1.5) is sensor_thread(18) is SENSOR_THREADS[0]
    assert sensor_thread(12, 1.25) is SENSOR_THREADS[1]
    assert sensor_thread(18, 2.5) is None
    assert sensor_thread(14) is None


@pytest.mark.parametrize(
    ("diameter_mm", "across_flats_mm", "fits"),
    [(18, 22, True), (18, 22.225, True), (18, 24, False), (12, 17, True), (12, 12, False)],
)
def test_hexes_of_sensors(diameter_mm: float, across_flats_mm: float, fits: bool) -> None:
    known = sensor_thread(diameter_mm)
    assert known is not None
    assert known.has_hex(across_flats_mm) is fits
