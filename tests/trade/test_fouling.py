"""What a fouled sensor's look points at."""

from __future__ import annotations

import pytest

from generator.trade.fouling import FOULING, Look, fouling


@pytest.mark.parametrize(
    ("look", "cause"),
    [
        (Look.WHITE_GLAZE, "burning coolant"),
        (Look.BROWN_BLACK_OILY, "burning oil"),
        (Look.DRY_SOOT, "running rich"),
        (Look.WHITE_GRITTY, "silicone"),
    ],
)
def test_each_look_has_its_cause(look: Look, cause: str) -> None:
    found = fouling(look)
    assert found is not None
    assert cause in found.cause
    assert found.basis == "common practice, no source"


def test_every_fouled_look_says_how_to_confirm_and_what_to_cure() -> None:
    assert set(FOULING) == set(Look) - {Look.CLEAN}
    for found in FOULING.values():
        assert found.confirm
        assert found.cure_first


def test_a_clean_sensor_points_at_nothing() -> None:
    assert fouling(Look.CLEAN) is None


def test_only_soot_burns_off() -> None:
    assert [look for look, found in FOULING.items() if found.sensor_recovers] == [Look.DRY_SOOT]
