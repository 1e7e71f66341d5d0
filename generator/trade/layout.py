"""Whether the banks of a profile fit the engine they belong to.

Bank 1 is the bank that holds cylinder 1; nothing else defines it (SAE J1930 / J2012 and
ISO 15031-6, from memory). Up to four banks: SAE J1979 has a four-bank layout (from memory).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from generator.trade.standpoint import Bay, Side

HIGHEST_BANK = 4


class Arrangement(StrEnum):
    """How the cylinders stand to one another."""

    INLINE = "inline"
    VEE = "vee"
    FLAT = "flat"


class Mounting(StrEnum):
    """How the crankshaft lies in the vehicle: across it, or along it."""

    TRANSVERSE = "transverse"
    LONGITUDINAL = "longitudinal"


@dataclass(frozen=True, slots=True)
class Engine:
    """What decides where a bank can be: number of cylinders, arrangement, mounting and bay."""

    cylinders: int
    arrangement: Arrangement
    mounting: Mounting
    bay: Bay


@dataclass(frozen=True, slots=True)
class Bank:
    """A group of cylinders whose exhaust passes one chain of sensors, and the side it is on."""

    number: int
    cylinders: tuple[int, ...]
    side: Side | None = None


class FaultKind(StrEnum):
    """What is wrong with the banks."""

    NO_BANK_1 = "no-bank-1"
    NO_CYLINDER_1_IN_BANK_1 = "no-cylinder-1-in-bank-1"
    BANK_TWICE = "bank-twice"
    BANK_UNKNOWN = "bank-unknown"
    EMPTY_BANK = "empty-bank"
    CYLINDER_TWICE = "cylinder-twice"
    CYLINDER_NOWHERE = "cylinder-nowhere"
    CYLINDER_UNKNOWN = "cylinder-unknown"
    SIDE_CONTRADICTS_LAYOUT = "side-contradicts-layout"
    SIDE_MISSING = "side-missing"
    SAME_SIDE = "same-side"


@dataclass(frozen=True, slots=True)
class LayoutFault:
    """One thing wrong with the banks: what, where, and a sentence with the mend.

    `allowed` holds the sides that would be right, for a fault about a side; it is empty otherwise.
    """

    kind: FaultKind
    reason: str
    bank: int | None = None
    cylinder: int | None = None
    allowed: tuple[Side, ...] = ()


def layout_faults(engine: Engine, banks: Sequence[Bank]) -> tuple[LayoutFault, ...]:
    """Everything wrong with the banks of an engine, all at once; empty when they fit.

    Faults come in a fixed order: bank numbers, cylinders, sides. A cause is reported once: an
    engine without any bank yields one fault, not one a cylinder.
    """
    if not banks:
        return (_no_bank_1(),)
    return (
        *_number_faults(banks),
        *_cylinder_faults(engine.cylinders, banks),
        *_side_faults(engine, banks),
    )


def allowed_sides(engine: Engine, bank_count: int) -> tuple[Side, Side]:
    """The two sides a bank of this engine can be on.

    Across the crankshaft for a vee, a flat engine, and the exhaust side of an in-line engine with
    one bank; along it for an in-line engine split into groups. Common practice, no source.
    """
    along_crank = engine.arrangement is Arrangement.INLINE and bank_count > 1
    crank_lies_across = engine.mounting is Mounting.TRANSVERSE
    if along_crank == crank_lies_across:
        return (Side.LEFT, Side.RIGHT)
    return (Side.FRONT, Side.REAR)


def _no_bank_1() -> LayoutFault:
    return LayoutFault(
        FaultKind.NO_BANK_1,
        "There is no bank 1: call the bank that holds cylinder 1 bank 1.",
        bank=1,
    )


def _number_faults(banks: Sequence[Bank]) -> Iterator[LayoutFault]:
    numbers = [bank.number for bank in banks]
    if 1 not in numbers:
        yield _no_bank_1()
    for number in dict.fromkeys(numbers):
        if numbers.count(number) > 1:
            reason = f"Bank {number} is listed twice: give each bank its own number."
            yield LayoutFault(FaultKind.BANK_TWICE, reason, bank=number)
        if not 1 <= number <= HIGHEST_BANK:
            reason = f"There is no bank {number}: banks are numbered 1 to {HIGHEST_BANK}."
            yield LayoutFault(FaultKind.BANK_UNKNOWN, reason, bank=number)


def _cylinder_faults(cylinders: int, banks: Sequence[Bank]) -> Iterator[LayoutFault]:
    homes: dict[int, list[int]] = {}
    for bank in banks:
        if not bank.cylinders:
            reason = f"Bank {bank.number} has no cylinder: list its cylinders or leave it out."
            yield LayoutFault(FaultKind.EMPTY_BANK, reason, bank=bank.number)
        for cylinder in bank.cylinders:
            homes.setdefault(cylinder, []).append(bank.number)
    if not homes:
        return  # Nothing is listed yet: a sentence for each cylinder would bury the one that helps
    for cylinder, numbers in homes.items():
        if not 1 <= cylinder <= cylinders:
            yield _cylinder_unknown(cylinder, numbers[0], cylinders)
        elif len(numbers) > 1:
            yield _cylinder_twice(cylinder, numbers)
    yield from _cylinder_1_fault(homes, banks)
    # Cylinder 1 has a fault of its own, just above, which says the same and more.
    for cylinder in range(2, cylinders + 1):
        if cylinder not in homes:
            reason = f"Cylinder {cylinder} is in no bank: add it to the bank it exhausts into."
            yield LayoutFault(FaultKind.CYLINDER_NOWHERE, reason, cylinder=cylinder)


def _cylinder_unknown(cylinder: int, bank: int, cylinders: int) -> LayoutFault:
    reason = (
        f"Bank {bank} lists cylinder {cylinder}, but the engine has cylinders 1 to {cylinders}: "
        "mend the list or the number of cylinders."
    )
    return LayoutFault(FaultKind.CYLINDER_UNKNOWN, reason, bank=bank, cylinder=cylinder)


def _cylinder_twice(cylinder: int, banks: Sequence[int]) -> LayoutFault:
    places = " and ".join(f"bank {number}" for number in dict.fromkeys(banks))
    twice = "twice in" if len(set(banks)) == 1 else "in"
    reason = f"Cylinder {cylinder} is {twice} {places}: a cylinder belongs in one bank, once."
    return LayoutFault(FaultKind.CYLINDER_TWICE, reason, bank=banks[-1], cylinder=cylinder)


def _cylinder_1_fault(homes: dict[int, list[int]], banks: Sequence[Bank]) -> Iterator[LayoutFault]:
    holders = homes.get(1, [])
    if 1 in holders or all(bank.number != 1 for bank in banks):
        return
    found = f"it is in bank {holders[0]}" if holders else "it is in no bank"
    reason = f"Bank 1 is the bank that holds cylinder 1, but {found}: " + (
        "swap the bank numbers or mend the cylinders." if holders else "add it to bank 1."
    )
    yield LayoutFault(FaultKind.NO_CYLINDER_1_IN_BANK_1, reason, bank=1, cylinder=1)


def _side_faults(engine: Engine, banks: Sequence[Bank]) -> Iterator[LayoutFault]:
    axis = allowed_sides(engine, len(banks))
    # Exhaust merged ahead of the only sensor: such a vee or flat engine's bank is on no one side.
    may_be_sideless = len(banks) == 1 and engine.arrangement is not Arrangement.INLINE
    for index, bank in enumerate(banks):
        taken = {other.side for other in banks if other is not bank} if len(banks) == 2 else set()
        allowed = tuple(side for side in axis if side not in taken)
        if bank.side is None:
            if not may_be_sideless:
                yield _side_missing(bank, allowed)
        elif bank.side not in axis:
            yield _side_contradicts(engine, bank, allowed)
        elif bank.side in taken and index == 1:
            yield _same_side(banks[0], bank, bank.side.opposite)


def _side_missing(bank: Bank, allowed: tuple[Side, ...]) -> LayoutFault:
    reason = f"Bank {bank.number} has no side: say {_either(allowed)}."
    return LayoutFault(FaultKind.SIDE_MISSING, reason, bank=bank.number, allowed=allowed)


def _side_contradicts(engine: Engine, bank: Bank, allowed: tuple[Side, ...]) -> LayoutFault:
    kind = {"inline": "in-line"}.get(engine.arrangement.value, engine.arrangement.value)
    reason = (
        f"Bank {bank.number} of a {engine.mounting.value} {kind} engine cannot be on the "
        f"{bank.side} side: say {_either(allowed)}, or mend the mounting."
    )
    return LayoutFault(FaultKind.SIDE_CONTRADICTS_LAYOUT, reason, bank=bank.number, allowed=allowed)


def _same_side(first: Bank, second: Bank, side: Side) -> LayoutFault:
    reason = (
        f"Banks {first.number} and {second.number} are both on the {second.side} side: "
        f"one of them is {side}."
    )
    return LayoutFault(FaultKind.SAME_SIDE, reason, bank=second.number, allowed=(side,))


def _either(sides: tuple[Side, ...]) -> str:
    return " or ".join(side.value for side in sides)
