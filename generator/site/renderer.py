"""Pages to HTML: Jinja2 templates, autoescaped, with every fixed sentence through gettext."""

from __future__ import annotations

from gettext import NullTranslations
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from generator.guide.page import Page


class Renderer:
    """Renders pages with the templates of one theme folder."""

    def __init__(
        self, templates: Path, site_name: str, language: str, translations: NullTranslations
    ) -> None:
        self._environment = Environment(
            loader=FileSystemLoader(templates),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            extensions=["jinja2.ext.i18n"],
        )
        self._environment.install_gettext_translations(  # type: ignore[attr-defined]
            translations, newstyle=True
        )
        self._environment.globals.update(site_name=site_name, lang=language)

    def html(self, page: Page) -> str:
        """The complete HTML of a page.

        Raises:
            jinja2.TemplateError: a template is missing, broken or asks for what no page has.
        """
        template = self._environment.get_template(page.template)
        return template.render(root=page.root, page=page.frame, view=page.view, stages=page.stages)
