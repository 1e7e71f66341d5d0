"""``sondebook new``: by options, by a person at a terminal, and what it refuses."""

from __future__ import annotations

import io
import os
import pty
import re
import select
import signal
import sys
import time
from itertools import product
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.called_as import called_as
from generator.cli import main
from generator.new_command import Dialogue
from generator.profile import read_profile, read_text
from generator.profile.answer_text import NotAnAnswer
from generator.profile.answers import Answers, slug_of
from generator.profile.given import given_by_options
from generator.profile.questions import Question, ask_names, ask_rest
from generator.profile.schema import PATH, schema_text
from generator.profile.starter import starter
from generator.trade.place import Arrangement, Bay, Mounting
from generator.trade.sensor import SensorKind
from generator.trade.sensor_wiring import WIRES

SONDEBOOK = Path(sys.executable).parent / "sondebook"
PLAIN = {
    "make": "Fenwright",
    "model": "Carrow",
    "years": "2009 to 2014",
    "engine": "1.6 petrol",
    "cylinders": "4",
    "arrangement": "inline",
    "mounting": "transverse",
    "bay": "front",
    "steering": "both",
}
SENSORS = ("1.1=wide-range:5:above:in the manifold", "1.2=switching:4")
SLUG = "fenwright-carrow-1-6-petrol"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "vehicle_profiles").mkdir()
    (tmp_path / PATH).parent.mkdir(parents=True)
    (tmp_path / PATH).write_text(schema_text(), "utf-8")
    return tmp_path / "vehicle_profiles"


def options(sensors: tuple[str, ...] = SENSORS, **changes: str | None) -> list[str]:
    plain = {**PLAIN, **changes}
    words = [word for key, value in plain.items() if value for word in (f"--{key}", value)]
    return [*words, *(word for each in sensors for word in ("--sensor", each))]


def new(*arguments: str) -> tuple[int, str]:
    result = CliRunner().invoke(main, ["new", *arguments])
    assert result.exception is None or isinstance(result.exception, SystemExit)
    return result.exit_code, result.output


def refused(*arguments: str) -> str:
    """What is said when nothing is written: one sentence, or two."""
    code, said = new(*arguments)
    assert code == 2
    assert said.startswith("sondebook: ")
    assert said.count("\n") == 1
    assert said.endswith((".\n", "?\n"))
    return said.removeprefix("sondebook: ").strip()


# ---- by options


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
    said = refused(*options(sensors=()))
    assert said == (
        "the question for kind of sensor 1.1 has no answer: add `--sensor 1.1=switching:4`."
    )


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


# ---- every combination that makes sense


def answered(given_texts: dict[str, str]) -> Answers:
    dialogue = Dialogue(given_texts, unattended=True)
    return ask_rest(dialogue, ask_names(dialogue))


def findings(answers: Answers) -> list[str]:
    text = starter(answers.as_data(), "schema.json")
    return [str(each) for each in read_text(text.encode(), "a.yml", "a").findings]


@pytest.mark.parametrize("cylinders", range(1, 17))
def test_every_layout_is_proposed_without_a_finding(cylinders: int) -> None:
    for arrangement, mounting, bay in product(Arrangement, Mounting, Bay):
        for banks in range(1, min(4, cylinders) + 1):
            texts = {
                **PLAIN,
                "cylinders": str(cylinders),
                "arrangement": arrangement.value,
                "mounting": mounting.value,
                "bay": bay.value,
                "number of banks": str(banks),
                **given_by_options(
                    {}, (), [f"{bank}.1=switching:4" for bank in range(1, banks + 1)]
                ),
            }
            answers = answered(texts)
            assert len(answers.banks) == banks
            assert findings(answers) == [], texts


@pytest.mark.parametrize("kind", SensorKind)
def test_every_number_of_wires_of_a_kind_is_without_a_finding(kind: SensorKind) -> None:
    for wires in range(WIRES[kind].fewest, WIRES[kind].most + 1):
        sensors = [f"1.{position}={kind}:{wires}" for position in range(1, 5)]
        assert findings(answered(given_by_options(PLAIN, (), sensors))) == []


class Anyone:
    """Answers each question with whatever hypothesis draws, until the answer is taken."""

    def __init__(self, data: st.DataObject) -> None:
        self.data = data

    def __call__(self, question: Question[object], /) -> object:
        words = st.one_of(
            st.sampled_from([*question.choices, question.proposal, "1", "2", "4", "6", "2011"]),
            st.text(max_size=6),
            st.lists(st.integers(1, 8), max_size=5).map(lambda each: " ".join(map(str, each))),
        )
        for _ in range(5):
            try:
                return question.read(self.data.draw(words, label=question.name))
            except NotAnAnswer as refusal:
                assert str(refusal).endswith((".", "?"))
        known = {**PLAIN, **{f"place of sensor {b}.{p}": "x" for b in "1234" for p in "1234"}}
        for text in (question.proposal, known.get(question.name, ""), *question.choices, "4"):
            if text:
                return question.read(text)
        raise AssertionError(question.name)


@given(st.data())
@settings(max_examples=150)
def test_whatever_is_answered_the_profile_has_no_errors(data: st.DataObject) -> None:
    anyone = Anyone(data)
    answers = ask_rest(anyone, ask_names(anyone))
    text = starter(answers.as_data(), "schema.json")
    read = read_text(text.encode(), "a.yml", "a")
    assert not read.has_errors, (text, read.findings)
    assert {each.rule for each in read.findings} <= {"years"}


# ---- a person at a terminal


