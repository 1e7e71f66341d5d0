"""A sensor's torque as it is shown: in every unit, and on a wrench with an offset adapter."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from gettext import NullTranslations

from generator.guide import choice, figures, words
from generator.guide.adapter_drawing import AdapterDrawing, adapter_drawing
from generator.guide.vehicle import Vehicle, torque_range
from generator.profile.sensor_model import Sensor
from generator.trade.torque import TorqueRange, TorqueUnit, adapter_range

ADAPTER_LENGTHS_MM = (25, 50, 75)
WRENCH_LENGTHS_MM = (250, 350, 450)


@dataclass(frozen=True, slots=True)
class TorqueView:
    """A sensor's torque: as it is stated, in all units, and through an offset adapter."""

    number: str
    unit: str
    second: str
    units: list[tuple[str, str]]
    adapter_head: list[str]
    adapter_rows: list[list[str]]
    adapter: AdapterDrawing
    stated: str = ""
    thread: str = ""
    source: str = ""


def torque_view(vehicle: Vehicle, sensor: Sensor) -> TorqueView | None:
    """The torque of a sensor; None where none is stated."""
    if sensor.torque is None:
        return None
    _ = vehicle.t.gettext
    return replace(
        _converted(vehicle.t, torque_range(sensor.torque)),
        stated=_("Stated as %(text)s.")
        % {"text": figures.stated(sensor.torque.value.text, vehicle.t)},
        thread=words.thread_state(sensor.torque.thread_state, vehicle.t),
        source=vehicle.source(sensor.torque),
    )


@lru_cache(maxsize=256)
def _converted(t: NullTranslations, stated: TorqueRange) -> TorqueView:
    """What depends on the torque alone; sensors of one torque share it."""
    _ = t.gettext
    unit = TorqueUnit.NEWTON_METRE
    shown = {each: figures.torque(stated, each, t) for each in TorqueUnit}
    us_unit = choice.us_unit(stated)
    metric_text, us_text = (figures.with_unit(shown[each], each.value) for each in (unit, us_unit))
    return TorqueView(
        number=choice.by_units(shown[unit], shown[unit], shown[us_unit]),
        unit=choice.by_units(unit.value, unit.value, us_unit.value),
        second=choice.by_units(us_text, us_text, metric_text),
        units=[(each.value, number) for each, number in shown.items()],
        adapter_head=[
            _("E, offset"),
            *(
                choice.narrow_length_text(
                    length, t, lambda length: _("L %(length)s") % {"length": length}
                )
                for length in WRENCH_LENGTHS_MM
            ),
        ],
        adapter_rows=[
            [
                choice.length_text(offset, t),
                *(_setting(stated, lever, offset, us_unit, t) for lever in WRENCH_LENGTHS_MM),
            ]
            for offset in ADAPTER_LENGTHS_MM
        ],
        adapter=adapter_drawing(t),
    )


def _setting(
    stated: TorqueRange, lever_mm: int, offset_mm: int, us_unit: TorqueUnit, t: NullTranslations
) -> str:
    """A wrench setting through an adapter, as a number in the reader's unit."""
    setting = adapter_range(stated, lever_mm, offset_mm)
    metric = figures.torque(setting, TorqueUnit.NEWTON_METRE, t)
    return choice.by_units(metric, metric, figures.torque(setting, us_unit, t))
