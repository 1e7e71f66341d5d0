"""Every table of docs/reference/signal.md holds what the program and the sources give."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from gettext import NullTranslations
from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.guide import signal_chart, signal_view
from generator.guide.vehicle import Vehicle, cold_heater
from generator.guide.wiring_view import supply_wire_view
from generator.trade.exhaust_gas import equilibrium_constant
from generator.trade.signal import nernst_emf_v, switching_emf_v
from generator.trade.stoichiometry import (
    FUELS,
    PETROL,
    STANDARD_AIR,
    Formula,
    Fuel,
    afr_from_lambda,
    stoichiometric_afr,
)
from generator.trade.wiring import supply_drop_v
from tests.site.markdown_tables import Row, tables

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs/reference/signal.md").read_text("utf-8")
SAID = " ".join(PAGE.split())
GAS: dict[str, Any] = yaml.safe_load((ROOT / "tests/published/gas.yml").read_text("utf-8"))
WIRE: dict[str, Any] = yaml.safe_load((ROOT / "tests/published/wire.yml").read_text("utf-8"))
PUBLISHED_FUELS = {fuel["name"]: fuel for fuel in GAS["equilibrium"]["fuels"]}
PETROL_ROWS = PUBLISHED_FUELS["gasoline surrogate CH1.87"]["rows"]


def millivolts(published: float, ours_v: float) -> Row:
    return {"Published, mV": f"{published:.1f}", "Ours, mV": f"{ours_v * 1000:.1f}"}


def cell(row: Row) -> Row:
    kelvin, oxygen_atm = int(row["Tip, K"]), float(row["Oxygen, atm"])
    published = GAS["emf_mv_reference_0209"]["values"][kelvin][oxygen_atm]
    ours_mv = nernst_emf_v(kelvin, oxygen_atm) * 1000
    return {"Published, mV": f"{published:.2f}", "Ours, mV": f"{ours_mv:.2f}"}


def reaction(row: Row) -> Row:
    kelvin, gas = int(row["Tip, K"]), row["Reaction"]
    return {
        "Published": f"{GAS['log10_k']['values'][kelvin][gas]:.4f}",
        "Ours": f"{math.log10(equilibrium_constant(gas, kelvin)):.4f}",
    }


def petrol_at(kelvin: int) -> Callable[[Row], Row]:
    def held(row: Row) -> Row:
        lambda_ = float(row["Lambda"])
        _oxygen, published = PETROL_ROWS[kelvin][lambda_]
        return millivolts(published, switching_emf_v(lambda_, kelvin))

    return held


def across(row: Row) -> Row:
    lambda_ = float(row["Lambda"])
    published = GAS["near_stoichiometric_mv"]["values"][lambda_]
    return millivolts(published, switching_emf_v(lambda_, 1000))


def other_fuel(row: Row) -> Row:
    fuel, lambda_ = PUBLISHED_FUELS[row["Fuel"]], float(row["Lambda"])
    _oxygen, published = fuel["rows"][1000][lambda_]
    return millivolts(published, switching_emf_v(lambda_, 1000, Formula(fuel["hydrogen"])))


def pure_fuel(row: Row) -> Row:
    published = GAS["stoichiometric_afr"]["values"][row["Fuel"]]
    fuel = Fuel(row["Fuel"], ((Formula(*published["formula"]), 1.0),))
    return {
        "Published, kg/kg": f"{published['air_21_79']:.2f}",
        "Ours, kg/kg": f"{stoichiometric_afr(fuel):.2f}",
        "Ours, standard air": f"{stoichiometric_afr(fuel, STANDARD_AIR):.2f}",
    }


def profile_fuel(row: Row) -> Row:
    (fuel,) = (each for each in FUELS if each.name == row["Fuel"])
    lambdas = (0.9, 1.0, 1.1)
    return {f"Ours, at lambda {each}": f"{afr_from_lambda(each, fuel):.1f}" for each in lambdas}


def left_of(battery_v: float, row: Row) -> str:
    """The volts left, from the published resistance itself: 3 m of one conductor."""
    wire_ohm = WIRE["class_5_plain_ohm_per_km"]["values"][0.75] / 1000 * 3
    heater_ohm = {"Switch-on": 2.1, "Hot": 2.1 * 3}[row["When"]]
    return f"{math.floor((battery_v - battery_v / heater_ohm * wire_ohm) * 10) / 10:.1f}"


def supply(row: Row) -> Row:
    return {f"Ours, of {volts} V, V": left_of(volts, row) for volts in (12.0, 14.7)}


HELD: dict[str, Callable[[Row], Row]] = {
    "The cell alone": cell,
    "The two reactions": reaction,
    "Petrol, tip at 900 K": petrol_at(900),
    "Petrol, tip at 1100 K": petrol_at(1100),
    "Across lambda 1, tip at 1000 K": across,
    "Other fuels, tip at 1000 K": other_fuel,
    "Pure fuels, two kinds of air": pure_fuel,
    "The fuels of a profile": profile_fuel,
    "A heater of 2.1 to 2.9 Ω on 3 m of 0.75 mm²": supply,
}
ROWS = [
    pytest.param(table.heading, row, id=f"{table.heading}: {' '.join(list(row.values())[:2])}")
    for table in tables(PAGE)
    for row in table.rows
]


def test_every_table_is_held() -> None:
    assert [table.heading for table in tables(PAGE)] == list(HELD)
    assert all(len(table.rows) > 1 for table in tables(PAGE))


@pytest.mark.parametrize(("heading", "row"), ROWS)
def test_the_page_prints_what_the_program_gives(heading: str, row: Row) -> None:
    held = HELD[heading](row)
    assert {column: row[column] for column in held} == held
    assert {column for column in row if column.startswith(("Ours", "Published"))} == held.keys()


def test_every_fuel_of_a_profile_is_listed() -> None:
    (table,) = (table for table in tables(PAGE) if table.heading == "The fuels of a profile")
    assert [row["Fuel"] for row in table.rows] == [fuel.name for fuel in FUELS]
    assert set(signal_view.FUELS.values()) == set(FUELS)


def test_the_tips_of_the_chart_are_the_ones_told() -> None:
    for kelvin, line in ((signal_chart.COOL_TIP_K, "solid"), (signal_chart.HOT_TIP_K, "dashed")):
        shown = signal_chart.celsius(kelvin, NullTranslations()).replace("\u00a0", " ")
        assert re.search(rf"{kelvin:g} K is {shown}, the {line} line", SAID)


def test_what_is_left_out_counts_as_little_as_told() -> None:
    """3.5 mV by lambda 1 and 0.2 mV elsewhere, against all 53 species."""
    told = float(re.findall(r"\(up to ([\d.]+) mV\), and methane", SAID)[0])
    near = GAS["near_stoichiometric_mv"]["values"]
    apart = {each: abs(switching_emf_v(each, 1000) * 1000 - near[each]) for each in near}
    assert 0.2 < max(apart.values()) <= told
    assert max(mv for each, mv in apart.items() if abs(each - 1) > 0.001) <= 0.2


def test_the_wire_on_a_guide_is_the_one_told(small: Callable[..., Vehicle]) -> None:
    vehicle = small(
        {
            "sensors.0.heater": {"resistance": {"value": "2.1 to 2.9 ohm", "at": "20 °C"}},
            "sensors.0.supply_wire": {"size": "0.75 mm²", "length": "3 m"},
        }
    )
    (sensor,) = vehicle.sensors
    view = supply_wire_view(vehicle, sensor, cold_heater(sensor))
    assert view is not None
    (table,) = (table for table in tables(PAGE) if table.heading.startswith("A heater of"))
    shown = [[when, *(volts[:-2] for volts in left)] for when, _current, *left in view.rows]
    assert shown == [list(row.values()) for row in table.rows]


def test_the_share_lost_when_warm_and_the_bands() -> None:
    more = supply_drop_v(1, 1.0, 1, temperature_c=80) / supply_drop_v(1, 1.0, 1) - 1
    assert f"loses more: {more:.0%} at 80 °C".replace("%", " %") in SAID
    bands = [*signal_view.LEAN_BELOW_V, *signal_view.RICH_ABOVE_V, signal_view.MIDDLE_V]
    told = re.findall(
        r"lean below ([\d.]+) to ([\d.]+) V, rich over ([\d.]+) to ([\d.]+) V, ([\d.]+) V crossed",
        SAID,
    )
    assert [float(each) for each in told[0]] == bands
    assert stoichiometric_afr(PETROL) == pytest.approx(14.7, rel=0.02), "the convention, near ours"
