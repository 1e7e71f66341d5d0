"""The bay map as a reader sees it: turned, mirrored, named, and filled where it should be."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import combinations
from typing import Any

import pytest

from generator.guide.bay_map import BayMap, bay_map
from generator.guide.bay_sheet import LINE
from generator.guide.page_turn import page_turn
from generator.guide.vehicle import Vehicle, page_file
from generator.profile.sensor_model import Reach
from generator.trade.place import (
    Direction,
    Side,
    Standpoint,
    Wheel,
    seen_from,
)
from tests.guide.bay_drawings import WAYS, Small, drawings, engine, overlap, sensors, text_box

SVG = "{http://www.w3.org/2000/svg}"

FOUR = sensors((1, 1, "above"), (1, 2, "below"), (2, 1, "wheel-arch"), (2, 2, "below"))
THREE = sensors((1, 1, "above"), (1, 2, "below"), (1, 3, "below"), (1, 4, "below"), (2, 1, "above"))


@pytest.fixture(scope="module")
def odd(small: Small) -> list[Vehicle]:
    """Vehicles of kinds that no demo is: merged, four banks, split across, long, mid-engined."""
    found = []
    for bay in ("front", "mid", "rear"):
        for mounting, one, other, ahead, behind in (
            ("longitudinal", "left", "right", "front", "rear"),
            ("transverse", "front", "rear", "left", "right"),
        ):
            where = {"bay": bay, "mounting": mounting}
            vee = engine(cylinders=12, arrangement="vee", **where)
            found += [
                small({**engine(**where), "banks.1.side": side, "sensors": FOUR[:2]})
                for side in (one, other)
            ]
            found += [
                small(
                    {
                        **engine(cylinders=6, **where),
                        "banks": {
                            1: {"cylinders": [1, 2, 3], "side": ahead},
                            2: {"cylinders": [4, 5, 6], "side": behind},
                        },
                        "sensors": FOUR,
                    }
                ),
                small(
                    {**vee, "banks": {1: {"cylinders": list(range(1, 13))}}, "sensors": FOUR[:2]}
                ),
                small(
                    {
                        **vee,
                        "banks": {
                            1: {"cylinders": [1, 2, 3, 4, 5, 6], "side": other, "catalysts": 3},
                            2: {"cylinders": [7, 8, 9, 10, 11, 12], "side": one, "catalysts": 0},
                        },
                        "sensors": THREE,
                    }
                ),
                small(
                    {
                        **vee,
                        "banks": {
                            1: {"cylinders": [1, 2, 3], "side": one},
                            2: {"cylinders": [4, 5, 6], "side": other},
                            3: {"cylinders": [7, 8, 9], "side": one},
                            4: {"cylinders": [10, 11, 12], "side": other},
                        },
                        "sensors": [*FOUR, *sensors((3, 1, "above"), (4, 1, "above"))],
                    }
                ),
            ]
    return found


@pytest.fixture(scope="module")
def vehicles(odd: list[Vehicle], demo: dict[str, Vehicle]) -> list[Vehicle]:
    return [*demo.values(), *odd]


def middle(marks: list[Any]) -> tuple[float, float]:
    return sum(m.x for m in marks) / len(marks), sum(m.y for m in marks) / len(marks)


@pytest.mark.parametrize("stand", Standpoint)
@pytest.mark.parametrize("side", Side)
def test_the_page_is_turned_as_the_reader_sees_the_vehicle(stand: Standpoint, side: Side) -> None:
    assert page_turn(stand).way(side) == WAYS[seen_from(side, stand)]


def test_a_bank_is_drawn_where_the_reader_sees_it(vehicles: list[Vehicle]) -> None:
    seen = set()
    for vehicle in vehicles:
        for stand, drawing in drawings(vehicle):
            for number, bank in vehicle.profile.banks.items():
                if bank.side is None or len(vehicle.profile.banks) != 2:
                    continue
                direction = seen_from(bank.side, stand)
                right, down = WAYS[direction]
                here = [m for m in drawing.cylinders if int(m.name) in bank.cylinders]
                x, y = middle(here)
                assert x * right + y * down > 10, (vehicle.name, stand, number)
                seen.add(direction)
    assert seen == set(Direction)


def test_an_in_line_engine_has_its_exhaust_where_the_reader_sees_it(
    vehicles: list[Vehicle],
) -> None:
    seen = set()
    for vehicle in vehicles:
        banks = vehicle.profile.banks
        if len(banks) > 1 or vehicle.profile.engine.arrangement != "inline":
            continue
        side = banks[1].side
        assert side is not None
        for stand, drawing in drawings(vehicle):
            right, down = WAYS[seen_from(side, stand)]
            x, y = middle(list(drawing.sensors))
            assert x * right + y * down > 30
            seen.add((side, stand))
    assert {side for side, _ in seen} == set(Side)


def test_the_driver_and_the_bumper_see_the_same_turned_and_from_below_it_is_mirrored(
    vehicles: list[Vehicle],
) -> None:
    mirrored = {Standpoint.UNDER_HEAD_REARWARD, Standpoint.UNDER_HEAD_FORWARD}
    for vehicle in vehicles:
        (_, seat), *others = drawings(vehicle)
        for stand, drawing in others:
            down = 1 if stand in (Standpoint.REAR_BUMPER, Standpoint.UNDER_HEAD_FORWARD) else -1
            right = -down if stand in mirrored else down
            for marks in ("cylinders", "sensors"):
                assert [(m.x * right, m.y * down) for m in getattr(seat, marks)] == [
                    (m.x, m.y) for m in getattr(drawing, marks)
                ]


def test_position_2_is_further_along_the_exhaust_than_position_1(demo: dict[str, Vehicle]) -> None:
    compared = 0
    for vehicle in demo.values():
        if vehicle.profile.engine.mounting != "longitudinal":
            continue
        for stand, drawing in drawings(vehicle):
            _, to_rear = page_turn(stand).way(Side.REAR)
            places = {mark.name.text: mark.y * to_rear for mark in drawing.sensors}
            for name, y in places.items():
                bank, position = name.removeprefix("B").split("·")
                ahead = places.get(f"B{bank}·{int(position) - 1}")
                if ahead is not None:
                    assert y > ahead + 20
                    compared += 1
    assert compared


def test_every_sensor_catalyst_bank_and_landmark_is_named(vehicles: list[Vehicle]) -> None:
    for vehicle in vehicles:
        names = {f"B{each.bank}·{each.position}" for each in vehicle.sensors}
        catalysts = sum(bank.catalysts for bank in vehicle.profile.banks.values())
        ends = (
            {"radiator", "bulkhead (firewall)"}
            if vehicle.profile.engine.bay == "front"
            else {"rear bumper", "bulkhead (firewall)"}
        )
        for _, drawing in drawings(vehicle):
            assert {mark.name.text for mark in drawing.sensors} == names
            texts = [text.text for text in drawing.texts]
            assert sum(text.startswith("catalyst") for text in texts) == catalysts
            assert {f"Bank {number}" for number in vehicle.profile.banks} < set(texts)
            assert ends < set(texts)


def test_labels_lie_on_the_paper_and_not_on_one_another(vehicles: list[Vehicle]) -> None:
    for vehicle in vehicles:
        for stand, drawing in drawings(vehicle):
            left, top, width, height = map(float, drawing.view_box.split())
            texts = [*drawing.texts, *(mark.name for mark in drawing.sensors)]
            signs = [
                *((m.x - 12, m.y - 12, m.x + 12, m.y + 12) for m in drawing.cylinders),
                *((m.x - 9, m.y - 10, m.x + 9, m.y + 10) for m in drawing.sensors),
                *((m.x - 13, m.y - 13, m.x + 13, m.y + 13) for m in drawing.wheels),
            ]
            for text in texts:
                box = text_box(text)
                assert left <= box[0] and box[2] <= left + width, (vehicle.name, text)
                assert top <= box[1] and box[3] <= top + height, (vehicle.name, text)
                assert not any(overlap(box, sign) for sign in signs), (vehicle.name, stand, text)
            for one, other in combinations(texts, 2):
                assert not overlap(text_box(one), text_box(other)), (vehicle.name, one, other)


def test_landmarks_lie_on_their_side_of_the_engine(vehicles: list[Vehicle]) -> None:
    for vehicle in vehicles:
        is_front = vehicle.profile.engine.bay == "front"
        for stand, drawing in drawings(vehicle):
            ys = {text.text: text.y for text in drawing.texts}
            _, to_front = page_turn(stand).way(Side.FRONT)
            to_bulkhead = -to_front if is_front else to_front
            other = "radiator" if is_front else "rear bumper"
            assert ys["bulkhead (firewall)"] * to_bulkhead > 25
            assert ys[other] * to_bulkhead < -25
            assert ys["steering wheel"] * to_bulkhead > ys["bulkhead (firewall)"] * to_bulkhead
            front = "↑ front of the vehicle ↑" if to_front < 0 else "↓ front of the vehicle ↓"
            assert ys[front] * to_front == max(
                ys[name] * to_front
                for name in ys
                if name not in ("your head", "your feet", "you stand here")
            )


READERS = {
    Standpoint.DRIVERS_SEAT: {"you sit here"},
    Standpoint.FRONT_BUMPER: {"you stand here"},
    Standpoint.REAR_BUMPER: {"you stand here"},
    Standpoint.UNDER_HEAD_REARWARD: {"your head", "your feet"},
    Standpoint.UNDER_HEAD_FORWARD: {"your head", "your feet"},
}


def test_the_reader_is_in_the_drawing_where_they_are(vehicles: list[Vehicle]) -> None:
    told = set().union(*READERS.values())
    seen = set()
    for vehicle in vehicles:
        for stand, drawing in drawings(vehicle):
            ys = {text.text: text.y for text in drawing.texts}
            assert ys.keys() & told == READERS[stand]
            lowest, highest = max(ys.values()), min(ys.values())
            if stand is Standpoint.DRIVERS_SEAT:
                assert 0 < ys["you sit here"] - ys["steering wheel"] <= LINE
            elif "you stand here" in ys:
                assert ys["you stand here"] == lowest, "the reader's end is the foot of the page"
            else:
                assert (ys["your head"], ys["your feet"]) == (highest, lowest)
            seen.add(stand)
    assert seen == set(Standpoint)


@pytest.mark.parametrize("steering", [["left"], ["right"], ["left", "right"]])
@pytest.mark.parametrize("bay", ["front", "mid", "rear"])
def test_the_steering_wheel_is_on_its_side(small: Small, steering: list[str], bay: str) -> None:
    vehicle = small({"steering": steering, "engine.bay": bay})
    for stand, drawing in drawings(vehicle):
        assert [mark.name for mark in drawing.wheels] == steering
        for mark in drawing.wheels:
            right, _ = WAYS[seen_from(Side(Wheel(mark.name).value), stand)]
            assert mark.x * right > 60
        (words,) = (text for text in drawing.texts if text.text == "steering wheel")
        toward = sum(mark.x for mark in drawing.wheels)
        assert words.x * toward > 0 if len(steering) == 1 else words.x == 0


@pytest.mark.parametrize(
    ("bay", "reach", "shown"),
    [
        ("front", Reach.ABOVE, Standpoint.FRONT_BUMPER),
        ("front", Reach.WHEEL_ARCH, Standpoint.FRONT_BUMPER),
        ("front", Reach.BELOW, Standpoint.UNDER_HEAD_REARWARD),
        ("mid", Reach.ABOVE, Standpoint.REAR_BUMPER),
        ("rear", Reach.BELOW, Standpoint.UNDER_HEAD_FORWARD),
    ],
)
def test_it_begins_where_one_stands_for_the_sensor(
    small: Small, bay: str, reach: Reach, shown: Standpoint
) -> None:
    vehicle = small({"engine.bay": bay, "sensors.0.place.reach": reach.value})
    assert bay_map(vehicle, vehicle.sensors[0]).shown == shown.value
    bumper = Standpoint.FRONT_BUMPER if bay == "front" else Standpoint.REAR_BUMPER
    assert bay_map(vehicle).shown == bumper.value, "the overview is about no one sensor"


def test_the_drawings_are_made_once_a_vehicle(demo: dict[str, Vehicle]) -> None:
    for vehicle in demo.values():
        maps: list[BayMap] = [bay_map(vehicle, sensor) for sensor in [None, *vehicle.sensors]]
        assert len({id(each.bays) for each in maps}) == 1
        assert len({each.about for each in maps}) == len(maps)


def test_what_a_profile_does_not_tell_is_said(small: Small) -> None:
    split = small(
        {
            **engine(cylinders=6),
            "banks": {
                1: {"cylinders": [1, 2, 3], "side": "front"},
                2: {"cylinders": [4, 5, 6], "side": "rear"},
            },
            "sensors": FOUR,
        }
    )
    merged = small({**engine(arrangement="vee"), "banks": {1: {"cylinders": [1, 2, 3, 4]}}})
    assert bay_map(split).bays.dashed
    assert "on which side the exhaust leaves is not stated" in bay_map(split).caption
    assert not bay_map(merged).bays.dashed
    assert "Which cylinder stands in which row is not stated" in bay_map(merged).caption
    for _, drawing in drawings(merged):
        assert [mark.name for mark in drawing.cylinders] == [""] * 4
    assert "away from the gearbox (common practice, no source)" in bay_map(small()).caption
    assert "gearbox" not in bay_map(split).caption, "its banks tell the end"


@pytest.mark.parametrize("stage", ["access", "test"])
def test_a_page_fills_its_own_sensor_in_every_drawing_and_no_other(
    demo: dict[str, Vehicle], page_of: Callable[[Vehicle, str], Any], stage: str
) -> None:
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            tree = page_of(vehicle, page_file(sensor, stage))
            svgs = [svg for svg in tree.iter(f"{SVG}svg") if svg.get("id", "").startswith("bay-")]
            assert len(svgs) == 3
            for svg in svgs:
                probes = [g for g in svg.iter(f"{SVG}g") if "probe" in g.get("class", "").split()]
                filled = [g for g in probes if "filled" in g.get("class").split()]
                assert len(probes) == len(vehicle.sensors)
                names = ["".join(g.itertext()).strip() for g in filled]
                assert names == [f"B{sensor.bank}·{sensor.position}"]
            checked = [each for each in tree.iter("input") if each.get("checked") is not None]
            assert [each.get("id") for each in checked if each.get("name") == "seen-from"] == [
                f"from-{bay_map(vehicle, sensor).shown}"
            ]


def test_the_overview_fills_none_and_no_text_is_turned(
    demo: dict[str, Vehicle], page_of: Callable[[Vehicle, str], Any]
) -> None:
    for vehicle in demo.values():
        tree = page_of(vehicle, "index.html")
        maps = [svg for svg in tree.iter(f"{SVG}svg") if svg.get("id", "").startswith("bay-")]
        assert len(maps) == 3
        for svg in maps:
            for each in svg.iter():
                assert each.get("transform") is None
                assert "filled" not in each.get("class", "")


def test_a_drawing_says_in_words_what_it_shows(
    demo: dict[str, Vehicle], page_of: Callable[[Vehicle, str], Any]
) -> None:
    vehicle = demo["fenwright-carrow-3-2-v6"]
    tree = page_of(vehicle, "index.html")
    by_id = {each.get("id"): each for each in tree.iter() if each.get("id")}
    svg = by_id["bay-front-bumper"]
    title, words = (by_id[each].text for each in svg.get("aria-labelledby").split())
    assert svg.get("role") == "img"
    assert title == "Leaning in over the front bumper"
    assert "The front of the vehicle is at the bottom." in words
    assert "Bank 1, cylinders 1, 2, 3: on the far side." in words
    assert "Bank 2, cylinders 4, 5, 6: on the near side." in words
    assert "The exhaust of bank 1 passes, in this order: B1·1, catalyst, B1·2." in words


@pytest.mark.parametrize("stands", combinations(Standpoint, 2), ids=str)
def test_a_drawing_turns_into_that_of_another_standpoint(
    stands: tuple[Standpoint, Standpoint],
) -> None:
    one, other = (page_turn(stand) for stand in stands)
    a, b, c, d, *shift = map(int, re.findall(r"-?\d+", other.turned_from(one)))
    assert shift == [0, 0]
    for point in ((3.0, 0.0), (0.0, 5.0), (-2.0, 7.0)):
        x, y = one.at(point)
        assert (a * x + c * y, b * x + d * y) == other.at(point)
