"""What mkdocs.yml may say under ``sondebook:``, and what the rest of it means for guides."""

from __future__ import annotations

from gettext import NullTranslations
from pathlib import Path

from mkdocs.config import config_options
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.plugins import get_plugin_logger

from generator.guide.report import is_report_uri
from generator.site.language import SOURCE, NotTranslated, languages, sites_in, translations
from generator.site.profile_form import is_proposal
from generator.site.theme import theme_folder

log = get_plugin_logger("sondebook")


class SondebookConfig(Config):  # type: ignore[no-untyped-call]
    """The settings; an address that is left out offers no link."""

    profiles = config_options.Type(str, default="vehicle_profiles")
    edit_uri = config_options.Optional(config_options.Type(str))
    propose_uri = config_options.Type(str, default="")
    report_uri = config_options.Type(str, default="")
    pocket = config_options.Type(bool, default=True)
    also_in = config_options.Type(dict, default={})
    headers = config_options.Type(bool, default=False)


def fault_of_settings(config: SondebookConfig) -> str:
    """What is wrong with an address in the settings, as a sentence; empty when nothing is."""
    if config.propose_uri and not is_proposal(config.propose_uri):
        return (
            "propose_uri in mkdocs.yml is an address with http or https that holds "
            "{filename}, and {value} where the text goes."
        )
    if config.report_uri and not is_report_uri(config.report_uri):
        return (
            "report_uri in mkdocs.yml is an address with http, https or mailto that holds "
            "{title} or {body}, where they go."
        )
    try:
        sites_in(config.also_in)
    except (AttributeError, TypeError, ValueError):
        return (
            f"also_in in mkdocs.yml names a language ({', '.join(languages())}) and the folder of "
            "its site from the root of this one, ending in a slash: `de: ../de/`."
        )
    return ""


def profiles_of(config: MkDocsConfig, own: SondebookConfig) -> Path:
    """The folder of a collection's profiles."""
    return Path(config.config_file_path or "mkdocs.yml").parent / own.profiles


def address_of(config: MkDocsConfig) -> str:
    """The address of the site with a slash at its end, or empty."""
    return f"{config.site_url.rstrip('/')}/" if config.site_url else ""


def theme_of(config: MkDocsConfig) -> list[Path]:
    """The folders of the theme: a collection's own, if it has one, then ours."""
    own = [Path(config.theme.custom_dir)] if config.theme.custom_dir else []
    return [*own, theme_folder()]


def spoken(config: MkDocsConfig) -> tuple[str, NullTranslations]:
    """The language of guide pages and its messages: English, with a warning, for an unknown one."""
    language = str(config.theme.get("language") or SOURCE)
    try:
        return language, translations(language)
    except NotTranslated as error:
        log.warning("%s", error)
        return SOURCE, NullTranslations()
