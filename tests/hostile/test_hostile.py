"""Every hostile profile has a finding at its place, or is shown; and reports stay reports."""

from __future__ import annotations

import json
import re
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.profile import ProfileFile, read_profile, read_text
from generator.profile.model import Part, Profile
from generator.profile.report import Report, as_github, as_json, as_sarif, as_text
from tests.hostile.corpus import HERE, LEAST, MADE, PHOTOS, REFUSED, SHOWN, Made, expected

LONGEST_S = 1.0
SAFE = re.compile(r"[^\x00-\x09\x0b-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069]*")


def quickly(path: Path) -> ProfileFile:
    before = time.process_time()
    read = read_profile(path, f"profiles/{path.name}")
    assert time.process_time() - before < LONGEST_S
    return read


def hold(read: ProfileFile, rule: str) -> None:
    """The finding is there with its place, and no report says more than it means to."""
    assert read.profile is None
    found = [each for each in read.findings if each.severity == "error"]
    assert rule in [each.rule for each in found]
    assert all(each.place.line >= 1 and each.place.column >= 1 for each in found)
    assert any(each.mend or each.message for each in found)
    report = Report([read], "0")
    text = as_text(report)
    assert SAFE.fullmatch(text), "no control and nothing that turns text round"
    assert not [line for line in text.splitlines() if line.lstrip().startswith("::")]
    commands = as_github(report).splitlines()
    assert len(commands) == len(read.findings)
    assert all(re.match(r"::(error|warning) file=profiles/", each) for each in commands)
    assert len(json.loads(as_json(report))["findings"]) == len(read.findings)
    for result in json.loads(as_sarif(report))["runs"][0]["results"]:
        said = result["message"]["text"].replace("\\\\", "")
        assert not re.search(r"(?<!\\)\[", said), "a link, to a viewer of SARIF"


def test_there_are_enough() -> None:
    assert len(REFUSED) + len(SHOWN) + len(MADE) + len(PHOTOS) >= 300
    assert len(REFUSED) >= 150
    assert len({path.stem for path in (*REFUSED, *SHOWN)} | {made.name for made in MADE}) == (
        len(REFUSED) + len(SHOWN) + len(MADE)
    )


@pytest.mark.parametrize("path", REFUSED, ids=lambda path: path.stem)
def test_it_is_refused_at_its_place(path: Path) -> None:
    hold(quickly(path), expected(path))


@pytest.mark.parametrize("made", MADE, ids=lambda made: made.name)
def test_what_is_made_is_refused_in_time(made: Made, tmp_path: Path) -> None:
    path = tmp_path / "made.yml"
    path.write_bytes(made.content())
    hold(quickly(path), made.rule)


@pytest.mark.parametrize(("name", "rule", "content"), PHOTOS, ids=[name for name, *_ in PHOTOS])
def test_a_photo_that_means_harm_is_refused(
    name: str, rule: str, content: Any, tmp_path: Path
) -> None:
    (tmp_path / name).write_bytes(content())
    path = tmp_path / "carrow.yml"
    entry = f"{{file: {name}, at: sensors.bank-1-position-1, caption: x, shows: x}}"
    path.write_text(f"{LEAST}photos:\n  - {entry}\n", "utf-8")
    hold(quickly(path), rule)


@pytest.mark.parametrize("path", SHOWN, ids=lambda path: path.stem)
def test_what_is_only_text_is_accepted(path: Path) -> None:
    read = quickly(path)
    assert [str(each) for each in read.findings if each.severity == "error"] == []


# ---- the corpus itself


