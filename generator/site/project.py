"""A collection by its mkdocs.yml: built, previewed, or asked for what the file says."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from gettext import NullTranslations
from pathlib import Path
from typing import Any

from mkdocs.commands import build as mkdocs_build
from mkdocs.commands import serve as mkdocs_serve
from mkdocs.config import load_config
from mkdocs.exceptions import MkDocsException

from generator.site.build_fault import BUILD_FAULTS, sentence_of
from generator.site.language import SOURCE, SiteInLanguage, sites_in
from generator.site.mkdocs_plugin import SondebookPlugin
from generator.site.preview_server import address_fault
from generator.site.renderer import Renderer
from generator.site.settings import address_of, fault_of_settings, profiles_of, spoken, theme_of
from generator.site.theme import theme_folder

SETTINGS_FILE = "mkdocs.yml"


class CannotBuild(Exception):
    """The site could not be made; the message is one sentence for a person."""


@dataclass(frozen=True, slots=True)
class Project:
    """What mkdocs.yml says of a collection.

    ``site`` is the folder that is published, ``address`` is the site's, with a slash at its end, or
    empty. ``theme`` are the folders of its templates, its own first.
    """

    name: str
    profiles: Path
    site: Path
    address: str
    theme: list[Path]
    language: str
    t: NullTranslations
    also_in: tuple[SiteInLanguage, ...] = ()

    def renderer(self) -> Renderer:
        """What makes single pages of the site into HTML."""
        return Renderer(self.theme, self.name, self.language, self.t)

    @property
    def addresses(self) -> tuple[str, ...]:
        """The addresses of the site and of those in other languages, where they are known."""
        if not self.address:
            return ()
        return (self.address, *(each.address(self.address) for each in self.also_in))

    def in_english(self) -> Project:
        """The same in the language of the sources, for what programs read."""
        return replace(self, language=SOURCE, t=NullTranslations())


def project_of(config_file: str) -> Project:
    """What a collection's mkdocs.yml says.

    Raises:
        CannotBuild: the settings are at fault.
    """
    _hold_to_settings(config_file)
    try:
        config = load_config(config_file)
    except (MkDocsException, OSError) as error:
        raise CannotBuild(sentence_of(error)) from error
    plugin = config.plugins.get("sondebook")
    if not isinstance(plugin, SondebookPlugin):
        raise CannotBuild(f"{config_file} does not list the plugin sondebook.")
    if fault := fault_of_settings(config, plugin.config):
        raise CannotBuild(fault)
    language, t = spoken(config)
    folder = profiles_of(config, plugin.config)
    return Project(
        config.site_name,
        folder,
        Path(config.site_dir),
        address_of(config),
        theme_of(config),
        language,
        t,
        sites_in(plugin.config.also_in),
    )


def project_or_package(config_file: str) -> Project:
    """The same; where there are no settings of the usual name, what the package brings.

    Raises:
        CannotBuild: the settings are at fault.
    """
    if config_file == SETTINGS_FILE and not Path(config_file).exists():
        theme, t = [theme_folder()], NullTranslations()
        return Project("Sondebook", Path(), Path("site"), "", theme, SOURCE, t)
    return project_of(config_file)


def _hold_to_settings(config_file: str) -> None:
    if not Path(config_file).exists():
        raise CannotBuild(
            f"there is no {config_file} here: go to the folder of a collection, name its settings "
            "with -f, or begin one with `sondebook start`."
        )


def build_site(
    config_file: str, site_dir: str | None = None, tell: Callable[[str], None] | None = None
) -> Path:
    """Build the whole site, and give the folder it stands in.

    ``tell`` is given a sentence about what was left out, and why, where something was.

    Raises:
        CannotBuild: the settings, a profile or a template is at fault, a file cannot be written, or
            the build was interrupted. What was published before stays.
    """
    _hold_to_settings(config_file)
    try:
        config = load_config(config_file, site_dir=site_dir)
        published = Path(config.site_dir)
        config.plugins.on_startup(command="build", dirty=False)
        try:
            mkdocs_build.build(config)
        finally:
            config.plugins.on_shutdown()
    except KeyboardInterrupt:
        raise CannotBuild("interrupted; what was published before stays as it was.") from None
    except (MkDocsException, *BUILD_FAULTS) as error:
        raise CannotBuild(sentence_of(error)) from error
    plugin = config.plugins.get("sondebook")
    if tell and isinstance(plugin, SondebookPlugin) and plugin.no_feed:
        tell(f"It has no feed of changed guides: {plugin.no_feed}.")
    return published


def serve_site(config_file: str, address: str | None = None) -> None:
    """Preview the site with live reload until interrupted.

    Raises:
        CannotBuild: the settings are at fault, or the address is taken.
    """
    _hold_to_settings(config_file)
    settings: dict[str, Any] = {"dev_addr": address} if address else {}
    try:
        mkdocs_serve.serve(config_file, **settings)
    except OSError as error:
        raise CannotBuild(address_fault(error, address)) from error
    except (MkDocsException, *BUILD_FAULTS) as error:
        raise CannotBuild(sentence_of(error)) from error
