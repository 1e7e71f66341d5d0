"""Reports of a check: each format by its own standard, and the same findings in all."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft4Validator

from generator.profile import Finding, Place, ProfileFile, Severity, read_profile
from generator.profile.explanation import EXPLANATIONS, INTRODUCTION
from generator.profile.report import FORMATS, Report, as_github, as_json, as_sarif, as_text

HERE = Path(__file__).parent
SARIF = Draft4Validator(json.loads((HERE / "sarif/sarif-2.1.0-rtm.5.json").read_text("utf-8")))
FILES = [read_profile(path, path.name) for path in sorted((HERE / "cases").glob("*.yml"))]
REPORT = Report(FILES, "0.1.0")


def report_of(*findings: Finding) -> Report:
    return Report([ProfileFile("a", None, findings)], "0.1.0")


def finding(message: str = "A fault.", file: str = "a.yml", **more: Any) -> Finding:
    return Finding("unsourced", Severity.WARNING, Place(file, 2, 3, "  line"), message, **more)


def test_the_cases_hold_enough_to_mean_something() -> None:
    assert len(REPORT.findings) > 200
    assert len({each.rule for each in REPORT.findings}) > 45


def test_text_prints_each_finding_and_counts_them() -> None:
    text = as_text(REPORT)
    for each in REPORT.findings:
        assert f"{each}\n\n" in text
    errors = sum(each.severity is Severity.ERROR for each in REPORT.findings)
    warnings = len(REPORT.findings) - errors
    assert text.splitlines()[-1] == (
        f"{len(FILES)} profiles: {errors} errors, {warnings} warnings."
    )
    assert as_text(Report([], "0.1.0")) == "0 profiles: 0 errors, 0 warnings.\n"


# ---- JSON


def test_json_holds_what_its_reference_says() -> None:
    data = json.loads(as_json(REPORT))
    assert list(data) == ["version", "profiles", "errors", "warnings", "findings"]
    assert (data["version"], data["profiles"]) == (1, len(FILES))
    assert data["errors"] + data["warnings"] == len(data["findings"]) == len(REPORT.findings)
    for told, each in zip(data["findings"], REPORT.findings, strict=True):
        assert told == {
            "rule": each.rule, "severity": each.severity.value, "file": each.place.file,
            "line": each.place.line, "column": each.place.column, "at": each.at,
            "message": each.message, "mend": each.mend,
        }  # fmt: skip
    documented = set(re.findall(r"`(\w+)`", INTRODUCTION.partition("For other programs")[2]))
    assert documented >= set(data) | set(data["findings"][0])


# ---- workflow commands

COMMAND = re.compile(
    r"::(error|warning) file=([^,:]*),line=(\d+),col=(\d+),title=([^,:]*)::(.*)", re.DOTALL
)


def unescaped(text: str) -> str:
    for code, character in (("%2C", ","), ("%3A", ":"), ("%0A", "\n"), ("%0D", "\r")):
        text = text.replace(code, character)
    return text.replace("%25", "%")


def test_there_is_a_command_for_each_finding() -> None:
    lines = as_github(REPORT).splitlines()
    assert len(lines) == len(REPORT.findings)
    for line, each in zip(lines, REPORT.findings, strict=True):
        match = COMMAND.fullmatch(line)
        assert match
        severity, file, row, column, title, message = match.groups()
        assert (severity, unescaped(file), title) == (each.severity, each.place.file, each.rule)
        assert (int(row), int(column)) == (each.place.line, each.place.column)
        assert unescaped(message) == f"{each.message} {each.mend}".strip()


@given(st.text(max_size=40), st.text(max_size=20))
def test_no_text_ends_a_command_or_begins_another(message: str, file: str) -> None:
    said = as_github(report_of(finding(message, file)))
    assert said.endswith("\n")
    assert "\n" not in said[:-1]
    assert "\r" not in said
    match = COMMAND.fullmatch(said[:-1])
    assert match
    assert unescaped(match[2]) == file
    assert unescaped(match[6]) == message.strip()


# ---- SARIF


def test_sarif_is_valid_by_the_schema_of_its_standard() -> None:
    for report in (REPORT, report_of(), report_of(finding(file="/tmp/ä b.yml")), Report([], "0")):
        assert list(SARIF.iter_errors(json.loads(as_sarif(report)))) == []


def test_that_schema_refuses_what_is_no_sarif() -> None:
    for path in (("version",), ("runs", 0, "tool"), ("runs", 0, "results", 0, "message")):
        log: Any = json.loads(as_sarif(REPORT))
        holder = log
        for step in path[:-1]:
            holder = holder[step]
        del holder[path[-1]]
        assert not SARIF.is_valid(log), path


def test_sarif_says_what_was_found_where_and_what_it_means() -> None:
    (run,) = json.loads(as_sarif(REPORT))["runs"]
    rules = run["tool"]["driver"]["rules"]
    assert len(run["results"]) == len(REPORT.findings)
    for result, each in zip(run["results"], REPORT.findings, strict=True):
        assert (result["ruleId"], result["level"]) == (each.rule, each.severity)
        rule = rules[result["ruleIndex"]]
        assert (rule["id"], rule["help"]["text"]) == (each.rule, EXPLANATIONS[each.rule].text)
        assert rule["defaultConfiguration"]["level"] == each.severity
        (location,) = result["locations"]
        place = location["physicalLocation"]
        assert place["region"]["startLine"] == each.place.line
        assert place["region"]["startColumn"] == each.place.column
        assert unquote(place["artifactLocation"]["uri"]) == each.place.file


@pytest.mark.parametrize(
    ("file", "artifact"),
    [
        ("a b/ç.yml", {"uri": "a%20b/%C3%A7.yml", "uriBaseId": "%SRCROOT%"}),
        ("/tmp/a.yml", {"uri": "file:///tmp/a.yml"}),
    ],
)
def test_a_file_is_named_by_its_address(file: str, artifact: dict[str, str]) -> None:
    (run,) = json.loads(as_sarif(report_of(finding(file=file))))["runs"]
    place = run["results"][0]["locations"][0]["physicalLocation"]
    assert place["artifactLocation"] == artifact


@pytest.mark.parametrize("form", FORMATS)
def test_every_format_says_the_same_twice(form: str) -> None:
    assert FORMATS[form](REPORT) == FORMATS[form](REPORT)


def test_a_report_fails_by_errors_and_if_strict_by_warnings_that_are_no_drafts() -> None:
    published = read_profile(HERE / "cases/unsourced.yml")
    draft = read_profile(HERE / "cases/exceptions.yml")
    broken = read_profile(HERE / "cases/exceptions-unknown.yml")
    assert published.findings
    assert draft.findings
    assert draft.is_draft
    for files, fails, strictly in (
        ([], False, False),
        ([draft], False, False),
        ([published, draft], False, True),
        ([draft, broken], True, True),
    ):
        report = Report(files, "0")
        assert (report.fails(strict=False), report.fails(strict=True)) == (fails, strictly)
