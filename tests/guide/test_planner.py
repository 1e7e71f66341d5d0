"""The planner holds the plan for all sensors, and its order suits people and vehicle."""

from __future__ import annotations

from collections.abc import Callable
from gettext import NullTranslations
from typing import Any

from generator.guide.access_page import access
from generator.guide.cautions import sentences
from generator.guide.job import in_planning_order, plan_parts, sensor_name
from generator.guide.planner import minutes_text, planner
from generator.guide.vehicle import Vehicle
from generator.profile.sensor_model import Reach
from generator.trade.access import removal_order
from generator.trade.access_plan import Minutes, access_plan
from generator.trade.hazard import Hazard

Small = Callable[..., Vehicle]
PageOf = Callable[[Vehicle, str], Any]


def numbers(text: str) -> list[int]:
    return [int(each) for each in text.split()]


def test_everything_on_top_stands_earlier_in_the_plan(demo: dict[str, Vehicle]) -> None:
    for vehicle in demo.values():
        for place, part in enumerate(planner(vehicle).parts):
            assert all(above < place for above in numbers(part.under))


def test_every_sensor_and_what_is_in_its_way_is_in_the_plan(demo: dict[str, Vehicle]) -> None:
    for vehicle in demo.values():
        view = planner(vehicle)
        names = [part.name.casefold() for part in view.parts]
        assert len(names) == len(set(names))
        for sensor in vehicle.sensors:
            assert vehicle.called(sensor).casefold() in names
            for obstacle in vehicle.obstacles(sensor):
                assert obstacle.name.casefold() in names


def test_a_single_sensor_has_the_order_of_its_access_page(demo: dict[str, Vehicle]) -> None:
    for vehicle in demo.values():
        parts = plan_parts(vehicle)
        for sensor in vehicle.sensors:
            *off, last = access_plan([sensor_name(sensor)], parts).off
            assert off == list(removal_order(sensor.behind, vehicle.profile.under))
            assert last == sensor_name(sensor)
            view = access(vehicle, sensor)
            assert [each.name.casefold() for each in view.obstacles] == [
                vehicle.profile.obstacles[name].name.casefold() for name in off
            ]
            minutes = access_plan([sensor_name(sensor)], parts).minutes
            assert (view.minutes or "–") == minutes_text(minutes, NullTranslations())


def test_what_is_reached_from_above_comes_before_what_is_reached_from_below(
    demo: dict[str, Vehicle],
) -> None:
    ranks = {Reach.ABOVE: 0, Reach.WHEEL_ARCH: 1, Reach.BELOW: 2}
    for vehicle in demo.values():
        order = [ranks[sensor.place.reach] for sensor in in_planning_order(vehicle)]
        assert order == sorted(order)


def test_a_brace_that_carries_load_is_undone_before_the_vehicle_is_raised(
    demo: dict[str, Vehicle],
) -> None:
    carrow = demo["fenwright-carrow-3-2-v6"]
    off = access_plan(list(map(sensor_name, in_planning_order(carrow))), plan_parts(carrow)).off
    assert off.index("strut-brace") < off.index("under-tray")


def test_every_hazard_of_the_plan_stands_above_its_order(
    demo: dict[str, Vehicle], page_of: PageOf
) -> None:
    for vehicle in demo.values():
        view = planner(vehicle)
        told = {needed.text for _, listed in view.cautions for needed in listed}
        said = sentences(vehicle.t)
        wanted = {Hazard.HOT_EXHAUST, *vehicle.profile.vehicle.hazards}
        for sensor in vehicle.sensors:
            wanted |= set(sensor.cautions)
            wanted |= {h for each in vehicle.obstacles(sensor) for h in each.cautions}
        for hazard in wanted:
            assert any(text.endswith(said[hazard]) for text in told), hazard
        section = page_of(vehicle, "index.html").find(".//section[@id='plan']")
        order = [each.get("class", "") for each in section.iter()]
        last_caution = max(at for at, name in enumerate(order) if name.startswith("signal"))
        assert last_caution < order.index("plan-order")


def test_what_a_single_part_can_do_is_said_with_its_name(demo: dict[str, Vehicle]) -> None:
    told = {
        needed.text: needed.parts
        for _, listed in planner(demo["fenwright-carrow-3-2-v6"]).cautions
        for needed in listed
    }
    (load,) = (text for text in told if "carries load" in text)
    assert load.startswith("Brace between the strut towers: This part carries load.")
    assert len(told[load].split()) == 1


def test_the_page_holds_the_plan_for_all_without_a_script(
    demo: dict[str, Vehicle], page_of: PageOf
) -> None:
    for vehicle in demo.values():
        view = planner(vehicle)
        section = page_of(vehicle, "index.html").find(".//section[@id='plan']")
        off, on = section.findall(".//ol")
        names = ["".join(item.find("p").itertext()).split("  ")[0] for item in off]
        assert len(names) == len(view.parts)
        assert [item.get("data-part") for item in on] == [
            item.get("data-part") for item in reversed(off)
        ]
        assert all(item.get("hidden") is None for item in [*off, *on])


def test_a_sensor_brings_its_notes_and_goes_back_with_its_torque(
    small: Small, page_of: PageOf
) -> None:
    stated = {"sensors.0.notes": ["Its plug fits two harnesses."], "sensors.0.torque": "44 N·m"}
    plan = page_of(small(stated), "index.html").find(".//section[@id='plan']")
    off, on = ("".join(plan.find(f".//*[@data-order='{way}']").itertext()) for way in ("off", "on"))
    assert "Its plug fits two harnesses." in off
    assert "Its plug" not in on
    assert "44\u00a0N·m" in on
    assert "N·m" not in off


def test_a_part_that_is_not_timed_is_counted_and_said(small: Small, page_of: PageOf) -> None:
    vehicle = small({"obstacles": {"tray": {"name": "tray"}}, "sensors.0.behind": ["tray"]})
    view = planner(vehicle)
    assert (view.minutes, view.untimed) == ("–", 2)
    assert [part.minutes for part in view.parts] == ["not timed", "not timed"]
    vehicle = small({"sensors.0.minutes": "5 to 8"})
    view = planner(vehicle)
    assert (view.minutes, view.untimed) == ("5–8", 0)


def test_minutes_are_printed_whole() -> None:
    assert minutes_text(Minutes(4.5, 5.5), NullTranslations()) == "4–6", (
        "to the even neighbour from the middle"
    )
    assert minutes_text(Minutes(7, 7.2), NullTranslations()) == "7"
    assert minutes_text(None, NullTranslations()) == "–"


def test_other_sensors_behind_the_same_covers_are_named(demo: dict[str, Vehicle]) -> None:
    carrow = demo["fenwright-carrow-3-2-v6"]
    by_name = {sensor_name(each): each for each in carrow.sensors}
    (row,) = access(carrow, by_name["B1P1"]).reachable_too
    assert row.title == carrow.called(by_name["B2P1"])
    assert row.href == "bank-2-position-1-access.html"
    assert "nothing further" in row.detail
    (row,) = access(carrow, by_name["B2P2"]).reachable_too
    assert row.title == carrow.called(by_name["B1P2"])
    assert "steel strap across the exhaust tunnel" in row.detail
    assert "plastic tray" not in row.detail, "the tray is off already"


def test_nothing_is_said_of_other_sensors_where_nothing_came_off(small: Small) -> None:
    vehicle = small()
    assert access(vehicle, vehicle.sensors[0]).reachable_too == []
