"""What stands in and beside a bay map, in words."""

from __future__ import annotations

from collections.abc import Sequence
from gettext import NullTranslations

from generator.guide import words
from generator.guide.page_turn import PageTurn
from generator.profile.sensor_model import Reach
from generator.trade.bay_layout import BayLayout
from generator.trade.exhaust_line import ExhaustLine, Piece, PieceKind
from generator.trade.place import Bank, BayCorner, Landmark, Side, Standpoint

_LONGEST_BOX = 22


def sensor_name(bank: int, position: int, t: NullTranslations) -> str:
    """A sensor by bank and position, as short as it stands in a drawing: ``B1·2``."""
    return t.gettext("B%(bank)s·%(position)s") % {"bank": bank, "position": position}


def catalyst_name(line: ExhaustLine, number: int, t: NullTranslations) -> str:
    """A catalyst, with its count where its bank has several."""
    _ = t.gettext
    if line.catalysts == 1:
        return _("catalyst")
    return _("catalyst %(number)s") % {"number": number}


def piece_name(line: ExhaustLine, piece: Piece, t: NullTranslations) -> str:
    """A sensor or catalyst of an exhaust, as it stands in a drawing."""
    if piece.kind is PieceKind.SENSOR:
        return sensor_name(line.bank, piece.number, t)
    return catalyst_name(line, piece.number, t)


def reach(reach_: Reach, t: NullTranslations) -> str:
    """From where a sensor is reached, in a word or two."""
    _ = t.gettext
    return {
        Reach.ABOVE: _("from above"),
        Reach.BELOW: _("from below"),
        Reach.WHEEL_ARCH: _("wheel arch"),
    }[reach_]


def landmark(mark: Landmark, t: NullTranslations) -> str:
    """A landmark as its label says it."""
    _ = t.gettext
    return {
        Landmark.RADIATOR: _("radiator"),
        Landmark.BULKHEAD: _("bulkhead (firewall)"),
        Landmark.REAR_BUMPER: _("rear bumper"),
    }[mark]


def fuse_box(fuses: Sequence[str], t: NullTranslations) -> str:
    """A fuse box as its label says it: the fuses in it that feed a sensor, if that is short."""
    listed = ", ".join(fuses)
    told = t.ngettext("fuse %(list)s", "fuses %(list)s", len(fuses)) % {"list": listed}
    return told if len(told) <= _LONGEST_BOX else t.gettext("fuse box")


def fuses_in(corner: BayCorner, fuses: Sequence[str], t: NullTranslations) -> str:
    """Where a fuse box is, in one sentence, for who cannot see the drawing."""
    _ = t.gettext
    sentence = {
        BayCorner.FRONT_LEFT: _(
            "In the front left corner of the bay, as from the driver's seat: %(fuses)s."
        ),
        BayCorner.FRONT_RIGHT: _(
            "In the front right corner of the bay, as from the driver's seat: %(fuses)s."
        ),
        BayCorner.REAR_LEFT: _(
            "In the rear left corner of the bay, as from the driver's seat: %(fuses)s."
        ),
        BayCorner.REAR_RIGHT: _(
            "In the rear right corner of the bay, as from the driver's seat: %(fuses)s."
        ),
    }[corner]
    listed = ", ".join(fuses)
    named = t.ngettext("fuse %(list)s", "fuses %(list)s", len(fuses)) % {"list": listed}
    return sentence % {"fuses": named}


def standpoint(stand: Standpoint, t: NullTranslations) -> str:
    """Where the reader is, in a word or two."""
    _ = t.gettext
    return {
        Standpoint.DRIVERS_SEAT: _("driver's seat"),
        Standpoint.FRONT_BUMPER: _("front bumper"),
        Standpoint.REAR_BUMPER: _("rear bumper"),
        Standpoint.UNDER_HEAD_REARWARD: _("underneath"),
        Standpoint.UNDER_HEAD_FORWARD: _("underneath"),
    }[stand]


