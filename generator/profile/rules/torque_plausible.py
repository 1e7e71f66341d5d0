"""A torque should be one that its thread can be tightened to.

A bolt is held against T = K F d: preload from the proof loads of ISO 898-1, nut factors of an
engineering tutorial page; a sensor against common practice, no source, for its thread or, where
none is stated, for all usual ones. Either band is wide, and the vehicle's own source outranks it: a
torque outside it is most often a slip of the pen.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.profile.rules.torque_unit import units_meant
from generator.profile.threaded import strange_torques

_MEND = "Compare the figures, the unit and the thread with your source."
_MEND_WITHOUT_THREAD = "Compare the figures and the unit with your source, and state the thread."


def _check(profile: Profile) -> Iterator[Fault]:
    for strange in strange_torques(profile):
        # A unit that explains the figures is a better finding: `torque-unit` tells that one
        if units_meant(strange.torque, strange.band):
            continue
        yield Fault(strange.path, str(strange), _MEND if strange.thread else _MEND_WITHOUT_THREAD)


RULE = Rule("torque-plausible", Severity.WARNING, _check)
