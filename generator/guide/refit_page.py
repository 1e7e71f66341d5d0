"""Putting a sensor back: thread, torque in every unit, what was in the way, and the proof."""

from __future__ import annotations

from dataclasses import dataclass

from generator.guide import choice, words
from generator.guide.access_page import ObstacleView, fastener_words, first_capital
from generator.guide.bench_page import bench_row
from generator.guide.cautions import Caution, Said
from generator.guide.diagnosis_words import before_standard_codes, kept_running
from generator.guide.job import sensor_works
from generator.guide.live_data_view import expected_rows
from generator.guide.page import PhotoView, Row, Step
from generator.guide.photo_view import obstacle_photos, plug_photos, sensor_photos
from generator.guide.shared_view import shared_by_pages
from generator.guide.tools_view import ToolView, tool_views
from generator.guide.torque_view import TorqueView, torque_view
from generator.guide.vehicle import (
    Vehicle,
    hazards_on_the_way,
    job_torques_nm,
    page_file,
    torque_range,
)
from generator.profile.model import Fastener, Obstacle
from generator.profile.sensor_model import Sensor, ThreadState
from generator.trade.hazard import Hazard
from generator.trade.tools import Task


@dataclass(frozen=True, slots=True)
class RefitView:
    """What the refit page says."""

    torque: TorqueView | None
    cautions: tuple[Caution, ...]
    tools: list[ToolView]
    wrench_note: str
    tip_href: str
    sensor_in: list[Step]
    obstacles: list[ObstacleView]
    proof: list[Step]
    expected: list[tuple[str, str, str]]
    live_href: str
    readiness: list[Step]
    readiness_basis: str
    readiness_source: str | None
    bench: Row
    photos: tuple[PhotoView, ...]


def refit(vehicle: Vehicle, sensor: Sensor) -> RefitView:
    """The refit page of a sensor."""
    said = Said(vehicle.t)
    first = said.first([*hazards_on_the_way(vehicle, sensor), Hazard.SILICONE])
    return RefitView(
        torque=torque_view(vehicle, sensor),
        cautions=first,
        tools=[_again(vehicle), *tool_views(vehicle, sensor, Task.REFIT)],
        wrench_note=_wrench_note(vehicle, sensor),
        tip_href=f"{page_file(sensor, 'access')}#tip",
        sensor_in=_sensor_steps(vehicle, sensor),
        obstacles=[
            # What had to be soaked to come off goes on dry
            _going_back(vehicle, each, said.first({*each.cautions} - {Hazard.PENETRATING_FLUID}))
            for each in vehicle.obstacles(sensor)[::-1]
        ],
        proof=_proof_steps(
            vehicle,
            _before_the_engine(vehicle, sensor),
            said.first([Hazard.EXHAUST_GAS, Hazard.MOVING_PARTS]),
        ),
        expected=expected_rows(vehicle.t, sensor.kind, sensor.position),
        live_href=f"{page_file(sensor, 'test')}#live-data",
        readiness=_readiness_steps(vehicle),
        readiness_basis=" ".join(
            filter(None, [before_standard_codes(vehicle), _readiness_basis(vehicle)])
        ),
        readiness_source=_readiness_source(vehicle),
        bench=bench_row(vehicle, sensor),
        photos=sensor_photos(vehicle, sensor),
    )


def _again(vehicle: Vehicle) -> ToolView:
    _ = vehicle.t.gettext
    return ToolView(_("the tools of the access page"), _("what came off goes back on"))


def _wrench_note(vehicle: Vehicle, sensor: Sensor) -> str:
    """What the ranges of the wrenches are; nothing where no torque is stated."""
    if not job_torques_nm(vehicle, sensor):
        return ""
    return vehicle.t.gettext(
        "A torque wrench is trusted from 20 % to 100 % of its scale; each range ends at the full "
        "scale of a common one."
    )


def _sensor_steps(vehicle: Vehicle, sensor: Sensor) -> list[Step]:
    _ = vehicle.t.gettext
    tight = (
        choice.torque_text(
            torque_range(sensor.torque),
            vehicle.t,
            lambda torque: _("Tighten to %(torque)s with the slotted socket.") % {"torque": torque},
        )
        if sensor.torque
        else _(
            "Tighten to the torque in the vehicle's workshop literature: this guide has none, "
            "and no rule of thumb stands in for it."
        )
    )
    state = sensor.torque.thread_state if sensor.torque else None
    return _steps_in(
        vehicle,
        Step(tight, _meant_for(vehicle, state) if sensor.torque else ()),
        state is ThreadState.DRY,
        plug_photos(vehicle, sensor, "latch"),
        (*plug_photos(vehicle, sensor), *plug_photos(vehicle, sensor, "holder")),
    )


def _meant_for(vehicle: Vehicle, state: ThreadState | None) -> tuple[str, ...]:
    """The thread that a torque is meant for, and that it is not meant for a greased one."""
    told = words.thread_state(state, vehicle.t)
    if state is not ThreadState.AS_DELIVERED:
        return (told,)
    return told, vehicle.t.gettext(
        "The old sensor, with anti-seize: no torque is stated for its thread. Take it from the "
        "vehicle's workshop literature."
    )


