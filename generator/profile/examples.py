"""What may stand at a key: examples that taken together make one profile, of an invented vehicle.

The model names them key by key; the reference, the JSON Schema and the starter show them.
"""

from __future__ import annotations

import re
from typing import Any, Final

from pydantic.fields import FieldInfo

from generator.profile.dimension import DIMENSIONS

Example = Any
"""Plain data as it is written in YAML: text, numbers, lists, mappings."""

VEHICLE: Final = {"make": "Fenwright", "model": "Carrow", "years": "2009 to 2014"}
ENGINE: Final = {
    "name": "1.6 petrol",
    "cylinders": 4,
    "arrangement": "inline",
    "mounting": "transverse",
    "bay": "front",
}
PHOTOS: Final = [
    {
        "file": "photos/hex.jpg",
        "at": "sensors.bank-1-position-1",
        "caption": "Seen from below.",
        "shows": "Its hex, by the pipe.",
    }
]
GUIDE: Final = {"checked_on": "2026-03-14", "licence": "CC BY-SA 4.0"}
EXCEPTIONS: Final = [
    {
        "rule": "hex-for-thread",
        "at": "obstacles.engine-cover.undo.1",
        "reason": "Measured on three cars: 12 mm.",
    }
]
BANKS: Final = {1: {"cylinders": [1, 2, 3, 4], "side": "front"}}
SOURCES: Final = {
    "manual": {
        "title": "Carrow workshop manual",
        "kind": "maker",
        "edition": "third printing",
        "locator": "section 17",
    }
}
FASTENERS: Final = [{"what": "bolt", "count": 4, "hex": "10 mm"}]
OBSTACLES: Final = {
    "engine-cover": {
        "name": "plastic engine cover",
        "undo": FASTENERS,
        "steps": ["Lift the cover off its rubber feet."],
        "minutes": "1 to 2 min",
    }
}
PINS: Final = {
    1: {"job": "heater-supply", "sensor_wire": "WH"},
    2: {"job": "heater-control", "sensor_wire": "WH"},
    3: {"job": "signal-ground", "sensor_wire": "GY"},
    4: {"job": "signal", "sensor_wire": "BK"},
}
CONNECTORS: Final = {"upstream": {"rows": 1, "columns": 4, "latch": "top", "pins": PINS}}
RATING: Final = {"value": "15 A", "source": "manual"}
FUSES: Final = {
    "heaters": {"box": "in the engine bay, on the left", "number": "12", "rating": RATING}
}
PLACE: Final = {"where": "in the front manifold", "reach": "above"}
PLUG: Final = {"face": "upstream", "where": "on the end of the cylinder head"}
RESISTANCE: Final = {"value": "5.0 to 6.4 ohm", "at": "20 °C", "source": "manual"}
HEATER: Final = {"resistance": RESISTANCE}
TORQUE: Final = {"value": "40 to 48 N·m", "source": "manual"}
CURVE: Final = {"points": [[0.8, -0.9], [1.0, 0.0], [1.4, 0.9]]}
SUPPLY_WIRE: Final = {"size": "0.75 mm²", "length": "3 m"}
READINGS: Final = [{"resistance": "5.9 ohm", "air": "18 °C", "meter_zero": "0.2 ohm"}]
SENSORS: Final = [{"bank": 1, "position": 1, "kind": "switching", "wires": 4, "place": PLACE}]
CAUSES: Final = {"exhaust-leak": 60, "sensor-aged": 20}
LIKELIHOODS: Final = {"slow-signal": {"causes": CAUSES}}
DRIVE_CYCLE: Final = {"steps": ["Start cold and idle for 2 minutes.", "Drive at 80 km/h."]}

_OF_QUANTITY: Final[dict[Any, list[str]]] = {
    each.value: re.findall("`(.+?)`", each.examples) for each in DIMENSIONS
}


def examples_of(field: FieldInfo) -> list[Example]:
    """The examples of a key: its own, or else those of the quantity it holds."""
    return field.examples or _OF_QUANTITY.get(field.annotation, [])
