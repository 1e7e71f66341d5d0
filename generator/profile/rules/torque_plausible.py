"""A torque should be one that its thread can be tightened to.

A bolt is held against T = K F d: preload from the proof loads of ISO 898-1, nut factors of an
engineering tutorial page; a sensor against common practice, no source. Either band is wide, and
the vehicle's own source outranks it: a torque outside it is most often a slip of the pen.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.profile.rules.torque_unit import units_meant
from generator.profile.threaded import threaded


def _check(profile: Profile) -> Iterator[Fault]:
    for part in threaded(profile):
        strange = part.strange_torque
        # A unit that explains the figures is a better finding: `torque-unit` tells that one
        if strange is None or units_meant(*strange):
            continue
        torque, band = strange
        how = "less" if torque.low_nm < band.low_nm else "more"
        yield Fault(
            (*part.path, "torque", "value"),
            f"`{torque.text}` is {how} than is ordinary for {part.stated.text}: "
            f"{band.low_nm:.3g} to {band.high_nm:.3g} N·m ({band.basis}).",
            "Compare the figures, the unit and the thread with your source.",
        )


RULE = Rule("torque-plausible", Severity.WARNING, _check)
