"""The command line: check profiles, build the site, preview it, pool readings.

Exit status: 0 when all is well, 1 when profiles have findings, 2 when a command could not run.
"""

from __future__ import annotations

from pathlib import Path
from typing import TextIO

import click

from generator import __version__
from generator.new_command import new
from generator.profile import Severity

FOUND, COULD_NOT_RUN = 1, 2


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="sondebook")
def main() -> None:
    """Vehicle-specific guides to exhaust oxygen and air-fuel sensors."""


main.add_command(new)


@main.command()
@click.argument("files", nargs=-1, type=click.Path(path_type=Path))
@click.option(
    "--profiles",
    default="vehicle_profiles",
    type=click.Path(path_type=Path),
    show_default=True,
    help="The folder to check when no file is named.",
)
@click.option("--strict", is_flag=True, help="Count warnings as errors.")
def check(files: tuple[Path, ...], profiles: Path, strict: bool) -> None:
    """Check vehicle profiles and print every finding with its place.

    Exit status 0: no errors. 1: errors (with --strict, warnings too). 2: a file cannot be read.
    """
    from generator.site.collection import profile_paths, read_all
    from generator.site.progress import progress_line

    try:
        paths = list(files) or profile_paths(profiles)
        read = read_all(paths, Path.cwd(), progress_line("profiles"))
    except OSError as error:
        _give_up(f"cannot read {error.filename}: {error.strerror}.")
    findings = [finding for file in read for finding in file.findings]
    for finding in findings:
        click.echo(f"{finding}\n")
    errors = sum(finding.severity is Severity.ERROR for finding in findings)
    warnings = len(findings) - errors
    click.echo(
        f"{_counted(len(read), 'profile')}: {_counted(errors, 'error')}, "
        f"{_counted(warnings, 'warning')}."
    )
    if errors or (strict and warnings):
        raise SystemExit(FOUND)


@main.command()
@click.option("--config-file", "-f", default="mkdocs.yml", show_default=True)
@click.option("--site-dir", "-d", default=None, help="Where to build; mkdocs.yml says, otherwise.")
def build(config_file: str, site_dir: str | None) -> None:
    """Check every profile and build the whole site."""
    from generator.site.mkdocs_plugin import CannotBuild, build_site

    try:
        site = build_site(config_file, site_dir)
    except CannotBuild as error:
        _give_up(str(error))
    click.echo(f"The site is ready: open {site / 'index.html'}")


@main.command()
@click.option("--config-file", "-f", default="mkdocs.yml", show_default=True)
@click.option("--address", "-a", default=None, help="Host and port, such as 127.0.0.1:8000.")
def serve(config_file: str, address: str | None) -> None:
    """Preview the site; it reloads when a profile, a page or a template changes."""
    from generator.site.mkdocs_plugin import CannotBuild, serve_site

    try:
        serve_site(config_file, address)
    except CannotBuild as error:
        _give_up(str(error))


@main.command("pool")
@click.argument("profile", type=click.Path(path_type=Path))
@click.argument("file", type=click.File("r", encoding="utf-8", errors="replace"), default="-")
@click.option("--known-good", is_flag=True, help="Take sheets without the tick, on your word.")
@click.option("--dry-run", is_flag=True, help="Print what would change, and write nothing.")
def pool_command(profile: Path, file: TextIO, known_good: bool, dry_run: bool) -> None:
    """Add the readings of bench sheets, copied as text, to a profile's readings.

    FILE holds the sheets, quoted or not, with any other text around them; without it, or with -,
    they are read from standard input. A sheet is taken when its sensor is known to work: the
    bench sheet has a tick for that.

    Exit status 0: every sheet was taken. 1: some were not, and each is told. 2: nothing could be
    done.
    """
    from generator.profile.pool import CannotPool, changes, pool, replace_file

    try:
        content = profile.read_bytes()
        pooling = pool(content, profile.stem, profile.as_posix(), file.read(), known_good)
        if not dry_run and pooling.taken:
            replace_file(profile, pooling.content)
    except CannotPool as error:
        for finding in error.findings:
            click.echo(f"{finding}\n")
        _give_up(str(error))
    except OSError as error:
        _give_up(f"cannot use {error.filename}: {error.strerror}.")
    for told in (*pooling.findings, *pooling.refusals):
        click.echo(f"{told}\n")
    if dry_run:
        click.echo(changes(content, pooling.content, profile.as_posix()), nl=False)
    added = "would be added" if dry_run else "added"
    click.echo(
        f"{_counted(pooling.taken, 'reading')} {added} to {profile}; "
        f"{_counted(len(pooling.refusals), 'sheet')} not taken."
    )
    if pooling.refusals or not pooling.taken:
        raise SystemExit(FOUND)


@main.command()
def schema() -> None:
    """Print the JSON Schema (draft-07) of a profile, for editors."""
    from generator.profile.schema import schema_text

    click.echo(schema_text(), nl=False)


@main.command()
@click.argument("files", nargs=-1, type=click.Path(path_type=Path))
@click.option(
    "--profiles",
    default="vehicle_profiles",
    type=click.Path(path_type=Path),
    show_default=True,
    help="The folder to migrate when no file is named.",
)
@click.option("--dry-run", is_flag=True, help="Print what would change, and write nothing.")
def migrate(files: tuple[Path, ...], profiles: Path, dry_run: bool) -> None:
    """Bring profiles of older formats to the present one; comments and layout stay.

    Exit status 0: every profile is of the present format. 1: some cannot be read. 2: a file cannot
    be read or written.
    """
    from generator.profile.migrations import migrated_content
    from generator.profile.pool import changes, replace_file
    from generator.site.collection import profile_paths

    refused = done = 0
    try:
        paths = list(files) or profile_paths(profiles)
        for path in paths:
            content = path.read_bytes()
            after, finding = migrated_content(path.as_posix(), content)
            if finding:
                click.echo(f"{finding}\n")
                refused += 1
            elif after != content:
                done += 1
                if dry_run:
                    click.echo(changes(content, after, path.as_posix()), nl=False)
                else:
                    replace_file(path, after)
    except OSError as error:
        _give_up(f"cannot use {error.filename}: {error.strerror}.")
    would = "would be migrated" if dry_run else "migrated"
    click.echo(f"{_counted(len(paths), 'profile')}: {done} {would}, {refused} not read.")
    if refused:
        raise SystemExit(FOUND)


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _give_up(sentence: str) -> None:
    click.echo(f"sondebook: {sentence.removeprefix('sondebook: ')}", err=True)
    raise SystemExit(COULD_NOT_RUN)
