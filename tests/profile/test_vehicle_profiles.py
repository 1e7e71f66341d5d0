"""Every vehicle profile that is shipped reads without errors."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.profile import Profile, read_profile
from generator.trade.access import removal_order
from generator.trade.sensor import SensorKind

SHIPPED = sorted((Path(__file__).parents[2] / "vehicle_profiles").glob("*.y*ml"))


def profile_of(name: str) -> Profile:
    (path,) = (path for path in SHIPPED if path.stem == name)
    profile = read_profile(path).profile
    assert profile is not None
    return profile


def test_there_are_profiles() -> None:
    assert len(SHIPPED) >= 3


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_profile_reads_without_errors(path: Path) -> None:
    read = read_profile(path)
    assert not read.has_errors, "\n".join(str(finding) for finding in read.findings)
    assert read.profile is not None
    assert read.slug == path.stem


def test_the_only_warning_of_a_demonstration_is_the_one_its_comment_announces() -> None:
    found = [
        (path.stem, finding.rule)
        for path in SHIPPED
        if path.stem in ("fenwright-carrow-3-2-v6", "lowmere-pip-1-4", "kestrin-moor-2-0-flat")
        for finding in read_profile(path).findings
    ]
    assert found == [("kestrin-moor-2-0-flat", "unsourced")]


def test_carrow_has_one_torque_missing_and_obstacles_three_deep() -> None:
    carrow = profile_of("fenwright-carrow-3-2-v6")
    without = [(each.bank, each.position) for each in carrow.sensors if each.torque is None]
    assert without == [(2, 2)]
    first = carrow.sensors[0]
    off = removal_order(first.behind, carrow.under)
    assert off == ("engine-cover", "strut-brace", "air-duct", "manifold-shield")


def test_pip_states_pounds_and_fahrenheit() -> None:
    pip = profile_of("lowmere-pip-1-4")
    upstream, downstream = pip.sensors
    assert upstream.behind == []
    assert upstream.torque is not None
    assert upstream.torque.value.text == "30 to 36 lbf·ft"
    # 1 lbf·ft = 1.3558179483314 N·m (NIST SP 811, appendix B.8)
    assert upstream.torque.value.low_nm == pytest.approx(30 * 1.3558179483314)
    assert downstream.cold_resistance is not None
    assert downstream.cold_resistance.at.low_c == pytest.approx(20.0)


def test_moor_leaves_the_upstream_heaters_unspecified() -> None:
    moor = profile_of("kestrin-moor-2-0-flat")
    upstream = [each for each in moor.sensors if each.position == 1]
    assert [each.kind for each in upstream] == [SensorKind.WIDE_RANGE] * 2
    assert all(each.is_heated and each.heater is not None for each in upstream)
    assert all(each.cold_resistance is None for each in upstream)
