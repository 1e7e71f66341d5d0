"""What exhaust gas is made of once it has come to equilibrium on the sensor's tip."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from generator.trade.stoichiometry import AIR_21_79, PETROL_FORMULA, Air, Formula

COLDEST_K: Final = 800.0
HOTTEST_K: Final = 1200.0
RICHEST: Final = 0.8
LEANEST: Final = 10.0

# Coefficients a1 to a7 of the NASA polynomials for Cp, H and S at 1 atm: 200 to 1000 K, then
# 1000 to 3500 K. GRI-Mech 3.0 thermodynamic data (30 July 1999).
_Coefficients = tuple[float, float, float, float, float, float, float]
_NASA: Final[dict[str, tuple[_Coefficients, _Coefficients]]] = {
    "O2": (
        (
            3.78245636, -2.99673416e-3, 9.84730201e-6, -9.68129509e-9, 3.24372837e-12,
            -1063.94356, 3.65767573,
        ),
        (
            3.28253784, 1.48308754e-3, -7.57966669e-7, 2.09470555e-10, -2.16717794e-14,
            -1088.45772, 5.45323129,
        ),
    ),
    "H2": (
        (
            2.34433112, 7.98052075e-3, -1.94781510e-5, 2.01572094e-8, -7.37611761e-12,
            -917.935173, 0.683010238,
        ),
        (
            3.33727920, -4.94024731e-5, 4.99456778e-7, -1.79566394e-10, 2.00255376e-14,
            -950.158922, -3.20502331,
        ),
    ),
    "H2O": (
        (
            4.19864056, -2.03643410e-3, 6.52040211e-6, -5.48797062e-9, 1.77197817e-12,
            -30293.7267, -0.849032208,
        ),
        (
            3.03399249, 2.17691804e-3, -1.64072518e-7, -9.70419870e-11, 1.68200992e-14,
            -30004.2971, 4.96677010,
        ),
    ),
    "CO": (
        (
            3.57953347, -6.10353680e-4, 1.01681433e-6, 9.07005884e-10, -9.04424499e-13,
            -14344.0860, 3.50840928,
        ),
        (
            2.71518561, 2.06252743e-3, -9.98825771e-7, 2.30053008e-10, -2.03647716e-14,
            -14151.8724, 7.81868772,
        ),
    ),
    "CO2": (
        (
            2.35677352, 8.98459677e-3, -7.12356269e-6, 2.45919022e-9, -1.43699548e-13,
            -48371.9697, 9.90105222,
        ),
        (
            3.85746029, 4.41437026e-3, -2.21481404e-6, 5.23490188e-10, -4.72084164e-14,
            -48759.1660, 2.27163806,
        ),
    ),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class ExhaustGas:
    """Mole fractions of the wet gas; they add up to one."""

    carbon_monoxide: float
    hydrogen: float
    carbon_dioxide: float
    water: float
    oxygen: float
    nitrogen: float


def exhaust_gas(
    lambda_: float,
    temperature_k: float,
    formula: Formula = PETROL_FORMULA,
    air: Air = AIR_21_79,
) -> ExhaustGas:
    """Give the equilibrium gas at 1 atm for a lambda, a temperature and a fuel CHxOy.

    Six species, two reactions (CO and H2 with oxygen); the oxygen fraction is found by bisection
    of its logarithm on the balance of oxygen atoms. Left out are NO and OH, which count at
    lambda 1 itself, and methane, which forms in cool rich gas. Against all the species of
    GRI-Mech 3.0 a sensor's volts differ by under 0.2 mV; but by up to 3.5 mV within 0.1 % of
    lambda 1, and by up to 4 mV in rich gas below 900 K.

    Raises:
        ValueError: outside 800 to 1200 K, or lambda outside 0.8 to 10.
    """
    if not COLDEST_K <= temperature_k <= HOTTEST_K:
        raise ValueError(f"{temperature_k:g} K is outside {COLDEST_K:g} to {HOTTEST_K:g} K")
    if not RICHEST <= lambda_ <= LEANEST:
        raise ValueError(f"lambda {lambda_:g} is outside {RICHEST:g} to {LEANEST:g}")
    oxygen_atoms = 2 * lambda_ * formula.oxygen_needed + formula.oxygen
    nitrogen = lambda_ * formula.oxygen_needed * air.inert_per_oxygen
    low, high = math.log(1e-45), math.log(air.oxygen)
    # 104 powers of e, halved 60 times: nothing left of the interval in double precision
    for _ in range(60):
        middle = (low + high) / 2
        if _oxygen_atoms(math.exp(middle), temperature_k, formula, nitrogen) < oxygen_atoms:
            low = middle
        else:
            high = middle
    return _mixture(math.exp((low + high) / 2), temperature_k, formula, nitrogen)


def equilibrium_constant(fuel_gas: str, temperature_k: float) -> float:
    """Give K of CO + 1/2 O2 = CO2, or of H2 + 1/2 O2 = H2O, for pressures in atm."""
    product = {"CO": "CO2", "H2": "H2O"}[fuel_gas]
    return math.exp(
        _gibbs_over_rt(fuel_gas, temperature_k)
        + _gibbs_over_rt("O2", temperature_k) / 2
        - _gibbs_over_rt(product, temperature_k)
    )


def _burnt_to_unburnt(fuel_gas: str, temperature_k: float, oxygen_atm: float) -> float:
    return equilibrium_constant(fuel_gas, temperature_k) * math.sqrt(oxygen_atm)


def _gibbs_over_rt(species: str, temperature_k: float) -> float:
    a1, a2, a3, a4, a5, a6, a7 = _NASA[species][temperature_k > 1000]
    t = temperature_k
    enthalpy = a1 + t * (a2 / 2 + t * (a3 / 3 + t * (a4 / 4 + t * a5 / 5))) + a6 / t
    entropy = a1 * math.log(t) + t * (a2 + t * (a3 / 2 + t * (a4 / 3 + t * a5 / 4))) + a7
    return enthalpy - entropy


def _free_oxygen(oxygen: float, formula: Formula, nitrogen: float) -> float:
    # CO turns to CO2 and H2 to H2O mole for mole, so the rest of the gas keeps its amount.
    return oxygen / (1 - oxygen) * (1 + formula.hydrogen / 2 + nitrogen)


def _oxygen_atoms(oxygen: float, temperature_k: float, formula: Formula, nitrogen: float) -> float:
    carbon = _burnt_to_unburnt("CO", temperature_k, oxygen)
    hydrogen = _burnt_to_unburnt("H2", temperature_k, oxygen)
    in_carbon = 1 + carbon / (1 + carbon)
    in_water = formula.hydrogen / 2 * hydrogen / (1 + hydrogen)
    return in_carbon + in_water + 2 * _free_oxygen(oxygen, formula, nitrogen)


def _mixture(oxygen: float, temperature_k: float, formula: Formula, nitrogen: float) -> ExhaustGas:
    carbon = _burnt_to_unburnt("CO", temperature_k, oxygen)
    hydrogen = _burnt_to_unburnt("H2", temperature_k, oxygen)
    free = _free_oxygen(oxygen, formula, nitrogen)
    moles = 1 + formula.hydrogen / 2 + nitrogen + free
    monoxide = 1 / (1 + carbon)
    unburnt_hydrogen = formula.hydrogen / 2 / (1 + hydrogen)
    return ExhaustGas(
        carbon_monoxide=monoxide / moles,
        hydrogen=unburnt_hydrogen / moles,
        carbon_dioxide=monoxide * carbon / moles,
        water=unburnt_hydrogen * hydrogen / moles,
        oxygen=free / moles,
        nitrogen=nitrogen / moles,
    )
