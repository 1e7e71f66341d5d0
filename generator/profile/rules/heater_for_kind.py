"""A heater's cold resistance should lie where those of its kind of sensor mostly do.

Common practice, no source: a lost decimal point, a range of a hot heater or the range of another
kind of sensor shows here. A range from the vehicle's own source outranks it.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.trade.heater import ResistanceRange
from generator.trade.heater_span import COMMON_SPANS, kinds_for, lies_in
from generator.trade.sensor import SensorKind


def _check(profile: Profile) -> Iterator[Fault]:
    for index, sensor in enumerate(profile.sensors):
        resistance = sensor.cold_resistance
        if resistance is None:
            continue
        stated = ResistanceRange(resistance.value.low_ohm, resistance.value.high_ohm)
        if not lies_in(stated, sensor.kind):
            span = COMMON_SPANS[sensor.kind]
            yield Fault(
                ("sensors", index, "heater", "resistance", "value"),
                f"`{resistance.value.text}` is not where the heaters of {sensor.kind} sensors "
                f"are mostly specified: {span.low_ohm:g} to {span.high_ohm:g} ohm "
                "(common practice, no source).",
                _mend(stated),
            )


def _mend(stated: ResistanceRange) -> str:
    kinds: tuple[SensorKind, ...] = kinds_for(stated)
    if kinds:
        words = " or ".join(kinds)
        return f"It would be common for a {words} sensor: look at `kind` as well."
    return "Compare the figures, the unit and the temperature with your source."


RULE = Rule("heater-for-kind", Severity.WARNING, _check, of_whole=True)
