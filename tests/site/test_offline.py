"""The lists by which a phone keeps a vehicle: complete, true, and the same for the same sources."""

from __future__ import annotations

import hashlib
import json
import subprocess
from collections.abc import Callable, Iterator
from gettext import NullTranslations
from pathlib import Path
from posixpath import dirname, join, normpath
from typing import Any

import html5lib
import pytest

from generator.guide.page import Frame, Page
from generator.site.offline import AssetFolder, KeptList, build_day, kept_page, loaded_by

PIP = "lowmere-pip-1-4"
LOADED = {"script": "src", "img": "src", "source": "src", "link": "href", "image": "href"}


@pytest.fixture(scope="module")
def lists(site: Path) -> dict[str, dict[str, Any]]:
    found = {path.stem: json.loads(path.read_text()) for path in (site / "offline").iterdir()}
    assert len(found) > 3
    return found


def loaded(page: Path, site: Path) -> Iterator[str]:
    """What a page loads, by a general parser."""
    tree = html5lib.parse(page.read_bytes(), namespaceHTMLElements=False)
    here = page.relative_to(site).as_posix()
    for element in tree.iter():
        name = element.tag.rpartition("}")[2] if isinstance(element.tag, str) else ""
        address = element.get(LOADED.get(name, ""), "")
        if address and element.get("rel") not in ("canonical", "alternate"):
            yield normpath(join(dirname(here), address))
        for candidate in filter(None, element.get("srcset", "").split(", ")):
            yield normpath(join(dirname(here), candidate.split(" ")[0]))


def test_every_vehicle_has_a_list_of_its_pages_and_of_all_they_load(
    site: Path, lists: dict[str, dict[str, Any]]
) -> None:
    assert set(lists) == {path.name for path in (site / "guides").iterdir() if path.is_dir()}
    for slug, told in lists.items():
        pages = sorted((site / "guides" / slug).glob("*.html"))
        wanted = {page.relative_to(site).as_posix() for page in pages}
        for page in pages:
            wanted.update(loaded(page, site))
        assert {path for path, _, _ in told["files"]} == wanted, slug


def test_the_hashes_and_sizes_are_those_of_the_files(
    site: Path, lists: dict[str, dict[str, Any]]
) -> None:
    for told in lists.values():
        for path, expected, size in told["files"]:
            content = (site / path).read_bytes()
            assert (hashlib.sha256(content).hexdigest(), len(content)) == (expected, size), path
        assert told["bytes"] == sum(size for _, _, size in told["files"])


def test_the_worker_knows_all_that_the_page_of_what_is_kept_loads(site: Path) -> None:
    first, _, rest = (site / "sw.js").read_text().partition("\n")
    shell = json.loads(first.removeprefix("self.sondebookShell = ").removesuffix(";"))
    named = {path: digest for path, digest, _ in shell["files"]}
    assert set(named) == {"kept.html", *loaded(site / "kept.html", site)}
    for path, digest in named.items():
        assert hashlib.sha256((site / path).read_bytes()).hexdigest() == digest
    assert "addEventListener" in rest


def test_the_manifest_is_relative_and_its_icons_are_there(site: Path) -> None:
    told = json.loads((site / "manifest.webmanifest").read_text())
    assert (told["start_url"], told["scope"]) == ("./kept.html", "./")
    assert {icon["purpose"] for icon in told["icons"]} == {"any", "maskable"}
    for icon in told["icons"]:
        assert (site / icon["src"]).is_file(), icon


def folder_of(tmp_path: Path, **files: str) -> AssetFolder:
    for name, text in files.items():
        (tmp_path / name.replace("_", ".")).write_text(text)
    return AssetFolder((tmp_path,))


def page_at(path: str) -> Page:
    return Page(path, "none.html", Frame("A vehicle", "", ()), None)


def version(assets: AssetFolder, html: str) -> str:
    needs = KeptList("a", assets)
    needs.add(page_at("guides/a/index.html"), html.encode())
    return str(json.loads(needs.text("2026-03-08"))["version"])


def test_a_version_changes_with_a_page_with_a_style_and_with_nothing_else(tmp_path: Path) -> None:
    html = '<link rel="stylesheet" href="../../a.css">'
    one = version(folder_of(tmp_path, a_css="p {}"), html)
    assert version(folder_of(tmp_path, a_css="p {}", b_css="x"), html) == one
    assert version(folder_of(tmp_path, a_css="p {}"), html + " ") != one
    assert version(folder_of(tmp_path, a_css="q {}"), html) != one


def test_what_a_style_sheet_loads_is_kept_too(tmp_path: Path) -> None:
    assets = folder_of(tmp_path, a_css='p { background: url("b.svg") }', b_svg="<svg/>")
    needs = KeptList("a", assets)
    html = '<link rel="stylesheet" href="../../a.css">'
    needs.add(page_at("guides/a/index.html"), html.encode())
    named = [path for path, _, _ in json.loads(needs.text(""))["files"]]
    assert named == ["a.css", "b.svg", "guides/a/index.html"]


def test_a_photo_is_found_and_drawn_data_is_not() -> None:
    html = '<img alt="" src="photos/plug.jpg"><img src="data:image/png;base64,AA">'
    html += '<script src="../x.js"></script>'
    assert loaded_by("guides/a/index.html", html.encode()) == [
        "guides/a/photos/plug.jpg",
        "guides/x.js",
    ]


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError, match=r"nowhere\.js"):
        version(AssetFolder((tmp_path,)), '<script src="../../nowhere.js"></script>')


def test_the_day_is_given_and_not_read_from_a_clock(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1772928000")
    assert build_day(tmp_path) == "2026-03-08"
    monkeypatch.delenv("SOURCE_DATE_EPOCH")
    assert build_day(tmp_path) == "", "no repository, no day"
    git = ["git", "-c", "user.name=A", "-c", "user.email=a@club.example", "-C", str(tmp_path)]
    (tmp_path / "a").write_text("a")
    for command in (["init", "-q"], ["add", "a"], ["commit", "-qm", "a"]):
        subprocess.run(
            [*git, *command], check=True, env={"GIT_COMMITTER_DATE": "2024-02-29T12:00:00Z"}
        )
    assert build_day(tmp_path) == "2024-02-29"


def test_the_sentences_of_the_script_all_stand_in_the_page(
    html: Callable[[Page], str], root: Path
) -> None:
    script = (root / "overrides/assets/keep.js").read_text()
    tree = html5lib.parse(html(kept_page(NullTranslations())), namespaceHTMLElements=False)
    (panel,) = (each for each in tree.iter("section") if each.get("id") == "keeping")
    told = {
        name.removeprefix("data-").replace("-u", "U") for name in panel.attrib if "data-" in name
    }
    assert told >= {"kept", "keptUndated", "full", "broken", "insecure"}
    for name in told - {"root"}:
        assert f'"{name}"' in script, f"the script never says {name}"
