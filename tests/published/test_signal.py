"""The cell, the gas it sits in and the air it was burnt with, against gas.yml.

Tolerances. Volts of the bare cell: the table's rounding. Volts in equilibrium gas: the table's
rounding and 0.1 mV, because this project's six species stand against the 53 of GRI-Mech 3.0; where
one of the left-out species counts, the tolerance is wider and the row says why.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any, NamedTuple

import pytest
import yaml

from generator.trade.exhaust_gas import equilibrium_constant, exhaust_gas
from generator.trade.signal import (
    FARADAY_C_MOL,
    GAS_CONSTANT_J_MOL_K,
    nernst_emf_v,
    switching_emf_v,
)
from generator.trade.stoichiometry import (
    E10,
    LPG,
    METHANE,
    PETROL,
    STANDARD_AIR,
    Formula,
    Fuel,
    stoichiometric_afr,
)

FACTS: dict[str, Any] = yaml.safe_load((Path(__file__).parent / "gas.yml").read_text("utf-8"))


class Row(NamedTuple):
    """One state of equilibrium: fuel, conditions, and what is published for it."""

    fuel: str
    hydrogen: float
    kelvin: float
    lambda_: float
    oxygen: float
    emf_mv: float


EQUILIBRIUM = [
    Row(fuel["name"], fuel["hydrogen"], kelvin, lambda_, oxygen, emf_mv)
    for fuel in FACTS["equilibrium"]["fuels"]
    for kelvin, rows in fuel["rows"].items()
    for lambda_, (oxygen, emf_mv) in rows.items()
]
EMF = [
    (kelvin, oxygen, emf_mv)
    for kelvin, row in FACTS["emf_mv_reference_0209"]["values"].items()
    for oxygen, emf_mv in row.items()
]


def tolerance_mv(kelvin: float, lambda_: float) -> float:
    if lambda_ == 1.0:
        return 3.0  # NO and OH hold oxygen where hardly any is free: 2.0 to 2.8 mV measured
    if kelvin <= 800 and lambda_ <= 0.9:
        return 0.5  # methane forms: 0.37 mV measured
    return 0.15


def test_the_tables_were_read_whole() -> None:
    assert len(EQUILIBRIUM) == 70
    assert len(EMF) == 36


def test_constants() -> None:
    constants = FACTS["constants"]
    assert constants["gas_constant_j_mol_k"] == GAS_CONSTANT_J_MOL_K
    assert constants["faraday_c_mol"] == pytest.approx(FARADAY_C_MOL, rel=1e-12)


@pytest.mark.parametrize(("kelvin", "slope_mv"), FACTS["slope_mv_per_decade"]["values"].items())
def test_volts_per_decade_of_oxygen(kelvin: float, slope_mv: float) -> None:
    step_v = nernst_emf_v(kelvin, 1e-8) - nernst_emf_v(kelvin, 1e-7)
    assert step_v * 1000 == pytest.approx(slope_mv, abs=1e-4)


@pytest.mark.parametrize(("kelvin", "oxygen_atm", "emf_mv"), EMF)
def test_volts_of_the_cell(kelvin: float, oxygen_atm: float, emf_mv: float) -> None:
    assert nernst_emf_v(kelvin, oxygen_atm) * 1000 == pytest.approx(emf_mv, abs=0.006)


def test_the_choice_of_reference_air() -> None:
    change_v = nernst_emf_v(1000, 0.05, 0.20946) - nernst_emf_v(1000, 0.05)
    published = FACTS["reference_choice_mv_at_1000_k"]["value"]
    assert change_v * 1000 == pytest.approx(published, abs=1e-4)


@pytest.mark.parametrize(("kelvin", "log10_k"), FACTS["log10_k"]["values"].items())
def test_equilibrium_constants(kelvin: float, log10_k: dict[str, float]) -> None:
    for gas, published in log10_k.items():
        assert math.log10(equilibrium_constant(gas, kelvin)) == pytest.approx(published, abs=6e-5)


@pytest.mark.parametrize(
    "row", EQUILIBRIUM, ids=[f"{row.fuel}-{row.kelvin}K-{row.lambda_}" for row in EQUILIBRIUM]
)
def test_gas_and_volts_at_equilibrium(row: Row) -> None:
    formula = Formula(row.hydrogen)
    tolerance = tolerance_mv(row.kelvin, row.lambda_)
    emf_v = switching_emf_v(row.lambda_, row.kelvin, formula)
    assert emf_v * 1000 == pytest.approx(row.emf_mv, abs=tolerance)
    # The same tolerance, said in oxygen: d ln(x) = 4F/RT dE
    share = math.expm1(4 * FARADAY_C_MOL * tolerance / 1000 / (GAS_CONSTANT_J_MOL_K * row.kelvin))
    gas = exhaust_gas(row.lambda_, row.kelvin, formula)
    assert gas.oxygen == pytest.approx(row.oxygen, rel=share)


@pytest.mark.parametrize(("lambda_", "emf_mv"), FACTS["near_stoichiometric_mv"]["values"].items())
def test_volts_across_the_switching_point(lambda_: float, emf_mv: float) -> None:
    found_mv = switching_emf_v(lambda_, 1000) * 1000
    assert found_mv == pytest.approx(emf_mv, abs=tolerance_mv(1000, lambda_))


def _fuel(name: str) -> Fuel:
    formula = FACTS["stoichiometric_afr"]["values"][name]["formula"]
    return Fuel(name, ((Formula(*formula), 1.0),))


@pytest.mark.parametrize("name", FACTS["stoichiometric_afr"]["values"])
def test_air_for_pure_fuels(name: str) -> None:
    published = FACTS["stoichiometric_afr"]["values"][name]
    assert stoichiometric_afr(_fuel(name)) == pytest.approx(published["air_21_79"], abs=1e-4)
    standard = stoichiometric_afr(_fuel(name), STANDARD_AIR)
    assert standard == pytest.approx(published["standard_air"], abs=2e-4)


@pytest.mark.parametrize(("fuel", "name"), [(E10, "E10"), (LPG, "LPG")])
def test_air_for_blends(fuel: Fuel, name: str) -> None:
    assert stoichiometric_afr(fuel) == pytest.approx(FACTS["blends_afr"]["values"][name], abs=1e-4)


@pytest.mark.parametrize(
    ("fuel", "row"),
    [
        (_fuel("n_heptane"), "n_heptane"),
        (METHANE, "methane"),
        (METHANE, "methane_handbook"),
        (E10, "E10"),
        (PETROL, "petrol_convention"),
    ],
)
def test_figures_met_elsewhere(fuel: Fuel, row: str) -> None:
    value, relative = FACTS["elsewhere_afr"][row]["value"]
    assert stoichiometric_afr(fuel) == pytest.approx(value, rel=relative)
