"""Two builds of the site, a host that serves them, and a phone that keeps a vehicle."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from generator.site.project import build_site
from tests.browser.host import Host
from tests.browser.opened import a_phone

PIP = "lowmere-pip-1-4"
FIRST_DAY, SECOND_DAY = "1772928000", "1774137600"  # 8 and 22 March 2026
BEFORE, AFTER = "hangs beside", "is beside"


@pytest.fixture(name="builds", scope="module")
def two_builds(root: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Two builds of the demo site; between them one sentence of one vehicle changes."""
    project = tmp_path_factory.mktemp("project")
    for name in ("docs", "vehicle_profiles"):
        shutil.copytree(root / name, project / name)
    shutil.copy(root / "mkdocs.yml", project)
    made = {}
    with pytest.MonkeyPatch.context() as patch:
        for name, day in (("first", FIRST_DAY), ("second", SECOND_DAY)):
            patch.setenv("SOURCE_DATE_EPOCH", day)
            made[name] = build_site(str(project / "mkdocs.yml"), str(project / name))
            profile = project / f"vehicle_profiles/{PIP}.yml"
            assert name == "second" or BEFORE in profile.read_text()
            profile.write_text(profile.read_text().replace(BEFORE, AFTER))
    return made


@pytest.fixture(name="host")
def host_of_guides(tmp_path: Path, builds: dict[str, Path]) -> Iterator[Host]:
    """The first build, in a folder of a host that has other things too."""
    made = Host(tmp_path)
    made.serve("club/guides", builds["first"])
    made.start()
    yield made
    made.stop()


@pytest.fixture(name="phone")
def phone_that_keeps(browser: Browser) -> Iterator[BrowserContext]:
    made = a_phone(browser)
    yield made
    made.close()


@pytest.fixture(name="faults")
def script_faults() -> list[str]:
    return []


@pytest.fixture(name="page")
def page_without_fault(phone: BrowserContext, faults: list[str]) -> Iterator[Page]:
    """A page on which no script fails."""
    made = phone.new_page()
    made.on("pageerror", lambda error: faults.append(str(error)))
    yield made
    assert faults == []


def paths(site: Path, slug: str) -> list[str]:
    """The pages of a vehicle, from the folder itself."""
    return sorted(f"guides/{slug}/{each.name}" for each in (site / "guides" / slug).iterdir())


def said(page: Page) -> str:
    return page.locator("#keeping > [data-is=said]").inner_text()


def wait_for(page: Page, name: str) -> None:
    """Until the panel says the sentence of that name."""
    expect(page.locator(f"#keeping > [data-said={name}]")).to_be_visible(timeout=30_000)


def open_vehicle(page: Page, host: Host, slug: str = PIP, site: str = "club/guides") -> None:
    page.goto(host.address(site, f"guides/{slug}/index.html"))


def press_keep(page: Page) -> None:
    page.click("#keeping [data-is=keep]")


def keep(page: Page, host: Host, slug: str = PIP, site: str = "club/guides") -> None:
    open_vehicle(page, host, slug, site)
    press_keep(page)
    wait_for(page, "kept")


def lose_signal(phone: BrowserContext, host: Host) -> None:
    """Neither a network nor, if the browser were to find one, a server."""
    phone.set_offline(True)
    host.stop()


def cache_names(page: Page) -> list[str]:
    return sorted(page.evaluate("caches.keys()"))


def text_of_access(page: Page, host: Host) -> str:
    page.goto(host.address("club/guides", f"guides/{PIP}/bank-1-position-1-access.html"))
    return page.inner_text("main")
