"""A vehicle kept on a phone: whole or not at all, without a server, under any path of a host."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Lock, Thread

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from generator.site.project import build_site
from tests.browser.conftest import given_up

pytestmark = pytest.mark.browser

PIP, QUARRENDON = "lowmere-pip-1-4", "quarrendon-s-2-8-six"
FIRST_DAY, SECOND_DAY = "1772928000", "1774137600"  # 8 and 22 March 2026
BEFORE, AFTER = "hangs beside", "is beside"


@dataclass
class Host:
    """A host on this machine; it may be made to fail, and to serve another build."""

    folder: Path
    requests: list[str] = field(default_factory=list)
    good_for: int | None = None
    """So many more requests are answered, then connections break; None for all."""
    _lock: Lock = field(default_factory=Lock)
    _server: ThreadingHTTPServer | None = None
    _port: int = 0

    def start(self) -> None:
        handler = partial(_Handler, host=self, directory=str(self.folder))
        self._server = ThreadingHTTPServer(("127.0.0.1", self._port), handler)
        self._port = self._server.server_port
        Thread(target=self._server.serve_forever, kwargs={"poll_interval": 0.02}).start()

    def stop(self) -> None:
        if self._server:
            self._server.shutdown()
            self._server.server_close()
            self._server = None

    def is_good(self, path: str) -> bool:
        with self._lock:
            self.requests.append(path)
            if self.good_for is None:
                return True
            self.good_for -= 1
            return self.good_for >= 0

    def address(self, site: str, path: str) -> str:
        return f"http://127.0.0.1:{self._port}/{site}/{path}"

    def serve(self, site: str, build: Path) -> None:
        """Put a build in the place of what a site serves."""
        shutil.rmtree(self.folder / site, ignore_errors=True)
        shutil.copytree(build, self.folder / site)


class _Handler(SimpleHTTPRequestHandler):
    def __init__(self, *arguments: object, host: Host, **others: object) -> None:
        self._host = host
        super().__init__(*arguments, **others)  # type: ignore[arg-type]

    def do_GET(self) -> None:
        if not self._host.is_good(self.path):
            # Half an answer, as when a phone loses its signal
            self.send_response(200)
            self.send_header("Content-Length", "100000")
            self.end_headers()
            self.wfile.write(b"<!doctype html>")
            self.close_connection = True
            return
        super().do_GET()

    def end_headers(self) -> None:
        # Else the browser may answer from a cache of its own, and the test would see no worker
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()

    def log_message(self, format: str, *arguments: object) -> None:
        pass


@pytest.fixture(scope="module")
def builds(root: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Two builds of the demo site; between them one sentence of one vehicle changes."""
    project = tmp_path_factory.mktemp("project")
    for name in ("docs", "vehicle_profiles"):
        shutil.copytree(root / name, project / name)
    shutil.copy(root / "mkdocs.yml", project)
    made = {}
    with pytest.MonkeyPatch.context() as patch:
        for name, day in (("first", FIRST_DAY), ("second", SECOND_DAY)):
            patch.setenv("SOURCE_DATE_EPOCH", day)
            made[name] = build_site(str(project / "mkdocs.yml"), str(project / name))
            profile = project / f"vehicle_profiles/{PIP}.yml"
            assert name == "second" or BEFORE in profile.read_text()
            profile.write_text(profile.read_text().replace(BEFORE, AFTER))
    return made


@pytest.fixture
def host(tmp_path: Path, builds: dict[str, Path]) -> Iterator[Host]:
    """The first build, in a folder of a host that has other things too."""
    made = Host(tmp_path)
    made.serve("club/guides", builds["first"])
    made.start()
    yield made
    made.stop()


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    made = browser.new_context(viewport={"width": 360, "height": 740})
    yield made
    made.close()


@pytest.fixture
def faults() -> list[str]:
    return []


@pytest.fixture
def page(phone: BrowserContext, faults: list[str]) -> Page:
    made = phone.new_page()
    made.on("pageerror", lambda error: faults.append(str(error)))
    return made


def paths(site: Path, slug: str) -> list[str]:
    """The pages of a vehicle, from the folder itself."""
    return sorted(f"guides/{slug}/{each.name}" for each in (site / "guides" / slug).iterdir())


def said(page: Page) -> str:
    return page.locator("#keeping > [data-is=said]").inner_text()


def wait_for(page: Page, name: str) -> None:
    """Until the panel says the sentence of that name."""
    expect(page.locator(f"#keeping > [data-said={name}]")).to_be_visible(timeout=8000)


def open_vehicle(page: Page, host: Host, slug: str = PIP, site: str = "club/guides") -> None:
    page.goto(host.address(site, f"guides/{slug}/index.html"))


def press_keep(page: Page) -> None:
    page.click("#keeping [data-is=keep]")


def keep(page: Page, host: Host, slug: str = PIP, site: str = "club/guides") -> None:
    open_vehicle(page, host, slug, site)
    press_keep(page)
    wait_for(page, "kept")


def lose_signal(phone: BrowserContext, host: Host) -> None:
    """Neither a network nor, if the browser were to find one, a server."""
    phone.set_offline(True)
    host.stop()


def cache_names(page: Page) -> list[str]:
    return sorted(page.evaluate("caches.keys()"))


def text_of_access(page: Page, host: Host) -> str:
    page.goto(host.address("club/guides", f"guides/{PIP}/bank-1-position-1-access.html"))
    return page.inner_text("main")


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


def test_from_a_folder_it_says_that_nothing_can_be_kept(
    builds: dict[str, Path], page: Page, faults: list[str]
) -> None:
    page.goto((builds["first"] / f"guides/{PIP}/index.html").as_uri())
    wait_for(page, "file")
    expect(page.locator("#keeping [data-is=keep]")).to_be_hidden()
    page.goto((builds["first"] / "kept.html").as_uri())
    wait_for(page, "file")
    assert faults == []


def test_the_whole_site_works_from_a_folder(
    builds: dict[str, Path], page: Page, faults: list[str]
) -> None:
    outside: list[str] = []
    page.on("request", lambda each: outside.append(each.url) if "file:" not in each.url else None)
    page.on("requestfailed", lambda each: given_up(each) or faults.append(each.url))
    page.goto((builds["first"] / "index.html").as_uri())
    page.fill("#finder-vehicle", "pip")
    page.fill("#finder-code", "P0135")
    page.locator("#finder-found a").first.click()
    page.wait_for_url(re.compile(rf"{PIP}/codes\.html#P0135$"))
    for path in paths(builds["first"], PIP):
        page.goto((builds["first"] / path).as_uri())
        for drawing in page.locator("main figure svg").all():
            box = drawing.bounding_box()
            assert box is None or (box["width"] > 50 and box["height"] > 50), path
    page.goto((builds["first"] / f"guides/{PIP}/bank-1-position-1-bench.html").as_uri())
    page.check("#over-range")
    assert (outside, faults) == ([], [])


@pytest.fixture(autouse=True)
def _no_script_error(faults: list[str]) -> Iterator[None]:
    yield
    assert faults == []
