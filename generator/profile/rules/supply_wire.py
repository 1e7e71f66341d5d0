"""The wire that feeds a heater should have a size that is made, and lose little of the supply.

Sizes and resistances of IEC 60228 (below 0.5 mm², DIN VDE 0295). That no more than 3 % of 12 V
should be lost is common practice, no source; the current is the lowest the hot heater draws, so
that only what must be wrong is told.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.profile.sensor_model import Conductor
from generator.trade.heater import ResistanceRange
from generator.trade.heater_current import SUPPLY_LOW_V, cold_current_a, hot_current_a
from generator.trade.wiring import RESISTANCE_OHM_PER_KM, supply_drop_v

MOST_LOST = 0.03


def _check(profile: Profile) -> Iterator[Fault]:
    for index, sensor in enumerate(profile.sensors):
        wire, resistance = sensor.supply_wire, sensor.cold_resistance
        if wire is None:
            continue
        if wire.size.low_mm2 not in RESISTANCE_OHM_PER_KM:
            sizes = ", ".join(f"{size:g}" for size in RESISTANCE_OHM_PER_KM)
            yield Fault(
                ("sensors", index, "supply_wire", "size"),
                f"`{wire.size.text}` is no size whose resistance is tabled: {sizes} mm² "
                "(IEC 60228, DIN VDE 0295).",
                "Compare it with your source; without a tabled size no voltage drop is shown.",
            )
        elif resistance:
            cold = ResistanceRange(resistance.value.low_ohm, resistance.value.high_ohm)
            if reason := _drop(wire, cold):
                yield Fault(
                    ("sensors", index, "supply_wire", "length"),
                    reason,
                    "Compare the length, its unit and the size with your source.",
                )


def _drop(wire: Conductor, cold: ResistanceRange) -> str:
    current_a = hot_current_a(cold_current_a(cold, SUPPLY_LOW_V, SUPPLY_LOW_V)).low_a
    drop_v = supply_drop_v(current_a, wire.size.low_mm2, wire.length.low_mm / 1000)
    most_v = MOST_LOST * SUPPLY_LOW_V
    if drop_v <= most_v:
        return ""
    return (
        f"`{wire.length.text}` of `{wire.size.text}` loses {drop_v:.2g} V there and back at "
        f"{current_a:.2g} A, the hot heater's current; {most_v:.2g} V, {MOST_LOST * 100:g} % of "
        f"{SUPPLY_LOW_V:g} V, is ordinary (common practice, no source)."
    )


RULE = Rule("supply-wire", Severity.WARNING, _check)