def _texts(part: type[Part], way: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """The way to every field of the model that takes any words."""
    for key, field in part.model_fields.items():
        inner = [field.annotation, *get_args(field.annotation)]
        inner += [each for one in inner for each in get_args(one)]
        parts = [each for each in inner if isinstance(each, type) and issubclass(each, Part)]
        if parts:
            yield from _texts(parts[0], (*way, key))
        elif str in inner and "max_length" in str((field.metadata, field.annotation)):
            yield (*way, key)


def _filled(data: Any, text: str, way: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    if data == text:
        yield way
    elif isinstance(data, list):
        for each in data:
            yield from _filled(each, text, way)
    elif isinstance(data, dict):
        for key, value in data.items():
            known = key in ("cover", "plug", "book", "heaters", "1", "2", "3", "4")
            yield from _filled(value, text, way if known else (*way, key))


def test_every_field_that_takes_words_is_filled() -> None:
    data = yaml.load((HERE / "shown/script.yml").read_text("utf-8"), Loader=yaml.CBaseLoader)
    filled = set(_filled(data, "<script>window.pwned=1</script>"))
    wanted = set(_texts(Profile))
    checked_otherwise = {
        # Held to colour codes, to addresses, to the ways and the rules there are
        ("connectors", "pins", "sensor_wire"),
        ("connectors", "pins", "harness_wire"),
        ("guide", "discussion"),
        ("photos", "at"),
        ("exceptions", "rule"),
        ("exceptions", "at"),
        ("exceptions", "reason"),
    }
    assert min(len(filled), len(wanted)) > 25
    assert wanted - filled - checked_otherwise == set()


# ---- the file itself


def test_a_profile_that_is_a_link_out_is_not_read(tmp_path: Path) -> None:
    outside = tmp_path / "secret.txt"
    outside.write_text("token: hunter2\n")
    folder = tmp_path / "profiles"
    folder.mkdir()
    (folder / "carrow.yml").symlink_to(outside)
    (folder / "within.yml").write_text(LEAST, "utf-8")
    (folder / "same.yml").symlink_to("within.yml")
    read = read_profile(folder / "carrow.yml")
    hold(read_profile(folder / "carrow.yml", "profiles/carrow.yml"), "file-name")
    assert "hunter2" not in as_text(Report([read], "0"))
    assert read_profile(folder / "same.yml").profile is not None


NAMES = [
    "Carrow.yml", "car row.yml", "-rf.yml", "carrow_.yml", "CON.yml", "carrow.yaml", "a..yml",
    "a--b.yml", "\u202elmy.yml", "caf\u00e9.yml", "car\u200brow.yml", "<b>.yml", "{{7*7}}.yml",
    "a;touch pwned.yml", "$(touch pwned).yml", "a%2e%2e.yml", "__proto__.yml", f"{'a' * 120}.yml",
    "a\nb.yml", "a\x1b[2J.yml", ".hidden.yml",
]  # fmt: skip


@pytest.mark.parametrize("name", NAMES, ids=[ascii(name) for name in NAMES])
def test_a_name_that_no_address_can_be_made_from_is_refused(name: str, tmp_path: Path) -> None:
    (tmp_path / name).write_text(LEAST, "utf-8")
    (finding,) = read_profile(tmp_path / name).findings
    assert finding.rule == "file-name"
    assert SAFE.fullmatch(str(finding).replace(str(tmp_path), "").partition("\n")[2])


# ---- whatever is handed in


PIECES = [path.read_bytes() for path in (*REFUSED, *SHOWN)]


@given(data=st.data(), one=st.sampled_from(PIECES), other=st.sampled_from(PIECES))
@settings(max_examples=300, deadline=None)
def test_two_hostile_profiles_in_one(data: st.DataObject, one: bytes, other: bytes) -> None:
    start, end = (data.draw(st.integers(0, len(each))) for each in (one, other))
    before = time.process_time()
    read = read_text(one[:start] + other[end:], "any.yml", "any")
    assert time.process_time() - before < LONGEST_S
    assert (read.profile is None) == read.has_errors
    assert SAFE.fullmatch("".join(map(str, read.findings)))


@given(st.integers(0, 0x10FFFF), st.booleans())
@settings(max_examples=300, deadline=None)
def test_every_character_in_a_name_is_refused_or_harmless(number: int, escaped: bool) -> None:
    character = f"\\U{number:08x}" if escaped else chr(number)
    text = LEAST.replace("model: Carrow", f'model: "Car{character}row"')
    read = read_text(text.encode("utf-8", "surrogatepass"), "any.yml", "any")
    if read.profile:
        name = read.profile.vehicle.model
        assert SAFE.fullmatch(name.replace("\t", " "))
        assert "\u200b" not in name
    assert SAFE.fullmatch("".join(map(str, read.findings)))
