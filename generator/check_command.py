"""The commands `sondebook check` and `sondebook explain`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator import __version__
from generator.ending import FOUND, give_up, give_up_on

if TYPE_CHECKING:
    from generator.profile import ProfileFile


@click.command()
@click.argument("files", nargs=-1, type=click.Path(path_type=Path))
@click.option(
    "--profiles",
    default="vehicle_profiles",
    type=click.Path(path_type=Path),
    show_default=True,
    help="The folder to check when no file is named.",
)
@click.option("--strict", is_flag=True, help="Count warnings as errors, but not in a draft.")
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json", "github", "sarif"]),
    default="text",
    show_default=True,
    help="For a person, a program, a forge, or a code-review tool.",
)
@click.option("--fix", is_flag=True, help="Mend first what can be mended without a doubt.")
@click.option("--dry-run", is_flag=True, help="With --fix: print the change, and write nothing.")
@click.option("--missing", is_flag=True, help="Tell too what is not stated, and what it would add.")
def check(  # noqa: PLR0913, PLR0917 - its options
    files: tuple[Path, ...],
    profiles: Path,
    strict: bool,
    form: str,
    fix: bool,
    dry_run: bool,
    missing: bool,
) -> None:
    """Check vehicle profiles and print every finding with its place.

    Exit status 0: no errors. 1: errors (with --strict, warnings too). 2: a file cannot be read.
    """
    from generator.profile.folder import profile_paths, read_all
    from generator.profile.report import FORMATS, Report
    from generator.site.progress import progress_line

    if dry_run and not fix:
        raise click.UsageError("--dry-run goes with --fix.")
    if form != "text" and (dry_run or missing):
        raise click.UsageError("--dry-run and --missing print text: leave --format out.")
    try:
        paths = list(files) or profile_paths(profiles)
        if fix:
            _mend(paths, dry_run=dry_run, is_told=form == "text")
        read = read_all(paths, Path.cwd(), progress_line("profiles"), is_whole=not files)
    except OSError as error:
        give_up_on("use", error, profiles)
    report = Report(read, __version__)
    if missing:
        _tell_missing(read)
    click.echo(FORMATS[form](report), nl=False)
    if report.fails(strict=strict):
        raise SystemExit(FOUND)


def _mend(paths: list[Path], *, dry_run: bool, is_told: bool) -> None:
    """Mend each file in its place, or print what would change in it."""
    from generator.profile.fixes import fixed
    from generator.profile.folder import shown_path
    from generator.profile.pool import changes, replace_file
    from generator.profile.report import counting

    done = 0
    for path in paths:
        content = path.read_bytes()
        after = fixed(content)
        if after.content == content:
            continue
        done += 1
        shown = shown_path(path, Path.cwd())
        if dry_run:
            click.echo(changes(content, after.content, shown), nl=False)
            continue
        replace_file(path, after.content)
        if is_told:
            click.echo("".join(f"{shown}:{each.line}: {each}\n" for each in after.mends), nl=False)
    if is_told:
        would = "would be mended" if dry_run else "mended"
        if dry_run:
            left = "; what follows is found as they are" if done else ""
        else:
            left = "; lines are counted as they were before" if done else ""
        click.echo(f"{counting(done, 'profile')} {would}{left}.\n")


def _tell_missing(read: list[ProfileFile]) -> None:
    from gettext import NullTranslations

    from generator.guide.draft_view import missing_groups
    from generator.guide.vehicle import Vehicle
    from generator.profile.report import counting

    for file in read:
        if file.profile is None or file.vehicle is None:
            continue
        groups = missing_groups(Vehicle(file.slug, file.profile, NullTranslations()))
        count = sum(len(group.rows) for group in groups)
        click.echo(f"{file.vehicle.file}: {counting(count, 'value')} could be added.")
        for group in groups:
            click.echo(f"  {group.title}")
            for what, brings in group.rows:
                click.echo(f"    {what}: {brings}.")
        click.echo()


@click.command()
@click.argument("name", required=False)
def explain(name: str | None) -> None:
    """Say what a finding means, by the NAME that the check prints in brackets.

    Without NAME, list all of them. Exit status 2: there is no such finding.
    """
    from generator.profile.explanation import EXPLANATIONS
    from generator.profile.finding import did_you_mean

    if name is None:
        for each in sorted(EXPLANATIONS.values(), key=lambda each: each.name):
            click.echo(f"{each.name} ({each.severity}): {each.summary}")
        return
    explanation = EXPLANATIONS.get(name.strip("[]"))
    if explanation is None:
        hint = did_you_mean(name, EXPLANATIONS) or "`sondebook explain` lists them all."
        give_up(f"no finding is called {name}. {hint}")
    click.echo(f"{explanation}\n")
