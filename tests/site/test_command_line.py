"""The commands: what they say, where they say it, and their exit status."""

from __future__ import annotations

import json
import os
import pty
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner

from generator.cli import main
from tests.site.conftest import COMMANDS

Run = Callable[..., "subprocess.CompletedProcess[str]"]

GOOD, FOUND, COULD_NOT_RUN = 0, 1, 2
PIP = "vehicle_profiles/lowmere-pip-1-4.yml"


def spoil(project: Path) -> None:
    """Give a profile a fault: a misspelt key, in line 11."""
    path = project / PIP
    path.write_text(path.read_text().replace("  model: Pip", "  modell: Pip"))


def change(project: Path, file: str, before: str, after: str) -> None:
    path = project / file
    text = path.read_text()
    assert before in text
    path.write_text(text.replace(before, after))


def one_sentence(error: str) -> bool:
    """Whether an error is said in our words, without a traceback."""
    return (
        error.splitlines()[-1].startswith("sondebook: ")
        and error.rstrip().endswith(".")
        and "Traceback" not in error
    )


def test_check_counts_what_it_read(run: Run, project: Path) -> None:
    checked = run("sondebook", "check")
    count = len(list((project / "vehicle_profiles").glob("*.yml")))
    assert checked.returncode == GOOD
    assert checked.stdout.splitlines()[-1].startswith(f"{count} profiles: 0 errors, ")
    assert checked.stderr == "", "quiet when nobody watches"


def test_check_of_one_file_speaks_of_one(run: Run) -> None:
    checked = run("sondebook", "check", PIP)
    assert (checked.returncode, checked.stdout) == (GOOD, "1 profile: 0 errors, 0 warnings.\n")


def test_check_prints_a_finding_with_its_place(run: Run, project: Path) -> None:
    spoil(project)
    line = (project / PIP).read_text().splitlines().index("  modell: Pip") + 1
    checked = run("sondebook", "check")
    assert checked.returncode == FOUND
    assert f"{PIP}:{line}:3: error [unknown-key]" in checked.stdout
    assert "Did you mean `model`?" in checked.stdout
    assert re.search(r": 2 errors, \d+ warnings?\.$", checked.stdout)
    assert checked.stderr == ""


def test_check_counts_warnings_as_errors_only_when_strict(run: Run, project: Path) -> None:
    moor = "vehicle_profiles/kestrin-moor-2-0-flat.yml"
    assert run("sondebook", "check", moor).returncode == GOOD
    strict = run("sondebook", "check", "--strict", moor)
    assert strict.returncode == FOUND
    assert "0 errors, 1 warning." in strict.stdout
    assert run("sondebook", "check", "--strict", PIP).returncode == GOOD


def test_the_fix_says_each_mend_and_other_formats_stay_whole(run: Run, project: Path) -> None:
    written, mended = "70 to 85 in-lb", "70 to 85 lbf·in"
    text = (project / PIP).read_text()
    number = text.partition(written)[0].count("\n") + 1
    assert run("sondebook", "check", "--fix", "--dry-run", PIP).stdout.count(written) == 1
    assert (project / PIP).read_text() == text, "only shown"
    assert run("sondebook", "check", "--fix", PIP).stdout.splitlines() == [
        f"{PIP}:{number}: `{written}` is now `{mended}`.",
        "1 profile mended; lines are counted as they were before.",
        "",
        "1 profile: 0 errors, 0 warnings.",
    ]
    assert run("sondebook", "check", "--fix", PIP).stdout.startswith("0 profiles mended.\n")
    change(project, PIP, mended, written)
    told = json.loads(run("sondebook", "check", "--fix", "--format", "json", PIP).stdout)
    assert told["profiles"] == 1
    assert mended in (project / PIP).read_text()


@pytest.mark.parametrize(
    ("arguments", "reason"),
    [
        (["nowhere.yml"], "nowhere.yml: No such file"),
        (["vehicle_profiles"], "vehicle_profiles: Is a directory"),
        (["--profiles", "nowhere"], "nowhere: No such file"),
    ],
)
def test_check_says_what_it_cannot_read(run: Run, arguments: list[str], reason: str) -> None:
    checked = run("sondebook", "check", *arguments)
    assert checked.returncode == COULD_NOT_RUN
    assert one_sentence(checked.stderr)
    assert reason in checked.stderr
    assert checked.stdout == ""


