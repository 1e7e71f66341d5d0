"""Testing a sensor: the number wanted, the two terminals, the steps, and what a reading says."""

from __future__ import annotations

from dataclasses import dataclass

from generator.guide import figures, words
from generator.guide.cautions import Caution, Said
from generator.guide.connector_drawing import ConnectorDrawing, connector_drawing
from generator.guide.fuse import FuseView, fuse_facts, fuse_title
from generator.guide.heater_chart import HeaterChart, heater_chart
from generator.guide.page import Step
from generator.guide.vehicle import ColdHeater, Vehicle, cold_heater, hazards_on_the_way
from generator.profile.model import Connector, Pin, Sensor
from generator.trade.connector import PinJob, Side, heater_pins
from generator.trade.hazard import Hazard
from generator.trade.heater import (
    AMBIENT_HIGHEST_C,
    AMBIENT_LOWEST_C,
    RULE_OF_THUMB,
    ResistanceRange,
    expected_range,
)
from generator.trade.heater_current import (
    SUPPLY_HIGH_V,
    SUPPLY_LOW_V,
    cold_current_a,
    hot_current_a,
)
from generator.trade.live_data import Parameter, layout_for, parameters_for
from generator.trade.sensor import Condition, ExpectedValue, expected, names_on_scan_tools

SHOWN_FIRST_C = 20
TABLE_STEP_K = 5


@dataclass(frozen=True, slots=True)
class HeaterView:
    """The cold heater: its number, what it rests on, and the range at every temperature."""

    caption: str
    number: str
    basis: str
    source: str
    is_specified: bool
    by_degree: str
    coldest_c: int
    hottest_c: int
    shown_c: int
    table: list[tuple[str, str, str]]
    chart: HeaterChart
    current: str


@dataclass(frozen=True, slots=True)
class TerminalView:
    """The connector's face: which two terminals, whose face, and what each terminal does."""

    drawing: ConnectorDrawing
    pins: list[tuple[str, str, str, str]]
    source: str


@dataclass(frozen=True, slots=True)
class LiveDataView:
    """What a scan tool shows: what it may be called, and what to expect."""

    names: str
    pids: str
    expected: list[tuple[str, str, str]]


@dataclass(frozen=True, slots=True)
class TestView:
    """What the test page says."""

    heater: HeaterView | None
    terminals: TerminalView | None
    cautions: tuple[Caution, ...]
    measure: list[Step]
    verdicts: list[tuple[str, str]]
    supply: list[Step]
    fuse: FuseView | None
    live_cautions: tuple[Caution, ...]
    live: LiveDataView


def test(vehicle: Vehicle, sensor: Sensor) -> TestView:
    """The test page of a sensor."""
    said = Said(vehicle.t)
    connector = None
    if sensor.connector:
        connector = vehicle.profile.connectors[sensor.connector.face]
    heater = cold_heater(sensor)
    return TestView(
        heater=_heater(vehicle, sensor, heater, connector) if heater else None,
        terminals=_terminals(vehicle, connector) if connector else None,
        cautions=said.first(hazards_on_the_way(vehicle, sensor)),
        measure=_measure_steps(vehicle, sensor, connector, said) if heater else [],
        verdicts=_verdicts(vehicle, sensor, heater) if heater else [],
        supply=_supply_steps(vehicle, connector) if heater else [],
        fuse=_fuse(vehicle, sensor),
        live_cautions=said.first([Hazard.EXHAUST_GAS, Hazard.MOVING_PARTS]),
        live=_live_data(vehicle, sensor),
    )


