"""A copy of the project to change, and the commands as a person runs them."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from generator.profile.schema import PATH, schema_text

COMMANDS = Path(sys.executable).parent
Run = Callable[..., "subprocess.CompletedProcess[str]"]


@pytest.fixture
def project(tmp_path: Path, root: Path) -> Path:
    """A copy of what a site is made of, free to be changed."""
    for name in ("docs", "vehicle_profiles"):
        shutil.copytree(root / name, tmp_path / name)
    shutil.copy(root / "mkdocs.yml", tmp_path)
    return tmp_path


@pytest.fixture
def run(project: Path) -> Run:
    """Runs an installed command in the copied project, with nobody watching."""

    def run_command(name: str, *arguments: str, **environment: str) -> object:
        return subprocess.run(
            [COMMANDS / name, *arguments],
            cwd=project,
            env={**os.environ, **environment},
            capture_output=True,
            text=True,
            timeout=120,
            check=False,
        )

    return run_command  # type: ignore[return-value]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The profiles of an empty collection, which is the present folder."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "vehicle_profiles").mkdir()
    (tmp_path / PATH).parent.mkdir(parents=True)
    (tmp_path / PATH).write_text(schema_text(), "utf-8")
    return tmp_path / "vehicle_profiles"
