"""What the checks, the causes they reveal and the reasons for their order are called."""

from __future__ import annotations

from functools import lru_cache
from gettext import NullTranslations

from generator.trade.default_checks import CheckName
from generator.trade.first_checks import Reason


@lru_cache(maxsize=8)
def cause_words(t: NullTranslations) -> dict[str, str]:
    """The causes by their name in a profile."""
    _ = t.gettext
    return {
        "heater-open": _("heater broken"),
        "heater-shorted": _("heater shorted"),
        "heater-not-heating": _("heater not heating"),
        "heater-weak": _("weak heater"),
        "connector-or-wiring": _("plug or wiring"),
        "fuse": _("fuse"),
        "control-driver": _("heater driver in the engine computer"),
        "control-unit": _("engine computer"),
        "sensor-dead": _("dead sensor"),
        "sensor-aged": _("worn-out sensor"),
        "sensor-fouled": _("fouled sensor"),
        "sensor-loose": _("sensor not tight"),
        "sensor-damaged": _("damaged sensor"),
        "exhaust-leak": _("leak in the exhaust ahead of it"),
        "intake-leak": _("air leak in the intake"),
        "low-fuel-pressure": _("low fuel pressure"),
        "fuel-pressure-or-injector": _("high fuel pressure or a leaking injector"),
        "air-meter": _("air meter"),
        "purge-valve": _("purge valve stuck open"),
        "connectors-exchanged": _("plugs exchanged"),
        "misfire-or-mixture": _("misfire or mixture"),
        "catalyst-worn": _("worn-out catalyst"),
    }


@lru_cache(maxsize=8)
def check_words(t: NullTranslations) -> dict[CheckName, str]:
    """Each check as something to do; what can hurt comes first in the sentence."""
    _ = t.gettext
    return {
        CheckName.LIVE_DATA: _("Watch the live data: snap the throttle, then let it coast"),
        CheckName.COLD_START: _("Watch the live data from a cold start: does it wake late?"),
        CheckName.FUSE: _("Look at the heater's fuse"),
        CheckName.HEATER_RESISTANCE: _("Measure the heater, cold, at the plug"),
        CheckName.SUPPLY_LAMP: _("Prove the heater's supply with a test lamp; look at the plug"),
        CheckName.HEATER_CONTROL: _("Watch the control wire's voltage with the plug together"),
        CheckName.LOOK_AT_WIRING: _("Look over the plug and the wiring, and where they lead"),
        CheckName.WIGGLE: _("Wiggle the plug and the wiring while the live data shows"),
        CheckName.UNPLUG_AND_WATCH: _("Ignition on, unplug it: does its live value change?"),
        CheckName.WIRE_THROUGH: _(
            "Ignition off, both ends unplugged: prove each wire from the plug's harness half to "
            "the engine computer"
        ),
        CheckName.TIP: _("Take the sensor out, cold, and look at its tip"),
        CheckName.SENSOR_TIGHT: _("Exhaust cold: is the sensor tight?"),
        CheckName.EXHAUST_LEAK: _("Look for a leak in the exhaust, from the engine to the sensor"),
        CheckName.INTAKE_LEAK: _("Look for an air leak in the intake, with smoke"),
        CheckName.TRIMS_AND_AIR_METER: _("Read fuel trims and air meter at idle and 2,500 rpm"),
        CheckName.FUEL_PRESSURE: _(
            "Fuel under pressure sprays and burns: measure its pressure only as the vehicle's own "
            "literature says"
        ),
        CheckName.PURGE_VALVE: _("Close off the purge valve's hose: does the mixture recover?"),
        CheckName.OTHER_CODES: _(
            "Read every stored code: one about misfire, mixture or a sensor comes first"
        ),
        CheckName.BOTH_SIGNALS: _(
            "No leak found: drive until all is hot, then hold 2,500 rpm. Does the signal behind "
            "the catalyst follow the one before it?"
        ),
    }


@lru_cache(maxsize=8)
def reason_words(t: NullTranslations) -> dict[Reason, str]:
    """Why a check stands where it stands."""
    _ = t.gettext
    return {
        Reason.LAST_LEFT: _("what is left"),
        Reason.QUICK_AND_LIKELY: _("the quickest left, and the likeliest"),
        Reason.ACCESS_ALREADY_OPEN: _("the way in is open by now"),
        Reason.QUICK: _("the quickest left"),
        Reason.LIKELY: _("the likeliest left"),
        Reason.MOST_FOR_ITS_MINUTES: _("finds most for its minutes"),
        Reason.OPENS_THE_WAY: _("opens the way for those after it"),
        Reason.SHORTEST_AS_A_WHOLE: _("makes the whole order shortest"),
    }
