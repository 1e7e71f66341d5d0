"""Wire colours and resistances against the published tables in wire.yml."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.trade.wiring import COLOURS, RESISTANCE_OHM_PER_KM, supply_drop_v, wire_colour

FACTS: dict[str, Any] = yaml.safe_load((Path(__file__).parent / "wire.yml").read_text("utf-8"))


def test_every_published_colour_and_no_other() -> None:
    published = FACTS["colours"]["codes"]
    assert dict(COLOURS) == published
    assert list(COLOURS) == list(published), "the order of the table joins two codes"


@pytest.mark.parametrize(("code", "words"), FACTS["two_colours"]["codes"].items())
def test_published_pairs(code: str, words: list[str]) -> None:
    assert wire_colour(code) == tuple(words)
    places = [list(COLOURS.values()).index(word) for word in words]
    order = "in table order" if places == sorted(places) else "out of table order"
    # GNYE is a code of its own in the standard, and the one pair out of the table's order.
    assert order == ("out of table order" if code == "GNYE" else "in table order")


@pytest.mark.parametrize(("size", "ohm"), FACTS["class_5_plain_ohm_per_km"]["values"].items())
def test_one_kilometre_at_one_ampere_drops_the_published_ohms(size: float, ohm: float) -> None:
    there_and_back = supply_drop_v(current_a=1, size_mm2=size, length_m=500)
    assert there_and_back == pytest.approx(ohm, rel=1e-12)


@pytest.mark.parametrize(("size", "columns"), FACTS["below_half_mm2_ohm_per_km"]["values"].items())
def test_small_sizes_take_the_larger_published_column(size: float, columns: list[float]) -> None:
    assert RESISTANCE_OHM_PER_KM[size] == max(columns)


@pytest.mark.parametrize(("size", "ohm"), FACTS["solid_copper_ohm_per_km"]["values"].items())
def test_a_maximum_lies_a_little_over_solid_copper(size: float, ohm: float) -> None:
    assert 1.0 < RESISTANCE_OHM_PER_KM[size] / ohm < 1.2


@pytest.mark.parametrize(("celsius", "ratio"), FACTS["copper_ratio_to_20"]["values"].items())
def test_copper_warms_as_published(celsius: float, ratio: float) -> None:
    warm = supply_drop_v(3, 1.0, 4, temperature_c=celsius)
    assert warm / supply_drop_v(3, 1.0, 4) == pytest.approx(ratio, abs=5e-5)
