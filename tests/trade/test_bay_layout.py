"""The plan of the bay: what stands where, in the vehicle's own axes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise
from math import dist, hypot

import pytest

from generator.trade.bay_layout import BayLayout, bay_layout, first_end
from generator.trade.bay_spots import CYLINDER_RADIUS, PieceSpot, Pipe, Point
from generator.trade.exhaust_line import ExhaustLine, Piece, PieceKind
from generator.trade.place import (
    Arrangement,
    Bank,
    Bay,
    Engine,
    Mounting,
    Side,
    allowed_sides,
    layout_faults,
)

S, C = PieceKind.SENSOR, PieceKind.CATALYST
Case = tuple[Engine, tuple[Bank, ...], tuple[ExhaustLine, ...]]


def shared_out(cylinders: int, sides: Sequence[Side | None]) -> tuple[Bank, ...]:
    """Banks on these sides, each with the same number of cylinders, one after another."""
    each = cylinders // len(sides)
    return tuple(
        Bank(number, tuple(range(1 + each * (number - 1), 1 + each * number)), side)
        for number, side in enumerate(sides, start=1)
    )


def engines() -> Iterator[tuple[Engine, tuple[Bank, ...]]]:
    """Every kind of engine in every bay, with every way to share it out into banks."""
    for bay in Bay:
        for mounting in Mounting:
            for arrangement in Arrangement:
                small, large = (Engine(n, arrangement, mounting, bay) for n in (4, 12))
                six = Engine(6, arrangement, mounting, bay)
                for first, other in (one := allowed_sides(six, 1), one[::-1]):
                    yield small, shared_out(4, [first])
                    if arrangement is not Arrangement.INLINE:
                        yield six, shared_out(6, [first, other])
                        yield large, shared_out(12, [first, other, first, other])
                        yield large, shared_out(12, [first, first, other, other])
                if arrangement is Arrangement.INLINE:
                    for first, other in (two := allowed_sides(six, 2), two[::-1]):
                        yield six, shared_out(6, [first, other])
                else:
                    yield six, shared_out(6, [None])


LINES = [
    [((1,), 1)],
    [((1, 2), 1)],
    [((1, 2, 3), 2), ((1, 2), 1)],
    [((1, 2, 3, 4), 3), ((), 0)],
    [((2,), 0)],
]


def cases() -> Iterator[Case]:
    for engine, banks in engines():
        for line in LINES:
            told = [line[bank.number % len(line)] for bank in banks]
            yield (
                engine,
                banks,
                tuple(
                    ExhaustLine(bank.number, positions, catalysts)
                    for bank, (positions, catalysts) in zip(banks, told, strict=True)
                ),
            )


# What lies in the bay depends on it only by the end at which the count begins
CASES = [case for case in cases() if case[0].bay is not Bay.MID]
SIDED = [(engine, banks) for engine, banks in engines() if len(banks) == 2]


def plan(case: Case) -> BayLayout:
    return bay_layout(*case)


def segments(points: Sequence[Point]) -> list[tuple[Point, Point]]:
    return list(pairwise(points))


def along(pipe: Pipe, at: Point) -> float | None:
    """How far along a pipe a place lies, or None where it does not lie on it."""
    gone = 0.0
    for start, end in segments(pipe.points):
        if abs(dist(start, at) + dist(at, end) - dist(start, end)) < 1e-6:
            return gone + dist(start, at)
        gone += dist(start, end)
    return None


def cross(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Whether two stretches, each along an axis, touch."""
    spans = [
        (min(a[axis], b[axis]), max(a[axis], b[axis])) for a, b in (one, other) for axis in (0, 1)
    ]
    return (
        spans[0][0] <= spans[2][1]
        and spans[2][0] <= spans[0][1]
        and spans[1][0] <= spans[3][1]
        and spans[3][0] <= spans[1][1]
    )


def mean_share(layout: BayLayout, bank: int, side: Side) -> float:
    """How far to a side the cylinders of a bank lie on the average."""
    here = [spot.at for spot in layout.cylinders if spot.bank == bank]
    out_x, out_y, _ = side.outward
    return sum(x * out_x + y * out_y for x, y in here) / len(here)


def test_the_cases_are_engines_that_can_be() -> None:
    assert len(CASES) > 400
    assert {len(banks) for _, banks, _ in CASES} == {1, 2, 4}
    for engine, banks, _ in CASES:
        assert layout_faults(engine, banks) == ()


