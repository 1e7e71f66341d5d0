"""The exhaust map: what the gas of each bank passes, in its order, with the right names."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import Any

import pytest

from generator.guide.bay_sheet import LETTER
from generator.guide.exhaust_map import RADIUS, WIDTH, BankExhaust, exhaust_map
from generator.guide.vehicle import Vehicle

Small = Callable[..., Vehicle]


def with_the_gas(bank: BankExhaust) -> list[str]:
    """Every name in a drawing, from top to bottom."""
    texts = [*bank.texts, *(mark.name for mark in bank.sensors)]
    return [text.text for text in sorted(texts, key=lambda text: text.y)]


def names(bank: BankExhaust) -> list[str]:
    return [name for name in with_the_gas(bank) if name.startswith(("B", "catalyst"))]


def test_each_bank_has_its_drawing_with_its_cylinders(demo: dict[str, Vehicle]) -> None:
    for vehicle in demo.values():
        shown = exhaust_map(vehicle)
        banks = vehicle.profile.banks
        assert [bank.id for bank in shown.banks] == [f"exhaust-{n}" for n in sorted(banks)]
        for number, bank in zip(sorted(banks), shown.banks, strict=True):
            assert [mark.name for mark in bank.cylinders] == [
                str(cylinder) for cylinder in banks[number].cylinders
            ]
        assert bool(shown.note) is (len(banks) > 1)


def test_the_v8_passes_two_catalysts_on_the_left_and_one_on_the_right(
    demo: dict[str, Vehicle],
) -> None:
    left, right = exhaust_map(demo["wexmoor-ardent-4-0-v8-hybrid"]).banks
    assert names(left) == ["B1·1", "catalyst 1", "B1·2", "catalyst 2", "B1·3"]
    assert names(right) == ["B2·1", "catalyst", "B2·2"]
    assert with_the_gas(left)[-1] == "to the tail pipe"


def test_a_sensor_is_called_what_it_is(demo: dict[str, Vehicle]) -> None:
    (bank, _) = exhaust_map(demo["fenwright-carrow-3-2-v6"]).banks
    told = with_the_gas(bank)
    assert told[told.index("B1·1") + 1] == "Air-fuel sensor (wide-range)"
    assert told[told.index("B1·2") + 1] == "Oxygen sensor (switching)"


@pytest.mark.parametrize("catalysts", [0, 1, 2, 3])
@pytest.mark.parametrize("positions", [(1,), (1, 2), (1, 2, 3), (1, 2, 3, 4)])
def test_positions_and_catalysts_follow_one_another(
    small: Small, from_data: Any, catalysts: int, positions: tuple[int, ...]
) -> None:
    one = {"bank": 1, "kind": "switching", "wires": 4, "place": {"where": "here", "reach": "below"}}
    changes = {
        "banks.1.catalysts": catalysts,
        "sensors": [{**one, "position": position} for position in positions],
    }
    (bank,) = exhaust_map(small(changes)).banks
    told = names(bank)
    assert len(told) == len(positions) + catalysts
    assert [name for name in told if name.startswith("B")] == [f"B1·{p}" for p in positions]
    for position in positions[1:]:
        ahead = told[: told.index(f"B1·{position}")]
        # Position 2 has one catalyst ahead of it, position 3 two, as far as there are so many
        assert sum(name.startswith("catalyst") for name in ahead) == min(position - 1, catalysts)
    if catalysts:
        assert told.index("B1·1") == 0


@pytest.mark.parametrize("cylinders", [1, 3, 4, 8, 9, 12, 16])
def test_everything_lies_on_the_paper_and_apart(small: Small, cylinders: int) -> None:
    listed = list(range(1, cylinders + 1))
    (bank,) = exhaust_map(small({"engine.cylinders": cylinders, "banks.1.cylinders": listed})).banks
    for mark in bank.cylinders:
        assert RADIUS < mark.x < WIDTH - RADIUS
        assert RADIUS < mark.y < bank.height
    spots = [(mark.x, mark.y) for mark in bank.cylinders]
    assert len(set(spots)) == cylinders
    assert max(mark.y for mark in bank.cylinders) + RADIUS < min(mark.y for mark in bank.sensors)
    rows = sorted({text.y for text in (*bank.texts, *(mark.name for mark in bank.sensors))})
    assert all(below - above >= 15 for above, below in pairwise(rows))
    assert rows[-1] < bank.height
    for text in bank.texts:
        assert text.x + LETTER * len(text.text) <= WIDTH


def test_the_arrow_points_down_at_the_end_of_the_pipe(demo: dict[str, Vehicle]) -> None:
    for vehicle in demo.values():
        for bank in exhaust_map(vehicle).banks:
            tip, *foot = (
                tuple(map(float, corner.split())) for corner in bank.arrow.strip("Mz").split("L")
            )
            assert all(tip[1] > corner[1] for corner in foot)
            assert tip[1] > max(mark.y for mark in bank.sensors)
            assert {mark.x for mark in bank.sensors} == {tip[0]}
