"""Plausibility of what a profile states: slips are caught, and what is ordinary stays silent."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.profile import Finding, Severity, read_profile, read_text
from generator.profile.rules import RULES, torque_plausible, torque_unit
from generator.trade.sensor_threads import SENSOR_THREADS
from generator.trade.torque import TorqueUnit

CASES = Path(__file__).parent / "cases"
SHIPPED = sorted((Path(__file__).parents[2] / "vehicle_profiles").glob("*.yml"))
LBF_FT_NM = float(TorqueUnit.POUND_FORCE_FOOT.newton_metres)
(M18,) = (each.torque for each in SENSOR_THREADS if each.thread.diameter_mm == 18)

PLAUSIBILITY = {
    "curve-zero", "fuse-load", "heater-for-kind", "hex-for-thread", "kind-wires", "pins-for-kind",
    "pitch-known", "position-gap", "position-without-catalyst", "sensor-thread", "supply-wire",
    "torque-plausible", "torque-unit", "unused-name", "unused-obstacle", "years",
}  # fmt: skip

PROFILE = """
format: 2
vehicle: {make: Fenwright, model: Carrow, years: %(years)s}
engine: {name: 1.6 petrol, cylinders: 4, arrangement: inline, mounting: transverse, bay: front}
steering: [left]
banks:
  1: {cylinders: [1, 2, 3, 4], side: front}
sources:
  manual: {title: Workshop manual, kind: maker}
obstacles:
  shield:
    name: shield
    undo: [{what: bolt, thread: M8x1.25, hex: 13 mm, torque: {value: %(bolt)s, source: manual}}]
fuses:
  heaters: {box: engine bay, number: 4, rating: {value: %(rating)s, source: manual}}
sensors:
  - bank: 1
    position: 1
    kind: %(kind)s
    wires: 4
    place: {where: in the manifold, reach: above}
    behind: [shield]
    heater: {resistance: {value: %(resistance)s, at: 20 °C, source: manual}}
    fuse: heaters
    supply_wire: {size: 0.75 mm², length: %(length)s}
    thread: M18x1.5
    hex: 22 mm
    torque: {value: %(torque)s, source: manual}
