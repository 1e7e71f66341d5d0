"""What is said where a vehicle is older than the standard codes, a hybrid, or has no heater."""

from __future__ import annotations

from collections.abc import Callable
from gettext import NullTranslations
from typing import Any

import pytest

from generator.guide import words
from generator.guide.codes_page import codes
from generator.guide.refit_page import refit
from generator.guide.test_page import test as page_of
from generator.guide.vehicle import Vehicle

Small = Callable[..., Vehicle]

PLUG: dict[str, Any] = {
    "rows": 1,
    "columns": 1,
    "latch": "top",
    "pins": {1: {"job": "signal"}},
}


def notes_of(vehicle: Vehicle) -> list[str]:
    return page_of(vehicle, vehicle.sensors[0]).live.notes


@pytest.mark.parametrize(
    ("years", "older"), [("1988 to 1995", True), ("1995 to 2001", True), ("1996 on", False)]
)
def test_model_years_before_the_standard_codes_are_told_so(
    small: Small, years: str, older: bool
) -> None:
    vehicle = small({"vehicle.years": years})
    assert bool(codes(vehicle).older) is older
    assert any("voltmeter" in note for note in notes_of(vehicle)) is older
    basis = refit(vehicle, vehicle.sensors[0]).readiness_basis
    assert basis.startswith("Model years before 1996") is older


@pytest.mark.parametrize("hazards", [[], ["high-voltage"]])
def test_a_hybrid_is_kept_running_and_switched_on_as_its_literature_says(
    small: Small, hazards: list[str]
) -> None:
    vehicle = small({"vehicle.hazards": hazards})
    view = page_of(vehicle, vehicle.sensors[0])
    told = [*view.live.notes, *view.supply[1].details]
    assert any("keep it running" in each for each in told) is bool(hazards)
    assert any("ready state" in each for each in told) is bool(hazards)


@pytest.mark.parametrize(("wires", "warned"), [(1, True), (2, True), (4, False)])
def test_terminals_without_a_heater_take_no_ohmmeter(
    small: Small, wires: int, warned: bool
) -> None:
    pins: dict[int, Any] = {1: {"job": "signal"}}
    if not warned:
        pins |= {2: {"job": "heater-supply"}, 3: {"job": "heater-control"}}
    vehicle = small(
        {
            "connectors": {"plug": {**PLUG, "columns": len(pins), "pins": pins}},
            "sensors.0.wires": wires,
            "sensors.0.connector": {"face": "plug", "where": "on the wing"},
        }
    )
    terminals = page_of(vehicle, vehicle.sensors[0]).terminals
    assert terminals is not None
    assert ("No ohmmeter here" in terminals.caption) is warned


def test_penetrating_fluid_is_no_matter_when_a_part_goes_back(small: Small) -> None:
    shield = {"name": "heat shield", "cautions": ["penetrating-fluid", "sharp-edge"]}
    vehicle = small({"obstacles": {"shield": shield}, "sensors.0.behind": ["shield"]})
    (back,) = refit(vehicle, vehicle.sensors[0]).obstacles
    assert [word for word, _sentences in back.cautions] == ["CAUTION"]


@pytest.mark.parametrize(
    ("catalysts", "told"),
    [
        (0, ["nearest the engine", "further down the exhaust", "further down the exhaust"]),
        (1, ["before the catalyst", "after the catalyst", "further down the exhaust"]),
        (
            2,
            ["before the first catalyst", "after the first catalyst", "after the second catalyst"],
        ),
    ],
)
def test_positions_are_told_among_the_catalysts_of_the_bank(
    catalysts: int, told: list[str]
) -> None:
    t = NullTranslations()
    assert [words.along_exhaust(position, t, catalysts) for position in (1, 2, 3)] == told
