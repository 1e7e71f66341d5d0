"""A tab of the browser, and what goes wrong in it."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, BrowserContext, Page, Request

PHONE: dict[str, Any] = {"viewport": {"width": 360, "height": 740}, "reduced_motion": "reduce"}


def a_phone(browser: Browser, **how: Any) -> BrowserContext:
    """A phone of its own, on which nothing is kept.

    Its reader wants nothing to move: a click on a page that scrolls smoothly waits until it rests.
    """
    return browser.new_context(**(PHONE | how))


def given_up(request: Request) -> bool:
    """Whether a request was dropped because its page was left, as a quick click does."""
    return "ERR_ABORTED" in (request.failure or "")


@dataclass
class Opened:
    """A page, and all that went wrong while it was loaded and used."""

    page: Page
    faults: list[str] = field(default_factory=list)
    requests: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.page.on("console", self._console)
        self.page.on("pageerror", lambda error: self.faults.append(f"error: {error}"))
        self.page.on("requestfailed", self._failed)
        self.page.on("request", lambda request: self.requests.append(request.url))

    def _console(self, message: object) -> None:
        if message.type in ("error", "warning"):  # type: ignore[attr-defined]
            self.faults.append(f"console: {message.text}")  # type: ignore[attr-defined]

    def _failed(self, request: Request) -> None:
        if not given_up(request):
            self.faults.append(f"failed: {request.url} {request.failure}")

    def begin(self) -> None:
        """A phone by day, of which nothing is told yet."""
        self.page.set_viewport_size(PHONE["viewport"])
        self.page.emulate_media(media="null", color_scheme="light")
        self.faults.clear()
        self.requests.clear()

    def go(self, path: Path) -> Page:
        """Open a file of the site, as from a memory card, on a phone by day."""
        self.begin()
        self.page.goto(path.as_uri(), wait_until="load")
        return self.page
