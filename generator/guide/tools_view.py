"""The tools of a job in words for people: what to lay out, and for which step."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from gettext import NullTranslations

from generator.guide import choice, figures
from generator.guide.diagnosis_words import before_standard_codes
from generator.guide.job import obstacle_works, sensor_name, sensor_works
from generator.guide.shared_view import shared_by_pages
from generator.guide.vehicle import Vehicle
from generator.profile.sensor_model import Sensor
from generator.trade.tools import (
    FINER_METER,
    Drive,
    Task,
    Tool,
    ToolKind,
    drive_of_wrench,
    tools,
)
from generator.trade.torque import TorqueRange, WrenchRange, scale_in

# A 22 mm and a 7/8 in (22.2 mm) socket fit the same sensors: common practice, no source.
SENSOR_SOCKETS = {22.0: "22 mm (7/8 in)", 22.225: "7/8 in (22 mm)"}


@dataclass(frozen=True, slots=True)
class ToolView:
    """One tool: what it is, and why it is on the list."""

    name: str
    why: str


def tool_views(vehicle: Vehicle, sensor: Sensor, task: Task) -> list[ToolView]:
    """What to lay out for one stage of the job on one sensor."""
    return _tools_by_task(vehicle)[sensor.bank, sensor.position].get(task, [])


@lru_cache(maxsize=1)
def _tools_by_task(vehicle: Vehicle) -> dict[tuple[int, int], dict[Task, list[ToolView]]]:
    """The tools of each sensor's job; its three stages are told one after another."""
    return {(each.bank, each.position): _job_tools(vehicle, each) for each in vehicle.sensors}


def _job_tools(vehicle: Vehicle, sensor: Sensor) -> dict[Task, list[ToolView]]:
    named = {name: obstacle.name for name, obstacle in vehicle.profile.obstacles.items()}
    named[sensor_name(sensor)] = vehicle.t.gettext("the sensor")
    found: dict[Task, list[ToolView]] = {}
    obstacles = obstacle_works(vehicle, vehicle.obstacles(sensor))
    for tool in tools(obstacles, sensor_works(vehicle, [sensor])):
        view = ToolView(tool_name(vehicle, tool), _why(vehicle, tool, named))
        found.setdefault(tool.kind.task, []).append(view)
    return found


def tool_name(vehicle: Vehicle, tool: Tool) -> str:
    """What a tool is called, with its size."""
    return _tool_name(vehicle, tool.kind, tool.size, tool.drives, tool.undoes)


@shared_by_pages
def _tool_name(
    vehicle: Vehicle, kind: ToolKind, size: float | None, drives: tuple[Drive, ...], undoes: str
) -> str:
    _ = vehicle.t.gettext
    if kind is ToolKind.TORQUE_WRENCH:
        return _wrench(vehicle, WrenchRange(size or 0))
    if kind is ToolKind.SCAN_TOOL and before_standard_codes(vehicle):
        return _("scan tool, or a voltmeter of at least 10 MΩ")
    drive = _(" or ").join(map(figures.unbroken, drives))
    return _names(vehicle.t)[kind] % {
        "size": _size(vehicle, kind, size),
        "drive": drive,
        "what": undoes,
    }


@lru_cache
def _names(t: NullTranslations) -> Mapping[ToolKind, str]:
    _ = t.gettext
    return {
        ToolKind.SOCKET: _("socket %(size)s, %(drive)s drive"),
        ToolKind.EXTENSION: _("long extension, %(drive)s drive"),
        ToolKind.UNKNOWN_SIZE: _("hand tool for: %(what)s (no hex stated, look before you start)"),
        ToolKind.CLIP_LIFTER: _("clip lifter"),
        ToolKind.SPARE_CLIPS: _("spare clips: %(size)s"),
        ToolKind.SENSOR_SOCKET: _("slotted sensor socket %(size)s, %(drive)s drive"),
        ToolKind.PENETRATING_FLUID: _("penetrating fluid"),
        ToolKind.STANDS: _("jack, stands and wheel chocks"),
        ToolKind.GLOVES: _("gloves"),
        ToolKind.EYE_PROTECTION: _("eye protection"),
        ToolKind.SCAN_TOOL: _("scan tool that shows live data"),
        ToolKind.METER: _("ohmmeter that shows %(size)s or finer, with clip leads"),
        ToolKind.THERMOMETER: _("thermometer"),
        ToolKind.TEST_LAMP: _("test lamp"),
        ToolKind.NO_COMMON_WRENCH: _("%(size)s: no common torque wrench is trusted there"),
        ToolKind.ANTI_SEIZE: _("sensor-safe anti-seize, for an old sensor only"),
    }


