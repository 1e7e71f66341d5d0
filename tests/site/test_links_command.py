"""`sondebook links`: what it says of a small site with every kind of link."""

from __future__ import annotations

import os
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

import pytest

from generator.site.anchors import section_links
from generator.site.links import CannotCheck, Link, checked_links

Run = Callable[..., "subprocess.CompletedProcess[str]"]


class _Host(BaseHTTPRequestHandler):
    def do_GET(self) -> None:
        self.send_response(200 if self.path in ("/good", "/robots.txt") else 404)
        self.send_header("Content-Length", "0")
        self.end_headers()

    do_HEAD = do_GET  # noqa: N815 - the name that the server looks for

    def log_message(self, format: str, *arguments: object) -> None:
        pass


@pytest.fixture
def host() -> Iterator[str]:
    """Another host, on this machine."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), _Host)
    Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    server.server_close()


@pytest.fixture
def small_site(host: str) -> Iterator[Path]:
    """Two pages; readable by all, because the checker may give up root."""
    with tempfile.TemporaryDirectory(prefix="sondebook-small-") as folder:
        Path(folder).chmod(0o755)
        site = Path(folder) / "site"
        site.mkdir()
        (site / "index.html").write_text(
            f'<title>x</title><a href="other.html">a</a> <a href="{host}/good">b</a>'
            '<a href="https://own.example/index.html">c</a> <a href="mailto:x@own.example">d</a>'
            '<a href="data:text/plain,x">e</a>'
        )
        (site / "other.html").write_text('<title>y</title><a id="here" href="index.html">f</a>')
        yield site


def gives_up_root() -> bool:
    """Whether the link checker changes its user here."""
    is_root = getattr(os, "geteuid", int)() == 0 and Path("/etc/passwd").is_file()
    return is_root and "\nnobody:" in Path("/etc/passwd").read_text()


def broken(found: list[Link]) -> list[tuple[str, str]]:
    return [(each.page, each.address) for each in found if each.fault]


def add(site: Path, link: str) -> None:
    page = site / "other.html"
    page.write_text(f'{page.read_text()}<a href="{link}">g</a>')


def test_a_clean_site_is_clean_and_asks_no_host(small_site: Path) -> None:
    found = checked_links(small_site, ("https://own.example/",))
    assert broken(found) == []
    assert ("index.html", "other.html") in [(each.page, each.address) for each in found]
    (outside,) = (each.address for each in found if each.is_outside)
    assert outside.endswith("/good")


def test_a_broken_one_is_told_with_its_page(small_site: Path) -> None:
    add(small_site, "nowhere.html")
    found = checked_links(small_site)
    assert broken(found) == [("other.html", "nowhere.html")]


def test_a_site_beside_it_must_be_there(small_site: Path) -> None:
    add(small_site, "../de/other.html#here")
    address = "../de/other.html#here"
    (link,) = (each for each in checked_links(small_site) if each.address == address)
    assert (link.page, link.fault) == ("other.html", "nothing is there, beside the site")
    (small_site.parent / "de").mkdir()
    (small_site.parent / "de/other.html").write_text("<title>z</title>")
    assert broken(checked_links(small_site)) == []


def test_a_missing_section_is_told_when_asked(small_site: Path) -> None:
    add(small_site, "other.html#nowhere")
    add(small_site, "other.html#here")
    assert broken(checked_links(small_site)) == []
    assert broken(checked_links(small_site, anchors=True)) == [("other.html", "other.html#nowhere")]


@pytest.mark.parametrize(
    ("link", "is_broken"),
    [
        ("#here", False),
        ("#gone", True),
        ("sub/page.html#in%20it", False),
        ("./sub/../sub/page.html#gone", True),
        ("sub/page.html?x=1#gone", True),
        ("sub/page.html#named", False),
        ("index.html#", False),
        ("index.html#TOP", False),
        ("index.html#:~:text=f", False),
        ("index.html#gone:~:text=f", True),
        ("https://own.example/x.html#gone", False),
        ("/other.html#gone", False),
        ("missing.html#gone", False),
    ],
)
def test_sections_are_found_as_a_browser_finds_them(
    tmp_path: Path, link: str, is_broken: bool
) -> None:
    (tmp_path / "sub").mkdir()
    (tmp_path / "index.html").write_text('<a href="other.html">a</a>')
    (tmp_path / "other.html").write_text(f'<p ID="here"><a href="{link}">b</a>')
    text = '<p id="in it"><a name=named href="../other.html#here">'
    (tmp_path / "sub/page.html").write_text(text)
    found = list(section_links(tmp_path))
    assert ("sub/page.html", "../other.html#here", True) in found
    assert [each for each in found if not each[2]] == (
        [("other.html", link, False)] if is_broken else []
    )


def test_other_hosts_are_listed_with_reasons(small_site: Path, host: str) -> None:
    add(small_site, f"{host}/gone")
    found = checked_links(small_site, ("https://own.example/",), outside=True)
    told = {each.address.rpartition("/")[2]: each.fault for each in found if each.is_outside}
    assert told["good"] == ""
    assert "404" in told["gone"]


def test_without_a_site_it_says_so(tmp_path: Path) -> None:
    with pytest.raises(CannotCheck, match="run `sondebook build` first"):
        checked_links(tmp_path)


@pytest.mark.skipif(not gives_up_root(), reason="only root gives up root")
def test_a_site_that_only_root_may_read_is_no_heap_of_broken_links(small_site: Path) -> None:
    small_site.chmod(0o700)
    with pytest.raises(CannotCheck, match="let others read it and the folders above it"):
        checked_links(small_site)


def test_the_command_ends_with_what_it_found(run: Run, small_site: Path) -> None:
    told = run("sondebook", "links", "-d", str(small_site))
    assert (told.returncode, told.stderr) == (0, "")
    assert told.stdout.endswith("(not asked): 0 broken.\n")
    add(small_site, "nowhere.html")
    told = run("sondebook", "links", "-d", str(small_site))
    assert told.returncode == 1
    assert told.stdout.startswith("other.html: nowhere.html: ")
    told = run("sondebook", "links", "-d", "nowhere")
    assert told.returncode == 2
    assert told.stderr.startswith("sondebook: there is no site in nowhere")
