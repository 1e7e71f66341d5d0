"""The JSON Schema says of every key what the model says, and refuses nothing that is read."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft7Validator

from generator.cli import main
from generator.profile import read_text
from generator.profile.dimension import DIMENSIONS
from generator.profile.examples import examples_of
from generator.profile.migrations import migrated_content
from generator.profile.model import Profile
from generator.profile.part import Part
from generator.profile.schema import DIALECT, PATH, profile_schema, schema_text
from generator.profile.yaml_text import flow
from tests.profile.yaml_of_editors import data_of

ROOT = Path(__file__).parents[2]
PROFILES = sorted(
    [*(ROOT / "vehicle_profiles").glob("*.yml"), *(Path(__file__).parent / "cases").glob("*.yml")]
)
SCHEMA = profile_schema()
VALIDATOR = Draft7Validator(SCHEMA)
MINIMAL = (Path(__file__).parent / "cases/minimal.yml").read_text("utf-8")

DRAFT_07_WORDS = {
    "$schema", "$ref", "title", "description", "default", "examples", "type", "enum", "pattern",
    "minimum", "maximum", "items", "additionalItems", "minItems", "maxItems", "required",
    "properties", "additionalProperties", "propertyNames", "minProperties", "maxProperties",
    "anyOf", "allOf", "definitions",
}  # fmt: skip
EDITORS_WORD = "patternErrorMessage"


def parts(kind: Any = Profile) -> Iterator[type[Part]]:
    if isinstance(kind, type) and issubclass(kind, Part):
        yield kind
        for field in kind.model_fields.values():
            yield from parts(field.annotation)
    for inner in get_args(kind):
        yield from parts(inner)


KEYS = [(part, key) for part in dict.fromkeys(parts()) for key in part.model_fields]


def schemas(schema: Any) -> Iterator[dict[str, Any]]:
    """A schema and every schema within it."""
    yield schema
    for word in ("properties", "definitions"):
        for inner in schema.get(word, {}).values():
            yield from schemas(inner)
    for word in ("items", "additionalProperties", "propertyNames", "anyOf", "allOf"):
        inner = schema.get(word)
        for each in inner if isinstance(inner, list) else [inner]:
            if isinstance(each, dict):
                yield from schemas(each)


def accepts(text: str) -> bool:
    return VALIDATOR.is_valid(data_of(text))


def test_it_is_a_schema_of_draft_07() -> None:
    Draft7Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == DIALECT
    used = {word for schema in schemas(SCHEMA) for word in schema}
    assert used <= DRAFT_07_WORDS | {EDITORS_WORD}


def test_the_checked_in_file_is_what_is_written() -> None:
    """``sondebook schema > docs/reference/profile.schema.json`` mends this."""
    assert (ROOT / PATH).read_text("utf-8") == schema_text()


def test_the_command_prints_it() -> None:
    printed = CliRunner().invoke(main, ["schema"])
    assert (printed.exit_code, printed.output) == (0, schema_text())
    assert json.loads(printed.output) == json.loads(json.dumps(SCHEMA))


def test_every_part_is_closed_and_says_what_each_key_means() -> None:
    objects = [SCHEMA, *SCHEMA["definitions"].values()]
    assert len(objects) == len(set(parts()))
    assert sum(len(each["properties"]) for each in objects) == len(KEYS)
    for each in objects:
        assert each["additionalProperties"] is False
        assert each["description"]
        for key, said in each["properties"].items():
            assert said["description"], key
            assert said["examples"], key


def test_every_reference_leads_to_a_definition() -> None:
    led_to = {each["$ref"].rpartition("/")[2] for each in schemas(SCHEMA) if "$ref" in each}
    assert led_to == set(SCHEMA["definitions"])


@pytest.mark.parametrize(("part", "key"), KEYS, ids=[f"{p.__name__}.{k}" for p, k in KEYS])
def test_an_example_is_an_example(part: type[Part], key: str) -> None:
    """Each example is read by the model, from the text it would be written as."""
    field = part.model_fields[key]
    assert examples_of(field)
    for example in examples_of(field):
        text = as_read(example)
        errors = [
            error
            for error in _errors(part, {key: text})
            if error["loc"][:1] == (key,) and error["type"] != "missing"
        ]
        assert errors == []


def _errors(part: type[Part], data: dict[str, Any]) -> list[Any]:
    from pydantic import ValidationError

    try:
        part.model_validate(data)
    except ValidationError as error:
        return error.errors(include_url=False)
    return []


def as_read(example: Any) -> Any:
    """An example as the reader has it: every scalar is text."""
    if isinstance(example, dict):
        return {str(key): as_read(value) for key, value in example.items()}
    return [as_read(each) for each in example] if isinstance(example, list) else str(example)


def test_the_examples_fit_their_own_schema() -> None:
    checked = 0
    for schema in schemas(SCHEMA):
        validator = VALIDATOR.evolve(schema=schema)
        for example in schema.get("examples", ()):
            found = list(validator.iter_errors(data_of(flow(example))))
            assert found == [], (schema["description"], example)
            checked += 1
    assert checked >= len(KEYS)


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: path.stem)
def test_what_is_read_is_not_refused(path: Path) -> None:
    content, refused = migrated_content(path.name, path.read_bytes())
    if refused is None and not read_text(content, path.name, "a").has_errors:
        faults = [error.message for error in VALIDATOR.iter_errors(data_of(content.decode()))]
        assert faults == []


def test_enough_profiles_are_read_for_that_to_mean_something() -> None:
    read = [path for path in PROFILES if not read_text(path.read_bytes(), "a", "a").has_errors]
    assert len(read) >= 20


SENSOR = MINIMAL.rstrip("\n") + "\n"


def with_lines(*lines: str) -> str:
    """The least profile with lines added to its one sensor."""
    return SENSOR + "".join(f"    {line}\n" for line in lines)


SPELLINGS = [(dimension, spelling) for dimension in DIMENSIONS for spelling in dimension.spellings]
AT = {
    "torque": "torque: {}",
    "resistance": "heater: {{resistance: {{value: {}, at: 20 °C}}}}",
    "temperature": "heater: {{resistance: {{value: 5 ohm, at: {}}}}}",
    "length": "hex: {}",
    "current": "fuses: {{f: {{box: b, number: 1, rating: {}}}}}",
    "time": "minutes: {}",
    "cross-section": "supply_wire: {{size: {}, length: 3 m}}",
}


@pytest.mark.parametrize(
    ("dimension", "spelling"), SPELLINGS, ids=[f"{d.name}-{s}" for d, s in SPELLINGS]
)
def test_every_spelling_of_a_unit_is_accepted(dimension: Any, spelling: str) -> None:
    line = AT[dimension.name].format(f"'20 {spelling}'")
    text = SENSOR + (f"{line}\n" if dimension.name == "current" else f"    {line}\n")
    read = read_text(text.encode(), "a.yml", "a")
    assert not read.has_errors, read.findings
    assert accepts(text)


@given(
    data=st.data(),
    value=st.one_of(
        st.text(alphabet="0123456789.,/-+±~ eExXoNAMmftorl°Ω\"'·²", max_size=12),
        st.sampled_from(["1.", "0x1f", "0o7", "1e5", "true", "~", "2009", "20260314", "M8", "on"]),
    ),
)
@settings(max_examples=600)
def test_no_scalar_that_is_read_is_refused(data: st.DataObject, value: str) -> None:
    key = data.draw(
        st.sampled_from(
            ["thread", "hex", "torque", "minutes", "fuse", "wires", "connector", "heater", "notes"]
        )
    )
    text = with_lines(f"{key}: {value}") if key != "wires" else SENSOR.replace("wires: 4", value)
    if not read_text(text.encode(), "a.yml", "a").has_errors:
        assert accepts(text), text


@given(
    value=st.one_of(
        st.text(max_size=8).filter(str.isprintable),
        st.sampled_from(["2009", "1.50", "true", "no", "1e3", ".inf", "0x1F", "'2009'", "2009 on"]),
    ),
    key=st.sampled_from(["make: Fenwright", "model: Carrow", "years: 2009 to 2014"]),
)
@settings(max_examples=400)
def test_no_words_that_are_read_are_refused(value: str, key: str) -> None:
    text = SENSOR.replace(key, f"{key.partition(':')[0]}: {value}")
    if not read_text(text.encode(), "a.yml", "a").has_errors:
        assert accepts(text), text


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("wires: 4", "wires: four"),
        ("wires: 4", "wires: 7"),
        ("wires: 4", "wires: 4.5"),
        ("wires: 4", "wire: 4"),
        ("wires: 4", "wires: 4\n    torque: 44"),
        ("wires: 4", "wires: 4\n    torque: {value: 44 N·m, sauce: manual}"),
        ("wires: 4", "wires: 4\n    thread: 18"),
        ("wires: 4", "wires: 4\n    fuse: Left Box"),
        ("wires: 4", "wires: 4\n    heater: {resistance: 5 ohm}"),
        ("wires: 4", "wires: 4\n    curve: {points: [[1, 2, 3], [2, 3]]}"),
        ("format: 2", "format: 1"),
        ("format: 2", "format: 3"),
        ("arrangement: inline", "arrangement: boxer"),
        ("years: 2009 to 2014", "years: soon"),
        ("steering: [left]", "steering: left"),
        ("steering: [left]", "steering: []"),
        ("make: Fenwright", "make: ' '"),
        ("make: Fenwright", "make: ~"),
    ],
)
def test_what_an_editor_can_know_to_be_wrong_is_refused(before: str, after: str) -> None:
    assert before in SENSOR
    assert accepts(SENSOR)
    assert not accepts(SENSOR.replace(before, after))


def test_words_of_the_format_are_no_numbers_to_editors() -> None:
    for schema in schemas(SCHEMA):
        for word in schema.get("enum", ()):
            if isinstance(word, str) and not word.isdigit():
                assert data_of(f"x: {word}") == {"x": word}


@pytest.mark.parametrize("path", sorted((ROOT / "vehicle_profiles").glob("*.yml")))
def test_the_first_line_of_a_profile_leads_editors_to_the_schema(path: Path) -> None:
    first_line = path.read_text("utf-8").partition("\n")[0]
    comment, _, where = first_line.partition("=")
    assert comment == "# yaml-language-server: $schema"
    assert (path.parent / where).resolve() == (ROOT / PATH).resolve()
