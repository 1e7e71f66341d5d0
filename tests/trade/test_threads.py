"""Metric threads: the profile's arithmetic, the pitches made, and proof loads."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.threads import (
    PITCHES_MM,
    MetricThread,
    PropertyClass,
    coarse_thread,
    is_made,
    nearest_diameters,
    proof_load_n,
    proof_stress_mpa,
)

MADE = [MetricThread(diameter, pitch) for diameter in PITCHES_MM for pitch in PITCHES_MM[diameter]]
made_threads = st.sampled_from(MADE)


@given(made_threads)
def test_the_diameters_lie_in_their_order(thread: MetricThread) -> None:
    root, minor, pitch = (
        thread.root_diameter_mm,
        thread.minor_diameter_mm,
        thread.pitch_diameter_mm,
    )
    assert 0 < root < minor < pitch < thread.diameter_mm
    assert math.pi / 4 * root**2 < thread.stress_area_mm2 < math.pi / 4 * pitch**2


@given(made_threads)
def test_the_area_is_that_of_the_short_form(thread: MetricThread) -> None:
    # pi/4 (d - 0.9382 P)^2, the form with its constant rounded to four places
    short_mm2 = math.pi / 4 * (thread.diameter_mm - 0.9382 * thread.pitch_mm) ** 2
    assert thread.stress_area_mm2 == pytest.approx(short_mm2, abs=0.005)


@given(made_threads, st.sampled_from(PropertyClass))
def test_a_finer_or_stronger_thread_bears_more(
    thread: MetricThread, strength: PropertyClass
) -> None:
    load_n = proof_load_n(thread, strength)
    finer = MetricThread(thread.diameter_mm, thread.pitch_mm * 0.9)
    assert proof_load_n(finer, strength) > load_n
    assert proof_load_n(thread, PropertyClass.C8_8) < proof_load_n(thread, PropertyClass.C10_9)


def test_class_8_8_is_stronger_over_16_mm() -> None:
    assert proof_stress_mpa(PropertyClass.C8_8, 16) < proof_stress_mpa(PropertyClass.C8_8, 18)
    assert proof_stress_mpa(PropertyClass.C10_9, 16) == proof_stress_mpa(PropertyClass.C10_9, 18)


@pytest.mark.parametrize("pitches", PITCHES_MM.values())
def test_the_coarse_pitch_stands_first(pitches: tuple[float, ...]) -> None:
    assert list(pitches) == sorted(set(pitches), reverse=True)


def test_a_diameter_alone_means_the_coarse_thread() -> None:
    assert coarse_thread(8) == MetricThread(8, 1.25)
    assert str(coarse_thread(8)) == "M8×1.25"
    assert coarse_thread(13) is None


def test_what_is_made_and_what_is_not() -> None:
    assert is_made(18, 1.5)
    assert not is_made(18, 1.25)
    assert not is_made(13, 1.5)


@pytest.mark.parametrize(
    ("diameter_mm", "near"), [(13, (12, 14)), (2, (3,)), (90, (30,)), (8.1, (8, 10))]
)
def test_the_nearest_diameters(diameter_mm: float, near: tuple[float, ...]) -> None:
    assert nearest_diameters(diameter_mm) == near


@pytest.mark.parametrize("pitch_mm", [0.0, -1.0, 8.0, math.nan, math.inf])
def test_a_thread_without_a_root_is_refused(pitch_mm: float) -> None:
    with pytest.raises(ValueError, match="no thread has 8 mm"):
        MetricThread(8, pitch_mm)
