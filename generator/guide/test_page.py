"""Testing a sensor: the number wanted, the two terminals, the steps, and what a reading says."""

from __future__ import annotations

from dataclasses import dataclass

from generator.guide import figures, words
from generator.guide.access_page import first_capital
from generator.guide.bay_map import BayMap, bay_map
from generator.guide.bench_page import bench_row
from generator.guide.cautions import Caution, Said
from generator.guide.diagnosis_words import fit_to_run, switched_on
from generator.guide.fuse import FuseView, fuse_facts, fuse_title
from generator.guide.heater_view import HeaterView, heater_view
from generator.guide.live_data_view import LiveDataView, live_data_view
from generator.guide.page import PhotoView, Row, Step
from generator.guide.photo_view import face_photos
from generator.guide.readings_view import ReadingsView, readings_view
from generator.guide.shared_view import shared_by_pages
from generator.guide.signal_view import SignalView, signal_view
from generator.guide.terminal_view import TerminalView, heater_pins_of, terminal_views
from generator.guide.tools_view import ToolView, tool_views
from generator.guide.vehicle import Vehicle, hazards_on_the_way, page_file
from generator.guide.verdict_words import VerdictWords, verdict_words
from generator.guide.wiring_view import SupplyWireView, supply_wire_view
from generator.profile.model import Connector, Pin
from generator.profile.sensor_model import Sensor
from generator.trade.connector import PinJob
from generator.trade.hazard import Hazard
from generator.trade.heater_current import SUPPLY_HIGH_V, SUPPLY_LOW_V
from generator.trade.tools import Task


@dataclass(frozen=True, slots=True)
class TestView:
    """What the test page says."""

    heater: HeaterView | None
    terminals: TerminalView | None
    cautions: tuple[Caution, ...]
    tools: list[ToolView]
    measure: list[Step]
    verdicts: list[VerdictWords]
    supply: list[Step]
    supply_wire: SupplyWireView | None
    fuse: FuseView | None
    access_href: str
    live_cautions: tuple[Caution, ...]
    live: LiveDataView
    signal: SignalView
    bench: Row
    readings: ReadingsView | None
    bay: BayMap
    photos: tuple[PhotoView, ...]


def test(vehicle: Vehicle, sensor: Sensor) -> TestView:
    """The test page of a sensor."""
    said = Said(vehicle.t)
    connector = None
    if sensor.connector:
        connector = vehicle.profile.connectors[sensor.connector.face]
    heater = vehicle.heater(sensor)
    return TestView(
        heater=heater_view(vehicle, sensor, heater, connector) if heater else None,
        terminals=terminal_views(vehicle)[sensor.connector.face] if sensor.connector else None,
        cautions=said.first(hazards_on_the_way(vehicle, sensor)),
        tools=tool_views(vehicle, sensor, Task.TEST),
        measure=_measure_steps(vehicle, sensor, connector, said) if heater else [],
        verdicts=verdict_words(vehicle, sensor, heater) if heater else [],
        supply=_supply_steps(
            vehicle,
            connector,
            _engine_only(vehicle, sensor),
            said.first([Hazard.EXHAUST_GAS, Hazard.MOVING_PARTS]),
        )
        if heater
        else [],
        supply_wire=supply_wire_view(vehicle, sensor, heater),
        fuse=_fuse(vehicle, sensor.fuse) if sensor.fuse is not None else None,
        access_href=page_file(sensor, "access"),
        # Said again: the codes lead straight to this section, past all that stands above it
        live_cautions=Said(vehicle.t).first([Hazard.EXHAUST_GAS, Hazard.MOVING_PARTS]),
        live=live_data_view(vehicle, sensor),
        signal=signal_view(vehicle, sensor),
        bench=bench_row(vehicle, sensor),
        readings=readings_view(vehicle, sensor),
        bay=bay_map(vehicle, sensor),
        photos=face_photos(vehicle, sensor),
    )


