"""A fastener's size across flats should be one that is made for its thread.

Sizes of ISO 4014, DIN 931, flange bolts and socket heads by open tables of standard parts; the JIS
series from memory, so that it only widens what counts as typical.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.profile.threaded import threaded
from generator.trade.hex_sizes import diameters_for, matching_sizes, typical_sizes


def _check(profile: Profile) -> Iterator[Fault]:
    for part in threaded(profile):
        diameter_mm = part.stated.diameter_mm
        if part.is_sensor or part.hex is None or not typical_sizes(diameter_mm):
            continue
        if not matching_sizes(diameter_mm, part.hex.low_mm):
            yield Fault(
                (*part.path, "hex"),
                f"`{part.hex.text}` is no typical size across flats for M{diameter_mm:g}: "
                f"{_typical(diameter_mm)}.",
                _mend(part.hex.text, part.hex.low_mm),
            )


def _typical(diameter_mm: float) -> str:
    series: dict[float, list[str]] = {}
    for size in typical_sizes(diameter_mm):
        series.setdefault(size.across_flats_mm, []).append(size.series.name)
    return ", ".join(f"{mm:g} mm ({', '.join(names)})" for mm, names in series.items())


def _mend(text: str, across_flats_mm: float) -> str:
    fitting = [f"M{diameter:g}" for diameter in diameters_for(across_flats_mm)]
    if not fitting:
        return "Compare it with your source, or measure it."
    return f"`{text}` is typical for {', '.join(fitting)}: look at the thread again too."


RULE = Rule("hex-for-thread", Severity.WARNING, _check)
