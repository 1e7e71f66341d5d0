"""A guide as a row of blocks for a post: what its pages say, without drawings and scripts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from generator.guide.access_page import ObstacleView, access
from generator.guide.cautions import Caution
from generator.guide.frame import stage_names
from generator.guide.overview_page import overview
from generator.guide.page import Step
from generator.guide.refit_page import refit
from generator.guide.test_page import TestView, test
from generator.guide.tools_view import ToolView
from generator.guide.torque_view import TorqueView
from generator.guide.vehicle import Vehicle
from generator.profile.sensor_model import Sensor


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; level 1 is a sensor, 2 a stage, 3 a section, 4 one thing that is in the way."""

    level: int
    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A paragraph."""

    text: str


@dataclass(frozen=True, slots=True)
class Warn:
    """What can hurt; it stands before what it belongs to, in the same post."""

    word: str
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Items:
    """Points in no order."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Action:
    """One step of a row, with its number."""

    number: int
    text: str
    details: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    """A table; every row is as long as the head."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


Block = Heading | Paragraph | Warn | Items | Action | Table


def blocks(vehicle: Vehicle, sensors: Sequence[Sensor]) -> Iterator[Block]:
    """The guide of some sensors of a vehicle, after what holds for the vehicle."""
    for block in _blocks(vehicle, sensors):
        if isinstance(block, Warn):
            # The signal words are among the messages by the templates that show them
            yield replace(block, word=vehicle.t.gettext(block.word))
        else:
            yield block


def _blocks(vehicle: Vehicle, sensors: Sequence[Sensor]) -> Iterator[Block]:
    _ = vehicle.t.gettext
    told = overview(vehicle)
    yield Items(_facts(vehicle, told.covers))
    yield from _warn(told.cautions)
    if told.unconfirmed:
        yield Paragraph(told.unconfirmed)
    yield Paragraph(
        _("The vehicle's own literature, local rules and licensed practice outrank this guide.")
    )
    for sensor in sensors:
        yield Heading(1, vehicle.called(sensor))
        yield Paragraph(vehicle.located(sensor))
        yield from _access(vehicle, sensor)
        yield from _test(vehicle, sensor)
        yield from _refit(vehicle, sensor)
    if told.notes:
        yield Heading(1, _("Worth knowing"))
        yield from map(Paragraph, told.notes)
    if told.about:
        yield Heading(1, _("This guide"))
        yield Items(_facts(vehicle, told.about))
    if vehicle.sources:
        yield Heading(1, _("Sources"))
        yield Items(tuple(f"[{at}] {each}" for at, each in enumerate(vehicle.sources, start=1)))


def _access(vehicle: Vehicle, sensor: Sensor) -> Iterator[Block]:
    _ = vehicle.t.gettext
    view = access(vehicle, sensor)
    yield Heading(2, stage_names(vehicle)["access"])
    facts = [(_("Where"), view.where), (_("Reached"), view.reach)]
    if view.minutes:
        facts.append((_("Minutes to get it out"), f"{view.minutes} {view.minutes_note}".strip()))
    yield Items(_facts(vehicle, facts))
    yield from _warn(view.cautions)
    yield from _tools(vehicle, view.tools)
    if view.obstacles:
        yield from _obstacles(_("Off, in this order"), view.obstacles)
    yield Heading(3, _("The connector"))
    yield from _steps(view.plug)
    yield Heading(3, _("The sensor"))
    yield from _steps(view.sensor_out)
    yield from map(Paragraph, view.notes)


def _test(vehicle: Vehicle, sensor: Sensor) -> Iterator[Block]:
    _ = vehicle.t.gettext
    view = test(vehicle, sensor)
    yield Heading(2, stage_names(vehicle)["test"])
    yield from _warn(view.cautions)
    if view.heater:
        yield from _heater(vehicle, view)
    if view.terminals:
        head = (_("No."), _("Job"), _("Sensor's wire"), _("Harness wire"))
        yield Table(_("What each terminal does"), head, tuple(view.terminals.pins))
        yield Paragraph(view.terminals.source or _("source not stated"))
    yield from _tools(vehicle, view.tools)
    if view.measure:
        yield Heading(3, _("Measure the heater"))
        yield from _steps(view.measure)
        yield Heading(3, _("What the reading says"))
        yield Items(_facts(vehicle, [each.fact for each in view.verdicts]))
    if view.supply:
        yield Heading(3, _("Supply and control"))
        yield from _steps(view.supply)
    if view.fuse:
        yield Heading(3, view.fuse.title)
        yield Items(_facts(vehicle, view.fuse.facts))
        yield Paragraph(_("Never fit a larger fuse. One that blows again has a short behind it."))
    yield Heading(3, _("Live data"))
    yield from _warn(view.live_cautions)
    yield from map(Paragraph, view.live.notes)
    yield Table(
        _("A healthy sensor shows"),
        (_("When"), _("Value"), _("What it does")),
        tuple(view.live.expected),
    )
    yield Paragraph(_("Common practice, no source: a guide to the eye, not a limit."))


def _heater(vehicle: Vehicle, view: TestView) -> Iterator[Block]:
    _ = vehicle.t.gettext
    heater = view.heater
    assert heater is not None
    yield Paragraph(
        _("%(caption)s: %(number)s Ω with the air at %(air)s °C.")
        % {"caption": heater.caption, "number": heater.number, "air": heater.shown_c}
    )
    source = heater.source or _("source not stated")
    yield Paragraph(f"{heater.basis} ({source})" if heater.is_specified else heater.basis)
    yield Table(
        _("Cold resistance by temperature of the air, Ω"),
        ("°C", "°F", "Ω"),
        tuple(heater.table),
    )


def _refit(vehicle: Vehicle, sensor: Sensor) -> Iterator[Block]:
    _ = vehicle.t.gettext
    view = refit(vehicle, sensor)
    yield Heading(2, stage_names(vehicle)["refit"])
    if view.torque:
        yield from _torque(vehicle, view.torque)
    else:
        yield Paragraph(
            _("The torque is not stated: it stands in the vehicle's workshop literature.")
        )
    yield from _warn(view.cautions)
    yield from _tools(vehicle, view.tools)
    yield Heading(3, _("The sensor"))
    yield from _steps(view.sensor_in)
    if view.obstacles:
        yield from _obstacles(_("On again, in the opposite order"), view.obstacles)
    yield Heading(3, _("The proof"))
    yield from _steps(view.proof)
    yield Heading(3, _("Readiness"))
    yield Paragraph(view.readiness_basis)
    yield from _steps(view.readiness)


def _torque(vehicle: Vehicle, torque: TorqueView) -> Iterator[Block]:
    _ = vehicle.t.gettext
    source = torque.source or _("source not stated")
    yield Paragraph(f"{torque.stated} {torque.thread} ({source})")
    yield Table(_("In every unit"), (_("Unit"), _("Torque")), tuple(torque.units))


def _obstacles(title: str, views: Iterable[ObstacleView]) -> Iterator[Block]:
    yield Heading(3, title)
    for number, obstacle in enumerate(views, start=1):
        minutes = f" ({obstacle.minutes})" if obstacle.minutes else ""
        yield Heading(4, f"{number}. {obstacle.name}{minutes}")
        yield from _warn(obstacle.cautions)
        if obstacle.held_by:
            yield Items(tuple(obstacle.held_by))
        yield from _steps(obstacle.steps)


def _tools(vehicle: Vehicle, tools: Sequence[ToolView]) -> Iterator[Block]:
    if tools:
        yield Heading(3, vehicle.t.gettext("Lay out"))
        yield Items(tuple(f"{tool.name}: {tool.why}" for tool in tools))


def _steps(steps: Iterable[Step]) -> Iterator[Block]:
    for number, step in enumerate(steps, start=1):
        yield from _warn(step.cautions)
        yield Action(number, step.text, step.details)


def _warn(cautions: Iterable[Caution]) -> Iterator[Block]:
    for word, sentences in cautions:
        yield Warn(word, tuple(sentences))


def _facts(vehicle: Vehicle, rows: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    """Facts as lines; a row of three has its source in it, empty where that is not stated."""
    lines = []
    for term, what, *source in rows:
        told = source[0] or vehicle.t.gettext("source not stated") if source else ""
        lines.append(f"{term}: {what} ({told})" if source else f"{term}: {what}")
    return tuple(lines)
