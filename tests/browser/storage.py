"""What a page keeps on the phone, and how a busy Chromium shows it to a page from a folder."""

from __future__ import annotations

from playwright.sync_api import Page

SETTLED_MS = 50
TRIES = 6
TRIED = "tried"


def with_room(page: Page) -> Page:
    """The page with nothing kept, once what it keeps is there when it is loaded again.

    On a busy machine, about one new context in fifteen gives its first page from a folder a storage
    that is gone with the page, however long one waits; the next page has one that stays. And what
    an earlier page had kept may be there again after it was cleared.
    """
    for _ in range(TRIES):
        page.evaluate(f"localStorage.clear(); localStorage.setItem('{TRIED}', '1')")
        page.reload()
        if page.evaluate("Object.keys(localStorage).join()") == TRIED:
            break
    page.evaluate(f"localStorage.removeItem('{TRIED}')")
    return page


def visit(page: Page, address: str = "") -> None:
    """Open an address, or the page itself again, once what this page has written has settled.

    Where this page has kept something, until the next one finds anything kept: a busy Chromium may
    show a page from a folder an empty storage, and the same page the right one a moment later.
    """
    settled(page)
    kept = page.evaluate("location.protocol === 'file:' && localStorage.length")
    for _ in range(TRIES):
        page.goto(address) if address else page.reload()
        if not kept or page.evaluate("localStorage.length"):
            return


def settled(page: Page) -> None:
    """Stay for a moment: a page left within milliseconds may lose what it wrote into storage."""
    page.wait_for_timeout(SETTLED_MS)