def test_build_says_where_to_open_the_site(run: Run, project: Path) -> None:
    built = run("sondebook", "build")
    assert built.returncode == GOOD
    ready, no_feed = built.stdout.splitlines()
    assert ready == f"The site is ready: open {project / 'site/index.html'}"
    assert no_feed.startswith("It has no feed of changed guides: fatal: not a git repository")
    assert built.stderr == ""
    assert (project / "site/index.html").is_file()


def test_build_stops_at_a_faulty_profile_and_shows_the_finding(run: Run, project: Path) -> None:
    spoil(project)
    built = run("sondebook", "build")
    assert built.returncode == COULD_NOT_RUN
    assert f"{PIP}:" in built.stderr
    assert "[unknown-key]" in built.stderr
    assert re.search(r"1 of \d+ profiles have errors; nothing was built\.", built.stderr)
    assert one_sentence(built.stderr)
    assert not (project / "site/guides").exists()
    assert "ready" not in built.stdout


def test_mkdocs_build_stops_too(run: Run, project: Path) -> None:
    spoil(project)
    built = run("mkdocs", "build")
    assert built.returncode != GOOD
    assert "[unknown-key]" in built.stderr
    assert not (project / "site/guides").exists()


def test_mkdocs_build_makes_the_same_site(run: Run, project: Path) -> None:
    assert run("mkdocs", "build", "-q", "-d", "by-mkdocs").returncode == GOOD
    assert run("sondebook", "build", "-d", "by-us").returncode == GOOD
    by_mkdocs, by_us = (
        {path.relative_to(folder): path.read_bytes() for path in folder.rglob("*.html")}
        for folder in (project / "by-mkdocs", project / "by-us")
    )
    assert by_mkdocs == by_us
    assert len(by_us) > 30


@pytest.mark.parametrize(
    ("before", "after", "reason"),
    [
        (
            "use_directory_urls: false",
            "use_directory_urls: true",
            "mkdocs.yml: set `use_directory_urls: false`",
        ),
        (
            "profiles: vehicle_profiles",
            "profils: vehicle_profiles",
            "mkdocs.yml: the plugin sondebook has no setting `profils`; did you mean `profiles`?",
        ),
        (
            "profiles: vehicle_profiles",
            "also_in: {en: ../en/}",
            "mkdocs.yml: also_in names the other languages of the site, and this one speaks en.",
        ),
        ("  name: material", "  name: readthedocs", "mkdocs.yml: set `name: material`"),
        (
            "profiles: vehicle_profiles",
            "profiles: nowhere",
            "cannot read nowhere: No such file or directory; `profiles` in mkdocs.yml names",
        ),
        ("site_name: Sondebook", "site_name: [", "parsing the configuration file"),
        ("  name: material", "  name: no-such-theme", "no-such-theme"),
    ],
)
def test_build_says_which_setting_is_at_fault(
    run: Run, project: Path, before: str, after: str, reason: str
) -> None:
    change(project, "mkdocs.yml", before, after)
    built = run("sondebook", "build")
    assert built.returncode == COULD_NOT_RUN
    assert reason in built.stderr
    assert "Traceback" not in built.stderr
    assert not (project / "site/guides").exists()


def test_build_without_settings_says_so(run: Run) -> None:
    built = run("sondebook", "build", "-f", "nowhere.yml")
    assert built.returncode == COULD_NOT_RUN
    assert one_sentence(built.stderr)
    assert built.stderr.startswith("sondebook: there is no nowhere.yml here: go to the folder")


def test_a_fault_is_told_of_the_settings_that_were_asked_for(run: Run, project: Path) -> None:
    (project / "mkdocs.yml").rename(project / "mkdocs.de.yml")
    change(project, "mkdocs.de.yml", "report_uri:", "reprot_uri:")
    for command in (["build"], ["post", "lowmere-pip-1-4"], ["links"]):
        told = run("sondebook", *command, "-f", "mkdocs.de.yml")
        assert told.returncode == COULD_NOT_RUN
        assert "mkdocs.de.yml: the plugin sondebook has no setting `reprot_uri`" in told.stderr
        assert "did you mean `report_uri`?" in told.stderr


