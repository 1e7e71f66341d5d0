"""The fixed words for what the trade computes, translated by the catalogue that is handed in."""

from __future__ import annotations

from functools import lru_cache
from gettext import NullTranslations

from generator.profile.guide_model import Source, SourceKind
from generator.profile.model import Profile
from generator.profile.sensor_model import ThreadState
from generator.trade import place, wiring
from generator.trade.connector import PinJob
from generator.trade.place import (
    Arrangement,
    Bay,
    CabinSide,
    Direction,
    Landmark,
    Mounting,
    PositionPlace,
    Side,
    Standpoint,
    Wheel,
)
from generator.trade.sensor import SensorKind


def sensor_kind(kind: SensorKind, t: NullTranslations) -> str:
    """What a sensor of a kind is called."""
    _ = t.gettext
    return {
        SensorKind.SWITCHING: _("Oxygen sensor (switching)"),
        SensorKind.WIDE_RANGE: _("Air-fuel sensor (wide-range)"),
        SensorKind.TITANIA: _("Oxygen sensor (titania)"),
    }[kind]


def along_exhaust(position: int, t: NullTranslations, catalysts: int = 1) -> str:
    """Where along the exhaust a position is, among the catalysts of its bank."""
    _ = t.gettext
    if catalysts == 0:
        return _("nearest the engine") if position == 1 else _("further down the exhaust")
    if 1 <= position <= catalysts + 1 and catalysts > 1:
        return (
            _("before the first catalyst"),
            _("after the first catalyst"),
            _("after the second catalyst"),
            _("after the third catalyst"),
        )[position - 1]
    return {
        PositionPlace.BEFORE_CATALYST: _("before the catalyst"),
        PositionPlace.AFTER_CATALYST: _("after the catalyst"),
        PositionPlace.FURTHER_DOWN: _("further down the exhaust"),
    }[place.position_place(position)]


def landmark(mark: Landmark, t: NullTranslations) -> str:
    """What lies on a side of the engine bay."""
    _ = t.gettext
    return {
        Landmark.RADIATOR: _("the radiator"),
        Landmark.BULKHEAD: _("the bulkhead (firewall)"),
        Landmark.REAR_BUMPER: _("the rear bumper"),
    }[mark]


def side_words(side: Side, t: NullTranslations) -> str:
    """A side of the vehicle, in its own axes."""
    _ = t.gettext
    return {
        Side.FRONT: _("front"),
        Side.REAR: _("rear"),
        Side.LEFT: _("left"),
        Side.RIGHT: _("right"),
    }[side]


def bank_place(
    profile: Profile, number: int, t: NullTranslations, steering: list[Wheel] | None = None
) -> str:
    """Where a bank is on this vehicle, in one phrase, true for every side of the wheel.

    `steering` narrows it to these sides.
    """
    _ = t.gettext
    side = profile.banks[number].side
    is_only = len(profile.banks) == 1
    if side is None:
        return _("all cylinders, where their exhaust has joined")
    parts = [
        _("exhaust on the %(side)s side") if is_only else _("%(side)s bank"),
    ]
    if mark := place.landmark(side, profile.engine.bay):
        parts.append(_("toward %(landmark)s") % {"landmark": landmark(mark, t)})
    elif cabin := _cabin_side(side, steering or profile.steering, t):
        parts.append(cabin)
    return ", ".join(parts) % {"side": side_words(side, t)}


def _cabin_side(side: Side, steering: list[Wheel], t: NullTranslations) -> str:
    _ = t.gettext
    by_wheel = {wheel: place.wheel_side(side, wheel) for wheel in steering}
    names = {CabinSide.DRIVERS: _("driver's side"), CabinSide.PASSENGERS: _("passenger's side")}
    if len(set(by_wheel.values())) == 1:
        cabin = next(iter(by_wheel.values()))
        return names[cabin] if cabin else ""
    on_left, on_right = by_wheel[Wheel.LEFT], by_wheel[Wheel.RIGHT]
    if on_left is None or on_right is None:
        return ""
    return _("%(side)s where the wheel is on the left, else %(other)s") % {
        "side": names[on_left],
        "other": names[on_right],
    }