def _heater(
    vehicle: Vehicle, sensor: Sensor, heater: ColdHeater, connector: Connector | None
) -> HeaterView:
    _ = vehicle.t.gettext
    stated = sensor.cold_resistance
    step_ohm = figures.stated_step_ohm(stated.value) if stated else None
    reach = range(int(AMBIENT_LOWEST_C), int(AMBIENT_HIGHEST_C) + 1)
    ranges = {t_c: _range_at(heater, t_c) for t_c in reach}
    shown = {t_c: figures.resistance(each, step_ohm) for t_c, each in ranges.items()}
    basis = (
        _("Specified: %(range)s at %(temperature)s.")
        % {"range": stated.value.text, "temperature": stated.at.text}
        if stated
        else _(
            "Rule of thumb, not a specification: 2 to 4 Ω at 20 °C, common practice. This "
            "vehicle's own figure is not stated; look for it in the workshop literature."
        )
    )
    cold = heater.specified or RULE_OF_THUMB
    return HeaterView(
        caption=_heater_caption(vehicle, connector),
        number=shown[SHOWN_FIRST_C],
        basis=basis,
        source=vehicle.source(stated),
        is_specified=stated is not None,
        by_degree=" ".join(shown.values()),
        coldest_c=reach.start,
        hottest_c=reach.stop - 1,
        shown_c=SHOWN_FIRST_C,
        table=[
            (_degrees(t_c, "°C"), _degrees(round(t_c * 1.8 + 32), "°F"), shown[t_c])
            for t_c in reach[::TABLE_STEP_K]
        ],
        chart=heater_chart(
            [(float(t_c), ranges[t_c]) for t_c in reach[::TABLE_STEP_K]],
            SHOWN_FIRST_C,
            title=_("Cold resistance of the heater over the temperature of the air"),
            description=_(
                "From %(cold)s ohm at %(coldest)s °C to %(hot)s ohm at %(hottest)s °C; "
                "it rises with temperature."
            )
            % {
                "cold": shown[reach.start],
                "coldest": reach.start,
                "hot": shown[reach.stop - 1],
                "hottest": reach.stop - 1,
            },
            marker_label=f"{SHOWN_FIRST_C} °C",
        ),
        current=_current_words(vehicle, cold),
    )


def _range_at(heater: ColdHeater, t_c: int) -> ResistanceRange:
    return expected_range(
        heater.specified or RULE_OF_THUMB, heater.reference_c, float(t_c), heater.element
    )


def _degrees(value: int, unit: str) -> str:
    return figures.with_unit(figures.number(value, 0), unit)


def _heater_caption(vehicle: Vehicle, connector: Connector | None) -> str:
    _ = vehicle.t.gettext
    pins = _heater_pins(connector)
    if pins is None:
        return _("Heater, cold, across its two terminals")
    return _("Heater, cold, between terminals %(first)s and %(second)s") % {
        "first": min(pins),
        "second": max(pins),
    }


def _heater_pins(connector: Connector | None) -> tuple[int, int] | None:
    if connector is None:
        return None
    return heater_pins({number: pin.job for number, pin in connector.pins.items()})


def _current_words(vehicle: Vehicle, cold: ResistanceRange) -> str:
    first = cold_current_a(cold)
    hot = hot_current_a(first)
    return vehicle.t.gettext(
        "Cold it draws %(first)s at %(low)s to %(high)s, the most at switch-on; once hot, about a "
        "minute later, %(hot)s (hot resistance 3 to 4 times cold: common practice, no source)."
    ) % {
        "first": _amperes(first.low_a, first.high_a),
        "hot": _amperes(hot.low_a, hot.high_a),
        "low": figures.number(SUPPLY_LOW_V, 1),
        "high": figures.with_unit(figures.number(SUPPLY_HIGH_V, 1), "V"),
    }


def _amperes(low_a: float, high_a: float) -> str:
    return figures.with_unit(figures.span(figures.number(low_a, 1), figures.number(high_a, 1)), "A")


