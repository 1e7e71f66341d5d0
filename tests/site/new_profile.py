"""``sondebook new`` in an empty collection, and the answers that a plain car gives it."""

from __future__ import annotations

import sys
from pathlib import Path

from click.testing import CliRunner

from generator.cli import main

SONDEBOOK = Path(sys.executable).parent / "sondebook"
PLAIN = {
    "make": "Fenwright",
    "model": "Carrow",
    "years": "2009 to 2014",
    "engine": "1.6 petrol",
    "cylinders": "4",
    "arrangement": "inline",
    "mounting": "transverse",
    "bay": "front",
    "steering": "both",
}
SENSORS = ("1.1=wide-range:5:above:in the manifold", "1.2=switching:4")
SLUG = "fenwright-carrow-1-6-petrol"


def options(sensors: tuple[str, ...] = SENSORS, **changes: str | None) -> list[str]:
    plain = {**PLAIN, **changes}
    words = [word for key, value in plain.items() if value for word in (f"--{key}", value)]
    return [*words, *(word for each in sensors for word in ("--sensor", each))]


def new(*arguments: str) -> tuple[int, str]:
    result = CliRunner().invoke(main, ["new", *arguments])
    assert result.exception is None or isinstance(result.exception, SystemExit)
    return result.exit_code, result.output


def refused(*arguments: str) -> str:
    """What is said when nothing is written: one sentence, or two."""
    code, said = new(*arguments)
    assert code == 2
    assert said.startswith("sondebook: ")
    assert said.count("\n") == 1
    assert said.endswith((".\n", "?\n"))
    return said.removeprefix("sondebook: ").strip()
