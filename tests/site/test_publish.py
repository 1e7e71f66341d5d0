"""The published folder: replaced by a complete build, and by nothing else."""

from __future__ import annotations

import errno
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner
from mkdocs.__main__ import cli as mkdocs
from mkdocs.commands import build as mkdocs_build

from generator.site import mkdocs_plugin
from generator.site.data_files import CATALOGUE_FILE
from generator.site.project import CannotBuild, build_site
from generator.site.publish import NotASite, Publication
from generator.site.shares import WORTH_SHARING

Run = Callable[..., "subprocess.CompletedProcess[str]"]

FULL = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
DEAD = 2**22 + 7
"""Above the largest number that Linux gives a process."""


def content(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def left_beside(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.parent.glob(f"{folder.name}.*"))


def put_a_site(folder: Path) -> dict[str, bytes]:
    """Make a folder what an earlier build could have left, as far as a build looks; its files."""
    (folder / CATALOGUE_FILE).parent.mkdir(parents=True)
    (folder / CATALOGUE_FILE).write_text("{}")
    (folder / "index.html").write_text("old")
    return content(folder)


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A published folder with one page, and a hidden folder of its owner's."""
    folder = tmp_path / "web/site"
    put_a_site(folder)
    (folder / ".git").mkdir()
    (folder / ".git/config").write_text("owner's")
    folder.chmod(0o751)
    return folder


def test_a_complete_build_takes_the_place(site: Path) -> None:
    publication = Publication(site)
    (publication.folder / "index.html").write_text("new")
    assert content(site)["index.html"] == b"old", "until then the old one stands"
    publication.swap()
    publication.drop()
    assert content(site) == {"index.html": b"new", ".git/config": b"owner's"}
    assert site.stat().st_mode & 0o777 == 0o751
    assert left_beside(site) == []


def test_the_first_build_needs_no_folder(tmp_path: Path) -> None:
    site = tmp_path / "some/where/site"
    publication = Publication(site)
    assert not site.exists()
    publication.swap()
    assert site.is_dir()
    assert left_beside(site) == []


def test_what_no_build_has_written_is_not_deleted(tmp_path: Path) -> None:
    attic = tmp_path / "attic"
    attic.mkdir()
    (attic / ".keep").touch()
    Publication(attic).drop()
    (attic / "letter.txt").write_text("mine")
    with pytest.raises(NotASite, match=r"would delete them: name another folder with site_dir"):
        Publication(attic)
    with pytest.raises(NotASite, match=r"letter\.txt is a file, not a folder"):
        Publication(attic / "letter.txt")
    assert content(attic) == {".keep": b"", "letter.txt": b"mine"}
    assert left_beside(attic) == []


@pytest.mark.parametrize("command", ["sondebook", "mkdocs"])
def test_a_build_does_not_take_the_place_of_the_profiles(
    run: Run, project: Path, command: str
) -> None:
    before = content(project / "vehicle_profiles")
    built = run(command, "build", "-d", "vehicle_profiles")
    assert built.returncode != 0
    assert "vehicle_profiles holds files that are not of a built site" in built.stderr
    assert "Traceback" not in built.stderr
    assert content(project / "vehicle_profiles") == before


def test_a_link_goes_on_leading_to_the_site(site: Path, tmp_path: Path) -> None:
    link = tmp_path / "www"
    link.symlink_to(site)
    publication = Publication(link)
    (publication.folder / "index.html").write_text("new")
    publication.swap()
    assert link.is_symlink()
    assert (site / "index.html").read_text() == "new"


def test_a_swap_that_fails_half_way_puts_the_old_one_back(
    site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    publication = Publication(site)
    before = content(site)
    rename = Path.rename

    def second_fails(path: Path, target: Path) -> Path:
        if path == publication.folder:
            raise OSError(errno.EIO, "Input/output error")
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", second_fails)
    with pytest.raises(OSError, match="Input/output"):
        publication.swap()
    publication.drop()
    assert content(site) == before
    assert left_beside(site) == []


@pytest.mark.parametrize("both", [True, False])
def test_the_next_build_mends_what_a_killed_one_left(site: Path, both: bool) -> None:
    (site.parent / f"site.new-{DEAD}").mkdir()
    if both:
        old = site.parent / f"site.old-{DEAD}"
        (old / ".well-known").mkdir(parents=True)
        (old / ".well-known/hidden").write_text("kept")
    else:
        site.rename(site.parent / f"site.old-{DEAD}")
    publication = Publication(site)
    assert (site / "index.html").read_text() == "old"
    assert (site / ".well-known/hidden").exists() is both
    publication.drop()
    assert left_beside(site) == []


def test_what_another_build_is_writing_is_left_alone(site: Path) -> None:
    running = site.parent / f"site.new-{os.getppid()}"
    running.mkdir()
    (site.parent / "site.new-year").mkdir()
    Publication(site).drop()
    assert left_beside(site) == sorted([running.name, "site.new-year"])


@pytest.mark.parametrize("hindrance", [FULL, KeyboardInterrupt()])
@pytest.mark.parametrize("place", ["write_guides", "mkdocs_build.utils.write_file"])
def test_a_build_that_ends_early_leaves_the_old_site(
    project: Path, monkeypatch: pytest.MonkeyPatch, hindrance: BaseException, place: str
) -> None:
    before = put_a_site(project / "site")

    def ends(*_arguments: object, **_others: object) -> None:
        assert list(project.glob("site.new-*/assets")), "half of it is written"
        raise hindrance

    owner = mkdocs_plugin if place == "write_guides" else mkdocs_build.utils
    monkeypatch.setattr(owner, place.rpartition(".")[2], ends)
    with pytest.raises(CannotBuild, match=r"what was published before stays as it was\.$"):
        build_site(str(project / "mkdocs.yml"))
    assert content(project / "site") == before
    assert left_beside(project / "site") == []


@pytest.mark.parametrize("command", ["sondebook", "mkdocs"])
def test_a_faulty_profile_and_a_strict_warning_leave_the_old_site(
    run: Run, project: Path, command: str
) -> None:
    assert run(command, "build").returncode == 0
    before = content(project / "site")
    settings = project / "mkdocs.yml"
    page = project / "docs/index.md"
    page.write_text(f"{page.read_text()}\n[nowhere](nowhere.md)\n")
    settings.write_text(settings.read_text() + "\nstrict: true\n")
    assert run(command, "build").returncode != 0
    assert content(project / "site") == before
    (project / "vehicle_profiles/lowmere-pip-1-4.yml").write_text("format: 2\n")
    assert run(command, "build").returncode != 0
    assert content(project / "site") == before
    assert left_beside(project / "site") == []


@pytest.mark.parametrize("command", ["sondebook", "mkdocs"])
def test_a_folder_that_cannot_be_written_is_a_sentence(run: Run, command: str) -> None:
    # Nobody, root neither, can make a folder there
    built = run(command, "build", "-d", "/proc/nowhere/site")
    assert built.returncode != 0
    assert "cannot write /proc/nowhere" in built.stderr
    assert "Traceback" not in built.stderr


def test_a_full_disk_is_a_sentence_of_mkdocs_too(
    project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_arguments: object, **_others: object) -> None:
        raise FULL

    monkeypatch.setattr(mkdocs_plugin, "write_guides", full)
    told = CliRunner().invoke(mkdocs, ["build", "-q", "-f", str(project / "mkdocs.yml")])
    assert isinstance(told.exception, SystemExit), "no traceback"
    assert told.output == (
        "Error: sondebook: No space left on device; what was published before stays as it was.\n"
    )


HOLD = """
import os
import time

from generator.site.renderer import Renderer

html, started, guides = Renderer.html, os.getpid(), []

def held(self, page):
    if page.path.startswith("guides/") and page.path.count("/") == 2:
        guides.append(page)
        while len(guides) > 1 and started in (os.getpid(), os.getppid()):
            time.sleep(0.02)
    return html(self, page)

Renderer.html = held
"""
"""A hook of MkDocs that holds each process of a build when it has written its first guide page."""


@pytest.mark.parametrize("kill", [signal.SIGINT, signal.SIGTERM, signal.SIGKILL])
def test_a_build_that_is_interrupted_or_killed_leaves_the_old_site(
    project: Path, kill: signal.Signals
) -> None:
    before = put_a_site(project / "site")
    profile = (project / "vehicle_profiles/lowmere-pip-1-4.yml").read_text()
    for number in range(WORTH_SHARING):
        copy = profile.replace("model: Pip", f"model: Pip {number}")
        (project / f"vehicle_profiles/pip-{number}.yml").write_text(copy)
    (project / "hold.py").write_text(HOLD)
    settings = project / "mkdocs.yml"
    settings.write_text(settings.read_text() + "\nhooks: [hold.py]\n")
    building = subprocess.Popen(
        [Path(sys.executable).with_name("sondebook"), "build"],
        cwd=project,
        stderr=subprocess.PIPE,
        text=True,
    )
    until = time.monotonic() + 60
    while not list(project.glob("site.new-*/guides/*/*.html")) and time.monotonic() < until:
        time.sleep(0.01)
    building.send_signal(kill)
    _, said = building.communicate(timeout=60)
    assert building.returncode != 0, "the build was too quick to be stopped"
    assert content(project / "site") == before
    if kill is not signal.SIGKILL:
        assert said == ("sondebook: interrupted; what was published before stays as it was.\n")
        assert left_beside(project / "site") == []
    else:
        assert len(left_beside(project / "site")) == 1
        shutil.rmtree(project / "site")
        Publication(project / "site").drop()
        assert left_beside(project / "site") == []
