"""What several pages of a vehicle share is made once for it, and never taken for another's."""

from __future__ import annotations

from collections.abc import Callable

from generator.guide.access_page import access
from generator.guide.bay_map import bay_map
from generator.guide.shared_view import shared_by_pages
from generator.guide.test_page import test as view_of_test
from generator.guide.vehicle import Vehicle
from generator.profile.sensor_model import Sensor

Asked = list[tuple[Vehicle, Sensor, str]]


def recorded(asked: Asked) -> Callable[[Vehicle, Sensor, str], list[str]]:
    @shared_by_pages
    def made(vehicle: Vehicle, sensor: Sensor, word: str) -> list[str]:
        asked.append((vehicle, sensor, word))
        return [word]

    return made


def test_the_same_part_and_values_are_made_once(small: Callable[..., Vehicle]) -> None:
    asked: Asked = []
    made, vehicle = recorded(asked), small()
    sensor = vehicle.sensors[0]
    assert made(vehicle, sensor, "a") is made(vehicle, sensor, "".join(["", "a"]))
    assert made(vehicle, sensor, "b") == ["b"]
    assert len(asked) == 2


def test_an_equal_part_is_not_the_same_part(small: Callable[..., Vehicle]) -> None:
    asked: Asked = []
    made, vehicle = recorded(asked), small()
    sensor = vehicle.sensors[0]
    equal = sensor.model_copy()
    assert equal == sensor
    assert made(vehicle, sensor, "a") is not made(vehicle, equal, "a")


def test_an_equal_vehicle_is_not_the_same_vehicle(small: Callable[..., Vehicle]) -> None:
    asked: Asked = []
    made, one, other = recorded(asked), small(), small()
    first = made(one, one.sensors[0], "a")
    assert made(other, one.sensors[0], "a") is not first
    assert made(one, one.sensors[0], "a") is not first, "only the last vehicle's are kept"
    assert len(asked) == 3


def test_access_and_test_page_of_a_sensor_share_its_bay_map(demo: dict[str, Vehicle]) -> None:
    for vehicle in demo.values():
        maps = []
        for sensor in vehicle.sensors:
            assert access(vehicle, sensor).bay is view_of_test(vehicle, sensor).bay
            maps.append(bay_map(vehicle, sensor))
        assert len({each.about for each in maps}) == len(maps)
