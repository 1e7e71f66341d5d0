"""A photo belongs to a step, a connector, an obstacle or a sensor that is in the profile.

`at` is the way to it from key to key, with points between, as `exceptions` have it. A sensor is
`sensors.bank-1-position-2`, its connector `sensors.bank-1-position-2.connector`, and that
connector's release `sensors.bank-1-position-2.connector.latch`, or `.holder` for what holds the
housing. The face with the terminals is `connectors.` and its name. An obstacle is `obstacles.` and
its name; behind that, `.steps.2` is the second step of taking it off, `.refit_steps.1` the first of
putting it back. A photo that leads elsewhere would be on no page.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterator

from generator.profile.finding import Fault, Severity, did_you_mean
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule

_BY_DIGITS = re.compile(
    r"(?:h?o2s|sensors?|b|bank)?[ .-]*(?P<bank>[1-9])"
    r"(?:[ .,/-]*(?:s|sensor|position)?[ .-]*(?P<position>[1-9]))?"
    r"(?P<behind>\.connector(?:\.latch|\.holder)?)?"
)


def photo_places(profile: Profile) -> Iterator[str]:
    """Every way that a photo of this profile may lead, in the order of the profile."""
    for name, obstacle in profile.obstacles.items():
        at = f"obstacles.{name}"
        yield at
        yield from (f"{at}.steps.{n}" for n in range(1, len(obstacle.steps) + 1))
        yield from (f"{at}.refit_steps.{n}" for n in range(1, len(obstacle.refit_steps) + 1))
    yield from (f"connectors.{name}" for name in profile.connectors)
    for sensor in profile.sensors:
        at = f"sensors.bank-{sensor.bank}-position-{sensor.position}"
        yield at
        yield f"{at}.connector"
        if sensor.connector:
            yield from (f"{at}.connector.{part}" for part in ("holder", "latch"))


def _sensor_meant(at: str, profile: Profile, places: Container[str]) -> str:
    """The question whether a sensor was meant that is named by digits, as `O2S11` and `1.1` are."""
    found = _BY_DIGITS.fullmatch(at.strip().casefold())
    if not found:
        return ""
    bank, position, behind = found["bank"], found["position"], found["behind"] or ""
    if position is None:
        number = int(bank)
        if not 1 <= number <= len(profile.sensors):
            return ""
        bank, position = profile.sensors[number - 1].bank, profile.sensors[number - 1].position
    meant = f"sensors.bank-{bank}-position-{position}{behind}"
    return f"Did you mean `{meant}`?" if meant in places else ""


def _check(profile: Profile) -> Iterator[Fault]:
    if not profile.photos:
        return
    places = dict.fromkeys(photo_places(profile))
    for index, photo in enumerate(profile.photos):
        if photo.at not in places:
            yield Fault(
                ("photos", index, "at"),
                f"`{photo.at}` leads to nothing that a photo can stand beside.",
                _sensor_meant(photo.at, profile, places)
                or did_you_mean(photo.at, places)
                or "Name a sensor, its connector, an obstacle or one of its steps, such as "
                f"`{next(reversed(places))}`.",
            )


RULE = Rule("photo-place", Severity.ERROR, _check)
