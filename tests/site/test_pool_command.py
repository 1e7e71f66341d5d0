"""``sondebook pool``: a profile is replaced in one step, or left as it was."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest
from click.testing import CliRunner

from generator.cli import main
from generator.profile.pool import replace_file
from tests.profile.test_pool import ITEM, PROFILE, pooled, readings, sheet


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "a-car.yml"
    path.write_text(PROFILE, encoding="utf-8")
    path.chmod(0o640)
    return path


def run(*arguments: str | Path, stdin: str | None = None) -> tuple[int, str]:
    result = CliRunner().invoke(main, ["pool", *map(str, arguments)], input=stdin)
    assert result.exception is None or isinstance(result.exception, SystemExit)
    return result.exit_code, result.output


def test_the_command_writes_the_file_in_one_step(file: Path) -> None:
    code, said = run(file, stdin=sheet())
    assert code == 0
    assert said.endswith(f"1 reading added to {file}; 0 sheets not taken.\n")
    assert file.read_bytes() == pooled(PROFILE, sheet()).content
    assert stat.S_IMODE(file.stat().st_mode) == 0o640
    assert list(file.parent.iterdir()) == [file]


def test_the_command_reads_a_file_and_tells_what_it_left(file: Path, tmp_path: Path) -> None:
    posts = tmp_path / "posts.txt"
    posts.write_text(sheet() + sheet(slug="b-car"), encoding="utf-8")
    code, said = run(file, posts)
    assert code == 1
    assert "Sheet 2, line 13, is not taken: it is for `b-car`" in said
    assert len(readings(file.read_bytes())) == 1


def test_a_dry_run_prints_the_change_and_writes_nothing(file: Path) -> None:
    code, said = run(file, "--dry-run", stdin=sheet())
    assert code == 0
    assert f"+    readings:\n+      - {ITEM}\n" in said
    assert "1 reading would be added" in said
    assert file.read_text(encoding="utf-8") == PROFILE


@pytest.mark.parametrize("stdin", ["", "no sheet in here"])
def test_nothing_found_is_said(file: Path, stdin: str) -> None:
    code, said = run(file, stdin=stdin)
    assert code == 1
    assert "0 readings added" in said
    assert file.read_text(encoding="utf-8") == PROFILE


def test_a_broken_profile_is_left_alone(file: Path) -> None:
    file.write_text("format: x\n", encoding="utf-8")
    code, said = run(file, stdin=sheet())
    assert code == 2
    assert "[missing-key]" in said
    assert "mend them first" in said
    assert file.read_text(encoding="utf-8") == "format: x\n"


def test_a_profile_that_is_not_there_is_a_sentence(tmp_path: Path) -> None:
    code, said = run(tmp_path / "b-car.yml", stdin=sheet())
    assert code == 2
    assert "No such file" in said


def test_a_failed_replacement_leaves_the_old_file(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device", str(file))

    monkeypatch.setattr(os, "fchmod", full)
    with pytest.raises(OSError, match="No space"):
        replace_file(file, b"half")
    assert file.read_text(encoding="utf-8") == PROFILE
    assert list(file.parent.iterdir()) == [file]
