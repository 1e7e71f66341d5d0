"""How the exhaust pipes run in a plan of the bay: beside the engine, or across the vehicle.

Every pipe ends toward the rear of the vehicle: common practice, no source. Where the pipes of
several banks join, a profile does not tell, and no plan shows it.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.trade.bay_spots import (
    CLEAR,
    CYLINDER_RADIUS,
    PIECE_HALF_WIDTH,
    BankSpot,
    Exhausts,
    Manifold,
    PieceSpot,
    Pipe,
    Point,
    sign,
)
from generator.trade.exhaust_line import Piece
from generator.trade.standpoint import Side

_TO_MANIFOLD = 15
_FIRST_PIECE, _NEXT_PIECE, _TAIL = 24, 34, 30
_NEXT_LANE, _NEXT_MANIFOLD = 26, 10
_RISE, _NEXT_RUN, _PAST_ENGINE = 27, 66, 16
_LABEL_HEIGHT, _BANK_LABEL = 30, 16


@dataclass(frozen=True, slots=True)
class Plan:
    """What pipes are laid from: half length and width of the block, manifolds, pieces by bank.

    `trunk_side` says where the one pipe runs into which two manifolds have merged; None where each
    manifold has a bank, and so a pipe, of its own. `label_step` is how far the labels of a sensor
    and of a catalyst beside it want to be apart.
    """

    half_length: float
    half_width: float
    manifolds: tuple[Manifold, ...]
    pieces: Mapping[int, tuple[Piece, ...]]
    trunk_side: Side | None
    label_step: float

    def on(self, side: Side) -> list[Manifold]:
        """The manifolds on a side: the foremost first, and of those the one on the right."""
        here = [each for each in self.manifolds if each.side is side]
        return sorted(here, key=lambda each: (-each.foremost, each.rightmost))


@dataclass(frozen=True, slots=True)
class _Run:
    """A straight stretch of a bank's pipe, and where on it the bank's pieces are."""

    bank: int
    level: float
    outward: Side
    places: tuple[float, ...]


def beside(plan: Plan) -> Exhausts:
    """The pipes along both sides of an engine that stands lengthwise."""
    lanes = dict(_lanes(plan))
    gutter = max(map(abs, lanes.values())) + PIECE_HALF_WIDTH + CLEAR
    join = -plan.half_length - _TO_MANIFOLD
    runs = list(_lane_runs(plan, lanes) if plan.trunk_side is None else _trunk(plan, lanes, join))
    end = min([join, *(x for run in runs for x in run.places)]) - _TAIL
    level = {run.bank: run.level for run in runs}
    ways = {
        each: [(each.foremost, y), (join, y), (join, level[each.bank]), (end, level[each.bank])]
        for each, y in lanes.items()
    }
    banks = {
        each.bank: BankSpot(
            each.bank, (each.foremost, y), (each.foremost, sign(each.side) * gutter), each.side
        )
        for each, y in lanes.items()
    }
    return Exhausts(
        stubs=tuple((spot.at, (spot.at[0], y)) for each, y in lanes.items() for spot in each.spots),
        pipes=tuple(_pipe(each.bank, way) for each, way in ways.items()),
        pieces=tuple(
            PieceSpot(run.bank, piece, (x, run.level), (x, sign(run.outward) * gutter), run.outward)
            for run in runs
            for piece, x in zip(plan.pieces[run.bank], run.places, strict=True)
        ),
        banks=tuple(banks.values()),
    )


def _pipe(bank: int, way: Sequence[Point]) -> Pipe:
    return Pipe(bank, tuple(dict.fromkeys(way)))


def _lanes(plan: Plan) -> Iterator[tuple[Manifold, float]]:
    """y of each manifold; the foremost lies outermost, so that its pipe passes the others."""
    for side in (Side.LEFT, Side.RIGHT):
        for inside, manifold in enumerate(reversed(plan.on(side))):
            yield manifold, sign(side) * (plan.half_width + _TO_MANIFOLD + _NEXT_LANE * inside)


def _lane_runs(plan: Plan, lanes: Mapping[Manifold, float]) -> Iterator[_Run]:
    """The run of each bank; of several on one side, pieces take turns, so that labels have room."""
    for side in (Side.LEFT, Side.RIGHT):
        here = plan.on(side)
        for turn, manifold in enumerate(here):
            first = min(each.rearmost for each in here) - _FIRST_PIECE - _NEXT_PIECE * turn
            step = _NEXT_PIECE * len(here)
            count = len(plan.pieces[manifold.bank])
            places = tuple(first - step * index for index in range(count))
            yield _Run(manifold.bank, lanes[manifold], side, places)


def _trunk(plan: Plan, lanes: Mapping[Manifold, float], join: float) -> Iterator[_Run]:
    """The one run of a merged exhaust: on its side, or in the middle behind the engine."""
    beside_it = [(each.side, y) for each, y in lanes.items() if each.side is plan.trunk_side]
    outward, level = beside_it[0] if beside_it else (Side.LEFT, 0.0)
    ((bank, pieces),) = plan.pieces.items()
    places = tuple(join - _FIRST_PIECE - _NEXT_PIECE * index for index in range(len(pieces)))
    yield _Run(bank, level, outward, places)


def across(plan: Plan) -> Exhausts:
    """The pipes ahead of and behind an engine that stands across the vehicle.

    Each manifold leads to the left, into a run to the right that holds its bank's pieces, and from
    there past everything to the rear.
    """
    spread = {bank: _spread(pieces, plan.label_step) for bank, pieces in plan.pieces.items()}
    reach = max((abs(y) for places in spread.values() for y in places), default=0)
    turn = max(plan.half_width + CLEAR, reach + plan.label_step)
    levels = dict(_levels(plan))
    runs = {
        each: _Run(each.bank, run, each.side, spread[each.bank])
        for each, (_, run, _) in levels.items()
        if plan.trunk_side in (None, each.side)
    }
    tails = _tails(plan, list(runs.values()), turn)
    return Exhausts(
        stubs=tuple(
            (spot.at, (level, spot.at[1]))
            for each, (level, _, _) in levels.items()
            for spot in each.spots
        ),
        pipes=tuple(
            _pipe(
                each.bank,
                [
                    (level, each.rightmost),
                    (level, turn + past),
                    (tails[each.bank][0][0], turn + past),
                    *tails[each.bank],
                ],
            )
            for each, (level, _, past) in levels.items()
        ),
        pieces=tuple(
            PieceSpot(run.bank, piece, (run.level, y), (_label_level(run), y), run.outward)
            for run in runs.values()
            for piece, y in zip(plan.pieces[run.bank], run.places, strict=True)
        ),
        banks=tuple(_bank_labels(plan, list(runs.values()), turn)),
    )


def _spread(pieces: Sequence[Piece], step: float) -> tuple[float, ...]:
    """Places from left to right about the middle; two of a kind stand twice as far apart."""
    places = [0.0]
    for one, next_ in pairwise(pieces):
        places.append(places[-1] - (step if one.kind is not next_.kind else 2 * step))
    return tuple(place - places[-1] / 2 for place in places[: len(pieces)])


def _levels(plan: Plan) -> Iterator[tuple[Manifold, tuple[float, float, float]]]:
    """x of each manifold and of its run, and how far outside it passes others on the left."""
    for side in (Side.FRONT, Side.REAR):
        here = sorted(plan.on(side), key=lambda each: each.rightmost)
        for place, manifold in enumerate(here):
            outer = plan.half_length + _TO_MANIFOLD + _NEXT_MANIFOLD * (len(here) - 1)
            level = outer - _NEXT_MANIFOLD * place
            run = outer + _RISE + _NEXT_RUN * place
            yield manifold, (sign(side) * level, sign(side) * run, _PAST_ENGINE * place)


def _tails(plan: Plan, runs: Sequence[_Run], turn: float) -> dict[int, list[Point]]:
    """Each bank's way along its run and to the rear: the further forward, the further outside."""
    rear = [_label_level(run) for run in runs if run.outward is Side.REAR]
    end = min([-plan.half_length - _TAIL, *(x - _LABEL_HEIGHT - CLEAR for x in rear)])
    from_rear = sorted(runs, key=lambda run: run.level)
    return {
        run.bank: [(run.level, y), (end, y)]
        for run, y in ((run, -turn - _PAST_ENGINE * at) for at, run in enumerate(from_rear))
    }


