"""Readings with the verdict Python gives them, for holding the page's script to the same answers.

Ranges, references and elements of every kind, with readings spread over and around each limit.
"""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Iterator
from typing import Any

from generator.trade.heater import (
    Element,
    ResistanceRange,
    expected_range,
    rounded_to_step,
    step_for,
)
from generator.trade.verdict import Meter, Reading, Verdict, judge, steps_after

SPECIFIED = (
    None,
    ResistanceRange(2.1, 2.9),
    ResistanceRange(9.0, 20.0),
    ResistanceRange(3.35, 4.65),
    ResistanceRange(400.0, 500.0),
)
REFERENCES_C = (20.0, -20.0, 0.0, 23.5, 50.0)
AIRS_C = (-20.0, -7.3, -0.5, 0.0, 8.0, 19.0, 20.0, 21.0, 36.6, 50.0)
TOLERANCES_K = (0.0, 1.0, 2.5, 10.0)
METERS = (
    Meter(0.0, 0.0, 0.001),
    Meter(0.1, 2, 0.001),
    Meter(0.9, 3, 0.1),
    Meter(1.5, 5, 0.1),
)
ZEROS_OHM = (0.0, 0.2, -0.1, 1.3)
REFUSED = ((-20.1, 20.0, 1.0), (50.5, 20.0, 1.0), (20.0, 51.0, 1.0), (20.0, 20.0, -1.0))
"""Air, reference and tolerance of which one is out of reach."""

Vector = dict[str, Any]


def vectors() -> list[Vector]:
    """Every vector: what goes in, and what has to come out."""
    return [*_spread(), *_exact_edges(), *_between_two_steps(), *_refused()]


def _spread() -> Iterator[Vector]:
    """Readings at, just inside and just outside everything that decides, and at random."""
    chance = random.Random(20)
    settings = list(itertools.product(SPECIFIED, Element, AIRS_C, METERS))
    chance.shuffle(settings)
    for specified, element, air_c, meter in settings[:150]:
        reference_c, tolerance_k = chance.choice(REFERENCES_C), chance.choice(TOLERANCES_K)
        zero_ohm = chance.choice(ZEROS_OHM)
        allowed = _allowed(specified, reference_c, air_c, element, tolerance_k)
        for around_ohm in _deciding(specified, allowed, chance):
            shown_ohm = around_ohm + zero_ohm + chance.choice((-1e-6, 1e-6, 0.05, -0.05))
            reading = Reading(shown_ohm, zero_ohm, air_c, tolerance_k)
            yield _vector(reading, meter, specified, reference_c, element)
        over_range = Reading(None, zero_ohm, air_c, tolerance_k)
        yield _vector(over_range, meter, specified, reference_c, element)


def _deciding(
    specified: ResistanceRange | None, allowed: ResistanceRange, chance: random.Random
) -> Iterator[float]:
    stated = specified or ResistanceRange(2.0, 4.0)
    yield from (allowed.low_ohm, allowed.high_ohm, stated.low_ohm, stated.high_ohm)
    yield from (0.0, -0.4, 0.75, allowed.low_ohm / 2, 1000.0, 10 * allowed.high_ohm, 50_000.0)
    yield chance.uniform(0, 2 * allowed.high_ohm)
    yield chance.uniform(allowed.low_ohm, allowed.high_ohm)


def _exact_edges() -> Iterator[Vector]:
    """On the limits themselves, where a perfect meter at the stated temperature leaves no play."""
    perfect = METERS[0]
    for specified, element in itertools.product(SPECIFIED, Element):
        stated = specified or ResistanceRange(2.0, 4.0)
        for limit_ohm in (stated.low_ohm, stated.high_ohm):
            for shown_ohm in (
                limit_ohm,
                math.nextafter(limit_ohm, 0),
                math.nextafter(limit_ohm, math.inf),
                limit_ohm / 2,
                limit_ohm * 10,
            ):
                yield _vector(Reading(shown_ohm, 0.0, 20.0, 0.0), perfect, specified, 20.0, element)


def _between_two_steps() -> Iterator[Vector]:
    """Ends of a range just between two steps in decimals, where binary fractions lie beside it."""
    for low_ohm, air_c in itertools.product((5.0, 10.0, 2.5), (-9.0, 1.0, 11.0)):
        specified = ResistanceRange(low_ohm, low_ohm * 1.3)
        for element in Element:
            reading = Reading(None, 0.0, air_c, 1.0)
            yield _vector(reading, METERS[0], specified, 20.0, element)


def _refused() -> Iterator[Vector]:
    for air_c, reference_c, tolerance_k in REFUSED:
        reading = Reading(2.5, 0.2, air_c, tolerance_k)
        yield _vector(reading, METERS[2], SPECIFIED[1], reference_c, Element.UNKNOWN)


def _allowed(
    specified: ResistanceRange | None,
    reference_c: float,
    air_c: float,
    element: Element,
    tolerance_k: float,
) -> ResistanceRange:
    if specified is None:
        return expected_range(ResistanceRange(2.0, 4.0), 20.0, air_c, element, tolerance_k)
    return expected_range(specified, reference_c, air_c, element, tolerance_k)


def _vector(
    reading: Reading,
    meter: Meter,
    specified: ResistanceRange | None,
    reference_c: float,
    element: Element,
) -> Vector:
    step_ohm = None if specified is None else 0.01 if specified.low_ohm == 3.35 else 0.1
    try:
        verdict = judge(reading, meter, specified, reference_c, element)
    except ValueError:
        verdict = None
    return {
        "reading": {
            "shown": reading.shown_ohm,
            "zero": reading.lead_zero_ohm,
            "air": reading.air_c,
            "tolerance": reading.thermometer_tolerance_k,
        },
        "meter": {
            "percent": meter.percent_of_reading,
            "counts": meter.counts,
            "resolution": meter.resolution_ohm,
        },
        "heater": {
            "specified": specified and {"low": specified.low_ohm, "high": specified.high_ohm},
            "reference": reference_c,
            "element": element.value,
        },
        "step": step_ohm,
        "expected": verdict and _expected(verdict, step_ohm),
    }


def _expected(verdict: Verdict, step_ohm: float | None) -> Vector:
    shown = rounded_to_step(verdict.range, step_for(verdict.range, step_ohm))
    return {
        "outcome": verdict.outcome.value,
        "corrected": verdict.corrected_ohm,
        "uncertainty": verdict.expanded_uncertainty_ohm,
        "low": verdict.range.low_ohm,
        "high": verdict.range.high_ohm,
        "beyond": verdict.beyond and verdict.beyond.value,
        "all_steps": [step.value for step in steps_after(verdict.outcome)],
        "steps": [step.value for step in verdict.next_steps],
        "shown": [shown.low_ohm, shown.high_ohm],
    }
