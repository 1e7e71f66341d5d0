"""Getting at a sensor and getting it out: what is in the way, in order, and the plug."""

from __future__ import annotations

from dataclasses import dataclass

from generator.guide import figures
from generator.guide.bay_map import BayMap, bay_map
from generator.guide.cautions import Caution, Said
from generator.guide.fouling_view import FoulingView, fouling_view
from generator.guide.job import plan_parts, sensor_name
from generator.guide.page import PhotoView, Row, Step
from generator.guide.photo_view import face_photos, obstacle_photos, plug_photos, sensor_photos
from generator.guide.shared_view import shared_by_pages
from generator.guide.tools_view import ToolView, tool_views
from generator.guide.vehicle import Vehicle, hazards_on_the_way, page_file
from generator.profile.model import Fastener, Obstacle
from generator.profile.sensor_model import Plug, Sensor
from generator.trade.access_plan import reachable_too
from generator.trade.hazard import Hazard
from generator.trade.tools import Task


@dataclass(frozen=True, slots=True)
class ObstacleView:
    """One thing in the way: what it is, how long it takes, how it comes off or goes back."""

    name: str
    minutes: str
    cautions: tuple[Caution, ...]
    held_by: list[str]
    steps: list[Step]
    photos: tuple[PhotoView, ...] = ()


@dataclass(frozen=True, slots=True)
class AccessView:
    """What the access page says."""

    minutes: str | None
    minutes_note: str
    where: str
    reach: str
    cautions: tuple[Caution, ...]
    tools: list[ToolView]
    before_all: list[Step]
    obstacles: list[ObstacleView]
    plug: list[Step]
    sensor_out: list[Step]
    reachable_too: list[Row]
    bay: BayMap
    tip: FoulingView
    notes: list[str]
    photos: tuple[PhotoView, ...]


def access(vehicle: Vehicle, sensor: Sensor) -> AccessView:
    """The access page of a sensor."""
    _ = vehicle.t.gettext
    said = Said(vehicle.t)
    first = said.first(hazards_on_the_way(vehicle, sensor))
    obstacles = vehicle.obstacles(sensor)
    minutes = [*(each.minutes for each in obstacles), sensor.minutes]
    timed = [each for each in minutes if each]
    return AccessView(
        minutes=figures.minutes(timed, vehicle.t),
        minutes_note=_("some parts are not timed: allow more") if len(timed) < len(minutes) else "",
        where=sensor.place.where,
        reach=reach_words(vehicle, sensor),
        cautions=first,
        tools=tool_views(vehicle, sensor, Task.ACCESS),
        before_all=_before_all(vehicle),
        obstacles=[_coming_off(vehicle, each, said.first(each.cautions)) for each in obstacles],
        plug=_plug_steps(vehicle, sensor, sensor.connector),
        sensor_out=_sensor_steps(
            vehicle, _thread_and_hex(vehicle, sensor), said.first([Hazard.PENETRATING_FLUID])
        ),
        reachable_too=_reachable_too(vehicle, sensor),
        bay=bay_map(vehicle, sensor),
        tip=fouling_view(vehicle.t),
        notes=[*sensor.notes, *vehicle.profile.notes],
        photos=sensor_photos(vehicle, sensor),
    )


def reach_words(vehicle: Vehicle, sensor: Sensor) -> str:
    """From where one gets to a sensor."""
    _ = vehicle.t.gettext
    return {
        "above": _("from above"),
        "below": _("from below"),
        "wheel-arch": _("through the wheel arch"),
    }[sensor.place.reach.value]


def first_capital(text: str) -> str:
    """A contributed name as it begins a heading."""
    return text[:1].upper() + text[1:]


def fastener_words(vehicle: Vehicle, fastener: Fastener) -> str:
    """A fastener as it is laid out: count, what, thread, across flats."""
    parts = [f"{fastener.count} × {fastener.what}"]
    if fastener.thread:
        parts.append(figures.stated(fastener.thread.text, vehicle.t))
    if fastener.hex:
        parts.append(
            vehicle.t.gettext("%(size)s hex")
            % {"size": figures.stated(fastener.hex.text, vehicle.t)}
        )
    return ", ".join(parts)


