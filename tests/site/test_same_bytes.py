"""Two builds of the same profiles give the same bytes."""

from __future__ import annotations

import subprocess
import time
from collections.abc import Callable
from pathlib import Path

Run = Callable[..., "subprocess.CompletedProcess[str]"]


def content(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def test_two_builds_give_the_same_bytes(run: Run, project: Path) -> None:
    # Another place, another second, another order of Python's sets
    for name, seed, zone in (("one", "1", "UTC"), ("two", "2", "Asia/Tokyo")):
        built = run("sondebook", "build", "-d", str(project / name), PYTHONHASHSEED=seed, TZ=zone)
        assert built.returncode == 0, built.stderr
        time.sleep(1.1)
    one, two = content(project / "one"), content(project / "two")
    assert sorted(one) == sorted(two)
    assert [path for path in one if one[path] != two[path]] == []
    assert "sitemap.xml.gz" in one
    assert len(one) > 60


def test_a_change_in_a_profile_changes_its_pages_only(run: Run, project: Path) -> None:
    assert run("sondebook", "build", "-d", "one").returncode == 0
    profile = project / "vehicle_profiles/lowmere-pip-1-4.yml"
    profile.write_text(profile.read_text().replace("hangs beside", "is beside"))
    assert run("sondebook", "build", "-d", "two").returncode == 0
    one, two = content(project / "one"), content(project / "two")
    changed = [path for path in one if one[path] != two[path]]
    assert sorted(changed) == [
        "guides/lowmere-pip-1-4/bank-1-position-1-access.html",
        "guides/lowmere-pip-1-4/bank-1-position-1-test.html",
        "offline/lowmere-pip-1-4.json",
        "pocket/lowmere-pip-1-4.html",
    ]


def test_a_deleted_profile_leaves_no_page_behind(run: Run, project: Path) -> None:
    assert run("sondebook", "build").returncode == 0
    assert (project / "site/guides/lowmere-pip-1-4/index.html").exists()
    (project / "vehicle_profiles/lowmere-pip-1-4.yml").unlink()
    assert run("sondebook", "build").returncode == 0
    assert not (project / "site/guides/lowmere-pip-1-4").exists()
    assert not (project / "site/guides/make-lowmere.html").exists()
