"""The tools in words: each with its size and why, in the reader's unit, from the profile alone."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from generator.guide.tools_view import tool_views
from generator.guide.vehicle import Vehicle
from generator.trade.tools import Task

Small = Callable[..., Vehicle]
ALL = tuple(Task)


def names(vehicle: Vehicle, task: Task, at: int = 0) -> list[str]:
    found = tool_views(vehicle, vehicle.sensors[at], task)
    return [each.name.replace("\u00a0", " ").replace("\u2060", "") for each in found]


def whys(vehicle: Vehicle, task: Task, at: int = 0) -> dict[str, str]:
    found = tool_views(vehicle, vehicle.sensors[at], task)
    return {each.name.replace("\u00a0", " "): each.why for each in found}


def test_the_hardest_sensor_by_example(demo: dict[str, Vehicle]) -> None:
    carrow = demo["fenwright-carrow-3-2-v6"]
    assert names(carrow, Task.ACCESS) == [
        "socket 7 mm, 1/4 in drive",
        "socket 10 mm, 1/4 in drive",
        "socket 13 mm, 3/8 in drive",
        "long extension, 1/4 in drive",
        "clip lifter",
        "spare clips: 4",
        "slotted sensor socket 22 mm (7/8 in), 3/8 in or 1/2 in drive",
        "penetrating fluid",
        "gloves",
        "eye protection",
    ]
    assert names(carrow, Task.TEST) == [
        "scan tool that shows live data",
        "ohmmeter that shows 0.01 Ω or finer, with clip leads",
        "thermometer",
        "test lamp",
    ]
    assert names(carrow, Task.REFIT) == [
        "torque wrench, 1/4 in drive, for 2–10 N·m (17–89 lbf·in)",
        "torque wrench, 3/8 in drive, for 12–60 N·m (8–45 lbf·ft)",
        "sensor-safe anti-seize, for an old sensor only",
    ]


def test_every_tool_says_why(demo: dict[str, Vehicle]) -> None:
    seen = 0
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            for task in ALL:
                for tool in tool_views(vehicle, sensor, task):
                    assert tool.name.strip() and tool.why.strip()
                    assert "%" not in tool.name
                    seen += 1
    assert seen > 100


def test_a_socket_names_the_parts_it_is_for(demo: dict[str, Vehicle]) -> None:
    why = whys(demo["fenwright-carrow-3-2-v6"], Task.ACCESS)
    assert why["socket 13 mm, 3/8 in drive"] == "brace between the strut towers"


def test_what_has_no_hex_is_named_and_what_pulls_off_wants_no_tool(
    demo: dict[str, Vehicle],
) -> None:
    brae, ardent = demo["tarnhelm-brae-3-6-flat-six"], demo["wexmoor-ardent-4-0-v8-hybrid"]
    laid_out = names(brae, Task.ACCESS)
    hand_tool = "hand tool for: screw with a T25 head (no hex stated, look before you start)"
    assert hand_tool in laid_out
    assert "socket 19 mm, 1/2 in drive" in laid_out
    for at in range(len(ardent.sensors)):
        assert not any("hand tool" in name for name in names(ardent, Task.ACCESS, at))


def test_a_hex_is_named_as_the_profile_writes_it(small: Small) -> None:
    assert "slotted sensor socket 7/8 in (22 mm)" in " ".join(
        names(small({"sensors.0.hex": "7/8 in"}), Task.ACCESS)
    )
    assert "slotted sensor socket 17 mm," in " ".join(
        names(small({"sensors.0.hex": "17 mm"}), Task.ACCESS)
    )
    assert "size not stated (measure the hex)" in " ".join(names(small(), Task.ACCESS))


def test_a_sensor_without_a_heater_is_tested_with_the_scan_tool_alone(small: Small) -> None:
    assert names(small({"sensors.0.wires": 1}), Task.TEST) == ["scan tool that shows live data"]


@pytest.mark.parametrize(
    ("resistance", "shows"), [("2.1 to 2.9 ohm", "0.01"), ("5 to 6.4 ohm", "0.1"), (None, "0.1")]
)
def test_the_meter_is_as_fine_as_the_range_asks_for(
    small: Small, resistance: str | None, shows: str
) -> None:
    heater = {"resistance": {"value": resistance, "at": "20 °C"}} if resistance else {}
    vehicle = small({"sensors.0.heater": heater})
    assert f"ohmmeter that shows {shows} Ω or finer, with clip leads" in names(vehicle, Task.TEST)
    (why,) = (w for name, w in whys(vehicle, Task.TEST).items() if "ohmmeter" in name)
    assert ("narrower" in why) is (shows == "0.01")


@pytest.mark.parametrize(
    ("state", "listed"), [("dry", False), ("anti-seize", True), ("as-delivered", True)]
)
def test_no_anti_seize_where_the_torque_is_for_a_dry_thread(
    small: Small, state: str, listed: bool
) -> None:
    vehicle = small({"sensors.0.torque": {"value": "44 N·m", "thread_state": state}})
    assert any("anti-seize" in name for name in names(vehicle, Task.REFIT)) is listed


def test_stands_only_for_what_is_reached_from_below(small: Small) -> None:
    for reach, listed in (("below", True), ("above", False), ("wheel-arch", False)):
        found = names(small({"sensors.0.place.reach": reach}), Task.ACCESS)
        assert ("jack, stands and wheel chocks" in found) is listed


def test_a_torque_no_common_wrench_covers_is_said(small: Small) -> None:
    vehicle = small(
        {
            "obstacles": {
                "frame": {
                    "name": "subframe",
                    "undo": [{"what": "bolt", "hex": "24 mm", "torque": "500 N·m"}],
                }
            },
            "sensors.0.behind": ["frame"],
        }
    )
    (said,) = (name for name in names(vehicle, Task.REFIT) if "500" in name)
    assert said.startswith("500 N·m: no common torque wrench")
    assert "subframe" in whys(vehicle, Task.REFIT)[said]


def test_no_torque_no_wrench(small: Small) -> None:
    assert not any(re.search(r"\d", name) for name in names(small(), Task.REFIT))


def test_contributed_words_are_never_a_format(small: Small) -> None:
    vehicle = small(
        {
            "obstacles": {
                "odd": {
                    "name": "100 %(size)s {x} %",
                    "undo": [{"what": "clip %d", "count": 2}, {"what": "nut %(drive)s {x} %"}],
                }
            },
            "sensors.0.behind": ["odd"],
        }
    )
    assert "spare clips: 2" in names(vehicle, Task.ACCESS)
    assert any("nut %(drive)s {x} %" in name for name in names(vehicle, Task.ACCESS))
    assert any("100 %(size)s {x} %" in why for why in whys(vehicle, Task.ACCESS).values())
