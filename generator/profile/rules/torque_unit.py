"""A torque should stand with the unit its source gives it in.

1 lbf·ft is 1.356 N·m, so a torque typed with the other unit is a third off, and a sensor goes in
loose or strips its bung. It shows only where the figures are strange as they stand and ordinary in
another unit; where they are ordinary in both, no arithmetic can tell. A sensor whose thread is not
stated is held against the span of all usual sensor threads.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.profile.dimension import TORQUE, Torque
from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.quantity import read_quantity
from generator.profile.rules.rule import Rule
from generator.profile.threaded import strange_torques
from generator.trade.tightening import TorqueBand, units_that_fit
from generator.trade.torque import TorqueUnit

_UNIT = re.compile(r"[^0-9]+$")


def units_meant(torque: Torque, band: TorqueBand) -> tuple[TorqueUnit, ...]:
    """The units in which the figures of a torque would be ordinary, as they are not in its own."""
    return units_that_fit(torque.low_nm, torque.high_nm, _unit_nm(torque), band)


def _check(profile: Profile) -> Iterator[Fault]:
    for strange in strange_torques(profile):
        torque = strange.torque
        units = units_meant(torque, strange.band)
        if not units:
            continue
        figures, typed_nm = _UNIT.sub("", torque.text), _unit_nm(torque)
        others = " or ".join(_shown(torque, typed_nm, unit) for unit in units)
        yield Fault(
            strange.path,
            f"{strange} The same figures would be ordinary in {others}.",
            "Look at the unit in your source; if it is that one, write "
            + " or ".join(f"`{figures} {unit}`" for unit in units)
            + ".",
        )


def _unit_nm(torque: Torque) -> float:
    unit = _UNIT.search(torque.text)
    return read_quantity(f"1 {unit[0].strip()}", TORQUE).low_nm if unit else 1.0


def _shown(torque: Torque, typed_nm: float, unit: TorqueUnit) -> str:
    ratio = float(unit.newton_metres) / typed_nm
    ends = dict.fromkeys(f"{end * ratio:.3g}" for end in (torque.low_nm, torque.high_nm))
    in_nm = "" if unit is TorqueUnit.NEWTON_METRE else f" ({' to '.join(ends)} N·m)"
    return f"{unit}{in_nm}"


RULE = Rule("torque-unit", Severity.WARNING, _check)
