"""The preview: a saved change is on the page within seconds, and a fault does not end it."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.error import HTTPError, URLError
from urllib.request import urlopen

import pytest

DEADLINE_S = 40
PIP = "vehicle_profiles/lowmere-pip-1-4.yml"


def free_port() -> int:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        return int(taken.getsockname()[1])


class Preview:
    """A running preview, asked over HTTP as a browser asks."""

    def __init__(self, process: subprocess.Popen[bytes], address: str, log: Path) -> None:
        self._process, self._address, self._log = process, address, log

    def page(self, path: str) -> str:
        """A page, or its status in words where there is none."""
        try:
            with urlopen(f"{self._address}/{path}", timeout=5) as answer:
                return str(answer.read().decode())
        except HTTPError as error:
            return f"status {error.code}"
        except (URLError, ConnectionError, TimeoutError):
            return "no answer"

    def wait(self, path: str, wanted: Callable[[str], bool]) -> str:
        """The page as soon as it is as wanted; fails at the deadline, or when the preview ends."""
        end = time.monotonic() + DEADLINE_S
        while time.monotonic() < end:
            said = self.log()
            assert self._process.poll() is None, f"the preview ended:\n{said}"
            page = self.page(path)
            if wanted(page):
                return page
            time.sleep(0.2)
        pytest.fail(f"{path} did not change in {DEADLINE_S} s:\n{page[:300]}\n{self.log()}")

    def log(self) -> str:
        return self._log.read_text()


@contextmanager
def preview(project: Path, *command: str) -> Iterator[Preview]:
    port = free_port()
    log = project / "log"
    with log.open("wb") as file:
        process = subprocess.Popen(
            [
                Path(sys.executable).with_name(command[0]), *command[1:], "-a", f"127.0.0.1:{port}",
            ],
            cwd=project,
            stdout=file,
            stderr=subprocess.STDOUT,
            # MkDocs leaves its folder behind when it is ended; it goes with the test's own
            env={**os.environ, "TMPDIR": str(project)},
        )  # fmt: skip
        try:
            yield Preview(process, f"http://127.0.0.1:{port}", log)
        finally:
            process.terminate()
            process.wait(timeout=20)


def save(project: Path, before: str, after: str) -> None:
    path = project / PIP
    text = path.read_text()
    assert before in text
    path.write_text(text.replace(before, after))


@pytest.mark.parametrize("command", [("sondebook", "serve"), ("mkdocs", "serve")])
def test_a_saved_profile_is_on_the_page_within_seconds(
    project: Path, command: tuple[str, ...]
) -> None:
    overview = "guides/lowmere-pip-1-4/index.html"
    with preview(project, *command) as running:
        first = running.wait(overview, lambda page: "1997–" in page)
        assert "livereload(" in first, "the browser is told to reload by itself"
        save(project, "years: 1997 to 2003", "years: 1994 to 2003")
        running.wait(overview, lambda page: "1994–" in page)


def test_a_faulty_profile_does_not_end_the_preview(project: Path) -> None:
    pip, carrow = "guides/lowmere-pip-1-4/index.html", "guides/fenwright-carrow-3-2-v6/index.html"
    with preview(project, "sondebook", "serve") as running:
        running.wait(pip, lambda page: "Lowmere Pip" in page)
        save(project, "  model: Pip", "  modell: Pip")
        running.wait(pip, lambda page: page == "status 404")
        assert "[unknown-key]" in running.log(), "the finding is shown where the preview runs"
        assert "Fenwright Carrow" in running.page(carrow), "the rest goes on"
        save(project, "  modell: Pip", "  model: Pippin")
        running.wait(pip, lambda page: "Lowmere Pippin" in page)


def test_a_saved_template_is_on_the_page_within_seconds(project: Path) -> None:
    own = project / "own/guide"
    own.mkdir(parents=True)
    template = '{% extends "guide/shell.html" %}{% block main %}<p>FIRST</p>{% endblock %}'
    (own / "list.html").write_text(template)
    settings = project / "mkdocs.yml"
    settings.write_text(
        settings.read_text().replace("  name: material", "  name: material\n  custom_dir: own")
    )
    with preview(project, "sondebook", "serve") as running:
        running.wait("guides/index.html", lambda page: "<p>FIRST</p>" in page)
        (own / "list.html").write_text(template.replace("FIRST", "SECOND"))
        running.wait("guides/index.html", lambda page: "<p>SECOND</p>" in page)


def test_a_taken_address_is_said(project: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        address = f"127.0.0.1:{taken.getsockname()[1]}"
        served = subprocess.run(
            [Path(sys.executable).with_name("sondebook"), "serve", "-a", address],
            cwd=project,
            capture_output=True,
            text=True,
            timeout=60,
            check=False,
        )
    assert served.returncode == 2
    told = f"sondebook: {address} is in use by another program; add `--address 127.0.0.1:"
    assert served.stderr.splitlines()[-1].startswith(told)
