"""Torque and the pull it makes in a bolt, and which torques are ordinary for a thread.

T = K F d: torque, nut factor, preload, diameter. Most of a torque goes into friction, so K is a
band and a torque from a vehicle's own source outranks everything here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import Final

from generator.trade.threads import (
    SHARE_OF_PROOF_LOAD,
    MetricThread,
    PropertyClass,
    proof_load_n,
)
from generator.trade.torque import TorqueUnit


@dataclass(frozen=True, slots=True)
class NutFactor:
    """A band of the nut factor K for one state of the thread."""

    low: float
    high: float


# An engineering tutorial page, crediting Shigley, Machinery's Handbook and Marks; not seen in those
DRY: Final = NutFactor(0.20, 0.25)
OILED: Final = NutFactor(0.15, 0.20)
ANTI_SEIZE: Final = NutFactor(0.12, 0.16)

# A bolt that holds a tray or a shield is often far from its strength, and hardly ever below this
# part of class 8.8's proof load: common practice, no source.
LOWEST_SHARE_OF_PROOF_LOAD: Final = 0.2

_SLACK: Final = 1e-9


@dataclass(frozen=True, slots=True)
class TorqueBand:
    """The torques in N·m that are ordinary for a thread, both ends included, and why."""

    low_nm: float
    high_nm: float
    basis: str

    def holds(self, low_nm: float, high_nm: float) -> bool:
        """Whether a whole range of torque is ordinary.

        An end converted there and back carries the error of a float, and still counts as in.
        """
        return self.low_nm * (1 - _SLACK) <= low_nm and high_nm <= self.high_nm * (1 + _SLACK)


def tightening_torque_nm(nut_factor: float, preload_n: float, diameter_mm: float) -> float:
    """The torque that makes a preload: T = K F d.

    Raises ValueError for an argument that is not above zero.
    """
    for name, number in (
        ("nut factor", nut_factor),
        ("preload", preload_n),
        ("diameter", diameter_mm),
    ):
        if not 0 < number < math.inf:
            raise ValueError(f"the {name} must be above zero, not {number:g}")
    return nut_factor * preload_n * diameter_mm / 1000


def preload_n(torque_nm: float, nut_factor: float, diameter_mm: float) -> float:
    """The preload a torque makes: F = T / (K d). Raises as `tightening_torque_nm`."""
    return torque_nm / tightening_torque_nm(nut_factor, 1.0, diameter_mm)


@cache
def fastener_band(thread: MetricThread) -> TorqueBand:
    """The torques ordinary for a bolt or nut on a thread.

    From a fifth of the proof load of class 8.8 on the slipperiest thread, to three quarters of the
    proof load of class 10.9 on the roughest one. Wide on purpose: its strength is not known.
    """
    slack_n = LOWEST_SHARE_OF_PROOF_LOAD * proof_load_n(thread, PropertyClass.C8_8)
    tight_n = SHARE_OF_PROOF_LOAD * proof_load_n(thread, PropertyClass.C10_9)
    return TorqueBand(
        tightening_torque_nm(ANTI_SEIZE.low, slack_n, thread.diameter_mm),
        tightening_torque_nm(DRY.high, tight_n, thread.diameter_mm),
        "ISO 898-1 proof loads with nut factors from 0.12 to 0.25",
    )


def units_that_fit(
    low_nm: float, high_nm: float, typed_nm: float, band: TorqueBand
) -> tuple[TorqueUnit, ...]:
    """The other units in which the figures of a torque would be ordinary for its thread.

    The torque is given in N·m; `typed_nm` is the unit it was written in, in N·m. Empty where the
    torque is ordinary as it stands: 30 N·m and 30 lbf·ft are both ordinary for M8, and no
    arithmetic can tell which was meant.
    """
    if band.holds(low_nm, high_nm):
        return ()
    fitting = []
    for unit in TorqueUnit:
        ratio = float(unit.newton_metres) / typed_nm
        if not math.isclose(ratio, 1.0) and band.holds(low_nm * ratio, high_nm * ratio):
            fitting.append(unit)
    return tuple(fitting)
