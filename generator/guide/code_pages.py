"""The site-wide pages of the fault codes: one a code, and the list of all."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from gettext import NullTranslations

from generator.guide import code_words, words
from generator.guide.catalogue import Make
from generator.guide.code_groups import CodeRow, codes_about
from generator.guide.code_matrix import CodeMatrix, code_matrix
from generator.guide.codes_page import banks_of, fitted_sensors
from generator.guide.page import Frame, Page, Row, Turn
from generator.guide.vehicle import GUIDES, Vehicle, make_file, page_path
from generator.trade.fault_code_table import FAULT_CODES, FaultCode, Noticed, Subject
from generator.trade.sensor import SensorPlace
from generator.trade.vehicle_codes import decimal_neighbour, strangers_near

SHOWN_A_MAKE = 6

Links = list[tuple[str, str]]
"""Codes, each with the page it leads to."""


@dataclass(frozen=True, slots=True)
class MakeVehicles:
    """The vehicles of one make with the sensor or bank, as many as are shown; how many more."""

    name: str
    href: str
    vehicles: list[Row]
    more: int


@dataclass(frozen=True, slots=True)
class CodeView:
    """What the page of one code says."""

    meaning: str
    facts: list[tuple[str, str]]
    mistaken: list[tuple[str, str]]
    counting: str
    related: list[tuple[str, Links]]
    makes: list[MakeVehicles]
    is_sensor: bool


@dataclass(frozen=True, slots=True)
class CodesIndexView:
    """What the list of all codes says."""

    banks: list[CodeMatrix]
    others: list[tuple[str, list[CodeRow]]]


def code_pages(makes: Sequence[Make], t: NullTranslations) -> Iterator[Page]:
    """The list of all codes, then a page for each code of the table."""
    _ = t.gettext
    trail = ((_("Fault codes"), "index.html"),)
    yield Page(
        f"{code_words.CODES}/index.html",
        "guide/codes_index.html",
        Frame(_("Fault codes"), _("The codes about oxygen and air-fuel sensors, by family."), ()),
        _index(t),
    )
    having = _vehicles_by_code(makes)
    listed = list(FAULT_CODES.values())
    for before, code, after in zip([None, *listed[:-1]], listed, [*listed[1:], None], strict=True):
        yield Page(
            f"{code_words.CODES}/{code_words.code_file(code.code)}",
            "guide/code.html",
            Frame(
                code.code,
                _heading(code, t),
                trail,
                _turn(before, _("Before"), t),
                _turn(after, _("Next"), t),
            ),
            _code(code, having.get(code.code, {}), makes, t),
        )


def _heading(code: FaultCode, t: NullTranslations) -> str:
    """What a code says and of which sensor, in one line."""
    said = (code_words.short_words(code, t), code_words.where_words(code, t))
    return ", ".join(filter(None, said))


def _turn(code: FaultCode | None, label: str, t: NullTranslations) -> Turn | None:
    if code is None:
        return None
    return Turn(label, code.code, code_words.code_file(code.code))


def _code(
    code: FaultCode, having: dict[str, list[Vehicle]], makes: Sequence[Make], t: NullTranslations
) -> CodeView:
    return CodeView(
        meaning=_meaning(code, t),
        facts=_facts(code, t),
        mistaken=_mistaken(code, t),
        counting=_counting(code, t),
        related=_related(code, t),
        makes=[_make(code, make, having[make.slug]) for make in makes if make.slug in having],
        is_sensor=bool(code.sensors),
    )


def _meaning(code: FaultCode, t: NullTranslations) -> str:
    """What the engine computer noticed, in a sentence or two."""
    _ = t.gettext
    if code.other_part is not None:
        return _(
            "This code is about another part: %(part)s. Its number stands among those of the "
            "sensors, no more."
        ) % {"part": code_words.other_part(code.other_part, t)}
    if code.subject is Subject.SWAPPED:
        return _(
            "The engine computer changed the mixture at one of these sensors and saw the other "
            "one answer. Their plugs, or their wires, are most likely exchanged."
        )
    if code.subject is Subject.CATALYST:
        return _(
            "The sensor after the catalyst follows the mixture nearly as the one before it does, "
            "so the catalyst stores too little oxygen. A leak in the exhaust can look the same. "
            "What wore the catalyst out, a misfire or oil, wears out the next: cure that first."
        )
    if code.subject is Subject.FUEL_TRIM:
        return _(
            "The engine computer has had to correct the mixture of this bank further than it "
            "may. The sensor reports that; it is rarely the cause."
        )
    return _noticed_sentences(t)[code.noticed] if code.noticed else ""


def _noticed_sentences(t: NullTranslations) -> dict[Noticed, str]:
    """What was noticed about one sensor."""
    _ = t.gettext
    slow = _("The signal follows the mixture more slowly than the engine computer allows.")
    late = _("The mixture has changed, and the signal starts to follow too late.")
    return {
        Noticed.FAULT: _("The engine computer found a fault in this circuit and says no more."),
        Noticed.FAULT_OR_OPEN: _(
            "The engine computer switches this circuit and does not see what it should: no "
            "current, or a fault it describes no closer."
        ),
        Noticed.OPEN: _("No current can flow: the circuit is broken somewhere along its way."),
        Noticed.LOW: _("The circuit reads lower than the engine computer accepts."),
        Noticed.HIGH: _("The circuit reads higher than the engine computer accepts."),
        Noticed.PERFORMANCE: _("The value is outside its range, or does not fit the others."),
        Noticed.RESISTANCE: _(
            "The engine computer reckons the heater's resistance from its current, and the "
            "result is outside its limits."
        ),
        Noticed.SHORTED_TO_HEATER: _(
            "The signal moves with the heater's pulses: somewhere the two touch."
        ),
        Noticed.SLOW_RESPONSE: slow,
        Noticed.SLOW_RICH_TO_LEAN: slow,
        Noticed.SLOW_LEAN_TO_RICH: slow,
        Noticed.LATE_RICH_TO_LEAN: late,
        Noticed.LATE_LEAN_TO_RICH: late,
        Noticed.NO_ACTIVITY: _("The signal does not move, as if the sensor never woke up."),
        Noticed.STUCK_LEAN: _(
            "The signal stays lean, or nearly. Just after work on the exhaust that is most often "
            "a loose sensor or a leak ahead of it (common practice, no source)."
        ),
        Noticed.STUCK_RICH: _("The signal stays rich, or nearly."),
        Noticed.OUT_OF_RANGE_ON_OVERRUN: _(
            "Fuel is cut on overrun, so the exhaust is air; the signal does not say so."
        ),
        Noticed.EXHAUST_SAMPLE: _(
            "What the sensor measures does not look like exhaust gas: it may be loose, or air "
            "gets in."
        ),
    }


def _facts(code: FaultCode, t: NullTranslations) -> list[tuple[str, str]]:
    """Where the sensor is, by the rule that holds on every engine, and which circuit it is."""
    _ = t.gettext
    told = []
    for bank in _banks(code):
        told.append((_("Bank %(bank)s") % {"bank": bank}, _bank_rule(bank, t)))
    for position in sorted({place.position for place in code.sensors}):
        told.append(
            (_("Position %(position)s") % {"position": position}, _position_rule(position, t))
        )
    if code.circuit is not None:
        told.append((_("Circuit"), code_words.circuit(code.circuit, t)))
    return told


def _banks(code: FaultCode) -> list[int]:
    """The banks that a code names, by itself or through its sensors."""
    of_sensors = {place.bank for place in code.sensors}
    return sorted(of_sensors if code.bank is None else of_sensors | {code.bank})


def _bank_rule(bank: int, t: NullTranslations) -> str:
    _ = t.gettext
    if bank == 1:
        return _("the bank that holds cylinder 1, and nothing else decides it")
    return _("the bank that does not hold cylinder 1")


def _position_rule(position: int, t: NullTranslations) -> str:
    _ = t.gettext
    if position == 1:
        return _("the first sensor the exhaust meets, before the catalyst")
    if position == 2:
        return _("the second sensor along the exhaust, after the catalyst")
    return words.along_exhaust(position, t)


def _mistaken(code: FaultCode, t: NullTranslations) -> list[tuple[str, str]]:
    """The same fault on other sensors, and other parts numbered nearby."""
    same = [
        (other.code, code_words.place_words(*other.sensors[0], t))
        for other in FAULT_CODES.values()
        if other.subject is code.subject is Subject.SENSOR
        and (other.circuit, other.noticed) == (code.circuit, code.noticed)
        and other.code != code.code
    ]
    if not code.sensors:
        return []
    return same + code_words.drawn_together(strangers_near((code,)), t)


def _counting(code: FaultCode, t: NullTranslations) -> str:
    """A word on counting, where the number goes over a ten beside this code."""
    pair = decimal_neighbour(code)
    if pair is None:
        return ""
    return t.gettext(
        "%(first)s is followed by %(second)s: these numbers count in decimal. Only the families "
        "with a letter in their numbers, such as P013A to P013F, do not."
    ) % {"first": pair[0], "second": pair[1]}


_PLACES = {each.code: frozenset(each.sensors) for each in FAULT_CODES.values()}


def _related(code: FaultCode, t: NullTranslations) -> list[tuple[str, Links]]:
    """Codes of the same sensor, and of its bank's mixture and catalyst."""
    _ = t.gettext
    others = [each for each in FAULT_CODES.values() if each.code != code.code]
    places, banks = _PLACES[code.code], _banks(code)
    groups = [
        (
            _("The same sensor") if len(places) == 1 else _("These two sensors"),
            [c for c in others if c.subject is Subject.SENSOR and places & _PLACES[c.code]],
        ),
        (
            _("Exchanged with another"),
            [c for c in others if c.subject is Subject.SWAPPED and places & _PLACES[c.code]],
        ),
        (
            _("Mixture and catalyst of the bank"),
            [
                c
                for c in others
                if c.subject in (Subject.FUEL_TRIM, Subject.CATALYST) and c.bank in banks
            ],
        ),
        (
            _("The same part"),
            [c for c in others if c.other_part is not None and c.other_part is code.other_part],
        ),
    ]
    return [(title, _links(found)) for title, found in groups if found]


