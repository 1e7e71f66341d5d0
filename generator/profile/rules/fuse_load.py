"""A fuse should bear the heaters on it once they are hot.

Ohm's law, with a hot resistance of 3 to 4 times the cold one (common practice, no source). More
than the rating at switch-on is no finding: it lasts seconds. More than the rating when hot means
that the rating, a resistance or the list of heaters is wrong.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.trade.heater import ResistanceRange
from generator.trade.heater_current import FuseStatus, fuse_load


def _check(profile: Profile) -> Iterator[Fault]:
    heaters: dict[str, list[ResistanceRange]] = {}
    for sensor in profile.sensors:
        if sensor.fuse and sensor.cold_resistance:
            cold = sensor.cold_resistance.value
            heaters.setdefault(sensor.fuse, []).append(ResistanceRange(cold.low_ohm, cold.high_ohm))
    for name, on_fuse in heaters.items():
        fuse = profile.fuses.get(name)
        if fuse is None:
            continue
        load = fuse_load(on_fuse, fuse.rating.value.high_a)
        if load.status is FuseStatus.ABOVE_WHEN_HOT:
            count = "The heater" if len(on_fuse) == 1 else f"The {len(on_fuse)} heaters"
            verb = "draws" if len(on_fuse) == 1 else "draw"
            yield Fault(
                ("fuses", name, "rating", "value"),
                f"{count} on this fuse {verb} at least {load.hot.low_a:.2g} A even when hot, "
                f"and it is rated {load.rating_a:g} A.",
                "Compare the rating, the cold resistances and the heaters it feeds with your "
                "source. A larger fuse is never the mend.",
            )


RULE = Rule("fuse-load", Severity.WARNING, _check)
