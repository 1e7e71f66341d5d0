"""The tools and materials a job asks for, computed from its fasteners, sensors and tests.

Every rule here is common practice, no source, unless it names one.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from generator.trade.access_plan import Fasteners
from generator.trade.heater import RULE_OF_THUMB, ResistanceRange
from generator.trade.torque import not_covered, wrenches_covering
from generator.trade.verdict import Meter, expanded_uncertainty_ohm

# Up to this hex a small drive suffices, up to the next a middle one: common practice, no source.
QUARTER_INCH_TO_MM = 10.0
THREE_EIGHTHS_TO_MM = 19.0

# Above this torque the large drive, whatever the hex: common practice, no source.
HALF_INCH_ABOVE_NM = 80.0

# Drives of torque wrenches by full scale: common practice, no source.
QUARTER_INCH_TO_SCALE_NM = 25.0
THREE_EIGHTHS_TO_SCALE_NM = 100.0

# A handheld meter, its limit as published for 6.0 ohm (percent of reading plus counts). The finer
# one keeps percent and counts and shows one more decimal: common practice, no source.
COMMON_METER = Meter(percent_of_reading=0.9, counts=3, resolution_ohm=0.1)
FINER_METER = Meter(percent_of_reading=0.9, counts=3, resolution_ohm=0.01)

# Clip leads held together, "a few tenths of an ohm": common practice, no source.
CLIP_LEADS_OHM = 0.3


class Task(StrEnum):
    """The stage of the job that a tool is for."""

    ACCESS = "access"
    TEST = "test"
    REFIT = "refit"


class ToolKind(StrEnum):
    """What to lay out, in the order in which it is listed."""

    SOCKET = "socket"
    EXTENSION = "extension"
    UNKNOWN_SIZE = "unknown-size"  # for fasteners of one name, their size not stated
    CLIP_LIFTER = "clip-lifter"
    SPARE_CLIPS = "spare-clips"
    SENSOR_SOCKET = "sensor-socket"
    PENETRATING_FLUID = "penetrating-fluid"
    STANDS = "stands"
    GLOVES = "gloves"
    EYE_PROTECTION = "eye-protection"
    SCAN_TOOL = "scan-tool"
    METER = "meter"
    THERMOMETER = "thermometer"
    TEST_LAMP = "test-lamp"
    TORQUE_WRENCH = "torque-wrench"
    NO_COMMON_WRENCH = "no-common-wrench"  # a torque that no common wrench covers
    ANTI_SEIZE = "anti-seize"

    @property
    def task(self) -> Task:
        """The stage it is for."""
        return _TASKS.get(self, Task.ACCESS)


_TASKS = {
    ToolKind.SCAN_TOOL: Task.TEST,
    ToolKind.METER: Task.TEST,
    ToolKind.THERMOMETER: Task.TEST,
    ToolKind.TEST_LAMP: Task.TEST,
    ToolKind.TORQUE_WRENCH: Task.REFIT,
    ToolKind.NO_COMMON_WRENCH: Task.REFIT,
    ToolKind.ANTI_SEIZE: Task.REFIT,
}


_PLACE_IN_LIST = {kind: place for place, kind in enumerate(ToolKind)}


class Drive(StrEnum):
    """The square drive of a socket, or of a torque wrench."""

    QUARTER = "1/4 in"
    THREE_EIGHTHS = "3/8 in"
    HALF = "1/2 in"


@dataclass(frozen=True, slots=True)
class Held:
    """Fasteners of one kind on a part: their hex across flats, and the ends of their torque.

    `has_thread` says that a thread is stated.
    """

    fasteners: Fasteners
    hex_mm: float | None = None
    torques_nm: tuple[float, ...] = ()
    has_thread: bool = False

    @property
    def lacks_size(self) -> bool:
        """Whether something says that a tool undoes them, and nothing which size of it."""
        turned = self.has_thread or bool(self.torques_nm) or self.fasteners.want_a_tool
        return self.hex_mm is None and turned


@dataclass(frozen=True, slots=True)
class ObstacleWork:
    """Taking an obstacle off: what holds it, whether it lies two layers down, and from where."""

    name: str
    held: tuple[Held, ...] = ()
    lies_deep: bool = False
    from_below: bool = False


@dataclass(frozen=True, slots=True)
class SensorWork:
    """Testing a sensor and putting it back.

    `heater` is its cold range: specified, or the rule of thumb; None without a heater.
    `takes_anti_seize` says that its thread may be used again, and takes compound then.
    """

    name: str
    hex_mm: float | None = None
    torques_nm: tuple[float, ...] = ()
    from_below: bool = False
    heater: ResistanceRange | None = RULE_OF_THUMB
    takes_anti_seize: bool = True


@dataclass(frozen=True, slots=True)
class Tool:
    """One tool or material, and the parts of the job that ask for it.

    `size` is what the kind is chosen by: hex in mm of a socket, scale in N·m of a torque wrench,
    the torque in N·m that none covers, the last decimal in ohm of a meter, a count; or None.
    `undoes` is what fasteners without a size are called.
    """

    kind: ToolKind
    needed_by: tuple[str, ...]
    size: float | None = None
    drives: tuple[Drive, ...] = ()
    undoes: str = ""


def tools(obstacles: Sequence[ObstacleWork], sensors: Sequence[SensorWork]) -> tuple[Tool, ...]:
    """Everything to lay out for a job, in order of kind and size, each once."""
    found = [
        *_for_obstacles(obstacles),
        *_for_sensors(sensors),
        *_meters(sensors),
        *_torque_wrenches([*_torques(obstacles), *((s.name, s.torques_nm) for s in sensors)]),
        *_for_people(obstacles, sensors),
    ]
    return tuple(sorted(found, key=lambda tool: (_PLACE_IN_LIST[tool.kind], tool.size or 0)))


def drive_for(hex_mm: float, torques_nm: Iterable[float] = ()) -> Drive:
    """The square drive for a hex: 1/4 in to 10 mm, 3/8 in to 19 mm, 1/2 in above.

    What is tightened to more than 80 N·m wants 1/2 in, whatever its hex.
    """
    if max(torques_nm, default=0.0) > HALF_INCH_ABOVE_NM:
        return Drive.HALF
    if hex_mm <= QUARTER_INCH_TO_MM:
        return Drive.QUARTER
    return Drive.THREE_EIGHTHS if hex_mm <= THREE_EIGHTHS_TO_MM else Drive.HALF


def drive_of_wrench(scale_nm: float) -> Drive:
    """The square drive of a torque wrench: 1/4 in to 25 N·m, 3/8 in to 100 N·m, 1/2 in above."""
    if scale_nm <= QUARTER_INCH_TO_SCALE_NM:
        return Drive.QUARTER
    return Drive.THREE_EIGHTHS if scale_nm <= THREE_EIGHTHS_TO_SCALE_NM else Drive.HALF


@lru_cache(maxsize=1024)
def meter_can_pass(heater: ResistanceRange, meter: Meter) -> bool:
    """Whether a meter can pass a heater in the middle of its range, through clip leads.

    It cannot when the range is no wider than twice the expanded uncertainty of that reading and of
    the leads' zero (JCGM 106:2012 guarded acceptance, as in `verdict`).
    """
    middle_ohm = (heater.low_ohm + heater.high_ohm) / 2
    spread_ohm = expanded_uncertainty_ohm(
        meter.limit_ohm(shown) for shown in (middle_ohm + CLIP_LEADS_OHM, CLIP_LEADS_OHM)
    )
    return heater.high_ohm - heater.low_ohm > 2 * spread_ohm


def meter_for(heater: ResistanceRange) -> Meter:
    """The coarsest meter that can pass a heater of this range; the finer one if none can."""
    return COMMON_METER if meter_can_pass(heater, COMMON_METER) else FINER_METER


def _for_obstacles(obstacles: Sequence[ObstacleWork]) -> Iterable[Tool]:
    held = [(each, holds) for each in obstacles for holds in each.held]
    driven = [
        (each, size, drive_for(size, holds.torques_nm))
        for each, holds in held
        if (size := holds.hex_mm)
    ]
    for size, drive in dict.fromkeys((size, drive) for _, size, drive in driven):
        names = _names(each.name for each, *socket in driven if socket == [size, drive])
        yield Tool(ToolKind.SOCKET, names, size, (drive,))
    for drive in Drive:
        names = _names(each.name for each, _, its in driven if its is drive and each.lies_deep)
        if names:
            yield Tool(ToolKind.EXTENSION, names, None, (drive,))
    clips = [(each.name, h.fasteners.count) for each, h in held if h.fasteners.break_easily]
    if clips:
        names = _names(name for name, _ in clips)
        yield Tool(ToolKind.CLIP_LIFTER, names)
        yield Tool(ToolKind.SPARE_CLIPS, names, sum(count for _, count in clips))
    unsized = [(each.name, h.fasteners.what) for each, h in held if h.lacks_size]
    for what in dict.fromkeys(what for _, what in unsized):
        names = _names(name for name, its_what in unsized if its_what == what)
        yield Tool(ToolKind.UNKNOWN_SIZE, names, undoes=what)


def _for_sensors(sensors: Sequence[SensorWork]) -> Iterable[Tool]:
    # A slotted socket comes with either drive
    either = (Drive.THREE_EIGHTHS, Drive.HALF)
    for size in sorted({each.hex_mm or 0 for each in sensors}):
        names = _names(each.name for each in sensors if (each.hex_mm or 0) == size)
        yield Tool(ToolKind.SENSOR_SOCKET, names, size or None, either)
    everyone = _names(each.name for each in sensors)
    if everyone:
        yield Tool(ToolKind.PENETRATING_FLUID, everyone)
        yield Tool(ToolKind.SCAN_TOOL, everyone)
    heated = _names(each.name for each in sensors if each.heater)
    if heated:
        yield Tool(ToolKind.THERMOMETER, heated)
        yield Tool(ToolKind.TEST_LAMP, heated)
    again = _names(each.name for each in sensors if each.takes_anti_seize)
    if again:
        yield Tool(ToolKind.ANTI_SEIZE, again)


def _meters(sensors: Sequence[SensorWork]) -> Iterable[Tool]:
    """One meter, as fine as the finest of the ranges asks for."""
    steps = [meter_for(each.heater).resolution_ohm for each in sensors if each.heater]
    if steps:
        yield Tool(ToolKind.METER, _names(each.name for each in sensors if each.heater), min(steps))


def _torque_wrenches(torques: Sequence[tuple[str, tuple[float, ...]]]) -> Iterable[Tool]:
    ends_nm = [end for _, ends in torques for end in ends]
    for wrench in wrenches_covering(ends_nm):
        names = _names(name for name, ends in torques if any(map(wrench.covers, ends)))
        yield Tool(ToolKind.TORQUE_WRENCH, names, wrench.scale_nm)
    for torque_nm in not_covered(ends_nm):
        names = _names(name for name, ends in torques if torque_nm in ends)
        yield Tool(ToolKind.NO_COMMON_WRENCH, names, torque_nm)


def _torques(obstacles: Sequence[ObstacleWork]) -> list[tuple[str, tuple[float, ...]]]:
    return [(each.name, holds.torques_nm) for each in obstacles for holds in each.held]


def _for_people(obstacles: Sequence[ObstacleWork], sensors: Sequence[SensorWork]) -> Iterable[Tool]:
    work: list[ObstacleWork | SensorWork] = [*obstacles, *sensors]
    everything = _names(each.name for each in work)
    if everything:
        yield Tool(ToolKind.GLOVES, everything)
        yield Tool(ToolKind.EYE_PROTECTION, everything)
    below = _names(each.name for each in work if each.from_below)
    if below:
        yield Tool(ToolKind.STANDS, below)


def _names(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))
