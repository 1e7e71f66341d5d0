"""The pocket copy: everything about one vehicle in one file, to send, save and open by itself.

It is made from the views of the vehicle's pages, through a leaner template, so it says what they
say. What the pages of several sensors have in common stands in it once.
"""

from __future__ import annotations

import re
from base64 import b64encode
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from gettext import NullTranslations
from hashlib import sha256
from typing import Any

from generator.guide import figures
from generator.guide.page import Page
from generator.guide.photo_view import FOLDER, picture_path
from generator.guide.vehicle import page_path, pocket_path
from generator.site.edition import Edition
from generator.site.lean import lean_html, lean_script, lean_style, with_short_properties
from generator.site.lean_drawings import lean_drawings
from generator.site.offline import AssetFolder
from generator.site.photos import data_address
from generator.site.renderer import Renderer
from generator.site.said_once import Shared, words_said_once

TEMPLATE = "guide/pocket.html"
MOST_PHOTO_BYTES = 90_000
"""What the photos of one copy may weigh as they stand in it, a third more than their files."""

STYLES = (
    "assets/sondebook.css",
    "assets/guide.css",
    "assets/bench.css",
    "assets/pocket.css",
)
SCRIPTS = ("assets/verdict.js", "assets/bench.js", "assets/pocket.js")
_TEMPLATES = (
    "pocket.html",
    "pocket_parts.html",
    "pocket_sensor.html",
    "bench_parts.html",
    "axes.svg.html",
    "connector_face.svg.html",
    "signal.svg.html",
    "bay_map.svg.html",
    "exhaust_map.svg.html",
    "adapter.svg.html",
)
_SENSOR_PAGE = re.compile(r"bank-(\d+)-position-(\d+)-(\w+)\.html$")
_LINK = re.compile(r'href="(?:(index|codes)|bank-(\d+)-position-(\d+)-(\w+))\.html(?:#([^"]+))?"')
_CHOICE = re.compile(
    r'<span class="any-\w+">([^<]*)</span>(?:<span class="[\w-]+" hidden>[^<]*</span>)+'
)
_BLANK = re.compile(r"\n\s+")
_STYLED = re.compile(r'\b(?:class|id)="?([\w -]+)')
# Names that come from a view, or from a script
_STYLED_LATER = {
    "signal",
    "word",
    "danger",
    "warning",
    "caution",
    "notice",
    "n0",
    "n1",
    "n2",
    "n3",
    "told",
    "narrow",
}
_PHOTO = re.compile(rf'<img src="{FOLDER}/([0-9a-z-]+\.(\w+))"([^>]*)alt="([^"]*)">')
_SHEET = re.compile(r"<template data-sheet>(.*?)</template>", re.DOTALL)


@dataclass(frozen=True, slots=True)
class PocketSensor:
    """One sensor with the views of its pages; `key` is bank and position, as ``1-2``."""

    key: str
    title: str
    located: str
    access: Any
    test: Any
    refit: Any
    bench: Any


@dataclass(frozen=True, slots=True)
class PocketView:
    """What the pocket copy is made from."""

    slug: str
    overview: Any
    codes: Any
    sensors: list[PocketSensor]
    built: str
    newest: str
    policy: str
    shared: Shared


def pocket_maker(
    assets: AssetFolder, edition: Edition, renderer: Renderer, t: NullTranslations
) -> PocketMaker:
    """What makes the pocket copies of a build, in the words of its language."""
    return PocketMaker(
        assets,
        edition,
        renderer.html,
        _style(assets),
        _script(assets),
        same_words=t.gettext("As above"),
        built=figures.day(date.fromisoformat(edition.built), t) if edition.built else "",
    )


def _style(assets: AssetFolder) -> str:
    sources = [assets.content(f"guide/{name}").decode() for name in _TEMPLATES]
    names = set(" ".join(_STYLED.findall(" ".join(sources))).split()) | _STYLED_LATER
    style = "".join(lean_style(assets.content(path).decode(), names) for path in STYLES)
    # Here a panel of caution is told by its role, and its word by being the first paragraph
    style = style.replace(".signal", "[role=note]").replace(".word", "p:first-child")
    return with_short_properties(style)


def _script(assets: AssetFolder) -> str:
    verdict, bench, pocket = (assets.content(path).decode() for path in SCRIPTS)
    # The sheet's script runs once on its page, and here whenever a sheet is opened
    bench = f"window.sondebookBench=function(){{\n{bench}\n}}"
    # What is lean already may lack the semicolon after its last statement
    return lean_script(";\n".join([verdict, bench, pocket]))


