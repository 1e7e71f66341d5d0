"""The command `sondebook serve`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator.ending import give_up

if TYPE_CHECKING:
    from generator.profile import Finding


@click.command()
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option("--config-file", "-f", default="mkdocs.yml", show_default=True)
@click.option("--address", "-a", default=None, help="Host and port, such as 127.0.0.1:8000.")
def serve(file: Path | None, config_file: str, address: str | None) -> None:
    """Preview the site; it reloads when a profile, a page or a template changes.

    With FILE, a profile, only its guide is shown: within a second of saving, however many others
    there are. What its check finds stands in the browser.
    """
    if file is None:
        _serve_site(config_file, address)
    else:
        _serve_profile(file, config_file, address)


def _serve_site(config_file: str, address: str | None) -> None:
    from generator.site.project import CannotBuild, serve_site

    try:
        serve_site(config_file, address)
    except CannotBuild as error:
        give_up(str(error))


def _serve_profile(file: Path, config_file: str, address: str | None) -> None:
    from generator.site.preview_server import address_fault, preview_server
    from generator.site.project import CannotBuild, project_or_package

    if not file.is_file():
        give_up(f"there is no file {file}.")
    try:
        project = project_or_package(config_file)
        server = preview_server(file, project.renderer(), project.theme, address)
    except CannotBuild as error:
        give_up(str(error))
    except ValueError:
        give_up(f"{address} is no host and port, such as 127.0.0.1:8000.")
    except OSError as error:
        give_up(address_fault(error, address))
    click.echo(f"{file} is shown at {server.address}; Ctrl-C ends it.")
    try:
        server.serve(_tell)
    except KeyboardInterrupt:
        return


def _tell(findings: tuple[Finding, ...]) -> None:
    from generator.profile.report import counting

    for finding in findings:
        click.echo(f"{finding}\n")
    click.echo(f"Read: {counting(len(findings), 'finding')}.")