def _label_level(run: _Run) -> float:
    return run.level + sign(run.outward) * (PIECE_HALF_WIDTH + CLEAR / 2)


def _bank_labels(plan: Plan, runs: Sequence[_Run], turn: float) -> Iterator[BankSpot]:
    """A label at the end of each bank's row, outside any pipe that passes there."""
    passing = {
        Side.LEFT: 1 if plan.trunk_side else 0,
        Side.RIGHT: len(runs) if any(run.outward is Side.FRONT for run in runs) else 0,
    }
    taken: list[tuple[float, Side]] = []
    for manifold in {each.bank: each for each in reversed(plan.manifolds)}.values():
        x = manifold.spots[0].at[0]
        outward = Side.LEFT if manifold.leftmost + manifold.rightmost >= 0 else Side.RIGHT
        end = manifold.leftmost if outward is Side.LEFT else manifold.rightmost
        count = passing[outward]
        edge = turn + _PAST_ENGINE * (count - 1) if count else plan.half_width
        lower = _BANK_LABEL * taken.count((x, outward))
        taken.append((x, outward))
        yield BankSpot(
            manifold.bank,
            (x, end + sign(outward) * CYLINDER_RADIUS),
            (x - lower, sign(outward) * (edge + CLEAR)),
            outward,
        )
