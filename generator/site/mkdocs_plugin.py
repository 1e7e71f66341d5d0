"""The MkDocs plugin: the entrance through which a whole site is made.

MkDocs makes the hand-written pages from docs/; this plugin checks the vehicle profiles and writes
the guides beside them. It is the only module that knows MkDocs.
"""

from __future__ import annotations

from gettext import NullTranslations
from pathlib import Path
from traceback import extract_tb
from typing import Any, Literal

from jinja2 import TemplateError, TemplateSyntaxError
from mkdocs.commands import build as mkdocs_build
from mkdocs.commands import serve as mkdocs_serve
from mkdocs.config import config_options, load_config
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, MkDocsException, PluginError
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import BasePlugin, get_plugin_logger
from mkdocs.structure.pages import Page as HandWrittenPage
from mkdocs.utils.templates import TemplateContext

from generator.guide.catalogue import home_rows
from generator.profile import ProfileFile, Severity
from generator.site.collection import Collection, collect, profile_paths, read_all
from generator.site.edition import Edition
from generator.site.offline import build_day
from generator.site.progress import progress_line
from generator.site.renderer import Renderer
from generator.site.theme import theme_folder
from generator.site.writer import write_guides

log = get_plugin_logger("sondebook")

HOME_TEMPLATE = "home.html"


class CannotBuild(Exception):
    """The site could not be made; the message is one sentence for a person."""


class SondebookConfig(Config):  # type: ignore[no-untyped-call]
    """What mkdocs.yml may say under ``sondebook:``."""

    profiles = config_options.Type(str, default="vehicle_profiles")
    edit_uri = config_options.Optional(config_options.Type(str))
    pocket = config_options.Type(bool, default=True)


class SondebookPlugin(BasePlugin[SondebookConfig]):  # type: ignore[no-untyped-call]
    """Checks the profiles, writes the guides, and lists the makes on the home page."""

    def __init__(self) -> None:
        self._command: Literal["build", "gh-deploy", "serve"] = "build"
        self._collection = Collection([], NullTranslations())
        self._theme: list[Path] = []
        self._folder = Path()

    def on_startup(self, *, command: Literal["build", "gh-deploy", "serve"], dirty: bool) -> None:
        """Remember whether this is a preview: there, a faulty profile must not end the session."""
        self._command = command

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig | None:
        """Hold the settings that the guides cannot do without."""
        if config.use_directory_urls:
            raise PluginError(
                "sondebook: set `use_directory_urls: false` in mkdocs.yml; the site must work "
                "from a folder, without a server."
            )
        # A collection's own custom_dir comes first, then our theme, then Material's
        own = [Path(config.theme.custom_dir)] if config.theme.custom_dir else []
        config.theme.dirs.insert(len(own), str(theme_folder()))
        self._theme = [*own, theme_folder()]
        self._folder = Path(config.config_file_path or "mkdocs.yml").parent / self.config.profiles
        return config

    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Read and check every profile.

        Raises:
            PluginError: the folder cannot be read, or, in a build, a profile has an error.
        """
        folder = self._folder
        try:
            files = read_all(profile_paths(folder), folder.parent, progress_line("profiles"))
        except OSError as error:
            raise PluginError(f"sondebook: cannot read {folder.name}: {error.strerror}.") from None
        broken = _report(files)
        if broken and self._command != "serve":
            raise PluginError(
                f"sondebook: {broken} of {len(files)} profiles have errors; nothing was built."
            )
        self._collection = collect(
            files, NullTranslations(), self.config.edit_uri, self.config.pocket
        )

    def on_page_context(
        self, context: TemplateContext, *, page: HandWrittenPage, config: MkDocsConfig, nav: Any
    ) -> TemplateContext:
        """Give the home page its list of makes."""
        if page.meta.get("template") == HOME_TEMPLATE:
            context["makes"] = home_rows(self._collection.makes)  # type: ignore[typeddict-unknown-key]
        return context

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Write the guides beside the hand-written pages."""
        language = str(config.theme.get("language") or "en")
        renderer = Renderer(self._theme, config.site_name, language, self._collection.t)
        address = config.site_url or ""
        edition = Edition(
            config.site_name,
            language,
            self._theme,
            build_day(self._folder.parent),
            f"{address.rstrip('/')}/" if address else "",
            self.config.pocket,
        )
        count = write_guides(self._collection, renderer, Path(config.site_dir), edition)
        log.info("%d guide pages", count)

    def on_serve(
        self, server: LiveReloadServer, *, config: MkDocsConfig, builder: Any
    ) -> LiveReloadServer:
        """Watch the profiles and the templates in a preview."""
        server.watch(str(self._folder))
        for folder in self._theme:
            server.watch(str(folder))
        return server


def _report(files: list[ProfileFile]) -> int:
    """Log every finding; the number of files that have an error."""
    for file in files:
        for finding in file.findings:
            tell = log.error if finding.severity is Severity.ERROR else log.info
            tell("%s", finding)
    return sum(file.has_errors for file in files)


def build_site(config_file: str, site_dir: str | None = None) -> Path:
    """Build the whole site, and give the folder it stands in.

    Raises:
        CannotBuild: the settings, a profile or a template is at fault, or a file cannot be written.
    """
    try:
        config = load_config(config_file, site_dir=site_dir)
        config.plugins.on_startup(command="build", dirty=False)
        mkdocs_build.build(config)
        config.plugins.on_shutdown()
    except (MkDocsException, TemplateError, OSError) as error:
        raise CannotBuild(_sentence(error)) from error
    return Path(config.site_dir)


def serve_site(config_file: str, address: str | None = None) -> None:
    """Preview the site with live reload until interrupted.

    Raises:
        CannotBuild: the settings are at fault, or the address is taken.
    """
    settings: dict[str, Any] = {"dev_addr": address} if address else {}
    try:
        mkdocs_serve.serve(config_file, **settings)
    except (MkDocsException, TemplateError, OSError) as error:
        raise CannotBuild(_sentence(error)) from error


def _sentence(error: Exception) -> str:
    if isinstance(error, Abort):
        return "nothing was built; the reason stands above."
    if isinstance(error, TemplateError):
        return f"a template is at fault, {_template_place(error)}: {error}."
    if isinstance(error, OSError) and error.strerror:
        return f"{error.filename}: {error.strerror}." if error.filename else f"{error.strerror}."
    return str(error) or type(error).__name__


def _template_place(error: TemplateError) -> str:
    """The innermost line of a template that an error came through."""
    if isinstance(error, TemplateSyntaxError):
        return f"{error.name}:{error.lineno}"
    lines = [each for each in extract_tb(error.__traceback__) if each.filename.endswith(".html")]
    return f"{lines[-1].filename}:{lines[-1].lineno}" if lines else "and not found"