@pytest.mark.parametrize(
    ("positions", "catalysts", "passed"),
    [
        ((1,), 1, [(S, 1), (C, 1)]),
        ((1, 2), 1, [(S, 1), (C, 1), (S, 2)]),
        ((1, 2, 3), 2, [(S, 1), (C, 1), (S, 2), (C, 2), (S, 3)]),
        ((1, 2, 3, 4), 1, [(S, 1), (C, 1), (S, 2), (S, 3), (S, 4)]),
        ((2,), 2, [(C, 1), (S, 2), (C, 2)]),
        ((1, 2), 0, [(S, 1), (S, 2)]),
        ((2, 1), 1, [(S, 1), (C, 1), (S, 2)]),
        ((), 0, []),
    ],
)
def test_the_gas_passes_sensors_and_catalysts_in_this_order(
    positions: tuple[int, ...], catalysts: int, passed: list[tuple[PieceKind, int]]
) -> None:
    line = ExhaustLine(1, positions, catalysts)
    assert list(line.pieces) == [Piece(kind, number) for kind, number in passed]


@pytest.mark.parametrize("case", CASES)
def test_every_cylinder_stands_once_and_in_the_block(case: Case) -> None:
    engine, banks, _ = case
    layout = plan(case)
    numbers = [spot.number for spot in layout.cylinders]
    if engine.arrangement is not Arrangement.INLINE and len(banks) == 1:
        assert numbers == [None] * engine.cylinders, "which row holds which is not told"
    else:
        homes = {number: bank.number for bank in banks for number in bank.cylinders}
        assert {spot.number: spot.bank for spot in layout.cylinders} == homes
        assert len(numbers) == engine.cylinders
    for one, other in combinations(layout.cylinders, 2):
        assert dist(one.at, other.at) >= 2 * CYLINDER_RADIUS
    for x, y in (spot.at for spot in layout.cylinders):
        assert abs(x) + CYLINDER_RADIUS < layout.half_length
        assert abs(y) + CYLINDER_RADIUS < layout.half_width


@pytest.mark.parametrize(("engine", "banks"), SIDED)
def test_a_bank_lies_on_its_side(engine: Engine, banks: tuple[Bank, ...]) -> None:
    layout = bay_layout(engine, banks, [ExhaustLine(bank.number, (1, 2)) for bank in banks])
    for bank in banks:
        assert bank.side is not None
        assert mean_share(layout, bank.number, bank.side) > 0
        if engine.arrangement is not Arrangement.INLINE:
            out_x, out_y, _ = bank.side.outward
            for spot in layout.pieces:
                if spot.bank == bank.number:
                    beyond = spot.at[0] * out_x + spot.at[1] * out_y
                    assert beyond > max(
                        layout.half_length * abs(out_x), layout.half_width * abs(out_y)
                    )


@pytest.mark.parametrize("case", CASES)
def test_pieces_lie_on_their_pipe_in_the_order_of_the_gas(case: Case) -> None:
    _, banks, lines = case
    layout = plan(case)
    assert {pipe.bank for pipe in layout.pipes} == {bank.number for bank in banks}
    for line in lines:
        spots = [spot for spot in layout.pieces if spot.bank == line.bank]
        assert tuple(spot.piece for spot in spots) == line.pieces
        ports = [end for start, end in layout.stubs if bank_of(layout, start) == line.bank]
        for pipe in (pipe for pipe in layout.pipes if pipe.bank == line.bank):
            gone = [along(pipe, spot.at) for spot in spots]
            assert None not in gone
            assert gone == sorted(gone), "with the gas"  # type: ignore[type-var]
            into = [way for way in (along(pipe, port) for port in ports) if way is not None]
            assert into, "its cylinders lead into it"
            assert not gone or max(into) < gone[0], "all of them ahead of the first piece"  # type: ignore[operator]
        assert all(
            any(along(pipe, port) is not None for pipe in layout.pipes if pipe.bank == line.bank)
            for port in ports
        )


def bank_of(layout: BayLayout, at: Point) -> int:
    return next(spot.bank for spot in layout.cylinders if spot.at == at)


@pytest.mark.parametrize("case", CASES)
def test_every_pipe_ends_toward_the_rear_behind_the_engine(case: Case) -> None:
    layout = plan(case)
    for pipe in layout.pipes:
        before, end = pipe.points[-2:]
        assert end[0] < before[0]
        assert end[1] == before[1]
        assert end[0] < -layout.half_length
    assert all(spot.at[0] > min(p.points[-1][0] for p in layout.pipes) for spot in layout.pieces)


@pytest.mark.parametrize("case", CASES)
def test_pipes_of_different_banks_do_not_touch(case: Case) -> None:
    layout = plan(case)
    ways = [(pipe.bank, each) for pipe in layout.pipes for each in segments(pipe.points)]
    ways += [(bank_of(layout, start), (start, end)) for start, end in layout.stubs]
    for (bank, one), (other_bank, other) in combinations(ways, 2):
        assert bank == other_bank or not cross(one, other)