def _links(codes: Iterable[FaultCode]) -> Links:
    return [(code.code, code_words.code_file(code.code)) for code in codes]


def _vehicles_by_code(makes: Iterable[Make]) -> dict[str, dict[str, list[Vehicle]]]:
    """For each code, the vehicles that have its sensors or its bank, by make."""
    having: dict[str, dict[str, list[Vehicle]]] = {}
    for make in makes:
        for vehicle in make.vehicles:
            for code in codes_about(banks_of(vehicle), fitted_sensors(vehicle)):
                having.setdefault(code, {}).setdefault(make.slug, []).append(vehicle)
    return having


def _make(code: FaultCode, make: Make, vehicles: list[Vehicle]) -> MakeVehicles:
    return MakeVehicles(
        make.name,
        f"../{GUIDES}/{make_file(make.slug)}",
        [
            Row(
                f"{each.profile.vehicle.model} {each.profile.engine.name}",
                f"../{page_path(each.slug, stage='codes')}#{code.code}",
                each.years,
            )
            for each in vehicles[:SHOWN_A_MAKE]
        ],
        max(0, len(vehicles) - SHOWN_A_MAKE),
    )


def _index(t: NullTranslations) -> CodesIndexView:
    _ = t.gettext
    codes = list(FAULT_CODES.values())
    sensors = [code for code in codes if code.subject is Subject.SENSOR]
    titles = {
        Subject.SWAPPED: _("Two sensors exchanged"),
        Subject.FUEL_TRIM: _("Mixture of a bank"),
        Subject.CATALYST: _("Catalyst of a bank"),
        Subject.FALSE_FRIEND: _("Numbered among these, but not a sensor"),
    }
    return CodesIndexView(
        banks=[
            code_matrix(
                _("Bank %(bank)s: %(rule)s") % {"bank": bank, "rule": _bank_rule(bank, t)},
                [SensorPlace(bank, position) for position in (1, 2, 3)],
                [code for code in sensors if code.bank == bank],
                code_words.code_file,
                t,
            )
            for bank in (1, 2)
        ],
        others=[
            (
                title,
                [
                    CodeRow(each.code, code_words.code_file(each.code), _heading(each, t))
                    for each in codes
                    if each.subject is subject
                ],
            )
            for subject, title in titles.items()
        ],
    )
