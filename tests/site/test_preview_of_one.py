"""The preview of one vehicle: always the newest state, faults as a page, nothing but its own."""

from __future__ import annotations

import re
import socket
import threading
import time
from collections.abc import Iterator
from gettext import NullTranslations
from http.client import HTTPConnection
from io import BytesIO
from pathlib import Path
from urllib.parse import unquote

import pytest
from PIL import Image

from generator.profile import Finding
from generator.site.preview import Answer, Preview
from generator.site.preview_server import PreviewServer, preview_server
from generator.site.renderer import Renderer
from tests.hostile import images
from tests.site.test_preview import free_port, preview, save

DEADLINE_S = 30
PIP = "vehicle_profiles/lowmere-pip-1-4.yml"
OVERVIEW = "guides/lowmere-pip-1-4/index.html"
CARROW = "fenwright-carrow-3-2-v6.yml"
LATCH = "guides/fenwright-carrow-3-2-v6/bank-1-position-1-access.html"


@pytest.fixture(scope="module")
def renderer(root: Path) -> Renderer:
    return Renderer([root / "overrides"], "Sondebook", "en", NullTranslations())


@pytest.fixture
def shown(project: Path, root: Path, renderer: Renderer) -> Preview:
    return Preview(project / PIP, renderer, [root / "overrides"])


def html(answer: Answer) -> str:
    return answer.content.decode()


def test_every_page_of_the_vehicle_is_there(shown: Preview) -> None:
    page = html(shown.answer(OVERVIEW))
    assert "Lowmere Pip" in page
    for file in re.findall(r'href="([a-z0-9-]+\.html)["#]', page):
        assert shown.answer(f"guides/lowmere-pip-1-4/{file}").status == 200, file


def test_a_save_is_seen_and_nothing_else_is(project: Path, shown: Preview) -> None:
    assert not shown.look()
    save(project, "years: 1997 to 2003", "years: 1994 to 2003")
    assert shown.look()
    assert "1994–" in html(shown.answer(OVERVIEW)).replace("\u2060", "")
    assert not shown.look()


def test_an_error_is_a_page_with_place_and_mend(project: Path, shown: Preview) -> None:
    save(project, "  model: Pip", "  modell: <b>Pip")
    shown.look()
    page = html(shown.answer(OVERVIEW))
    assert "`modell` is not a key of this part." in page
    assert "Did you mean `model`?" in page
    assert "line 10, column 3" in page
    assert "modell: &lt;b&gt;Pip" in page, "the line, as text"
    assert "reload.js" in page, "it goes as soon as the fault is mended"
    save(project, "  modell: <b>Pip", "  model: Pippin")
    shown.look()
    assert "Lowmere Pippin" in html(shown.answer(OVERVIEW))


def test_a_file_that_is_gone_is_waited_for(project: Path, shown: Preview) -> None:
    text = (project / PIP).read_text()
    (project / PIP).unlink()
    assert shown.look()
    assert "Not built" in html(shown.answer(OVERVIEW))
    (project / PIP).write_text(text)
    assert shown.look()
    assert "Lowmere Pip" in html(shown.answer(OVERVIEW))


def test_a_warning_stands_above_the_page_and_leads_to_itself(project: Path, shown: Preview) -> None:
    assert "preview/findings.html" not in html(shown.answer(OVERVIEW))
    save(project, "thread_state: anti-seize, source: handbook}", "thread_state: anti-seize}")
    shown.look()
    assert '<a class="more" href="../../preview/findings.html">2 warnings</a>' in html(
        shown.answer(OVERVIEW)
    )
    page = html(shown.answer("preview/findings.html"))
    assert "`30 to 36 lbf·ft` has no source." in page


def test_only_that_profile_is_read(project: Path, shown: Preview) -> None:
    """The others are no profiles at all, and are not missed."""
    for other in (project / "vehicle_profiles").glob("*.yml"):
        if other.name != Path(PIP).name:
            other.write_bytes(b"\x00")
    save(project, "years: 1997 to 2003", "years: 1994 to 2003")
    assert shown.look()
    assert shown.answer(OVERVIEW).status == 200


@pytest.mark.parametrize(
    "path",
    [
        "cautions.html", "guides/another/index.html", "nowhere", "assets/", "assets/nowhere.css",
        "assets/../guide/shell.html", "../vehicle_profiles/lowmere-pip-1-4.yml", "/etc/hostname",
        "guide/shell.html", "assets/\x00.css", "assets/" + "a" * 5000,
    ],
)  # fmt: skip
def test_what_is_not_of_the_vehicle_is_said_to_be_elsewhere(shown: Preview, path: str) -> None:
    answer = shown.answer(path)
    assert answer.status == 404
    assert "not part of the preview" in html(answer)


