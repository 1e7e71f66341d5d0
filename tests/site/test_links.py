"""No link and no anchor of the built site is broken, from a folder or under a path of a host."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from urllib.parse import urldefrag, urljoin
from urllib.request import urlopen

import html5lib
import pytest

SETTINGS = "[checking]\nthreads=0\n[output]\nstatus=0\n[AnchorCheck]\n"


def check(folder: Path) -> subprocess.CompletedProcess[str]:
    """The link checker's word on every page of a folder; anchors too."""
    settings = folder.parent / "linkcheckerrc"
    settings.write_text(SETTINGS)
    pages = [str(path) for path in sorted(folder.rglob("*.html")) if path.name != "404.html"]
    return subprocess.run(
        [Path(sys.executable).with_name("linkchecker"), "--config", settings, *pages],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


def test_no_link_and_no_anchor_is_broken(site: Path) -> None:
    checked = check(site)
    assert checked.returncode == 0, checked.stdout + checked.stderr
    assert "0 warnings found. 0 errors found." in checked.stdout


@pytest.fixture
def copy(site: Path) -> Iterator[Path]:
    with tempfile.TemporaryDirectory(prefix="sondebook-copy-") as folder:
        Path(folder).chmod(0o755)
        shutil.copytree(site, f"{folder}/site")
        yield Path(folder) / "site"


@pytest.mark.parametrize("broken", ["nowhere.html", "make-lowmere.html#nowhere"])
def test_the_checker_finds_a_broken_one(copy: Path, broken: str) -> None:
    page = copy / "guides/index.html"
    page.write_text(page.read_text().replace("make-lowmere.html", broken))
    checked = check(copy)
    assert checked.returncode == 1
    assert broken in checked.stdout


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:
        pass


@pytest.fixture
def under_a_path(site: Path, tmp_path: Path) -> Iterator[str]:
    """The address of the site as one folder among others on a host."""
    (tmp_path / "forum").mkdir()
    (tmp_path / "forum/guides-of-ours").symlink_to(site)
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(tmp_path)))
    Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/forum/guides-of-ours/"
    server.shutdown()
    server.server_close()


def test_the_site_works_under_a_path(under_a_path: str, site: Path) -> None:
    reached, todo = set(), [f"{under_a_path}index.html"]
    while todo:
        address = todo.pop()
        if address in reached:
            continue
        reached.add(address)
        assert address.startswith(under_a_path), "a link leads out of the site's own folder"
        with urlopen(address) as answer:
            assert answer.status == 200
            body = answer.read()
        if not address.endswith(".html"):
            continue
        for element in html5lib.parse(body, namespaceHTMLElements=False).iter():
            if isinstance(element.tag, str) and element.get("rel") != "canonical":
                way = element.get("href") or element.get("src") or ""
                if way and not way.startswith("https://code.example/"):
                    todo.append(urldefrag(urljoin(address, way)).url)
    pages = {f"{under_a_path}{path.relative_to(site).as_posix()}" for path in site.rglob("*.html")}
    assert pages - reached == {f"{under_a_path}404.html"}, "every page can be reached"
