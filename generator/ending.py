"""How a command ends: its exit status, and the sentence of one that could not run."""

from __future__ import annotations

from typing import NoReturn

import click

FOUND, COULD_NOT_RUN = 1, 2


def give_up(sentence: str) -> NoReturn:
    """End a command that could not run, with a sentence for a person."""
    click.echo(f"sondebook: {sentence.removeprefix('sondebook: ')}", err=True)
    raise SystemExit(COULD_NOT_RUN)
