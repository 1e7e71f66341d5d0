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
    counts |= {"wires", "rows", "columns"}
    for vehicle in demo.values():
        data = json.loads(vehicle_text(vehicle))
        banks = data.pop("banks")
        assert all(isinstance(number, int) for each in banks.values() for number in each)
        for key, _ in numbers(data):
            has_unit = key.endswith(("_c", "_ohm", "_a")) or key.startswith("job_minutes_")
            assert key in counts or has_unit or key in ("low", "high"), key
        for sensor in data["sensors"]:
            for value in sensor["stated"].values():
                assert not isinstance(value, dict) or value["unit"]


def test_what_is_stated_and_what_is_computed_stand_apart(demo: dict[str, Vehicle]) -> None:
    (pip, _) = json.loads(vehicle_text(demo["lowmere-pip-1-4"]))["sensors"]
    assert set(pip["stated"]) & set(pip["computed"]) == {"torque"}
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


def test_two_names_are_taken(small: Callable[..., Vehicle]) -> None:
    paths = {data_path(slug) for slug in ("vehicles", "schema", "carrow")}
    assert paths == {"data/v1/vehicles_.json", "data/v1/schema_.json", "data/v1/carrow.json"}


def test_the_order_of_the_profiles_changes_nothing(demo: dict[str, Vehicle]) -> None:
    there, back = list(demo.values()), list(demo.values())[::-1]
    assert catalogue_text(there) == catalogue_text(back)
    validate(json.loads(catalogue_text(there)))
