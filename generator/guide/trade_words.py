"""The sentences that the trade's computations word themselves, for the message catalogue.

They are translated where a page shows them, out of a variable, so they cannot be found there.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.trade.fault_codes import MakerSpecific, Unknown, Unreadable
from generator.trade.fouling import FOULING, Fouling, Look
from generator.trade.fuse import FUSE_COLOURS
from generator.trade.sensor import Behaviour, Condition
from generator.trade.signal import TITANIA_BEHAVIOUR
from generator.trade.wiring import COLOURS


def trade_words() -> Iterator[str]:
    """Every such sentence; some stand there twice."""
    yield from Condition
    yield from Behaviour
    yield TITANIA_BEHAVIOUR
    yield from COLOURS.values()
    yield from FUSE_COLOURS.values()
    yield from (each.wording for each in (Unreadable, MakerSpecific, Unknown))
    yield Fouling.basis
    yield from Look
    for found in FOULING.values():
        yield from (found.cause, found.cure_first, *found.confirm)
