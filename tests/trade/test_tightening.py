"""Torque and preload, the torques ordinary for a thread, and units typed for one another."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.sensor_threads import SENSOR_THREADS
from generator.trade.threads import PITCHES_MM, MetricThread, PropertyClass, proof_load_n
from generator.trade.tightening import (
    ANTI_SEIZE,
    DRY,
    OILED,
    TorqueBand,
    fastener_band,
    preload_n,
    tightening_torque_nm,
    units_that_fit,
)
from generator.trade.torque import TorqueUnit

LBF_FT_NM = float(TorqueUnit.POUND_FORCE_FOOT.newton_metres)
MADE = [MetricThread(diameter, pitch) for diameter in PITCHES_MM for pitch in PITCHES_MM[diameter]]
BANDS = [fastener_band(thread) for thread in MADE] + [each.torque for each in SENSOR_THREADS]
bands = st.sampled_from(BANDS)
shares = st.floats(0, 1)


def within(band: TorqueBand, share: float) -> float:
    """A torque of the band; never outside it by an error of rounding."""
    torque_nm = band.low_nm * (band.high_nm / band.low_nm) ** share
    return float(min(max(torque_nm, band.low_nm), band.high_nm))


@given(st.floats(0.05, 0.5), st.floats(100, 1e6), st.floats(3, 30))
def test_preload_and_torque_are_one_another_s_inverse(
    nut_factor: float, load_n: float, diameter_mm: float
) -> None:
    torque_nm = tightening_torque_nm(nut_factor, load_n, diameter_mm)
    assert preload_n(torque_nm, nut_factor, diameter_mm) == pytest.approx(load_n)
    assert torque_nm > tightening_torque_nm(nut_factor * 0.9, load_n, diameter_mm)


@pytest.mark.parametrize("arguments", [(0, 1, 1), (0.2, -1, 1), (0.2, 1, math.nan)])
def test_what_is_not_above_zero_is_refused(arguments: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="must be above zero"):
        tightening_torque_nm(*arguments)


def test_the_slipperier_the_lower() -> None:
    assert ANTI_SEIZE.low < OILED.low < DRY.low < DRY.high


@pytest.mark.parametrize("thread", MADE, ids=str)
def test_the_band_holds_every_usual_tightening(thread: MetricThread) -> None:
    band = fastener_band(thread)
    for strength in PropertyClass:
        for nut_factor in (ANTI_SEIZE.low, OILED.low, DRY.low, DRY.high):
            load_n = 0.75 * proof_load_n(thread, strength)
            torque_nm = tightening_torque_nm(nut_factor, load_n, thread.diameter_mm)
            assert band.holds(torque_nm, torque_nm)
    # Beyond it, even class 10.9 on the roughest thread is past three quarters of its proof load
    too_much_n = preload_n(band.high_nm * 1.01, DRY.high, thread.diameter_mm)
    assert too_much_n > 0.75 * proof_load_n(thread, PropertyClass.C10_9)


@given(bands, shares, shares, st.sampled_from(TorqueUnit))
def test_an_ordinary_torque_is_never_called_mistyped(
    band: TorqueBand, one: float, other: float, unit: TorqueUnit
) -> None:
    low_nm, high_nm = sorted((within(band, one), within(band, other)))
    assert units_that_fit(low_nm, high_nm, float(unit.newton_metres), band) == ()


@given(bands, shares, st.sampled_from(TorqueUnit), st.sampled_from(TorqueUnit))
def test_a_unit_typed_for_another_is_caught_wherever_it_leaves_the_band(
    band: TorqueBand, share: float, meant: TorqueUnit, typed: TorqueUnit
) -> None:
    torque_nm = within(band, share)
    typed_nm = torque_nm * float(typed.newton_metres / meant.newton_metres)
    found = units_that_fit(typed_nm, typed_nm, float(typed.newton_metres), band)
    if meant is typed or band.holds(typed_nm, typed_nm):
        assert found == ()
    else:
        assert meant in found
        assert typed not in found


@pytest.mark.parametrize(
    ("torque_nm", "typed_nm", "units"),
    [
        pytest.param(30, 1.0, (TorqueUnit.POUND_FORCE_FOOT,), id="30 lbf·ft typed as N·m"),
        pytest.param(34, 1.0, (TorqueUnit.POUND_FORCE_FOOT,), id="34 lbf·ft typed as N·m"),
        pytest.param(
            48 * LBF_FT_NM, LBF_FT_NM, (TorqueUnit.NEWTON_METRE,), id="48 N·m typed as lbf·ft"
        ),
        pytest.param(4.5, 1.0, (TorqueUnit.KILOGRAM_FORCE_METRE,), id="4.5 kgf·m typed as N·m"),
        pytest.param(44, 1.0, (), id="44 N·m, meant"),
        pytest.param(44 * LBF_FT_NM, LBF_FT_NM, (), id="44 lbf·ft, which some sensors have"),
        pytest.param(10, 1.0, (), id="10, in no unit"),
    ],
)
def test_units_of_a_sensor_s_torque(
    torque_nm: float, typed_nm: float, units: tuple[TorqueUnit, ...]
) -> None:
    (band,) = (each.torque for each in SENSOR_THREADS if each.thread.diameter_mm == 18)
    assert units_that_fit(torque_nm, torque_nm, typed_nm, band) == units
