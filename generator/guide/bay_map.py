"""The bay map: engine, exhaust and sensors in their bay, turned as the reader sees them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from gettext import NullTranslations
from typing import TypeAlias

from generator.guide import bay_words, words
from generator.guide.bay_drawing import BayDrawing, BayLabels, bay_drawing, sensor_mark
from generator.guide.bay_sheet import LETTER, sheet_of
from generator.guide.page_turn import page_turn
from generator.guide.shared_view import shared_by_pages
from generator.guide.vehicle import Vehicle
from generator.profile.sensor_model import Reach, Sensor
from generator.trade.bay_layout import BayLayout, bay_layout
from generator.trade.exhaust_line import ExhaustLine, Piece, PieceKind
from generator.trade.place import Bank, BayCorner, Engine, Landmark, Wheel, standpoints

Reaches: TypeAlias = tuple[tuple[int, int, Reach], ...]
Fuses: TypeAlias = tuple[tuple[BayCorner, tuple[str, ...]], ...]
PieceNames: TypeAlias = dict[tuple[int, Piece], tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class SeenBay:
    """The bay from one standpoint: its key, what the reader chooses it by, and the drawing.

    `turned` is SVG's transformation of the first standpoint's drawing into this one, texts aside.
    """

    key: str
    label: str
    title: str
    description: str
    drawing: BayDrawing
    turned: str


@dataclass(frozen=True, slots=True, eq=False)
class SeenBays:
    """A vehicle's drawings, the same for all its pages, and so told apart by identity.

    `dashed` says that the profile does not tell on which side the exhaust is.
    """

    seen: tuple[SeenBay, ...]
    dashed: bool


@dataclass(frozen=True, slots=True)
class BayMap:
    """The bay from every standpoint; `shown` is the key of the one to begin with.

    `about` marks the sensor that is filled, as `bay_drawing.sensor_mark` does, or is empty.
    """

    bays: SeenBays
    shown: str
    about: str
    caption: str


@dataclass(frozen=True, slots=True)
class _Bay:
    """What a vehicle's drawings are made from, and nothing else, so that they are made once."""

    engine: Engine
    banks: tuple[Bank, ...]
    lines: tuple[ExhaustLine, ...]
    reaches: Reaches
    wheels: tuple[Wheel, ...]
    fuses: Fuses


def bay_map(vehicle: Vehicle, sensor: Sensor | None = None) -> BayMap:
    """The bay map of a vehicle, with one sensor filled.

    It begins where one stands: at the bumper, or underneath for a sensor reached from below.
    """
    return _bay_map(vehicle, sensor)


@shared_by_pages
def _bay_map(vehicle: Vehicle, sensor: Sensor | None) -> BayMap:
    profile, t = vehicle.profile, vehicle.t
    layout, bays = _seen(_bay(vehicle), t)
    _seat, bumper, under = standpoints(profile.engine.bay)
    from_below = sensor is not None and sensor.place.reach is Reach.BELOW
    return BayMap(
        bays,
        shown=(under if from_below else bumper).value,
        about=sensor_mark(sensor.bank, sensor.position) if sensor else "",
        caption=bay_words.caption(
            layout, bay_words.sensor_name(sensor.bank, sensor.position, t) if sensor else "", t
        ),
    )


@shared_by_pages
def _bay(vehicle: Vehicle) -> _Bay:
    profile = vehicle.profile
    return _Bay(
        profile.engine_layout,
        tuple(sorted(profile.bank_layout, key=lambda bank: bank.number)),
        exhaust_lines(vehicle),
        tuple((each.bank, each.position, each.place.reach) for each in vehicle.sensors),
        tuple(sorted(set(profile.steering))),
        fuses_by_corner(vehicle),
    )


def exhaust_lines(vehicle: Vehicle) -> tuple[ExhaustLine, ...]:
    """The exhaust of each bank, by its number."""
    positions: dict[int, list[int]] = {number: [] for number in sorted(vehicle.profile.banks)}
    for sensor in vehicle.sensors:
        positions[sensor.bank].append(sensor.position)
    return tuple(
        ExhaustLine(bank, tuple(found), vehicle.profile.banks[bank].catalysts)
        for bank, found in positions.items()
    )


def fuses_by_corner(vehicle: Vehicle) -> Fuses:
    """The numbers of the fuses in each corner of the engine bay that a profile names."""
    found: dict[BayCorner, dict[str, None]] = {}
    for fuse in vehicle.profile.fuses.values():
        if fuse.corner is not None:
            found.setdefault(fuse.corner, {})[fuse.number] = None
    return tuple((corner, tuple(found[corner])) for corner in sorted(found))


@lru_cache(maxsize=256)
def _seen(bay: _Bay, t: NullTranslations) -> tuple[BayLayout, SeenBays]:
    """The plan of a bay, and its drawings from every standpoint."""
    pieces = _names(bay.lines, bay.reaches, t)
    banks = {
        bank.number: t.gettext("Bank %(number)s") % {"number": bank.number} for bank in bay.banks
    }
    layout = bay_layout(bay.engine, bay.banks, bay.lines, _label_step(pieces))
    widest = {spot.label_at: banks[spot.bank] for spot in layout.banks}
    widest |= {spot.label_at: max(pieces[spot.bank, spot.piece], key=len) for spot in layout.pieces}
    boxes = {corner: bay_words.fuse_box(fuses, t) for corner, fuses in bay.fuses}
    sheet = sheet_of(layout, bay.engine.bay, widest, boxes)
    landmarks = {mark: bay_words.landmark(mark, t) for mark in Landmark}
    labels = BayLabels(banks, pieces, landmarks, {}, [], bay.wheels)
    seen = []
    stands = standpoints(bay.engine.bay)
    for stand in stands:
        turn = page_turn(stand)
        here = replace(
            labels, notes=bay_words.notes(stand, turn, t), cabin=bay_words.cabin(stand, t)
        )
        seen.append(
            SeenBay(
                stand.value,
                bay_words.standpoint(stand, t),
                words.standpoint(stand, t),
                " ".join(
                    [
                        bay_words.description(stand, turn, bay.banks, bay.lines, t),
                        *(bay_words.fuses_in(corner, fuses, t) for corner, fuses in bay.fuses),
                    ]
                ),
                bay_drawing(layout, sheet, turn, here),
                turn.turned_from(page_turn(stands[0])),
            )
        )
    return layout, SeenBays(tuple(seen), dashed=not layout.is_exhaust_side_stated)


def _names(lines: tuple[ExhaustLine, ...], reaches: Reaches, t: NullTranslations) -> PieceNames:
    """What stands beside each piece: its name, and from where a sensor is reached."""
    from_where = {(bank, position): reach for bank, position, reach in reaches}
    names: PieceNames = {}
    for line in lines:
        for piece in line.pieces:
            name = bay_words.piece_name(line, piece, t)
            if piece.kind is PieceKind.SENSOR:
                reach = bay_words.reach(from_where[line.bank, piece.number], t)
                names[line.bank, piece] = (name, reach)
            else:
                names[line.bank, piece] = (name,)
    return names


def _label_step(names: PieceNames) -> float:
    """How far a sensor stands from a catalyst, so that no label touches the next one's."""
    letters = dict.fromkeys(PieceKind, 0)
    for (_bank, piece), (name, *_rest) in names.items():
        letters[piece.kind] = max(letters[piece.kind], len(name))
    under = max((len(line) for lines in names.values() for line in lines[1:]), default=0)
    return LETTER * (max(sum(letters.values()), under) / 2 + 1)
