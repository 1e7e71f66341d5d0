"""The declaration of the format: described, closed, unchanging, and found by path."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, get_args

import pytest
from pydantic import BaseModel, ValidationError

from generator.profile import model
from generator.profile.model import Fastener, Obstacle, Profile
from generator.profile.model_walk import part_at
from generator.profile.part import Part
from generator.profile.sensor_model import Heater, HeaterResistance, Sensor


def _parts_in(kind: Any) -> Iterator[type[BaseModel]]:
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        yield kind
        for field in kind.model_fields.values():
            yield from _parts_in(field.annotation)
    for inner in get_args(kind):
        yield from _parts_in(inner)


PARTS = list(dict.fromkeys(_parts_in(Profile)))
KEYS = [(part, name) for part in PARTS for name in part.model_fields]


def test_the_walk_finds_the_parts() -> None:
    assert {Profile, Sensor, Heater, HeaterResistance, Obstacle, Fastener} <= set(PARTS)


@pytest.mark.parametrize(("part", "key"), KEYS, ids=[f"{p.__name__}.{k}" for p, k in KEYS])
def test_every_key_has_a_description(part: type[BaseModel], key: str) -> None:
    description = part.model_fields[key].description
    assert description
    assert description[0].isupper()
    assert description.endswith((".", "..."))


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.__name__)
def test_every_part_is_described_closed_and_frozen(part: type[BaseModel]) -> None:
    declared = part.__pydantic_generic_metadata__["origin"] or part
    assert declared.__doc__
    assert issubclass(part, Part)
    assert part.model_config["extra"] == "forbid"
    assert part.model_config["frozen"]


def test_a_profile_does_not_change() -> None:
    bank = model.Bank.model_validate({"cylinders": ["1"], "side": "left"})
    with pytest.raises(ValidationError):
        bank.side = None  # type: ignore[misc]


def test_json_schema_can_be_written() -> None:
    schema = Profile.model_json_schema()
    assert set(schema["properties"]) == set(Profile.model_fields)
    assert set(schema["required"]) >= {"format", "vehicle", "engine", "banks", "sensors"}


@pytest.mark.parametrize(
    ("path", "part"),
    [
        ((), Profile),
        (("sensors", 0), Sensor),
        (("sensors", 0, "heater"), Heater),
        (("sensors", 0, "heater", "resistance"), HeaterResistance),
        (("obstacles", "cover", "undo", 0), Fastener),
        # A contributor may call an obstacle by the name of a key
        (("obstacles", "undo"), Obstacle),
        (("obstacles", "undo", "undo", 3), Fastener),
        (("sensors", 0, "bank"), None),
        (("nothing", "at", "all"), None),
        (("sensors", 0, "wires", 4), None),
    ],
    ids=str,
)
def test_part_at_a_path(path: tuple[str | int, ...], part: type[Part] | None) -> None:
    assert part_at(path) is part
