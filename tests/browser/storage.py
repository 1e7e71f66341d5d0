"""What a page keeps on the phone, and how long Chromium takes to keep it."""

from __future__ import annotations

from playwright.sync_api import Page

SETTLED_MS = 400
_TRIES = 20
_KEPT = "() => ({...localStorage})"
_KEEP_AGAIN = """kept => Object.entries(kept).forEach(([key, value]) => {
  localStorage.removeItem(key);
  localStorage.setItem(key, value);
})"""


def settled(page: Page) -> None:
    """Stay for a moment: a page left within milliseconds may lose what it wrote into storage."""
    page.wait_for_timeout(SETTLED_MS)


def go_on(page: Page, address: str, earlier: Page) -> None:
    """Open an address as a page that finds what an earlier one keeps.

    A busy Chromium hands that on late, or not at all: then the earlier page keeps it once more.
    """
    kept = earlier.evaluate(_KEPT)
    page.goto(address)
    for _ in range(_TRIES):
        if kept.items() <= page.evaluate(_KEPT).items():
            return
        earlier.evaluate(_KEEP_AGAIN, kept)
        settled(page)
        page.reload()
    raise AssertionError("what one page keeps does not reach the next")
