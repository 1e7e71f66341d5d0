"""Metric threads: their pitches, diameters, stress area and the loads they carry."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Final

PITCHES_MM: Final[Mapping[float, tuple[float, ...]]] = MappingProxyType(
    {
        3.0: (0.5, 0.35),
        4.0: (0.7, 0.5),
        5.0: (0.8, 0.5),
        6.0: (1.0, 0.75),
        7.0: (1.0, 0.75),
        8.0: (1.25, 1.0, 0.75),
        10.0: (1.5, 1.25, 1.0, 0.75),
        12.0: (1.75, 1.5, 1.25, 1.0),
        14.0: (2.0, 1.5, 1.25, 1.0),
        16.0: (2.0, 1.5, 1.0),
        18.0: (2.5, 2.0, 1.5, 1.0),
        20.0: (2.5, 2.0, 1.5, 1.0),
        22.0: (2.5, 2.0, 1.5, 1.0),
        24.0: (3.0, 2.0, 1.5, 1.0),
        27.0: (3.0, 2.0, 1.5, 1.0),
        30.0: (3.5, 3.0, 2.0, 1.5, 1.0),
    }
)
"""Pitches made, by diameter in mm, the coarse one first.

M6 to M18: ISO 262 as tabled by the FreeCAD Fasteners workbench; the other coarse ones: ISO 4014
table of bd_warehouse 0.4.0; M6x0.75, M7 and M14x1.25: its tap drill table. The other fine pitches
are those of ISO 261 from memory: they only widen what is accepted.
"""

SHARE_OF_PROOF_LOAD: Final = 0.75
"""The part of the proof load a re-usable joint is tightened to: common practice, no source."""


class PropertyClass(StrEnum):
    """Strength of a steel bolt by ISO 898-1, as it stands on its head."""

    C8_8 = "8.8"
    C10_9 = "10.9"


# From memory; they reproduce the proof loads republished from ISO 898-1 (M6 to M12, see the tests)
_PROOF_STRESS_MPA: Final = {PropertyClass.C8_8: 580.0, PropertyClass.C10_9: 830.0}
_PROOF_STRESS_8_8_OVER_16_MM_MPA: Final = 600.0


@dataclass(frozen=True, slots=True)
class MetricThread:
    """A metric thread of ISO 68-1's basic profile: diameter d and pitch P, in mm.

    Raises ValueError unless the root is left with a diameter.
    """

    diameter_mm: float
    pitch_mm: float

    def __post_init__(self) -> None:
        if not (0 < self.pitch_mm < math.inf and 0 < self.root_diameter_mm < math.inf):
            raise ValueError(f"no thread has {self.diameter_mm} mm and a pitch of {self.pitch_mm}")

    def __str__(self) -> str:
        return f"M{self.diameter_mm:g}×{self.pitch_mm:g}"

    @property
    def triangle_height_mm(self) -> float:
        """H, the height of the sharp triangle: sqrt(3)/2 P (ISO 68-1)."""
        return math.sqrt(3) / 2 * self.pitch_mm

    @property
    def pitch_diameter_mm(self) -> float:
        """d2 = d - 0.75 H (ISO 724)."""
        return self.diameter_mm - 0.75 * self.triangle_height_mm

    @property
    def minor_diameter_mm(self) -> float:
        """d1 = d - 1.25 H (ISO 724)."""
        return self.diameter_mm - 1.25 * self.triangle_height_mm

    @property
    def root_diameter_mm(self) -> float:
        """d3 = d1 - H/6, at the bottom of a bolt's rounded root (ISO 898-1)."""
        return self.minor_diameter_mm - self.triangle_height_mm / 6

    @property
    def stress_area_mm2(self) -> float:
        """A = pi/4 ((d2 + d3)/2)^2, the area a bolt's strength is reckoned with (ISO 898-1)."""
        return math.pi / 4 * ((self.pitch_diameter_mm + self.root_diameter_mm) / 2) ** 2


def coarse_thread(diameter_mm: float) -> MetricThread | None:
    """The thread meant where only a diameter is written, such as M8; None for an unknown one."""
    pitches = PITCHES_MM.get(diameter_mm)
    return MetricThread(diameter_mm, pitches[0]) if pitches else None


def is_made(diameter_mm: float, pitch_mm: float) -> bool:
    """Whether a diameter is made with a pitch (`PITCHES_MM`)."""
    return pitch_mm in PITCHES_MM.get(diameter_mm, ())


def nearest_diameters(diameter_mm: float) -> tuple[float, ...]:
    """The diameters made on either side of one that is not; at the ends of the table, one."""
    below = [each for each in PITCHES_MM if each < diameter_mm]
    above = [each for each in PITCHES_MM if each > diameter_mm]
    return (*below[-1:], *above[:1])


def proof_stress_mpa(strength: PropertyClass, diameter_mm: float) -> float:
    """The stress a bolt bears without lasting stretch (ISO 898-1, from memory)."""
    if strength is PropertyClass.C8_8 and diameter_mm > 16:
        return _PROOF_STRESS_8_8_OVER_16_MM_MPA
    return _PROOF_STRESS_MPA[strength]


def proof_load_n(thread: MetricThread, strength: PropertyClass) -> float:
    """The load a bolt bears without lasting stretch: stress area times proof stress (ISO 898-1).

    Unrounded; the standard prints it from the rounded area, to three figures.
    """
    return thread.stress_area_mm2 * proof_stress_mpa(strength, thread.diameter_mm)