def standpoint(standpoint_: Standpoint, t: NullTranslations) -> str:
    """Where the reader stands."""
    _ = t.gettext
    return {
        Standpoint.DRIVERS_SEAT: _("In the driver's seat, looking forward"),
        Standpoint.FRONT_BUMPER: _("Leaning in over the front bumper"),
        Standpoint.REAR_BUMPER: _("Leaning in over the rear bumper"),
        Standpoint.UNDER_HEAD_REARWARD: _("On your back underneath, head toward the rear"),
        Standpoint.UNDER_HEAD_FORWARD: _("On your back underneath, head toward the front"),
    }[standpoint_]


def seen_from(side: Side, standpoint_: Standpoint, t: NullTranslations) -> str:
    """Where a side of the engine lies for a reader at a standpoint."""
    _ = t.gettext
    direction = place.seen_from(side, standpoint_)
    if standpoint_ is Standpoint.DRIVERS_SEAT and side in (Side.FRONT, Side.REAR):
        # Near and far turn round when the engine is behind the seats; ahead and behind do not
        return {Side.FRONT: _("on the forward side"), Side.REAR: _("on the rearward side")}[side]
    return {
        Direction.LEFT_HAND: _("on your left"),
        Direction.RIGHT_HAND: _("on your right"),
        Direction.TOWARD_READER: _("on the near side"),
        Direction.AWAY_FROM_READER: _("on the far side"),
        Direction.TOWARD_HEAD: _("toward your head"),
        Direction.TOWARD_FEET: _("toward your feet"),
    }[direction]


def engine(profile: Profile, t: NullTranslations) -> str:
    """How the engine stands in the vehicle."""
    _ = t.gettext
    arrangement = {
        Arrangement.INLINE: _("in-line"),
        Arrangement.VEE: _("vee"),
        Arrangement.FLAT: _("flat"),
    }[profile.engine.arrangement]
    mounting = {
        Mounting.TRANSVERSE: _("across the vehicle"),
        Mounting.LONGITUDINAL: _("lengthwise"),
    }[profile.engine.mounting]
    bay = {
        Bay.FRONT: _("at the front"),
        Bay.MID: _("behind the seats"),
        Bay.REAR: _("at the rear"),
    }[profile.engine.bay]
    return _("%(count)s cylinders, %(arrangement)s, mounted %(mounting)s %(bay)s") % {
        "count": profile.engine.cylinders,
        "arrangement": arrangement,
        "mounting": mounting,
        "bay": bay,
    }


def steering(profile: Profile, t: NullTranslations) -> str:
    """The sides of the wheel the guide covers."""
    _ = t.gettext
    if len(set(profile.steering)) > 1:
        return _("left- and right-hand drive")
    return {Wheel.LEFT: _("left-hand drive"), Wheel.RIGHT: _("right-hand drive")}[
        profile.steering[0]
    ]


@lru_cache
def pin_job(job: PinJob, t: NullTranslations) -> str:
    """What a terminal does."""
    _ = t.gettext
    return {
        PinJob.HEATER_SUPPLY: _("heater supply"),
        PinJob.HEATER_CONTROL: _("heater control"),
        PinJob.SIGNAL: _("signal"),
        PinJob.SIGNAL_GROUND: _("signal ground"),
        PinJob.PUMP: _("pump"),
        PinJob.PUMP_RETURN: _("pump return"),
        PinJob.REFERENCE: _("reference"),
        PinJob.TRIM: _("trim resistor"),
    }[job]


@lru_cache(maxsize=1024)
def colour(code: str | None, t: NullTranslations) -> str:
    """A wire colour spelled out with its code, or nothing where it is not stated."""
    _ = t.gettext
    if code is None:
        return ""
    words = _(" and ").join(_(word) for word in wiring.wire_colour(code))
    return f"{words} ({code})"


def thread_state(state: ThreadState | None, t: NullTranslations) -> str:
    """The state of the thread that a torque is meant for."""
    _ = t.gettext
    if state is None:
        return _("The source does not say for which state of the thread.")
    return {
        ThreadState.AS_DELIVERED: _("For the thread as the new sensor is delivered."),
        ThreadState.DRY: _("For a clean, dry thread."),
        ThreadState.ANTI_SEIZE: _("For a thread with anti-seize."),
    }[state]


def source(source_: Source, t: NullTranslations) -> str:
    """A source in one line: title, edition, locator; its kind where it is no literature."""
    _ = t.gettext
    kinds = {
        SourceKind.MAKER: None,
        SourceKind.MEASUREMENT: _("measured"),
        SourceKind.COMMON_PRACTICE: _("common practice"),
    }
    parts = (source_.title, source_.edition, source_.locator, kinds[source_.kind])
    return ", ".join(part for part in parts if part)
