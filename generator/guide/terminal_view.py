"""The terminals of a connector on a test page: its face, and what each terminal does."""

from __future__ import annotations

from dataclasses import dataclass

from generator.guide import words
from generator.guide.connector_drawing import ConnectorDrawing, connector_drawing
from generator.guide.vehicle import Vehicle
from generator.profile.model import Connector
from generator.trade.connector import Side, heater_pins


@dataclass(frozen=True, slots=True)
class TerminalView:
    """The connector's face: which two terminals, whose face, and what each terminal does."""

    drawing: ConnectorDrawing
    pins: list[tuple[str, str, str, str]]
    source: str


def terminal_view(vehicle: Vehicle, connector: Connector) -> TerminalView:
    """What the test page says of a connector's terminals."""
    _, t = vehicle.t.gettext, vehicle.t
    touched = heater_pins_of(connector) or ()
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


def heater_pins_of(connector: Connector | None) -> tuple[int, int] | None:
    """The two terminals of the heater, supply first, or None where they are not known."""
    if connector is None:
        return None
    return heater_pins({number: pin.job for number, pin in connector.pins.items()})