def _terminals(vehicle: Vehicle, connector: Connector) -> TerminalView:
    _, t = vehicle.t.gettext, vehicle.t
    touched = _heater_pins(connector) or ()
    listed = ", ".join(str(number) for number in sorted(touched))
    description = (
        _("Looking into the terminals of the sensor's half. Terminals to touch: %(list)s.")
        % {"list": listed}
        if touched
        else _("Looking into the terminals of the sensor's half.")
    )
    source = vehicle.profile.sources.get(connector.source or "")
    return TerminalView(
        drawing=connector_drawing(
            connector,
            Side.SENSOR,
            touched,
            title=_("The face of the connector, sensor's half"),
            description=description,
        ),
        pins=[
            (
                str(number),
                words.pin_job(pin.job, t),
                words.colour(pin.sensor_wire, t) or _("not stated"),
                words.colour(pin.harness_wire, t) or _("not stated"),
            )
            for number, pin in sorted(connector.pins.items())
        ],
        source=words.source(source, t) if source else "",
    )


def _measure_steps(
    vehicle: Vehicle, sensor: Sensor, connector: Connector | None, said: Said
) -> list[Step]:
    _ = vehicle.t.gettext
    never = said.first([Hazard.SENSING_CELL])
    return [
        Step(
            _(
                "Ignition off. Let the sensor cool to the temperature of the air, several hours "
                "after a run: a sensor still warm reads high."
            )
        ),
        Step(_("Part the connector: its housing from the vehicle first, then the latch.")),
        Step(
            _(
                "Hold the meter's leads together and note what they read. Take that off every "
                "reading."
            )
        ),
        Step(_touch_words(vehicle, connector), cautions=never),
        Step(
            _(
                "Wait until the reading stands still, take the leads' own reading off, and compare "
                "with the range for today's temperature."
            )
        ),
        Step(
            _("One lead on a heater terminal, the other on the sensor's metal shell: no reading.")
        ),
    ]


def _touch_words(vehicle: Vehicle, connector: Connector | None) -> str:
    _ = vehicle.t.gettext
    pins = _heater_pins(connector)
    if connector is None or pins is None:
        return _(
            "On the sensor's half, find the two heater terminals in the vehicle's wiring "
            "diagram: this guide does not know them. Put the leads on those two."
        )
    said = []
    for number in sorted(pins):
        colour = words.colour(connector.pins[number].sensor_wire, vehicle.t)
        said.append(f"{number}, {colour}" if colour else f"{number}")
    return _(
        "On the sensor's half, put the leads on terminal %(first)s and terminal %(second)s."
    ) % {"first": said[0], "second": said[1]}


def _verdicts(vehicle: Vehicle, sensor: Sensor, heater: ColdHeater) -> list[tuple[str, str]]:
    """The verdict words, in the order in which a reader meets them."""
    _ = vehicle.t.gettext
    compare = _compare_words(vehicle, sensor)
    circuit = [
        (
            _("No reading, or kilo-ohms"),
            _("Open circuit: the heater is broken. Replace the sensor."),
        ),
        (
            _("Near zero"),
            _("Short circuit: replace the sensor, and look whether it blew the fuse."),
        ),
    ]
    if heater.specified is None:
        return [
            *circuit,
            (_("Inside the rule of thumb"), _("Likely sound. Go on to supply and control.")),
            (
                _("Outside it"),
                _(
                    "That alone does not condemn the sensor. Zero the leads again; "
                    "%(compare)s find the vehicle's own figure; go by live data."
                )
                % {"compare": compare},
            ),
        ]
    return [
        (_("In range"), _("The heater is sound. Go on to supply and control.")),
        *circuit,
        (
            _("Clearly outside"),
            _(
                "Zero the leads, make sure of the terminals, let it cool and read again. "
                "If it stays outside, replace the sensor."
            ),
        ),
        (
            _("Close to a limit"),
            _(
                "Cannot tell yet: the meter's own error spans the limit. Zero the leads, use "
                "a finer meter; %(compare)s go by live data."
            )
            % {"compare": compare},
        ),
    ]


def _compare_words(vehicle: Vehicle, sensor: Sensor) -> str:
    """Comparing with the same sensor of another bank, where the vehicle has one."""
    twins = [
        each
        for each in vehicle.sensors
        if each.position == sensor.position and each.bank != sensor.bank and each.is_heated
    ]
    if not twins:
        return ""
    return vehicle.t.gettext("compare with %(sensor)s;") % {
        "sensor": vehicle.called(twins[0]).lower()
    }


