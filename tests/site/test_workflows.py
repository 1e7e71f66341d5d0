"""What runs on a forge: sound by the forge's schema, and each step run here as far as it can be.

No forge ran these files in this test. What a step's shell does is real, but for `pip`, which only
notes what it is asked to install, and `gh`, which notes what it would have posted. The weekly look
at other hosts is not run.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.site.collection_start import start
from tests.site.conftest import COMMANDS
from tests.site.test_compare_command import git

WEEKLY = "sondebook links --anchors --external"
NUMBER, BOT_COMMENT = "7", "4711"


@pytest.fixture
def club() -> Iterator[Path]:
    """A collection that was just started, and committed; a link checker may give up root."""
    with tempfile.TemporaryDirectory(prefix="sondebook-club-") as folder:
        Path(folder).chmod(0o755)
        start(Path(folder) / "club", "Club", "https://club.example/")
        yield committed(Path(folder) / "club")


@pytest.fixture
def repository(project: Path, root: Path) -> Path:
    """This repository, as far as its workflows use it, committed."""
    shutil.copytree(root / ".github", project / ".github")
    shutil.copy(root / "requirements.lock", project)
    (project / ".gitignore").write_text("/site/\n/preview/\n")
    return committed(project)


def committed(folder: Path) -> Path:
    git(folder, "init", "-q", "-b", "main")
    git(folder, "add", ".")
    git(folder, "commit", "-qm", "First")
    return folder


def workflow(folder: Path, name: str) -> Any:
    text = (folder / f".github/workflows/{name}.yml").read_text("utf-8")
    return yaml.load(text, Loader=yaml.BaseLoader)


# ---- sound by their schema

SCHEMAS = {
    "vendor.github-workflows": "workflows/*.yml",
    "custom.github-workflows-require-timeout": "workflows/*.yml",
    "vendor.github-issue-forms": "ISSUE_TEMPLATE/[!c]*.yml",
    "vendor.github-issue-config": "ISSUE_TEMPLATE/config.yml",
}
"""The schemas of the JSON Schema Store that check-jsonschema carries, and what each is of."""


def checked(schema: str, files: list[Path]) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "check_jsonschema", "--builtin-schema", schema, *files],
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.parametrize("schema", SCHEMAS)
def test_what_a_forge_reads_is_sound_by_its_schema(club: Path, root: Path, schema: str) -> None:
    pytest.importorskip("check_jsonschema")
    for folder in (club, root):
        files = sorted((folder / ".github").glob(SCHEMAS[schema]))
        assert files
        done = checked(schema, files)
        assert done.returncode == 0, done.stdout + done.stderr


def test_the_schema_refuses_what_is_wrong(club: Path) -> None:
    pytest.importorskip("check_jsonschema")
    path = club / ".github/workflows/preview.yml"
    path.write_text(path.read_text().replace("runs-on:", "run-on:"))
    assert checked("vendor.github-workflows", [path]).returncode == 1


def test_no_step_uses_what_can_change_under_its_name(club: Path, root: Path) -> None:
    """Each action is named with a version, and the Python with one that the program takes."""
    used = set()
    for folder in (club, root):
        for path in (folder / ".github/workflows").glob("*.yml"):
            for job in workflow(folder, path.stem)["jobs"].values():
                for step in job["steps"]:
                    used.add(step.get("uses", "actions/none@v1"))
                    assert step.get("with", {}).get("python-version", "3.12") == "3.12"
    assert all(re.fullmatch(r"actions/[a-z-]+@v\d+", each) for each in used), used


# ---- each step, run


@dataclass(frozen=True)
class Runner:
    """Runs steps in a folder as a forge's machine does, with `pip` and `gh` that only take notes.

    ``known`` is what a forge puts in place of the expressions in a step's variables.
    """

    folder: Path
    notes: Path
    known: Mapping[str, str]

    def run(self, step: Mapping[str, Any]) -> subprocess.CompletedProcess[str]:
        """What a step's shell does."""
        given = {name: self._filled(text) for name, text in step.get("env", {}).items()}
        environment = {
            **os.environ,
            "PATH": f"{self.notes}:{COMMANDS}:{os.environ['PATH']}",
            "GITHUB_STEP_SUMMARY": str(self.notes / "summary.md"),
            "NOTES": str(self.notes),
            **given,
        }
        return subprocess.run(
            ["bash", "--noprofile", "--norc", "-e", "-c", step["run"]],
            cwd=self.folder,
            env=environment,
            capture_output=True,
            text=True,
            timeout=180,
            check=False,
        )

    def _filled(self, text: str) -> str:
        return re.sub(r"\$\{\{ (.*?) \}\}", lambda found: self.known[found[1]], text)

    def note(self, name: str) -> list[list[str]]:
        """What a program was asked, call by call."""
        path = self.notes / f"{name}.log"
        return [json.loads(line) for line in path.read_text().splitlines()] if path.exists() else []


