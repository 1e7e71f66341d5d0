"""What several test folders share: the demo vehicles, small vehicles, rendered pages, the site."""

from __future__ import annotations

import copy
import tempfile
from collections.abc import Callable, Iterator
from gettext import NullTranslations
from pathlib import Path
from typing import Any

import html5lib
import pytest
import yaml
from hypothesis import settings

from generator.guide.page import Page
from generator.guide.pages import vehicle_pages
from generator.guide.vehicle import Vehicle
from generator.profile import read_profile, read_text
from generator.site.project import build_site
from generator.site.renderer import Renderer
from tests.pseudo_locale import LANGUAGE, write_pseudo

# On a busy machine any example may be late; what must be quick is measured where that is asked
settings.register_profile("sondebook", deadline=None)
settings.load_profile("sondebook")

ROOT = Path(__file__).parents[1]
ENGLISH = NullTranslations()

SMALL: dict[str, Any] = {
    "format": 2,
    "vehicle": {"make": "Tarnhelm", "model": "Brae", "years": "2004 on"},
    "engine": {
        "name": "2.0 petrol",
        "cylinders": 4,
        "arrangement": "inline",
        "mounting": "longitudinal",
        "bay": "front",
    },
    "steering": ["left"],
    "banks": {1: {"cylinders": [1, 2, 3, 4], "side": "left"}},
    "sensors": [
        {
            "bank": 1,
            "position": 1,
            "kind": "switching",
            "wires": 4,
            "place": {"where": "in the manifold", "reach": "above"},
        }
    ],
}
"""A profile with nothing but what is needed."""


class _Plain(yaml.SafeDumper):
    """Writes YAML without aliases, which a profile may not have."""

    def ignore_aliases(self, data: Any) -> bool:
        return True


def changed(data: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """A copy with some values put in, each under a path such as ``sensors.0.wires``."""
    result = copy.deepcopy(data)
    for path, value in changes.items():
        *way, last = (int(step) if step.isdigit() else step for step in path.split("."))
        part: Any = result
        for step in way:
            part = part[step]
        part[last] = copy.deepcopy(value)
    return result


def vehicle_of(data: dict[str, Any]) -> Vehicle:
    """The vehicle of a profile, read from its text as a contributed file is."""
    text = yaml.dump(data, Dumper=_Plain, allow_unicode=True, sort_keys=False)
    read = read_text(text.encode(), "small.yml", "small")
    assert read.profile is not None, "\n\n".join(map(str, read.findings))
    return Vehicle("small", read.profile, ENGLISH)


@pytest.fixture(scope="session")
def root() -> Path:
    """The folder of the project."""
    return ROOT


@pytest.fixture(scope="session")
def small() -> Callable[..., Vehicle]:
    """Makes a small vehicle; changes are named by path: ``small({"sensors.0.wires": 1})``."""
    return lambda changes={}: vehicle_of(changed(SMALL, changes))


@pytest.fixture(scope="session")
def from_data() -> Callable[[dict[str, Any]], Vehicle]:
    """Makes a vehicle from the data of a whole profile."""
    return vehicle_of


@pytest.fixture(scope="session")
def demo() -> dict[str, Vehicle]:
    """The demo vehicles by slug."""
    files = [read_profile(path) for path in sorted((ROOT / "vehicle_profiles").glob("*.yml"))]
    return {file.slug: Vehicle(file.slug, file.profile, ENGLISH) for file in files if file.profile}


@pytest.fixture(scope="session")
def html() -> Callable[[Page], str]:
    """Renders a page with the project's own templates."""
    return Renderer([ROOT / "overrides"], "Sondebook", "en", NullTranslations()).html


@pytest.fixture(scope="session")
def page_of(html: Callable[[Page], str]) -> Callable[[Vehicle, str], Any]:
    """The parsed HTML of one page of a vehicle, by its file name."""

    def parse(vehicle: Vehicle, file: str) -> Any:
        (page,) = (p for p in vehicle_pages(vehicle) if p.path.endswith(f"/{file}"))
        return html5lib.parse(html(page), namespaceHTMLElements=False)

    return parse


@pytest.fixture(scope="session")
def site() -> Iterator[Path]:
    """The demo site, built once; readable by all, because a link checker may give up root."""
    with tempfile.TemporaryDirectory(prefix="sondebook-site-") as folder:
        Path(folder).chmod(0o755)
        yield build_site(str(ROOT / "mkdocs.yml"), f"{folder}/site")


def site_in(language: str, folder: Path) -> Path:
    """The demo site in another language, built into a folder."""
    settings = (ROOT / "mkdocs.yml").read_text(encoding="utf-8")
    changes = {
        "language: en": f"language: {language}",
        "docs_dir: docs": f"docs_dir: {ROOT / 'docs'}",
        "profiles: vehicle_profiles": f"profiles: {ROOT / 'vehicle_profiles'}",
    }
    for old, new in changes.items():
        assert old in settings
        settings = settings.replace(old, new)
    (folder / "mkdocs.yml").write_text(settings, encoding="utf-8")
    return build_site(str(folder / "mkdocs.yml"), str(folder / "site"))


@pytest.fixture(scope="session")
def german_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo site in German."""
    return site_in("de", tmp_path_factory.mktemp("german"))


@pytest.fixture(scope="session")
def pseudo_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo site in a made-up language, accented and longer."""
    folder = tmp_path_factory.mktemp("pseudo")
    write_pseudo(folder / "locale")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("generator.site.language.FOLDER", folder / "locale")
        return site_in(LANGUAGE, folder)
