"""Pages to HTML: Jinja2 templates, autoescaped, with every fixed sentence through gettext."""

from __future__ import annotations

import re
from ast import literal_eval
from collections.abc import Callable, Sequence
from gettext import NullTranslations
from pathlib import Path

from jinja2 import FileSystemLoader, StrictUndefined, UndefinedError
from jinja2.ext import Extension
from markupsafe import Markup

from generator.guide.page import Page
from generator.site.language import SiteInLanguage
from generator.site.lean import first_style, head_script
from generator.site.policy import policy
from generator.site.templates import DirectEnvironment

_INDENT = re.compile(r"(?m)^[ \t]+")
_FIXED_BLOCK = re.compile(r"\{% trans %\}((?:(?!\{[{%#]).)*)\{% endtrans %\}", re.DOTALL)
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
        also_in: Sequence[SiteInLanguage] = (),
        **site: str,
    ) -> None:
        """Ready to render; one renderer serves one build, which sees one state of the templates.

        ``also_in`` are the sites with the same guides in other languages.
        Of the site, ``address`` may be told, which ends in a slash, ``feed``, the file of its
        feed, and ``report_uri``, where a wrong value is reported.
        """
        self._environment = DirectEnvironment(
            loader=FileSystemLoader(templates),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            extensions=["jinja2.ext.i18n", _Prepared],
        )
        self._environment.policies["ext.i18n.trimmed"] = True
        self._environment.install_gettext_translations(  # type: ignore[attr-defined]
            translations, newstyle=True
        )
        self._environment.extend(translations=translations)
        self.translations = translations
        script, style = head_script(templates), first_style(templates)
        self._environment.globals.update(
            site_name=site_name,
            lang=language,
            policy=Markup(policy((script,), (style,))),
            head_script=Markup(script),
            first_style=Markup(style),
            also_in=also_in,
            **({"address": "", "feed": "", "report_uri": ""} | site),
        )
        self._environment.globals["once"] = Once()
        # The same on every page, so made once; empty without an address to report to
        link = self._environment.get_template("guide/report_link.html").render()
        self._environment.globals["report_link"] = Markup(link.strip())

    def html(self, page: Page) -> str:
        """The complete HTML of a page.

        Raises:
            jinja2.TemplateError: a template is missing, broken or asks for what no page has.
        """
        template = self._environment.get_template(page.template)
        try:
            return template.render(
                root=page.root, path=page.path, page=page.frame, view=page.view, stages=page.stages
            )
        except (AttributeError, LookupError) as error:
            raise UndefinedError(str(error)).with_traceback(error.__traceback__) from None


class Once:
    """Gives a macro's HTML of some values, made once for the same ones: ``once(macro, value)``.

    Views that several pages share hold the same object, which is known by its identity, so that
    looking it up costs nothing; only text is compared. The macro must be an imported one, and what
    it is given must stay as it is.
    """

    _MOST = 2048

    def __init__(self) -> None:
        # What it was given is kept, so that nothing else can come to have its identity
        self._made: dict[tuple[str | int, ...], tuple[object, object, Markup]] = {}

    def __call__(self, macro: Callable[..., Markup], *values: object) -> Markup:
        """The macro's HTML."""
        key = (id(macro), *[each if type(each) is str else id(each) for each in values])
        made = self._made.get(key)
        if made is None:
            if len(self._made) >= self._MOST:
                self._made.clear()
            made = self._made[key] = macro, values, macro(*values)
        return made[2]


class _Prepared(Extension):
    """Does with a template when it is read what would else be done on every page.

    Indentation goes, which no reader sees; and sentences without values are translated.

    An environment speaks one language, so ``{% trans %}Fuses{% endtrans %}`` and ``_('Fuses')``
    have one answer, and asking for it on each page is a third of the time a page takes.
    """

    def preprocess(self, source: str, name: str | None, filename: str | None = None) -> str:
        """The template's source, flush left, its fixed sentences in the environment's language."""
        source = _INDENT.sub("", source)
        # The i18n extension doubles the percent signs of a block, to format it afterwards
        source = _FIXED_BLOCK.sub(lambda found: self._said(found[1].replace("%", "%%")), source)
        return _FIXED_TEXT.sub(lambda found: repr(self._said(literal_eval(found[1]))), source)

    def _said(self, sentence: str) -> str:
        translations: NullTranslations = self.environment.translations  # type: ignore[attr-defined]
        # Trimmed as the i18n extension trims the blocks that it reads itself
        return translations.gettext(_LINE_BREAK.sub(" ", sentence.strip())) % {}
