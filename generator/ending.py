"""How a command ends: its exit status, and the sentence of one that could not run."""

from __future__ import annotations

from pathlib import Path
from typing import NoReturn

import click

FOUND, COULD_NOT_RUN = 1, 2


def give_up(sentence: str) -> NoReturn:
    """End a command that could not run, with a sentence for a person."""
    click.echo(f"sondebook: {sentence.removeprefix('sondebook: ')}", err=True)
    raise SystemExit(COULD_NOT_RUN)


def give_up_on(verb: str, error: OSError, place: Path | str) -> NoReturn:
    """End a command that could not do something with a file, naming the file.

    ``place`` is named where the error knows no name, as on a full disk.
    """
    give_up(f"cannot {verb} {error.filename or place}: {error.strerror}.")
