"""What starting a collection writes and refuses, and its two languages as its readme says."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner

from generator import __version__
from generator.cli import main
from generator.profile import read_profile
from generator.site.collection_start import (
    FILES,
    TEMPLATES,
    CannotStart,
    start,
)


def test_every_template_is_used() -> None:
    assert {path.name for path in TEMPLATES.iterdir()} - {"__pycache__"} == set(FILES)


@pytest.mark.parametrize("there", ["folder/file", "folder"])
def test_a_folder_that_holds_something_is_left_alone(tmp_path: Path, there: str) -> None:
    path = tmp_path / there
    path.parent.mkdir(exist_ok=True)
    path.write_text("theirs")
    with pytest.raises(CannotStart, match=r"is not empty; nothing was written\.$"):
        start(tmp_path / "folder", "x", "")
    assert path.read_text() == "theirs"
    assert len(list(tmp_path.rglob("*"))) == there.count("/") + 1


def test_an_empty_folder_will_do(tmp_path: Path) -> None:
    written = start(tmp_path, "x", "")
    assert all(path.is_file() for path in written)
    read = read_profile(tmp_path / "vehicle_profiles/example.yml")
    assert read.profile
    assert not read.findings


@pytest.mark.parametrize("was_there", [True, False])
def test_a_start_that_fails_half_way_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, was_there: bool
) -> None:
    def full(_folder: Path) -> None:
        raise OSError(28, "No space left on device")

    folder = tmp_path / "club"
    if was_there:
        folder.mkdir()
    monkeypatch.setattr("generator.site.collection_start.refresh_schema", full)
    told = CliRunner().invoke(main, ["start", str(folder)])
    assert told.exit_code == 2
    assert told.output == f"sondebook: cannot write {folder}: No space left on device.\n"
    assert folder.is_dir() is was_there
    assert list(tmp_path.rglob("*")) == ([folder] if was_there else [])


@pytest.mark.parametrize("address", ["nonsense", "club.example", "ftp://club.example/", "https://"])
def test_what_is_no_address_is_refused(tmp_path: Path, address: str) -> None:
    with pytest.raises(CannotStart, match=r"is not an address such as https://club\.example/"):
        start(tmp_path / "club", "x", address)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["#1 guides: yes", "null", "a\nb", '"', "ü ${x} $y"])
def test_any_name_stays_what_it_is(tmp_path: Path, name: str) -> None:
    start(tmp_path, name, "")
    settings = yaml.safe_load((tmp_path / "mkdocs.yml").read_text())
    assert settings["site_name"] == name
    assert settings["site_url"] is None
    assert (tmp_path / "README.md").read_text().splitlines()[0] == f"# {' '.join(name.split())}"


def test_the_workflow_is_yaml_and_runs_our_commands(tmp_path: Path) -> None:
    start(tmp_path, "x", "")
    flow = yaml.safe_load((tmp_path / ".github/workflows/publish.yml").read_text())
    runs = [step["run"] for step in flow["jobs"]["build"]["steps"] if "run" in step]
    ours = [words.split() for words in runs if words.startswith("sondebook ")]
    assert [words[1] for words in ours] == ["check", "build", "links", "links"]
    assert all(words[1] in main.commands for words in ours)
    # YAML 1.1 reads the key `on` as true
    assert flow[True]["schedule"] == [{"cron": "17 4 * * 1"}]


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that all can read, because the link checker may give up root."""
    with tempfile.TemporaryDirectory(prefix="sondebook-two-") as folder:
        Path(folder).chmod(0o755)
        yield Path(folder) / "club"


def test_two_languages_are_made_as_its_readme_says(open_folder: Path) -> None:
    start(open_folder, "Club", "https://club.example/guides/")
    settings = (open_folder / "mkdocs.yml").read_text()
    for change in (
        ("/guides/", "/guides/en/"),
        ("site_url", "site_dir: site/en\nsite_url"),
        ("# also_in", "also_in"),
        ("# headers", "headers"),
    ):
        assert change[0] in settings
        settings = settings.replace(*change, 1)
    german = settings.replace("/en", "/de").replace("language: en", "language: de")
    german = german.replace("{de: ../de/}", "{en: ../en/}")
    german = german.replace("theme:", "docs_dir: docs-de\ntheme:")
    (open_folder / "mkdocs.yml").write_text(settings)
    (open_folder / "mkdocs.de.yml").write_text(german)
    (open_folder / "docs-de").mkdir()
    (open_folder / "docs-de/index.md").write_text("---\ntemplate: home.html\n---\n# Lambdasonden\n")
    page = '<a href="en/index.html">English</a> <a href="de/index.html">Deutsch</a>'
    (open_folder / "languages.html").write_text(page)
    flow = (open_folder / ".github/workflows/publish.yml").read_text()
    waiting = re.findall(r"^      # - run: (.*)$", flow, re.MULTILINE)
    assert len(waiting) == 4
    path = f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"
    for line in ["sondebook build", *waiting]:
        ran = subprocess.run(
            ["sh", "-c", line],
            cwd=open_folder,
            env={**os.environ, "PATH": path},
            capture_output=True,
            text=True,
            check=False,
        )
        assert ran.returncode == 0, ran.stderr
    site = open_folder / "site"
    for link in re.findall(r'href="([^"]*)"', (site / "index.html").read_text()):
        assert (site / link).is_file()
    assert "Lambdasonden" in (site / "de/index.html").read_text()
    assert "../../../en/guides/" in (site / "de/guides/example/index.html").read_text()
    rules = [line for line in (site / "_headers").read_text().splitlines() if line[0] != " "]
    assert {"/guides/en/sw.js", "/guides/de/sw.js", "/guides/de/*"} <= set(rules)
    assert not any(rule.startswith("/sw") for rule in rules)


def test_the_package_is_held_to_what_it_can_read(tmp_path: Path) -> None:
    start(tmp_path, "x", "")
    (line,) = (
        line for line in (tmp_path / "requirements.txt").read_text().splitlines() if "#" not in line
    )
    assert line.startswith(f"sondebook>={__version__},<")
