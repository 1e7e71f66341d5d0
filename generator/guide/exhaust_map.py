"""The exhaust map: what the gas of each bank passes, from the cylinders to the tail pipe."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from gettext import NullTranslations
from typing import TypeAlias

from generator.guide import bay_words, words
from generator.guide.bay_map import exhaust_lines
from generator.guide.drawn import Mark, Point, SensorMark, Text, hexagon, path
from generator.guide.vehicle import Vehicle
from generator.trade.exhaust_line import ExhaustLine, Piece, PieceKind
from generator.trade.sensor import SensorKind

Kinds: TypeAlias = tuple[tuple[int, SensorKind], ...]
"""The kind of the sensor at each position of a bank."""

WIDTH = 290
RADIUS = 12
# The pipe runs down the left edge, words to its right
_PIPE_X, _WORDS_X = 16, 40
_FIRST_X, _PITCH, _MOST_IN_ROW = 46, 30, 8
_ROW, _TOP, _TO_MANIFOLD = 46, 14, 21
_FIRST_PIECE, _NEXT_PIECE, _LINE, _FOOT = 34, 46, 16, 4.5
_TAIL, _ARROW, _ARROW_HALF = 40, 11, 7
_CATALYST_HALF_LENGTH, _CATALYST_BAND, _CATALYST_HALF_WIDTH = 16, 10, 11


@dataclass(frozen=True, slots=True)
class BankExhaust:
    """The drawing of one bank's exhaust, with the gas from top to bottom."""

    id: str
    title: str
    description: str
    caption: str
    width: int
    height: float
    radius: int
    pipes: str
    arrow: str
    catalysts: str
    cylinders: tuple[Mark, ...]
    sensors: tuple[SensorMark, ...]
    texts: tuple[Text, ...]


@dataclass(frozen=True, slots=True)
class ExhaustMap:
    """The exhaust of every bank, and what the profile does not tell about them."""

    banks: tuple[BankExhaust, ...]
    note: str


def exhaust_map(vehicle: Vehicle) -> ExhaustMap:
    """The exhaust map of a vehicle, by bank."""
    _ = vehicle.t.gettext
    lines = exhaust_lines(vehicle)
    note = _(
        "Where the pipes of the banks join is not stated; a catalyst that serves several banks "
        "stands in each of them."
    )
    banks = tuple(
        _bank_exhaust(
            line,
            tuple(vehicle.profile.banks[line.bank].cylinders),
            tuple((each.position, each.kind) for each in vehicle.sensors if each.bank == line.bank),
            vehicle.t,
        )
        for line in lines
    )
    return ExhaustMap(banks, note if len(banks) > 1 else "")


@lru_cache(maxsize=256)
def _bank_exhaust(
    line: ExhaustLine, numbers: tuple[int, ...], kinds: Kinds, t: NullTranslations
) -> BankExhaust:
    """The drawing of one bank; banks with the same pieces share it, whatever their vehicle."""
    _ = t.gettext
    cylinders = tuple(_cylinders(numbers))
    manifold = max(mark.y for mark in cylinders) + _TO_MANIFOLD
    pieces = [
        (piece, manifold + _FIRST_PIECE + _NEXT_PIECE * index)
        for index, piece in enumerate(line.pieces)
    ]
    last = pieces[-1][1] if pieces else manifold
    end = last + _TAIL
    catalysts = [y for piece, y in pieces if piece.kind is PieceKind.CATALYST]
    return BankExhaust(
        id=f"exhaust-{line.bank}",
        title=_("Exhaust of bank %(bank)s") % {"bank": line.bank},
        description=bay_words.exhaust(line, t),
        caption=_("Bank %(bank)s: cylinders %(list)s")
        % {
            "bank": line.bank,
            "list": ", ".join(map(str, numbers)),
        },
        width=WIDTH,
        height=end + _LINE / 2,
        radius=RADIUS,
        pipes=path(list(_pipes(cylinders, end - _ARROW))),
        arrow=path([[(_PIPE_X, end), (_PIPE_X - 7, end - 11), (_PIPE_X + 7, end - 11)]]) + "z",
        catalysts="".join(_catalyst(y) for y in catalysts),
        cylinders=cylinders,
        sensors=tuple(
            SensorMark(_PIPE_X, y, hexagon((_PIPE_X, y)), _words(line, piece, y, kinds, t)[0])
            for piece, y in pieces
            if piece.kind is PieceKind.SENSOR
        ),
        texts=(
            *(
                text
                for piece, y in pieces
                for text in _words(line, piece, y, kinds, t)[piece.kind is PieceKind.SENSOR :]
            ),
            Text(_WORDS_X, end - _ARROW / 2 + _FOOT, "start", _("to the tail pipe")),
        ),
    )


def _cylinders(numbers: tuple[int, ...]) -> Iterator[Mark]:
    """The cylinders in rows across, the first at the left."""
    for index, number in enumerate(numbers):
        row, column = divmod(index, _MOST_IN_ROW)
        yield Mark(_FIRST_X + _PITCH * column, _TOP + _ROW * row, str(number))


def _pipes(cylinders: tuple[Mark, ...], end: float) -> Iterator[list[Point]]:
    """A stub from each cylinder, a manifold under each row, and the pipe they all lead into."""
    for mark in cylinders:
        yield [(mark.x, mark.y), (mark.x, mark.y + _TO_MANIFOLD)]
    for y in sorted({mark.y for mark in cylinders}):
        right = max(mark.x for mark in cylinders if mark.y == y)
        yield [(right, y + _TO_MANIFOLD), (_PIPE_X, y + _TO_MANIFOLD)]
    yield [(_PIPE_X, min(mark.y for mark in cylinders) + _TO_MANIFOLD), (_PIPE_X, end)]


def _catalyst(y: float) -> str:
    """A can with a band near each end."""
    half, edge, band = _CATALYST_HALF_LENGTH, _CATALYST_HALF_WIDTH, _CATALYST_BAND
    left, right = _PIPE_X - edge, _PIPE_X + edge
    can = [(left, y - half), (right, y - half), (right, y + half), (left, y + half)]
    bands = [[(left, y + at), (right, y + at)] for at in (-band, band)]
    return f"{path([can])}z{path(bands)}"


def _words(
    line: ExhaustLine, piece: Piece, y: float, kinds: Kinds, t: NullTranslations
) -> list[Text]:
    """The name of a piece, and under it what kind of sensor it is."""
    told = [bay_words.piece_name(line, piece, t)]
    if piece.kind is PieceKind.SENSOR:
        told += [words.sensor_kind(kind, t) for at, kind in kinds if at == piece.number]
    first = y + _FOOT - _LINE * (len(told) - 1) / 2
    return [Text(_WORDS_X, first + _LINE * at, "start", text) for at, text in enumerate(told)]
