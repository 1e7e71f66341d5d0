"""What can hurt in this work, and how strongly it is said.

The signal words are those of ANSI Z535.4 (and ISO 3864-2): DANGER will, WARNING could cause
death or serious injury; CAUTION could cause minor or moderate injury; NOTICE is not about
injury. Which hazard deserves which word is common practice, no source.
"""

from enum import StrEnum


class SignalWord(StrEnum):
    """How strongly a caution is said, strongest first."""

    DANGER = "DANGER"
    WARNING = "WARNING"
    CAUTION = "CAUTION"
    NOTICE = "NOTICE"


class Hazard(StrEnum):
    """One way in which this work hurts people, or the vehicle."""

    HIGH_VOLTAGE = "high-voltage"
    UNDER_VEHICLE = "under-vehicle"
    HOT_EXHAUST = "hot-exhaust"
    EXHAUST_GAS = "exhaust-gas"
    MOVING_PARTS = "moving-parts"
    FUEL_LINE = "fuel-line"
    AIRBAG_WIRING = "airbag-wiring"
    LOAD_CARRYING = "load-carrying"
    PENETRATING_FLUID = "penetrating-fluid"
    SHARP_EDGE = "sharp-edge"
    SENSING_CELL = "sensing-cell"
    SILICONE = "silicone"


SIGNAL_WORDS: dict[Hazard, SignalWord] = {
    Hazard.HIGH_VOLTAGE: SignalWord.DANGER,
    Hazard.UNDER_VEHICLE: SignalWord.DANGER,
    Hazard.HOT_EXHAUST: SignalWord.WARNING,
    Hazard.EXHAUST_GAS: SignalWord.DANGER,
    Hazard.MOVING_PARTS: SignalWord.WARNING,
    Hazard.FUEL_LINE: SignalWord.WARNING,
    Hazard.AIRBAG_WIRING: SignalWord.WARNING,
    Hazard.LOAD_CARRYING: SignalWord.WARNING,
    Hazard.PENETRATING_FLUID: SignalWord.WARNING,
    Hazard.SHARP_EDGE: SignalWord.CAUTION,
    Hazard.SENSING_CELL: SignalWord.NOTICE,
    Hazard.SILICONE: SignalWord.NOTICE,
}
