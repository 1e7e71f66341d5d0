"""What ``sondebook new`` has been told, and the smallest profile that can be made of it."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from typing import Any

from generator.profile.model import FORMAT
from generator.profile.sensor_model import Reach
from generator.trade import place
from generator.trade.place import Wheel
from generator.trade.sensor import SensorKind

_LONGEST_SLUG = 80


@dataclass(frozen=True, slots=True)
class Named:
    """Which vehicle a profile is for; enough to name its file."""

    make: str
    model: str
    years: str
    engine: str

    @property
    def slug(self) -> str:
        """The name of its file, and so its guide's address; empty where no letter is Latin."""
        return slug_of(self.make, self.model, self.engine)


@dataclass(frozen=True, slots=True)
class SensorAnswers:
    """What is known of a sensor before any specification."""

    bank: int
    position: int
    kind: SensorKind
    wires: int
    reach: Reach
    where: str


@dataclass(frozen=True, slots=True)
class Answers:
    """Everything a profile cannot do without."""

    named: Named
    engine: place.Engine
    steering: tuple[Wheel, ...]
    banks: tuple[place.Bank, ...]
    sensors: tuple[SensorAnswers, ...]

    def as_data(self) -> dict[str, Any]:
        """The smallest profile there is of it, as plain data."""
        named, engine = self.named, self.engine
        return {
            "format": FORMAT,
            "vehicle": {"make": named.make, "model": named.model, "years": named.years},
            "engine": {
                "name": named.engine,
                "cylinders": engine.cylinders,
                "arrangement": engine.arrangement.value,
                "mounting": engine.mounting.value,
                "bay": engine.bay.value,
            },
            "steering": [wheel.value for wheel in self.steering],
            "banks": {bank.number: self._bank(bank) for bank in self.banks},
            "sensors": [_sensor_data(sensor) for sensor in self.sensors],
        }

    def _bank(self, bank: place.Bank) -> dict[str, Any]:
        data: dict[str, Any] = {"cylinders": list(bank.cylinders)}
        furthest = max(
            (each.position for each in self.sensors if each.bank == bank.number), default=1
        )
        # A sensor after the first position has a catalyst before it, each further one another
        if furthest > 2:
            data["catalysts"] = furthest - 1
        if bank.side:
            data["side"] = bank.side.value
        return data


def _sensor_data(sensor: SensorAnswers) -> dict[str, Any]:
    return {
        "bank": sensor.bank,
        "position": sensor.position,
        "kind": sensor.kind.value,
        "wires": sensor.wires,
        "place": {"where": sensor.where, "reach": sensor.reach.value},
    }


def slug_of(*words: str) -> str:
    """Words as the name of a file: small letters and digits without accents, single hyphens."""
    plain = unicodedata.normalize("NFKD", " ".join(words).casefold())
    kept = re.findall("[a-z0-9]+", plain.encode("ascii", "ignore").decode())
    return "-".join(kept)[:_LONGEST_SLUG].rstrip("-")
