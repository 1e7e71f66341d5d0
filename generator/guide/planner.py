"""The job planner of a vehicle: everything off in one order, and what each part brings with it.

The page holds the plan for all sensors, which serves without a script. The script takes the parts
of it that a set of sensors needs; the tests hold both to the same answers for every set.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from gettext import NullTranslations

from generator.guide import figures
from generator.guide.access_page import first_capital, reach_words
from generator.guide.cautions import sentences
from generator.guide.frame import refit_truth, stage_names
from generator.guide.job import (
    in_planning_order,
    obstacle_works,
    plan_parts,
    sensor_name,
    sensor_works,
)
from generator.guide.tools_view import tool_name
from generator.guide.vehicle import STAGES, Vehicle, hazards_on_the_way, page_file
from generator.profile.sensor_model import Sensor
from generator.trade.access_plan import AccessPlan, Minutes, access_plan
from generator.trade.hazard import SIGNAL_WORDS, Hazard, SignalWord
from generator.trade.tools import (
    COMMON_METER,
    FINER_METER,
    Task,
    Tool,
    ToolKind,
    meter_for,
    tools,
)
from generator.trade.torque import COMMON_WRENCHES


@dataclass(frozen=True, slots=True)
class PlannedPart:
    """A part in the plan: numbers refer to places in the order off, `under` to what lies on it.

    `low` and `high` are its minutes, empty where it is not timed; `fasteners` holds a count for
    each kind in the plan's list of kinds; `torques` are in N·m. A sensor has links, notes, and a
    line on its torque, `refit`.
    """

    name: str
    minutes: str
    under: str
    low: str
    high: str
    fasteners: str
    torques: str
    links: list[tuple[str, str]]
    notes: list[str]
    refit: str


@dataclass(frozen=True, slots=True)
class PlannedSensor:
    """A sensor to tick: its place in the order off, its short name, and what it is called."""

    part: int
    key: str
    title: str
    detail: str


@dataclass(frozen=True, slots=True)
class Needed:
    """A line that stands in a plan when one of these parts does; `shown` in that for all.

    Of the lines of one `group` only the first that is needed is shown.
    """

    text: str
    parts: str
    group: str = ""


@dataclass(frozen=True, slots=True)
class Wrench:
    """A torque wrench that a plan may need: the ends of its trusted scale in N·m."""

    text: str
    low_nm: str
    high_nm: str
    shown: bool


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of fastener, how many there are in the plan for all, whether one has spares."""

    what: str
    count: int
    is_clip: bool


@dataclass(frozen=True, slots=True)
class PlannerView:
    """The plan for all sensors of a vehicle."""

    sensors: list[PlannedSensor]
    parts: list[PlannedPart]
    goes_up: bool
    minutes: str
    untimed: int
    kinds: list[Kind]
    spare_clips: int
    cautions: list[tuple[str, list[Needed]]]
    to_reach: list[Needed]
    to_test: list[Needed]
    to_refit: list[Needed]
    wrenches: list[Wrench]


def planner(vehicle: Vehicle) -> PlannerView:
    """The job planner of a vehicle."""
    sensors = in_planning_order(vehicle)
    plan = access_plan([sensor_name(each) for each in sensors], plan_parts(vehicle))
    at = {name: place for place, name in enumerate(plan.off)}
    found = _tools(vehicle, plan)
    by_task = {task: _needed_tools(vehicle, found, task, at) for task in Task}
    return PlannerView(
        sensors=[
            PlannedSensor(
                at[sensor_name(each)],
                f"{each.bank}-{each.position}",
                vehicle.called(each),
                reach_words(vehicle, each),
            )
            for each in sensors
        ],
        parts=_planned_parts(vehicle, plan, at),
        goes_up=any(each.from_below for each in sensor_works(vehicle, sensors)),
        minutes=minutes_text(plan.minutes, vehicle.t),
        untimed=len(plan.untimed),
        kinds=[Kind(each.what, each.count, each.break_easily) for each in plan.fasteners],
        spare_clips=plan.spare_clips,
        cautions=_cautions(vehicle, at),
        to_reach=by_task[Task.ACCESS],
        to_test=_needed_meters(vehicle, sensors, at) + by_task[Task.TEST],
        to_refit=by_task[Task.REFIT],
        wrenches=_wrenches(vehicle, found),
    )


def minutes_text(minutes: Minutes | None, t: NullTranslations) -> str:
    """Minutes as they are printed: ``35–60``; a dash where nothing is timed."""
    if minutes is None:
        return "–"
    return figures.span(
        figures.short(round(minutes.low_min), t),
        figures.short(round(minutes.high_min), t),
        t,
    )


