"""Two sites, one language each, that lead to one another page by page."""

from __future__ import annotations

import re
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from generator.site.language import sites_in
from tests.site.conftest import COMMANDS

LINK = re.compile(r'<a href="([^"]+)" hreflang="(\w+)" lang="\w+">([^<]+)</a>')
NAMES = {"en": "English", "de": "Deutsch"}


def write_settings(project: Path, language: str, other: str) -> str:
    text = (project / "mkdocs.yml").read_text()
    for old, new in {
        "language: en": f"language: {language}",
        "site_dir: site": f"site_dir: site/{language}",
        "site_url: https://sondebook.example/": f"site_url: https://club.example/{language}/",
        "profiles: vehicle_profiles": f"profiles: vehicle_profiles\n      also_in: {{{other}}}",
    }.items():
        assert old in text
        text = text.replace(old, new)
    name = f"mkdocs.{language}.yml"
    (project / name).write_text(text)
    return name


@pytest.fixture(scope="module")
def both(root: Path) -> Iterator[Path]:
    """The folder of both sites, with the guide of one vehicle."""
    # A link checker may give up root, and the folders of tests are root's alone
    with tempfile.TemporaryDirectory(prefix="sondebook-both-") as folder:
        project = Path(folder)
        project.chmod(0o755)
        shutil.copytree(root / "docs", project / "docs")
        shutil.copy(root / "mkdocs.yml", project)
        (project / "vehicle_profiles").mkdir()
        shutil.copy(root / "vehicle_profiles/lowmere-pip-1-4.yml", project / "vehicle_profiles")
        for language, other in (("en", "de: ../de/"), ("de", "en: ../en/")):
            settings = write_settings(project, language, other)
            done = command(project, "mkdocs", "build", "-q", "-f", settings)
            assert done.returncode == 0, done.stderr
        yield project / "site"


def command(folder: Path, name: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run an installed command in a folder."""
    return subprocess.run(
        [COMMANDS / name, *arguments], cwd=folder, capture_output=True, text=True, check=False
    )


def test_each_page_leads_to_itself_in_the_other_language(both: Path) -> None:
    pages = [page for page in both.rglob("*.html") if page.name != "404.html"]
    led = 0
    for page in pages:
        language = page.relative_to(both).parts[0]
        (other,) = set(NAMES) - {language}
        if page.parent.name == "pocket":
            continue
        found = LINK.findall(page.read_text())
        assert len(found) == 1, page
        ((href, code, name),) = found
        assert (code, name) == (other, NAMES[other])
        target = (page.parent / href).resolve()
        assert target.is_file(), f"{page}: {href}"
        assert target.relative_to(both / other) == page.relative_to(both / language)
        led += 1
    assert led > 40


def test_the_links_of_each_site_hold_with_the_settings_that_it_was_built_by(both: Path) -> None:
    done = command(both.parent, "sondebook", "links", "-f", "mkdocs.de.yml")
    assert done.returncode == 0, done.stdout
    assert done.stdout.endswith(": 0 broken.\n")


def test_search_engines_are_told_of_both(both: Path) -> None:
    path = "guides/lowmere-pip-1-4/index.html"
    for language in NAMES:
        head = (both / language / path).read_text().partition("</head>")[0]
        told = re.findall(r'<link rel="alternate" hreflang="(\w+)" href="([^"]+)">', head)
        assert dict(told) == {each: f"https://club.example/{each}/{path}" for each in NAMES}


def test_a_site_by_itself_leads_nowhere(site: Path) -> None:
    assert not any("hreflang" in page.read_text() for page in site.rglob("*.html"))


@pytest.mark.parametrize(
    "setting",
    ["fr: ../fr/", "de: ../de", "de: /de/", "de: https://club.example/de/", "de: //x/", "de: 7"],
)
def test_what_is_no_language_or_no_folder_is_refused(
    project: Path, run: object, setting: str
) -> None:
    name = write_settings(project, "en", setting)
    done = run("sondebook", "build", "-f", name)  # type: ignore[operator]
    assert done.returncode == 2
    assert "mkdocs.en.yml: also_in names a language (en, de) and the folder" in done.stderr
    assert not (project / "site").exists()


def test_the_name_of_a_language_is_its_own() -> None:
    (german, english) = sites_in({"de": "../de/", "en": "../"})
    assert (german.name, english.name) == ("Deutsch", "English")
    assert german.address("https://club.example/guides/en/") == "https://club.example/guides/de/"
