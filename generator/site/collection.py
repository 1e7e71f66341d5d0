"""A collection of vehicle profiles: read, checked, and turned into pages."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from gettext import NullTranslations

from generator.guide.catalogue import Make, by_make, list_pages
from generator.guide.code_pages import code_pages
from generator.guide.page import Page
from generator.guide.pages import vehicle_pages
from generator.guide.vehicle import Vehicle
from generator.profile import ProfileFile
from generator.site.offline import kept_page


@dataclass(frozen=True, slots=True)
class Collection:
    """The vehicles to publish, by make, and the words to tell them in."""

    makes: list[Make]
    t: NullTranslations

    @property
    def vehicles(self) -> list[Vehicle]:
        """All vehicles, by make and name."""
        return [vehicle for make in self.makes for vehicle in make.vehicles]

    def site_pages(self) -> Iterator[Page]:
        """The pages of no single vehicle: what is kept, the lists, the codes."""
        yield kept_page(self.t)
        yield from list_pages(self.makes, self.t)
        yield from code_pages(self.makes, self.t)

    def pages(self) -> Iterator[Page]:
        """Every guide page: those of no single vehicle first, then each vehicle's."""
        yield from self.site_pages()
        for vehicle in self.vehicles:
            yield from vehicle_pages(vehicle)


def collect(
    files: Iterable[ProfileFile],
    t: NullTranslations,
    edit_uri: str | None,
    has_pocket: bool = False,
    report_uri: str = "",
) -> Collection:
    """The collection of all profiles without errors.

    ``edit_uri`` is the address under which a profile is edited; the file's name is put behind it.
    ``has_pocket`` says that a one-file copy of each vehicle is made, so that pages lead to it.
    ``report_uri`` is where a wrong value is reported, as `generator.guide.report` wants it.
    """
    vehicles = [
        Vehicle(
            each.slug,
            each.profile,
            t,
            f"{edit_uri}{each.slug}.yml" if edit_uri else None,
            has_pocket,
            each.photos,
            report_uri,
        )
        for each in files
        if each.profile
    ]
    return Collection(by_make(vehicles), t)
