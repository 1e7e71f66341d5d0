"""The supply wire of a heater under load: what it costs, and what is left at the terminal."""

from __future__ import annotations

from dataclasses import dataclass
from gettext import NullTranslations
from math import floor

from generator.guide import figures, words
from generator.guide.vehicle import ColdHeater, Vehicle
from generator.profile.sensor_model import Conductor, Sensor
from generator.trade.heater_current import (
    SUPPLY_HIGH_V,
    SUPPLY_LOW_V,
    CurrentRange,
    cold_current_a,
    hot_current_a,
)
from generator.trade.wiring import RESISTANCE_OHM_PER_KM, Conductors, supply_drop_v

WARM_C = 80.0


@dataclass(frozen=True, slots=True)
class SupplyWireView:
    """The volts a sound supply wire leaves; no rows where its size has no published resistance."""

    head: list[str]
    rows: list[tuple[str, ...]]
    basis: str
    source: str


def supply_wire_view(
    vehicle: Vehicle, sensor: Sensor, heater: ColdHeater | None
) -> SupplyWireView | None:
    """What the test page says of a supply wire, or None where none is stated.

    The wire has the greatest resistance that its standard allows, so a sound circuit leaves at
    least these volts, but for its terminals and splices. Measured against a good ground, so the
    current runs through one conductor of the stated length.
    """
    _, t = vehicle.t.gettext, vehicle.t
    wire = sensor.supply_wire
    if wire is None or heater is None:
        return None
    stated = vehicle.profile.sources.get(wire.source or "")
    source = words.source(stated, vehicle.t) if stated else ""
    if wire.size.high_mm2 not in RESISTANCE_OHM_PER_KM:
        unknown = _("No published resistance is known here for a wire of %(size)s.")
        return SupplyWireView([], [], unknown % {"size": figures.stated(wire.size.text, t)}, source)
    cold = heater.expected
    # What each voltage of the battery drives: a drop belongs to its own voltage
    drawn = [(volts, cold_current_a(cold, volts, volts)) for volts in (SUPPLY_LOW_V, SUPPLY_HIGH_V)]
    hot = [(volts, hot_current_a(current)) for volts, current in drawn]
    return SupplyWireView(
        head=[_("When"), _("Heater draws"), *(_volts(volts, t) for volts, _current in drawn)],
        rows=[_row(_("Switch-on"), drawn, wire, t), _row(_("Hot"), hot, wire, t)],
        basis=_basis(vehicle, wire, heater),
        source=source,
    )


def _row(
    when: str, drawn: list[tuple[float, CurrentRange]], wire: Conductor, t: NullTranslations
) -> tuple[str, ...]:
    least_a, most_a = drawn[0][1].low_a, drawn[-1][1].high_a
    amperes = figures.span(figures.number(least_a, 1, t), figures.number(most_a, 1, t), t)
    left = [_volts(_down(volts - _lost_v(current.high_a, wire)), t) for volts, current in drawn]
    return when, figures.with_unit(amperes, "A"), *left


def _down(value_v: float) -> float:
    # So that "at least" stays true in tenths; the inner rounding takes off what is no voltage
    return floor(round(value_v * 10, 6)) / 10


def _lost_v(current_a: float, wire: Conductor, temperature_c: float = 20.0) -> float:
    return supply_drop_v(
        current_a,
        wire.size.high_mm2,
        wire.length.high_mm / 1000,
        temperature_c,
        Conductors.SUPPLY_ONLY,
    )


def _basis(vehicle: Vehicle, wire: Conductor, heater: ColdHeater) -> str:
    _, t = vehicle.t.gettext, vehicle.t
    sentences = [
        _(
            "Wire of %(size)s, %(length)s one way, copper at 20 °C, the greatest resistance in "
            "%(standard)s. At %(warm)s it loses %(percent)s more. Fuse, relay, terminals and "
            "splices are not in it: sound ones may cost half a volt (common practice, no source)."
        )
        % {
            "size": figures.unbroken(figures.stated(wire.size.text, t)),
            "length": figures.unbroken(figures.stated(wire.length.text, t)),
            "standard": _("IEC 60228, class 5") if wire.size.high_mm2 >= 0.5 else "DIN VDE 0295",
            "warm": figures.with_unit(figures.short(WARM_C, t), "°C"),
            "percent": figures.with_unit(figures.number(_more_when_warm(wire), 0, t), "%"),
        },
        _("Hot: a third to a quarter of the current at switch-on (common practice, no source)."),
    ]
    if heater.measured:
        sentences.append(_("The currents rest on readings, not on a specification."))
    elif heater.specified is None:
        sentences.append(_("The currents rest on the rule of thumb, not on a specification."))
    return " ".join(sentences)


def _more_when_warm(wire: Conductor) -> float:
    """How much more the wire loses at 80 °C than at 20 °C, in per cent."""
    return (_lost_v(1, wire, WARM_C) / _lost_v(1, wire) - 1) * 100


def _volts(value_v: float, t: NullTranslations) -> str:
    return figures.with_unit(figures.number(value_v, 1, t), "V")
