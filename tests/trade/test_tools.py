"""The tools of a job follow from its fasteners, its sensors and its tests."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.access_plan import Fasteners
from generator.trade.heater import RULE_OF_THUMB, ResistanceRange
from generator.trade.tools import (
    CLIP_LEADS_OHM,
    COMMON_METER,
    FINER_METER,
    Drive,
    Held,
    ObstacleWork,
    SensorWork,
    Task,
    Tool,
    ToolKind,
    drive_for,
    drive_of_wrench,
    meter_can_pass,
    meter_for,
    tools,
)
from generator.trade.torque import COMMON_WRENCHES
from generator.trade.verdict import Outcome, Reading, judge

COVER = ObstacleWork("cover", (Held(Fasteners("push clip", 4)),))
BRACE = ObstacleWork("brace", (Held(Fasteners("nut", 4), 13.0, (22.0, 26.0)),), lies_deep=True)
TRAY = ObstacleWork(
    "tray",
    (Held(Fasteners("screw", 8), 10.0, (3.0, 5.0)), Held(Fasteners("push clip", 2))),
    from_below=True,
)
CLAMP = ObstacleWork("hose", (Held(Fasteners("hose clip", 2)),))
SENSOR = SensorWork("B1P1", 22.0, (40.0, 48.0), heater=ResistanceRange(5.0, 6.4))
NARROW = SensorWork("B2P1", 22.0, (40.0, 48.0), heater=ResistanceRange(2.1, 2.9))
COLD = SensorWork("B1P2", None, (), from_below=True, heater=None, takes_anti_seize=False)


def kinds(found):
    return [tool.kind for tool in found]


def of(kind, found):
    return [tool for tool in found if tool.kind is kind]


def test_the_tools_of_a_job_by_example():
    found = tools([COVER, BRACE, TRAY], [SENSOR])
    assert of(ToolKind.SOCKET, found) == [
        Tool(ToolKind.SOCKET, ("tray",), 10.0, (Drive.QUARTER,)),
        Tool(ToolKind.SOCKET, ("brace",), 13.0, (Drive.THREE_EIGHTHS,)),
    ]
    assert of(ToolKind.EXTENSION, found) == [
        Tool(ToolKind.EXTENSION, ("brace",), None, (Drive.THREE_EIGHTHS,))
    ]
    assert of(ToolKind.SPARE_CLIPS, found) == [Tool(ToolKind.SPARE_CLIPS, ("cover", "tray"), 6)]
    assert of(ToolKind.SENSOR_SOCKET, found)[0].size == 22.0
    assert of(ToolKind.STANDS, found)[0].needed_by == ("tray",)
    assert [each.size for each in of(ToolKind.TORQUE_WRENCH, found)] == [5.0, 60.0]
    assert of(ToolKind.NO_COMMON_WRENCH, found) == []
    assert kinds(found) == sorted(kinds(found), key=list(ToolKind).index)


def test_no_tool_without_need():
    assert tools([], []) == ()
    found = kinds(tools([], [COLD]))
    for kind in (
        ToolKind.SOCKET, ToolKind.EXTENSION, ToolKind.CLIP_LIFTER, ToolKind.SPARE_CLIPS,
        ToolKind.METER, ToolKind.THERMOMETER, ToolKind.TEST_LAMP, ToolKind.TORQUE_WRENCH,
        ToolKind.ANTI_SEIZE, ToolKind.UNKNOWN_SIZE,
    ):  # fmt: skip
        assert kind not in found
    assert ToolKind.SCAN_TOOL in found, "live data needs no heater"
    assert ToolKind.STANDS not in kinds(tools([COVER], [SENSOR]))


def test_anti_seize_only_where_a_thread_takes_it():
    assert of(ToolKind.ANTI_SEIZE, tools([], [SENSOR, COLD]))[0].needed_by == ("B1P1",)


def test_a_fastener_that_is_turned_and_has_no_size_is_said():
    assert of(ToolKind.UNKNOWN_SIZE, tools([CLAMP, COVER], [SENSOR])) == [
        Tool(ToolKind.UNKNOWN_SIZE, ("hose",), undoes="hose clip")
    ]


@pytest.mark.parametrize(
    ("held", "lacks"),
    [
        (Held(Fasteners("ball stud", 4)), False),
        (Held(Fasteners("ball stud", 4), has_thread=True), True),
        (Held(Fasteners("ball stud", 4), torques_nm=(5.0,)), True),
        (Held(Fasteners("nut", 4)), True),
        (Held(Fasteners("nut", 4), 10.0), False),
        (Held(Fasteners("push clip", 4)), False),
    ],
)
def test_no_hand_tool_where_nothing_says_that_one_is_wanted(held, lacks):
    found = of(ToolKind.UNKNOWN_SIZE, tools([ObstacleWork("part", (held,))], [SENSOR]))
    assert bool(found) is lacks


def test_fasteners_of_one_name_want_one_hand_tool():
    other = ObstacleWork("pipe", (Held(Fasteners("hose clip", 1)), Held(Fasteners("wing nut", 1))))
    assert of(ToolKind.UNKNOWN_SIZE, tools([CLAMP, other], [])) == [
        Tool(ToolKind.UNKNOWN_SIZE, ("hose", "pipe"), undoes="hose clip"),
        Tool(ToolKind.UNKNOWN_SIZE, ("pipe",), undoes="wing nut"),
    ]


def test_a_sensor_without_a_stated_hex_has_a_socket_of_no_size():
    sizes = [each.size for each in of(ToolKind.SENSOR_SOCKET, tools([], [SENSOR, COLD]))]
    assert sizes == [None, 22.0]


@pytest.mark.parametrize(
    ("hex_mm", "drive"),
    [
        (7, Drive.QUARTER), (10, Drive.QUARTER), (10.5, Drive.THREE_EIGHTHS),
        (19, Drive.THREE_EIGHTHS), (22, Drive.HALF),
    ],
)  # fmt: skip
def test_the_drive_grows_with_the_hex(hex_mm, drive):
    assert drive_for(hex_mm) is drive


@pytest.mark.parametrize(
    ("torques_nm", "drive"),
    [
        ((), Drive.THREE_EIGHTHS), ((80.0,), Drive.THREE_EIGHTHS), ((75.0, 85.0), Drive.HALF),
        ((120.0, 140.0), Drive.HALF),
    ],
)  # fmt: skip
def test_a_high_torque_wants_the_large_drive(torques_nm, drive):
    assert drive_for(19, torques_nm) is drive


def test_one_hex_in_two_drives_is_two_sockets():
    wheel = ObstacleWork("wheel", (Held(Fasteners("bolt", 5), 13.0, (120.0, 140.0)),))
    assert of(ToolKind.SOCKET, tools([BRACE, wheel], [])) == [
        Tool(ToolKind.SOCKET, ("brace",), 13.0, (Drive.THREE_EIGHTHS,)),
        Tool(ToolKind.SOCKET, ("wheel",), 13.0, (Drive.HALF,)),
    ]


def test_the_drive_of_every_common_wrench():
    drives = {each.scale_nm: drive_of_wrench(each.scale_nm) for each in COMMON_WRENCHES}
    assert drives == {
        5: Drive.QUARTER, 10: Drive.QUARTER, 25: Drive.QUARTER, 60: Drive.THREE_EIGHTHS,
        110: Drive.HALF, 210: Drive.HALF, 340: Drive.HALF,
    }  # fmt: skip


def test_a_torque_no_common_wrench_covers_is_named():
    huge = ObstacleWork("subframe", (Held(Fasteners("bolt", 2), 24.0, (500.0,)),))
    found = tools([huge], [SENSOR])
    assert of(ToolKind.NO_COMMON_WRENCH, found) == [
        Tool(ToolKind.NO_COMMON_WRENCH, ("subframe",), 500.0)
    ]


TORQUES = st.lists(st.floats(0.2, 600), max_size=3).map(tuple)


@given(st.lists(TORQUES, min_size=1, max_size=4))
def test_every_torque_has_a_wrench_or_is_said_to_have_none(all_torques):
    works = [
        ObstacleWork(f"part-{place}", (Held(Fasteners("bolt", 1), 13.0, torques),))
        for place, torques in enumerate(all_torques)
    ]
    found = tools(works, [])
    wrenches = {wrench.scale_nm: wrench for wrench in COMMON_WRENCHES}
    chosen = of(ToolKind.TORQUE_WRENCH, found)
    uncovered = [each.size for each in of(ToolKind.NO_COMMON_WRENCH, found)]
    for work, torques in zip(works, all_torques, strict=True):
        for torque_nm in torques:
            covering = [each for each in chosen if wrenches[each.size].covers(torque_nm)]
            assert bool(covering) != (torque_nm in uncovered)
            assert all(work.name in each.needed_by for each in covering)


@given(st.floats(0.5, 20), st.floats(0.01, 10))
def test_a_meter_that_can_pass_does_pass_a_heater_in_the_middle(low_ohm, width_ohm):
    """The verdict itself decides: the thermometer is perfect, so the range is as specified."""
    heater = ResistanceRange(low_ohm, low_ohm + width_ohm)
    middle_ohm = low_ohm + width_ohm / 2
    for meter in (COMMON_METER, FINER_METER):
        reading = Reading(middle_ohm + CLIP_LEADS_OHM, CLIP_LEADS_OHM, 20.0, 0.0)
        passed = judge(reading, meter, heater).outcome is Outcome.IN_RANGE
        assert passed is meter_can_pass(heater, meter)


@pytest.mark.parametrize(
    ("heater", "meter"),
    [
        (ResistanceRange(2.1, 2.9), FINER_METER),
        (ResistanceRange(5.0, 6.4), COMMON_METER),
        (RULE_OF_THUMB, COMMON_METER),
        (ResistanceRange(6.0, 6.0), FINER_METER),
    ],
)
def test_a_narrow_range_asks_for_a_finer_meter(heater, meter):
    assert meter_for(heater) is meter


def test_the_finest_meter_serves_all():
    assert [each.size for each in of(ToolKind.METER, tools([], [SENSOR, NARROW]))] == [0.01]
    assert [each.size for each in of(ToolKind.METER, tools([], [SENSOR]))] == [0.1]


@given(
    st.lists(st.sampled_from([COVER, BRACE, TRAY, CLAMP]), unique=True),
    st.lists(st.sampled_from([SENSOR, NARROW, COLD]), unique=True),
)
def test_a_part_of_a_job_asks_for_what_the_whole_job_says_it_needs(obstacles, sensors):
    """The planner shows a line when one of the parts that need it is in the plan."""
    counted = {ToolKind.TORQUE_WRENCH, ToolKind.SPARE_CLIPS, ToolKind.METER}
    names = {each.name for each in [*obstacles, *sensors]}
    whole = tools([COVER, BRACE, TRAY, CLAMP], [SENSOR, NARROW, COLD])
    picked = {(tool.kind, tool.size, tool.drives) for tool in whole if names & set(tool.needed_by)}
    asked = {(tool.kind, tool.size, tool.drives) for tool in tools(obstacles, sensors)}
    assert {each for each in picked if each[0] not in counted} == {
        each for each in asked if each[0] not in counted
    }


def test_every_kind_belongs_to_a_stage():
    assert {kind.task for kind in ToolKind} == set(Task)
    assert ToolKind.METER.task is Task.TEST
    assert ToolKind.TORQUE_WRENCH.task is Task.REFIT
    assert ToolKind.SOCKET.task is Task.ACCESS
