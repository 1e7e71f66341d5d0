"""A maintainer's own collection: the few files that are theirs; all else comes with the package."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from string import Template
from urllib.parse import urlsplit

from generator import __version__
from generator.profile.schema import PATH, refresh_schema
from generator.profile.starter import starter
from generator.site.theme import editor_folder, forge_folder

TEMPLATES = Path(__file__).with_name("start")
FILES = {
    "README.md": "README.md",
    "mkdocs.yml": "mkdocs.yml",
    "requirements.txt": "requirements.txt",
    "gitignore": ".gitignore",
    "publish.yml": ".github/workflows/publish.yml",
    "pre-commit.yaml": ".pre-commit-config.yaml",
    "index.md": "docs/index.md",
    "own.css": "overrides/assets/own.css",
    "own-head.html": "overrides/partials/own-head.html",
}
"""Where each template goes."""

FORGE_FILES = (
    "ISSUE_TEMPLATE/config.yml",
    "ISSUE_TEMPLATE/vehicle.yml",
    "ISSUE_TEMPLATE/wrong-value.yml",
    "labels.yml",
    "pull_request_template.md",
    "workflows/comment.yml",
    "workflows/preview.yml",
)
"""What a forge reads, from where this repository has it for itself, to the same place."""

EDITOR_FILE = ".vscode/settings.json"

OF_A_COLLECTION = {
    "pull_request_template.md": (re.compile(r"## The program\n.*?(?=## )", re.DOTALL), ""),
    "workflows/preview.yml": (
        re.compile(r"(?<=- run: )pip install -r requirements\.lock && .*"),
        "pip install -r requirements.txt",
    ),
}
"""The one passage that is another where the program is only installed: which, and by what."""

_WITH_VALUES = ("README.md", "mkdocs.yml", "requirements.txt")
EXAMPLE = "vehicle_profiles/example.yml"

_EXAMPLE_VEHICLE = {
    "format": 2,
    "vehicle": {"make": "Lowmere", "model": "Pip", "years": "1997 to 2003"},
    "engine": {
        "name": "1.4 four-cylinder petrol",
        "cylinders": 4,
        "arrangement": "inline",
        "mounting": "longitudinal",
        "bay": "front",
    },
    "steering": ["left"],
    "banks": {1: {"cylinders": [1, 2, 3, 4], "side": "right"}},
    "sensors": [
        {
            "bank": 1,
            "position": 1,
            "kind": "switching",
            "wires": 4,
            "place": {"where": "in the top of the manifold", "reach": "above"},
        }
    ],
}


class CannotStart(Exception):
    """The folder is not one to start in; the message is a sentence."""


def start(folder: Path, site_name: str, address: str) -> list[Path]:
    """Write a new collection into a folder that is missing or empty; gives the files written.

    ``address`` is where the site will stand, or empty where that is not known yet.

    Raises:
        CannotStart: something is in the folder already, or the address is none.
        OSError: a file cannot be written; the folder is as it was.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise CannotStart(f"{folder} is not empty; nothing was written.")
    if address and not is_web_address(address):
        raise CannotStart(
            f"`{address}` is not an address such as https://club.example/; nothing was written."
        )
    was_there = folder.is_dir()
    try:
        return _written(folder, site_name, address)
    except BaseException:
        for path in folder.iterdir() if folder.is_dir() else ():
            shutil.rmtree(path) if path.is_dir() else path.unlink()
        if folder.is_dir() and not was_there:
            folder.rmdir()
        raise


def is_web_address(address: str) -> bool:
    """Whether a site can stand at an address."""
    parts = urlsplit(address)
    return parts.scheme in ("http", "https") and bool(parts.hostname)


def _written(folder: Path, site_name: str, address: str) -> list[Path]:
    values = {
        # A YAML scalar in double quotes is written as a JSON string (YAML 1.2, 1.3)
        "name": json.dumps(site_name, ensure_ascii=False),
        "address": json.dumps(address, ensure_ascii=False) if address else "",
        "title": " ".join(site_name.split()),
        "version": __version__,
        "next": _next_breaking(__version__),
    }
    written = []
    for name, place in FILES.items():
        text = (TEMPLATES / name).read_text(encoding="utf-8")
        if name in _WITH_VALUES:
            text = Template(text).substitute(values)
        written.append(_write(folder / place, text))
    for name in FORGE_FILES:
        written.append(_write(folder / ".github" / name, forge_text(name)))
    editor = editor_folder() / Path(EDITOR_FILE).name
    written.append(_write(folder / EDITOR_FILE, editor.read_text(encoding="utf-8")))
    remarks = ["An invented vehicle: delete this file once there is a real one."]
    example = starter(_EXAMPLE_VEHICLE, f"../{PATH}", remarks)
    refresh_schema(folder)
    return sorted([*written, _write(folder / EXAMPLE, example), folder / PATH])


def forge_text(name: str) -> str:
    """What a collection has for its forge, by one of the names of `FORGE_FILES`."""
    text = (forge_folder() / name).read_text(encoding="utf-8")
    if name in OF_A_COLLECTION:
        passage, instead = OF_A_COLLECTION[name]
        text, count = passage.subn(instead, text)
        assert count == 1, name
    return text


def _write(path: Path, text: str) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text.encode())
    return path


def _next_breaking(version: str) -> str:
    """The first version that may break what this one reads (Semantic Versioning 2.0, 4 and 8)."""
    major, minor, *_ = version.split(".")
    return f"0.{int(minor) + 1}" if major == "0" else str(int(major) + 1)
