"""Profiles of older formats: read with a notice, brought up to date as text, refused when newer."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from generator.cli import main
from generator.profile import Severity, read_text
from generator.profile.migrations import MIGRATIONS, migrated_content
from generator.profile.model import FORMAT, Profile
from generator.profile.tree import read_tree

CASES = Path(__file__).parent / "cases"
SHIPPED = sorted((Path(__file__).parents[2] / "vehicle_profiles").glob("*.yml"))

OLD = """\
# Read in spring.   Two blanks stay.
format: 1  # the first one
vehicle: {make: Fenwright, model: Carrow, years: 2009 to 2014}
engine: {name: 1.6 petrol, cylinders: 4, arrangement: inline, mounting: transverse, bay: front}
steering: [left]
banks:
  1: {cylinders: [1, 2, 3, 4], side: front}
sensors:
  - bank: 1
    position: 1
    kind: switching
    wires: 4
    place: {where: on the pipe, reach: above}
    readings:
      - {resistance: 5.9 ohm, on: 2026-03-14, air: 18 °C}  # on: a fine day
      - resistance: 6.1 ohm
        air: 19 °C
        on:   2026-03-15
      - {"on": 2026-03-16, resistance: 6.0 ohm, air: 19 °C}
    notes: ['on: the car', on]