def _supply_steps(vehicle: Vehicle, connector: Connector | None) -> list[Step]:
    _ = vehicle.t.gettext
    jobs = {pin.job: (number, pin) for number, pin in connector.pins.items()} if connector else {}
    supply = _terminal(vehicle, jobs, PinJob.HEATER_SUPPLY, _("the heater supply terminal"))
    control = _terminal(vehicle, jobs, PinJob.HEATER_CONTROL, _("the heater control terminal"))
    return [
        Step(
            _(
                "On the harness half, key on: measure %(terminal)s against a good ground. Battery "
                "voltage, %(low)s to %(high)s."
            )
            % {
                "terminal": supply,
                "low": figures.short(SUPPLY_LOW_V),
                "high": figures.with_unit(figures.number(SUPPLY_HIGH_V, 1), "V"),
            },
            (_("Some vehicles feed the heater with the engine running only."),),
        ),
        Step(
            _(
                "Again with a test lamp instead of the meter: a corroded wire passes a voltmeter "
                "and fails under load."
            )
        ),
        Step(
            _(
                "Leave %(terminal)s alone: the engine computer pulses it. Do not ground it or feed "
                "it."
            )
            % {"terminal": control}
        ),
    ]


def _terminal(
    vehicle: Vehicle,
    jobs: dict[PinJob, tuple[int, Pin]],
    job: PinJob,
    otherwise: str,
) -> str:
    if job not in jobs:
        return otherwise
    number, pin = jobs[job]
    colour = words.colour(pin.harness_wire, vehicle.t)
    said = vehicle.t.gettext("terminal %(number)s") % {"number": number}
    return f"{said} ({words.pin_job(job, vehicle.t)}{', ' + colour if colour else ''})"


def _fuse(vehicle: Vehicle, sensor: Sensor) -> FuseView | None:
    if sensor.fuse is None:
        return None
    fuse = vehicle.profile.fuses[sensor.fuse]
    return FuseView(fuse_title(vehicle, fuse), fuse_facts(vehicle, fuse))


def _live_data(vehicle: Vehicle, sensor: Sensor) -> LiveDataView:
    _ = vehicle.t.gettext
    layout = layout_for(vehicle.profile.banks)
    parameters: tuple[Parameter, ...] = ()
    if sensor.bank <= layout.banks and sensor.position <= layout.positions:
        parameters = parameters_for(sensor.bank, sensor.position, sensor.kind, layout)
    pids = sorted({parameter.pid for parameter in parameters})
    return LiveDataView(
        names=", ".join(names_on_scan_tools(sensor.bank, sensor.position, sensor.kind)),
        pids=_(" or ").join(f"0x{pid:02X}" for pid in pids)
        or _("none: the standard's list has no place for this sensor"),
        expected=[
            (_(condition.value), _expected_words(values, vehicle), _(values[0].behaviour.value))
            for condition in Condition
            for values in [expected(sensor.kind, sensor.position, condition)]
        ],
    )


def _expected_words(values: tuple[ExpectedValue, ...], vehicle: Vehicle) -> str:
    """The expected values of one condition; lambda carries its name instead of a unit."""
    _ = vehicle.t.gettext
    said = []
    for value in values:
        if value.low is None and value.high is None:
            continue
        unit = value.unit or "λ"
        low = None if value.low is None else figures.short(value.low)
        high = None if value.high is None else figures.short(value.high)
        if low and high:
            number = figures.span(low, high)
        elif low:
            number = _("over %(number)s") % {"number": low}
        else:
            number = _("under %(number)s") % {"number": high}
        said.append(
            figures.with_unit(number, unit) if value.unit else figures.unbroken(f"{unit} {number}")
        )
    return ", ".join(said) or "–"
