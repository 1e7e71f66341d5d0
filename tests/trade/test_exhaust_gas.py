"""Exhaust gas at equilibrium: nothing is lost, and it reacts the right way."""

from __future__ import annotations

from dataclasses import astuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.exhaust_gas import equilibrium_constant, exhaust_gas
from generator.trade.stoichiometry import AIR_21_79, E85, ETHANOL_FORMULA, Formula

lambdas = st.floats(0.8, 3)
kelvins = st.floats(800, 1200)
formulas = st.builds(Formula, hydrogen=st.floats(1, 4), oxygen=st.floats(0, 0.5))


@given(lambdas, kelvins, formulas)
def test_every_atom_that_went_in_comes_out(lambda_: float, kelvin: float, fuel: Formula) -> None:
    gas = exhaust_gas(lambda_, kelvin, fuel)
    assert sum(astuple(gas)) == pytest.approx(1)
    carbon = gas.carbon_monoxide + gas.carbon_dioxide
    hydrogen = 2 * (gas.hydrogen + gas.water)
    oxygen = gas.carbon_monoxide + 2 * gas.carbon_dioxide + gas.water + 2 * gas.oxygen
    supplied = lambda_ * (1 + fuel.hydrogen / 4 - fuel.oxygen / 2)
    assert hydrogen / carbon == pytest.approx(fuel.hydrogen)
    assert oxygen / carbon == pytest.approx(2 * supplied + fuel.oxygen)
    assert gas.nitrogen / carbon == pytest.approx(supplied * 79 / 21)


@given(lambdas, kelvins, formulas)
def test_the_gas_shift_is_at_equilibrium(lambda_: float, kelvin: float, fuel: Formula) -> None:
    gas = exhaust_gas(lambda_, kelvin, fuel)
    quotient = gas.carbon_dioxide * gas.hydrogen / (gas.carbon_monoxide * gas.water)
    constant = equilibrium_constant("CO", kelvin) / equilibrium_constant("H2", kelvin)
    assert quotient == pytest.approx(constant)


@given(st.floats(0.8, 2.9), st.floats(0.001, 0.1), kelvins)
def test_more_air_leaves_more_oxygen(lambda_: float, more: float, kelvin: float) -> None:
    richer, leaner = exhaust_gas(lambda_, kelvin), exhaust_gas(lambda_ + more, kelvin)
    assert leaner.oxygen > richer.oxygen
    assert leaner.carbon_monoxide < richer.carbon_monoxide


def test_rich_and_lean_gas_by_hand() -> None:
    # CH2, lambda 2: 3 O2 with 3 x 79/21 N2 give 1 CO2, 1 H2O and 1.5 O2
    gas = exhaust_gas(2.0, 1000, Formula(2))
    moles = 1 + 1 + 1.5 + 3 * 79 / 21
    assert gas.oxygen == pytest.approx(1.5 / moles)
    assert gas.water == pytest.approx(1 / moles)
    # CH2, lambda 0.9: 0.3 moles of CO and H2 together are left unburnt
    gas = exhaust_gas(0.9, 1000, Formula(2))
    moles = 1 + 1 + 1.35 * 79 / 21
    assert gas.carbon_monoxide + gas.hydrogen == pytest.approx(0.3 / moles)


def test_a_blend_burns_as_one_formula() -> None:
    assert 0 < E85.formula.oxygen < ETHANOL_FORMULA.oxygen
    gas = exhaust_gas(1.1, 1000, E85.formula, AIR_21_79)
    assert gas.oxygen == pytest.approx(0.0174, abs=0.0005)


@pytest.mark.parametrize(
    ("lambda_", "kelvin"), [(0.79, 1000), (10.1, 1000), (1, 799), (1, 1201), (float("nan"), 1000)]
)
def test_outside_its_range_nothing_is_given(lambda_: float, kelvin: float) -> None:
    with pytest.raises(ValueError, match="outside"):
        exhaust_gas(lambda_, kelvin)
