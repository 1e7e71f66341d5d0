"""The form's schema holds every key of the model, and nothing that a library could read as code."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest

from generator.profile.form_schema import NAME_KEY, form_schema
from generator.profile.schema import profile_schema

Schema = dict[str, Any]
AS = {"whole", "decimal", "numbers", "names", "pair", "map", "values", "stated"}
FORM = form_schema()


def fields(schema: Schema) -> Iterator[tuple[str, Schema, bool]]:
    """Every field with its key, and whether it is needed."""
    for key, inner in schema.get("properties", {}).items():
        yield key, inner, key in schema["required"]
        yield from fields(inner)
    if "items" in schema:
        yield from fields(schema["items"])


def nodes(schema: Any) -> Iterator[Schema]:
    if isinstance(schema, dict):
        yield schema
        for inner in schema.values():
            yield from nodes(inner)


def test_every_key_of_every_part_is_in_the_form() -> None:
    keys = {
        key
        for part in (profile_schema(), *profile_schema()["definitions"].values())
        for key in part.get("properties", {})
    }
    assert {key for key, _, _ in fields(FORM)} - {NAME_KEY} >= keys - {"format"}


def test_each_field_says_what_it_means_and_what_is_wanted() -> None:
    for key, field, is_needed in fields(FORM):
        assert field["title"], key
        if field["type"] == "string" and is_needed:
            assert field["x-messages"], key
        assert field.get("x-as") in {*AS, None}, key


def test_nothing_is_filled_in_that_nobody_said() -> None:
    for node in nodes(FORM):
        assert "default" not in node
        if isinstance(node.get("enum"), list) and "x-enumTitles" in node:
            assert node["enum"][0] == ""


def test_no_text_is_markup_or_a_template() -> None:
    for node in nodes(FORM):
        for name in ("title", "description"):
            text = node.get(name, "")
            if isinstance(text, str):
                assert not re.search(r"[<>&`{}]", text.replace("{{ i1 }}", "").replace("{}", "")), (
                    text
                )


def test_every_pattern_is_one_that_both_sides_read() -> None:
    for node in nodes(FORM):
        if isinstance(node.get("pattern"), str):
            re.compile(node["pattern"])


@pytest.mark.parametrize(
    ("way", "good", "wrong"),
    [
        ("sensors.items.properties.wires", ["4"], ["0", "7", "four"]),
        (
            "banks.items.properties.cylinders",
            ["1", "1, 2,3", "1 2", "1-5", "1 - 3, 5"],
            ["", "1,", "a"],
        ),
        ("sensors.items.properties.behind", ["", "a-b, c"], ["A b"]),
        ("sensors.items.properties.hex", ["", "22 mm", "7/8 in"], ["22", "22,5 mm"]),
        (
            "vehicle.properties.years",
            ["2009 to 2014", "2009-2014", "2009 on", "2009"],
            ["", "soon", "2009 bis 2014", "06/2009"],
        ),
        ("sensors.items.properties.thread", ["", "M18x1.5", "M18 × 1.5"], ["M18 x 1,5", "18x1.5"]),
        (
            "guide.properties.checked_on",
            ["", "2026-03-14", "20260314"],
            ["14.03.2026", "2026", "2026-13-01"],
        ),
        (
            "likelihoods.properties.heater-circuit.properties.causes.items.properties.value",
            ["2", "-1.5"],
            ["about 2", "2,5"],
        ),
        ("obstacles.items.properties.undo.items.properties.count", ["", "1", "99"], ["0", "100"]),
    ],
)
def test_a_field_takes_what_the_check_takes(way: str, good: list[str], wrong: list[str]) -> None:
    field: Any = FORM["properties"]
    for step in way.split("."):
        field = field[step]

    def takes(text: str) -> bool:
        if "enum" in field:
            return text in field["enum"] and len(text) >= field.get("minLength", 0)
        return re.search(field["pattern"], text) is not None

    assert [text for text in good if not takes(text)] == []
    assert [text for text in wrong if takes(text)] == []