"""
ORDINARY = {
    "years": "2009 to 2014", "bolt": "22 to 26 N·m", "rating": "15 A", "kind": "switching",
    "resistance": "2.1 to 2.9 ohm", "length": "3 m", "torque": "40 to 48 N·m",
}  # fmt: skip


def findings(**stated: str) -> tuple[Finding, ...]:
    text = PROFILE % {**ORDINARY, **stated}
    read = read_text(text.encode(), "a.yml", "a")
    assert read.profile is not None, [str(finding) for finding in read.findings]
    return read.findings


def rules(**stated: str) -> list[str]:
    return [finding.rule for finding in findings(**stated)]


def test_the_ordinary_profile_has_nothing_to_find() -> None:
    assert rules() == []


def test_plausibility_warns_and_never_keeps_a_vehicle_back() -> None:
    severities = {rule.name: rule.severity for rule in RULES}
    assert {severities[name] for name in PLAUSIBILITY} == {Severity.WARNING}


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_no_shipped_profile_raises_a_false_alarm(path: Path) -> None:
    found = [finding for finding in read_profile(path).findings if finding.rule in PLAUSIBILITY]
    assert found == [], "\n".join(str(finding) for finding in found)


figures = st.integers(1, 400).map(lambda tenths: tenths / 4)


@given(figures, figures)
def test_a_torque_is_flagged_where_it_leaves_the_band_and_only_there(a: float, b: float) -> None:
    low, high = sorted((a, b))
    found = rules(torque=f"{low} to {high} N·m")
    if M18.holds(low, high):
        assert found == []
    else:
        # One finding a torque: the unit where another one explains it, else the figures
        (rule,) = found
        others = (LBF_FT_NM, LBF_FT_NM / 12, 9.80665)
        explained = any(M18.holds(low * unit_nm, high * unit_nm) for unit_nm in others)
        assert rule == ("torque-unit" if explained else "torque-plausible")


@given(figures, figures)
def test_without_a_thread_only_what_no_sensor_s_thread_bears_is_flagged(a: float, b: float) -> None:
    low, high = sorted((a, b))
    torque = f"{low} to {high} N·m"
    text = PROFILE.replace("    thread: M18x1.5\n", "") % {**ORDINARY, "torque": torque}
    found = read_text(text.encode(), "a.yml", "a").findings
    lowest = min(each.torque.low_nm for each in SENSOR_THREADS)
    highest = max(each.torque.high_nm for each in SENSOR_THREADS)
    assert bool(found) == (low < lowest or high > highest)
    assert all("thread is not stated" in each.message for each in found)


@given(st.integers(26, 44))
def test_pounds_typed_as_newtons_are_caught_where_they_can_be_told(lbf_ft: int) -> None:
    """26 to 44 lbf·ft is what sensors are tightened to; up to 34 the slip shows."""
    assert rules(torque=f"{lbf_ft} lbf·ft") == []
    found = findings(torque=f"{lbf_ft} N·m")
    if lbf_ft >= M18.low_nm:
        assert found == ()
        return
    (finding,) = found
    assert finding.rule == "torque-unit"
    assert f"`{lbf_ft} N·m`" in finding.message
    assert f"lbf·ft ({lbf_ft * LBF_FT_NM:.3g} N·m)" in finding.message
    assert f"`{lbf_ft} lbf·ft`" in finding.mend


@given(st.integers(36, 60))
def test_newtons_typed_as_pounds_are_caught_where_they_can_be_told(nm: int) -> None:
    assert rules(torque=f"{nm} N·m") == []
    found = rules(torque=f"{nm} ft-lb")
    assert found == ([] if nm * LBF_FT_NM <= M18.high_nm else ["torque-unit"])


@pytest.mark.parametrize("torque", ["22 to 26 N·m", "16 to 19 lbf·ft", "240 in-lb", "2.5 kgf·m"])
def test_a_bolt_s_ordinary_torque_is_silent_in_every_unit(torque: str) -> None:
    assert rules(bolt=torque) == []


def test_the_two_torque_rules_never_say_the_same() -> None:
    for case in (
        "torque-unit", "torque-plausible", "torque-without-thread", "quantities", "unsourced"
    ):  # fmt: skip
        text = (CASES / f"{case}.yml").read_bytes()
        profile = read_text(text, "a.yml", "a").profile
        if profile is None:
            continue
        paths = [
            fault.path
            for rule in (torque_plausible.RULE, torque_unit.RULE)
            for fault in rule.check(profile)
        ]
        assert len(paths) == len(set(paths))


@pytest.mark.parametrize(
    ("stated", "expected"),
    [
        ({"years": "1976 to 2006"}, []),
        ({"years": "1975"}, ["years"]),
        ({"years": "1976 to 2007"}, ["years"]),
        ({"years": "1985 on"}, []),
        ({"kind": "wide-range", "resistance": "7.0 to 8.0 ohm"}, []),
        ({"kind": "wide-range", "resistance": "7.0 to 8.1 ohm"}, ["heater-for-kind"]),
        ({"resistance": "1.5 to 20 ohm"}, []),
        ({"resistance": "1.4 to 2.9 ohm"}, ["heater-for-kind"]),
        ({"resistance": "19 to 21 ohm"}, ["heater-for-kind"]),
        # 5.1 to 7 A at switch-on and 1.03 to 2.3 A hot: only what is surely too much is told
        ({"rating": "2 A"}, []),
        ({"rating": "1.1 A"}, []),
        ({"rating": "1 A"}, ["fuse-load"]),
        # 1.03 A through 26 ohm/km there and back: 0.36 V is lost over 6.7 m
        ({"length": "6.6 m"}, []),
        ({"length": "6.8 m"}, ["supply-wire"]),
    ],
    ids=str,
)
def test_where_a_rule_begins_to_speak(stated: dict[str, str], expected: list[str]) -> None:
    assert rules(**stated) == expected


def test_current_of_the_limits_above_is_worked_out_by_hand() -> None:
    (fuse,) = findings(rating="1 A")
    # 12 V over 2.9 ohm, a quarter of it when hot
    assert f"at least {12 / 2.9 / 4:.2g} A" in fuse.message
    (wire,) = findings(length="6.8 m")
    assert f"loses {12 / 2.9 / 4 * 0.026 * 6.8 * 2:.2g} V" in wire.message


def test_what_mending_had_to_invent_is_judged_by_no_rule_that_argues_from_it() -> None:
    found = [f.rule for f in read_profile(CASES / "mended-is-not-judged.yml").findings]
    assert not set(found) & PLAUSIBILITY
    whole = (CASES / "mended-is-not-judged.yml").read_text("utf-8")
    for wrong, right in (
        ("thimble", "switching"), ("[cover, {}]", "[]"), ("    connector: {face: plug}\n", ""),
        ("fuse: Heaters!", "wires: 4"), ("    wires: 4\n    place", "    place"),
    ):  # fmt: skip
        assert wrong in whole
        whole = whole.replace(wrong, right)
    read = read_text(whole.encode(), "a.yml", "a")
    assert {finding.rule for finding in read.findings} == {"unused-obstacle", "unused-name"}


def test_findings_of_a_case_stand_at_the_value() -> None:
    found = read_profile(CASES / "torque-unit.yml").findings
    for finding in found:
        at_value = finding.place.text[finding.place.column - 1 :]
        assert at_value.startswith(finding.message.split("`")[1])
    assert all(one.place.line < other.place.line for one, other in pairwise(found))
