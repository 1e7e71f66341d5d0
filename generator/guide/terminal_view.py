"""The terminals of a connector on a test page: its face, and what each terminal does."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from functools import lru_cache

from generator.guide import words
from generator.guide.connector_drawing import ConnectorDrawing, connector_drawing
from generator.guide.vehicle import Vehicle
from generator.profile.model import Connector
from generator.trade.connector import (
    HEATER_JOBS,
    Latch,
    PinJob,
    Side,
    heater_pins,
    positions,
    seen_from,
)

# Two of them, with their frames, stand side by side on a phone of 360
WIDEST_BESIDE = 140


@dataclass(frozen=True, slots=True)
class TerminalView:
    """Both faces of a connector: which terminals, whose face, and what each terminal does.

    ``drawing`` is the sensor's half, for the ohmmeter; ``harness`` its mirror, for the voltmeter.
    """

    name: str
    drawing: ConnectorDrawing
    caption: str
    harness_name: str
    harness: ConnectorDrawing
    harness_caption: str
    fits_beside: bool
    pins: list[tuple[str, str, str, str]]
    source: str


@lru_cache(maxsize=1)
def terminal_views(vehicle: Vehicle) -> dict[str, TerminalView]:
    """What the test pages say of the terminals of each connector, by its name in the profile."""
    connectors = vehicle.profile.connectors
    return {face: terminal_view(vehicle, each) for face, each in connectors.items()}


def terminal_view(vehicle: Vehicle, connector: Connector) -> TerminalView:
    """What the test page says of a connector's terminals."""
    _, t = vehicle.t.gettext, vehicle.t
    touched = heater_pins_of(connector) or ()
    live = [number for number, pin in connector.pins.items() if pin.job is PinJob.HEATER_SUPPLY]
    supply = live[:1] if touched else []
    source = vehicle.profile.sources.get(connector.source or "")
    name, harness_name = _("Sensor's half"), _("Harness half")
    caption = _("Looking into its terminals.")
    if not touched and _none_heats(connector):
        caption += " " + _("No ohmmeter here: its current can damage the cell.")
    harness_caption = _("Looking into its terminals: the mirror image, left for right.")
    drawing = connector_drawing(
        connector,
        Side.SENSOR,
        touched,
        title=_("The face of the connector, sensor's half"),
        description=_described(vehicle, connector, Side.SENSOR, f"{name}. {caption}", touched),
    )
    return TerminalView(
        name=name,
        drawing=drawing,
        caption=_with_meter(caption, _("Ohmmeter: %(list)s."), touched),
        harness_name=harness_name,
        harness=connector_drawing(
            connector,
            Side.HARNESS,
            supply,
            title=_("The face of the connector, harness half"),
            description=_described(
                vehicle, connector, Side.HARNESS, f"{harness_name}. {harness_caption}", supply
            ),
        ),
        harness_caption=_with_meter(harness_caption, _("Voltmeter: %(list)s only."), supply),
        fits_beside=drawing.width <= WIDEST_BESIDE,
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


def _none_heats(connector: Connector) -> bool:
    return not any(pin.job in HEATER_JOBS for pin in connector.pins.values())


def _with_meter(caption: str, meter: str, touched: Collection[int]) -> str:
    if not touched:
        return caption
    listed = ", ".join(str(number) for number in sorted(touched))
    return f"{caption} {meter % {'list': listed}}"


def _described(
    vehicle: Vehicle, connector: Connector, side: Side, caption: str, touched: Collection[int]
) -> str:
    """A face in words, for those who do not see it."""
    _ = vehicle.t.gettext
    edge = {
        Latch.TOP: _("Latch on top."),
        Latch.BOTTOM: _("Latch at the bottom."),
        Latch.LEFT: _("Latch on the left."),
        Latch.RIGHT: _("Latch on the right."),
    }[seen_from(connector.as_face, side).latch]
    told = [caption, edge, _("Rows from the top, each from the left: %(rows)s.")]
    if touched:
        told.append(_("Terminals to touch: %(list)s."))
    return " ".join(told) % {
        "rows": _rows(connector, side, _("empty")),
        "list": ", ".join(str(number) for number in sorted(touched)),
    }


def _rows(connector: Connector, side: Side, empty: str) -> str:
    rows: dict[int, list[tuple[int, str]]] = {}
    for number, (row, column) in positions(connector.as_face, side).items():
        shown = str(number) if number in connector.pins else empty
        rows.setdefault(row, []).append((column, shown))
    return "; ".join(", ".join(shown for _, shown in sorted(rows[row])) for row in sorted(rows))


def heater_pins_of(connector: Connector | None) -> tuple[int, int] | None:
    """The two terminals of the heater, supply first, or None where they are not known."""
    if connector is None:
        return None
    return heater_pins({number: pin.job for number, pin in connector.pins.items()})
