"""``sondebook new`` by options, and what it refuses."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

from generator.profile import read_profile
from generator.profile.answers import slug_of
from generator.profile.schema import PATH, schema_text
from tests.site.new_profile import PLAIN, SENSORS, SLUG, SONDEBOOK, new, options, refused


def test_a_profile_is_written_where_it_belongs(folder: Path) -> None:
    code, said = new(*options())
    path = folder / f"{SLUG}.yml"
    assert code == 0
    assert f"Written: vehicle_profiles/{SLUG}.yml\n" in said
    for command in ("check", "serve"):
        assert f"  sondebook {command} vehicle_profiles/{SLUG}.yml\n" in said
    read = read_profile(path)
    assert read.findings == ()
    assert read.profile is not None
    assert read.profile.sensors[0].place.where == "in the manifold"
    first_line = path.read_text("utf-8").partition("\n")[0]
    assert (folder / first_line.partition("=")[2]).resolve() == (folder.parent / PATH).resolve()


def test_what_nobody_answered_is_told_and_stands_in_the_file(folder: Path) -> None:
    _, said = new("--yes", *options())
    text = (folder / f"{SLUG}.yml").read_text("utf-8")
    for usual in ("side of bank 1: front", "reach of sensor 1.2: below", "number of banks: 1"):
        assert f"  {usual}\n" in said
        assert f"# Nobody answered this, so look at the vehicle: {usual}.\n" in text
    assert "reach of sensor 1.1" not in said
    assert all("then delete `status: draft`.\n" in each for each in (said, text))
    assert read_profile(folder / f"{SLUG}.yml").is_draft


def test_what_is_answered_throughout_is_no_draft(folder: Path) -> None:
    sensors = (SENSORS[0], f"{SENSORS[1]}:below:in the pipe")
    _, said = new("--yes", *options(sensors), "--bank", "1=1-4:front")
    text = (folder / f"{SLUG}.yml").read_text("utf-8")
    assert "# status: draft  #" in text, "it is offered, not stated"
    assert not read_profile(folder / f"{SLUG}.yml").is_draft
    assert "Nobody answered" not in said + text
    assert "is a draft" not in said + text


def test_another_folder_and_another_name(folder: Path) -> None:
    deep = folder.parent / "a/b"
    deep.mkdir(parents=True)
    code, said = new(*options(), "--profiles", "a/b", "--name", "carrow")
    assert code == 0
    first_line = (deep / "carrow.yml").read_text("utf-8").partition("\n")[0]
    assert first_line.endswith("$schema=../../docs/reference/profile.schema.json")
    assert "sondebook check a/b/carrow.yml" in said


@pytest.mark.parametrize("there", [None, "{}\n"])
def test_a_schema_that_is_missing_or_old_is_written(folder: Path, there: str | None) -> None:
    schema = folder.parent / PATH
    schema.unlink()
    if there:
        schema.write_text(there)
    _, said = new(*options())
    assert f"its first line leads there: {PATH}\n" in said
    assert schema.read_text("utf-8") == schema_text()
    _, said = new(*options(), "--name", "second")
    assert PATH not in said, "it is there already"


@pytest.mark.parametrize("key", PLAIN)
def test_a_missing_answer_names_its_option(folder: Path, key: str) -> None:
    said = refused("--yes", *options(**{key: None}))
    assert re.fullmatch(rf"the question for {key} has no answer: add `--{key} .+`\.", said)
    assert list(folder.iterdir()) == []


def test_a_missing_sensor_names_its_option(folder: Path) -> None:
    said = refused("--yes", *options(sensors=()))
    assert said == (
        "the question for kind of sensor 1.1 has no answer: add `--sensor 1.1=switching:4`."
    )


@pytest.mark.parametrize("piped", ["printf 'Fenwright\\nCarrow\\n' | $0 new", "$0 new <&-"])
def test_answers_that_are_piped_in_are_not_read_and_the_refusal_says_so(
    folder: Path, piped: str
) -> None:
    result = subprocess.run(
        ["sh", "-c", piped, SONDEBOOK],
        cwd=folder.parent,
        capture_output=True,
        text=True,
        check=False,
    )
    assert result.returncode == 2
    assert result.stderr == (
        "sondebook: the input is no terminal, so nothing is asked and nothing read from it: "
        "answer the question for make by `--make Fenwright`.\n"
    )
    assert list(folder.iterdir()) == []


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (options(years="soon"), "--years, years: `soon` is not a span of years. Write"),
        (options(years="2014 to 2009"), "--years, years: The years `2014 to 2009` run backwards"),
        (options(cylinders="40"), "--cylinders, cylinders: `40` cannot be."),
        (options(cylinders="-4"), "--cylinders, cylinders: `-4` is not a whole number."),
        (options(arrangement="boxer"), "inline, vee or flat. Did you mean `flat`?"),
        (options(arrangement="inlin"), "Did you mean `inline`?"),
        (options(make=" "), "--make, make: "),
        (options(make="x\x1b[D"), "The control character U+001B does not belong in text."),
        (options(make="a\nformat: 9"), "The answer is longer than one line."),
        (options(make="x" * 201), "The text is too long."),
        (options(make="\u200b\u0301"), "There is nothing here."),
        (options(sensors=("1.1=switching",)), "is not written as `--sensor 1.1=wide-range:5`"),
        (options(sensors=("1.1=switching:5",)), "A switching sensor has 1 to 4 wires"),
        (options(sensors=("1.1=lambda:4",)), "`lambda` is not one of them: switching, wide-range"),
        (options(sensors=("1.2=switching:4",)), "is there without 1.1"),
        (options(sensors=("0.1=switching:4",)), "There is no sensor 0.1"),
        (options(sensors=("2.1=switching:4",)), "the vehicle has no bank for `--sensor 2.1=...`"),
        (options(sensors=(*SENSORS, "2.1=switching:4")), "there is no place for the kind of"),
        (options(sensors=(*SENSORS, SENSORS[0])), "is there twice"),
        ([*options(), "--bank", "1=1,2,3"], "Cylinder 4 would be in no bank."),
        ([*options(), "--bank", "1=1,2,3,9"], "There is no cylinder 9: the engine has 1 to 4."),
        ([*options(), "--bank", "1=1,1,2"], "Cylinder 1 is there twice."),
        ([*options(), "--bank", "1=all"], "`all` is not a list of cylinders."),
        ([*options(), "--bank", "1=1-4:left"], "`left` is not one of them: front or rear."),
        ([*options(), "--bank", "2=1-4"], "`--bank` is counted from 1"),
        ([*options(), "--bank", "1=3,4", "--bank", "2=1,2"], "holds cylinder 1"),
        ([*options(), "--bank", "1=1-4", "--bank", "2=1"], "no cylinder for the banks after it"),
        ([*options(), "--bank", "1=1,2", "--bank", "2=2,3,4"], "is in an earlier bank already"),
        ([*options(), "--bank", "one"], "is not written as `--bank 1=1,2,3:rear`"),
        ([*options(), "--name", "A Car"], "--name, `A Car`: use small letters"),
        ([*options(), "--profiles", "nowhere"], "there is no folder `nowhere` here"),
        (options(make="Ж", model="Ж", engine="Ж"), "hold no Latin letter: add `--name"),
    ],
)  # fmt: skip
def test_nonsense_is_refused_and_nothing_is_written(
    folder: Path, arguments: list[str], said: str
) -> None:
    assert said in refused("--yes", *arguments)
    assert list(folder.iterdir()) == []


def test_a_file_that_is_there_is_left_as_it_is(folder: Path) -> None:
    path = folder / f"{SLUG}.yml"
    path.write_text("mine", "utf-8")
    assert "is there already" in refused(*options())
    assert path.read_text("utf-8") == "mine"


def test_a_file_that_appears_while_one_answers_is_left_as_it_is(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = folder / f"{SLUG}.yml"
    path.write_text("mine", "utf-8")
    monkeypatch.setattr(Path, "exists", lambda _: False)
    assert "is there already" in refused(*options())
    assert path.read_text("utf-8") == "mine"


def test_a_link_that_leads_nowhere_is_not_written_through(folder: Path) -> None:
    (folder / f"{SLUG}.yml").symlink_to(folder.parent / "elsewhere.yml")
    assert "is there already" in refused(*options())
    assert not (folder.parent / "elsewhere.yml").exists()


@pytest.mark.parametrize(
    ("words", "slug"),
    [
        (("Fenwright", "Carrow", "3.2 V6"), "fenwright-carrow-3-2-v6"),
        (("Brücke", "Straße", "1,6"), "brucke-strasse-1-6"),
        (("../..", "/etc", "passwd"), "etc-passwd"),
        (("Ж", "", "2.0"), "2-0"),
        (("a" * 79, "b", "c"), "a" * 79),
        (("Ж",), ""),
    ],
)
def test_the_name_of_the_file(words: tuple[str, ...], slug: str) -> None:
    assert slug_of(*words) == slug