NOTE = """#!{python}
import json, os, sys
with open(os.path.join(os.environ["NOTES"], "{name}.log"), "a") as log:
    print(json.dumps(sys.argv[1:]), file=log)
{then}
"""
GH = """
way = sys.argv[-1] if "--jq" not in sys.argv else ""
if any("/pulls/" in each for each in sys.argv):
    print(os.environ["HEAD_NOW"])
elif "--paginate" in sys.argv and os.environ.get("COMMENT_THERE"):
    print(os.environ["COMMENT_THERE"])
"""


def runner(folder: Path, notes: Path, known: Mapping[str, str]) -> Runner:
    notes.mkdir()
    for name, then in (("pip", ""), ("gh", GH)):
        program = notes / name
        program.write_text(NOTE.format(python=sys.executable, name=name, then=then))
        program.chmod(0o755)
    return Runner(folder, notes, known)


def runs(flow: Any, job: str) -> Iterator[Mapping[str, Any]]:
    return (step for step in flow["jobs"][job]["steps"] if "run" in step)


def proposed(folder: Path) -> str:
    """A change on top of what is committed; gives the commit before it."""
    base = subprocess.run(
        ["git", "rev-parse", "HEAD"], cwd=folder, capture_output=True, text=True, check=True
    ).stdout.strip()
    path = next(iter(sorted((folder / "vehicle_profiles").glob("*[el]*.yml"))))
    text = path.read_text()
    changed = re.sub(r"years: \d+", "years: 1990", text, count=1)
    assert changed != text
    path.write_text(changed)
    git(folder, "commit", "-qam", "Years")
    return base


@pytest.mark.parametrize("place", ["club", "repository"])
def test_every_step_of_a_preview_runs(
    place: str, request: pytest.FixtureRequest, tmp_path: Path
) -> None:
    folder: Path = request.getfixturevalue(place)
    base = proposed(folder)
    known = {
        "github.event.pull_request.base.sha": base,
        "github.event.pull_request.number": NUMBER,
    }
    machine = runner(folder, tmp_path / "notes", known)
    flow = workflow(folder, "preview")
    for step in runs(flow, "preview"):
        done = machine.run(step)
        assert done.returncode == 0, (step, done.stdout, done.stderr)
    installed = [each for call in machine.note("pip") for each in call]
    named = [each for each in installed if each.startswith("requirements")]
    assert named and all((folder / each).is_file() for each in named)
    assert (folder / "preview/index.html").is_file()
    assert (folder / "comparison/number").read_text() == f"{NUMBER}\n"
    told = (folder / "comparison/comparison.md").read_text()
    assert "`vehicle.years`" in told and "1990" in told
    assert (tmp_path / "notes/summary.md").read_text() == told
    # What is handed on is what was made
    uploads = [step["with"] for step in flow["jobs"]["preview"]["steps"] if "with" in step]
    for upload in uploads:
        assert "path" not in upload or (folder / upload["path"]).is_dir()


def test_a_faulty_proposal_stops_the_preview(club: Path, tmp_path: Path) -> None:
    path = club / "vehicle_profiles/example.yml"
    path.write_text(path.read_text().replace("model:", "modell:"))
    machine = runner(club, tmp_path / "notes", {})
    _, check, *_ = runs(workflow(club, "preview"), "preview")
    done = machine.run(check)
    assert done.returncode == 1
    assert done.stdout.startswith("::error file=vehicle_profiles/example.yml,line=")


