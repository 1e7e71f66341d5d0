"""What an ohmmeter reading on a cold heater says, and what it does not.

Rule: guarded acceptance and guarded rejection, JCGM 106:2012. The guard band is the expanded
uncertainty, w = U = k u with k = 2 (w = U from memory of clause 8.3.2), which leaves at most
2.28 % risk on the side decided for when the error is normal. u follows JCGM 100:2008 (GUM): the
meter's stated limit is the half-width of a rectangular distribution, once for the reading and
once for the zero of the leads, combined by root sum of squares.

The thermometer's tolerance widens the expected range instead, and is counted there only.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from generator.trade.heater import (
    RULE_OF_THUMB,
    RULE_OF_THUMB_REFERENCE_C,
    THERMOMETER_TOLERANCE_K,
    Element,
    ResistanceRange,
    condemning_range,
    expected_range,
)

COVERAGE_FACTOR = 2.0

# "No reading, or one enormously high": common practice, no source. Specified heaters go up to
# about 20 ohm, so fifty times that; and never less than ten times what this one may read.
OPEN_CIRCUIT_OHM = 1000.0
OPEN_CIRCUIT_FACTOR = 10.0

# "Near zero": common practice, no source. With its uncertainty added, the reading is still under
# half the lowest a good heater may show; without a specification that is about 1.5 ohm.
SHORT_CIRCUIT_FRACTION = 0.5
LOWEST_COMMON_SPECIFICATION_OHM = 1.5

# Sound leads held together read a few tenths of an ohm, a meter off its zero a little under none.
# Beyond these they are broken, or it is the reading written in the wrong place: common practice,
# no source.
LEAD_ZERO_LOWEST_OHM = -1.0
LEAD_ZERO_HIGHEST_OHM = 2.0


@dataclass(frozen=True, slots=True)
class Meter:
    """An ohmmeter's stated accuracy: percent of reading plus counts of its last digit."""

    percent_of_reading: float
    counts: float
    resolution_ohm: float

    def __post_init__(self) -> None:
        figures = (self.percent_of_reading, self.counts, self.resolution_ohm)
        if not all(0 <= figure < math.inf for figure in figures) or self.resolution_ohm == 0:
            raise ValueError(f"not an ohmmeter's accuracy: {self}")

    def limit_ohm(self, shown_ohm: float) -> float:
        """How far off a shown value may be: percent of reading + counts x resolution."""
        return abs(shown_ohm) * self.percent_of_reading / 100 + self.counts * self.resolution_ohm


@dataclass(frozen=True, slots=True)
class Reading:
    """What was read: the sensor, the leads held together, and the air.

    `shown_ohm` is None or infinite when the meter shows over range.
    """

    shown_ohm: float | None
    lead_zero_ohm: float
    air_c: float
    thermometer_tolerance_k: float = THERMOMETER_TOLERANCE_K

    def __post_init__(self) -> None:
        if self.shown_ohm is not None and (
            math.isnan(self.shown_ohm) or self.shown_ohm == -math.inf
        ):
            raise ValueError(f"not a reading: {self.shown_ohm} ohm")
        if not math.isfinite(self.lead_zero_ohm):
            raise ValueError(f"not a zero of the leads: {self.lead_zero_ohm} ohm")


class Outcome(StrEnum):
    """What the reading says."""

    OPEN_CIRCUIT = "open-circuit"  # the heater is broken
    SHORT_CIRCUIT = "short-circuit"  # the heater, or its wires, touch
    IN_RANGE = "in-range"  # good, whatever the uncertainty
    OUT_OF_RANGE = "out-of-range"  # bad, whatever the uncertainty
    CANNOT_TELL_YET = "cannot-tell-yet"  # the uncertainty spans a limit
    WITHIN_RULE_OF_THUMB = "within-rule-of-thumb"  # no specification: likely good, not proven
    OUTSIDE_RULE_OF_THUMB = "outside-rule-of-thumb"  # no specification: no judgement

    @property
    def condemns(self) -> bool:
        """Whether this outcome speaks against the sensor."""
        return self in (Outcome.OPEN_CIRCUIT, Outcome.SHORT_CIRCUIT, Outcome.OUT_OF_RANGE)


class Beyond(StrEnum):
    """On which side of the range the corrected reading lies."""

    BELOW = "below"
    ABOVE = "above"


