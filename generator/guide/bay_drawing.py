"""The geometry of a bay map as one reader sees it: the plan turned, its texts upright."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import hypot

from generator.guide.bay_sheet import LINE, Sheet
from generator.guide.drawn import Mark, SensorMark, Text, hexagon, numbers, path, rounded
from generator.guide.page_turn import PageTurn
from generator.trade.bay_layout import BayLayout
from generator.trade.bay_spots import CYLINDER_RADIUS, PIECE_HALF_WIDTH, PieceSpot, Point, sign
from generator.trade.exhaust_line import Piece, PieceKind
from generator.trade.place import Landmark, Side, Wheel

_CATALYST_HALF_LENGTH, _CATALYST_BAND = 14, 9
_ARROW, _ARROW_HALF = 11, 7
_LEADER_GAP, _SHORTEST_LEADER = 4, 5
# From the middle of a line of text to its foot
_FOOT = 4.5
_MOST_LINES = 2
_FRONT_NOTES, _REAR_NOTES, _NOTE_GAP, _EDGE = 2, 1, 5, 2

Rectangle = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class BayLabels:
    """What stands in a drawing: the lines of each piece, with the sensor's name as the first.

    `notes` stand outside the front and the rear end, the nearest first; `cabin` at the wheel.
    """

    banks: Mapping[int, str]
    pieces: Mapping[tuple[int, Piece], tuple[str, ...]]
    landmarks: Mapping[Landmark, str]
    notes: Mapping[Side, Sequence[str]]
    cabin: Sequence[str]
    wheels: Sequence[Wheel]


@dataclass(frozen=True, slots=True)
class BayDrawing:
    """One drawing, ready for its template: rectangles (x, y, width, height), and SVG's paths."""

    view_box: str
    body: str
    bars: tuple[Rectangle, Rectangle]
    engine: Rectangle
    boxes: tuple[Rectangle, ...]
    pipes: str
    arrows: str
    catalysts: str
    leaders: str
    cylinders: tuple[Mark, ...]
    radius: int
    sensors: tuple[SensorMark, ...]
    wheels: tuple[Mark, ...]
    texts: tuple[Text, ...]


def bay_drawing(layout: BayLayout, sheet: Sheet, turn: PageTurn, labels: BayLabels) -> BayDrawing:
    """A plan on its sheet, turned for a reader."""
    lines = [(spot, labels.pieces[spot.bank, spot.piece]) for spot in layout.pieces]
    sensors = [each for each in lines if each[0].piece.kind is PieceKind.SENSOR]
    catalysts = [spot for spot in layout.pieces if spot.piece.kind is PieceKind.CATALYST]
    return BayDrawing(
        view_box=numbers(*_paper(sheet, turn)),
        body=_body(sheet, turn),
        bars=(_bar(sheet, 0, turn), _bar(sheet, 1, turn)),
        engine=_box(
            turn, (layout.half_length, layout.half_width), (-layout.half_length, -layout.half_width)
        ),
        boxes=tuple(
            _box(
                turn,
                (box.at[0] + box.half_length, box.at[1] + box.half_width),
                (box.at[0] - box.half_length, box.at[1] - box.half_width),
            )
            for box in sheet.boxes
        ),
        pipes=_line_path(
            [*layout.stubs, *(_without_tip(pipe.points) for pipe in layout.pipes)], turn
        ),
        arrows="".join(_arrow(pipe.points, turn) for pipe in layout.pipes),
        catalysts="".join(_catalyst(spot, turn) for spot in catalysts),
        leaders=_line_path(list(_leaders(layout)), turn),
        cylinders=tuple(
            Mark(*rounded(turn.at(spot.at)), str(spot.number or "")) for spot in layout.cylinders
        ),
        radius=CYLINDER_RADIUS,
        sensors=tuple(_sensor(spot, told, turn) for spot, told in sensors),
        wheels=tuple(
            Mark(*rounded(turn.at(sheet.wheel(wheel))), wheel.value) for wheel in labels.wheels
        ),
        texts=tuple(_texts(layout, sheet, turn, labels)),
    )


def sensor_mark(bank: int, position: int) -> str:
    """The class of a sensor in a drawing, by which a page fills it: ``b1p2``."""
    return f"b{bank}p{position}"


def _paper(sheet: Sheet, turn: PageTurn) -> Rectangle:
    """Left, top, width and height of the whole drawing, notes and strokes included."""
    ends = {
        side: sheet.end(side) + sign(side) * (_NOTE_GAP + LINE * lines + _EDGE)
        for side, lines in ((Side.FRONT, _FRONT_NOTES), (Side.REAR, _REAR_NOTES))
    }
    half_width = sheet.half_width + _EDGE
    return _box(turn, (ends[Side.FRONT], half_width), (ends[Side.REAR], -half_width))


def _box(turn: PageTurn, corner: Point, opposite: Point) -> Rectangle:
    (x1, y1), (x2, y2) = rounded(turn.at(corner)), rounded(turn.at(opposite))
    return min(x1, x2), min(y1, y2), abs(x1 - x2), abs(y1 - y2)


def _body(sheet: Sheet, turn: PageTurn) -> str:
    """Both sides of the body, and the curve of the bumper between them."""
    # The tip of a curve is half as far out as the point that pulls it
    pull = 2 * sheet.nose_x - sheet.outer_x
    corners = [
        (sheet.open_x, sheet.half_width),
        (sheet.outer_x, sheet.half_width),
        (pull, 0.0),
        (sheet.outer_x, -sheet.half_width),
        (sheet.open_x, -sheet.half_width),
    ]
    start, near, tip, far, stop = (numbers(*turn.at(corner)) for corner in corners)
    return f"M{start}L{near}Q{tip} {far}L{stop}"


