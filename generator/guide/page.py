"""A page of a guide: where it stands in the site, its frame, its template and what it says."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from generator.guide.cautions import Caution


@dataclass(frozen=True, slots=True)
class Turn:
    """A way on to the previous or next page."""

    label: str
    title: str
    href: str


@dataclass(frozen=True, slots=True)
class Row:
    """A large row to tap."""

    title: str
    href: str
    detail: str = ""
    filled: bool = False


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of the job, with its truth in one line."""

    name: str
    truth: str
    href: str
    current: bool


@dataclass(frozen=True, slots=True)
class PhotoView:
    """A photo as a page shows it; hrefs are relative to the page.

    ``sources`` are the modern files with their widths, as `srcset` has them; ``fallback`` is the
    file for a browser that knows none of them, and ``small`` the lightest one.
    """

    sources: str
    fallback: str
    small: str
    width: int
    height: int
    caption: str
    shows: str


@dataclass(frozen=True, slots=True)
class Step:
    """One action, what belongs to it, and the cautions that stand before it."""

    text: str
    details: tuple[str, ...] = ()
    cautions: tuple[Caution, ...] = ()
    photos: tuple[PhotoView, ...] = ()


@dataclass(frozen=True, slots=True)
class Frame:
    """What the shell shows around a page; hrefs are relative to the page.

    `about` is the vehicle that a sensor's page is about, which its title does not say: where a
    title stands alone, as in a search or a forum's link, it goes behind it.
    `slug` is empty on a page that is not a vehicle's; `pocket_href` leads to the vehicle's one-file
    copy, where one is built; `draft` says that the vehicle's profile is still being written;
    `unconfirmed` that no second person has confirmed it, where the page itself does not say so;
    `linked_data` is JSON for search engines.
    """

    title: str
    description: str
    breadcrumbs: tuple[tuple[str, str | None], ...]
    previous: Turn | None = None
    next: Turn | None = None
    edit_href: str | None = None
    report_href: str = ""
    sources: tuple[str, ...] = ()
    slug: str = ""
    pocket_href: str | None = None
    draft: str = ""
    unconfirmed: str = ""
    linked_data: str = ""
    about: str = ""

    @property
    def summary(self) -> str:
        """The description for everyone, which is what may stand in an attribute."""
        return str(self.description)


@dataclass(frozen=True, slots=True)
class Page:
    """A page ready to be rendered; ``path`` is relative to the site's root."""

    path: str
    template: str
    frame: Frame
    view: Any
    stages: tuple[Stage, ...] = ()

    @property
    def root(self) -> str:
        """The relative way from this page to the site's root."""
        return "../" * self.path.count("/")
