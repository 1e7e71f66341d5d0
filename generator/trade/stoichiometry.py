"""How much air a fuel burns, and lambda from air-fuel ratio and back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

# g/mol: atomic weights as in the chemicals library, version 1.5.2
HYDROGEN_G_MOL: Final = 1.00794
CARBON_G_MOL: Final = 12.0107
OXYGEN_G_MOL: Final = 15.9994
NITROGEN_G_MOL: Final = 14.0067


@dataclass(frozen=True, slots=True)
class Air:
    """A model of dry air: its mole fraction of oxygen, the rest inert, and its molar mass."""

    oxygen: float
    molar_mass_g_mol: float

    @property
    def inert_per_oxygen(self) -> float:
        """Moles of everything else to one mole of O2."""
        return (1 - self.oxygen) / self.oxygen


AIR_21_79: Final = Air(0.21, 2 * (0.21 * OXYGEN_G_MOL + 0.79 * NITROGEN_G_MOL))
"""21 parts of oxygen, 79 of nitrogen: the textbook's air, and this project's unless it says so."""
STANDARD_AIR: Final = Air(0.209476, 28.9644)
"""Standard atmosphere (ICAO), argon and the rest counted as inert."""


@dataclass(frozen=True, slots=True)
class Formula:
    """A fuel molecule shrunk to one carbon atom, CHxOy."""

    hydrogen: float
    oxygen: float = 0.0

    @property
    def molar_mass_g_mol(self) -> float:
        """Grams to one mole of carbon."""
        return CARBON_G_MOL + self.hydrogen * HYDROGEN_G_MOL + self.oxygen * OXYGEN_G_MOL

    @property
    def oxygen_needed(self) -> float:
        """Moles of O2 that burn one mole of carbon's worth to CO2 and H2O."""
        return 1 + self.hydrogen / 4 - self.oxygen / 2


@dataclass(frozen=True, slots=True)
class Fuel:
    """A fuel as sold: what it is made of, as (formula, share of the mass)."""

    name: str
    parts: tuple[tuple[Formula, float], ...]

    def __post_init__(self) -> None:
        shares = [share for _, share in self.parts]
        if not shares or min(shares) <= 0 or abs(sum(shares) - 1) > 1e-9:
            raise ValueError(f"the shares of {self.name} must be positive and add up to one")

    @property
    def formula(self) -> Formula:
        """The blend as one formula to a carbon atom."""
        carbon = [(part, share / part.molar_mass_g_mol) for part, share in self.parts]
        total = sum(moles for _, moles in carbon)
        return Formula(
            hydrogen=sum(part.hydrogen * moles for part, moles in carbon) / total,
            oxygen=sum(part.oxygen * moles for part, moles in carbon) / total,
        )


def _ethanol_blend(name: str, ethanol_by_volume: float) -> Fuel:
    # kg/L of ethanol and of petrol, assumed
    ethanol, petrol = 0.789 * ethanol_by_volume, 0.745 * (1 - ethanol_by_volume)
    share = ethanol / (ethanol + petrol)
    return Fuel(name, ((ETHANOL_FORMULA, share), (PETROL_FORMULA, 1 - share)))


PETROL_FORMULA: Final = Formula(1.87)
ETHANOL_FORMULA: Final = Formula(3, 0.5)
PETROL: Final = Fuel("petrol", ((PETROL_FORMULA, 1.0),))
"""CH1.87, a usual mean for petrol (J. B. Heywood, appendix D, from memory)."""
E10: Final = _ethanol_blend("E10", 0.10)
E85: Final = _ethanol_blend("E85", 0.85)
"""85 % ethanol by volume; what is sold under the name has 50 to 85 % (from memory)."""
LPG: Final = Fuel("LPG", ((Formula(8 / 3), 0.6), (Formula(10 / 4), 0.4)))
"""60 % propane and 40 % butane by mass; real blends vary by country and season."""
METHANE: Final = Fuel("methane", ((Formula(4), 1.0),))
FUELS: Final = (PETROL, E10, E85, LPG, METHANE)


def stoichiometric_afr(fuel: Fuel, air: Air = AIR_21_79) -> float:
    """Give the kilograms of air that just burn one kilogram of the fuel.

    Element balance to CO2, H2O and inert gas (J. B. Heywood, Internal Combustion Engine
    Fundamentals, eq. 3.6). The air model matters: 14.51 or 14.60 for the same petrol.
    """
    formula = fuel.formula
    air_moles = formula.oxygen_needed / air.oxygen
    return air_moles * air.molar_mass_g_mol / formula.molar_mass_g_mol


def lambda_from_afr(afr: float, fuel: Fuel = PETROL, air: Air = AIR_21_79) -> float:
    """Give lambda, the air there is over the air needed: above 1 lean, below 1 rich."""
    return afr / stoichiometric_afr(fuel, air)


def afr_from_lambda(lambda_: float, fuel: Fuel = PETROL, air: Air = AIR_21_79) -> float:
    """Give the kilograms of air to one of fuel at this lambda."""
    return lambda_ * stoichiometric_afr(fuel, air)