def _bar(sheet: Sheet, which: int, turn: PageTurn) -> Rectangle:
    bar = sheet.bars[which]
    return _box(
        turn,
        (bar.x + bar.half_length, bar.half_width),
        (bar.x - bar.half_length, -bar.half_width),
    )


def _line_path(lines: Sequence[Sequence[Point]], turn: PageTurn) -> str:
    return path([[turn.at(point) for point in points] for points in lines])


def _along(start: Point, end: Point) -> Point:
    length = hypot(end[0] - start[0], end[1] - start[1])
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length


def _without_tip(points: Sequence[Point]) -> list[Point]:
    """A pipe up to the foot of its arrow."""
    x, y = points[-1]
    dx, dy = _along(points[-2], points[-1])
    return [*points[:-1], (x - dx * _ARROW, y - dy * _ARROW)]


def _arrow(points: Sequence[Point], turn: PageTurn) -> str:
    x, y = points[-1]
    dx, dy = _along(points[-2], points[-1])
    foot = x - dx * _ARROW, y - dy * _ARROW
    corners = [
        (x, y),
        (foot[0] - dy * _ARROW_HALF, foot[1] + dx * _ARROW_HALF),
        (foot[0] + dy * _ARROW_HALF, foot[1] - dx * _ARROW_HALF),
    ]
    return f"{_line_path([corners], turn)}z"


def _catalyst(spot: PieceSpot, turn: PageTurn) -> str:
    """A can with a band near each end."""
    x, y = spot.at
    lengthwise = spot.outward in (Side.LEFT, Side.RIGHT)

    def corner(along: float, aside: float) -> Point:
        return (x + along, y + aside) if lengthwise else (x + aside, y + along)

    half, edge, band = _CATALYST_HALF_LENGTH, PIECE_HALF_WIDTH, _CATALYST_BAND
    can = [corner(half, edge), corner(half, -edge), corner(-half, -edge), corner(-half, edge)]
    bands = [[corner(at, edge), corner(at, -edge)] for at in (band, -band)]
    return f"{_line_path([can], turn)}z{_line_path(bands, turn)}"


def _leaders(layout: BayLayout) -> Iterator[tuple[Point, Point]]:
    """From each bank and piece to its label, where the label stands further off."""
    spots = [(spot.at, spot.label_at, spot.outward, 0) for spot in layout.banks]
    spots += [(spot.at, spot.label_at, spot.outward, PIECE_HALF_WIDTH) for spot in layout.pieces]
    for at, label_at, outward, edge in spots:
        out_x, out_y, _ = outward.outward
        start = at[0] + out_x * edge, at[1] + out_y * edge
        end = label_at[0] - out_x * _LEADER_GAP, label_at[1] - out_y * _LEADER_GAP
        if (end[0] - start[0]) * out_x + (end[1] - start[1]) * out_y > _SHORTEST_LEADER:
            yield start, end


def _sensor(spot: PieceSpot, lines: Sequence[str], turn: PageTurn) -> SensorMark:
    x, y = rounded(turn.at(spot.at))
    name, *_ = _label(spot.label_at, spot.outward, lines, turn)
    return SensorMark(x, y, hexagon((x, y)), name, sensor_mark(spot.bank, spot.piece.number))


def _texts(layout: BayLayout, sheet: Sheet, turn: PageTurn, labels: BayLabels) -> Iterator[Text]:
    """Every text but the sensors' names."""
    for bank in layout.banks:
        yield from _label(bank.label_at, bank.outward, [labels.banks[bank.bank]], turn)
    for spot in layout.pieces:
        lines = _label(spot.label_at, spot.outward, labels.pieces[spot.bank, spot.piece], turn)
        yield from lines[1:] if spot.piece.kind is PieceKind.SENSOR else lines
    for bar in sheet.bars:
        yield from _centred((bar.x, 0), [labels.landmarks[bar.landmark]], turn)
    for box in sheet.boxes:
        yield from _centred(box.at, [box.name], turn)
    yield from _centred(sheet.cabin_words(labels.wheels), labels.cabin, turn)
    for side, notes in labels.notes.items():
        for index, note in enumerate(notes):
            x = sheet.end(side) + sign(side) * (_NOTE_GAP + LINE * (index + 0.5))
            yield from _centred((x, 0), [note], turn)


def _label(at: Point, outward: Side, lines: Sequence[str], turn: PageTurn) -> list[Text]:
    """Lines of text that begin at a place and lead outward from it."""
    right, down = turn.way(outward)
    x, y = rounded(turn.at(at))
    anchor = {1: "start", -1: "end"}.get(int(right), "middle")
    # Beside the place all lines are about it. Above and below, names stand in one row: one line
    # may have another beside it that is two high.
    rows = _MOST_LINES if down else len(lines)
    first = y + down * LINE * rows / 2 + _FOOT - LINE * (rows - 1) / 2
    return [
        Text(x, round(first + LINE * index, 1), anchor, line) for index, line in enumerate(lines)
    ]


def _centred(at: Point, lines: Sequence[str], turn: PageTurn) -> Iterator[Text]:
    """Lines of text about a place."""
    across, down = rounded(turn.at(at))
    first = down + _FOOT - LINE * (len(lines) - 1) / 2
    for index, line in enumerate(lines):
        yield Text(across, round(first + LINE * index, 1), "middle", line)
