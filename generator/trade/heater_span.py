"""Between which resistances the heaters of each kind of sensor are mostly specified, cold.

Common practice, no source: good for asking whether a value was typed as it was meant. It condemns
no sensor, and a range from the vehicle's own source outranks it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from generator.trade.heater import ResistanceRange
from generator.trade.sensor import SensorKind

# Specified ranges lie anywhere from about 1.5 to 20 ohm; those of wide-range sensors, which must be
# hot soon and stay hot, at its lower end. Common practice, no source.
COMMON_SPANS: Final[Mapping[SensorKind, ResistanceRange]] = {
    SensorKind.SWITCHING: ResistanceRange(1.5, 20.0),
    SensorKind.WIDE_RANGE: ResistanceRange(1.5, 8.0),
    SensorKind.TITANIA: ResistanceRange(1.5, 20.0),
}


def lies_in(stated: ResistanceRange, kind: SensorKind) -> bool:
    """Whether a whole specified range lies where those of its kind mostly do."""
    span = COMMON_SPANS[kind]
    return span.low_ohm <= stated.low_ohm and stated.high_ohm <= span.high_ohm


def kinds_for(stated: ResistanceRange) -> tuple[SensorKind, ...]:
    """The kinds of sensor for which a specified range is common."""
    return tuple(kind for kind in SensorKind if lies_in(stated, kind))
