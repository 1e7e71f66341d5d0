"""Pages to HTML: Jinja2 templates, autoescaped, with every fixed sentence through gettext."""

from __future__ import annotations

import re
from ast import literal_eval
from collections.abc import Sequence
from gettext import NullTranslations
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from jinja2.ext import Extension

from generator.guide.page import Page

_FIXED_BLOCK = re.compile(r"\{% trans %\}([^{}]*)\{% endtrans %\}")
_FIXED_TEXT = re.compile(r"\b_\(('(?:[^'\\]|\\.)*')\)")


class Renderer:
    """Renders pages in one language, with the first template that a list of folders holds."""

    def __init__(
        self,
        templates: Sequence[Path],
        site_name: str,
        language: str,
        translations: NullTranslations,
    ) -> None:
        self._environment = Environment(
            loader=FileSystemLoader(templates),
            autoescape=True,
            # One renderer serves one build, which sees one state of the templates
            auto_reload=False,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            extensions=["jinja2.ext.i18n", _FixedSentences],
        )
        self._environment.install_gettext_translations(  # type: ignore[attr-defined]
            translations, newstyle=True
        )
        self._environment.extend(translations=translations)
        self._environment.globals.update(site_name=site_name, lang=language)

    def html(self, page: Page) -> str:
        """The complete HTML of a page.

        Raises:
            jinja2.TemplateError: a template is missing, broken or asks for what no page has.
        """
        template = self._environment.get_template(page.template)
        return template.render(root=page.root, page=page.frame, view=page.view, stages=page.stages)


class _FixedSentences(Extension):
    """Translates sentences without values when a template is read, not on every page.

    An environment speaks one language, so ``{% trans %}Fuses{% endtrans %}`` and ``_('Fuses')``
    have one answer, and asking for it on each page is a third of the time a page takes.
    """

    def preprocess(self, source: str, name: str | None, filename: str | None = None) -> str:
        """The template's source with its fixed sentences in the environment's language."""
        # The i18n extension doubles the percent signs of a block, to format it afterwards
        source = _FIXED_BLOCK.sub(lambda found: self._said(found[1].replace("%", "%%")), source)
        return _FIXED_TEXT.sub(lambda found: repr(self._said(literal_eval(found[1]))), source)

    def _said(self, sentence: str) -> str:
        translations: NullTranslations = self.environment.translations  # type: ignore[attr-defined]
        return translations.gettext(sentence) % {}