def _size(vehicle: Vehicle, kind: ToolKind, size: float | None) -> str:
    _ = vehicle.t.gettext
    if kind is ToolKind.SENSOR_SOCKET:
        if size is None:
            return _("of a size not stated (measure the hex)")
        return figures.unbroken(SENSOR_SOCKETS.get(round(size, 3)) or hex_text(vehicle, size))
    if size is None:
        return ""
    if kind is ToolKind.SOCKET:
        return figures.unbroken(hex_text(vehicle, size))
    unit = {ToolKind.METER: "Ω", ToolKind.NO_COMMON_WRENCH: "N·m"}.get(kind)
    shown = figures.short(size, vehicle.t)
    return figures.with_unit(shown, unit) if unit else shown


def hex_text(vehicle: Vehicle, hex_mm: float) -> str:
    """A hex as the profile writes it: ``13 mm``, ``7/8 in``."""
    stated = [sensor.hex for sensor in vehicle.profile.sensors]
    stated += [each.hex for part in vehicle.profile.obstacles.values() for each in part.undo]
    return next(
        figures.stated(each.text, vehicle.t) for each in stated if each and each.low_mm == hex_mm
    )


def _wrench(vehicle: Vehicle, wrench: WrenchRange) -> str:
    """A torque wrench by the part of its scale that is trusted, up to the end of it."""
    return _wrench_text(vehicle.t, wrench)


@lru_cache
def _wrench_text(t: NullTranslations, wrench: WrenchRange) -> str:
    trusted = TorqueRange(wrench.low_nm, wrench.high_nm)
    us_unit = choice.us_unit(trusted)
    low, high = scale_in(wrench, us_unit)
    metric = figures.newton_metres(trusted, t)
    us = figures.with_unit(figures.span(str(low), str(high), t), us_unit.value)
    told = t.gettext("torque wrench, %(drive)s drive, for %(trusted)s")
    drive = figures.unbroken(drive_of_wrench(wrench.scale_nm))
    return choice.by_units(
        *(told % {"drive": drive, "trusted": each} for each in (f"{metric} ({us})", metric, us))
    )


def _why(vehicle: Vehicle, tool: Tool, named: Mapping[str, str]) -> str:
    reason = _reasons(vehicle.t).get(tool.kind, "%(parts)s")
    if tool.kind is ToolKind.SCAN_TOOL and before_standard_codes(vehicle):
        reason = vehicle.t.gettext("live data where the vehicle has them; the signal where not")
    if tool.kind is ToolKind.METER and tool.size == FINER_METER.resolution_ohm:
        reason = vehicle.t.gettext(
            "the range is narrower than the error of a meter that shows 0.1 Ω"
        )
    return reason % {"parts": ", ".join(named[name] for name in tool.needed_by)}


@lru_cache
def _reasons(t: NullTranslations) -> Mapping[ToolKind, str]:
    """Why a tool is laid out; a kind that is not here is for the parts that ask for it."""
    _ = t.gettext
    return {
        ToolKind.EXTENSION: _("for what lies deep: %(parts)s"),
        ToolKind.SPARE_CLIPS: _("clips of age break: %(parts)s"),
        ToolKind.SENSOR_SOCKET: _("passes the wires through its slot"),
        ToolKind.PENETRATING_FLUID: _("on the cold thread, before you turn the sensor"),
        ToolKind.STANDS: _("never under a vehicle on a jack alone"),
        ToolKind.GLOVES: _("heat and edges"),
        ToolKind.EYE_PROTECTION: _("with fluids, and under the vehicle"),
        ToolKind.SCAN_TOOL: _("live data and stored codes"),
        ToolKind.METER: _("the heater's cold resistance; the leads' own reading is taken off"),
        ToolKind.THERMOMETER: _("the range depends on the temperature of the air"),
        ToolKind.TEST_LAMP: _("supply under load: a corroded wire passes a voltmeter"),
        ToolKind.NO_COMMON_WRENCH: _("see the workshop literature: %(parts)s"),
        ToolKind.ANTI_SEIZE: _("its thread is used again; a new sensor has compound on it"),
    }