@dataclass(frozen=True)
class PocketMaker:
    """Makes the pocket copies of one build, each with its style and its script."""

    assets: AssetFolder
    edition: Edition
    render: Callable[[Page], str]
    style: str
    script: str
    same_words: str
    built: str

    def html(self, pages: Sequence[Page]) -> str:
        """The pocket copy of the vehicle whose pages these are, its overview first."""
        text = _BLANK.sub("\n", self.render(self._page(pages)).strip())
        text = _CHOICE.sub(r"\1", _LINK.sub(_within, text))
        head, body = self._with_photos(text, pages[0].frame.slug).split("<main", 1)
        head = head.replace("<style></style>", f"<style>{self.style}</style>", 1)
        text = f"{head}<main{_with_sheets(lean_html(lean_drawings(body)))}"
        before, _, after = text.rpartition("<script></script>")
        return f"{before}<script>{self.script}</script>{after}\n"

    def _page(self, pages: Sequence[Page]) -> Page:
        frame, slug = pages[0].frame, pages[0].frame.slug
        by_stage = {page.path.rpartition("/")[2]: page for page in pages}
        newest = self.edition.address and f"{self.edition.address}{page_path(slug)}"
        view = PocketView(
            slug=slug,
            overview=pages[0].view,
            codes=by_stage["codes.html"].view,
            sensors=_sensors(by_stage),
            built=self.built,
            newest=newest,
            policy=self._policy,
            shared=Shared(self.same_words),
        )
        return Page(pocket_path(slug), TEMPLATE, replace(frame, breadcrumbs=()), view)

    def _with_photos(self, text: str, slug: str) -> str:
        """The copy with its photos in it, each once, as long as it stays light.

        Of the rest, what they show is said in words.
        """
        left = MOST_PHOTO_BYTES
        known: dict[str, str] = {}

        def put_in(found: re.Match[str]) -> str:
            nonlocal left
            name, kind, size, shows = found.groups()
            if name in known:
                return f'<a href="#{known[name]}">{self.same_words}</a>'
            address = data_address(self.assets.content(picture_path(slug, name)), kind)
            if len(address) > left:
                return f"<p>{shows}"
            left -= len(address)
            known[name] = f"photo-{len(known) + 1}"
            return f'<img id="{known[name]}" src="{address}"{size}alt="{shows}">'

        return _PHOTO.sub(put_in, text)

    @cached_property
    def _policy(self) -> str:
        """Only the style and the script that stand in the file, and nothing from anywhere."""
        return (
            f"default-src 'none'; img-src data:; style-src {_hash(self.style)}; "
            f"script-src {_hash(self.script)}; base-uri 'none'; form-action 'none'"
        )


def _hash(text: str) -> str:
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"


def _sensors(by_file: dict[str, Page]) -> list[PocketSensor]:
    views: dict[str, dict[str, Page]] = {}
    for name, page in by_file.items():
        if found := _SENSOR_PAGE.match(name):
            views.setdefault(f"{found[1]}-{found[2]}", {})[found[3]] = page
    return [
        PocketSensor(
            key,
            stages["access"].frame.title.rpartition(":")[0],
            stages["access"].frame.description,
            **{stage: stages[stage].view for stage in ("access", "test", "refit", "bench")},
        )
        for key, stages in views.items()
    ]


def _within(found: re.Match[str]) -> str:
    """A link to another page of the vehicle as a link to its section."""
    whole, bank, position, stage, anchor = found.groups()
    if whole == "codes" and anchor:
        return f'href="#{anchor}"'
    part = f"{stage}-{bank}-{position}" if stage else {"index": "overview"}.get(whole, whole)
    return f'href="#{part}-{anchor}"' if anchor else f'href="#{part}"'


def _with_sheets(html: str) -> str:
    """The copy with the words of all bench sheets once, and in each section which of them it has.

    A sheet needs the script anyhow, which puts it together when it is opened.
    """
    words, places = words_said_once(_SHEET.findall(html))
    left = iter(places)
    html = _SHEET.sub(lambda _: f'<div data-sheet="{next(left)}"></div>', html)
    words = words.replace("&", "&amp;").replace("'", "&#39;")
    return html.replace("<template id=sheets>", f"<template id=sheets data-sheets='{words}'>", 1)
