"""The finder's data: every vehicle and code, inert, and growing gently."""

from __future__ import annotations

import gzip
import json
from collections.abc import Callable
from dataclasses import replace
from gettext import NullTranslations
from typing import Any

import pytest

from generator.guide.catalogue import by_make
from generator.guide.code_groups import codes_told
from generator.guide.codes_page import banks_of, fitted_sensors
from generator.guide.finder import LATEST_YEAR, finder_script
from generator.guide.vehicle import Vehicle
from generator.trade.fault_code_table import FAULT_CODES

T = NullTranslations()
START = "window.sondebookFinder="
HOSTILE = "</script><img src=x onerror=alert(1)>&\u2028 “{text}” \\u003c"


def data_of(vehicles: list[Vehicle]) -> dict[str, Any]:
    script = finder_script(by_make(vehicles), T)
    assert script.startswith(START) and script.endswith(";\n")
    return dict(json.loads(script.removeprefix(START).removesuffix(";\n")))


def test_every_vehicle_with_its_codes(demo: dict[str, Vehicle]) -> None:
    data = data_of(list(demo.values()))
    assert sorted(data["slug"]) == sorted(demo)
    for at, slug in enumerate(data["slug"]):
        vehicle = demo[slug]
        assert data["makes"][data["make"][at]] == vehicle.profile.vehicle.make
        assert data["first"][at] == vehicle.profile.vehicle.years.first
        assert data["last"][at] == (vehicle.profile.vehicle.years.last or LATEST_YEAR)
        digits = data["fits"][data["fit"][at]]
        bits = f"{int(digits, 16):0{4 * len(digits)}b}"
        told = {code for code, bit in zip(FAULT_CODES, bits, strict=False) if bit == "1"}
        assert told == codes_told(banks_of(vehicle), fitted_sensors(vehicle))


def test_every_code_with_its_words(demo: dict[str, Vehicle]) -> None:
    data = data_of([])
    assert data["codes"] == list(FAULT_CODES)
    at = data["codes"].index("P0135")
    assert data["says"][data["said"][at]] == "Heater: fault"
    assert data["wheres"][data["where"][at]] == "bank 1, position 1"


def test_hostile_names_are_inert(small: Callable[..., Vehicle]) -> None:
    read = small({"engine.name": HOSTILE.replace("\u2028", "")})
    # Put in after reading, which refuses some of it: the script must hold by itself
    named = read.profile.vehicle.model_copy(
        update={"make": HOSTILE.strip(), "model": HOSTILE.strip()}
    )
    vehicle = replace(read, profile=read.profile.model_copy(update={"vehicle": named}))
    script = finder_script(by_make([vehicle]), T)
    assert not set("<>&\u2028\u2029") & set(script)
    assert data_of([vehicle])["makes"] == [HOSTILE.strip()]


def test_one_more_vehicle_costs_little(demo: dict[str, Vehicle]) -> None:
    one = demo["fenwright-carrow-3-2-v6"]

    def size(count: int) -> int:
        many = [replace(one, slug=f"fenwright-carrow-{number}") for number in range(count)]
        return len(finder_script(by_make(many), T).encode())

    assert size(101) - size(100) < 100
    assert len(gzip.compress(finder_script(by_make(demo.values()), T).encode())) < 4000


@pytest.mark.parametrize("count", [0, 1])
def test_the_data_is_there_even_for_hardly_anything(
    count: int, small: Callable[..., Vehicle]
) -> None:
    assert len(data_of([small()][:count])["slug"]) == count
