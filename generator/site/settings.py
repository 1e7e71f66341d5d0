"""What mkdocs.yml may say under ``sondebook:``. Beside the plugin, the only module on MkDocs."""

from __future__ import annotations

from mkdocs.config import config_options
from mkdocs.config.base import Config

from generator.guide.report import is_report_uri
from generator.site.profile_form import is_proposal


class SondebookConfig(Config):  # type: ignore[no-untyped-call]
    """The settings; an address that is left out offers no link."""

    profiles = config_options.Type(str, default="vehicle_profiles")
    edit_uri = config_options.Optional(config_options.Type(str))
    propose_uri = config_options.Type(str, default="")
    report_uri = config_options.Type(str, default="")
    pocket = config_options.Type(bool, default=True)
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
    return ""
