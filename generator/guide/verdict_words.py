"""What a reading says and what to do then, in the same words on the test page and the sheet."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from gettext import NullTranslations

from generator.guide import figures
from generator.guide.code_words import place_words
from generator.guide.vehicle import ColdHeater, Vehicle
from generator.profile.sensor_model import Sensor
from generator.trade.verdict import NextStep, Outcome, steps_after


@dataclass(frozen=True, slots=True)
class VerdictWords:
    """One outcome: how it is met on the meter, its name, its meaning, and the steps it leads to.

    A step is told as part of a sentence, without capital or full stop.
    """

    outcome: Outcome
    seen: str
    title: str
    meaning: str
    steps: tuple[tuple[NextStep, str], ...]

    @property
    def meant(self) -> str:
        """Its name and meaning; the meaning alone where the name is what is seen."""
        if self.title == self.seen:
            return f"{self.meaning[:1].upper()}{self.meaning[1:]}"
        return f"{self.title}: {self.meaning}"

    @property
    def advice(self) -> list[str]:
        """Its steps, each a sentence."""
        return [f"{step[:1].upper()}{step[1:]}." for _, step in self.steps]

    @property
    def fact(self) -> tuple[str, str]:
        """What is seen, and all of the rest as sentences in a row."""
        return self.seen, " ".join([self.meant, *self.advice])


def verdict_words(vehicle: Vehicle, sensor: Sensor, heater: ColdHeater) -> list[VerdictWords]:
    """The outcomes a reading of this heater can have, in the order in which a reader meets them."""
    twins = [
        each
        for each in vehicle.sensors
        if each.position == sensor.position and each.bank != sensor.bank and each.is_heated
    ]
    twin = place_words(twins[0].bank, twins[0].position, vehicle.t) if twins else ""
    is_specified = heater.specified is not None
    return _verdicts(
        vehicle.t,
        heater.reference_c,
        twin,
        is_specified=is_specified,
        misleads=heater.measured is not None,
    )


@lru_cache(maxsize=256)
def _verdicts(
    t: NullTranslations, reference_c: float, twin: str, *, is_specified: bool, misleads: bool
) -> list[VerdictWords]:
    told = _steps(t, reference_c, twin)
    return [
        VerdictWords(
            outcome,
            *words,
            tuple((step, told[step]) for step in steps_after(outcome) if step in told),
        )
        for outcome, words in _outcomes(t, is_specified=is_specified, misleads=misleads)
    ]


def _outcomes(
    t: NullTranslations, *, is_specified: bool, misleads: bool
) -> list[tuple[Outcome, tuple[str, str, str]]]:
    """Each outcome with what is seen, its title and its meaning."""
    _ = t.gettext
    in_range = (
        Outcome.IN_RANGE,
        (_("In range"), _("In range"), _("the heater is sound, if nothing reads to the shell.")),
    )
    circuit = [
        (
            Outcome.OPEN_CIRCUIT,
            (_("No reading, or kilo-ohms"), _("Open circuit"), _("the heater is broken.")),
        ),
        (
            Outcome.SHORT_CIRCUIT,
            (_("Near zero"), _("Short circuit"), _("the heater or its wires touch.")),
        ),
    ]
    outside = (
        Outcome.OUT_OF_RANGE,
        (
            _("Clearly outside"),
            _("Out of range"),
            _("the reading is outside, whatever the meter's own error."),
        ),
    )
    unsure = (
        Outcome.CANNOT_TELL_YET,
        (
            _("Close to a limit"),
            _("Cannot tell yet"),
            _("the meter's own error spans the limit, or the air is far from the stated one."),
        ),
    )
    thumb = [
        (
            Outcome.WITHIN_RULE_OF_THUMB,
            (
                _("Inside the rule of thumb"),
                _("Inside the rule of thumb"),
                _("no judgement: on this vehicle sensors known to work read otherwise.")
                if misleads
                else _("likely sound, not proven: no specification is stated."),
            ),
        ),
        (
            Outcome.OUTSIDE_RULE_OF_THUMB,
            (
                _("Outside the rule of thumb"),
                _("Outside the rule of thumb"),
                _("that alone does not condemn the sensor."),
            ),
        ),
    ]
    if is_specified:
        return [in_range, *circuit, outside, unsure]
    below_zero = (
        Outcome.CANNOT_TELL_YET,
        (_("Below zero"), _("Cannot tell yet"), _("more was taken off than was read.")),
    )
    return [*circuit, *thumb, below_zero]


def _steps(t: NullTranslations, reference_c: float, twin: str) -> dict[NextStep, str]:
    """The next steps that exist on a vehicle: without a twin, named here, there is no comparing."""
    _ = t.gettext
    told = {
        NextStep.ZERO_THE_LEADS: _("zero the leads again and take off what they read"),
        NextStep.CONFIRM_TERMINALS: _("make sure of the two heater terminals, on bare metal"),
        NextStep.LET_IT_COOL: _("let the sensor cool and read again, for a warm one reads high"),
        NextStep.MEASURE_NEAR_REFERENCE: _(
            "read again with the air near %(reference)s, where the range is stated"
        )
        % {"reference": figures.with_unit(figures.short(round(reference_c, 1), t), "°C")},
        NextStep.FINER_METER: _("use a finer meter where this one cannot pass any sensor"),
        NextStep.FIND_SPECIFICATION: _("find the vehicle's own figure in its workshop literature"),
        NextStep.GO_BY_LIVE_DATA: _("go by live data, engine warm and running"),
        NextStep.CHECK_FUSE: _("look at the fuse: a short blows it, and reads near zero"),
        NextStep.CHECK_SUPPLY_AND_CONTROL: _("go on to supply and control"),
        NextStep.REPLACE_SENSOR: _("if nothing changes, replace the sensor"),
    }
    if twin:
        told[NextStep.COMPARE_OTHER_BANK] = _("compare with %(sensor)s") % {"sensor": twin}
    return told