@shared_by_pages
def _before_all(vehicle: Vehicle) -> list[Step]:
    return [Step(vehicle.t.gettext("Ignition off."))]


@shared_by_pages
def _coming_off(
    vehicle: Vehicle, obstacle: Obstacle, cautions: tuple[Caution, ...]
) -> ObstacleView:
    _ = vehicle.t.gettext
    minutes = figures.minutes([obstacle.minutes], vehicle.t) if obstacle.minutes else None
    return ObstacleView(
        name=first_capital(obstacle.name),
        minutes=figures.with_unit(minutes, _("min")) if minutes else "",
        cautions=cautions,
        held_by=[fastener_words(vehicle, each) for each in obstacle.undo],
        steps=[
            Step(step, photos=obstacle_photos(vehicle, obstacle, f"steps.{number}"))
            for number, step in enumerate(
                obstacle.steps or [_("Undo what holds it and take it off.")], start=1
            )
        ],
        photos=obstacle_photos(vehicle, obstacle),
    )


def _reachable_too(vehicle: Vehicle, sensor: Sensor) -> list[Row]:
    """The other sensors behind what is off already, and what else each of them needs off."""
    _ = vehicle.t.gettext
    others = {sensor_name(each): each for each in vehicle.sensors}
    rows = []
    for found in reachable_too(sensor_name(sensor), others, plan_parts(vehicle)):
        if not found.shared:
            continue
        other = others[found.sensor]
        further = ", ".join(vehicle.profile.obstacles[name].name for name in found.further)
        rows.append(
            Row(
                vehicle.called(other),
                page_file(other, "access"),
                _("still to come off: %(parts)s") % {"parts": further}
                if further
                else _("nothing further in the way"),
                filled=not further,
            )
        )
    return rows


def _plug_steps(vehicle: Vehicle, sensor: Sensor, plug: Plug | None) -> list[Step]:
    """The two releases: the housing from the vehicle, then one half from the other."""
    _ = vehicle.t.gettext
    found = plug_photos(vehicle, sensor)
    off = Step(_("Ignition off."))
    free = _("Free the connector's housing from the vehicle")
    part = _(
        "Grip both halves by their housings, never by the wires. Press the latch between them and "
        "part them."
    )
    if plug is None:
        lost = _("Follow the sensor's wires to its connector: where it is, is not stated.")
        return [off, Step(lost, photos=found), Step(f"{free}."), Step(part)]
    if plug.latch:
        part = _("Grip both halves by their housings, never by the wires: %(latch)s.") % {
            "latch": plug.latch
        }
    find = _("Find the connector: %(where)s.") % {"where": plug.where}
    return [
        off,
        Step(find, photos=found),
        Step(
            f"{free}: {plug.holder}." if plug.holder else f"{free}.",
            photos=plug_photos(vehicle, sensor, "holder"),
        ),
        Step(
            part,
            photos=(*plug_photos(vehicle, sensor, "latch"), *face_photos(vehicle, sensor)),
        ),
    ]


def _thread_and_hex(vehicle: Vehicle, sensor: Sensor) -> tuple[str, ...]:
    _ = vehicle.t.gettext
    details = []
    if sensor.thread:
        details.append(
            _("Thread %(thread)s") % {"thread": figures.stated(sensor.thread.text, vehicle.t)}
        )
    if sensor.hex:
        details.append(_("Hex %(size)s") % {"size": figures.stated(sensor.hex.text, vehicle.t)})
    return tuple(details)


@shared_by_pages
def _sensor_steps(
    vehicle: Vehicle, thread_and_hex: tuple[str, ...], cautions: tuple[Caution, ...]
) -> list[Step]:
    _ = vehicle.t.gettext
    socket = _("Put the slotted socket over the sensor, its wires through the slot.")
    return [
        Step(
            _("Put penetrating fluid on the thread and give it time."),
            cautions=cautions,
        ),
        Step(socket, thread_and_hex),
        Step(
            _("Turn the sensor out."),
            (
                _(
                    "If it will not move: more fluid and more time. Not a longer bar: a torn bung "
                    "thread is worse than a day's wait."
                ),
            ),
        ),
        Step(_("Look at the tip before you wipe it: its colour tells why it failed.")),
    ]
