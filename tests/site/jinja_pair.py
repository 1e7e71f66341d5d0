"""Plain Jinja2 and ours side by side, and values to render with them."""

from __future__ import annotations

from dataclasses import dataclass, field
from gettext import NullTranslations
from typing import Any

from jinja2 import DictLoader, Environment, StrictUndefined
from markupsafe import Markup

from generator.site.templates import DirectEnvironment


class Translated(NullTranslations):
    """Sentences in a made-up language: between guillemets, with more of a plural."""

    def gettext(self, message: str) -> str:
        return f"«{message}»"

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return f"«{msgid1 if n == 1 else msgid2}»"

    def pgettext(self, context: str, message: str) -> str:
        return f"«{context}|{message}»"


BOLD = Markup("<b>bold</b>")


@dataclass
class Part:
    """A view to read from."""

    text: str = "a < b & \"c\" 'd'"
    number: int = 3
    share: float = 0.25
    markup: Markup = BOLD
    none: None = None
    several: list[str] = field(default_factory=lambda: ["x", "<y>", "z"])
    named: dict[str, str] = field(default_factory=lambda: {"key": "<v>", "a-b": "w"})
    rows: list[tuple[str, int]] = field(default_factory=lambda: [("<one>", 1), ("two", 2)])

    def doubled(self, text: str, times: int = 2) -> str:
        return text * times

    @property
    def inner(self) -> Part:
        return Part(text="inner")


class OwnHtml:
    """Knows itself as HTML."""

    def __html__(self) -> str:
        return "<i>own</i>"

    def __str__(self) -> str:
        raise AssertionError("its HTML was wanted")


class SubText(str):
    """Text of another type than str."""


class SubMarkup(Markup):
    """Markup of another type than Markup."""


OPTIONS: dict[str, Any] = {
    "autoescape": True,
    "undefined": StrictUndefined,
    "trim_blocks": True,
    "lstrip_blocks": True,
    "extensions": ["jinja2.ext.i18n"],
}


def environments(
    templates: dict[str, str], t: NullTranslations
) -> tuple[Environment, DirectEnvironment]:
    """Plain Jinja2 and ours, with the same options and templates."""
    both = (
        Environment(loader=DictLoader(templates), **OPTIONS),
        DirectEnvironment(loader=DictLoader(templates), **OPTIONS),
    )
    for each in both:
        each.policies["ext.i18n.trimmed"] = True
        each.install_gettext_translations(t, newstyle=True)  # type: ignore[attr-defined]
        each.extend(translations=t)
    return both


def rendered(
    templates: dict[str, str] | str, t: NullTranslations | None = None, **values: Any
) -> tuple[str, str]:
    """What plain Jinja2 makes of a template, and what ours does."""
    if isinstance(templates, str):
        templates = {"page": templates}
    plain, ours = environments(templates, t or Translated())
    return plain.get_template("page").render(values), ours.get_template("page").render(values)


def values() -> dict[str, Any]:
    return {
        "part": Part(),
        "own": OwnHtml(),
        "sub": SubText("<sub>"),
        "sub_markup": SubMarkup("<u>u</u>"),
    }
