"""The findings of a check, written for a person, for a forge or for another program.

The key reference of the JSON, and what the other formats are for, stand in
``docs/reference/rules.md``.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final
from urllib.parse import quote

from generator.profile.finding import Finding, Severity
from generator.profile.reading import ProfileFile

JSON_VERSION: Final = 1
SARIF_SCHEMA: Final = "https://json.schemastore.org/sarif-2.1.0.json"
ROOT_NAME: Final = "%SRCROOT%"


@dataclass(frozen=True, slots=True)
class Report:
    """What a check found in so many profiles; ``version`` is the program's."""

    files: Sequence[ProfileFile]
    version: str

    @property
    def findings(self) -> list[Finding]:
        """Every finding, by file and place."""
        return [finding for file in self.files for finding in file.findings]

    def count(self, severity: Severity) -> int:
        """How many findings are of a severity."""
        return sum(finding.severity is severity for finding in self.findings)

    def fails(self, *, strict: bool) -> bool:
        """Whether anything must be mended; warnings too, if strict, but not in a draft."""
        return any(
            finding.severity is Severity.ERROR or (strict and not file.is_draft)
            for file in self.files
            for finding in file.findings
        )


def as_text(report: Report) -> str:
    """For a person: each finding with its line and a caret, then how many there are."""
    found = "".join(f"{finding}\n\n" for finding in report.findings)
    hint = "`sondebook explain NAME` says more of a name in brackets.\n" if found else ""
    counted = (
        f"{counting(len(report.files), 'profile')}: "
        f"{counting(report.count(Severity.ERROR), 'error')}, "
        f"{counting(report.count(Severity.WARNING), 'warning')}."
    )
    return f"{found}{hint}{counted}\n"


def as_json(report: Report) -> str:
    """For another program: one object, with the findings as a list."""
    data = {
        "version": JSON_VERSION,
        "profiles": len(report.files),
        "errors": report.count(Severity.ERROR),
        "warnings": report.count(Severity.WARNING),
        "findings": [
            {
                "rule": each.rule,
                "severity": each.severity.value,
                "file": each.place.file,
                "line": each.place.line,
                "column": each.place.column,
                "at": each.at,
                "message": each.message,
                "mend": each.mend,
            }
            for each in report.findings
        ],
    }
    return _dumped(data)


def as_github(report: Report) -> str:
    """Workflow commands, one a line, which a forge shows beside the lines of a change."""
    return "".join(f"{_command(each)}\n" for each in report.findings)


def _command(finding: Finding) -> str:
    place = finding.place
    pairs = {
        "file": place.file,
        "line": str(place.line),
        "col": str(place.column),
        "title": finding.rule,
    }
    told = ",".join(f"{key}={_property(value)}" for key, value in pairs.items())
    return f"::{finding.severity} {told}::{_data(_sentences(finding))}"


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")


def as_sarif(report: Report) -> str:
    """SARIF 2.1.0 (OASIS): one run, with the rules that found something and what each means."""
    # Late, for its cost: the explanations are read from every rule's own file
    from generator.profile.explanation import EXPLANATIONS

    names = sorted({finding.rule for finding in report.findings})
    rules = [
        {
            "id": name,
            "shortDescription": {"text": EXPLANATIONS[name].summary},
            "fullDescription": {"text": EXPLANATIONS[name].text},
            "help": {"text": EXPLANATIONS[name].text, "markdown": EXPLANATIONS[name].text},
            "defaultConfiguration": {"level": EXPLANATIONS[name].severity.value},
        }
        for name in names
    ]
    indexes = {name: index for index, name in enumerate(names)}
    run = {
        "tool": {"driver": {"name": "Sondebook", "version": report.version, "rules": rules}},
        "columnKind": "unicodeCodePoints",
        "results": [_result(each, indexes) for each in report.findings],
    }
    return _dumped({"$schema": SARIF_SCHEMA, "version": "2.1.0", "runs": [run]})


def _result(finding: Finding, indexes: Mapping[str, int]) -> dict[str, Any]:
    place = finding.place
    region: dict[str, Any] = {"startLine": place.line, "startColumn": place.column}
    if place.text:
        region["snippet"] = {"text": place.text}
    location: dict[str, Any] = {
        "physicalLocation": {"artifactLocation": _artifact(place.file), "region": region}
    }
    if finding.at:
        location["logicalLocations"] = [{"fullyQualifiedName": finding.at, "kind": "property"}]
    return {
        "ruleId": finding.rule,
        "ruleIndex": indexes[finding.rule],
        "level": finding.severity.value,
        "message": {"text": _without_links(_sentences(finding))},
        "locations": [location],
    }


def _without_links(text: str) -> str:
    """A message in which no contributed text is a link: brackets escaped (SARIF 2.1.0, 3.11.6)."""
    return text.replace("\\", "\\\\").replace("[", "\\[").replace("]", "\\]")


def _artifact(file: str) -> dict[str, str]:
    """Where a file is: from the project's folder, or, outside it, by its whole address."""
    if Path(file).is_absolute():
        return {"uri": Path(file).as_uri()}
    return {"uri": quote(file), "uriBaseId": ROOT_NAME}


def _sentences(finding: Finding) -> str:
    return f"{finding.message} {finding.mend}".strip()


def _dumped(data: Any) -> str:
    return json.dumps(data, ensure_ascii=False, indent=2) + "\n"


def counting(count: int, noun: str) -> str:
    """A count with its noun: ``1 error``, ``2 errors``."""
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


FORMATS: Final[Mapping[str, Callable[[Report], str]]] = {
    "text": as_text,
    "json": as_json,
    "github": as_github,
    "sarif": as_sarif,
}
"""What ``sondebook check --format`` takes."""
