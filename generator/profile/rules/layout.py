"""The banks must fit the engine: bank 1 holds cylinder 1, every cylinder is on one bank.

A bank's side says which manifold a technician reaches for, so it must agree with the arrangement,
the mounting and the other banks. Bank 1 is the bank of cylinder 1 (SAE J2012), however it is
mounted.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Path, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.trade import place


def _check(profile: Profile) -> Iterator[Fault]:
    for fault in place.layout_faults(profile.engine_layout, profile.bank_layout):
        side = fault.allowed and fault.bank in profile.banks
        yield Fault(_path(profile, fault), fault.reason, at_key=not side)


def _path(profile: Profile, fault: place.LayoutFault) -> Path:
    if fault.bank is None or fault.bank not in profile.banks:
        return ("banks",)
    bank = profile.banks[fault.bank]
    if fault.allowed:
        return ("banks", fault.bank, "side")
    if fault.cylinder in bank.cylinders:
        last = len(bank.cylinders) - 1 - bank.cylinders[::-1].index(fault.cylinder)
        return ("banks", fault.bank, "cylinders", last)
    return ("banks", fault.bank)


RULE = Rule("layout", Severity.ERROR, _check)