class NextStep(StrEnum):
    """What to do now, in the order given."""

    ZERO_THE_LEADS = "zero-the-leads"  # hold the leads together, read, subtract
    CONFIRM_TERMINALS = "confirm-terminals"  # both probes on the heater's two terminals, bare metal
    LET_IT_COOL = "let-it-cool"  # a sensor still warm reads high
    MEASURE_NEAR_REFERENCE = "measure-near-reference"  # at the specification's own temperature
    FINER_METER = "finer-meter"  # this meter cannot pass any sensor of this range
    COMPARE_OTHER_BANK = "compare-other-bank"  # the same sensor of the other bank, if there is one
    FIND_SPECIFICATION = "find-specification"  # the vehicle's own figure, in its literature
    GO_BY_LIVE_DATA = "go-by-live-data"  # engine warm and running, scan tool
    CHECK_FUSE = "check-fuse"  # a short may have blown it; near zero, the meter may not tell
    CHECK_SUPPLY_AND_CONTROL = "check-supply-and-control"  # the heater is good: look at its wiring
    REPLACE_SENSOR = "replace-sensor"


@dataclass(frozen=True, slots=True)
class Verdict:
    """The outcome of a reading, with the figures it rests on.

    `corrected_ohm` and `expanded_uncertainty_ohm` are None over range; `range` is the one at
    the temperature of the air, from the specification or from the rule of thumb; `beyond` is None
    inside that range and over range.
    """

    outcome: Outcome
    corrected_ohm: float | None
    expanded_uncertainty_ohm: float | None
    range: ResistanceRange
    beyond: Beyond | None
    next_steps: tuple[NextStep, ...]


def steps_after(outcome: Outcome) -> tuple[NextStep, ...]:
    """Every step an outcome may lead to, in order; `judge` leaves out those that cannot help."""
    return _STEPS[outcome]


def standard_uncertainty_ohm(half_width_ohm: float) -> float:
    """Standard uncertainty of a limit of error: a / sqrt(3), rectangular (GUM clause 4.3.7)."""
    return half_width_ohm / math.sqrt(3)


def expanded_uncertainty_ohm(half_widths_ohm: Iterable[float]) -> float:
    """Expanded uncertainty of independent limits of error, k = 2 (GUM clauses 5.1.2 and 6.2)."""
    return COVERAGE_FACTOR * math.hypot(*map(standard_uncertainty_ohm, half_widths_ohm))


def judge(
    reading: Reading,
    meter: Meter,
    specified: ResistanceRange | None,
    reference_c: float = RULE_OF_THUMB_REFERENCE_C,
    element: Element = Element.UNKNOWN,
) -> Verdict:
    """The verdict on a reading, against the specification or, without one, the rule of thumb.

    Without a specification only an open or a short circuit condemns. Raises ValueError for air or
    reference temperatures outside -20 to 50 degC.
    """
    stated = RULE_OF_THUMB if specified is None else specified
    stated_at_c = RULE_OF_THUMB_REFERENCE_C if specified is None else reference_c
    allowed = expected_range(
        stated, stated_at_c, reading.air_c, element, reading.thermometer_tolerance_k
    )
    if reading.shown_ohm is None or math.isinf(reading.shown_ohm):
        steps = _STEPS[Outcome.OPEN_CIRCUIT]
        return Verdict(Outcome.OPEN_CIRCUIT, None, None, allowed, None, steps)
    corrected_ohm = reading.shown_ohm - reading.lead_zero_ohm
    spread_ohm = expanded_uncertainty_ohm(
        meter.limit_ohm(shown) for shown in (reading.shown_ohm, reading.lead_zero_ohm)
    )
    beyond = _beyond(corrected_ohm, allowed)
    outcome = _circuit_fault(corrected_ohm, spread_ohm, None if specified is None else allowed) or (
        _by_rule_of_thumb(beyond)
        if specified is None
        else _guarded(corrected_ohm, spread_ohm, allowed, condemning_range(stated, allowed))
    )
    pointless = _pointless_steps(
        beyond,
        meter_can_pass_some=2 * spread_ohm < allowed.high_ohm - allowed.low_ohm,
        at_reference=abs(reading.air_c - stated_at_c) <= reading.thermometer_tolerance_k,
    )
    steps = tuple(step for step in _STEPS[outcome] if step not in pointless)
    return Verdict(outcome, corrected_ohm, spread_ohm, allowed, beyond, steps)


