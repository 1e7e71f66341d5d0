"""The finder's data: every vehicle and every code, in columns, for a script without a server."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass, field
from gettext import NullTranslations
from typing import Any

from generator.guide import code_words
from generator.guide.catalogue import Make
from generator.guide.code_groups import codes_told
from generator.guide.codes_page import banks_of, fitted_sensors
from generator.guide.vehicle import Vehicle
from generator.trade.fault_code_table import FAULT_CODES
from generator.trade.fault_codes import MakerSpecific, Unknown, Unreadable

DATA_FILE = "assets/finder-data.js"
LATEST_YEAR = 9999
"""Stands for the last model year of a vehicle that is still made."""


@dataclass
class _Column:
    """Words that repeat, each told once, and the place of each entry's word among them."""

    words: list[str] = field(default_factory=list)
    entries: list[int] = field(default_factory=list)
    _known: dict[str, int] = field(default_factory=dict)

    def add(self, word: str) -> None:
        place = self._known.setdefault(word, len(self._known))
        if place == len(self.words):
            self.words.append(word)
        self.entries.append(place)


def finder_script(makes: Iterable[Make], t: NullTranslations) -> str:
    """The data as a classic script that sets ``window.sondebookFinder``.

    Everything contributed stands in it as JSON text without ``<``, ``>`` and ``&``, so it is
    inert even inside a page.
    """
    vehicles = [vehicle for make in makes for vehicle in make.vehicles]
    data = {**_vehicle_columns(vehicles), **_code_columns(t), "say": _sentences(t)}
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    for character in "<>&\u2028\u2029":
        text = text.replace(character, f"\\u{ord(character):04x}")
    return f"window.sondebookFinder={text};\n"


def _vehicle_columns(vehicles: list[Vehicle]) -> dict[str, Any]:
    makes, fits = _Column(), _Column()
    for vehicle in vehicles:
        makes.add(vehicle.profile.vehicle.make)
        fits.add(_bits(codes_told(banks_of(vehicle), fitted_sensors(vehicle))))
    years = [vehicle.profile.vehicle.years for vehicle in vehicles]
    return {
        "makes": makes.words,
        "make": makes.entries,
        "model": [f"{each.profile.vehicle.model} {each.profile.engine.name}" for each in vehicles],
        "first": [each.first for each in years],
        "last": [each.last or LATEST_YEAR for each in years],
        "slug": [vehicle.slug for vehicle in vehicles],
        "fits": fits.words,
        "fit": fits.entries,
    }


def _bits(told: frozenset[str]) -> str:
    """Which codes of the table have a place on a vehicle's page, four to a hexadecimal digit."""
    bits = "".join("1" if code in told else "0" for code in FAULT_CODES)
    bits += "0" * (-len(bits) % 4)
    return f"{int(bits, 2):0{len(bits) // 4}x}"


def _code_columns(t: NullTranslations) -> dict[str, Any]:
    says, wheres = _Column(), _Column()
    for code in FAULT_CODES.values():
        says.add(code_words.short_words(code, t))
        wheres.add(code_words.where_words(code, t) or t.gettext("not a sensor"))
    return {
        "codes": list(FAULT_CODES),
        "says": says.words,
        "said": says.entries,
        "wheres": wheres.words,
        "where": wheres.entries,
    }


def _sentences(t: NullTranslations) -> dict[str, str]:
    """What the finder says; gaps are in braces and filled with plain text."""
    _ = t.gettext
    return {
        "unreadable": _(Unreadable.wording),
        "maker": _(MakerSpecific.wording),
        "unknown": _(Unknown.wording),
        "lacks": _("{code} does not fit this vehicle: {about}"),
        "none": _("No vehicle here is called “{text}”. The lists below hold all there are."),
        "one": _("1 result"),
        "many": _("{count} results"),
        "more": _("{count} more: type more of the name."),
        "code": _("{code}: what it means, and which vehicles have that sensor"),
        "on": _("{first} on"),
    }
