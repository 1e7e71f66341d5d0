"""Putting a sensor back: thread, torque in every unit, what was in the way, and the proof."""

from __future__ import annotations

from dataclasses import dataclass

from generator.guide import figures, words
from generator.guide.access_page import ObstacleView, fastener_words, first_capital
from generator.guide.cautions import Caution, Said
from generator.guide.page import Step
from generator.guide.vehicle import (
    Vehicle,
    hazards_on_the_way,
    job_torques_nm,
    torque_range,
)
from generator.profile.model import Fastener, Obstacle, Sensor
from generator.trade.hazard import Hazard
from generator.trade.torque import (
    TorqueUnit,
    adapter_range,
    wrenches_covering,
)

ADAPTER_LENGTHS_MM = (25, 50, 75)
WRENCH_LENGTHS_MM = (250, 350, 450)


@dataclass(frozen=True, slots=True)
class TorqueView:
    """A sensor's torque: as it is stated, in all units, and through an offset adapter."""

    number: str
    unit: str
    stated: str
    thread: str
    source: str
    units: list[tuple[str, str]]
    adapter_head: list[str]
    adapter_rows: list[list[str]]


@dataclass(frozen=True, slots=True)
class RefitView:
    """What the refit page says."""

    torque: TorqueView | None
    cautions: tuple[Caution, ...]
    wrenches: list[str]
    sensor_in: list[Step]
    obstacles: list[ObstacleView]
    proof: list[Step]
    readiness: list[Step]


def refit(vehicle: Vehicle, sensor: Sensor) -> RefitView:
    """The refit page of a sensor."""
    _ = vehicle.t.gettext
    said = Said(vehicle.t)
    first = said.first([*hazards_on_the_way(vehicle, sensor), Hazard.SILICONE])
    wrenches = wrenches_covering(job_torques_nm(vehicle, sensor))
    return RefitView(
        torque=_torque(vehicle, sensor),
        cautions=first,
        wrenches=[
            _("torque wrench to %(scale)s, for %(low)s to %(high)s")
            % {
                "scale": figures.with_unit(figures.short(wrench.scale_nm), "N·m"),
                "low": figures.short(wrench.low_nm),
                "high": figures.with_unit(figures.short(wrench.high_nm), "N·m"),
            }
            for wrench in wrenches
        ],
        sensor_in=_sensor_steps(vehicle, sensor),
        obstacles=[_going_back(vehicle, each, said) for each in vehicle.obstacles(sensor)[::-1]],
        proof=_proof_steps(vehicle, sensor, said),
        readiness=_readiness_steps(vehicle),
    )


def _torque(vehicle: Vehicle, sensor: Sensor) -> TorqueView | None:
    if sensor.torque is None:
        return None
    _ = vehicle.t.gettext
    stated = torque_range(sensor.torque)
    unit = TorqueUnit.NEWTON_METRE
    return TorqueView(
        number=figures.torque(stated, unit),
        unit=unit.value,
        stated=_("Stated as %(text)s.") % {"text": sensor.torque.value.text},
        thread=words.thread_state(sensor.torque.thread_state, vehicle.t),
        source=vehicle.source(sensor.torque),
        units=[(each.value, figures.torque(stated, each)) for each in TorqueUnit],
        adapter_head=[
            _("Adapter offset"),
            *(
                _("lever %(length)s") % {"length": figures.with_unit(str(length), "mm")}
                for length in WRENCH_LENGTHS_MM
            ),
        ],
        adapter_rows=[
            [
                figures.with_unit(str(offset), "mm"),
                *(
                    figures.torque(adapter_range(stated, lever, offset), unit)
                    for lever in WRENCH_LENGTHS_MM
                ),
            ]
            for offset in ADAPTER_LENGTHS_MM
        ],
    )


def _sensor_steps(vehicle: Vehicle, sensor: Sensor) -> list[Step]:
    _ = vehicle.t.gettext
    tight = (
        _("Tighten to %(torque)s with the slotted socket.")
        % {"torque": figures.newton_metres(torque_range(sensor.torque))}
        if sensor.torque
        else _(
            "Tighten to the torque in the vehicle's workshop literature: this guide has none, "
            "and no rule of thumb stands in for it."
        )
    )
    return [
        Step(_("New sensor: its thread comes with compound on it. Add none.")),
        Step(
            _(
                "The old sensor again: a thin smear of sensor-safe anti-seize on the thread only, "
                "never on the tip or its slots."
            )
        ),
        Step(_("Start it by hand, straight, for several turns. Crossed threads strip the bung.")),
        Step(
            tight,
            (words.thread_state(sensor.torque.thread_state, vehicle.t),) if sensor.torque else (),
        ),
        Step(_("Let the wires hang untwisted and clear of the exhaust.")),
        Step(
            _(
                "Leave the connector's terminals clean and dry: the sensor breathes along its "
                "wires. Push the halves together until the latch clicks."
            )
        ),
        Step(_("Put the connector's housing back on its holder.")),
    ]


def _going_back(vehicle: Vehicle, obstacle: Obstacle, said: Said) -> ObstacleView:
    _ = vehicle.t.gettext
    return ObstacleView(
        name=first_capital(obstacle.name),
        minutes="",
        cautions=said.first(obstacle.cautions),
        held_by=[_tightened(vehicle, each) for each in obstacle.undo],
        steps=[
            Step(step) for step in obstacle.refit_steps or [_("Set it in place and fasten it.")]
        ],
    )


def _tightened(vehicle: Vehicle, fastener: Fastener) -> str:
    """A fastener with its torque, or the plain word that none is stated."""
    _ = vehicle.t.gettext
    laid_out = fastener_words(vehicle, fastener)
    if fastener.torque:
        torque = figures.newton_metres(torque_range(fastener.torque))
        return f"{laid_out}: {torque} {vehicle.mark(fastener.torque)}"
    if fastener.thread or fastener.hex:
        return _("%(fastener)s: torque not stated, see the workshop literature") % {
            "fastener": laid_out
        }
    return laid_out


def _proof_steps(vehicle: Vehicle, sensor: Sensor, said: Said) -> list[Step]:
    _ = vehicle.t.gettext
    return [
        Step(_("Note the stored codes and the freeze frame before you clear anything.")),
        Step(
            _("Clear the codes, start the engine and let it warm up."),
            cautions=said.first([Hazard.EXHAUST_GAS, Hazard.MOVING_PARTS]),
        ),
        Step(
            _(
                "Listen and feel for an exhaust leak at the bung. A leak ahead of the sensor reads "
                "as lean."
            )
        ),
        Step(_("Look at the live data again: the test page says what to expect.")),
        Step(_("Write down date, distance, air temperature, meter zero, reading and torque used.")),
    ]


def _readiness_steps(vehicle: Vehicle) -> list[Step]:
    _ = vehicle.t.gettext
    return [
        Step(_("Cold start, after a night outdoors.")),
        Step(_("Idle for a few minutes.")),
        Step(_("Steady cruise on the road.")),
        Step(_("Overrun: off the throttle in gear, and let it coast down.")),
        Step(_("Read the monitors: an inspection fails until they have run.")),
    ]
