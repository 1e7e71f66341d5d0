"""What a page keeps on the phone, and how long Chromium takes to keep it."""

from __future__ import annotations

from playwright.sync_api import Page

SETTLED_MS = 400


def settled(page: Page) -> None:
    """Stay for a moment: a page left within milliseconds may lose what it wrote into storage."""
    page.wait_for_timeout(SETTLED_MS)
