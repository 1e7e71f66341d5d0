"""A vehicle kept on a phone: whole or not at all, without a server, under any path of a host."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Route, expect

from tests.browser.host import Host
from tests.browser.keeping import (
    AFTER,
    BEFORE,
    PIP,
    cache_names,
    keep,
    lose_signal,
    open_vehicle,
    paths,
    press_keep,
    said,
    text_of_access,
    wait_for,
)

pytestmark = pytest.mark.browser

QUARRENDON = "quarrendon-s-2-8-six"


def test_a_kept_vehicle_opens_by_address_by_reload_and_by_click(
    host: Host, phone: BrowserContext, page: Page, builds: dict[str, Path], faults: list[str]
) -> None:
    keep(page, host)
    assert re.search(r"the guide of March 8, 2026, \d{3}\s?kB", said(page)), said(page)
    lose_signal(phone, host)
    failed: list[str] = []
    page.on("requestfailed", lambda each: failed.append(f"{each.failure} {each.url}"))
    every = paths(builds["first"], PIP)
    assert len(every) > 8
    for path in every:
        address = host.address("club/guides", path)
        page.goto(address)
        heading = page.inner_text("h1")
        page.reload()
        assert page.inner_text("h1") == heading
        assert page.evaluate("getComputedStyle(document.body).margin") == "0px", "has its style"
    reached: set[str] = set()
    todo = [host.address("club/guides", f"guides/{PIP}/index.html")]
    while todo:
        address = todo.pop()
        page.goto(address)
        links = page.eval_on_selector_all(
            "main a[href$='.html']", "links => links.map(each => each.href)"
        )
        for link in dict.fromkeys(links):
            if f"/guides/{PIP}/" not in link or link in reached:
                continue
            reached.add(link)
            page.goto(address)
            file = link.rpartition("/")[2]
            page.locator(f"main a[href='{file}']").first.click()
            page.wait_for_url(link)
            expect(page.locator("h1")).to_be_visible()
            todo.append(link)
    assert {link.rpartition("/guides/")[2] for link in reached} == {
        path.removeprefix("guides/") for path in every
    }
    # An icon still on its way when the next page is asked for is given up
    lost = [each for each in failed if "/offline/" not in each and "ERR_ABORTED" not in each]
    assert lost == []
    assert faults == []


def test_the_bench_sheet_works_and_keeps_what_is_written(
    host: Host, phone: BrowserContext, page: Page
) -> None:
    keep(page, host)
    lose_signal(phone, host)
    page.goto(host.address("club/guides", f"guides/{PIP}/bank-1-position-1-bench.html"))
    if not page.locator("#meter[open]").count():
        page.click("#meter summary")
    for name, value in {
        "meter-percent": "0.5", "meter-counts": "2", "meter-resolution": "0.01",
        "air": "20", "meter-zero": "0.2", "reading": "99999",
    }.items():  # fmt: skip
        page.fill(f"#{name}", value)
    expect(page.locator("[data-outcome]:visible")).to_have_count(1)
    page.reload()
    assert page.input_value("#reading") == "99999"


def test_what_is_not_kept_says_so_and_lists_what_is(
    host: Host, phone: BrowserContext, page: Page
) -> None:
    keep(page, host)
    lose_signal(phone, host)
    page.goto(host.address("club/guides", f"guides/{QUARRENDON}/index.html"))
    expect(page.locator("#keeping [data-is=missing]")).to_contain_text("not kept on this phone")
    page.click("text=Lowmere Pip")
    expect(page.locator("h1")).to_contain_text("Lowmere Pip")
    page.goto(host.address("club/guides", "kept.html"))
    expect(page.locator("#keeping li")).to_have_count(1)
    expect(page.locator("#keeping [data-is=missing]")).to_be_hidden()


def test_a_changed_build_takes_the_place_of_the_kept_one(
    host: Host, phone: BrowserContext, page: Page, builds: dict[str, Path]
) -> None:
    keep(page, host)
    lose_signal(phone, host)
    assert BEFORE in text_of_access(page, host)
    host.serve("club/guides", builds["second"])
    host.start()
    phone.set_offline(False)
    host.requests.clear()
    assert BEFORE in text_of_access(page, host), "what is kept comes first"
    wait_for(page, "updated")
    assert "March 22, 2026" in said(page)
    fetched = [path for path in host.requests if "?h=" in path]
    assert 0 < len(fetched) <= 3, f"unchanged files are copied: {fetched}"
    page.click("#keeping [data-is=again]")
    expect(page.locator("main")).to_contain_text(AFTER)
    lose_signal(phone, host)
    assert AFTER in text_of_access(page, host)
    wait_for(page, "kept")
    assert sum(f" {PIP} " in name for name in cache_names(page)) == 1


def test_a_new_day_with_the_same_files_is_told_without_a_download(
    host: Host, page: Page, builds: dict[str, Path]
) -> None:
    keep(page, host, QUARRENDON)
    host.serve("club/guides", builds["second"])
    host.requests.clear()
    open_vehicle(page, host, QUARRENDON)
    expect(page.locator("#keeping > [data-is=said]")).to_contain_text("March 22, 2026")
    assert [path for path in host.requests if f"{QUARRENDON}/" in path and "?h=" in path] == []


def test_the_button_stays_under_the_thumb_when_the_size_is_told(host: Host, page: Page) -> None:
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    page.route("**/offline/*.json", hold)
    open_vehicle(page, host)
    button = page.locator("#keeping [data-is=keep]")
    button.scroll_into_view_if_needed()
    page.wait_for_function("document.querySelector('#keeping [data-is=said]').textContent === ''")
    before = button.bounding_box()
    while not held:
        page.wait_for_timeout(10)
    held[0].continue_()
    wait_for(page, "offered")
    assert button.bounding_box() == before


def test_a_connection_broken_while_keeping_keeps_nothing_and_goes_on_later(
    host: Host, phone: BrowserContext, page: Page
) -> None:
    open_vehicle(page, host)
    host.good_for = 9
    press_keep(page)
    wait_for(page, "broken")
    assert re.search(r"after \d+ of \d+ files", said(page)), said(page)
    page.goto("about:blank")
    phone.set_offline(True)
    with pytest.raises(Exception, match="ERR_INTERNET_DISCONNECTED"):
        open_vehicle(page, host)
    phone.set_offline(False)
    host.good_for = None
    open_vehicle(page, host)
    host.requests.clear()
    press_keep(page)
    wait_for(page, "kept")
    again = [path for path in host.requests if "?h=" in path and "/guides/lowmere" in path]
    listed = json.loads((host.folder / f"club/guides/offline/{PIP}.json").read_text())["files"]
    assert len(again) < len(listed) - 4, "what had come is not fetched again"


def test_a_connection_broken_while_updating_leaves_the_old_guide_whole(
    host: Host, phone: BrowserContext, page: Page, builds: dict[str, Path]
) -> None:
    keep(page, host)
    host.serve("club/guides", builds["second"])
    page.goto("about:blank")
    # Of the second build only the list comes, and the first of the files that changed
    host.requests.clear()
    host.good_for = 1
    open_vehicle(page, host)
    wait_for(page, "broken")
    assert any("?h=" in path for path in host.requests)
    lose_signal(phone, host)
    for path in paths(builds["first"], PIP):
        page.goto(host.address("club/guides", path))
        expected = (builds["first"] / path).read_bytes()
        found = page.evaluate("fetch(location.href).then(answer => answer.text())")
        assert found == expected.decode(), path


def test_a_site_that_changes_meanwhile_is_not_kept_mixed(
    host: Host, page: Page, builds: dict[str, Path]
) -> None:
    listed = host.folder / f"club/guides/offline/{PIP}.json"
    old = listed.read_bytes()
    host.serve("club/guides", builds["second"])
    listed.write_bytes(old)
    open_vehicle(page, host)
    press_keep(page)
    wait_for(page, "changing")
    assert page.evaluate("caches.keys().then(all => all.filter(each => / kept$/.test(each)))") == []


def test_a_full_phone_is_told_and_what_was_kept_stays(
    host: Host, phone: BrowserContext, page: Page, builds: dict[str, Path]
) -> None:
    keep(page, host, QUARRENDON)
    session = phone.new_cdp_session(page)
    origin = host.address("", "").rstrip("/")
    session.send("Storage.overrideQuotaForOrigin", {"origin": origin, "quotaSize": 1000})
    open_vehicle(page, host)
    press_keep(page)
    wait_for(page, "full")
    assert "no room left" in said(page)
    assert not any(f" {PIP} " in name for name in cache_names(page)), "the room is given back"
    lose_signal(phone, host)
    for path in paths(builds["first"], QUARRENDON):
        page.goto(host.address("club/guides", path))
        expect(page.locator("h1")).to_be_visible()


@pytest.mark.parametrize("where", ["vehicle", "list"])
def test_a_kept_vehicle_is_removed(
    where: str, host: Host, phone: BrowserContext, page: Page
) -> None:
    keep(page, host)
    if where == "list":
        page.goto(host.address("club/guides", "kept.html"))
        page.click("#keeping li [data-is=remove]")
        wait_for(page, "nothing")
    else:
        page.click("#keeping [data-is=remove]")
        wait_for(page, "removed")
    assert not any(f" {PIP} " in name for name in cache_names(page))
    lose_signal(phone, host)
    open_vehicle(page, host)
    expect(page.locator("#keeping [data-is=missing]")).to_be_visible()


def test_two_sites_on_one_host_do_not_touch_each_other(
    host: Host, phone: BrowserContext, page: Page, builds: dict[str, Path]
) -> None:
    host.serve("club/guides-2", builds["second"])
    keep(page, host)
    keep(page, host, site="club/guides-2")
    page.goto(host.address("club/guides", "kept.html"))
    page.click("#keeping li [data-is=remove]")
    wait_for(page, "nothing")
    lose_signal(phone, host)
    page.goto(host.address("club/guides-2", f"guides/{PIP}/bank-1-position-1-access.html"))
    assert AFTER in page.inner_text("main")
    open_vehicle(page, host)
    expect(page.locator("#keeping [data-is=missing]")).to_be_visible()


def test_a_guide_that_left_the_site_stays_on_the_phone(host: Host, page: Page) -> None:
    keep(page, host)
    (host.folder / f"club/guides/offline/{PIP}.json").unlink()
    shutil.rmtree(host.folder / f"club/guides/guides/{PIP}")
    open_vehicle(page, host)
    wait_for(page, "gone")
    expect(page.locator("h1")).to_contain_text("Lowmere Pip")


def test_the_manifest_makes_the_site_installable(host: Host, page: Page) -> None:
    open_vehicle(page, host)
    session = page.context.new_cdp_session(page)
    found = session.send("Page.getAppManifest")
    assert found["errors"] == []
    assert found["url"].endswith("/club/guides/manifest.webmanifest")
    told = json.loads(found["data"])
    for icon in told["icons"]:
        size = page.evaluate(
            """source => new Promise(done => {
                const image = new Image();
                image.onload = () => done([image.naturalWidth, image.naturalHeight]);
                image.onerror = () => done(null);
                image.src = source;
            })""",
            host.address("club/guides", icon["src"]),
        )
        assert size, icon
        assert icon["sizes"] in ("any", f"{size[0]}x{size[1]}")


def test_an_address_without_https_is_told(
    host: Host, browser: Browser, builds: dict[str, Path]
) -> None:
    context = browser.new_context()
    page = context.new_page()
    # A name that is not this machine's own, answered with the files of the build
    page.route(
        "http://guides.example/**",
        lambda route: route.fulfill(
            path=builds["first"] / route.request.url.removeprefix("http://guides.example/")
        ),
    )
    page.goto(f"http://guides.example/guides/{PIP}/index.html")
    wait_for(page, "insecure")
    expect(page.locator("#keeping [data-is=keep]")).to_be_hidden()
    context.close()
