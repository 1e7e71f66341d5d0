"""The model profiles: the smallest and the fullest that there can be, both without a finding."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.profile import read_profile
from generator.profile.schema import profile_schema

MODELS = Path(__file__).parents[2] / "docs" / "models"
SCHEMA = profile_schema()


def unused(schema: dict[str, Any], values: list[Any], way: str) -> Iterator[str]:
    """The keys of a part of the schema that none of these values has, with the way to each."""
    choices = [each for each in schema.get("anyOf", ()) if "$ref" in each]
    schema = choices[-1] if choices else schema.get("allOf", [schema])[0]
    if "$ref" in schema:
        schema = SCHEMA["definitions"][schema["$ref"].rpartition("/")[2]]
    if isinstance(items := schema.get("items"), dict):
        yield from unused(items, [each for value in values for each in value], f"{way}[]")
    elif "propertyNames" in schema:
        inner = [each for value in values for each in value.values()]
        yield from unused(schema["additionalProperties"], inner, f"{way}.*")
    elif "required" in schema:
        for key, part in schema["properties"].items():
            found = [value[key] for value in values if isinstance(value, dict) and key in value]
            if found:
                yield from unused(part, found, f"{way}.{key}")
            else:
                yield f"{way}.{key}"


def plain(name: str) -> Any:
    return yaml.load((MODELS / name).read_text("utf-8"), Loader=yaml.BaseLoader)


@pytest.mark.parametrize("name", ["smallest.yml", "fullest.yml"])
def test_a_model_has_no_finding(name: str) -> None:
    read = read_profile(MODELS / name, name)
    assert [str(finding) for finding in read.findings] == []
    assert read.profile is not None


def test_the_fullest_has_every_key() -> None:
    assert list(unused(SCHEMA, [plain("fullest.yml")], "")) == []


def test_a_key_that_is_left_out_is_noticed() -> None:
    less = plain("fullest.yml")
    del less["engine"]["fuel"], less["obstacles"]["engine-cover"]["undo"][0]["hex"]
    assert list(unused(SCHEMA, [less], "")) == [".engine.fuel", ".obstacles.*.undo[].hex"]


def test_the_smallest_is_the_one_that_is_shown() -> None:
    page = (MODELS.parent / "add-a-vehicle.md").read_text("utf-8")
    shown = page.partition("```yaml\n")[2].partition("```")[0]
    assert yaml.load(shown, Loader=yaml.BaseLoader) == plain("smallest.yml")
