"""Hostile profiles, built into one site: nothing of them runs, and nothing is written elsewhere."""

from __future__ import annotations

import json
import re
import shutil
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from gettext import NullTranslations
from hashlib import sha256
from pathlib import Path

import bbcode
import html5lib
import pytest
from markdown_it import MarkdownIt
from playwright.sync_api import Browser, Dialog, Page

from generator.guide.vehicle import Vehicle
from generator.profile import read_text
from generator.site.feed import Change, feed_text
from generator.site.forum_markup import MARKUPS
from generator.site.forum_post import vehicle_posts
from generator.site.project import build_site
from tests.browser.opened import a_phone
from tests.hostile.corpus import TEXTS, lay_shown, shown

WATCH = """
  window.broken = [];
  document.addEventListener("securitypolicyviolation", event => {
    window.broken.push(event.violatedDirective + " " + event.blockedURI);
  });
"""
NOW = """() => [
  window.broken, typeof window.pwned, typeof ({}).polluted,
  document.querySelectorAll("blink, iframe, object, embed, base, marquee, math, mglyph").length,
  [...document.querySelectorAll("*")].filter(
    each => [...each.attributes].some(one => one.name.startsWith("on"))).length,
  [...document.querySelectorAll("a[href], form[action]")].filter(
    each => /^(javascript|data|vbscript):/i.test(each.href || each.action)).length,
]"""
INERT = [[], "undefined", "undefined", 0, 0, 0]


def tree_of(folder: Path, without: Path) -> dict[str, str]:
    """Every file below a folder with its content, apart from one folder."""
    return {
        path.relative_to(folder).as_posix(): sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and not path.is_relative_to(without)
    }


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory, root: Path) -> Iterator[Path]:
    """A site of every hostile profile that is accepted; what lies around it stays as it was."""
    outer = tmp_path_factory.mktemp("outer")
    project = outer / "project"
    laid = lay_shown(project / "vehicle_profiles")
    shutil.copytree(root / "docs", project / "docs")
    shutil.copy(root / "mkdocs.yml", project)
    site = project / "site"
    before = tree_of(outer, site)
    build_site(str(project / "mkdocs.yml"), str(site))
    assert tree_of(outer, site) == before
    assert sorted(path.name for path in (site / "guides").iterdir() if path.is_dir()) == [
        *sorted(path.stem for path in laid)
    ]
    yield site


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = a_phone(browser)
    made = context.new_page()
    made.add_init_script(WATCH)
    yield made
    context.close()


WHOLE = ("script-end", "double-quote")
"""Texts whose guides are opened page by page; of the others a few pages each are."""


def pages_to_open(site: Path) -> list[Path]:
    """Every page of some guides; of each other one the overview, the pocket copy and a third.

    The third is another one in each guide, so that every kind of page is opened with many texts.
    """
    found = [site / "index.html", site / "kept.html", site / "codes/P0135.html"]
    for number, (name, _) in enumerate(shown()):
        guide = sorted((site / "guides" / name).rglob("*.html"))
        found.append(site / f"pocket/{name}.html")
        if name in WHOLE:
            found += guide
        elif name in TEXTS:
            found += {site / f"guides/{name}/index.html", guide[number % len(guide)]}
    return found


def test_every_kind_of_page_is_opened(hostile: Path) -> None:
    opened: dict[str, int] = {}
    for path in pages_to_open(hostile):
        opened[path.name] = opened.get(path.name, 0) + 1
    every = sorted(path.name for path in (hostile / "guides/script").rglob("*.html"))
    assert len(every) > 7
    assert min(opened[name] for name in every) > len(WHOLE)


@pytest.mark.browser
def test_nothing_runs_on_any_page(hostile: Path, page: Page) -> None:
    told: list[str] = []
    asked: set[str] = set()

    def dialog(each: Dialog) -> None:
        told.append(f"dialog: {each.message}")
        each.dismiss()

    page.on("dialog", dialog)
    page.on("pageerror", lambda error: told.append(f"error: {error}"))
    page.on("console", lambda said: told.append(said.text) if said.type == "error" else None)
    page.on("request", lambda request: asked.add(request.url))
    for path in pages_to_open(hostile):
        page.goto(path.as_uri(), wait_until="domcontentloaded")
        assert page.evaluate(NOW) == INERT, path
        assert told == [], path
    own = f"{hostile.as_uri()}/"
    assert [url for url in asked if not url.startswith((own, "data:", "blob:"))] == []