def test_styles_and_lists_are_there(shown: Preview) -> None:
    assert shown.answer("assets/sondebook.css").kind == "text/css"
    assert "Lowmere" in html(shown.answer("guides/index.html"))
    assert shown.answer("codes/P0135.html").status == 200


@pytest.fixture
def carrow(project: Path, root: Path, renderer: Renderer) -> Preview:
    return Preview(project / "vehicle_profiles" / CARROW, renderer, [root / "overrides"])


def pictures_on(shown: Preview, page: str) -> list[str]:
    """The addresses of all pictures on a page."""
    text = html(shown.answer(page))
    found = re.findall(r'srcset="([^"]+)"|<img src="(photos/[^"]+)"', text)
    told = [name.split()[0] for both in found for part in both if part for name in part.split(", ")]
    return [f"{page.rpartition('/')[0]}/{name}" for name in told]


def test_photos_are_shown(carrow: Preview) -> None:
    paths = pictures_on(carrow, LATCH)
    assert len(paths) >= 3
    for path in paths:
        answer = carrow.answer(path)
        assert (answer.status, answer.kind.partition("/")[0]) == (200, "image"), path
        image = Image.open(BytesIO(answer.content))
        image.load()
        assert path.rpartition(".")[0].endswith(f"-{image.width}")
        assert carrow.answer(path).content == answer.content


def test_a_photo_that_is_saved_is_seen(project: Path, carrow: Preview) -> None:
    before = pictures_on(carrow, LATCH)
    assert not carrow.look()
    photo = project / "vehicle_profiles/photos/carrow-plug-tab.png"
    photo.write_bytes(images.plain("PNG", 640, 480))
    assert carrow.look()
    after = pictures_on(carrow, LATCH)
    assert set(before) != set(after)
    assert all(carrow.answer(path).status == 200 for path in after)
    gone = set(before) - set(after)
    assert gone and all(carrow.answer(path).status == 404 for path in gone)
    photo.unlink()
    assert carrow.look()
    assert "There is no file `photos/carrow-plug-tab.png`" in html(carrow.answer(LATCH))
    photo.write_bytes(images.plain("PNG", 640, 480))
    assert carrow.look()
    assert pictures_on(carrow, LATCH) == after


def test_a_photo_that_comes_into_the_profile_is_watched(project: Path, shown: Preview) -> None:
    path = project / PIP
    photo = project / "vehicle_profiles/photos/new.jpg"
    photo.write_bytes(images.plain("JPEG", 640, 480))
    entry = "{file: photos/new.jpg, at: sensors.bank-1-position-1, caption: A., shows: The hex.}"
    path.write_text(f"{path.read_text()}photos:\n  - {entry}\n")
    assert shown.look()
    page = "guides/lowmere-pip-1-4/bank-1-position-1-access.html"
    before = pictures_on(shown, page)
    assert before and shown.answer(before[0]).status == 200
    assert not shown.look()
    photo.write_bytes(images.plain("JPEG", 320, 240))
    assert shown.look()
    assert pictures_on(shown, page) != before


@pytest.mark.parametrize(
    "name", ["", "carrow-plug-tab.png", "../carrow.html", "0-1-480.webp", "x\x00.webp", ".webp"]
)
def test_no_other_file_is_a_picture(carrow: Preview, name: str) -> None:
    assert carrow.answer(f"{LATCH.rpartition('/')[0]}/photos/{name}").status == 404


def test_a_photo_changed_a_moment_ago_is_not_there_yet(project: Path, carrow: Preview) -> None:
    (path, *_) = pictures_on(carrow, LATCH)
    for photo in (project / "vehicle_profiles/photos").iterdir():
        photo.write_bytes(b"half")
    assert carrow.answer(path).status == 404


@pytest.fixture
def server(project: Path, root: Path, renderer: Renderer) -> Iterator[PreviewServer]:
    serving = preview_server(
        project / PIP, renderer, [root / "overrides"], f"127.0.0.1:{free_port()}"
    )
    told: list[tuple[Finding, ...]] = []
    thread = threading.Thread(target=serving.serve, args=(told.append,), daemon=True)
    thread.start()
    yield serving
    serving.close()
    thread.join(timeout=10)
    assert not thread.is_alive()
    assert told, "the findings were told"


def asked(server: PreviewServer, path: str) -> tuple[int, str, str]:
    host = server.address.removeprefix("http://").rstrip("/")
    connection = HTTPConnection(host, timeout=DEADLINE_S)
    try:
        connection.request("GET", path)
        answer = connection.getresponse()
        return answer.status, answer.headers.get("Location", ""), answer.read().decode()
    finally:
        connection.close()