def _planned_parts(vehicle: Vehicle, plan: AccessPlan, at: Mapping[str, int]) -> list[PlannedPart]:
    parts = plan_parts(vehicle)
    by_name = {sensor_name(each): each for each in vehicle.sensors}
    torques = _torques(vehicle, plan)
    planned = []
    for name in plan.off:
        part, sensor = parts[name], by_name.get(name)
        minutes = part.minutes
        planned.append(
            PlannedPart(
                vehicle.called(sensor)
                if sensor
                else first_capital(vehicle.profile.obstacles[name].name),
                figures.with_unit(minutes_text(minutes, vehicle.t), vehicle.t.gettext("min"))
                if minutes
                else vehicle.t.gettext("not timed"),
                _spaced(at[other] for other in part.under),
                f"{minutes.low_min:g}" if minutes else "",
                f"{minutes.high_min:g}" if minutes else "",
                _spaced(
                    sum(each.count for each in part.fasteners if each.what == kind.what)
                    for kind in plan.fasteners
                ),
                _spaced(torques[name]),
                _links(vehicle, sensor) if sensor else [],
                sensor.notes if sensor else [],
                refit_truth(vehicle, sensor) if sensor else "",
            )
        )
    return planned


def _links(vehicle: Vehicle, sensor: Sensor) -> list[tuple[str, str]]:
    names = stage_names(vehicle)
    return [(names[stage], page_file(sensor, stage)) for stage in STAGES]


def _torques(vehicle: Vehicle, plan: AccessPlan) -> dict[str, tuple[float, ...]]:
    sensors = {each.name: each.torques_nm for each in sensor_works(vehicle, vehicle.sensors)}
    obstacles = [vehicle.profile.obstacles[name] for name in plan.off if name not in sensors]
    return sensors | {
        each.name: tuple(end for held in each.held for end in held.torques_nm)
        for each in obstacle_works(vehicle, obstacles)
    }


def _tools(vehicle: Vehicle, plan: AccessPlan) -> tuple[Tool, ...]:
    obstacles = vehicle.profile.obstacles
    return tools(
        obstacle_works(vehicle, [obstacles[name] for name in plan.off if name in obstacles]),
        sensor_works(vehicle, in_planning_order(vehicle)),
    )


# A script cannot pick these by the parts alone: wrenches are chosen together, clips are counted,
# and the finest meter stands for all.
_CHOSEN_TOGETHER = {ToolKind.TORQUE_WRENCH, ToolKind.SPARE_CLIPS, ToolKind.METER}


def _needed_tools(
    vehicle: Vehicle, found: Iterable[Tool], task: Task, at: Mapping[str, int]
) -> list[Needed]:
    return [
        Needed(tool_name(vehicle, tool), _spaced(at[name] for name in tool.needed_by))
        for tool in found
        if tool.kind.task is task and tool.kind not in _CHOSEN_TOGETHER
    ]


def _needed_meters(
    vehicle: Vehicle, sensors: Iterable[Sensor], at: Mapping[str, int]
) -> list[Needed]:
    works = [(at[each.name], each.heater) for each in sensor_works(vehicle, sensors)]
    found = []
    for meter in (FINER_METER, COMMON_METER):
        parts = [part for part, heater in works if heater and meter_for(heater) == meter]
        if parts:
            named = tool_name(vehicle, Tool(ToolKind.METER, (), meter.resolution_ohm))
            found.append(Needed(named, _spaced(parts), "meter"))
    return found


def _wrenches(vehicle: Vehicle, found: Iterable[Tool]) -> list[Wrench]:
    shown = {tool.size for tool in found if tool.kind is ToolKind.TORQUE_WRENCH}
    return [
        Wrench(
            tool_name(vehicle, Tool(ToolKind.TORQUE_WRENCH, (), each.scale_nm)),
            repr(each.low_nm),
            repr(each.high_nm),
            each.scale_nm in shown,
        )
        for each in COMMON_WRENCHES
    ]


OF_A_PART = {Hazard.LOAD_CARRYING, Hazard.SHARP_EDGE}
"""Hazards of one part that comes off, where others hold for the whole way in."""


def _cautions(vehicle: Vehicle, at: Mapping[str, int]) -> list[tuple[str, list[Needed]]]:
    """What can hurt in the plan; what holds for the whole vehicle is said again, nearer to it."""
    said = sentences(vehicle.t)
    concerned: dict[tuple[Hazard, str], list[int]] = {}
    for sensor in vehicle.sensors:
        for hazard in hazards_on_the_way(vehicle, sensor):
            concerned.setdefault((hazard, ""), []).append(at[sensor_name(sensor)])
    for name, obstacle in vehicle.profile.obstacles.items():
        for hazard in obstacle.cautions if name in at else ():
            # Above the list of parts, "this part" needs its name
            part = f"{first_capital(obstacle.name)}: " if hazard in OF_A_PART else ""
            concerned.setdefault((hazard, part), []).append(at[name])
    by_word: dict[SignalWord, list[Needed]] = {word: [] for word in SignalWord}
    for hazard, part in sorted(concerned, key=lambda each: list(Hazard).index(each[0])):
        needed = Needed(f"{part}{said[hazard]}", _spaced(concerned[hazard, part]))
        by_word[SIGNAL_WORDS[hazard]].append(needed)
    return [(word.value, needed) for word, needed in by_word.items() if needed]


def _spaced(numbers: Iterable[float]) -> str:
    return " ".join(repr(each) for each in numbers)
