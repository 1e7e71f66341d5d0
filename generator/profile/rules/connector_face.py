"""Terminals must fit their connector, each job once, and be coloured by IEC 60757.

The guide draws the face and says which terminals to touch, so every number needs a place in it and
every job one terminal.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Path, Severity
from generator.profile.model import Pin, Profile
from generator.profile.rules.rule import Rule
from generator.trade import connector, wiring


def _check(profile: Profile) -> Iterator[Fault]:
    for name, described in profile.connectors.items():
        at: Path = ("connectors", name)
        jobs = {number: pin.job for number, pin in described.pins.items()}
        for fault in connector.faults(described.as_face, jobs):
            path = (*at, "pins", fault.pin) if fault.pin is not None else at
            yield Fault(path, f"{fault.reason[0].upper()}{fault.reason[1:]}.")
        for number, pin in described.pins.items():
            yield from _colours((*at, "pins", number), pin)


def _colours(at: Path, pin: Pin) -> Iterator[Fault]:
    for key in ("sensor_wire", "harness_wire"):
        code = getattr(pin, key)
        if code is None:
            continue
        try:
            wiring.wire_colour(code)
        except ValueError as error:
            message = str(error)
            yield Fault(
                (*at, key),
                f"{message[0].upper()}{message[1:]}.",
                "Write one colour code, such as BK, WH or RDBU, or leave it out.",
            )


RULE = Rule("connector-face", Severity.ERROR, _check)
