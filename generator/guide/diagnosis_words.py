"""What sets a vehicle's diagnosis apart: older than the standard codes, or a hybrid."""

from __future__ import annotations

from generator.guide.vehicle import Vehicle
from generator.profile.sensor_model import Sensor
from generator.trade.hazard import Hazard

FIRST_STANDARD_YEAR = 1996
"""Model year from which the standard's codes and socket are to be expected.

From memory, and different from market to market: it decides what is said, and no limit.
"""


def before_standard_codes(vehicle: Vehicle) -> str:
    """That model years of this vehicle may lack the standard's codes; empty for later ones."""
    if vehicle.profile.vehicle.years.first >= FIRST_STANDARD_YEAR:
        return ""
    return vehicle.t.gettext(
        "Model years before %(year)s seldom have the standard's socket, codes, parameters and "
        "monitors (the year from memory): this vehicle's own literature says how it reports faults."
    ) % {"year": FIRST_STANDARD_YEAR}


def read_without_scan_tool(vehicle: Vehicle) -> str:
    """How a signal is read where there may be no live data; empty for later vehicles."""
    if not before_standard_codes(vehicle):
        return ""
    return vehicle.t.gettext(
        "Without live data: a voltmeter of at least 10 MΩ, never an ohmmeter, connector joined, "
        "the probe slid in along the signal wire (common practice, no source)."
    )


def kept_running(vehicle: Vehicle) -> str:
    """That a hybrid's engine stops and starts by itself; empty for other vehicles."""
    if Hazard.HIGH_VOLTAGE not in vehicle.profile.vehicle.hazards:
        return ""
    return vehicle.t.gettext(
        "The engine stops and starts by itself: the vehicle's literature says how to keep it "
        "running for this."
    )


def fit_to_run(vehicle: Vehicle, sensor: Sensor) -> str:
    """What to do before the engine runs, with a way in open where anything comes off."""
    _ = vehicle.t.gettext
    told = _("Before it runs: out of gear, handbrake on, nobody underneath.")
    if not vehicle.obstacles(sensor):
        return told
    inside = _("What it needs is back on, and no rag, cap or tool is left inside.")
    return f"{told} {inside}"


def switched_on(vehicle: Vehicle) -> str:
    """How a hybrid is switched on for a measurement; empty for other vehicles."""
    if Hazard.HIGH_VOLTAGE not in vehicle.profile.vehicle.hazards:
        return ""
    return vehicle.t.gettext(
        "Switched on, but not in ready state: there the engine starts by itself. The vehicle's "
        "literature says how."
    )
