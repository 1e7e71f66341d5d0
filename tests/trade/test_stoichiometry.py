"""Air for a fuel, and lambda from air-fuel ratio and back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.stoichiometry import (
    AIR_21_79,
    E10,
    E85,
    ETHANOL_FORMULA,
    FUELS,
    LPG,
    METHANE,
    PETROL,
    PETROL_FORMULA,
    STANDARD_AIR,
    Air,
    Formula,
    Fuel,
    afr_from_lambda,
    lambda_from_afr,
    stoichiometric_afr,
)

fuels = st.sampled_from(FUELS)
airs = st.sampled_from([AIR_21_79, STANDARD_AIR])


def test_oxygen_for_methane_by_hand() -> None:
    # CH4 + 2 O2 -> CO2 + 2 H2O
    assert Formula(4).oxygen_needed == 2
    assert AIR_21_79.inert_per_oxygen == pytest.approx(79 / 21)


def test_the_fuels_need_less_air_the_more_oxygen_they_bring() -> None:
    order = [METHANE, LPG, PETROL, E10, E85]
    needs = [stoichiometric_afr(fuel) for fuel in order]
    assert needs == sorted(needs, reverse=True)
    assert set(order) == set(FUELS)


@given(fuels, airs)
def test_lambda_1_is_the_stoichiometric_ratio(fuel: Fuel, air: Air) -> None:
    assert lambda_from_afr(stoichiometric_afr(fuel, air), fuel, air) == pytest.approx(1)


@given(st.floats(0.5, 5), fuels, airs)
def test_there_and_back(lambda_: float, fuel: Fuel, air: Air) -> None:
    afr = afr_from_lambda(lambda_, fuel, air)
    assert lambda_from_afr(afr, fuel, air) == pytest.approx(lambda_)


@given(st.floats(0.01, 0.99))
def test_a_blend_needs_the_mean_of_its_parts_by_mass(share: float) -> None:
    blend = Fuel("blend", ((ETHANOL_FORMULA, share), (PETROL_FORMULA, 1 - share)))
    ethanol = stoichiometric_afr(Fuel("ethanol", ((ETHANOL_FORMULA, 1.0),)))
    mean = share * ethanol + (1 - share) * stoichiometric_afr(PETROL)
    assert stoichiometric_afr(blend) == pytest.approx(mean)


def test_standard_air_has_less_oxygen_to_the_kilogram() -> None:
    for fuel in FUELS:
        assert stoichiometric_afr(fuel, STANDARD_AIR) > stoichiometric_afr(fuel)


@pytest.mark.parametrize("shares", [(), (0.5, 0.4), (1.5, -0.5)])
def test_shares_that_do_not_add_up_are_refused(shares: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match="add up to one"):
        Fuel("nonsense", tuple((PETROL_FORMULA, share) for share in shares))
