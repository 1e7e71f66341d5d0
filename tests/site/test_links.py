"""No link and no anchor of the built site is broken, from a folder or under a path of a host."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import Any
from urllib.parse import unquote, urldefrag, urljoin
from urllib.request import urlopen

import html5lib
import pytest

SETTINGS = "[checking]\nthreads=0\n[output]\nstatus=0\n"
OUTSIDE = ("https://code.example/", "https://sondebook.example/", "https://forum.example/")


def check(folder: Path, *options: str) -> subprocess.CompletedProcess[str]:
    """The link checker's word on a folder, from its lists on."""
    file = folder.parent / "linkcheckerrc"
    file.write_text(SETTINGS)
    return subprocess.run(
        [
            Path(sys.executable).with_name("linkchecker"),
            *("--config", file, *options, folder / "index.html", folder / "guides/index.html"),
        ],
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )


def test_no_link_is_broken(site: Path) -> None:
    checked = check(site)
    assert checked.returncode == 0, checked.stdout + checked.stderr
    assert "0 warnings found. 0 errors found." in checked.stdout


@pytest.fixture
def copy(site: Path) -> Iterator[Path]:
    """The site to be spoiled; readable by all, because the checker may give up root."""
    with tempfile.TemporaryDirectory(prefix="sondebook-copy-") as folder:
        Path(folder).chmod(0o755)
        yield shutil.copytree(site, Path(folder) / "site")


def test_the_checker_finds_a_broken_one(copy: Path) -> None:
    page = copy / "guides/index.html"
    text = page.read_text()
    assert "make-lowmere.html" in text
    page.write_text(text.replace("make-lowmere.html", "nowhere.html"))
    checked = check(copy, "--recursion-level=1")
    assert checked.returncode == 1
    assert "nowhere.html" in checked.stdout


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:
        pass


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The address of a host on this machine that serves a folder."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(folder)))
    Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()


@dataclass
class Walk:
    """All that is reached from a page by links within a folder of a host."""

    inside: str
    reached: set[str] = field(default_factory=set)
    names: dict[str, set[str]] = field(default_factory=dict)
    """What links may lead to in each page."""
    sections: set[tuple[str, str, str]] = field(default_factory=set)
    """Each link with a section: its page, the page it leads to, the section."""

    def go(self, start: str) -> Walk:
        todo = [start]
        while todo:
            address = todo.pop()
            if address in self.reached:
                continue
            self.reached.add(address)
            assert address.startswith(self.inside), "a link leads out of the site's own folder"
            with urlopen(address) as answer:
                assert answer.status == 200
                body = answer.read()
            if address.endswith(".html"):
                todo += self._read(address, html5lib.parse(body, namespaceHTMLElements=False))
        return self

    def _read(self, page: str, tree: Any) -> Iterator[str]:
        elements = [each for each in tree.iter() if isinstance(each.tag, str)]
        self.names[page] = {each.get("id") or "" for each in elements} | {
            each.get("name") or "" for each in elements if each.tag == "a"
        }
        for element in elements:
            way = element.get("href") or element.get("src") or ""
            if not way or element.get("rel") == "canonical" or way.startswith((*OUTSIDE, "data:")):
                continue
            address, section = urldefrag(urljoin(page, way))
            yield address
            if section and section != "top":
                self.sections.add((page, address, unquote(section)))

    def broken(self) -> list[tuple[str, str, str]]:
        """The links whose section is not in the page they lead to."""
        return sorted(each for each in self.sections if each[2] not in self.names[each[1]])


@pytest.fixture(scope="module")
def under_a_path(site: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Walk]:
    """The site as one folder among others on a host, walked through from its home page."""
    folder = tmp_path_factory.mktemp("host")
    (folder / "forum").mkdir()
    (folder / "forum/guides-of-ours").symlink_to(site)
    with served(folder) as host:
        inside = f"{host}forum/guides-of-ours/"
        yield Walk(inside).go(f"{inside}index.html")


def test_the_site_works_under_a_path(under_a_path: Walk, site: Path) -> None:
    inside = under_a_path.inside
    pages = {f"{inside}{path.relative_to(site).as_posix()}" for path in site.rglob("*.html")}
    assert pages - under_a_path.reached == {f"{inside}404.html"}, "every page can be reached"


def test_no_anchor_is_broken(under_a_path: Walk) -> None:
    assert len(under_a_path.sections) > 1000
    assert under_a_path.broken() == []


def test_a_broken_anchor_is_found(tmp_path: Path) -> None:
    (tmp_path / "index.html").write_text(
        '<a href="other.html#here">a</a><a href="other.html#there">b</a><a href="#top">c</a>'
        '<a href="other.html#nowhere">d</a><a href="#here">e</a>'
    )
    (tmp_path / "other.html").write_text('<p id="here">f</p><a name="there">g</a>')
    with served(tmp_path) as host:
        start = f"{host}index.html"
        assert Walk(host).go(start).broken() == [
            (start, start, "here"),
            (start, f"{host}other.html", "nowhere"),
        ]