def _circuit_fault(
    corrected_ohm: float, spread_ohm: float, allowed: ResistanceRange | None
) -> Outcome | None:
    """An open or a short circuit, which need no specification; `allowed` None is without one."""
    high_ohm = allowed.high_ohm if allowed else 0.0
    low_ohm = allowed.low_ohm if allowed else LOWEST_COMMON_SPECIFICATION_OHM
    if corrected_ohm - spread_ohm > max(OPEN_CIRCUIT_OHM, OPEN_CIRCUIT_FACTOR * high_ohm):
        return Outcome.OPEN_CIRCUIT
    if corrected_ohm + spread_ohm < SHORT_CIRCUIT_FRACTION * low_ohm:
        return Outcome.SHORT_CIRCUIT if corrected_ohm >= -spread_ohm else Outcome.CANNOT_TELL_YET
    return None


def _guarded(
    corrected_ohm: float,
    spread_ohm: float,
    accepting: ResistanceRange,
    condemning: ResistanceRange,
) -> Outcome:
    if accepting.low_ohm + spread_ohm <= corrected_ohm <= accepting.high_ohm - spread_ohm:
        return Outcome.IN_RANGE
    if (
        corrected_ohm + spread_ohm < condemning.low_ohm
        or corrected_ohm - spread_ohm > condemning.high_ohm
    ):
        return Outcome.OUT_OF_RANGE
    return Outcome.CANNOT_TELL_YET


def _by_rule_of_thumb(beyond: Beyond | None) -> Outcome:
    """Where the reading lies, without a guard band: nothing is decided by it."""
    return Outcome.OUTSIDE_RULE_OF_THUMB if beyond else Outcome.WITHIN_RULE_OF_THUMB


def _beyond(corrected_ohm: float, allowed: ResistanceRange) -> Beyond | None:
    if corrected_ohm < allowed.low_ohm:
        return Beyond.BELOW
    return Beyond.ABOVE if corrected_ohm > allowed.high_ohm else None


def _pointless_steps(
    beyond: Beyond | None, *, meter_can_pass_some: bool, at_reference: bool
) -> set[NextStep]:
    """The steps that cannot help with this reading."""
    return {
        step
        for step, pointless in (
            (NextStep.LET_IT_COOL, beyond is not Beyond.ABOVE),
            (NextStep.CHECK_FUSE, beyond is not Beyond.BELOW),
            (NextStep.FINER_METER, meter_can_pass_some),
            (NextStep.MEASURE_NEAR_REFERENCE, at_reference),
        )
        if pointless
    }


# Quick and certain before slow and dear: common practice, no source.
_STEPS = {
    Outcome.OPEN_CIRCUIT: (NextStep.CONFIRM_TERMINALS, NextStep.REPLACE_SENSOR),
    Outcome.SHORT_CIRCUIT: (
        NextStep.CONFIRM_TERMINALS,
        NextStep.CHECK_FUSE,
        NextStep.REPLACE_SENSOR,
    ),
    Outcome.IN_RANGE: (NextStep.CHECK_SUPPLY_AND_CONTROL, NextStep.GO_BY_LIVE_DATA),
    Outcome.OUT_OF_RANGE: (
        NextStep.CONFIRM_TERMINALS,
        NextStep.LET_IT_COOL,
        NextStep.REPLACE_SENSOR,
    ),
    Outcome.CANNOT_TELL_YET: (
        NextStep.ZERO_THE_LEADS,
        NextStep.FINER_METER,
        NextStep.LET_IT_COOL,
        NextStep.MEASURE_NEAR_REFERENCE,
        NextStep.COMPARE_OTHER_BANK,
        NextStep.GO_BY_LIVE_DATA,
    ),
    Outcome.WITHIN_RULE_OF_THUMB: (
        NextStep.FIND_SPECIFICATION,
        NextStep.CHECK_SUPPLY_AND_CONTROL,
        NextStep.GO_BY_LIVE_DATA,
    ),
    Outcome.OUTSIDE_RULE_OF_THUMB: (
        NextStep.ZERO_THE_LEADS,
        NextStep.LET_IT_COOL,
        NextStep.CHECK_FUSE,
        NextStep.COMPARE_OTHER_BANK,
        NextStep.FIND_SPECIFICATION,
        NextStep.GO_BY_LIVE_DATA,
    ),
}
