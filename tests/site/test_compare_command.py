"""The command `sondebook compare`: files, folders, and revisions of a repository."""

from __future__ import annotations

import json
import os
import re
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.hostile import images
from tests.site.conftest import COMMANDS

Run = Callable[..., "subprocess.CompletedProcess[str]"]
GOOD, FOUND, COULD_NOT_RUN = 0, 1, 2
PIP = "vehicle_profiles/lowmere-pip-1-4.yml"
MINUTES = "sensors.bank-1-position-2.minutes"


def git(folder: Path, *arguments: str) -> None:
    subprocess.run(
        ["git", "-c", "user.name=Owner", "-c", "user.email=owner@club.example", *arguments],
        cwd=folder,
        check=True,
        capture_output=True,
        env={**os.environ, "GIT_CONFIG_GLOBAL": os.devnull},
    )


def save(project: Path, before: str, after: str, file: str = PIP) -> None:
    path = project / file
    text = path.read_text()
    assert before in text
    path.write_text(text.replace(before, after, 1))


@pytest.fixture
def history(project: Path) -> Path:
    """The project with two commits, the second of which changes one value."""
    git(project, "init", "-q", "-b", "main")
    git(project, "add", ".")
    git(project, "commit", "-qm", "First")
    save(project, "minutes: 10 to 15", "minutes: 12 to 15")
    git(project, "commit", "-qam", "Timed again")
    return project


def test_two_revisions_are_compared_as_collections(history: Path, run: Run) -> None:
    done = run("sondebook", "compare", "HEAD~1", "HEAD", "--format", "json")
    assert (done.returncode, done.stderr) == (GOOD, "")
    told = json.loads(done.stdout)
    assert told["profiles"] == len(list((history / "vehicle_profiles").glob("*.yml")))
    (vehicle,) = told["vehicles"]
    assert [each["at"] for each in vehicle["values"]] == [MINUTES]
    assert told["pages"] == [], "no list shows a minute"


def test_what_is_not_committed_is_compared_with_a_revision(history: Path, run: Run) -> None:
    save(history, "minutes: 3 to 6", "minutes: 4 to 6")
    done = run("sondebook", "compare", "HEAD", "vehicle_profiles")
    assert done.returncode == GOOD
    assert "sensors.bank-1-position-1.minutes: 3 to 6 → 4 to 6" in done.stdout
    assert MINUTES not in done.stdout


@pytest.mark.parametrize("old", [f"HEAD~1:{PIP}", f"HEAD~1:./{PIP}", f"main~1:{PIP}"])
def test_a_profile_at_a_revision_is_compared_with_a_file(history: Path, run: Run, old: str) -> None:
    done = run("sondebook", "compare", old, PIP)
    assert f"{MINUTES}: 10 to 15 → 12 to 15" in done.stdout


def test_from_a_folder_inside_the_repository(history: Path, run: Run) -> None:
    inside = run("sondebook", "compare", "HEAD~1:vehicle_profiles", "HEAD:./vehicle_profiles")
    assert MINUTES in inside.stdout
    absolute = str(history / "vehicle_profiles")
    assert MINUTES in run("sondebook", "compare", "HEAD~1", "HEAD", "--profiles", absolute).stdout


def test_a_new_make_changes_the_lists(history: Path, run: Run) -> None:
    text = (history / PIP).read_text().replace("make: Lowmere", "make: Ashdown")
    text = text.replace("3.4 to 4.6", "3.0 to 4.1").replace("5.6 to 7.0", "5.0 to 6.0")
    (history / "vehicle_profiles/ashdown-pip.yml").write_text(text)
    done = run("sondebook", "compare", "HEAD", "vehicle_profiles")
    assert "ashdown-pip: Ashdown Pip 1.4 four-cylinder petrol (new)" in done.stdout
    assert "guides/make-ashdown.html Ashdown (new)" in done.stdout
    assert "Ashdown Pip 1.4 four-cylinder petrol, 1997–2003: fault codes (new)" in done.stdout
    assert "guides/index.html" in done.stdout
    source = "from Lowmere Pip service handbook, Export edition, 1998, chapter 6, fuel and exhaust"
    stated = "sensors.bank-1-position-1.heater.resistance: 3.0 to 4.1 ohm (68 °F), " + source
    assert f"  {stated}\n" in done.stdout
    (codes,) = (line for line in done.stdout.splitlines() if "codes/P0135" in line)
    assert "codes/P0030, codes/P0031" in codes
    assert codes.endswith(": What to check first, by vehicle")


