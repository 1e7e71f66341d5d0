"""The MkDocs plugin: the entrance through which a whole site is made.

MkDocs makes the hand-written pages from docs/; this plugin checks the vehicle profiles and writes
the guides beside them. Only `settings`, `project` and `build_fault` know MkDocs besides.
"""

from __future__ import annotations

import os
import signal
import threading
from gettext import NullTranslations
from pathlib import Path
from typing import Any, Literal

from jinja2 import Environment
from markupsafe import Markup
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import BasePlugin, event_priority, get_plugin_logger
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page as HandWrittenPage
from mkdocs.utils.templates import TemplateContext

from generator.guide.catalogue import home_rows
from generator.profile import ProfileFile, Severity
from generator.profile.folder import profile_paths, read_all
from generator.profile.schema import PATH as SCHEMA_PATH
from generator.profile.schema import refresh_schema
from generator.site.build_fault import BUILD_FAULTS, sentence_of
from generator.site.collection import Collection, collect
from generator.site.edition import Edition
from generator.site.feed import FILE as FEED_FILE
from generator.site.feed import Change, NoHistory, changes, feed_text
from generator.site.language import SOURCE, sites_in
from generator.site.lean import FOLDER as ASSETS
from generator.site.lean import head_script
from generator.site.offline import build_day
from generator.site.photos import PhotoPress, known_keys
from generator.site.policy import HEADERS_FILE, headers, with_policy
from generator.site.profile_form import FILE as FORM_FILE
from generator.site.profile_form import form_script, modeline
from generator.site.progress import progress_line
from generator.site.prose import with_units_unbroken
from generator.site.publish import NotASite, Publication
from generator.site.renderer import Renderer
from generator.site.settings import (
    SondebookConfig,
    address_of,
    fault_of_settings,
    profiles_of,
    settings_file,
    spoken,
    theme_of,
)
from generator.site.sitemap import drop_sitemap, write_sitemap
from generator.site.theme import pages_folder
from generator.site.writer import write_guides

log = get_plugin_logger("sondebook")

HOME_TEMPLATE = "home.html"
HOME_PAGE = "index.md"


