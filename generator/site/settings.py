"""What mkdocs.yml may say under ``sondebook:``, and what the rest of it means for guides."""

from __future__ import annotations

from gettext import NullTranslations
from pathlib import Path

from mkdocs.config import config_options
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.plugins import get_plugin_logger

from generator.guide.report import is_report_uri
from generator.profile.finding import nearest
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


def fault_of_settings(config: MkDocsConfig, own: SondebookConfig) -> str:
    """What the guides cannot be made with, as a sentence with its place; empty when nothing is."""
    fault = _unknown(own) or _fault_of_site(config) or _fault_of_own(own, config)
    return f"{settings_file(config).name}: {fault}" if fault else ""


def settings_file(config: MkDocsConfig) -> Path:
    """The file of the settings, `mkdocs.yml` mostly."""
    return Path(config.config_file_path or "mkdocs.yml")


def _unknown(own: SondebookConfig) -> str:
    """MkDocs passes over a name that it does not know, and the default would hold in silence."""
    known = [name for name, _ in own._schema]
    for name in own:
        if name not in known:
            near = nearest(str(name), known)
            meant = f"did you mean `{near}`?" if near else f"there are {', '.join(known)}."
            return f"the plugin sondebook has no setting `{name}`; {meant}"
    return ""


def _fault_of_site(config: MkDocsConfig) -> str:
    if config.use_directory_urls:
        return (
            "set `use_directory_urls: false`; the site must work from a folder, without a server."
        )
    if config.theme.name != "material":
        return "set `name: material` under `theme`; the pages written by hand are made with it."
    return ""


def _fault_of_own(own: SondebookConfig, config: MkDocsConfig) -> str:
    if own.propose_uri and not is_proposal(own.propose_uri):
        return (
            "propose_uri is an address with http or https that holds {filename}, and {value} "
            "where the text goes."
        )
    if own.report_uri and not is_report_uri(own.report_uri):
        return (
            "report_uri is an address with http, https or mailto that holds {title} or {body}, "
            "where they go."
        )
    try:
        sites = sites_in(own.also_in)
    except (AttributeError, TypeError, ValueError):
        return (
            f"also_in names a language ({', '.join(languages())}) and the folder of its site from "
            "the root of this one, ending in a slash: `de: ../de/`."
        )
    language = str(config.theme.get("language") or SOURCE)
    if any(site.code == language for site in sites):
        return f"also_in names the other languages of the site, and this one speaks {language}."
    return ""


def profiles_of(config: MkDocsConfig, own: SondebookConfig) -> Path:
    """The folder of a collection's profiles."""
    return settings_file(config).parent / own.profiles


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
