"""Every rule fires where it should, and is silent as soon as the fault is mended."""

from __future__ import annotations

import importlib
import pkgutil
from pathlib import Path

import pytest

from generator.profile import Finding, read_text, rules
from generator.profile.rules import RULES
from generator.profile.rules.rule import Rule

CASES = Path(__file__).parent / "cases"
HEATER_AT = "resistance: {value: %s ohm, at: %s, source: manual}"

# Rule, case that breaks it, and the edits that mend it
MENDED: list[tuple[str, str, list[tuple[str, str]]]] = [
    ("layout", "banks-swapped", [("[4, 5, 6]", "[0]"), ("[1, 2, 3]", "[4, 5, 6]"),
                                 ("[0]", "[1, 2, 3]")]),
    ("layout", "banks-cylinders", [("[1, 2, 2]", "[1, 2, 3]"), ("[2, 5, 8]", "[4, 5, 6]")]),
    ("layout", "banks-side-contradicts", [("left}", "rear}"), ("right}", "front}")]),
    ("layout", "banks-side-contradicts", [("transverse", "longitudinal")]),
    ("layout", "banks-side-missing", [("[1, 2, 3]", "[1, 2, 3], side: rear")]),
    ("layout", "banks-same-side", [("[4, 5, 6], side: rear", "[4, 5, 6], side: front")]),
    ("layout", "banks-unknown-number", [("  7: {cylinders: [], side: front}\n", "")]),
    ("layout", "banks-no-bank-1", [("  2: ", "  1: "), ("  3: ", "  2: ")]),
    ("layout", "banks-empty", [("[1, 2, 3, 4, 5, 6]", "[1, 2, 3]"), ("[]", "[4, 5, 6]")]),
    ("unknown-name", "no-names-declared",
     [("sensors:", "fuses: {heaters: {box: a, number: 1, rating: 15 A}}\nsensors:")]),
    ("unknown-name", "unknown-names",
     [("engin-c", "engine-c"), ("manaul", "manual"), ("source: lid", "source: manual"),
      ("bank: 2", "bank: 1"), ("brase, wiper-cowl", "brace"), ("plgu", "plug"),
      ("fuse: heater", "fuse: heaters"), ("manual-of-1998", "manual")]),
    ("circle", "circle", [("under: [cover]", "under: []")]),
    ("circle", "circle-of-one", [("under: [cover]", "under: []")]),
    ("sensor-twice", "sensor-twice", [("1\n    kind: switching\n    wires: 3",
                                       "3\n    kind: switching\n    wires: 3")]),
    ("no-heater", "no-heater", [("wires: 2", "wires: 3"), ("wires: 1", "wires: 4")]),
    ("no-heater", "no-heater", [("    heater: {}\n    fuse: heaters\n", ""),
                                ("    heater:\n      " + HEATER_AT % ("2 to 3", "20 °C"), "")]),
    ("reference-temperature", "reference-temperature", [("700 °C", "50 °C"),
                                                        ("-40 °F", "-4 °F")]),
    ("connector-face", "connector-face",
     [("5: {job: signal-ground", "4: {job: signal-ground"), ("4: {job: signal}", ""),
      ("rows: 1\n    columns: 3", "rows: 2\n    columns: 2"),
      ("{1: {job: heater-supply}, 2: {job: signal}",
       "{1: {job: heater-supply}, 4: {job: heater-control}, 2: {job: signal}")]),
    ("connector-face", "wire-colours",
     [("RDBL", "RDBU"), ("black", "BK"), ("XX", "BN"), ("rd/bu", "RD"), ("RDRD", "RDGN")]),
    ("wire-count", "wire-count", [("wires: 3", "wires: 4")]),
    ("readings", "readings",
     [("resistance: 0.2 ohm", "resistance: 2.6 ohm"), ("2.4 to 2.6", "2.4"), ("140", "68"),
      ("0.1 to 0.2", "0.1"), ("wires: 2", "wires: 3")]),
    ("far-reading", "far-reading", [("25 ohm, air: 20 °C, meter", "2.5 ohm, air: 20 °C, meter"),
                                    ("1.4 ohm", "2.4 ohm")]),
    ("unsourced", "unsourced",
     [("torque: 5 N·m", "torque: {value: 5 N·m, source: m}"),
      ("rating: 15 A", "rating: {value: 15 A, source: m}"),
      ("torque: 32 lbf·ft", "torque: {value: 32 lbf·ft, source: m}"),
      ("at: 20 °C", "at: 20 °C, source: m"),
      ("sensors:", "sources: {m: {title: Manual, kind: maker}}\nsensors:")]),
    ("likelihood-causes", "likelihood-causes",
     [("heater-opne", "heater-open"), ("ghost", "fuse"), ("-3", "3"),
      ("connectors-exchanged: 0", "connectors-exchanged: 9")]),
    ("likelihood-causes", "likelihood-without-heater", [("sensor-dead: 0", "sensor-dead: 1")]),
    ("likelihood-causes", "likelihood-without-heater", [("wires: 1", "wires: 3")]),
    ("torque-unit", "torque-unit", [("85 lbf·ft", "85 lbf·in"), ("2.2 N·m", "2.2 kgf·m"),
                                    ("36 N·m", "36 lbf·ft"), ("4 ft-lbs", "4 N·m"),
                                    ("430 kgf·m", "430 lbf·in")]),
    ("torque-unit", "torque-without-thread",
     [("360 lbf·ft", "360 lbf·in"), ("3.6 lbf·ft", "3.6 kgf·m"), ("36 in-lb", "36 lbf·ft"),
      ("4 to 5 N·m", "4 to 5 kgf·m"), ("400 to 500 N·m", "400 to 500 lbf·in")]),
    ("torque-plausible", "torque-plausible",
     [("M8x1.25, torque: {value: 500", "M8x1.25, torque: {value: 30"), ("0.3 N·m", "20 N·m"),
      ("40 to 70", "40 to 60")]),
    ("torque-plausible", "torque-without-thread", [("10 to 70", "15 to 60")]),
    ("pitch-known", "thread-and-hex", [("M8x1.75", "M8x1"), ("M13", "M14"), ("M2", "M3"),
                                       ("M18x1.25", "M18x1.5")]),
    ("hex-for-thread", "thread-and-hex", [("hex: 17 mm}", "hex: 13 mm}"), ("45 mm", "17 mm")]),
    ("sensor-thread", "thread-and-hex", [("24 mm", "7/8 in"), ("M14x1.25\n    hex: 17",
                                          "M18\n    hex: 22"), ("hex: 10 mm", "hex: 17 mm")]),
    ("heater-for-kind", "heater-for-kind", [("wide-range", "switching"),
                                            ("21 to 29", "2.1 to 2.9")]),
    ("fuse-load", "heater-for-kind", [("{value: 2 A", "{value: 4 A")]),
    ("fuse-load", "heater-for-kind", [("1.5 to 1.6", "5.5 to 6.5")]),
    ("supply-wire", "heater-for-kind", [("0.6 mm²", "0.5 mm²"), ("300 m", "3 m"), ("30 m", "3 m")]),
    ("position-gap", "positions", [("bank: 2\n    position: 2", "bank: 2\n    position: 1")]),
    ("position-without-catalyst", "positions", [("catalysts: 0", "catalysts: 1"),
                                                ("side: rear", "side: rear, catalysts: 2")]),
    ("wide-range-curve", "curve", [("[0.95, 0.2], [1.5, 0.1]", "[1.5, 0.2]"),
                                   ("kind: switching", "kind: wide-range"),
                                   ("[1.2, 0.4]", "[1.0, 0.0], [1.2, 0.4]")]),
    ("curve-zero", "curve-zero", [("[1.0, 0.2]", "[1.0, 0.04]"), ("[14.7, 0.0]", "[0.9, -0.4]"),
                                  ("[16.0, 0.3]", "[1.0, 0.0]")]),
    ("kind-wires", "kinds", [("wires: 3", "wires: 6"), ("wires: 5", "wires: 1"),
                             ("titania\n    wires: 1", "titania\n    wires: 3")]),
    ("pins-for-kind", "kinds", [("wide-range\n    wires: 4", "titania\n    wires: 4"),
                                ("job: pump", "job: signal"), ("wires: 2", "wires: 3"),
                                ("face: cold-plug", "face: wide-plug")]),
    ("unused-obstacle", "unused", [("[brace, engin-tray]", "[brace, wiper-cowl, engine-tray]")]),
    ("unused-name", "unused",
     [("  forgotten-manual: {title: Body manual, kind: maker}\n", ""),
      ("  spare-plug:\n    rows: 1\n    columns: 1\n    latch: top\n"
       "    pins: {1: {job: signal}}\n", ""),
      ("  horn: {box: engine bay, number: 5, rating: {value: 15 A, source: manual}}\n", ""),
      ("engin-tray", "engine-tray")]),
    ("years", "years-odd", [("1909", "2009")]),
    ("years", "years-odd", [("1909", "1984")]),
    ("photo-place", "photo-place", [("position-2", "position-1"),
                                    ("obstacles.brake-servo", "sensors.bank-1-position-1")]),
]  # fmt: skip