def test_the_browser_is_told_of_a_save_as_soon_as_it_is_read(
    project: Path, server: PreviewServer
) -> None:
    assert asked(server, "/")[:2] == (302, f"/{OVERVIEW}")
    page = asked(server, f"/{OVERVIEW}")[2]
    (known,) = re.findall(r"reload\.js\?(\d+)", page)
    assert "fetch(" in asked(server, "/preview/reload.js")[2]
    # It waits for the change: asked first, saved afterwards
    threading.Timer(0.5, save, (project, "years: 1997", "years: 1994")).start()
    started = time.monotonic()
    number = asked(server, f"/preview/changed?{known}")[2]
    assert time.monotonic() - started > 0.4
    assert number != known
    assert "1994–" in asked(server, f"/{OVERVIEW}")[2].replace("\u2060", "")


@pytest.mark.parametrize(
    ("folder", "page"),
    [
        ("/", OVERVIEW),
        ("/guides/lowmere-pip-1-4", OVERVIEW),
        ("/guides/lowmere-pip-1-4/?from=mail", OVERVIEW),
        ("/guides/", "guides/index.html"),
        ("/codes", "codes/index.html"),
    ],
)
def test_a_folder_leads_to_its_page(server: PreviewServer, folder: str, page: str) -> None:
    assert asked(server, folder)[:2] == (302, f"/{page}")
    assert asked(server, f"/{page}")[0] == 200


def test_a_folder_leads_to_the_overview_while_that_cannot_be_built(
    project: Path, shown: Preview
) -> None:
    save(project, "  model: Pip", "  modell: Pip")
    shown.look()
    assert shown.index_of("guides/lowmere-pip-1-4/") == OVERVIEW
    assert shown.index_of("guides/") == ""


def test_a_name_beyond_latin_is_led_to(project: Path, root: Path, renderer: Renderer) -> None:
    path = (project / PIP).rename(project / "vehicle_profiles/пип.yml")
    serving = preview_server(path, renderer, [root / "overrides"], f"127.0.0.1:{free_port()}")
    thread = threading.Thread(target=serving.serve, args=(lambda _: None,), daemon=True)
    thread.start()
    status, location, _ = asked(serving, "/")
    assert (status, unquote(location)) == (302, "/guides/пип/index.html")
    assert "is no name for a profile" in asked(serving, location)[2]
    serving.close()
    thread.join(timeout=10)


def test_what_is_elsewhere_leads_to_every_page_there_is(shown: Preview) -> None:
    page = html(shown.answer("guides/lowmere-pip-1-4/bank-1-position-1-tset.html"))
    rows = page.partition('<ul class="rows"')[2].partition("</ul>")[0]
    ways_on = re.findall(r'<a href="\.\./\.\./([^"]+)">', rows)
    assert ways_on[0] == OVERVIEW
    assert len(ways_on) == 10
    assert all(shown.answer(path).status == 200 for path in ways_on)
    assert "<strong>Bank 1, position 1: test</strong>" in " ".join(rows.split())


def test_a_page_of_a_preview_before_is_loaded_again(server: PreviewServer) -> None:
    assert asked(server, "/preview/changed?1")[2].isdecimal()
    assert asked(server, "/preview/changed?nonsense")[2].isdecimal()


def test_the_command_shows_one_profile(project: Path) -> None:
    with preview(project, "sondebook", "serve", PIP) as running:
        running.wait(OVERVIEW, lambda page: "Lowmere Pip" in page)
        save(project, "  model: Pip", "  modell: Pip")
        running.wait(OVERVIEW, lambda page: "is not a key of this part" in page)
        # The terminal tells too
        running.wait(OVERVIEW, lambda page: "[unknown-key]" in running.log())


def test_without_settings_it_is_shown_as_well(project: Path) -> None:
    (project / "mkdocs.yml").unlink()
    with preview(project, "sondebook", "serve", PIP) as running:
        running.wait(OVERVIEW, lambda page: "Lowmere Pip" in page)


def test_what_cannot_be_shown_is_said(project: Path, run: object) -> None:
    assert callable(run)
    missing = run("sondebook", "serve", "nowhere.yml")
    assert (missing.returncode, missing.stderr) == (2, "sondebook: there is no file nowhere.yml.\n")
    wrong = run("sondebook", "serve", PIP, "-a", "nowhere")
    assert wrong.returncode == 2
    assert "no host and port" in wrong.stderr
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        done = run("sondebook", "serve", PIP, "-a", f"127.0.0.1:{port}")
    said = f"127.0.0.1:{port} is in use by another program; add `--address 127.0.0.1:{port + 1}`."
    assert (done.returncode, done.stderr) == (2, f"sondebook: {said}\n")
