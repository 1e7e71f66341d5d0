"""What search engines are told of a vehicle's guide, in the vocabulary of schema.org.

Addresses are relative to the page it stands on: the overview, or the page of a stage. It is data:
no browser runs it, so the page's security policy does not concern it.
"""

from __future__ import annotations

import json
from typing import Any

from markupsafe import Markup

from generator.guide.frame import stage_titles
from generator.guide.vehicle import STAGES, Vehicle, page_file
from generator.profile.sensor_model import Sensor

VOCABULARY = "https://schema.org"

_SECTIONS: dict[str, tuple[tuple[str, str, str], ...]] = {
    "access": (
        ("lay-out", "Lay out", "tools"),
        ("off", "Off, in this order", "obstacles"),
        ("connector", "The connector", "plug"),
        ("sensor", "The sensor", "sensor_out"),
        ("tip", "Look at the tip", "tip"),
    ),
    "test": (
        ("lay-out", "Lay out", "tools"),
        ("measure", "Measure the heater", "heater"),
        ("verdict", "What the reading says", "heater"),
        ("supply", "Supply and control", "heater"),
        ("fuse", "The fuse", "fuse"),
        ("live-data", "Live data", "live"),
    ),
    "refit": (
        ("lay-out", "Lay out", "tools"),
        ("sensor", "The sensor", "sensor_in"),
        ("on", "On again, in the opposite order", "obstacles"),
        ("proof", "The proof", "proof"),
    ),
}
"""The sections of a stage in which something is done: name, heading, what of the view it shows.

A section is there when the view has something to show in it.
"""


def linked_data(vehicle: Vehicle) -> Markup:
    """A TechArticle about the vehicle, with a HowTo for each stage of each sensor, as JSON-LD.

    Contributed text stands in it as JSON without ``<``, ``>`` and ``&``, so it cannot end the
    element.
    """
    profile = vehicle.profile
    name = f"{vehicle.name}, {vehicle.years}"
    car = {
        "@type": "Car",
        "name": name,
        "brand": {"@type": "Brand", "name": profile.vehicle.make},
        "model": profile.vehicle.model,
        "vehicleEngine": {"@type": "EngineSpecification", "name": profile.engine.name},
    }
    return _inert(
        {
            "@context": VOCABULARY,
            "@type": "TechArticle",
            "headline": name,
            "url": page_file(),
            "about": car,
            "hasPart": [
                _how_to(vehicle, sensor, stage) for sensor in vehicle.sensors for stage in STAGES
            ],
        }
    )


def how_to(vehicle: Vehicle, sensor: Sensor, stage: str, view: Any) -> Markup:
    """A HowTo for one stage of a sensor, with its sections as the steps; empty for other pages."""
    if stage not in _SECTIONS:
        return Markup("")
    steps = [
        {"@type": "HowToStep", "name": vehicle.t.gettext(heading), "url": f"#{section}"}
        for section, heading, part in _SECTIONS[stage]
        if getattr(view, part)
    ]
    data = {
        "@context": VOCABULARY,
        **_how_to(vehicle, sensor, stage),
        "about": {"@type": "Car", "name": f"{vehicle.name}, {vehicle.years}"},
        "isPartOf": page_file(),
        "step": steps,
    }
    return _inert(data)


def _how_to(vehicle: Vehicle, sensor: Sensor, stage: str) -> dict[str, Any]:
    name = f"{vehicle.called(sensor)}: {stage_titles(vehicle)[stage]}"
    return {"@type": "HowTo", "name": name, "url": page_file(sensor, stage)}


def _inert(data: dict[str, Any]) -> Markup:
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    for character in "<>&\u2028\u2029":
        text = text.replace(character, f"\\u{ord(character):04x}")
    return Markup(text)