"""
NEW = (
    OLD.replace("format: 1", "format: 2")
    .replace("ohm, on: 2026", "ohm, date: 2026")
    .replace("on:   2026", "date:   2026")
    .replace('{"on": 2026', '{"date": 2026')
)
OLD_NOTICE = "A reading's `on` is called `date` now, because many tools read `on` as a yes."


def as_file(text: str) -> tuple[bytes, object]:
    return migrated_content("a.yml", text.encode())


def test_the_migrations_lead_to_the_format_that_is_read() -> None:
    numbers = [(step.from_format, step.to_format) for step in MIGRATIONS]
    first = FORMAT - len(MIGRATIONS)
    assert numbers == [(number, number + 1) for number in range(first, FORMAT)]
    assert all(step.notice.endswith(".") for step in MIGRATIONS)


def test_the_number_of_the_format_is_one_everywhere() -> None:
    (annotation, *_) = Profile.model_fields["format"].annotation.__args__  # type: ignore[union-attr]
    assert annotation == FORMAT
    (empty,) = read_text(b"", "a.yml", "a").findings
    assert f"`format: {FORMAT}`" in empty.mend
    assert f"`{FORMAT}`" in (Profile.model_fields["format"].description or "")


def test_words_change_and_nothing_else_does() -> None:
    assert as_file(OLD) == (NEW.encode(), None)


def test_what_is_up_to_date_stays() -> None:
    assert as_file(NEW) == (NEW.encode(), None)
    for path in SHIPPED:
        assert migrated_content(path.name, path.read_bytes()) == (path.read_bytes(), None)


@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_line_ends_and_the_byte_order_mark_stay(line_end: str, mark: bytes) -> None:
    old, new = (mark + text.replace("\n", line_end).encode() for text in (OLD, NEW))
    assert migrated_content("a.yml", old) == (new, None)


def test_an_old_profile_is_read_as_the_new_one_with_a_notice() -> None:
    old, new = (read_text(text.encode(), "a.yml", "a") for text in (OLD, NEW))
    assert old.profile is not None
    assert old.profile == new.profile
    assert new.findings == ()
    (notice,) = old.findings
    assert (notice.rule, notice.severity) == ("old-format", Severity.WARNING)
    assert (notice.place.line, notice.place.column) == (2, 9)
    assert notice.message == f"Format 1 is read for this version only. {OLD_NOTICE}"
    assert notice.mend == f"`sondebook migrate a.yml` brings the file to format {FORMAT}."


def test_places_are_those_of_the_file() -> None:
    spoilt = (
        OLD.replace("2026-03-14, air: 18 °C", "soon, air: 180 °C")
        .replace("2026-03-15", "spring")
        .replace('"on": 2026-03-16', '"on": x, colour: red')
    )
    for rule, words in (
        ("not-a-date", ["soon", "spring", "x,"]),
        ("unknown-key", ["colour"]),
    ):
        places = [
            each.place
            for each in read_text(spoilt.encode(), "a.yml", "a").findings
            if each.rule == rule
        ]
        assert [place.text[place.column - 1 :][: len(word)] for place, word in zip(
            places, words, strict=True
        )] == words  # fmt: skip
        lines = spoilt.splitlines()
        assert all(lines[place.line - 1] == place.text for place in places)
    only_air = OLD.replace("18 °C", "180 °C")
    (wrong,) = (
        each for each in read_text(only_air.encode(), "a.yml", "a").findings
        if each.rule == "readings"
    )  # fmt: skip
    assert wrong.place.text[wrong.place.column - 1 :].startswith("180 °C")


def test_with_both_keys_a_person_decides() -> None:
    both = OLD.replace("on: 2026-03-14", "on: 2026-03-14, date: 2026-03-13")
    content, _ = as_file(both)
    assert b"on: 2026-03-14, date: 2026-03-13" in content
    found = read_text(both.encode(), "a.yml", "a").findings
    assert [each.rule for each in found] == ["old-format", "unknown-key"]


@pytest.mark.parametrize(
    ("written", "stays"),
    [
        ("format: '1'", "format: '2'"),
        ('format:  "1"', 'format:  "2"'),
        ("format:\n  1", "format:\n  2"),
    ],
)
def test_the_number_may_be_written_in_any_way(written: str, stays: str) -> None:
    content, _ = as_file(OLD.replace("format: 1", written))
    assert content.decode() == NEW.replace("format: 2", stays)


@pytest.mark.parametrize("written", ["format: |-\n  1", "format: 0", "format: [1]", "format: one"])
def test_a_number_that_is_none_is_an_error_and_changes_nothing(written: str) -> None:
    text = OLD.replace("format: 1", written)
    assert as_file(text)[0] == text.encode()
    read = read_text(text.encode(), "a.yml", "a")
    assert read.has_errors
    assert "old-format" not in {each.rule for each in read.findings}


def test_a_newer_format_is_refused_with_one_sentence() -> None:
    text = NEW.replace("format: 2", "format: 3").replace("kind: switching", "kind: of-the-future")
    (finding,) = read_text(text.encode(), "a.yml", "a").findings
    assert (finding.rule, finding.severity) == ("newer-format", Severity.ERROR)
    assert (finding.place.line, finding.place.column) == (2, 9)
    assert finding.message == (
        "The profile is of format 3, and this version of the program reads format 2 and older: "
        "install a newer version."
    )
    assert as_file(text) == (text.encode(), finding)


@given(st.text(alphabet="onformatdate:12 {}[],-\n\"'#?|x", max_size=60))
def test_whatever_stands_there_it_is_the_same_or_still_yaml(text: str) -> None:
    content, refused = as_file(f"format: 1\nsensors: [{{readings: [{{{text}")
    if refused is None and content.startswith(b"format: 2"):
        read_tree("a.yml", content)


def test_a_file_too_large_to_grow_is_refused_and_stays() -> None:
    text = OLD + "#" * (256 * 1024 - len(OLD.encode()))
    read = read_text(text.encode(), "a.yml", "a")
    assert [each.rule for each in read.findings] == ["too-large"]
    content, refused = as_file(text)
    assert content == text.encode()
    assert refused is not None


# ---- the command


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "vehicle_profiles").mkdir()
    (tmp_path / "vehicle_profiles/old.yml").write_text(OLD, "utf-8")
    (tmp_path / "vehicle_profiles/new.yml").write_text(NEW, "utf-8")
    return tmp_path / "vehicle_profiles"


def migrate(*arguments: str) -> tuple[int, str]:
    result = CliRunner().invoke(main, ["migrate", *arguments])
    return result.exit_code, result.output


def test_the_folder_is_migrated(folder: Path) -> None:
    assert migrate() == (0, "2 profiles: 1 migrated, 0 not read.\n")
    assert (folder / "old.yml").read_text("utf-8") == NEW
    assert migrate() == (0, "2 profiles: 0 migrated, 0 not read.\n")


def test_a_dry_run_shows_the_lines_and_writes_nothing(folder: Path) -> None:
    code, said = migrate("--dry-run", "vehicle_profiles/old.yml")
    assert code == 0
    assert "-format: 1  # the first one\n+format: 2  # the first one\n" in said
    assert said.endswith("1 profile: 1 would be migrated, 0 not read.\n")
    assert (folder / "old.yml").read_text("utf-8") == OLD


def test_what_cannot_be_read_is_told_and_the_rest_is_migrated(folder: Path) -> None:
    (folder / "broken.yml").write_text("format: [", "utf-8")
    (folder / "newer.yml").write_text("format: 9\n", "utf-8")
    code, said = migrate()
    assert code == 1
    assert "broken.yml:1:1: error [yaml-syntax]" in said
    assert "newer.yml:1:9: error [newer-format]" in said
    assert said.endswith("4 profiles: 1 migrated, 2 not read.\n")


def test_a_missing_file_is_one_sentence(folder: Path) -> None:
    code, said = migrate("nowhere.yml")
    assert (code, said) == (2, "sondebook: cannot use nowhere.yml: No such file or directory.\n")
