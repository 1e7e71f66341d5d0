"""Threads, proof loads, hexes and tightening against `threads.yml`, which names each source."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.trade import tightening
from generator.trade.hex_sizes import matching_sizes
from generator.trade.threads import (
    PITCHES_MM,
    SHARE_OF_PROOF_LOAD,
    MetricThread,
    PropertyClass,
    coarse_thread,
    is_made,
    proof_load_n,
)
from generator.trade.tightening import NutFactor, tightening_torque_nm

FACTS: dict[str, Any] = yaml.safe_load((Path(__file__).parent / "threads.yml").read_text("utf-8"))


def values(name: str) -> list[Any]:
    return list(FACTS[name]["values"].items())


def by_class(name: str) -> list[tuple[str, str, int]]:
    return [
        (strength, thread, load)
        for strength, loads in FACTS[name]["values"].items()
        for thread, load in loads.items()
    ]


def thread_of(text: str) -> MetricThread:
    diameter, _, pitch = text.removeprefix("M").partition("x")
    thread = MetricThread(float(diameter), float(pitch)) if pitch else coarse_thread(int(diameter))
    assert thread is not None
    return thread


def significant(number: float, figures: int) -> float:
    return float(f"{number:.{figures}g}")


# ISO 898-1, republished by a fastener distributor, to three figures.
@pytest.mark.parametrize(("text", "area_mm2"), values("stress_area_printed_mm2"))
def test_stress_area_as_printed(text: str, area_mm2: float) -> None:
    assert significant(thread_of(text).stress_area_mm2, 3) == area_mm2


# GB/T 16823.1-1997: it works with rounded diameters, so the last figure may be one off.
@pytest.mark.parametrize(("text", "area_mm2"), values("stress_area_fine_printed_mm2"))
def test_stress_area_of_fine_threads_as_printed(text: str, area_mm2: float) -> None:
    assert thread_of(text).stress_area_mm2 == pytest.approx(area_mm2, abs=0.0101)


# ISO 68-1 arithmetic, to four decimals.
@pytest.mark.parametrize(("text", "area_mm2"), values("stress_area_long_mm2"))
def test_stress_area_to_four_decimals(text: str, area_mm2: float) -> None:
    assert round(thread_of(text).stress_area_mm2, 4) == area_mm2


# ISO 724.
@pytest.mark.parametrize(("text", "diameters_mm"), values("basic_diameters_mm"))
def test_basic_diameters(text: str, diameters_mm: list[float]) -> None:
    thread = thread_of(text)
    found = [round(thread.pitch_diameter_mm, 4), round(thread.minor_diameter_mm, 4)]
    assert found == diameters_mm


# ISO 898-1, republished: printed to three figures, some of them rounded up and some down.
@pytest.mark.parametrize(("strength", "text", "load_n"), by_class("proof_load_n"))
def test_proof_load_as_printed(strength: str, text: str, load_n: int) -> None:
    found_n = proof_load_n(thread_of(text), PropertyClass(strength))
    assert found_n == pytest.approx(load_n, abs=75)


# ISO 898-1: a bolt stretches before it breaks.
@pytest.mark.parametrize(("strength", "text", "load_n"), by_class("ultimate_load_n"))
def test_proof_load_stays_under_the_breaking_load(strength: str, text: str, load_n: int) -> None:
    share = proof_load_n(thread_of(text), PropertyClass(strength)) / load_n
    assert 0.7 < share < 0.82


# ISO 262, FreeCAD Fasteners workbench.
@pytest.mark.parametrize(("diameter_mm", "pitches_mm"), values("pitches_mm"))
def test_every_published_pitch_is_known(diameter_mm: float, pitches_mm: list[float]) -> None:
    assert all(is_made(diameter_mm, pitch_mm) for pitch_mm in pitches_mm)
    assert PITCHES_MM[diameter_mm][0] == pitches_mm[0], "the coarse one first"


# ISO 4014 table of bd_warehouse.
@pytest.mark.parametrize(("diameter_mm", "pitch_mm"), values("coarse_pitches_mm"))
def test_coarse_pitches(diameter_mm: float, pitch_mm: float) -> None:
    assert coarse_thread(diameter_mm) == MetricThread(diameter_mm, pitch_mm)


# Tap drill table of bd_warehouse.
@pytest.mark.parametrize(("diameter_mm", "pitches_mm"), values("tap_drill_pitches_mm"))
def test_every_pitch_that_taps_are_listed_for_is_known(
    diameter_mm: float, pitches_mm: list[float]
) -> None:
    assert all(is_made(diameter_mm, pitch_mm) for pitch_mm in pitches_mm)


# The table named in each row.
@pytest.mark.parametrize("table", FACTS["across_flats_mm"], ids=lambda table: table["source"])
def test_across_flats(table: dict[str, Any]) -> None:
    for diameter_mm, across_flats_mm in table["values"].items():
        matching = matching_sizes(diameter_mm, across_flats_mm)
        exact = [size.series.name for size in matching if size.across_flats_mm == across_flats_mm]
        assert table["series"] in exact, f"M{diameter_mm}"


# ISO 7380-1: the key is a little smaller than its socket.
@pytest.mark.parametrize(("diameter_mm", "upper_mm"), values("button_head_key_upper_mm"))
def test_button_head_keys(diameter_mm: float, upper_mm: float) -> None:
    (size,) = (
        each for each in matching_sizes(diameter_mm, upper_mm) if each.series.name == "button head"
    )
    assert 0 < upper_mm - size.across_flats_mm < 0.2


# Engineering tutorial page.
@pytest.mark.parametrize(("state", "band"), values("nut_factors"))
def test_nut_factors(state: str, band: list[float]) -> None:
    assert getattr(tightening, state.upper()) == NutFactor(*band)


# T = K F d at three quarters of the proof load.
@pytest.mark.parametrize(
    ("text", "strength", "nut_factor", "torque_nm"), FACTS["preload_torque_nm"]["values"]
)
def test_torque_at_three_quarters_of_proof(
    text: str, strength: str, nut_factor: float, torque_nm: float
) -> None:
    thread = thread_of(text)
    load_n = SHARE_OF_PROOF_LOAD * proof_load_n(thread, PropertyClass(strength))
    found_nm = tightening_torque_nm(nut_factor, load_n, thread.diameter_mm)
    # Computed there from the printed three-figure loads or areas, here from the unrounded area
    assert found_nm == pytest.approx(torque_nm, rel=1e-3)
