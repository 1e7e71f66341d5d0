"""The command `sondebook compare`."""

from __future__ import annotations

from pathlib import Path

import click

from generator.ending import FOUND, give_up, give_up_on


def _mend(old: str, new: str) -> str:
    """How one file is compared with a revision, if that was meant."""
    if ":" in old or Path(old).exists() or not Path(new).is_file():
        return ""
    here = Path(new).as_posix()
    inside = here if here.startswith(("/", "../")) else f"./{here}"
    return f": for one profile, write `sondebook compare {old}:{inside} {here}`"


@click.command()
@click.argument("old")
@click.argument("new")
@click.option(
    "--profiles",
    default="vehicle_profiles",
    type=click.Path(path_type=Path),
    show_default=True,
    help="The folder that a revision without a path means.",
)
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "markdown", "json"]),
    default="text",
    show_default=True,
    help="For a person, a comment on a change, or a program.",
)
@click.option("--config-file", "-f", default="mkdocs.yml", show_default=True)
def compare(old: str, new: str, profiles: Path, form: str, config_file: str) -> None:
    """Tell what changes on the published pages, value by value, from OLD to NEW.

    Each of the two is a profile, a folder of profiles, a revision in git (all profiles then), or
    REVISION:PATH. A file or folder that is there goes before a revision of the same name. Photos
    are read where their profile is. The report speaks the language of the site; JSON is English.

    \b
    sondebook compare HEAD~1 HEAD                  what the last commit changed
    sondebook compare HEAD vehicle_profiles        what is not committed yet
    sondebook compare HEAD:./my/pip.yml my/pip.yml one profile, against its last commit
    sondebook compare old.yml new.yml              two files

    Exit status 0: compared, whatever changes. 1: a profile of NEW fails its check, so its pages
    could not be compared. 2: nothing could be compared.
    """
    from generator.profile.revision import NoProfiles, stand
    from generator.site.comparison import compared
    from generator.site.comparison_data import as_json
    from generator.site.comparison_report import as_markdown, as_text
    from generator.site.project import CannotBuild, project_or_package

    try:
        before, after = stand(old, profiles), stand(new, profiles)
        project = project_or_package(config_file)
    except (NoProfiles, CannotBuild) as error:
        give_up(str(error))
    except OSError as error:
        give_up_on("read", error, profiles)
    if before.is_file is not after.is_file:
        give_up(
            f"a profile is compared with a profile, and a folder with a folder{_mend(old, new)}."
        )
    if form == "json":
        comparison = compared(before, after, project.in_english().renderer())
        told = as_json(comparison)
    else:
        comparison = compared(before, after, project.renderer())
        told = (as_text if form == "text" else as_markdown)(comparison, project.t)
    click.echo(told, nl=False)
    if comparison.fails:
        raise SystemExit(FOUND)