def _measure_steps(
    vehicle: Vehicle, sensor: Sensor, connector: Connector | None, said: Said
) -> list[Step]:
    _ = vehicle.t.gettext
    never = said.first([Hazard.SENSING_CELL])
    return [
        Step(_("Ignition off.")),
        Step(
            _(
                "Let the sensor cool to the temperature of the air, several hours after a run: a "
                "sensor still warm reads high."
            )
        ),
        Step(
            _("Part the connector: its housing from the vehicle first, then the latch."),
            (first_capital(sensor.connector.where),) if sensor.connector else (),
        ),
        Step(
            _(
                "Hold the meter's leads together and note what they read. Take that off every "
                "reading."
            )
        ),
        Step(_touch_words(vehicle, connector), cautions=never),
        Step(_("Wait until the reading stands still, and take the leads' own reading off.")),
        Step(_("Compare it with the range for today's temperature.")),
        Step(
            _(
                "Put one lead on a heater terminal, the other on the sensor's metal shell. The "
                "meter must show no reading. Any reading is a short to the shell: the sensor is "
                "done, whatever else it reads; look at its fuse too."
            )
        ),
    ]


def _touch_words(vehicle: Vehicle, connector: Connector | None) -> str:
    _ = vehicle.t.gettext
    pins = heater_pins_of(connector)
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


@shared_by_pages
def _supply_steps(
    vehicle: Vehicle,
    connector: Connector | None,
    engine_only: str,
    cautions: tuple[Caution, ...],
) -> list[Step]:
    _ = vehicle.t.gettext
    jobs = {pin.job: (number, pin) for number, pin in connector.pins.items()} if connector else {}
    supply, supply_wire = _terminal(
        vehicle, jobs, PinJob.HEATER_SUPPLY, _("the heater supply terminal")
    )
    control, control_wire = _terminal(
        vehicle, jobs, PinJob.HEATER_CONTROL, _("the heater control terminal")
    )
    return [
        Step(
            _(
                "On the harness half, leave %(terminal)s alone: the engine computer pulses it. "
                "Never ground it or feed it."
            )
            % {"terminal": control},
            control_wire,
            cautions=cautions,
        ),
        Step(
            _(
                "On the harness half, key on: measure %(terminal)s against a good ground. Battery "
                "voltage, %(low)s to %(high)s."
            )
            % {
                "terminal": supply,
                "low": figures.short(SUPPLY_LOW_V, vehicle.t),
                "high": figures.with_unit(figures.number(SUPPLY_HIGH_V, 1, vehicle.t), "V"),
            },
            (*supply_wire, *filter(None, [switched_on(vehicle)]), engine_only),
        ),
        Step(
            _(
                "Again with a test lamp instead of the meter: a corroded wire passes a voltmeter "
                "and fails under load."
            )
        ),
        Step(
            _(
                "Join the connector. Before the engine runs, slide the probe in along the wire of "
                "%(terminal)s, never through its skin, the other lead on a good ground. Then start "
                "it cold, and read from beside the vehicle."
            )
            % {"terminal": control},
            (
                _("Lower than the battery, or moving: the engine computer switches the heater on."),
                _("Battery voltage all the time: nothing switches it on; wire, or computer."),
                _(
                    "Near 0 V all the time: no supply, a broken heater, or a control wire that "
                    "touches ground (common practice, no source)."
                ),
            ),
        ),
    ]


def _engine_only(vehicle: Vehicle, sensor: Sensor) -> str:
    """That some heaters are fed with the engine running only, and what that asks for first."""
    told = vehicle.t.gettext("Some vehicles feed the heater with the engine running only.")
    return " ".join(filter(None, [told, fit_to_run(vehicle, sensor)]))


def _terminal(
    vehicle: Vehicle,
    jobs: dict[PinJob, tuple[int, Pin]],
    job: PinJob,
    otherwise: str,
) -> tuple[str, tuple[str, ...]]:
    """A terminal by its number, and in a line of its own what it does and its wire."""
    if job not in jobs:
        return otherwise, ()
    number, pin = jobs[job]
    said = vehicle.t.gettext("terminal %(number)s") % {"number": number}
    does = first_capital(words.pin_job(job, vehicle.t))
    colour = words.colour(pin.harness_wire, vehicle.t)
    return said, (", ".join(filter(None, [does, colour])),)


@shared_by_pages
def _fuse(vehicle: Vehicle, name: str) -> FuseView:
    fuse = vehicle.profile.fuses[name]
    return FuseView(fuse_title(vehicle, fuse), fuse_facts(vehicle, fuse))
