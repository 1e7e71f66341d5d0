"""What search engines are told of a vehicle's guide, in the vocabulary of schema.org.

Addresses are relative to the overview, which is the page it stands on. It is data: no browser runs
it, so the page's security policy does not concern it.
"""

from __future__ import annotations

import json
from typing import Any

from markupsafe import Markup

from generator.guide.frame import stage_titles
from generator.guide.vehicle import STAGES, Vehicle, page_file

VOCABULARY = "https://schema.org"


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
    titles = stage_titles(vehicle)
    return _inert(
        {
            "@context": VOCABULARY,
            "@type": "TechArticle",
            "headline": name,
            "url": page_file(),
            "about": car,
            "hasPart": [
                {
                    "@type": "HowTo",
                    "name": f"{vehicle.called(sensor)}: {titles[stage]}",
                    "url": page_file(sensor, stage),
                }
                for sensor in vehicle.sensors
                for stage in STAGES
            ],
        }
    )


def _inert(data: dict[str, Any]) -> Markup:
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    for character in "<>&\u2028\u2029":
        text = text.replace(character, f"\\u{ord(character):04x}")
    return Markup(text)
