"""Exceptions from warnings: what they silence, what never, and what is left of them."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.profile import Finding, Severity, read_text
from generator.profile.exceptions import NEAR_COPY, OF_ERRORS, OF_WARNINGS
from generator.profile.explanation import EXPLANATIONS
from generator.profile.rules import RULES
from generator.profile.tree import Document, read_tree
from generator.profile.way import leads_to, way
from tests.profile.test_rules import MENDED

CASES = Path(__file__).parent / "cases"
WARNS = [(rule, case) for rule, case, _ in MENDED if rule in OF_WARNINGS]
FAILS = [(rule, case) for rule, case, _ in MENDED if rule in OF_ERRORS]


def findings(text: str) -> list[Finding]:
    return list(read_text(text.encode(), "a.yml", "a").findings)


def of(rule: str, found: list[Finding]) -> list[Finding]:
    return [each for each in found if each.rule == rule]


def excepting(text: str, rule: str, at: str = "") -> str:
    place = f"at: '{at}', " if at else ""
    return f"{text.rstrip()}\nexceptions: [{{rule: {rule}, {place}reason: So it is.}}]\n"


def case(name: str) -> str:
    return (CASES / f"{name}.yml").read_text("utf-8")


def test_every_rule_that_warns_may_be_excepted_and_no_other_finding() -> None:
    assert {rule.name for rule in RULES} == OF_ERRORS | OF_WARNINGS - {NEAR_COPY}
    assert all(EXPLANATIONS[name].severity is Severity.WARNING for name in OF_WARNINGS)
    assert all(EXPLANATIONS[name].severity is Severity.ERROR for name in OF_ERRORS)


@pytest.mark.parametrize(("rule", "name"), WARNS, ids=str)
def test_an_exception_silences_its_rule_and_nothing_else(rule: str, name: str) -> None:
    before = findings(case(name))
    after = findings(excepting(case(name), rule))
    assert of(rule, before)
    assert after == [each for each in before if each.rule != rule]


@pytest.mark.parametrize(("rule", "name"), WARNS, ids=str)
def test_an_exception_at_a_place_silences_what_is_found_there(rule: str, name: str) -> None:
    for told in of(rule, findings(case(name))):
        assert told.at
        after = findings(excepting(case(name), rule, told.at))
        assert told not in after
        left = [each for each in of(rule, findings(case(name))) if not leads_to(told.at, each.at)]
        assert of(rule, after) == left


@pytest.mark.parametrize(("rule", "name"), FAILS, ids=str)
def test_an_error_is_never_silenced(rule: str, name: str) -> None:
    assert of(rule, findings(excepting(case(name), rule))) == of(rule, findings(case(name)))


@pytest.mark.parametrize(("rule", "name"), WARNS, ids=str)
def test_an_exception_is_found_once_its_fault_is_mended(rule: str, name: str) -> None:
    (edits,) = [each for one, at, each in MENDED if (one, at) == (rule, name)][:1]
    text = case(name)
    for wrong, right in edits:
        text = text.replace(wrong, right)
    (unused,) = of("unused-exception", findings(excepting(text, rule)))
    assert unused.severity is Severity.WARNING
    assert f"`{rule}`" in unused.message


def test_an_exception_does_not_silence_what_is_said_of_exceptions() -> None:
    told = findings(excepting(case("minimal"), "unused-exception"))
    assert [each.rule for each in told] == ["unknown-rule"]


def document(text: str) -> Document:
    return read_tree("a.yml", text.encode())[0]


SENSORS = document("sensors: [{bank: 2, position: 1}, {bank: 1, position: 10}, {bank: x}, y]")


@pytest.mark.parametrize(
    ("path", "written"),
    [
        ((), ""),
        (("vehicle", "years"), "vehicle.years"),
        (("banks", 1, "side"), "banks.1.side"),
        (("sensors", 0, "torque"), "sensors.bank-2-position-1.torque"),
        (("sensors", 1), "sensors.bank-1-position-10"),
        (("sensors", 2, "kind"), "sensors.3.kind"),
        (("sensors", 3), "sensors.4"),
        (("sensors", 9), "sensors.10"),
        (("sensors", 1, "readings", 0), "sensors.bank-1-position-10.readings.0"),
    ],
)
def test_the_way_is_written_for_people(path: tuple[str | int, ...], written: str) -> None:
    assert way(path, SENSORS.data) == written


def test_entries_of_lists_are_counted_from_one() -> None:
    data = document("obstacles: {shield: {undo: [{what: clip}, {what: bolt}]}}").data
    assert way(("obstacles", "shield", "undo", 1, "hex"), data) == "obstacles.shield.undo.2.hex"


STEPS = st.lists(st.sampled_from(["sensors", "1", "10", "torque"]), min_size=1, max_size=4)


@given(STEPS, STEPS)
def test_a_way_leads_to_what_stands_below_it(way_there: list[str], goal: list[str]) -> None:
    leads = leads_to(".".join(way_there), ".".join(goal))
    assert leads == (goal[: len(way_there)] == way_there)
    assert leads_to(None, ".".join(goal))
