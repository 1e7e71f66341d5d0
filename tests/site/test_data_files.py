"""The guides as data: valid by the published schema, and the same as the pages say."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from posixpath import join, normpath
from typing import Any

import jsonschema
import pytest

from generator.guide.vehicle import Vehicle, data_path
from generator.site.data_files import AIR_C, catalogue_text, schema_text, vehicle_text
from generator.trade.torque import TorqueUnit

SCHEMA = json.loads(schema_text())


def validate(data: dict[str, Any]) -> None:
    """By the definition that the file itself names."""
    file, _, name = data["$schema"].partition("#/$defs/")
    assert file == "schema.json"
    jsonschema.Draft202012Validator({**SCHEMA, "anyOf": [{"$ref": f"#/$defs/{name}"}]}).validate(
        data
    )


def numbers(data: Any, key: str = "") -> Iterator[tuple[str, float]]:
    if isinstance(data, dict):
        for name, value in data.items():
            yield from numbers(value, name)
    elif isinstance(data, list):
        for value in data:
            yield from numbers(value, key)
    elif isinstance(data, int | float) and not isinstance(data, bool):
        yield key, data


def test_the_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


def test_every_published_file_is_valid(site: Path) -> None:
    folder = site / "data/v1"
    assert json.loads((folder / "schema.json").read_text()) == SCHEMA
    files = sorted(folder.glob("*.json"))
    assert len(files) == len(list((site / "guides").glob("*/index.html"))) + 2
    for file in files:
        if file.name != "schema.json":
            validate(json.loads(file.read_text()))


@pytest.mark.parametrize(
    ("way", "value"),
    [
        (("version",), 2),
        (("sensors", 0, "stated", "torque", "unit"), "lbf·ft"),
        (("sensors", 0, "computed", "heater_basis"), "guess"),
        (("sensors", 0, "more"), 1),
        (("vehicle", "slug"), None),
    ],
)
def test_the_schema_refuses_what_it_should(
    demo: dict[str, Vehicle], way: tuple[Any, ...], value: Any
) -> None:
    data = json.loads(vehicle_text(demo["lowmere-pip-1-4"]))
    validate(data)
    part = data
    for step in way[:-1]:
        part = part[step]
    part[way[-1]] = value
    with pytest.raises(jsonschema.ValidationError):
        validate(data)


def test_the_catalogue_leads_to_every_file_and_guide(site: Path) -> None:
    catalogue = json.loads((site / "data/v1/vehicles.json").read_text())
    slugs = [row["slug"] for row in catalogue["vehicles"]]
    assert slugs == sorted(path.parent.name for path in (site / "guides").glob("*/index.html"))
    for row in catalogue["vehicles"]:
        data = json.loads((site / "data/v1" / row["data"]).read_text())
        assert data["vehicle"] == row
        ways = [row["guide"], *(way for each in data["sensors"] for way in each["pages"].values())]
        for way in ways:
            assert (site / normpath(join("data/v1", way))).is_file(), way


def test_every_number_has_a_unit_or_counts(demo: dict[str, Vehicle]) -> None:
    counts = {"version", "first_year", "last_year", "cylinders", "sensors", "bank", "position"}
    counts |= {"wires", "rows", "columns", "count"}
    ratios = {"lambda"}
    for vehicle in demo.values():
        data = json.loads(vehicle_text(vehicle))
        banks = data.pop("banks")
        assert all(isinstance(number, int) for each in banks.values() for number in each)
        for key, _ in numbers(data):
            has_unit = key.endswith(("_c", "_ohm", "_a", "_ma")) or key.startswith("job_minutes_")
            assert key in counts | ratios or has_unit or key in ("low", "high"), key
        for sensor in data["sensors"]:
            for value in (v for k, v in sensor["stated"].items() if k != "curve"):
                assert not isinstance(value, dict) or value["unit"]


def test_what_is_stated_and_what_is_computed_stand_apart(demo: dict[str, Vehicle]) -> None:
    (pip, _) = json.loads(vehicle_text(demo["lowmere-pip-1-4"]))["sensors"]
    assert set(pip["stated"]) & set(pip["computed"]) == {"torque", "readings"}
    stated = pip["stated"]["torque"]
    # 30 to 36 lbf·ft; 1 lbf·ft is 1.355818 N·m (NIST SP 811, appendix B.8)
    assert stated["text"] == "30 to 36 lbf·ft"
    assert (stated["low"], stated["high"]) == (40.6745, 48.8094)
    assert stated["unit"] == "N·m"
    assert stated["source"] == "handbook"
    shown = {each["unit"]: (each["low"], each["high"]) for each in pip["computed"]["torque"]}
    assert set(shown) == {unit.value for unit in TorqueUnit}
    assert shown["N·m"] == ("41", "48")
    assert shown["lbf·ft"] == ("30", "36")


def test_the_heater_reads_as_the_pages_say(
    demo: dict[str, Vehicle], page_of: Callable[[Vehicle, str], Any]
) -> None:
    vehicle = demo["lowmere-pip-1-4"]
    (first, _) = json.loads(vehicle_text(vehicle))["sensors"]
    by_air = {each["air_c"]: each for each in first["computed"]["heater_by_air"]}
    assert list(by_air) == list(AIR_C)
    shown = page_of(vehicle, "bank-1-position-1-test.html").find(".//*[@id='range']").text
    assert f"{by_air[20]['low_ohm']:.1f}–{by_air[20]['high_ohm']:.1f}" == shown
    assert first["computed"]["heater_basis"] == "specified"


def test_a_rule_of_thumb_is_no_specification(small: Callable[..., Vehicle]) -> None:
    (sensor,) = json.loads(vehicle_text(small()))["sensors"]
    assert sensor["stated"]["heater_resistance"] is None
    assert sensor["computed"]["heater_basis"] == "rule-of-thumb"
    assert sensor["computed"]["job_minutes_low"] is None
    assert sensor["computed"]["untimed"] == ["sensor"]
    (bare,) = json.loads(vehicle_text(small({"sensors.0.wires": 1})))["sensors"]
    assert bare["computed"]["heater_basis"] is None
    assert bare["computed"]["heater_by_air"] == []


def test_what_is_in_the_way_is_there_with_what_holds_it(demo: dict[str, Vehicle]) -> None:
    data = json.loads(vehicle_text(demo["lowmere-pip-1-4"]))
    assert data["sensors"][1]["computed"]["off_in_order"] == ["tunnel-shield"]
    shield = data["obstacles"]["tunnel-shield"]
    assert shield["name"] == "sheet-metal shield below the exhaust pipe"
    assert shield["cautions"] == ["sharp-edge", "under-vehicle"]
    assert shield["minutes"] == {
        "text": "3 to 5", "low": 3, "high": 5, "unit": "min", "source": None
    }  # fmt: skip
    (bolt,) = shield["held_by"]
    assert (bolt["what"], bolt["count"], bolt["thread"]) == ("bolt", 2, "M6×1")
    assert bolt["hex"]["text"] == "10 mm"
    # 70 to 85 lbf·in; 1 lbf·in is 0.1129848 N·m (NIST SP 811, appendix B.8)
    assert (bolt["torque"]["low"], bolt["torque"]["high"]) == (7.90894, 9.60371)
    assert (bolt["torque"]["unit"], bolt["torque"]["source"]) == ("N·m", "handbook")
    assert len(shield["steps"]) == 2
    assert data["notes"][0].startswith("The handbook calls the sensors")
    assert "soapy water" in data["sensors"][1]["stated"]["notes"][0]


def test_what_lies_on_top_names_another_thing_in_the_way(demo: dict[str, Vehicle]) -> None:
    names = 0
    for vehicle in demo.values():
        data = json.loads(vehicle_text(vehicle))
        for obstacle in data["obstacles"].values():
            names += len(obstacle["under"])
            assert set(obstacle["under"]) <= set(data["obstacles"])
    assert names, "one of them lies under another"


READING = {"air": "20 °C", "meter_zero": "0.2 ohm", "date": "2026-03-14", "distance": "88 000 km"}


@pytest.mark.parametrize("count", [7, 8])
def test_readings_are_stated_and_their_range_is_computed(
    small: Callable[..., Vehicle], page_of: Callable[[Vehicle, str], Any], count: int
) -> None:
    # Nothing to correct: at 20 °C, leads taken off, ohms of 6.0, 6.1 ...
    readings = [{**READING, "resistance": f"{6.2 + step / 10:.1f} ohm"} for step in range(count)]
    vehicle = small({"sensors.0.readings": readings})
    (sensor,) = json.loads(vehicle_text(vehicle))["sensors"]
    first = sensor["stated"]["readings"][0]
    assert first["resistance"]["text"] == "6.2 ohm"
    assert (first["leads"]["low"], first["air"]["low"]) == (0.2, 20)
    assert (first["read_on"], first["distance"]) == ("2026-03-14", "88 000 km")
    pooled = sensor["computed"]["readings"]
    assert pooled["at_air_c"] == 20
    assert pooled["kept_ohm"] == [round(6 + step / 10, 1) for step in range(count)]
    assert pooled["left_out_ohm"] is None
    if count < 8:
        assert pooled["low_ohm"] is None
        assert pooled["high_ohm"] is None
        return
    page = page_of(vehicle, "bank-1-position-1-test.html")
    words = " ".join(" ".join(page.itertext()).split()).replace("\u2060", "")
    assert f"{pooled['low_ohm']:.1f}–{pooled['high_ohm']:.1f} Ω at" in words
    assert pooled["low_ohm"] < 6.0
    assert pooled["high_ohm"] > 6.7


def test_a_sensor_without_readings_has_no_range(small: Callable[..., Vehicle]) -> None:
    (sensor,) = json.loads(vehicle_text(small()))["sensors"]
    assert sensor["stated"]["readings"] == []
    assert sensor["computed"]["readings"] is None


def test_a_curve_is_as_its_source_has_it(small: Callable[..., Vehicle]) -> None:
    assert json.loads(vehicle_text(small()))["sensors"][0]["stated"]["curve"] is None
    points = [["0.8", "-0.9"], ["1.0", "0"], ["1.3", "0.6"]]
    vehicle = small(
        {
            "sources": {"manual": {"title": "Brae manual", "kind": "maker"}},
            "sensors.0.kind": "wide-range",
            "sensors.0.wires": 5,
            "sensors.0.curve": {"points": points, "source": "manual"},
        }
    )
    data = json.loads(vehicle_text(vehicle))
    validate(data)
    assert data["sensors"][0]["stated"]["curve"] == {
        "points": [
            {"lambda": 0.8, "pump_current_ma": -0.9},
            {"lambda": 1, "pump_current_ma": 0},
            {"lambda": 1.3, "pump_current_ma": 0.6},
        ],
        "source": "manual",
    }


def test_two_names_are_taken(small: Callable[..., Vehicle]) -> None:
    paths = {data_path(slug) for slug in ("vehicles", "schema", "carrow")}
    assert paths == {"data/v1/vehicles_.json", "data/v1/schema_.json", "data/v1/carrow.json"}


def test_the_order_of_the_profiles_changes_nothing(demo: dict[str, Vehicle]) -> None:
    there, back = list(demo.values()), list(demo.values())[::-1]
    assert catalogue_text(there) == catalogue_text(back)
    validate(json.loads(catalogue_text(there)))
