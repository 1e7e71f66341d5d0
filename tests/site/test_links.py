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

from generator.site.project import build_site

SETTINGS = "[checking]\nthreads=0\n[output]\nstatus=0\n"
ANCHORS = "[AnchorCheck]\n"


def check(settings: str, folder: Path, *options: str) -> subprocess.CompletedProcess[str]:
    """The link checker's word on a folder, from its lists on."""
    file = folder.parent / "linkcheckerrc"
    file.write_text(settings)
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


@pytest.fixture
def one_vehicle(root: Path) -> Iterator[Path]:
    """A site of one vehicle: the checker reads a page anew for every anchor that leads to it."""
    with tempfile.TemporaryDirectory(prefix="sondebook-one-") as folder:
        project = Path(folder)
        project.chmod(0o755)
        shutil.copytree(root / "docs", project / "docs")
        shutil.copy(root / "mkdocs.yml", project)
        (project / "vehicle_profiles").mkdir()
        shutil.copy(root / "vehicle_profiles/lowmere-pip-1-4.yml", project / "vehicle_profiles")
        yield build_site(str(project / "mkdocs.yml"))


def test_no_link_is_broken(site: Path) -> None:
    checked = check(SETTINGS, site)
    assert checked.returncode == 0, checked.stdout + checked.stderr
    assert "0 warnings found. 0 errors found." in checked.stdout


def test_no_anchor_is_broken(one_vehicle: Path) -> None:
    checked = check(SETTINGS + ANCHORS, one_vehicle)
    assert checked.returncode == 0, checked.stdout + checked.stderr
    assert "0 warnings found. 0 errors found." in checked.stdout


@pytest.mark.parametrize("broken", ["nowhere.html", "make-lowmere.html#nowhere"])
def test_the_checker_finds_a_broken_one(one_vehicle: Path, broken: str) -> None:
    page = one_vehicle / "guides/index.html"
    text = page.read_text()
    assert "make-lowmere.html" in text
    page.write_text(text.replace("make-lowmere.html", broken))
    checked = check(SETTINGS + ANCHORS, one_vehicle, "--recursion-level=1")
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
                outside = (
                    "https://code.example/",
                    "https://sondebook.example/",
                    "https://forum.example/",
                )
                if way and not way.startswith((*outside, "data:")):
                    todo.append(urldefrag(urljoin(address, way)).url)
    pages = {f"{under_a_path}{path.relative_to(site).as_posix()}" for path in site.rglob("*.html")}
    assert pages - reached == {f"{under_a_path}404.html"}, "every page can be reached"