@pytest.mark.parametrize("case", CASES)
def test_pipes_keep_out_of_the_block_and_pieces_of_one_another(case: Case) -> None:
    layout = plan(case)
    half_length, half_width = layout.half_length, layout.half_width
    block = ((-half_length, -half_width), (half_length, half_width))
    for pipe in layout.pipes:
        for way in segments(pipe.points):
            assert not cross(way, block)
    for one, other in combinations(layout.pieces, 2):
        assert hypot(one.at[0] - other.at[0], one.at[1] - other.at[1]) > 24
        assert abs(one.label_at[0] - other.label_at[0]) > 29 or apart_aside(one, other)


def apart_aside(one: PieceSpot, other: PieceSpot) -> bool:
    if one.outward in (Side.LEFT, Side.RIGHT):
        return one.outward is not other.outward
    return abs(one.label_at[1] - other.label_at[1]) >= 44


@pytest.mark.parametrize("case", CASES)
def test_a_label_stands_outward_of_what_it_names(case: Case) -> None:
    layout = plan(case)
    assert [spot.bank for spot in layout.banks] == sorted({bank.number for bank in case[1]})
    for spot in (*layout.pieces, *layout.banks):
        out_x, out_y, _ = spot.outward.outward
        ahead = (spot.label_at[0] - spot.at[0]) * out_x + (spot.label_at[1] - spot.at[1]) * out_y
        assert ahead > 0
    labels = [spot.label_at for spot in (*layout.pieces, *layout.banks)]
    assert len(set(labels)) == len(labels)


def count_of(engine: Engine, banks: tuple[Bank, ...]) -> list[int | None]:
    """The cylinders' numbers from the first end on."""
    layout = bay_layout(engine, banks, [ExhaustLine(bank.number, (1,)) for bank in banks])
    out_x, out_y, _ = layout.first_end.outward
    in_order = sorted(layout.cylinders, key=lambda c: -(c.at[0] * out_x + c.at[1] * out_y))
    return [spot.number for spot in in_order]


@pytest.mark.parametrize(
    ("mounting", "bay", "end"),
    [
        (Mounting.LONGITUDINAL, Bay.FRONT, Side.FRONT),
        (Mounting.LONGITUDINAL, Bay.MID, Side.FRONT),
        (Mounting.LONGITUDINAL, Bay.REAR, Side.REAR),
        (Mounting.TRANSVERSE, Bay.FRONT, Side.RIGHT),
        (Mounting.TRANSVERSE, Bay.MID, Side.RIGHT),
        (Mounting.TRANSVERSE, Bay.REAR, Side.RIGHT),
    ],
)
def test_the_count_begins_away_from_the_gearbox(mounting: Mounting, bay: Bay, end: Side) -> None:
    engine = Engine(4, Arrangement.INLINE, mounting, bay)
    banks = shared_out(4, [allowed_sides(engine, 1)[0]])
    assert first_end(engine, banks) is end
    assert count_of(engine, banks) == [1, 2, 3, 4]


@pytest.mark.parametrize("mounting", Mounting)
@pytest.mark.parametrize("is_turned", [False, True])
def test_a_split_in_line_engine_counts_from_the_side_of_bank_1(
    mounting: Mounting, is_turned: bool
) -> None:
    engine = Engine(6, Arrangement.INLINE, mounting, Bay.FRONT)
    sides = allowed_sides(engine, 2)[:: -1 if is_turned else 1]
    banks = shared_out(6, sides)
    assert first_end(engine, banks) is sides[0]
    assert count_of(engine, banks) == [1, 2, 3, 4, 5, 6]
    layout = bay_layout(engine, banks, [ExhaustLine(bank.number, (1,)) for bank in banks])
    assert not layout.is_exhaust_side_stated


@pytest.mark.parametrize("engine_and_banks", list(engines()))
def test_the_exhaust_side_of_an_in_line_engine_is_the_side_of_its_bank(
    engine_and_banks: tuple[Engine, tuple[Bank, ...]],
) -> None:
    engine, banks = engine_and_banks
    layout = bay_layout(engine, banks, [ExhaustLine(bank.number, (1, 2)) for bank in banks])
    assert layout.is_exhaust_side_stated is (
        engine.arrangement is not Arrangement.INLINE or len(banks) == 1
    )
    if engine.arrangement is Arrangement.INLINE and len(banks) == 1:
        assert banks[0].side is not None
        out_x, out_y, _ = banks[0].side.outward
        assert all(spot.at[0] * out_x + spot.at[1] * out_y > 30 for spot in layout.pieces)