class SondebookPlugin(BasePlugin[SondebookConfig]):  # type: ignore[no-untyped-call]
    """Checks the profiles, writes the guides, and lists the makes on the home page."""

    def __init__(self) -> None:
        self._command: Literal["build", "gh-deploy", "serve"] = "build"
        self._language, self._t = SOURCE, NullTranslations()
        self._collection = Collection([], self._t)
        self._theme: list[Path] = []
        self._folder = Path()
        self._address = ""
        self._feed = ""
        self.no_feed = ""
        """Why there is no feed of changed guides, where there is none."""
        self._beside = False
        self._publication: Publication | None = None
        self._is_complete = False
        self._pictures: dict[str, bytes] = {}

    def on_startup(self, *, command: Literal["build", "gh-deploy", "serve"], dirty: bool) -> None:
        """Remember whether this is a preview: there, a faulty profile must not end the session."""
        self._command = command
        # A preview has a folder of its own, and a dirty build mends the one that is there
        self._beside = command != "serve" and not dirty
        if self._beside:
            _end_as_interrupted()

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig | None:
        """Hold the settings that the guides cannot do without."""
        if fault := fault_of_settings(config, self.config):
            raise PluginError(f"sondebook: {fault}")
        self._theme = theme_of(config)
        # Ours is the last of them, and Material's come after it
        config.theme.dirs.insert(len(self._theme) - 1, str(self._theme[-1]))
        self._language, self._t = spoken(config)
        self._folder = profiles_of(config, self.config)
        return config

    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Read and check every profile.

        Raises:
            PluginError: the folder cannot be read, or, in a build, a profile has an error.
        """
        folder = self._folder
        _bring_schema_up_to_date(folder.parent)
        try:
            files = read_all(
                profile_paths(folder),
                folder.parent,
                progress_line("profiles"),
                known_photos=known_keys(Path(config.site_dir)),
            )
        except OSError as error:
            raise PluginError(
                f"sondebook: cannot read {folder.name}: {error.strerror}; `profiles` in "
                f"{settings_file(config).name} names the folder of the profiles."
            ) from None
        broken = _report(files)
        if broken and self._command != "serve":
            raise PluginError(
                f"sondebook: {broken} of {len(files)} profiles have errors; nothing was built."
            )
        self._collection = collect(
            files,
            self._t,
            self.config.edit_uri,
            self.config.pocket,
            self.config.report_uri,
        )
        self._address = address_of(config)
        self._feed = self._feed_text(config.site_name) if self._command != "serve" else ""
        if self._beside:
            self._build_beside(config)

    def _feed_text(self, site_name: str) -> str:
        """The feed of the guides, or nothing: then the log says why."""
        vehicles, t = self._collection.vehicles, self._collection.t
        found: list[Change] = []
        self.no_feed = "" if self._address else "the settings have no site_url"
        if self._address:
            try:
                found = changes(self._folder, [vehicle.slug for vehicle in vehicles])
                self.no_feed = "" if found else "the history in git has no guide yet"
            except NoHistory as reason:
                self.no_feed = str(reason)
        if self.no_feed:
            log.info("no feed: %s", self.no_feed)
            return ""
        return feed_text(found, vehicles, self._address, site_name, t)

    def _build_beside(self, config: MkDocsConfig) -> None:
        try:
            self._publication = Publication(Path(config.site_dir))
        except NotASite as error:
            raise PluginError(f"sondebook: {error}") from None
        except OSError as error:
            place, reason = error.filename or config.site_dir, error.strerror
            raise PluginError(f"sondebook: cannot write {place}: {reason}.") from None
        config.site_dir = str(self._publication.folder)

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add the package's hand-written pages that the collection has not written itself.

        The theme's styles and scripts are written when the guides are, without comments.
        """
        for file in [each for each in files if _is_written_lean(each.src_uri)]:
            files.remove(file)
        folder = pages_folder()
        for path in sorted(folder.rglob("*")):
            name = path.relative_to(folder).as_posix()
            is_page = path.suffix in (".md", ".json", ".yml") and name != HOME_PAGE
            if is_page and files.get_file_from_path(name) is None:
                file = File(name, str(folder), config.site_dir, use_directory_urls=False)
                # So that no link offers to edit it in the collection
                file.generated_by = "sondebook"
                files.append(file)
        return files

    def on_env(self, env: Environment, *, config: MkDocsConfig, files: Files) -> Environment:
        """Give hand-written pages the guides' language, and the script of their head."""
        env.add_extension("jinja2.ext.i18n")
        env.policies["ext.i18n.trimmed"] = True
        env.install_gettext_translations(self._t, newstyle=True)  # type: ignore[attr-defined]
        env.globals["head_script"] = Markup(head_script(self._theme))
        env.globals["also_in"] = sites_in(self.config.also_in)
        return env

    def on_page_context(
        self, context: TemplateContext, *, page: HandWrittenPage, config: MkDocsConfig, nav: Any
    ) -> TemplateContext:
        """Give the home page its list of makes."""
        context["feed"] = FEED_FILE if self._feed else ""  # type: ignore[typeddict-unknown-key]
        if page.meta.get("template") == HOME_TEMPLATE:
            context["makes"] = home_rows(self._collection.makes)  # type: ignore[typeddict-unknown-key]
        return context

    def on_page_content(
        self, html: str, *, page: HandWrittenPage, config: MkDocsConfig, files: Files
    ) -> str:
        """Keep each number of a hand-written page with its unit."""
        return with_units_unbroken(html)

    def on_post_page(self, output: str, *, page: HandWrittenPage, config: MkDocsConfig) -> str:
        """Give a hand-written page its security policy."""
        return with_policy(output)

    def on_post_template(
        self, output_content: str, *, template_name: str, config: MkDocsConfig
    ) -> str:
        """Give a page that is no document, such as that for missing addresses, its policy."""
        return with_policy(output_content) if template_name.endswith(".html") else output_content

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Write the guides beside the hand-written pages."""
        site, address = Path(config.site_dir), self._address
        feed = FEED_FILE if self._feed else ""
        renderer = Renderer(
            self._theme,
            config.site_name,
            self._language,
            self._t,
            sites_in(self.config.also_in),
            address=address,
            feed=feed,
            report_uri=self.config.report_uri,
        )
        edition = Edition(
            config.site_name,
            self._language,
            self._theme,
            build_day(self._folder.parent),
            address,
            self.config.pocket,
            self._press(),
        )
        count = write_guides(self._collection, renderer, site, edition, os.cpu_count() or 1)
        form = form_script(
            modeline(self._folder.parent, self._folder),
            self.config.propose_uri,
            self._collection.t,
            self.config.edit_uri,
        )
        (site / FORM_FILE).write_bytes(form.encode())
        if address:
            write_sitemap(site, address)
        else:
            drop_sitemap(site)
        if self._feed:
            (site / FEED_FILE).write_bytes(self._feed.encode())
        if self.config.headers:
            (site / HEADERS_FILE).write_bytes(headers(address).encode())
        log.info("%d guide pages", count)
        self._is_complete = True

    def _press(self) -> PhotoPress:
        """What makes the pictures: from the site to be replaced, or, in a preview, remembered."""
        if self._publication is None:
            return PhotoPress(self._folder, None, self._pictures)
        return PhotoPress(self._folder, self._publication.published)

    @event_priority(-100)
    def on_build_error(self, *, error: Exception) -> None:
        """See that what was built is not published, and say what was wrong in one sentence.

        Raises:
            PluginError: in place of what MkDocs would show with a traceback.
        """
        self._is_complete = False
        if isinstance(error, BUILD_FAULTS):
            raise PluginError(f"sondebook: {sentence_of(error)}") from error

    def on_shutdown(self) -> None:
        """Publish a complete build, and leave nothing of another; MkDocs calls this at any end.

        Raises:
            PluginError: the published folder cannot be replaced; it stays as it was.
        """
        publication, self._publication = self._publication, None
        if publication is None:
            return
        try:
            if self._is_complete:
                publication.swap()
                log.info("published as %s", publication.published)
        except OSError as error:
            raise PluginError(
                f"sondebook: cannot replace {publication.published}: {error.strerror}; "
                "what stood there stays."
            ) from None
        finally:
            publication.drop()

    def on_serve(
        self, server: LiveReloadServer, *, config: MkDocsConfig, builder: Any
    ) -> LiveReloadServer:
        """Watch the profiles and the templates in a preview."""
        server.watch(str(self._folder))
        for folder in self._theme:
            server.watch(str(folder))
        return server


def _bring_schema_up_to_date(project: Path) -> None:
    """Write a collection's schema for editors anew after an upgrade, so that nobody need merge."""
    try:
        if (project / SCHEMA_PATH).is_file() and refresh_schema(project):
            log.info("written anew, for this version: %s", SCHEMA_PATH)
    except OSError as error:
        log.info("%s is another version's: %s", SCHEMA_PATH, error.strerror)


def _end_as_interrupted() -> None:
    """Let a request to end, such as a host's at its time limit, clear up as an interrupt does."""
    if threading.current_thread() is threading.main_thread():
        signal.signal(signal.SIGTERM, signal.default_int_handler)


def _is_written_lean(path: str) -> bool:
    folder, _, name = path.rpartition("/")
    return folder == ASSETS and name.endswith((".css", ".js"))


def _report(files: list[ProfileFile]) -> int:
    """Log every finding; the number of files that have an error."""
    for file in files:
        for finding in file.findings:
            tell = log.error if finding.severity is Severity.ERROR else log.info
            tell("%s", finding)
    return sum(file.has_errors for file in files)
