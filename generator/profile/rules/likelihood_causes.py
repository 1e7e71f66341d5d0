"""Likelihoods are stated for causes that the symptom can have, as weights of nothing or more.

They order the first checks. A cause that the symptom cannot have, or a symptom with no cause left,
would send the technician nowhere.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Path, Severity, did_you_mean
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.trade.first_checks import Cause
from generator.trade.likely_causes import DEFAULT_CAUSES, HEATER_CAUSES, Symptom, causes_of


def _check(profile: Profile) -> Iterator[Fault]:
    for symptom, stated in profile.likelihoods.items():
        at: Path = ("likelihoods", symptom.value, "causes")
        known = [cause.name for cause in DEFAULT_CAUSES[symptom]]
        for name, weight in stated.causes.items():
            if name not in known:
                yield Fault(
                    (*at, name),
                    f"`{name}` is no cause of `{symptom}`.",
                    did_you_mean(name, known) or f"Its causes are {_listed(known)}.",
                    at_key=True,
                )
            elif weight < 0:
                yield Fault(
                    (*at, name),
                    "A weight cannot be less than nothing.",
                    "Write 0 for a cause that does not occur on this vehicle.",
                )
        left = causes_of(symptom, [Cause(*each) for each in stated.causes.items()])
        if not any(_can_be(profile, symptom, cause) for cause in left):
            yield Fault(at, f"No cause of `{symptom}` is left.", "Give one of them a weight.")


def _can_be(profile: Profile, symptom: Symptom, cause: Cause) -> bool:
    """Whether each sensor that may show the symptom can have the cause."""
    if symptom is Symptom.HEATER_CIRCUIT or cause.name not in HEATER_CAUSES:
        return True
    return all(sensor.is_heated for sensor in profile.sensors)


def _listed(names: list[str]) -> str:
    quoted = [f"`{name}`" for name in names]
    return f"{', '.join(quoted[:-1])} and {quoted[-1]}"


RULE = Rule("likelihood-causes", Severity.ERROR, _check)