def test_every_step_of_publishing_runs(club: Path, tmp_path: Path) -> None:
    flow = workflow(club, "publish")
    machine = runner(club, tmp_path / "notes", {})
    skipped = []
    for step in runs(flow, "build"):
        if step["run"] == WEEKLY:
            assert step["if"] == "github.event_name == 'schedule'"
            skipped.append(step["run"])
            continue
        done = machine.run(step)
        assert done.returncode == 0, (step, done.stdout, done.stderr)
    assert skipped == [WEEKLY]
    assert machine.note("pip") == [["install", "-r", "requirements.txt", "linkchecker"]]
    (upload,) = (each for each in flow["jobs"]["build"]["steps"] if "path" in each.get("with", {}))
    assert (club / upload["with"]["path"] / "index.html").is_file()


# ---- the comment


@pytest.fixture
def posting(club: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Runner:
    """A machine that found a comparison, of a change that is still what was built."""
    folder = tmp_path / "empty"
    (folder / "comparison").mkdir(parents=True)
    (folder / "comparison/number").write_text(f"{NUMBER}\n")
    (folder / "comparison/comparison.md").write_text("### `pip`\n\n- Ask @everyone\n")
    monkeypatch.setenv("HEAD_NOW", "abc123")
    known = {
        "github.token": "none",
        "github.repository": "club/guides",
        "github.event.workflow_run.head_sha": "abc123",
    }
    return runner(folder, tmp_path / "notes", known)


def comment_step(folder: Path) -> Mapping[str, Any]:
    (step,) = runs(workflow(folder, "comment"), "comment")
    return step


def posts(machine: Runner) -> list[list[str]]:
    return [call for call in machine.note("gh") if "--method" in call]


def test_a_comparison_is_posted_and_calls_nobody(posting: Runner, club: Path) -> None:
    done = posting.run(comment_step(club))
    assert done.returncode == 0, done.stderr
    assert posts(posting) == [
        ["api", "--method", "POST", f"repos/club/guides/issues/{NUMBER}/comments",
         "-F", "body=@body.md", "--silent"],
    ]  # fmt: skip
    body = (posting.folder / "body.md").read_text()
    assert body.startswith("<!-- sondebook compare -->\n### `pip`")
    assert "@&#8203;everyone" in body and "@e" not in body


def test_the_comment_of_an_earlier_run_is_brought_up_to_date(
    posting: Runner, club: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COMMENT_THERE", BOT_COMMENT)
    assert posting.run(comment_step(club)).returncode == 0
    ((_, _, method, way, *_),) = posts(posting)
    assert (method, way) == ("PATCH", f"repos/club/guides/issues/comments/{BOT_COMMENT}")


def test_a_change_that_has_moved_on_gets_no_comment(
    posting: Runner, club: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HEAD_NOW", "def456")
    done = posting.run(comment_step(club))
    assert (done.returncode, posts(posting)) == (0, [])
    assert "has moved on" in done.stdout


@pytest.mark.parametrize(
    "number", ["", "7; touch ran", "$(touch ran)", "../9", "-1", "7\n8", "x" * 99]
)
def test_what_is_no_number_is_posted_nowhere_and_never_run(
    posting: Runner, club: Path, number: str
) -> None:
    (posting.folder / "comparison/number").write_text(number)
    done = posting.run(comment_step(club))
    calls = [each for call in posting.note("gh") for each in call]
    assert not (posting.folder / "ran").exists()
    if number == "7\n8":
        # Lines are joined: it names another change, whose state is then another one
        assert "repos/club/guides/pulls/78" in calls
    else:
        assert done.returncode == 1
        assert calls == []


def test_a_long_comparison_is_cut_to_what_a_comment_holds(posting: Runner, club: Path) -> None:
    (posting.folder / "comparison/comparison.md").write_text("ä" * 100_000)
    done = posting.run(comment_step(club))
    assert done.returncode == 0, done.stderr
    body = (posting.folder / "body.md").read_text("utf-8")
    assert len(body) < 65_536 and len(body.encode()) > 59_000
