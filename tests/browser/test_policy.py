"""No page breaks its own security policy, from a host or from a folder; and the policy holds."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

import pytest
from playwright.sync_api import BrowserContext, Page

from generator.site.policy import policy, with_policy

pytestmark = pytest.mark.browser

PIP = "guides/lowmere-pip-1-4"
WATCH = """
  window.broken = [];
  document.addEventListener("securitypolicyviolation", event => {
    window.broken.push(event.violatedDirective + " " + event.blockedURI);
  });
"""


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *arguments: object) -> None:
        pass


@pytest.fixture(scope="module")
def address(site: Path) -> Iterator[str]:
    """The site on a host of this machine."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(site)))
    Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()


@pytest.fixture(scope="module")
def watched(reader: BrowserContext) -> Page:
    """One tab that watches the policy of each page opened in it."""
    page = reader.new_page()
    page.add_init_script(WATCH)
    return page


@pytest.fixture
def page(watched: Page) -> Page:
    """That tab, with nothing of the test before still to come."""
    watched.goto("about:blank")
    return watched


def every_kind(site: Path, all_pages: list[str]) -> list[str]:
    paths = [*all_pages, "404.html", f"pocket/{PIP.rpartition('/')[2]}.html"]
    assert {"kept.html", f"{PIP}/bank-1-position-1-bench.html", "codes/index.html"} <= set(paths)
    return [path for path in paths if (site / path).is_file()]


@pytest.mark.parametrize("way", ["host", "folder"])
def test_no_page_breaks_its_policy(
    way: str, site: Path, address: str, all_pages: list[str], page: Page
) -> None:
    told: list[str] = []
    page.on("console", lambda said: told.append(said.text) if "olicy" in said.text else None)
    asked: list[str] = []
    page.on("request", lambda each: asked.append(each.url))
    start = address if way == "host" else f"{site.as_uri()}/"
    paths = every_kind(site, all_pages)
    for path in paths:
        # The page for missing addresses has absolute ways, for the host that it was built for
        if path == "404.html" and way == "folder":
            continue
        page.goto(f"{start}{path}")
        assert page.evaluate("window.broken") == [], path
        assert page.evaluate("getComputedStyle(document.body).margin") == "0px", "has its style"
        if not path.startswith("pocket/"):
            assert page.evaluate("document.styleSheets.length") >= 1
    assert told == []
    assert len(paths) > 25
    assert [each for each in asked if not each.startswith((start, "data:", "blob:"))] == []


@pytest.mark.parametrize("way", ["host", "folder"])
def test_scripts_run_under_the_policy(way: str, site: Path, address: str, page: Page) -> None:
    start = address if way == "host" else f"{site.as_uri()}/"
    page.goto(f"{start}index.html")
    page.fill("#finder-code", "P0135")
    assert page.locator("#finder-found a").count() > 0
    page.goto(f"{start}{PIP}/bank-1-position-1-test.html")
    assert page.locator("#air").is_enabled()
    assert page.evaluate("window.broken") == []


@pytest.mark.parametrize(
    ("spoiled", "directive"),
    [
        ("<script>window.ran = true</script>", "script-src-elem inline"),
        ('<p onclick="window.ran = true" id="bait">x</p>', "script-src-attr inline"),
        ('<p style="color: red">x</p>', "style-src-attr inline"),
        ("<style>body { margin: 9px }</style>", "style-src-elem inline"),
        ('<img src="http://elsewhere.example/x.png" alt="">', "img-src http://elsewhere.example"),
        ('<script src="http://elsewhere.example/x.js"></script>', "script-src-elem http"),
        ('<iframe src="http://elsewhere.example/"></iframe>', "frame-src http"),
        ('<base href="http://elsewhere.example/">', "base-uri http"),
    ],
)
@pytest.mark.parametrize("way", ["host", "folder"])
def test_what_does_not_belong_is_stopped(
    *, way: str, spoiled: str, directive: str, tmp_path: Path, site: Path, page: Page
) -> None:
    folder = tmp_path / "site"
    shutil.copytree(site / "assets", folder / "assets")
    (folder / PIP).mkdir(parents=True)
    html = (site / PIP / "index.html").read_text()
    (folder / PIP / "index.html").write_text(html.replace("</main>", f"{spoiled}</main>"))
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(folder)))
    Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True).start()
    start = f"http://127.0.0.1:{server.server_port}" if way == "host" else folder.as_uri()
    try:
        page.goto(f"{start}/{PIP}/index.html")
        if "onclick" in spoiled:
            page.click("#bait")
        broken = page.evaluate("window.broken")
        assert any(each.startswith(directive) for each in broken), broken
        assert page.evaluate("window.ran") is None
    finally:
        server.shutdown()
        server.server_close()


def test_a_hand_written_page_may_have_a_script_of_its_own(tmp_path: Path, page: Page) -> None:
    file = tmp_path / "page.html"
    script = "<script>\n  window.ran = 'ü';\n</script>"
    html = f"<!doctype html><html><head><meta charset=utf-8><title>x</title></head><body>{script}"
    file.write_text(with_policy(html))
    page.goto(file.as_uri())
    assert (page.evaluate("window.ran"), page.evaluate("window.broken")) == ("ü", [])
    file.write_text(with_policy(html).replace("'ü'", "'u'"))
    page.goto(file.as_uri())
    assert page.evaluate("window.ran") is None, "another script than was built"


def test_this_browser_counts_a_folder_as_self(site: Path, tmp_path: Path, page: Page) -> None:
    """`file:` is there for browsers that do not; without it, this one still loads everything."""
    folder = tmp_path / "site"
    shutil.copytree(site / "assets", folder / "assets")
    html = (site / PIP / "bank-1-position-1-test.html").read_text()
    assert policy().partition(";")[0] in html
    assert " file:" in html
    (folder / PIP).mkdir(parents=True)
    (folder / PIP / "page.html").write_text(html.replace(" file:", ""))
    page.goto((folder / PIP / "page.html").as_uri())
    assert page.locator("#air").is_enabled()
    assert page.evaluate("window.broken") == []


def test_links_out_give_nothing_away(site: Path) -> None:
    links = 0
    for path in site.rglob("*.html"):
        for link in re.findall(r'<a\b[^>]*href="https?:[^>]*>', path.read_text()):
            assert re.search(r'rel="[^"]*\bnoopener\b', link), f"{path}: {link}"
            links += 1
    assert links > 50