def test_a_new_value_without_a_source_is_told_as_such(history: Path, run: Run) -> None:
    text = (history / PIP).read_text().replace("make: Lowmere", "make: Ashdown")
    assert "rating: {value: 10 A, source: owners-handbook}" in text
    text = text.replace("rating: {value: 10 A, source: owners-handbook}", "rating: 10 A")
    (history / "vehicle_profiles/ashdown-pip.yml").write_text(text)
    done = run("sondebook", "compare", "HEAD", "vehicle_profiles")
    assert "  fuses.engine-control.rating: 10 A, without a source\n" in done.stdout
    told = json.loads(
        run("sondebook", "compare", "HEAD", "vehicle_profiles", "--format", "json").stdout
    )
    (new,) = told["vehicles"]
    assert {"at": "fuses.engine-control.rating", "value": "10 A", "source": None} in new["stated"]


def test_a_faulty_new_profile_is_told_and_ends_with_1(history: Path, run: Run) -> None:
    save(history, "  model: Pip", "  modell: Pip")
    done = run("sondebook", "compare", "HEAD", "vehicle_profiles")
    assert (done.returncode, done.stderr) == (FOUND, "")
    assert "The newer profile fails its check" in done.stdout
    back = run("sondebook", "compare", PIP, f"HEAD:{PIP}")
    assert back.returncode == GOOD, "the newer one is whole"


def test_a_link_in_a_revision_is_passed_over(history: Path, run: Run) -> None:
    (history / "vehicle_profiles/link.yml").symlink_to("/etc/hostname")
    git(history, "add", ".")
    git(history, "commit", "-qm", "A link")
    done = run("sondebook", "compare", "HEAD~1", "HEAD")
    assert done.stdout.startswith("Nothing changes in ")


def test_a_file_too_large_is_never_fetched(history: Path, run: Run) -> None:
    (history / "vehicle_profiles/large.yml").write_bytes(b"#" * 1024 * 1024)
    git(history, "add", ".")
    git(history, "commit", "-qm", "A large one")
    done = run("sondebook", "compare", "HEAD~1", "HEAD")
    assert done.returncode == FOUND
    assert "large (new)" in done.stdout


CARROW = "vehicle_profiles/fenwright-carrow-3-2-v6.yml"
TAB = "photos/carrow-plug-tab.png"


@pytest.mark.parametrize("object_format", ["sha1", "sha256"])
def test_a_photo_is_compared_between_revisions_and_with_files(
    project: Path, run: Run, object_format: str
) -> None:
    git(project, "init", "-q", "-b", "main", f"--object-format={object_format}")
    git(project, "add", ".")
    git(project, "commit", "-qm", "First")
    assert run("sondebook", "compare", "HEAD", "vehicle_profiles").stdout.startswith("Nothing")
    photo = project / "vehicle_profiles" / TAB
    photo.write_bytes(images.plain("PNG", 640, 480))
    told = [run("sondebook", "compare", "HEAD", "vehicle_profiles").stdout]
    told.append(run("sondebook", "compare", f"HEAD:{CARROW}", CARROW).stdout)
    git(project, "commit", "-qam", "Taken again")
    told.append(run("sondebook", "compare", "HEAD~1", "HEAD").stdout)
    told.append(run("sondebook", "compare", f"HEAD~1:./{CARROW}", f"HEAD:{CARROW}").stdout)
    for each in told:
        assert f"  photo {TAB}\n    picture: 1200 × 760 pixels → 640 × 480 pixels\n" in each
        assert "1 vehicle of " in each


