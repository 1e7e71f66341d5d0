"""Readings of sensors known to be good, as a test page shows them beside the specification."""

from __future__ import annotations

from dataclasses import dataclass
from gettext import NullTranslations
from statistics import stdev

from generator.guide import figures
from generator.guide.known_good import element_of, good_reading, sensor_pool
from generator.guide.vehicle import Vehicle
from generator.profile.sensor_model import KnownGood, Sensor
from generator.trade.pooled_readings import (
    CONFIDENCE,
    COVERAGE,
    FEWEST,
    REFERENCE_C,
    Pool,
    corrected_ohm,
)


@dataclass(frozen=True, slots=True)
class ReadingsView:
    """The readings as they are and, from eight on, the range they make; never a specification.

    `summary` is one line for beside the specification. `rows` hold: ohms at 20 °C; what the meter
    showed, its leads and the air; when and at which distance.
    """

    summary: str
    facts: list[tuple[str, str]]
    rows: list[tuple[str, str, str]]


def readings_view(vehicle: Vehicle, sensor: Sensor) -> ReadingsView | None:
    """The pooled readings of a sensor's heater, or None where there are none."""
    if not sensor.readings or not sensor.is_heated:
        return None
    pool, decimals = sensor_pool(sensor)
    element = element_of(sensor)
    return ReadingsView(
        _summary(vehicle, pool, decimals),
        _facts(vehicle, pool, decimals),
        [
            _row(vehicle, each, corrected_ohm(good_reading(each), element), decimals)
            for each in sensor.readings
        ],
    )


def _summary(vehicle: Vehicle, pool: Pool, decimals: int) -> str:
    _, t = vehicle.t.gettext, vehicle.t
    count = len(pool.kept_ohm)
    if pool.tolerance is None:
        return t.ngettext(
            "Measured, not specified: %(count)s reading of a sensor known to work, %(spread)s at "
            "%(reference)s.",
            "Measured, not specified: %(count)s readings of sensors known to work, %(spread)s at "
            "%(reference)s.",
            count,
        ) % {"count": count, "spread": _spread(pool, decimals, t), "reference": _reference(t)}
    return _(
        "Measured, not specified: %(count)s sensors known to work make a range of %(range)s at "
        "%(reference)s."
    ) % {
        "count": count,
        "range": _ohms(pool.tolerance.low_ohm, pool.tolerance.high_ohm, decimals, t),
        "reference": _reference(t),
    }


def _facts(vehicle: Vehicle, pool: Pool, decimals: int) -> list[tuple[str, str]]:
    _, t = vehicle.t.gettext, vehicle.t
    facts = [
        (_("Readings"), str(len(pool.kept_ohm))),
        (_("Lowest to highest, at 20 °C"), _spread(pool, decimals, t)),
    ]
    if len(pool.kept_ohm) > 1:
        deviation = figures.number(stdev(pool.kept_ohm), decimals + 1, t)
        facts.append((_("Standard deviation"), figures.with_unit(deviation, "Ω")))
    if pool.tolerance or pool.left_out_ohm is not None:
        facts.append((_("Outlier"), _outlier_words(vehicle, pool, decimals)))
    return [*facts, (_("Range"), _range_words(vehicle, pool, decimals))]


def _outlier_words(vehicle: Vehicle, pool: Pool, decimals: int) -> str:
    _, t = vehicle.t.gettext, vehicle.t
    rule = _("the reading furthest from the mean goes if it fails Grubbs' test at 5 %.")
    if pool.left_out_ohm is None:
        return _("None left out; %(rule)s") % {"rule": rule}
    left_out = figures.with_unit(figures.number(pool.left_out_ohm, decimals, t), "Ω")
    return _("%(ohm)s left out; %(rule)s") % {"ohm": left_out, "rule": rule}


def _range_words(vehicle: Vehicle, pool: Pool, decimals: int) -> str:
    _, t = vehicle.t.gettext, vehicle.t
    if pool.tolerance is None:
        return _("None: under %(fewest)s readings are listed as they are.") % {"fewest": FEWEST}
    return _(
        "%(range)s: a tolerance interval (ISO 16269-6). If such readings are normally "
        "distributed, it holds %(coverage)s of good sensors, with %(confidence)s confidence."
    ) % {
        "range": _ohms(pool.tolerance.low_ohm, pool.tolerance.high_ohm, decimals, t),
        "coverage": figures.with_unit(figures.short(COVERAGE * 100, t), "%"),
        "confidence": figures.with_unit(figures.short(CONFIDENCE * 100, t), "%"),
    }


def _row(
    vehicle: Vehicle, reading: KnownGood, at_reference_ohm: float, decimals: int
) -> tuple[str, str, str]:
    _, t = vehicle.t.gettext, vehicle.t
    zero = reading.meter_zero
    leads = (
        _("leads %(ohm)s") % {"ohm": figures.stated(zero.text, t)} if zero else _("leads taken off")
    )
    read = (figures.stated(reading.resistance.text, t), leads, figures.stated(reading.air.text, t))
    date = figures.day(reading.date, t) if reading.date else ""
    # A line would break after each hyphen of a date
    date = date.replace("-", f"-{figures.WORD_JOINER}")
    when = (date, figures.unbroken(reading.distance or ""))
    return (
        figures.number(at_reference_ohm, decimals, t),
        ", ".join(map(figures.unbroken, read)),
        ", ".join(filter(None, when)) or _("not stated"),
    )


def _spread(pool: Pool, decimals: int, t: NullTranslations) -> str:
    return _ohms(pool.kept_ohm[0], pool.kept_ohm[-1], decimals, t)


def _ohms(low_ohm: float, high_ohm: float, decimals: int, t: NullTranslations) -> str:
    shown = figures.span(
        figures.number(low_ohm, decimals, t), figures.number(high_ohm, decimals, t), t
    )
    return figures.with_unit(shown, "Ω")


def _reference(t: NullTranslations) -> str:
    return figures.with_unit(figures.short(REFERENCE_C, t), "°C")
