"""The lists that lead to a vehicle: all makes, and one make's vehicles."""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from gettext import NullTranslations

from generator.guide.page import Frame, Page, Row
from generator.guide.vehicle import GUIDES, Vehicle, make_file

SHOWN_AT_HOME = 6


@dataclass(frozen=True, slots=True)
class Make:
    """One make with its vehicles, in order of name."""

    slug: str
    name: str
    vehicles: list[Vehicle]


@dataclass(frozen=True, slots=True)
class MakeRow:
    """A make on the home page; hrefs are relative to the site's root."""

    name: str
    href: str
    vehicles: list[Row]
    more: int


def make_slug(name: str) -> str:
    """The name of a make as a file name: ascii letters, digits and hyphens."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    slug = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")
    return slug or hashlib.sha256(name.encode()).hexdigest()[:8]


def by_make(vehicles: Iterable[Vehicle]) -> list[Make]:
    """The vehicles by make; makes that differ only in case or accents are one."""
    grouped: dict[str, list[Vehicle]] = {}
    for vehicle in sorted(vehicles, key=lambda each: (each.name.casefold(), each.slug)):
        grouped.setdefault(make_slug(vehicle.profile.vehicle.make), []).append(vehicle)
    return [
        Make(slug, each[0].profile.vehicle.make, each) for slug, each in sorted(grouped.items())
    ]


def home_rows(makes: Iterable[Make]) -> list[MakeRow]:
    """The makes as the home page lists them, each with its first vehicles."""
    return [
        MakeRow(
            make.name,
            f"{GUIDES}/{make_file(make.slug)}",
            [_vehicle_row(each, f"{GUIDES}/") for each in make.vehicles[:SHOWN_AT_HOME]],
            max(0, len(make.vehicles) - SHOWN_AT_HOME),
        )
        for make in makes
    ]


def list_pages(makes: list[Make], t: NullTranslations) -> Iterable[Page]:
    """The page of all makes, and one page a make."""
    _ = t.gettext
    yield Page(
        f"{GUIDES}/index.html",
        "guide/guides.html",
        Frame(_("Guides"), _("Choose the make."), ()),
        [
            Row(
                make.name,
                make_file(make.slug),
                t.ngettext("%(count)s vehicle", "%(count)s vehicles", len(make.vehicles))
                % {"count": len(make.vehicles)},
            )
            for make in makes
        ],
    )
    for make in makes:
        yield Page(
            f"{GUIDES}/{make_file(make.slug)}",
            "guide/list.html",
            Frame(make.name, _("Choose the vehicle."), ((_("Guides"), "index.html"),)),
            [_vehicle_row(each, "") for each in make.vehicles],
        )


def _vehicle_row(vehicle: Vehicle, folder: str) -> Row:
    _ = vehicle.t.gettext
    sensors = vehicle.t.ngettext(
        "%(count)s sensor", "%(count)s sensors", len(vehicle.profile.sensors)
    ) % {"count": len(vehicle.profile.sensors)}
    return Row(
        f"{vehicle.profile.vehicle.model} {vehicle.profile.engine.name}",
        f"{folder}{vehicle.slug}/index.html",
        f"{vehicle.years}, {sensors}" + (_(", draft") if vehicle.profile.is_draft else ""),
    )