def notes(stand: Standpoint, turn: PageTurn, t: NullTranslations) -> dict[Side, list[str]]:
    """What stands outside the front and the rear of the drawing: which end it is, the reader."""
    _ = t.gettext
    # Front is always up or down the page
    front = "↑ %s ↑" if turn.way(Side.FRONT)[1] < 0 else "↓ %s ↓"
    told = {Side.FRONT: [front % _("front of the vehicle")], Side.REAR: []}
    if stand in (Standpoint.FRONT_BUMPER, Standpoint.REAR_BUMPER):
        here = Side.FRONT if stand is Standpoint.FRONT_BUMPER else Side.REAR
        told[here].append(_("you stand here"))
    elif stand is not Standpoint.DRIVERS_SEAT:
        head = Side.REAR if stand is Standpoint.UNDER_HEAD_REARWARD else Side.FRONT
        told[head].append(_("your head"))
        told[head.opposite].append(_("your feet"))
    return told


def cabin(stand: Standpoint, t: NullTranslations) -> list[str]:
    """What stands beside the steering wheel."""
    _ = t.gettext
    wheel = _("steering wheel")
    return [wheel, _("you sit here")] if stand is Standpoint.DRIVERS_SEAT else [wheel]


def description(
    stand: Standpoint,
    turn: PageTurn,
    banks: Sequence[Bank],
    lines: Sequence[ExhaustLine],
    t: NullTranslations,
) -> str:
    """The drawing in words, for who cannot see it."""
    _ = t.gettext
    told = [
        _("The front of the vehicle is at the top.")
        if turn.way(Side.FRONT)[1] < 0
        else _("The front of the vehicle is at the bottom.")
    ]
    for bank in banks:
        cylinders = ", ".join(map(str, bank.cylinders))
        told.append(
            _("Bank %(bank)s, cylinders %(list)s: %(seen)s.")
            % {
                "bank": bank.number,
                "list": cylinders,
                "seen": words.seen_from(bank.side, stand, t)
                if bank.side
                else _("all cylinders, where their exhaust has joined"),
            }
        )
    told += [exhaust(line, t) for line in lines]
    return " ".join(told)


def exhaust(line: ExhaustLine, t: NullTranslations) -> str:
    """What the gas of a bank passes, in order, in one sentence."""
    names = [piece_name(line, piece, t) for piece in line.pieces]
    return t.gettext("The exhaust of bank %(bank)s passes, in this order: %(list)s.") % {
        "bank": line.bank,
        "list": ", ".join(names) or t.gettext("nothing stated"),
    }


def caption(layout: BayLayout, about: str, t: NullTranslations) -> str:
    """How to read the drawing, and how far to trust it; `about` is the filled sensor's name."""
    _ = t.gettext
    told = [
        _("Hexagon: sensor; filled: %(name)s, this one.") % {"name": about}
        if about
        else _("Hexagon: sensor."),
        _("Circle: cylinder. Thick line: exhaust. Order and sides, not to scale."),
    ]
    if not layout.is_exhaust_side_stated:
        told.append(_("Dashed: on which side the exhaust leaves is not stated."))
    if any(spot.number is None for spot in layout.cylinders):
        told.append(_("Which cylinder stands in which row is not stated."))
    elif layout.is_exhaust_side_stated:
        told.append(_first_end(layout.first_end, t))
    return " ".join(told)


def _first_end(end: Side, t: NullTranslations) -> str:
    _ = t.gettext
    return {
        Side.FRONT: _(
            "Cylinders counted from the front end, away from the gearbox "
            "(common practice, no source)."
        ),
        Side.REAR: _(
            "Cylinders counted from the rear end, away from the gearbox "
            "(common practice, no source)."
        ),
        Side.LEFT: _(
            "Cylinders counted from the left end, away from the gearbox "
            "(common practice, no source)."
        ),
        Side.RIGHT: _(
            "Cylinders counted from the right end, away from the gearbox "
            "(common practice, no source)."
        ),
    }[end]
