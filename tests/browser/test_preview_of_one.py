"""The preview of one vehicle in a browser: it loads itself again, with faults and without."""

from __future__ import annotations

import shutil
import threading
from collections.abc import Iterator
from gettext import NullTranslations
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from generator.site.preview_server import PreviewServer, preview_server
from generator.site.renderer import Renderer

pytestmark = pytest.mark.browser
DEADLINE_MS = 30_000


@pytest.fixture
def profile(tmp_path: Path, root: Path) -> Path:
    return Path(shutil.copy(root / "vehicle_profiles/lowmere-pip-1-4.yml", tmp_path))


@pytest.fixture
def server(profile: Path, root: Path) -> Iterator[PreviewServer]:
    theme = [root / "overrides"]
    renderer = Renderer(theme, "Sondebook", "en", NullTranslations())
    serving = preview_server(profile, renderer, theme, "127.0.0.1:0")
    thread = threading.Thread(target=serving.serve, args=(lambda findings: None,), daemon=True)
    thread.start()
    yield serving
    serving.close()
    thread.join(timeout=10)


def test_a_save_is_on_the_page_by_itself(
    browser: Browser, server: PreviewServer, profile: Path
) -> None:
    page = browser.new_page(viewport={"width": 360, "height": 740})
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto(server.address)
    heading = page.locator("h1")
    expect(heading).to_contain_text("Lowmere Pip")
    text = profile.read_text()
    profile.write_text(text.replace("model: Pip", "model: Pippin"))
    expect(heading).to_contain_text("Lowmere Pippin", timeout=DEADLINE_MS)
    long = "Pip " * 60
    profile.write_text(text.replace("model: Pip", f"modell: {long}"))
    finding = page.get_by_role("heading", name="`modell` is not a key of this part.")
    expect(finding).to_be_visible(timeout=DEADLINE_MS)
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    profile.write_text(text)
    expect(heading).to_contain_text("Lowmere Pip", timeout=DEADLINE_MS)
    assert faults == []
    page.close()
