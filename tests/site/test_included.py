"""Templates that include others say what they say by plain Jinja2, and are compiled once."""

from __future__ import annotations

from gettext import NullTranslations
from pathlib import Path
from typing import Any

import pytest
from jinja2 import DictLoader, Environment, nodes

from generator.guide.page import Frame, Page
from generator.site.language import translations
from generator.site.renderer import Renderer
from generator.site.templates import DirectEnvironment
from generator.site.theme import theme_folder
from tests.site.jinja_pair import OPTIONS

PAGE = Page("guides/pip/page.html", "page.html", Frame("A & B", "", ()), None)
TEMPLATES = {
    "page.html": '<p>\n{% include "inner.html" %}\n{{ page.title }}</p>\n'
    '{% include "inner.html" %}end\n',
    "inner.html": '{# Why #}\n<b>{{ root }}</b>\n{% if root %}\n{% include "innermost.html" %}\n'
    "{% endif %}\n",
    "innermost.html": "<i>{% trans %}Fuses{% endtrans %}, {{ page.title }}</i>\n",
}


def html(folder: Path, templates: dict[str, str]) -> str:
    for name, source in templates.items():
        (folder / name).write_text(source)
    return Renderer((folder, theme_folder()), "Site", "en", NullTranslations()).html(PAGE)


def test_included_templates_say_the_same_as_by_plain_jinja(tmp_path: Path) -> None:
    plain = Environment(loader=DictLoader(TEMPLATES), **OPTIONS)
    plain.install_gettext_translations(NullTranslations(), newstyle=True)  # type: ignore[attr-defined]
    expected = plain.get_template("page.html").render(root=PAGE.root, page=PAGE.frame)
    assert "<b>../../</b>" in expected
    assert html(tmp_path, TEMPLATES) == expected


def test_what_was_compiled_serves_again_until_it_is_changed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    compiled = []
    generate = DirectEnvironment.code_generator_class.visit_Template

    def counted(self: Any, node: nodes.Template, frame: Any = None) -> None:
        compiled.append(self.name)
        generate(self, node, frame)

    monkeypatch.setattr(DirectEnvironment.code_generator_class, "visit_Template", counted)
    first = html(tmp_path, TEMPLATES)
    assert "page.html" in compiled
    compiled.clear()
    assert html(tmp_path, TEMPLATES) == first
    assert compiled == []
    changed = TEMPLATES | {"innermost.html": "<i>changed</i>\n"}
    assert html(tmp_path, changed) == first.replace("<i>Fuses, A &amp; B</i>", "<i>changed</i>")
    assert compiled == ["innermost.html"]


def test_each_language_has_its_own(tmp_path: Path) -> None:
    assert "<i>Fuses, " in html(tmp_path, TEMPLATES)
    german = Renderer((tmp_path, theme_folder()), "Site", "de", translations("de"))
    assert "<i>Sicherungen, " in german.html(PAGE)
    assert "<i>Fuses, " in html(tmp_path, TEMPLATES)
