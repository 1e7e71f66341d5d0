"""What a forge and an editor read in this repository says what the program does."""

from __future__ import annotations

import json
import re
import shlex
from pathlib import Path
from typing import Any

import click
import pytest
import yaml

from generator.cli import main
from generator.profile.questions import Question, ask_names, ask_rest

ROOT = Path(__file__).parents[2]
FORGE = ROOT / ".github"
FILES = [*sorted(FORGE.rglob("*.yml")), *sorted(ROOT.glob(".pre-commit-*.yaml"))]
ANSWERS = {
    "years": "2009 to 2014",
    "cylinders": "4",
    "arrangement": "inline",
    "mounting": "transverse",
    "bay": "front",
    "steering": "left",
    "number of sensors in bank 1": "1",
    "kind of sensor 1.1": "switching",
    "wires of sensor 1.1": "4",
}


def loaded(name: str) -> Any:
    return yaml.load((ROOT / name).read_text("utf-8"), Loader=yaml.BaseLoader)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_each_file_is_yaml_and_calls_commands_that_exist(path: Path) -> None:
    text = path.read_text("utf-8")
    assert yaml.safe_load(text)
    for line in re.findall(
        r"(?:run: |entry: |^ +)(?:\.venv/bin/)?(sondebook [^>|\n]+)", text, re.M
    ):
        _, name, *arguments = shlex.split(line)
        command = main.commands[name]
        known = {
            opt for each in command.params if isinstance(each, click.Option) for opt in each.opts
        }
        assert {each for each in arguments if each.startswith("--")} <= known, line
        forms = [each for each in command.params if each.name in ("format", "form")]
        if "--format" in arguments:
            said = arguments[arguments.index("--format") + 1]
            assert any(said in each.type.choices for each in forms if hasattr(each.type, "choices"))


def test_the_commands_are_found_at_all() -> None:
    text = "".join(path.read_text("utf-8") for path in FILES)
    for wanted in ("check --format github", "check --fix", "build --site-dir", "--format markdown"):
        assert wanted in text


def test_the_issue_form_asks_what_the_program_asks() -> None:
    asked: list[Question[Any]] = []

    def ask(question: Question[Any]) -> Any:
        asked.append(question)
        return question.read(ANSWERS.get(question.name) or question.proposal or "Carrow")

    ask_rest(ask, ask_names(ask))
    fields = {
        each["id"]: each
        for each in loaded(".github/ISSUE_TEMPLATE/vehicle.yml")["body"]
        if "id" in each
    }
    plain = [each for each in asked if " of " not in each.name]
    assert [each.name for each in plain] == list(fields)[: len(plain)]
    for question in plain:
        assert fields[question.name]["validations"]["required"] == "true"
        assert tuple(fields[question.name]["attributes"].get("options", ())) == question.choices
    for name in ("bank", "sensor"):
        said = str(fields[f"{name}s"]["attributes"])
        for question in asked:
            if re.search(rf" of {name} [0-9]", question.name):
                assert question.name.partition(" of ")[0] in said
                if name == "sensor":
                    assert all(word in said for word in question.choices)


def test_a_forks_run_can_write_nothing_and_the_comment_runs_nothing_of_it() -> None:
    preview = loaded(".github/workflows/preview.yml")
    assert preview["permissions"] == {"contents": "read"}
    assert list(preview["on"]) == ["pull_request"]
    text = (FORGE / "workflows/preview.yml").read_text("utf-8")
    assert "secrets." not in text and "github.token" not in text
    assert "persist-credentials: false" in text
    comment = loaded(".github/workflows/comment.yml")
    assert comment["permissions"] == {}
    assert comment["on"]["workflow_run"]["workflows"] == [preview["name"]]
    job = comment["jobs"]["comment"]
    assert job["permissions"] == {"actions": "read", "pull-requests": "write"}
    uses = [step["uses"] for step in job["steps"] if "uses" in step]
    assert uses == ["actions/download-artifact@v4"]
    # What a stranger wrote comes as a variable, never as text of the script
    for step in [*job["steps"], *preview["jobs"]["preview"]["steps"]]:
        assert "${{" not in step.get("run", "")


def test_editors_find_the_schema() -> None:
    settings = json.loads((ROOT / ".vscode/settings.json").read_text("utf-8"))
    ((schema, profiles),) = settings["yaml.schemas"].items()
    assert (ROOT / schema).is_file()
    assert list(ROOT.glob(profiles))


def test_labels_that_the_forms_name_are_listed() -> None:
    listed = {label["name"] for label in loaded(".github/labels.yml")}
    for path in (FORGE / "ISSUE_TEMPLATE").glob("*.yml"):
        assert set(yaml.safe_load(path.read_text("utf-8")).get("labels", [])) <= listed
