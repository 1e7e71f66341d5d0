"""How a fouled sensor looks, what fouled it, and what to cure before a new one goes in.

A new sensor fouls again until the cause is cured. Every entry is common practice, no source: looks
overlap, so a look is a reason to check the cause, never proof of it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import ClassVar, Final


class Look(StrEnum):
    """What is seen on the tip and its shield."""

    WHITE_GLAZE = "white, like a glaze"
    BROWN_BLACK_OILY = "brown to black, oily"
    DRY_SOOT = "dry black soot"
    WHITE_GRITTY = "white, gritty"
    CLEAN = "light grey to tan, nothing to wipe off"


@dataclass(frozen=True, slots=True)
class Fouling:
    """What a look points at: the cause, how to confirm it, and what to cure first."""

    basis: ClassVar[str] = "common practice, no source"

    cause: str
    confirm: tuple[str, ...]
    cure_first: str
    sensor_recovers: bool
    """Whether the same sensor often comes clean by itself once the cause is cured."""


FOULING: Final[Mapping[Look, Fouling]] = MappingProxyType(
    {
        Look.WHITE_GLAZE: Fouling(
            cause="burning coolant",
            confirm=(
                "coolant level that falls with no leak to be seen",
                "pressure test of the cooling system, engine cold",
                "test for combustion gas in the coolant",
            ),
            cure_first="the leak into the cylinder, often the head gasket",
            sensor_recovers=False,
        ),
        Look.BROWN_BLACK_OILY: Fouling(
            cause="burning oil",
            confirm=(
                "oil consumption over a measured distance",
                "crankcase ventilation",
                "compression and leak-down test",
            ),
            cure_first="where the oil comes in: ventilation, valve stem seals, rings, turbocharger",
            sensor_recovers=False,
        ),
        Look.DRY_SOOT: Fouling(
            cause="running rich",
            confirm=(
                "fuel trims well below zero in live data",
                "fuel pressure and leaking injectors",
                "purge valve that does not shut",
            ),
            cure_first="the rich mixture",
            sensor_recovers=True,
        ),
        Look.WHITE_GRITTY: Fouling(
            cause="silicone, from sealant or spray near intake or exhaust",
            confirm=(
                "recent work with sealant or spray",
                "coolant with silicates, if coolant is lost",
            ),
            cure_first="the silicone: take it off and use sensor-safe sealant",
            sensor_recovers=False,
        ),
    }
)
"""By look. A clean sensor is not here: it points at nothing, and may still be worn out."""


def fouling(look: Look) -> Fouling | None:
    """Give what a look points at, or None for a clean sensor."""
    return FOULING.get(look)
