"""Pages to HTML: Jinja2 templates, autoescaped, with every fixed sentence through gettext."""

from __future__ import annotations

import re
from ast import literal_eval
from collections.abc import Sequence
from functools import lru_cache
from gettext import NullTranslations
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, nodes
from jinja2.compiler import CodeGenerator, Frame
from jinja2.ext import Extension
from markupsafe import Markup, _escape_inner, escape  # type: ignore[attr-defined]

from generator.guide.page import Page
from generator.site.lean import head_script
from generator.site.policy import policy

_FIXED_BLOCK = re.compile(r"\{% trans %\}([^{}]*)\{% endtrans %\}")
_LINE_BREAK = re.compile(r"\s*\n\s*")
_FIXED_TEXT = re.compile(r"\b_\(('(?:[^'\\]|\\.)*')\)")


class Renderer:
    """Renders pages in one language, with the first template that a list of folders holds."""

    def __init__(
        self,
        templates: Sequence[Path],
        site_name: str,
        language: str,
        translations: NullTranslations,
        **site: str,
    ) -> None:
        """Ready to render.

        Of the site, ``address`` may be told, which ends in a slash, ``feed``, the file of its
        feed, and ``report_uri``, where a wrong value is reported.
        """
        self._environment = _Environment(
            loader=FileSystemLoader(templates),
            autoescape=True,
            # One renderer serves one build, which sees one state of the templates
            auto_reload=False,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            extensions=["jinja2.ext.i18n", _FixedSentences],
        )
        self._environment.policies["ext.i18n.trimmed"] = True
        self._environment.install_gettext_translations(  # type: ignore[attr-defined]
            translations, newstyle=True
        )
        self._environment.extend(translations=translations)
        self.translations = translations
        script = head_script(templates)
        self._environment.globals.update(
            site_name=site_name,
            lang=language,
            policy=Markup(policy((script,))),
            head_script=Markup(script),
            **({"address": "", "feed": "", "report_uri": ""} | site),
        )
        # The same on every page, so made once
        link = (
            self._environment.get_template("guide/report_link.html")
            if site.get("report_uri")
            else None
        )
        self._environment.globals["report_link"] = Markup(link.render().strip()) if link else ""
        # What stands on many pages of a vehicle is made into HTML once; only values that compare
        # by identity may be asked for, so that looking one up costs nothing
        self._environment.globals["once"] = lru_cache(maxsize=64)(lambda macro, value: macro(value))

    def html(self, page: Page) -> str:
        """The complete HTML of a page.

        Raises:
            jinja2.TemplateError: a template is missing, broken or asks for what no page has.
        """
        template = self._environment.get_template(page.template)
        return template.render(
            root=page.root, path=page.path, page=page.frame, view=page.view, stages=page.stages
        )


def _escaped(value: object) -> str:
    """A value as HTML: text escaped, what is HTML already left as it is."""
    return _escape_inner(value) if type(value) is str else escape(value)


class _CodeGenerator(CodeGenerator):
    """Escapes plain text without wrapping it first: a fifth of the time a page takes."""

    def _output_child_pre(self, node: nodes.Expr, frame: Frame, finalize: Any) -> None:
        context = frame.eval_ctx
        if context.autoescape and not context.volatile and finalize.src is None:
            self.write("environment.escaped(")
        else:
            super()._output_child_pre(node, frame, finalize)


class _Environment(Environment):
    code_generator_class = _CodeGenerator
    escaped = staticmethod(_escaped)


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
        # Trimmed as the i18n extension trims the blocks that it reads itself
        return translations.gettext(_LINE_BREAK.sub(" ", sentence.strip())) % {}
