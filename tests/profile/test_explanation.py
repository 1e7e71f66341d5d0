"""Every finding that there can be is explained, once, and nothing else is."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from generator.cli import main
from generator.profile import read_profile, read_text
from generator.profile.explanation import EXPLANATIONS, OF_READING, OF_RULES, explanation_page
from generator.profile.folder import read_all
from generator.profile.rules import RULES

ROOT = Path(__file__).parents[2]
PROFILE = ROOT / "generator/profile"
CASES = Path(__file__).parent / "cases"
MINIMAL = (CASES / "minimal.yml").read_bytes()

READERS = (
    "source_text",
    "syntax",
    "tree",
    "reading",
    "value_fault",
    "behind_hash",
    "comma_in_brackets",
    "quotation",
    "fields",
    "dimension",
    "quantity",
    "migrations",
    "model",
    "sensor_model",
    "guide_model",
    "exceptions",
    "near_copy",
    "photo_file",
)
"""The modules that raise findings of their own, apart from the rules."""

NO_FINDINGS = {
    "common-practice",
    "wheel-arch",
    "as-delivered",
    "anti-seize",
    "cross-section",
    "utf-8-sig",
}
"""Words of the format, the name of a dimension, and an encoding."""


def words_in(module: str) -> Iterator[str]:
    """The texts in a module that look like the name of a finding, in code and not in examples."""
    tree = ast.parse((PROFILE / f"{module}.py").read_text("utf-8"))
    examples = {
        id(inner)
        for call in ast.walk(tree)
        if isinstance(call, ast.keyword) and call.arg == "examples"
        for inner in ast.walk(call)
    }
    for node in ast.walk(tree):
        word = node.value if isinstance(node, ast.Constant) and id(node) not in examples else ""
        if isinstance(word, str) and re.fullmatch(r"[a-z]+(-[a-z0-9]+)+", word):
            yield word


def test_every_name_in_the_readers_code_is_explained() -> None:
    named = {word for module in READERS for word in words_in(module)}
    assert named - NO_FINDINGS == {each.name for each in OF_READING}
    assert named >= NO_FINDINGS


def test_every_rule_is_explained_by_its_own_file() -> None:
    assert {(each.name, each.severity) for each in OF_RULES} == {
        (rule.name, rule.severity) for rule in RULES
    }
    assert len(EXPLANATIONS) == len(OF_RULES) + len(OF_READING), "one name for two findings"


ELSEWHERE = {
    "not-text": b"\xff",
    "too-large": b"#" * 300_000,
    "unseen-character": MINIMAL.replace(b"petrol", b"pet\xc2\xadrol"),
    "not-an-address": MINIMAL + b"guide: {discussion: 'javascript:alert(1)'}\n",
    "one-value": MINIMAL + b"    hex: 20 to 22 mm\n",
    "not-positive": MINIMAL + b"    torque: 0 N\xc2\xb7m\n",
    "not-a-date": MINIMAL + b"guide: {checked_on: 14.3.2026}\n",
}


def raised(tmp_path: Path) -> dict[str, str]:
    """Every finding of the cases, with its severity, and of what no case file can hold."""
    read = [read_profile(path) for path in CASES.glob("*.yml")]
    read += [read_text(content, "a.yml", "a") for content in ELSEWHERE.values()]
    pip = (ROOT / "vehicle_profiles/lowmere-pip-1-4.yml").read_text("utf-8")
    for name in ("one", "two"):
        (tmp_path / f"{name}.yml").write_text(pip, "utf-8")
    read += read_all(sorted(tmp_path.glob("*.yml")), tmp_path)
    return {each.rule: each.severity.value for file in read for each in file.findings}


def test_what_is_raised_is_explained_and_what_is_explained_is_raised(tmp_path: Path) -> None:
    assert raised(tmp_path) == {each.name: each.severity.value for each in EXPLANATIONS.values()}


@pytest.mark.parametrize("explanation", EXPLANATIONS.values(), ids=lambda each: each.name)
def test_an_explanation_begins_with_a_sentence(explanation: object) -> None:
    assert re.match(r"[A-Z`].*[.]$", explanation.summary), explanation  # type: ignore[attr-defined]
    assert explanation.text.rstrip().endswith(".")  # type: ignore[attr-defined]
    assert max(map(len, explanation.text.splitlines())) <= 100  # type: ignore[attr-defined]


def test_the_page_is_the_rules_own() -> None:
    """``python -m generator.profile.explanation > docs/reference/rules.md`` mends this."""
    page = (ROOT / "docs/reference/rules.md").read_text("utf-8")
    assert page == explanation_page()
    anchors = re.findall(r"^### (.+)$", page, re.MULTILINE)
    assert sorted(anchors) == sorted(EXPLANATIONS)


def test_the_page_shows_an_exception_that_is_read() -> None:
    (shown,) = re.findall(r"```yaml\n(.*?)```", explanation_page(), re.DOTALL)
    profile = (
        MINIMAL.decode()
        + """\
obstacles:
  shield: {name: shield, undo: [{what: bolt, thread: M8, hex: 45 mm}]}
"""
    )
    behind = profile.replace("    wires: 4\n", "    wires: 4\n    behind: [shield]\n")
    assert [each.rule for each in read_text(behind.encode(), "a", "a").findings] == [
        "hex-for-thread"
    ]
    assert read_text((behind + shown).encode(), "a", "a").findings == ()


@pytest.mark.parametrize("name", sorted(EXPLANATIONS))
def test_the_command_says_what_the_page_says(name: str) -> None:
    for asked in (name, f"[{name}]"):
        told = CliRunner().invoke(main, ["explain", asked])
        assert (told.exit_code, told.output) == (0, f"{EXPLANATIONS[name]}\n\n")


def test_the_command_lists_all_and_helps_on() -> None:
    listed = CliRunner().invoke(main, ["explain"]).output.splitlines()
    assert [line.partition(" ")[0] for line in listed] == sorted(EXPLANATIONS)
    unknown = CliRunner().invoke(main, ["explain", "torqe-unit"])
    assert unknown.exit_code == 2
    assert "Did you mean `torque-unit`?" in unknown.stderr
