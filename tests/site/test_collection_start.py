"""A collection of one's own, built with the package as it is installed."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Callable, Iterator
from difflib import ndiff
from pathlib import Path

import html5lib
import pytest
import yaml

from generator.profile.schema import PATH, schema_text
from generator.profile.starter import MODELINE
from generator.site.collection_start import (
    EDITOR_FILE,
    FILES,
    FORGE_FILES,
    OF_A_COLLECTION,
)

MAIN = "from generator.cli import main; main()"
Installed = Callable[..., "subprocess.CompletedProcess[str]"]


@pytest.fixture(scope="module")
def wheel(root: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The package unpacked from its wheel, as an installation has it."""
    pytest.importorskip("setuptools", minversion="77")
    source = tmp_path_factory.mktemp("source")
    for name in ("generator", "overrides", "docs", ".github", ".vscode"):
        skipped = shutil.ignore_patterns("__pycache__")
        shutil.copytree(root / name, source / name, ignore=skipped)
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(root / name, source)
    subprocess.run(
        [
            *(sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-index"),
            *("--no-build-isolation", "--wheel-dir", source / "dist", source),
        ],
        check=True,
        capture_output=True,
    )
    (built,) = (source / "dist").glob("*.whl")
    folder = tmp_path_factory.mktemp("installed")
    with zipfile.ZipFile(built) as packed:
        packed.extractall(folder)
    return folder


@pytest.fixture(scope="module")
def installed(wheel: Path) -> Installed:
    """Runs the command line of the unpacked package in a folder."""

    def run(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-P", "-c", MAIN, *arguments],
            cwd=folder,
            env={**os.environ, "PYTHONPATH": str(wheel)},
            capture_output=True,
            text=True,
            timeout=120,
            check=False,
        )

    return run


@pytest.fixture(scope="module")
def collection(installed: Installed, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A collection started and built by the installed package."""
    folder = tmp_path_factory.mktemp("club") / "guides"
    started = installed(
        folder.parent,
        "start",
        "guides",
        "--name",
        'Club "A": x',
        "--address",
        "https://club.example",
    )
    assert started.returncode == 0, started.stderr
    built = installed(folder, "build")
    assert built.returncode == 0, built.stderr
    return folder


def test_it_is_the_installed_package_that_builds(wheel: Path, installed: Installed) -> None:
    found = subprocess.run(
        [sys.executable, "-P", "-c", "import generator.site.theme as t; print(t.theme_folder())"],
        env={**os.environ, "PYTHONPATH": str(wheel)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert Path(found.stdout.strip()) == wheel / "generator/theme"


def test_its_profile_has_no_finding(collection: Path, installed: Installed) -> None:
    checked = installed(collection, "check", "--strict")
    assert checked.returncode == 0, checked.stdout
    assert checked.stdout == "1 profile: 0 errors, 0 warnings.\n"


def schema_of(profile: Path) -> Path:
    """The file that the first line of a profile leads editors to."""
    first_line = profile.read_text("utf-8").partition("\n")[0]
    return (profile.parent / first_line.removeprefix(MODELINE)).resolve()


def test_editors_find_the_present_schema(installed: Installed, tmp_path: Path) -> None:
    folder = tmp_path / "guides"
    assert installed(tmp_path, "start", "guides").returncode == 0
    words = "--make Tarnhelm --model Brae --years 2004 --engine 2.0 --cylinders 4 "
    words += "--arrangement inline --mounting longitudinal --bay front --steering left"
    sensor = "1.1=switching:4:above:in the manifold"
    asked = installed(folder, "new", *words.split(), "--yes", "--name", "brae", "--sensor", sensor)
    assert asked.returncode == 0, asked.stderr
    for name in ("example", "brae"):
        assert schema_of(folder / f"vehicle_profiles/{name}.yml") == folder / PATH
    assert (folder / PATH).read_text() == schema_text()
    assert installed(folder, "check").returncode == 0
    (folder / PATH).write_text("{}")
    assert installed(folder, "build").returncode == 0
    assert (folder / PATH).read_text() == schema_text(), "as after an upgrade"
    assert (folder / "site" / PATH.removeprefix("docs/")).read_text() == schema_text()


def test_the_site_is_whole(collection: Path) -> None:
    site = collection / "site"
    for path in (
        "index.html",
        "cautions.html",
        "reference/numbers.html",
        "reference/profile.schema.json",
        "guides/example/bank-1-position-1-bench.html",
        "data/v1/example.json",
        "pocket/example.html",
        "assets/sondebook.css",
        "sw.js",
    ):
        assert (site / path).is_file(), path
    assert "Club &#34;A&#34;: x" in (site / "guides/index.html").read_text()
    assert "https://club.example/guides/example/index.html" in (site / "sitemap.xml").read_text()


def ways(site: Path) -> Iterator[tuple[Path, Path]]:
    for page in site.rglob("*.html"):
        if page.name == "404.html":
            continue
        for element in html5lib.parse(page.read_bytes(), namespaceHTMLElements=False).iter():
            if isinstance(element.tag, str):
                way = (element.get("href") or element.get("src") or "").partition("#")[0]
                if way and not re.match(r"[a-z]+:", way):
                    yield page, page.parent / way


def test_no_link_of_it_leads_nowhere(collection: Path) -> None:
    found = list(ways(collection / "site"))
    assert len(found) > 200
    assert [(page, way) for page, way in found if not way.resolve().is_file()] == []


def test_the_packages_pages_are_not_offered_for_editing_here(collection: Path) -> None:
    assert "edit/" not in (collection / "site/cautions.html").read_text()


def test_its_own_look_and_pages_come_first(collection: Path, installed: Installed) -> None:
    own = collection / "overrides/assets/own.css"
    own.write_text(":root { --mark: #123456; }\n")
    (collection / "docs/cautions.md").write_text("# Our cautions\n")
    assert installed(collection, "build", "-d", "second").returncode == 0
    site = collection / "second"
    for page in ("index.html", "reference/numbers.html", "guides/example/index.html", "kept.html"):
        head, _, body = (site / page).read_text().partition("</head>")
        link = '<link rel="stylesheet" href="'
        assert head.rpartition(link)[2].split('"')[0].endswith("assets/own.css"), page
        assert head.rfind("<style") < head.rfind(link), page
        assert re.findall(rf"{link}[./]*([^\"]+)", body) == (
            ["assets/guide.css"] if page.startswith(("guides", "kept")) else []
        ), "only what the first screen does not need comes later"
    assert (site / "assets/own.css").read_text() == ":root{--mark:#123456}"
    assert "Our cautions" in (site / "cautions.html").read_text()
    assert "assets/own.css" in (site / "offline/example.json").read_text(), "kept on a phone too"


def test_nothing_of_the_package_is_copied(collection: Path) -> None:
    """So that an upgrade has nothing to merge."""
    theirs = {
        path.relative_to(collection).as_posix()
        for path in collection.rglob("*")
        if path.is_file() and not path.is_relative_to(collection / "site")
    }
    theirs = {path for path in theirs if not path.startswith(("second/", "docs/cautions"))}
    # The schema is written, and after an upgrade written anew, by the package itself
    forge = {f".github/{name}" for name in FORGE_FILES}
    example = "vehicle_profiles/example.yml"
    assert theirs == {*FILES.values(), *forge, EDITOR_FILE, example, PATH}


def test_forge_and_editor_find_what_they_find_in_this_repository(
    collection: Path, root: Path
) -> None:
    equal = {*FORGE_FILES} - {*OF_A_COLLECTION}
    assert len(equal) == 5
    for name in equal:
        text = (collection / ".github" / name).read_text()
        assert text == (root / ".github" / name).read_text(), name
    assert (collection / EDITOR_FILE).read_text() == (root / EDITOR_FILE).read_text()
    every = {path.relative_to(root / ".github").as_posix() for path in files(root / ".github")}
    assert every == {*FORGE_FILES}, "each is handed on, or it is said why not"


def files(folder: Path) -> Iterator[Path]:
    return (path for path in folder.rglob("*") if path.is_file())


def test_what_differs_is_one_passage_of_each(collection: Path, root: Path) -> None:
    for name in OF_A_COLLECTION:
        ours = (root / ".github" / name).read_text().splitlines()
        theirs = (collection / ".github" / name).read_text().splitlines()
        changes = [each for each in ndiff(ours, theirs) if each.startswith(("- ", "+ "))]
        assert 0 < len(changes) <= 5, changes
        assert "make test" not in "".join(theirs) and ".lock" not in "".join(theirs)


def test_the_check_before_a_commit_is_the_same(collection: Path, root: Path) -> None:
    """Here, in a collection, and for who names this repository in their own settings."""

    def hook(path: Path) -> dict[str, str]:
        data = yaml.safe_load(path.read_text())
        hooks = data if isinstance(data, list) else data["repos"][0]["hooks"]
        (found,) = (each for each in hooks if each["id"] == "sondebook-check")
        return {key: found[key].removeprefix(".venv/bin/") for key in ("name", "entry", "files")}

    own = hook(root / ".pre-commit-config.yaml")
    assert own == hook(collection / ".pre-commit-config.yaml")
    assert own == hook(root / ".pre-commit-hooks.yaml")
