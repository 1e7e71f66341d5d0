"""Wire colours and the volts lost along a wire."""

from __future__ import annotations

import re
from collections.abc import Mapping
from difflib import get_close_matches
from enum import IntEnum
from types import MappingProxyType
from typing import Final

COLOURS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "BK": "black",
        "BN": "brown",
        "RD": "red",
        "OG": "orange",
        "YE": "yellow",
        "GN": "green",
        "BU": "blue",
        "VT": "violet",
        "GY": "grey",
        "WH": "white",
        "PK": "pink",
        "GD": "gold",
        "TQ": "turquoise",
        "SR": "silver",
    }
)
"""IEC 60757 letter codes and their words, in the order of the standard's table."""

MISREAD_CODES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "B": "BK",
        "BL": "BU",
        "BLK": "BK",
        "BR": "BN",
        "G": "GN",
        "GE": "YE",
        "GR": "GN",
        "GRAY": "GY",
        "L": "BU",
        "O": "OG",
        "OR": "OG",
        "P": "PK",
        "PU": "VT",
        "PURPLE": "VT",
        "R": "RD",
        "RT": "RD",
        "SW": "BK",
        "V": "VT",
        "W": "WH",
        "WT": "WH",
        "WS": "WH",
        "Y": "YE",
    }
)
"""Other letters met on drawings, and the code most likely meant (common practice, no source)."""

_MEANINGS: Final[Mapping[str, str]] = {
    **{code: code for code in COLOURS},
    **{word.upper(): code for code, word in COLOURS.items()},
    **MISREAD_CODES,
}


class Conductors(IntEnum):
    """How many conductors of the stated length the current runs through."""

    SUPPLY_ONLY = 1
    SUPPLY_AND_RETURN = 2


RESISTANCE_OHM_PER_KM: Final[Mapping[float, float]] = MappingProxyType(
    {0.25: 79.0, 0.34: 56.0, 0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98}
)
"""Maximum resistance at 20 °C of flexible plain copper, by nominal size in mm².

0.5 mm² and up: IEC 60228, class 5. Below: DIN VDE 0295; of its two columns the larger value,
because the copy read does not say which column is the plain one.
"""

COPPER_PER_K: Final = 0.00393
"""Temperature coefficient of copper's resistance at 20 °C (standard annealed copper)."""


def wire_colour(code: str) -> tuple[str, ...]:
    """Give the colour words of an IEC 60757 code: `BK` is black, `RDBU` red and blue.

    Two colours keep the order in which they are written. IEC 60757 writes them in the order of
    its table; on vehicle drawings the ground colour stands first (common practice, no source).

    Raises:
        ValueError: not one code or two different ones; the message names the code that was meant
            where all of the text is understood.
    """
    letters = [code[start : start + 2] for start in range(0, len(code), 2)]
    known = all(pair in COLOURS for pair in letters)
    if not known or len(letters) not in (1, 2) or len(set(letters)) != len(letters):
        message = f"{code!r} is no wire colour code of IEC 60757"
        if nearest := nearest_colour_code(code):
            message += f"; the nearest is {nearest} ({' and '.join(wire_colour(nearest))})"
        raise ValueError(message)
    return tuple(COLOURS[pair] for pair in letters)


_BETWEEN_COLOURS = re.compile(r"\bW/|\b(?:WITH|AND|STRIPED?|STRIPES|TRACER)\b")
_FEWEST_LETTERS_MISSPELT = 4


def nearest_colour_code(text: str) -> str:
    """Give the IEC 60757 code most likely meant by `text`: `rd/bu`, `red`, `RT`, `BL`.

    Understands small letters, separators, colour words and the letters of other habits. Empty
    where any part is not understood, or there are more than two: half a text is no colour. It is a
    hint for a message, never a reading.
    """
    pieces: list[str] = []
    for part in re.findall(r"[^\W_]+", _BETWEEN_COLOURS.sub(" ", text.upper())):
        halves = [part[:2], part[2:]]
        two = part not in _MEANINGS and all(half in _MEANINGS for half in halves)
        pieces += halves if two else [part]
    meant = [_nearest(piece) for piece in pieces] if len(pieces) <= 2 else []
    return "".join(dict.fromkeys(meant)) if all(meant) else ""


def _nearest(piece: str) -> str:
    if piece in _MEANINGS:
        return _MEANINGS[piece]
    long_enough = len(piece) >= _FEWEST_LETTERS_MISSPELT
    near = get_close_matches(piece, _MEANINGS, n=1, cutoff=0.8) if long_enough else []
    return _MEANINGS[near[0]] if near else ""


def supply_drop_v(
    current_a: float,
    size_mm2: float,
    length_m: float,
    temperature_c: float = 20.0,
    conductors: Conductors = Conductors.SUPPLY_AND_RETURN,
) -> float:
    """Give the volts lost along the wire, for the greatest resistance the standard allows.

    `length_m` is one way; with `Conductors.SUPPLY_AND_RETURN` the current comes back
    through a wire of the same length and size. Resistance: IEC 60228 class 5, plain copper
    (DIN VDE 0295 below 0.5 mm²), corrected linearly from 20 °C. Terminals and splices are not
    in it, so a healthy circuit may lose a little more.

    Raises:
        ValueError: the size is not in the table, or current or length is negative.
    """
    if current_a < 0 or length_m < 0:
        raise ValueError("current and length cannot be negative")
    if size_mm2 not in RESISTANCE_OHM_PER_KM:
        sizes = ", ".join(f"{size:g}" for size in RESISTANCE_OHM_PER_KM)
        raise ValueError(f"no published resistance for {size_mm2:g} mm²; known sizes: {sizes} mm²")
    ohm_per_m = RESISTANCE_OHM_PER_KM[size_mm2] / 1000
    warmth = 1 + COPPER_PER_K * (temperature_c - 20)
    return current_a * ohm_per_m * warmth * length_m * conductors