@shared_by_pages
def _steps_in(
    vehicle: Vehicle,
    tighten: Step,
    dry: bool,
    of_latch: tuple[PhotoView, ...],
    of_holder: tuple[PhotoView, ...],
) -> list[Step]:
    _ = vehicle.t.gettext
    return [
        Step(
            _(
                "Was the old sensor fouled? Cure what fouled it first, before the new one goes in: "
                "it fouls again otherwise."
            )
        ),
        Step(_("New sensor: its thread comes with compound on it. Add none.")),
        Step(
            _(
                "The old sensor again: its thread clean and dry, as the stated torque wants it. No "
                "anti-seize."
            )
            if dry
            else _(
                "The old sensor again: a thin smear of sensor-safe anti-seize on the thread only, "
                "never on the tip or its slots."
            )
        ),
        Step(_("Start it by hand, straight, for several turns. Crossed threads strip the bung.")),
        tighten,
        Step(_("Let the wires hang untwisted and clear of the exhaust.")),
        Step(
            _(
                "Leave the connector's terminals clean and dry, without grease or spray: the "
                "sensor breathes along its wires."
            )
        ),
        Step(
            _("Push the connector's halves together until the latch clicks."),
            photos=of_latch,
        ),
        Step(
            _("Put the connector's housing back on its holder."),
            photos=of_holder,
        ),
    ]


@shared_by_pages
def _going_back(
    vehicle: Vehicle, obstacle: Obstacle, cautions: tuple[Caution, ...]
) -> ObstacleView:
    _ = vehicle.t.gettext
    return ObstacleView(
        name=first_capital(obstacle.name),
        minutes="",
        cautions=cautions,
        held_by=[_tightened(vehicle, each) for each in obstacle.undo],
        steps=[
            Step(step, photos=obstacle_photos(vehicle, obstacle, f"refit_steps.{number}"))
            for number, step in enumerate(
                obstacle.refit_steps or [_("Set it in place and fasten it.")], start=1
            )
        ],
        photos=obstacle_photos(vehicle, obstacle),
    )


def _tightened(vehicle: Vehicle, fastener: Fastener) -> str:
    """A fastener with its torque, or the plain word that none is stated."""
    _ = vehicle.t.gettext
    laid_out = fastener_words(vehicle, fastener)
    if fastener.torque:
        mark = vehicle.mark(fastener.torque)
        return choice.torque_text(
            torque_range(fastener.torque), vehicle.t, lambda torque: f"{laid_out}: {torque} {mark}"
        )
    if fastener.is_turned:
        return _("%(fastener)s: torque not stated, see the workshop literature") % {
            "fastener": laid_out
        }
    return laid_out


@shared_by_pages
def _proof_steps(
    vehicle: Vehicle, before_the_engine: tuple[str, ...], cautions: tuple[Caution, ...]
) -> list[Step]:
    _ = vehicle.t.gettext
    return [
        Step(_("Note the stored codes and the freeze frame before you clear anything.")),
        *map(Step, before_the_engine),
        Step(_("Clear the codes.")),
        Step(
            _("Start the engine and let it warm up."),
            tuple(filter(None, [kept_running(vehicle)])),
            cautions=cautions,
        ),
        Step(
            _(
                "Listen for an exhaust leak at the bung, hands off what is hot. A leak ahead of "
                "the sensor reads as lean."
            )
        ),
        Step(_("Look at the live data again: does it show what a healthy sensor shows?")),
        Step(_("Write down date, distance, air temperature, meter zero, reading and torque used.")),
    ]


def _before_the_engine(vehicle: Vehicle, sensor: Sensor) -> tuple[str, ...]:
    _ = vehicle.t.gettext
    told = [_("Look whether a tool, a rag or a cap is left behind.")]
    (work,) = sensor_works(vehicle, [sensor])
    if work.from_below or any(
        Hazard.UNDER_VEHICLE in each.cautions for each in vehicle.obstacles(sensor)
    ):
        told.append(_("Take the vehicle down from its stands."))
    return tuple(told)


@shared_by_pages
def _readiness_steps(vehicle: Vehicle) -> list[Step]:
    """The vehicle's own cycle where it is stated, else the common pattern; then the monitors."""
    _ = vehicle.t.gettext
    own = vehicle.profile.drive_cycle
    pattern = [
        _("Cold start, after a night outdoors."),
        _("Idle for a few minutes."),
        _("Steady cruise on the road."),
        _("Overrun: off the throttle in gear, and let it coast down."),
    ]
    monitors = _("Read the monitors: an inspection fails until they have run.")
    return [Step(step) for step in (*(own.steps if own else pattern), monitors)]


def _readiness_basis(vehicle: Vehicle) -> str:
    _ = vehicle.t.gettext
    if vehicle.profile.drive_cycle:
        return _(
            "Clearing the codes also clears the monitors. This is the vehicle's own cycle; its "
            "literature and the rules of the road outrank it."
        )
    return _(
        "Clearing the codes also clears the monitors. This pattern often brings them back (common "
        "practice, no source); the vehicle's own cycle and the rules of the road outrank it."
    )


def _readiness_source(vehicle: Vehicle) -> str | None:
    """Where the vehicle's own cycle comes from; None where there is only the pattern."""
    own = vehicle.profile.drive_cycle
    if own is None:
        return None
    stated = vehicle.profile.sources.get(own.source or "")
    return words.source(stated, vehicle.t) if stated else ""