class Terminal:
    """The command on a terminal of its own, and somebody typing."""

    def __init__(self, *arguments: str, cwd: Path) -> None:
        self.process, self.hand = pty.fork()
        if self.process == 0:
            os.chdir(cwd)
            # Tests may be run where it is ignored, which a child would inherit
            signal.signal(signal.SIGINT, signal.SIG_DFL)
            os.execve(SONDEBOOK, ["sondebook", "new", *arguments], {**os.environ, "TERM": "dumb"})
        self.seen = ""

    def wait_for(self, words: str, seconds: float = 120, insisting: bytes = b"") -> str:
        """Read until the words appear; what came since the last time.

        ``insisting`` is a key pressed again every few seconds, as people do: the interpreter may
        miss an interrupt that comes just as it begins to wait for a line.
        """
        end, new_words = time.monotonic() + seconds, ""
        again = time.monotonic() + 3
        while words not in new_words:
            assert time.monotonic() < end, f"no `{words}` in: {new_words}"
            if insisting and time.monotonic() > again:
                self.press(insisting)
                again += 3
            if select.select([self.hand], [], [], 0.2)[0]:
                try:
                    new_words += os.read(self.hand, 4096).decode(errors="replace")
                except OSError:
                    break
        assert words in new_words, new_words
        self.seen += new_words
        return new_words

    def type(self, text: str) -> None:
        os.write(self.hand, f"{text}\n".encode())

    def press(self, key: bytes) -> None:
        os.write(self.hand, key)

    def status(self) -> int:
        _, status = os.waitpid(self.process, 0)
        os.close(self.hand)
        return os.waitstatus_to_exitcode(status)


def test_a_person_is_asked_and_asked_again(folder: Path) -> None:
    person = Terminal(cwd=folder.parent)
    for question, answer in (
        ("make: ", "Lowmere"), ("model: ", "Pip"), ("years: ", "2001 to 2005"),
        ("engine: ", "1.4 V6"), ("cylinders: ", "six"), ("cylinders: ", "6"),
        ("arrangement: ", "2"), ("mounting: ", "transverse"), ("bay: ", "1"),
        ("steering: ", "3"), ("number of banks [2]: ", ""),
        ("cylinders of bank 1 [1,2,3]: ", "2 3"), ("cylinders of bank 1 [1,2,3]: ", "1-3"),
        ("side of bank 1 [front]: ", "left"), ("side of bank 1 [front]: ", "rear"),
        ("number of sensors in bank 1 [2]: ", "1"), ("kind of sensor 1.1: ", "wide-range"),
        ("wires of sensor 1.1: ", "2"), ("wires of sensor 1.1: ", "5"),
        ("reach of sensor 1.1 [below]: ", "above"), ("[in the exhaust before the catalyst]: ", "y"),
        ("[in the exhaust before the catalyst]: ", ""),
        ("number of sensors in bank 2 [2]: ", "1"), ("kind of sensor 2.1 [wide-range]: ", ""),
        ("wires of sensor 2.1 [5]: ", ""), ("reach of sensor 2.1 [below]: ", ""),
        ("[in the exhaust before the catalyst]: ", "in the rear manifold"),
    ):  # fmt: skip
        person.wait_for(question)
        person.type(answer)
    person.wait_for("sondebook serve")
    assert person.status() == 0
    assert person.seen.count("Error: ") == 5
    assert "A wide-range sensor has 4 to 6 wires" in person.seen
    assert "Enter takes what is proposed in [brackets]." in person.seen
    read = read_profile(folder / "lowmere-pip-1-4-v6.yml")
    assert read.findings == ()
    assert read.profile is not None
    sides = [bank.side for bank in read.profile.banks.values()]
    assert sides == ["rear", "front"]


def test_the_next_commands_are_named_as_this_one_was_called(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    program = tmp_path / ".venv/bin/sondebook"
    program.parent.mkdir(parents=True)
    program.write_text("#!/bin/sh\n", "utf-8")
    program.chmod(0o755)
    monkeypatch.setattr("sys.argv", [str(program)])
    monkeypatch.setenv("PATH", "/nowhere")
    assert called_as() == ".venv/bin/sondebook"
    monkeypatch.setenv("PATH", str(program.parent))
    assert called_as() == "sondebook"
    monkeypatch.setattr("sys.argv", ["/usr/bin/python-m-something"])
    assert called_as() == "sondebook"


@pytest.mark.parametrize("key", [b"\x03", b"\x04"], ids=["ctrl-c", "ctrl-d"])
def test_leaving_leaves_nothing(folder: Path, key: bytes) -> None:
    person = Terminal(*options(sensors=()), cwd=folder.parent)
    person.wait_for("number of banks [1]: ")
    person.press(key)
    person.wait_for("nothing was written", insisting=key)
    assert person.status() == 2
    assert list(folder.iterdir()) == []


def test_a_person_who_chose_a_taken_name_is_told_before_the_rest(folder: Path) -> None:
    (folder / f"{SLUG}.yml").write_text("mine", "utf-8")
    person = Terminal(cwd=folder.parent)
    for key in ("make", "model", "years", "engine"):
        person.wait_for(f"{key}: ")
        person.type(PLAIN[key])
    person.wait_for("is there already")
    assert person.status() == 2


def test_a_stop_while_writing_leaves_nothing(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened = Path.open

    class Stopped(io.BytesIO):
        def write(self, _: object) -> int:
            raise KeyboardInterrupt

    def open_and_stop(self: Path, *arguments: str) -> object:
        opened(self, *arguments).close()
        return Stopped()

    monkeypatch.setattr(Path, "open", open_and_stop)
    assert refused(*options()) == "stopped, and nothing was written."
    assert list(folder.iterdir()) == []
