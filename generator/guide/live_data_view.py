"""Live data on a test page: what a scan tool may call the sensor, and what to expect of it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from gettext import NullTranslations

from generator.guide import figures
from generator.guide.diagnosis_words import (
    before_standard_codes,
    fit_to_run,
    kept_running,
    read_without_scan_tool,
)
from generator.guide.vehicle import Vehicle
from generator.profile.sensor_model import Sensor
from generator.trade.live_data import Parameter, layout_for, parameters_for
from generator.trade.sensor import (
    Condition,
    ExpectedValue,
    SensorKind,
    expected,
    names_on_scan_tools,
)


@dataclass(frozen=True, slots=True)
class LiveDataView:
    """What a scan tool shows: what it may be called, and what to expect."""

    notes: list[str]
    names: str
    pids: str
    expected: list[tuple[str, str, str]]


def live_data_view(vehicle: Vehicle, sensor: Sensor) -> LiveDataView:
    """What the test page says of a sensor's live data."""
    _ = vehicle.t.gettext
    layout = layout_for(vehicle.profile.banks)
    parameters: tuple[Parameter, ...] = ()
    if sensor.bank <= layout.banks and sensor.position <= layout.positions:
        parameters = parameters_for(sensor.bank, sensor.position, sensor.kind, layout)
    pids = sorted({parameter.pid for parameter in parameters})
    notes = [
        fit_to_run(vehicle, sensor),
        kept_running(vehicle),
        before_standard_codes(vehicle),
        read_without_scan_tool(vehicle),
    ]
    return LiveDataView(
        notes=[note for note in notes if note],
        names=", ".join(names_on_scan_tools(sensor.bank, sensor.position, sensor.kind)),
        pids=_(" or ").join(f"0x{pid:02X}" for pid in pids)
        or _("none: the standard's list has no place for this sensor"),
        expected=expected_rows(vehicle.t, sensor.kind, sensor.position),
    )


@lru_cache(maxsize=64)
def expected_rows(
    t: NullTranslations, kind: SensorKind, position: int
) -> list[tuple[str, str, str]]:
    """What a healthy sensor of a kind shows: when, which value, what it does."""
    _ = t.gettext
    return [
        (_(condition.value), _expected_words(values, t), _(values[0].behaviour.value))
        for condition in Condition
        for values in [expected(kind, position, condition)]
    ]


def _expected_words(values: tuple[ExpectedValue, ...], t: NullTranslations) -> str:
    """The expected values of one condition; lambda carries its name instead of a unit."""
    _ = t.gettext
    said = []
    for value in values:
        if value.low is None and value.high is None:
            continue
        unit = value.unit or "λ"
        low = None if value.low is None else figures.short(value.low, t)
        high = None if value.high is None else figures.short(value.high, t)
        if low and high:
            number = figures.span(low, high, t)
        elif low:
            number = _("over %(number)s") % {"number": low}
        else:
            number = _("under %(number)s") % {"number": high}
        said.append(
            figures.with_unit(number, unit) if value.unit else figures.unbroken(f"{unit} {number}")
        )
    return ", ".join(said) or "–"
