"""Cold resistance of a sensor's heater over the temperature of the air.

A heater is a metal: its resistance RISES with temperature, so a colder sensor reads lower.

Limits. What an element is made of is seldom published. Platinum wire follows IEC 60751; a
thick-film element may have a smaller coefficient (2000 to 3500 ppm/K, from memory, so used for no
limit here). The further the air is from the temperature the specification is stated at, the less
the corrected range can condemn: see `condemning_range`.
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

# IEC 60751:2008 coefficients of the platinum resistance curve.
PLATINUM_A = 3.9083e-3
PLATINUM_B = -5.775e-7
PLATINUM_C_BELOW_0 = -4.183e-12
PLATINUM_LOWEST_C = -200.0
PLATINUM_HIGHEST_C = 850.0

# Tungsten at 20 degC: "Lessons In Electric Circuits" (open textbook) 0.004403, encyclopedia table
# of resistivity 0.0045. The sources differ, so tungsten is the band between them.
TUNGSTEN_PER_K = (0.004403, 0.0045)
TUNGSTEN_REFERENCE_C = 20.0

# Outside this the sensor is not what anyone calls cold, and people should not be measuring either.
AMBIENT_LOWEST_C = -20.0
AMBIENT_HIGHEST_C = 50.0

# A good thermometer, not a sourced figure: common practice, no source.
THERMOMETER_TOLERANCE_K = 1.0


@dataclass(frozen=True, slots=True)
class ResistanceRange:
    """A range of resistance in ohm, both ends included.

    Raises ValueError unless 0 <= low <= high.
    """

    low_ohm: float
    high_ohm: float

    def __post_init__(self) -> None:
        if not 0 <= self.low_ohm <= self.high_ohm < math.inf:
            raise ValueError(f"not a resistance range: {self.low_ohm} to {self.high_ohm} ohm")

    def contains(self, ohm: float) -> bool:
        """Whether a resistance lies in the range."""
        return self.low_ohm <= ohm <= self.high_ohm


# A good heater at room temperature: common practice, no source. It never condemns a sensor.
RULE_OF_THUMB = ResistanceRange(2.0, 4.0)
RULE_OF_THUMB_REFERENCE_C = 20.0


class Element(StrEnum):
    """What the heater is made of; hardly ever known, so UNKNOWN spans the others."""

    PLATINUM = "platinum"
    TUNGSTEN = "tungsten"
    UNKNOWN = "unknown"


def resistance_ratio_platinum(t_c: float) -> float:
    """Resistance of platinum at a temperature over its resistance at 0 degC.

    IEC 60751:2008, Callendar-Van Dusen polynomial: 1 + A t + B t^2, with C (t - 100) t^3 added
    below 0 degC. Raises ValueError outside -200 to 850 degC.
    """
    if not PLATINUM_LOWEST_C <= t_c <= PLATINUM_HIGHEST_C:
        raise ValueError(f"IEC 60751 covers -200 to 850 degC, not {t_c} degC")
    below_0 = PLATINUM_C_BELOW_0 * (t_c - 100) * t_c**3 if t_c < 0 else 0.0
    return 1 + PLATINUM_A * t_c + PLATINUM_B * t_c**2 + below_0


def resistance_ratio_tungsten(t_c: float, per_k: float) -> float:
    """Resistance of tungsten at a temperature over its resistance at 20 degC.

    Linear: 1 + a (t - 20), with a from `TUNGSTEN_PER_K`. Good near room temperature only.
    """
    return 1 + per_k * (t_c - TUNGSTEN_REFERENCE_C)


@lru_cache(maxsize=4096)
def resistance_factors(t_c: float, reference_c: float, element: Element) -> tuple[float, float]:
    """Lowest and highest factor that carries a resistance from one temperature to another."""
    platinum = resistance_ratio_platinum(t_c) / resistance_ratio_platinum(reference_c)
    tungsten = [
        resistance_ratio_tungsten(t_c, per_k) / resistance_ratio_tungsten(reference_c, per_k)
        for per_k in TUNGSTEN_PER_K
    ]
    candidates = {
        Element.PLATINUM: [platinum],
        Element.TUNGSTEN: tungsten,
        Element.UNKNOWN: [platinum, *tungsten],
    }[element]
    return min(candidates), max(candidates)


def expected_range(
    specified: ResistanceRange,
    reference_c: float,
    ambient_c: float,
    element: Element = Element.UNKNOWN,
    thermometer_tolerance_k: float = THERMOMETER_TOLERANCE_K,
) -> ResistanceRange:
    """The range a good heater reads at the temperature of the air, from the specified one.

    `reference_c` is the temperature the specification is stated at. The low end is taken at the
    air temperature less the thermometer's tolerance, the high end at the air temperature plus it,
    so the tolerance only widens. An unknown element gives the envelope of platinum and tungsten.
    Raises ValueError when either temperature is outside -20 to 50 degC, or the tolerance negative.
    """
    if not AMBIENT_LOWEST_C <= ambient_c <= AMBIENT_HIGHEST_C:
        raise ValueError(_outside("air", ambient_c))
    if not AMBIENT_LOWEST_C <= reference_c <= AMBIENT_HIGHEST_C:
        raise ValueError(_outside("reference", reference_c))
    if not 0 <= thermometer_tolerance_k < math.inf:
        raise ValueError(f"not a thermometer tolerance: {thermometer_tolerance_k} K")
    lowest, _ = resistance_factors(ambient_c - thermometer_tolerance_k, reference_c, element)
    _, highest = resistance_factors(ambient_c + thermometer_tolerance_k, reference_c, element)
    return ResistanceRange(specified.low_ohm * lowest, specified.high_ohm * highest)


def _outside(name: str, t_c: float) -> str:
    return (
        f"cold resistance is computed from {AMBIENT_LOWEST_C:g} to {AMBIENT_HIGHEST_C:g} degC; "
        f"the {name} temperature is {t_c:g} degC"
    )


def condemning_range(specified: ResistanceRange, expected: ResistanceRange) -> ResistanceRange:
    """The range outside which a reading condemns: the expected and the specified one together.

    An element whose coefficient is smaller than the table's lies between the two, whatever that
    coefficient is; so a reading there proves nothing against the sensor. At the temperature the
    specification is stated at, both ranges are one and nothing is given away.
    """
    return ResistanceRange(
        min(specified.low_ohm, expected.low_ohm), max(specified.high_ohm, expected.high_ohm)
    )


def step_for(resistance: ResistanceRange, specified_step_ohm: float | None = None) -> float:
    """The step in ohm a range is shown in: 0.1 below 20 ohm, 1 from there.

    Finer when the specification itself is (`specified_step_ohm`). Common practice, no source.
    """
    step_ohm = 0.1 if resistance.high_ohm < 20 else 1.0
    return step_ohm if specified_step_ohm is None else min(step_ohm, specified_step_ohm)


def rounded_to_step(resistance: ResistanceRange, step_ohm: float) -> ResistanceRange:
    """The range with each end at the nearest whole step, as it is shown.

    A meter that shows such steps has no reading inside the given range and outside the shown one.
    For showing only; a verdict uses the unrounded range. Raises
    ValueError for a step that is not positive.
    """
    if not 0 < step_ohm < math.inf:
        raise ValueError(f"not a step: {step_ohm} ohm")
    return ResistanceRange(
        round(round(resistance.low_ohm / step_ohm) * step_ohm, 9),
        round(round(resistance.high_ohm / step_ohm) * step_ohm, 9),
    )