@pytest.mark.browser
def test_what_was_let_through_would_be_seen(hostile: Path, page: Page) -> None:
    """The look at a page finds what it looks for, though the policy stops it."""
    source = (hostile / "guides/script/index.html").read_text("utf-8")
    planted = "<script>window.pwned=1</script><img src=x onerror=window.pwned=1><base href=/>"
    spoiled = hostile / "guides/script/spoiled.html"
    spoiled.write_text(source.replace("</main>", f"{planted}</main>"), "utf-8")
    try:
        page.goto(spoiled.as_uri())
        violations, pwned, _, elements, handlers, _ = page.evaluate(NOW)
    finally:
        spoiled.unlink()
    assert violations
    assert (pwned, elements, handlers) == ("undefined", 1, 1)


@pytest.mark.browser
def test_nothing_runs_when_the_pages_are_used(hostile: Path, page: Page) -> None:
    told: list[str] = []
    page.on("dialog", lambda each: (told.append(each.message), each.dismiss()))
    page.on("pageerror", lambda error: told.append(str(error)))
    page.goto((hostile / "index.html").as_uri())
    for typed in ("<", "script", "window", '"', "{{", "P0135"):
        page.fill("#finder input >> nth=0", typed)
        assert page.evaluate(NOW) == INERT, typed
    for name in ("script", "double-quote", "image-error", "prototype", "mutation"):
        guide = hostile / f"guides/{name}"
        page.goto((guide / "index.html").as_uri())
        for box in page.locator("#plan input[type=checkbox]").all():
            box.check()
        assert page.evaluate(NOW) == INERT, name
        page.goto((guide / "bank-1-position-1-bench.html").as_uri())
        assert page.evaluate(NOW) == INERT, name
        page.goto((hostile / f"pocket/{name}.html").as_uri() + "#bench-1-1")
        page.wait_for_selector("#bench-1-1 form")
        assert page.evaluate(NOW) == INERT, name
    assert told == []


def test_the_data_is_data(hostile: Path) -> None:
    for name, _ in shown():
        data = json.loads((hostile / f"data/v1/{name}.json").read_text("utf-8"))
        assert data["vehicle"]["slug"] == name
        kept = json.loads((hostile / f"offline/{name}.json").read_text("utf-8"))
        for file, *_ in kept["files"]:
            assert (hostile / file).resolve().is_relative_to(hostile.resolve())
    ET.parse(hostile / "sitemap.xml")


@pytest.fixture(scope="module")
def vehicles() -> list[Vehicle]:
    read = [read_text(content, f"{name}.yml", name) for name, content in shown()]
    return [Vehicle(file.slug, file.profile, NullTranslations()) for file in read if file.profile]


def test_the_feed_stays_a_feed(vehicles: list[Vehicle]) -> None:
    found = [
        Change(each.slug, f"{number:040x}", 1_700_000_000 + number, each.name, number % 2 == 0)
        for number, each in enumerate(vehicles)
    ]
    text = feed_text(found, vehicles, "https://sondebook.example/", "<b>", NullTranslations())
    tree = ET.fromstring(text)
    for each in tree.iter():
        name = each.tag.rpartition("}")[2]
        assert name not in ("script", "img", "iframe")
        if name == "link":
            assert each.get("href", "").startswith("https://sondebook.example/")
        if each.get("type") == "html":
            inside = html5lib.parseFragment(each.text or "", namespaceHTMLElements=False)
            tags = {part.tag for part in inside.iter() if isinstance(part.tag, str)}
            assert not tags & {"script", "img", "iframe", "svg", "form", "base", "link", "style"}


@pytest.mark.parametrize("form", sorted(MARKUPS))
def test_posts_hold_no_markup_but_ours(form: str, vehicles: list[Vehicle]) -> None:
    for vehicle in vehicles:
        whole = "\n".join(vehicle_posts(vehicle, [], form, None, "https://sondebook.example/"))
        if form == "bbcode":
            html = bbcode.render_html(whole)
        elif form == "markdown":
            html = MarkdownIt("commonmark", {"html": True}).enable("table").render(whole)
        else:
            assert not re.search(r"[\x00-\x08\x0b-\x1f\x7f]", whole)
            continue
        tree = html5lib.parse(html, namespaceHTMLElements=False)
        for each in tree.iter():
            if not isinstance(each.tag, str):
                continue
            assert each.tag not in ("script", "img", "iframe", "svg", "form", "base", "style")
            assert not [name for name in each.attrib if name.startswith("on")]
            if each.tag == "a":
                assert each.get("href").startswith("https://sondebook.example/"), vehicle.slug
