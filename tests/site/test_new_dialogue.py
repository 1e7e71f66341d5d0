"""``sondebook new`` with a person at a terminal, who mistypes, leaves, and comes back."""

from __future__ import annotations

import io
import os
import pty
import select
import signal
import time
from pathlib import Path

import pytest

from generator.called_as import called_as
from generator.profile import read_profile
from tests.site.new_profile import PLAIN, SLUG, SONDEBOOK, options, refused


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
