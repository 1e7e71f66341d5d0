"""The rules a whole profile is held to, one a file."""

from generator.profile.rules import (
    circle,
    connector_face,
    layout,
    names,
    no_heater,
    reference_temperature,
    sensor_twice,
    unsourced,
    wire_count,
)
from generator.profile.rules.rule import Rule

RULES: tuple[Rule, ...] = (
    layout.RULE,
    names.RULE,
    circle.RULE,
    sensor_twice.RULE,
    no_heater.RULE,
    reference_temperature.RULE,
    connector_face.RULE,
    wire_count.RULE,
    unsourced.RULE,
)

__all__ = ["RULES", "Rule"]
