"""Fault codes as people write them, and which sensor each one is about.

Numbering after SAE J2012 / ISO 15031-6; the table itself stands in `fault_code_table`.
"""

import re
import unicodedata
from dataclasses import dataclass
from typing import ClassVar, Final

from generator.trade.fault_code_table import (
    FAULT_CODES,
    PUMP_CIRCUITS,
    Circuit,
    FaultCode,
    Noticed,
    OtherPart,
    Subject,
)
from generator.trade.sensor import SensorKind, SensorPlace

__all__ = [
    "FAULT_CODES",
    "Circuit",
    "FaultCode",
    "LookUp",
    "MakerSpecific",
    "Noticed",
    "OtherPart",
    "Subject",
    "Unknown",
    "Unreadable",
    "codes_for",
    "location",
    "look_up",
    "normalised",
    "packed",
    "related_codes",
    "unpacked",
]

_SYSTEMS: Final = "PCBU"
"""Powertrain, chassis, body, network: in the order of the two highest bits of a packed code."""

_WRITTEN: Final = re.compile(
    r"(?P<system>[PCBU])?[\s-]*"
    r"(?:(?P<four>[0-3][0-9A-F]{3})(?:[-:][0-9A-F]{2})?|(?P<three>[0-9A-F]{3}))"
)
_MAKER: Final = re.compile(r"P1|P3[0-3]|[CBU][12]")
_DASHES: Final = str.maketrans(dict.fromkeys("‐‑‒–—−", "-") | {"O": "0"})


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A text that is no fault code.

    `wording` is the sentence with its gaps, for translation; `sentence` has them filled.
    """

    text: str
    wording: ClassVar[str] = (
        "“{text}” is not a fault code: write one letter and four digits, for example P0135."
    )

    @property
    def sentence(self) -> str:
        """What is wrong, for the reader."""
        return self.wording.format(text=self.text)


@dataclass(frozen=True, slots=True)
class MakerSpecific:
    """A code in a range whose meaning each maker decides."""

    code: str
    wording: ClassVar[str] = (
        "{code} is numbered by the vehicle's maker: the same number means something else on "
        "another make, so only the vehicle's own literature can say which part it is about."
    )

    @property
    def sentence(self) -> str:
        """Why nothing is said about it here."""
        return self.wording.format(code=self.code)


@dataclass(frozen=True, slots=True)
class Unknown:
    """A standard code outside the table."""

    code: str
    wording: ClassVar[str] = (
        "{code} is not among the oxygen-sensor codes listed here; look it up in the vehicle's "
        "own literature before suspecting a sensor."
    )

    @property
    def sentence(self) -> str:
        """What not finding it means."""
        return self.wording.format(code=self.code)


LookUp = FaultCode | Unreadable | MakerSpecific | Unknown


def normalised(text: str) -> str:
    """Give the code as one capital letter and four characters, "P0135", from a person's spelling.

    Forgiven: small letters, spaces and dashes after the letter or around the code, a missing P,
    a missing leading zero ("p135"), the letter O for a zero, and a failure type after a dash or
    colon ("P0135-13"), which is dropped. Raises ValueError with a sentence for anything else.
    """
    tidy = unicodedata.normalize("NFKC", text).strip().upper().translate(_DASHES)
    match = _WRITTEN.fullmatch(tidy)
    if match is None:
        raise ValueError(Unreadable(text.strip()).sentence)
    return f"{match['system'] or 'P'}{match['four'] or '0' + match['three']}"


def look_up(text: str) -> LookUp:
    """Give what the code is about, or why nothing can be said about it.

    Which ranges belong to the makers (P1, P30 to P33, and 1 and 2 of the other letters) is
    SAE J2012, from memory.
    """
    try:
        code = normalised(text)
    except ValueError:
        return Unreadable(text.strip())
    if code in FAULT_CODES:
        return FAULT_CODES[code]
    return MakerSpecific(code) if _MAKER.match(code) else Unknown(code)


def location(code: str) -> tuple[SensorPlace, ...]:
    """Give the sensors a code names: one, two for exchanged sensors, none for any other code."""
    found = look_up(code)
    return found.sensors if isinstance(found, FaultCode) else ()


def codes_for(bank: int, position: int, kind: SensorKind | None = None) -> tuple[FaultCode, ...]:
    """Give every code that names this sensor, exchanged-sensor codes too, in their order.

    With a `kind`, codes about a pump cell's circuits are left out for sensors that have none.
    Only banks 1 and 2 and positions 1 to 3 have codes of their own; others give an empty tuple.
    """
    place = SensorPlace(bank, position)
    pump = kind in (None, SensorKind.WIDE_RANGE)
    return tuple(
        code
        for code in FAULT_CODES.values()
        if place in code.sensors and (pump or code.circuit not in PUMP_CIRCUITS)
    )


_TOLD_BEHIND_CATALYST = frozenset(
    {Noticed.LOW_EFFICIENCY, Noticed.LEAN_AFTER_CATALYST, Noticed.RICH_AFTER_CATALYST}
)


def related_codes(bank: int, *, is_seen_behind: bool) -> tuple[FaultCode, ...]:
    """Give the codes about the bank's mixture and catalyst, which a sensor's fault can set.

    `is_seen_behind` says that a sensor stands behind the catalyst; without it, none of what only
    that one tells.
    """
    related = (Subject.FUEL_TRIM, Subject.CATALYST)
    return tuple(
        code
        for code in FAULT_CODES.values()
        if code.bank == bank
        and code.subject in related
        and (is_seen_behind or code.noticed not in _TOLD_BEHIND_CATALYST)
    )


def packed(code: str) -> bytes:
    """Give the two bytes in which a vehicle sends the code.

    Two bits for the letter (P, C, B, U), two for the first digit, four for each of the others
    (SAE J1979 / ISO 15031-5, as republished). Raises ValueError for a text that is no code.
    """
    code = normalised(code)
    number = _SYSTEMS.index(code[0]) << 14 | int(code[1:], 16)
    return number.to_bytes(2, "big")


def unpacked(sent: bytes) -> str:
    """Give the code that a vehicle sent as two bytes; the inverse of `packed`."""
    if len(sent) != 2:
        raise ValueError(f"a fault code is sent as 2 bytes, not {len(sent)}")
    number = int.from_bytes(sent, "big")
    return f"{_SYSTEMS[number >> 14]}{number & 0x3FFF:04X}"