def findings_of(rule: str, text: str) -> list[Finding]:
    read = read_text(text.encode(), "a.yml", "a")
    return [finding for finding in read.findings if finding.rule == rule]


@pytest.mark.parametrize(
    ("rule", "case", "edits"), MENDED, ids=[f"{rule}-{case}" for rule, case, _ in MENDED]
)
def test_rule_fires_and_falls_silent(rule: str, case: str, edits: list[tuple[str, str]]) -> None:
    text = (CASES / f"{case}.yml").read_text(encoding="utf-8")
    (severity,) = {each.severity for each in RULES if each.name == rule}
    fired = findings_of(rule, text)
    assert fired
    assert {finding.severity for finding in fired} == {severity}
    for wrong, right in edits:
        assert wrong in text
        text = text.replace(wrong, right)
    assert findings_of(rule, text) == []
    # Mending one fault must not have been another fault that hides the rule
    assert read_text(text.encode(), "a.yml", "a").profile is not None


def test_every_rule_is_in_the_table_above() -> None:
    assert {rule.name for rule in RULES} == {rule for rule, _, _ in MENDED}


def test_every_rule_module_is_in_rules() -> None:
    modules = [each.name for each in pkgutil.iter_modules(rules.__path__) if each.name != "rule"]
    declared = {importlib.import_module(f"{rules.__name__}.{name}").RULE for name in modules}
    assert declared == set(RULES)
    assert len(RULES) == len(modules) == len({rule.name for rule in RULES})


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_rule_is_silent_on_the_least_profile(rule: Rule) -> None:
    profile = read_text((CASES / "minimal.yml").read_bytes(), "a.yml", "a").profile
    assert profile is not None
    assert list(rule.check(profile)) == []


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_rule_says_what_it_is_for(rule: Rule) -> None:
    module = importlib.import_module(rule.check.__module__)
    assert module.__doc__
    assert module.__doc__.strip().endswith(".")
