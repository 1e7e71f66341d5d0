"""The command `sondebook pdf`: a guide, or some of its sensors, as one file to print."""

from __future__ import annotations

import os
from pathlib import Path
from tempfile import TemporaryDirectory

import click

from generator.ending import give_up, give_up_on


@click.command()
@click.argument("vehicle")
@click.option("--sensor", "sensors", multiple=True, metavar="BANK.POSITION", help="Such as 1.1.")
@click.option(
    "--output",
    "-o",
    type=click.Path(path_type=Path, dir_okay=False),
    help="The file to write; VEHICLE.pdf here, otherwise.",
)
@click.option("--paper", type=click.Choice(["A4", "Letter"]), default="A4", show_default=True)
@click.option("--chromium", metavar="PROGRAM", help="Chromium, where it is not found by itself.")
@click.option("--config-file", "-f", default="mkdocs.yml", show_default=True)
def pdf(  # noqa: PLR0913, PLR0917 - its options
    vehicle: str,
    sensors: tuple[str, ...],
    output: Path | None,
    paper: str,
    chromium: str | None,
    config_file: str,
) -> None:
    """Print the pages of a vehicle into one PDF, with contents and page numbers.

    VEHICLE is the name of its profile, or its file. With --sensor, which may stand several times,
    only the pages of these sensors follow the overview. An installed Chromium does the printing.
    Exit status 2: there is no such vehicle or sensor, or no Chromium, or the file cannot be
    written; one that was there stays.
    """
    from jinja2 import TemplateError

    from generator.site.build_fault import sentence_of
    from generator.site.forum_post import CannotPost, chosen, vehicle_to_post
    from generator.site.pdf import (
        CannotPrint,
        PrintOrder,
        pages_to_print,
        printed_styles,
        vehicle_pdf,
    )
    from generator.site.photos import PhotoPress, embedded
    from generator.site.project import CannotBuild, project_of

    file = output or Path(f"{Path(vehicle).stem}.pdf")
    try:
        project = project_of(config_file)
        found = vehicle_to_post(project.profiles, vehicle, project.t)
        renderer = project.renderer()
        pictures = dict(PhotoPress(project.profiles).made(found))
        content = vehicle_pdf(
            pages_to_print(found, chosen(found, sensors) if sensors else ()),
            lambda page: embedded(renderer.html(page), pictures.__getitem__),
            PrintOrder(printed_styles(project.theme), paper, chromium, project.address),
        )
        _put(file, content)
    except (CannotBuild, CannotPost, CannotPrint) as error:
        give_up(str(error))
    except TemplateError as error:
        give_up(sentence_of(error))
    except KeyboardInterrupt:
        give_up("stopped, and nothing was written.")
    except OSError as error:
        give_up_on("write", error, file)
    click.echo(f"The guide is printed: {file}")


def _put(file: Path, content: bytes) -> None:
    """Write a file whole or not at all.

    Raises:
        OSError: it cannot be written; one that was there is as it was.
    """
    if not file.parent.is_dir():
        raise FileNotFoundError(2, os.strerror(2), str(file))
    with TemporaryDirectory(dir=file.parent, prefix=".sondebook-") as folder:
        whole = Path(folder, file.name)
        whole.write_bytes(content)
        whole.replace(file)
