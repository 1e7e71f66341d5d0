"""A sensor should have one of the threads and hexes that sensors are made with.

Common practice, no source: nearly all are M18x1.5 with a hex of 22 mm (7/8 in), some M12x1.25.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.profile.threaded import Threaded, threaded
from generator.trade.sensor_threads import SENSOR_THREADS, SensorThread, sensor_thread

_MEND = "Compare it with your source, or measure the sensor."


def _check(profile: Profile) -> Iterator[Fault]:
    for part in threaded(profile):
        # A thread that is not made at all is told by `pitch-known`
        if not part.is_sensor or part.thread is None:
            continue
        known = sensor_thread(part.stated.diameter_mm, part.stated.pitch_mm)
        if known is None:
            threads = " or ".join(str(each.thread) for each in SENSOR_THREADS)
            yield Fault(
                (*part.path, "thread"),
                f"`{part.stated.text}` is no common thread of a sensor: most are {threads} "
                "(common practice, no source).",
                _MEND,
            )
        else:
            yield from _hex(part, known)


def _hex(part: Threaded, known: SensorThread) -> Iterator[Fault]:
    if part.hex is None or known.has_hex(part.hex.low_mm):
        return
    if known.hexes:
        usual = f"is no common hex of a sensor with {known.thread}: {' or '.join(known.hexes)}"
        message = f"`{part.hex.text}` {usual} (common practice, no source)."
    else:
        message = f"`{part.hex.text}` across flats does not clear a thread of {known.thread}."
    yield Fault((*part.path, "hex"), message, _MEND)


RULE = Rule("sensor-thread", Severity.WARNING, _check)