@pytest.mark.parametrize(
    ("template", "reason"),
    [
        (
            "{% extends 'guide/shell.html' %}{% block main %}\n{{ view.nothing }}{% endblock %}",
            ":2",
        ),
        ("{% extends 'guide/shell.html' %}\n\n{% block main %", ":3"),
        ("{% extends 'guide/nowhere.html' %}", "nowhere.html"),
    ],
)
def test_build_says_which_template_is_at_fault(
    run: Run, project: Path, template: str, reason: str
) -> None:
    (project / "own/guide").mkdir(parents=True)
    (project / "own/guide/overview.html").write_text(template)
    change(project, "mkdocs.yml", "  name: material", "  name: material\n  custom_dir: own")
    built = run("sondebook", "build")
    assert built.returncode == COULD_NOT_RUN
    assert one_sentence(built.stderr)
    assert f"template is at fault, {project}/own/guide/overview.html" in built.stderr
    assert reason in built.stderr
    mend = ". Mend it there, or delete that file: then the one that comes with Sondebook is used.\n"
    assert built.stderr.endswith(mend)
    assert ".." not in built.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
@pytest.mark.parametrize("command", [["schema"], ["post", "lowmere-pip-1-4"]])
def test_a_full_disk_behind_what_is_printed_is_a_sentence(
    project: Path, command: list[str]
) -> None:
    with Path("/dev/full").open("w") as full:
        told = subprocess.run(
            [COMMANDS / "sondebook", *command],
            cwd=project,
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert told.returncode == COULD_NOT_RUN
    assert told.stderr == "sondebook: cannot write what is printed: No space left on device.\n"


def test_an_interrupt_anywhere_is_a_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted() -> str:
        raise KeyboardInterrupt

    monkeypatch.setattr("generator.profile.schema.schema_text", interrupted)
    told = CliRunner().invoke(main, ["schema"])
    assert (told.exit_code, told.output) == (COULD_NOT_RUN, "sondebook: interrupted.\n")


def test_build_says_that_a_folder_cannot_be_written(run: Run, project: Path) -> None:
    (project / "taken").write_text("a file, where a folder is wanted")
    built = run("sondebook", "build", "-d", "taken/site")
    assert built.returncode == COULD_NOT_RUN
    assert one_sentence(built.stderr)
    assert "taken" in built.stderr


def test_an_unknown_command_is_refused(run: Run) -> None:
    assert run("sondebook", "paint").returncode == COULD_NOT_RUN


def test_the_version_is_the_packages(run: Run) -> None:
    from generator import __version__

    assert __version__ in run("sondebook", "--version").stdout


def on_a_terminal(project: Path, *command: str) -> str:
    """What a person at a terminal sees of a command's error stream."""
    ours, theirs = pty.openpty()
    process = subprocess.Popen(
        [Path(sys.executable).with_name("sondebook"), *command],
        cwd=project,
        stdout=subprocess.DEVNULL,
        stderr=theirs,
    )
    os.close(theirs)
    seen = b""
    try:
        while piece := os.read(ours, 4096):
            seen += piece
    except OSError:
        pass  # the terminal's other end was closed: the command has ended
    finally:
        os.close(ours)
        assert process.wait(timeout=60) == GOOD
    return seen.decode()


@pytest.mark.parametrize("command", ["check", "build"])
def test_a_person_watching_sees_how_far_it_is(project: Path, command: str) -> None:
    for number in range(60):
        copy = (project / PIP).read_text().replace("model: Pip", f"model: Pip {number}")
        (project / f"vehicle_profiles/pip-{number}.yml").write_text(copy)
    count = len(list((project / "vehicle_profiles").glob("*.yml")))
    seen = on_a_terminal(project, command)
    told = [int(done) for done in re.findall(rf"\rprofiles: (\d+) of {count}", seen)]
    assert told == sorted(told)
    assert told[0] == 25
    assert told[-1] == count
    assert seen.rstrip("\r\n").rpartition("\r")[2].endswith(f"of {count}"), "and then a new line"
