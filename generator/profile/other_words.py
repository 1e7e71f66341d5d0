"""Words that people write for a word of the format: each a hint for a message, never a reading.

They are usage (common practice, no source). A word that may mean one thing in one country and
another in the next, such as the driver's side, is not among them.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from types import MappingProxyType
from typing import Final

_JOINED = re.compile(r"(?<=\w)[-_/]+(?=\w)")
_MEANT: Final[Mapping[str, str]] = MappingProxyType(
    {
        "switching": "narrow band, narrowband, two point, jump, zirconia, zirconium, step",
        "wide-range": "wide band, wideband, broad band, broadband, linear, air fuel",
        "titania": "titanium, titanium dioxide, resistive",
        "inline": "straight, in line, row",
        "vee": "v, v6, v8, v type",
        "flat": "boxer, opposed, horizontally opposed",
        "transverse": "across, crossways, sideways, east west",
        "longitudinal": "along, lengthways, lengthwise, north south",
        "left": "left hand, left hand side, left side",
        "right": "right hand, right hand side, right side",
        "below": "under, underneath, beneath, bottom",
        "above": "over, top, bonnet, hood",
        "mid": "middle, centre, center",
        "petrol": "gasoline, gas",
        "lpg": "autogas",
        "methane": "cng, natural gas",
        "maker": "manufacturer, factory, workshop manual, manual, book",
        "measurement": "measured, own measurement",
        "as-delivered": "new, coated, factory paste",
        "anti-seize": "paste, copper paste, greased, lubricated",
        "heater-supply": "heater plus, heater +, heater positive, 12 v, 12v",
        "heater-control": "heater minus, heater -, heater negative, heater ground",
        "signal-ground": "ground, earth, sensor ground, signal earth",
    }
)
_WORD_OF: Final = {other: word for word, list_ in _MEANT.items() for other in list_.split(", ")}
_WHEEL_OF: Final[Mapping[str, str]] = MappingProxyType(
    {
        **dict.fromkeys(("lhd", "left hand drive", "left drive"), "left"),
        **dict.fromkeys(("rhd", "right hand drive", "right drive"), "right"),
    }
)
NEVER_NEAR: Final = frozenset(
    (
        *("driver", "drivers", "driver side", "drivers side", "passenger", "passenger side"),
        *("nearside", "near side", "offside", "off side", "kerb side", "curb side"),
    )
)
"""Sides that change with the country: no word of the format is near them."""


def plain(text: str) -> str:
    """A text as the words here are written: small letters, and blanks for what joins words."""
    words = text.casefold().replace("'", "").replace("’", "")
    return " ".join(_JOINED.sub(" ", words).split())


def word_meant(text: str, known: Collection[str]) -> str | None:
    """The word, out of those known, that a text is another word for; None where it is none.

    The side of the drive means one only of the steering: of a bank it says nothing.
    """
    said = plain(text)
    wheel = _WHEEL_OF.get(said)
    if wheel:
        return wheel if set(known) == set(_WHEEL_OF.values()) else None
    word = _WORD_OF.get(said)
    return word if word in known else None