def test_a_photo_that_is_a_link_or_not_committed_fails(history: Path, run: Run) -> None:
    photo = history / "vehicle_profiles" / TAB
    photo.unlink()
    photo.symlink_to("/etc/hostname")
    git(history, "commit", "-qam", "A link")
    done = run("sondebook", "compare", "HEAD~1", "HEAD")
    assert done.returncode == FOUND
    assert f"There is no file `{TAB}` beside the profile at that revision." in done.stdout


def test_from_another_folder_of_the_repository(history: Path) -> None:
    done = subprocess.run(
        [COMMANDS / "sondebook", "compare", "HEAD~1:vehicle_profiles", "HEAD:vehicle_profiles"],
        cwd=history / "docs",
        capture_output=True,
        text=True,
        check=False,
    )
    assert MINUTES in done.stdout, done.stderr


def test_the_page_for_maintainers_shows_what_the_command_prints(
    project: Path, root: Path, run: Run
) -> None:
    page = (root / "docs/judge-a-change.md").read_text("utf-8")
    (shown,) = re.findall(r"```text\n(.*?)```", page, re.DOTALL)
    save(project, "minutes: 10 to 15", "minutes: 12 to 15")
    before, after = re.findall(r"caption: (.*) → (.*)\n", shown)[0]
    save(project, before, after, CARROW)
    width, height = map(int, re.findall(r"→ (\d+) × (\d+) pixels", shown)[0])
    (project / "vehicle_profiles" / TAB).write_bytes(images.plain("PNG", width, height))
    done = run("sondebook", "compare", str(root / "vehicle_profiles"), "vehicle_profiles")
    assert (done.returncode, done.stdout) == (GOOD, shown)


def test_the_report_speaks_the_language_of_the_site(history: Path, run: Run) -> None:
    settings = history / "mkdocs.yml"
    settings.write_text(settings.read_text().replace("language: en", "language: de"))
    told = run("sondebook", "compare", "HEAD~1", "HEAD").stdout
    assert "Minuten der Arbeit" in told
    assert told.endswith(" mit Änderungen, 3 Seiten.\n")
    data = json.loads(run("sondebook", "compare", "HEAD~1", "HEAD", "--format", "json").stdout)
    assert "minutes of the job" in data["vehicles"][0]["effects"][0]["what"], "for programs"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("HEAD", "nowhere", "nowhere is no file, no folder and no revision."),
        ("--output=x", "HEAD", "--output=x is no file, no folder and no revision."),
        ("HEAD", "old.yml", "there is no file old.yml."),
        ("HEAD:nowhere.yml", PIP, "there is no nowhere.yml at the revision HEAD."),
        (
            "HEAD",
            PIP,
            "a profile is compared with a profile, and a folder with a folder: for one profile, "
            f"write `sondebook compare HEAD:./{PIP} {PIP}`.",
        ),
    ],
)
def test_what_cannot_be_compared_is_said(
    history: Path, run: Run, old: str, new: str, said: str
) -> None:
    done = run("sondebook", "compare", "--", old, new)
    assert (done.returncode, done.stdout) == (COULD_NOT_RUN, "")
    assert done.stderr == f"sondebook: {said}\n"


def test_outside_a_repository_a_revision_is_said_to_be_none(project: Path, run: Run) -> None:
    done = run("sondebook", "compare", "HEAD", "HEAD", GIT_CEILING_DIRECTORIES=str(project.parent))
    assert done.returncode == COULD_NOT_RUN
    assert "not a git repository" in done.stderr
    assert "Traceback" not in done.stderr
