"""The command line. Commands that take more than a page stand in modules of their own.

Exit status: 0 when all is well, 1 when profiles have findings, 2 when a command could not run.
"""

from __future__ import annotations

import errno
from pathlib import Path
from typing import Any, TextIO

import click

from generator import __version__
from generator.check_command import check, explain
from generator.compare_command import compare
from generator.ending import FOUND, give_up, give_up_on
from generator.new_command import new
from generator.pdf_command import pdf
from generator.serve_command import serve


class _Commands(click.Group):
    """The commands, ended in a sentence by an interrupt, or by no room for what they print."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command.

        Raises:
            OSError: of another kind than a full disk; that of a closed pipe is click's.
        """
        try:
            return super().invoke(ctx)
        except OSError as error:
            if error.errno not in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
                raise
            give_up_on("write", error, "what is printed")
        except KeyboardInterrupt:
            give_up("interrupted.")


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="sondebook")
def main() -> None:
    """Vehicle-specific guides to exhaust oxygen and air-fuel sensors."""


for command in (check, compare, explain, new, pdf, serve):
    main.add_command(command)


@main.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--name", default="Sensor guides", show_default=True, help="What the site is called.")
@click.option("--address", default="", help="Where it will stand, such as https://club.example/.")
def start(folder: Path, name: str, address: str) -> None:
    """Start a collection of your own in a new folder, built with this package."""
    from generator.site.collection_start import CannotStart
    from generator.site.collection_start import start as start_collection

    try:
        for path in start_collection(folder, name, address):
            click.echo(path)
    except CannotStart as error:
        give_up(str(error))
    except OSError as error:
        give_up_on("write", error, folder)
    click.echo(f"\nGo on in {folder}: README.md says how.")


@main.command()
@click.option("--config-file", "-f", default="mkdocs.yml", show_default=True)
@click.option("--site-dir", "-d", default=None, help="Where to build; mkdocs.yml says, otherwise.")
def build(config_file: str, site_dir: str | None) -> None:
    """Check every profile and build the whole site."""
    from generator.site.project import CannotBuild, build_site

    try:
        left_out: list[str] = []
        site = build_site(config_file, site_dir, left_out.append)
    except CannotBuild as error:
        give_up(str(error))
    for line in (f"The site is ready: open {site / 'index.html'}", *left_out):
        click.echo(line)


@main.command()
@click.option(
    "--site-dir",
    "-d",
    default=None,
    type=click.Path(path_type=Path),
    help="Where it was built; mkdocs.yml says, otherwise.",
)
@click.option("--config-file", "-f", default="mkdocs.yml", show_default=True)
@click.option("--anchors", is_flag=True, help="Sections that links lead to must be there too.")
@click.option(
    "--external", is_flag=True, help="Ask other hosts too, and list each with the answer."
)
def links(site_dir: Path | None, config_file: str, anchors: bool, external: bool) -> None:
    """Check the links of a built site with linkchecker, which is installed by itself.

    Exit status 0: every link asked for leads somewhere. 1: some do not. 2: it could not be checked.
    """
    from generator.profile.report import counting
    from generator.site.links import CannotCheck, checked_links
    from generator.site.project import CannotBuild, project_of

    try:
        project = project_of(config_file)
        site = site_dir or project.site
        found = checked_links(site, project.addresses, anchors=anchors, outside=external)
    except (CannotBuild, CannotCheck) as error:
        give_up(str(error))
    within = [each for each in found if not each.is_outside]
    outside = [each for each in found if each.is_outside]
    for link in [each for each in within if each.fault] + (outside if external else []):
        click.echo(f"{link.page}: {link.address}: {link.fault or 'good'}")
    broken = sum(bool(each.fault) for each in (found if external else within))
    others = "asked" if external else "not asked"
    click.echo(
        f"{counting(len(within), 'link')} inside the site, {len(outside)} to other hosts "
        f"({others}): {broken} broken."
    )
    if broken:
        raise SystemExit(FOUND)


@main.command()
@click.argument("vehicle")
@click.option("--sensor", "sensors", multiple=True, metavar="BANK.POSITION", help="Such as 1.1.")
@click.option(
    "--as",
    "form",
    type=click.Choice(["bbcode", "markdown", "text"]),
    default="bbcode",
    show_default=True,
)
@click.option("--limit", type=click.IntRange(min=2000), help="Characters that a post may have.")
@click.option("--config-file", "-f", default="mkdocs.yml", show_default=True)
def post(
    vehicle: str, sensors: tuple[str, ...], form: str, limit: int | None, config_file: str
) -> None:
    """Print the guide of a vehicle, or of some of its sensors, as posts for a forum.

    VEHICLE is the name of its profile, without .yml. Posts are set apart by a line of ten hyphens.
    Exit status 2: there is no such vehicle or sensor, or a step does not fit into a post.
    """
    from generator.site.forum_post import CannotPost, vehicle_posts, vehicle_to_post
    from generator.site.project import CannotBuild, project_of

    try:
        project = project_of(config_file)
        found = vehicle_to_post(project.profiles, vehicle, project.t)
        written = vehicle_posts(found, sensors, form, limit, project.address)
    except (CannotBuild, CannotPost) as error:
        give_up(str(error))
    except OSError as error:
        give_up_on("read", error, vehicle)
    click.echo(f"{'-' * 10}\n".join(written), nl=False)


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
    from generator.profile.report import counting

    try:
        content = profile.read_bytes()
        pooling = pool(content, profile.stem, profile.as_posix(), file.read(), known_good)
        if not dry_run and pooling.taken:
            replace_file(profile, pooling.content)
    except CannotPool as error:
        for finding in error.findings:
            click.echo(f"{finding}\n")
        give_up(str(error))
    except OSError as error:
        give_up_on("use", error, profile)
    for told in (*pooling.findings, *pooling.refusals):
        click.echo(f"{told}\n")
    if dry_run:
        click.echo(changes(content, pooling.content, profile.as_posix()), nl=False)
    added = "would be added" if dry_run else "added"
    click.echo(
        f"{counting(pooling.taken, 'reading')} {added} to {profile}; "
        f"{counting(len(pooling.refusals), 'sheet')} not taken."
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
    from generator.profile.folder import profile_paths
    from generator.profile.migrations import migrated_content
    from generator.profile.pool import changes, replace_file
    from generator.profile.report import counting

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
        give_up_on("use", error, profiles)
    would = "would be migrated" if dry_run else "migrated"
    click.echo(f"{counting(len(paths), 'profile')}: {done} {would}, {refused} not read.")
    if refused:
        raise SystemExit(FOUND)
