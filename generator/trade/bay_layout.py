"""A schematic plan of an engine in its bay: cylinders, banks, exhaust, sensors, catalysts.

In the vehicle's own axes, as bay_spots says; how it looks to a reader is standpoint's business.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.trade.bay_spots import (
    BankSpot,
    CylinderSpot,
    Manifold,
    PieceSpot,
    Pipe,
    Point,
    sign,
)
from generator.trade.exhaust_line import ExhaustLine
from generator.trade.exhaust_route import Plan, across, beside
from generator.trade.layout import Arrangement, Bank, Engine, Mounting, allowed_sides
from generator.trade.standpoint import Bay, Side

_PITCH, _LONG_ROW_PITCH, _LONG_ROW = 30, 26, 6
_ROW_OFFSET = {Arrangement.INLINE: 0, Arrangement.VEE: 20, Arrangement.FLAT: 30}
_BLOCK_EDGE = 18
_LABEL_STEP = 44.0


@dataclass(frozen=True, slots=True)
class BayLayout:
    """The plan: half the length and width of the block, and where everything is.

    `first_end` is the end of the crankshaft at which the count of the cylinders begins.
    Where a profile does not tell the side of the exhaust, one is laid out all the same, and
    `is_exhaust_side_stated` is false.
    """

    half_length: float
    half_width: float
    first_end: Side
    is_exhaust_side_stated: bool
    cylinders: tuple[CylinderSpot, ...]
    stubs: tuple[tuple[Point, Point], ...]
    pipes: tuple[Pipe, ...]
    pieces: tuple[PieceSpot, ...]
    banks: tuple[BankSpot, ...]


def bay_layout(
    engine: Engine,
    banks: Sequence[Bank],
    lines: Sequence[ExhaustLine],
    label_step: float = _LABEL_STEP,
) -> BayLayout:
    """The plan of an engine whose banks have no layout faults, with a line for each bank.

    The exhaust leaves on a bank's own side, outside a vee: common practice, no source.
    `label_step` is the room that labels beside one another want.
    """
    end = first_end(engine, banks)
    cylinders = tuple(_cylinders(engine, banks, end))
    manifolds = _manifolds(engine, banks, cylinders)
    plan = Plan(
        half_length=max(abs(spot.at[0]) for spot in cylinders) + _BLOCK_EDGE,
        half_width=max(abs(spot.at[1]) for spot in cylinders) + _BLOCK_EDGE,
        manifolds=manifolds,
        pieces={line.bank: line.pieces for line in lines},
        trunk_side=(banks[0].side or Side.REAR) if _is_merged(engine, banks) else None,
        label_step=label_step,
    )
    exhausts = beside(plan) if engine.mounting is Mounting.LONGITUDINAL else across(plan)
    return BayLayout(
        plan.half_length,
        plan.half_width,
        end,
        is_exhaust_side_stated=not _is_split_in_line(engine, banks),
        cylinders=cylinders,
        stubs=exhausts.stubs,
        pipes=exhausts.pipes,
        pieces=exhausts.pieces,
        banks=tuple(sorted(exhausts.banks, key=lambda spot: spot.bank)),
    )


def first_end(engine: Engine, banks: Sequence[Bank]) -> Side:
    """The end of the crankshaft at which the count of the cylinders begins.

    Cylinders are counted from the end away from the gearbox (DIN 73021, from memory). Where the
    gearbox is: common practice, no source. So it is the front end of an engine that stands
    lengthwise, but the rear one at the rear of the vehicle, where the gearbox is ahead of it, and
    the right one of an engine that stands across. An in-line engine split along its crankshaft
    tells by itself: it is the side of bank 1.
    """
    if _is_split_in_line(engine, banks):
        return next((bank.side for bank in banks if bank.number == 1 and bank.side), Side.FRONT)
    if engine.mounting is Mounting.TRANSVERSE:
        return Side.RIGHT
    return Side.REAR if engine.bay is Bay.REAR else Side.FRONT


def _is_split_in_line(engine: Engine, banks: Sequence[Bank]) -> bool:
    return engine.arrangement is Arrangement.INLINE and len(banks) > 1


def _is_merged(engine: Engine, banks: Sequence[Bank]) -> bool:
    return engine.arrangement is not Arrangement.INLINE and len(banks) == 1


def _cylinders(engine: Engine, banks: Sequence[Bank], end: Side) -> Iterator[CylinderSpot]:
    offset = _ROW_OFFSET[engine.arrangement]
    for side, members in _rows(engine, banks, end):
        crosses = engine.mounting is Mounting.TRANSVERSE
        pitch = _LONG_ROW_PITCH if crosses and len(members) > _LONG_ROW else _PITCH
        for index, (number, bank) in enumerate(members):
            along = sign(end) * ((len(members) - 1) / 2 - index) * pitch
            aside = sign(side) * offset
            yield CylinderSpot(number, bank, (aside, along) if crosses else (along, aside))


def _rows(
    engine: Engine, banks: Sequence[Bank], end: Side
) -> Iterator[tuple[Side, list[tuple[int | None, int]]]]:
    """Each row's side, and its cylinders with their banks in the order of the count."""
    across_crank = allowed_sides(engine, 1)
    if engine.arrangement is Arrangement.INLINE:
        in_order = sorted(banks, key=lambda bank: (bank.side is not end, bank.number))
        yield across_crank[0], [(each, bank.number) for bank in in_order for each in bank.cylinders]
    elif _is_merged(engine, banks):
        # The profile does not tell which cylinder stands in which row
        halves = (engine.cylinders + 1) // 2, engine.cylinders // 2
        for side, count in zip(across_crank, halves, strict=True):
            yield side, [(None, banks[0].number)] * count
    else:
        in_order = sorted(banks, key=lambda bank: bank.number)
        for side in across_crank:
            here = [bank for bank in in_order if bank.side is side]
            yield side, [(each, bank.number) for bank in here for each in bank.cylinders]


def _manifolds(
    engine: Engine, banks: Sequence[Bank], cylinders: Sequence[CylinderSpot]
) -> tuple[Manifold, ...]:
    grouped: dict[tuple[int, Side], list[CylinderSpot]] = {}
    for spot in cylinders:
        grouped.setdefault((spot.bank, _port_side(engine, banks, spot)), []).append(spot)
    return tuple(Manifold(bank, side, tuple(spots)) for (bank, side), spots in grouped.items())


def _port_side(engine: Engine, banks: Sequence[Bank], spot: CylinderSpot) -> Side:
    """The side on which a cylinder exhausts."""
    one, other = allowed_sides(engine, 1)
    if engine.arrangement is Arrangement.INLINE:
        # Split along the crankshaft, the banks' sides do not tell where the exhaust leaves
        return (banks[0].side if len(banks) == 1 else None) or other
    aside = spot.at[0] if engine.mounting is Mounting.TRANSVERSE else spot.at[1]
    return one if aside * sign(one) > 0 else other
