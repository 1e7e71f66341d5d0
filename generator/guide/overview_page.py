"""The overview of a vehicle: what it covers, where the banks are and why, sensors, fuses."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from generator.guide import choice, figures, words
from generator.guide.bay_map import BayMap, bay_map
from generator.guide.cautions import Caution, Said
from generator.guide.codes_page import codes_row
from generator.guide.draft_view import DraftView, draft_view
from generator.guide.exhaust_map import ExhaustMap, exhaust_map
from generator.guide.frame import stage_names, unconfirmed
from generator.guide.fuse import FuseView, fuse_facts, fuse_title
from generator.guide.linked_data import linked_data
from generator.guide.page import Row
from generator.guide.planner import PlannerView, planner
from generator.guide.vehicle import STAGES, Vehicle, data_path, page_file, pocket_path
from generator.profile.model import Fuse
from generator.profile.sensor_model import Sensor
from generator.trade import place
from generator.trade.heater import RULE_OF_THUMB
from generator.trade.heater_current import FuseLoad, FuseStatus, fuse_load


@dataclass(frozen=True, slots=True)
class BankView:
    """One bank: its heading, its cylinders, and how it looks from where the reader stands."""

    title: str
    cylinders: str
    seen: list[tuple[str, str]]


@dataclass(frozen=True, slots=True)
class SensorRow:
    """One sensor with the ways to its pages."""

    title: str
    detail: str
    links: list[tuple[str, str]]


@dataclass(frozen=True, slots=True)
class OverviewView:
    """What the overview says."""

    covers: list[tuple[str, str]]
    cautions: tuple[Caution, ...]
    unconfirmed: str
    draft: DraftView | None
    about: list[tuple[str, str]]
    discussion: str | None
    banks: list[BankView]
    sensors: list[SensorRow]
    codes: Row
    exhaust: ExhaustMap
    bay: BayMap
    planner: PlannerView
    linked_data: Markup
    data_path: str
    pocket: Row | None
    fuses: list[FuseView]
    notes: list[str]


def overview(vehicle: Vehicle) -> OverviewView:
    """The overview of a vehicle."""
    profile, t = vehicle.profile, vehicle.t
    _ = t.gettext
    return OverviewView(
        covers=[
            (_("Model years"), figures.unbroken(vehicle.years)),
            (_("Engine"), f"{profile.engine.name}: {words.engine(profile, t)}"),
            (_("Covers"), words.steering(profile, t)),
        ],
        cautions=Said(t).first(profile.vehicle.hazards),
        unconfirmed=unconfirmed(vehicle),
        draft=draft_view(vehicle),
        about=about(vehicle),
        discussion=profile.guide.discussion,
        banks=[_bank(vehicle, number) for number in sorted(profile.banks)],
        sensors=[_sensor(vehicle, sensor) for sensor in vehicle.sensors],
        codes=codes_row(vehicle),
        exhaust=exhaust_map(vehicle),
        bay=bay_map(vehicle),
        planner=planner(vehicle),
        linked_data=linked_data(vehicle),
        data_path=data_path(vehicle.slug),
        pocket=_pocket_row(vehicle) if vehicle.has_pocket else None,
        fuses=[_fuse(vehicle, name, fuse) for name, fuse in profile.fuses.items()],
        notes=profile.notes,
    )


def about(vehicle: Vehicle) -> list[tuple[str, str]]:
    """Who stands behind the guide: what the profile says of it, and nothing else."""
    _, guide = vehicle.t.gettext, vehicle.profile.guide
    rows = [
        (
            _("Last checked on a vehicle"),
            guide.checked_on and figures.day(guide.checked_on, vehicle.t),
        ),
        (_("Confirmed by"), guide.confirmed_by),
        (_("Written and kept by"), "; ".join(guide.credits)),
        (_("Licence of the content"), guide.licence),
    ]
    return [(term, what) for term, what in rows if what]


def _pocket_row(vehicle: Vehicle) -> Row:
    _ = vehicle.t.gettext
    lead = _("One file to send or save; it opens without a connection.")
    return Row(_("Pocket copy"), f"../../{pocket_path(vehicle.slug)}", lead)


def _bank(vehicle: Vehicle, number: int) -> BankView:
    profile, t = vehicle.profile, vehicle.t
    bank = profile.banks[number]
    listed = ", ".join(str(cylinder) for cylinder in bank.cylinders)
    seen = []
    if bank.side:
        seen = [
            (words.standpoint(stand, t), words.seen_from(bank.side, stand, t))
            for stand in place.standpoints(profile.engine.bay)
        ]
    title = choice.by_wheel(
        profile.steering,
        lambda steering: (
            t.gettext("Bank %(number)s: %(place)s")
            % {"number": number, "place": words.bank_place(profile, number, t, steering)}
        ),
    )
    return BankView(title, t.gettext("Cylinders %(list)s") % {"list": listed}, seen)


def _sensor(vehicle: Vehicle, sensor: Sensor) -> SensorRow:
    names = stage_names(vehicle)
    links = [(names[stage], page_file(sensor, stage)) for stage in STAGES]
    return SensorRow(vehicle.called(sensor), vehicle.located(sensor), links)


def _fuse(vehicle: Vehicle, name: str, fuse: Fuse) -> FuseView:
    _ = vehicle.t.gettext
    facts = fuse_facts(vehicle, fuse)
    fed = [sensor for sensor in vehicle.sensors if sensor.fuse == name]
    if fed:
        facts.append((_("Heaters on it"), "; ".join(map(vehicle.called, fed))))
        facts.append((_("At switch-on"), _load_words(vehicle, fuse, fed)))
    return FuseView(fuse_title(vehicle, fuse), facts)


def _load_words(vehicle: Vehicle, fuse: Fuse, fed: list[Sensor]) -> str:
    """The first current of all heaters on a fuse against its rating, in words."""
    _ = vehicle.t.gettext
    heaters = [vehicle.heater(sensor) for sensor in fed]
    load: FuseLoad = fuse_load(
        [each.expected if each else RULE_OF_THUMB for each in heaters], fuse.rating.value.low_a
    )
    amperes = figures.span(
        figures.number(load.first.low_a, 1, vehicle.t),
        figures.number(load.first.high_a, 1, vehicle.t),
        vehicle.t,
    )
    told = {
        FuseStatus.WITHIN: _("%(current)s for all heaters cold, within the rating."),
        FuseStatus.ABOVE_AT_SWITCH_ON: _(
            "up to %(current)s for all heaters cold, above the rating for the first seconds; a "
            "sound fuse bears that. Never fit a larger one."
        ),
        FuseStatus.ABOVE_WHEN_HOT: _(
            "%(current)s for all heaters cold, and above the rating even when hot: the rating, the "
            "resistances or the list of heaters cannot all be right."
        ),
    }[load.status] % {"current": figures.with_unit(amperes, "A")}
    if not all(each and (each.specified or each.measured) for each in heaters):
        told += " " + _("Reckoned with the rule of thumb where a resistance is not specified.")
    return told
