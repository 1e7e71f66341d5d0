"""Git, asked for what stands in a repository."""

from __future__ import annotations

import subprocess


class GitFailed(Exception):
    """Git cannot be run, or refused; the message is one sentence."""


def git(*arguments: str, asked: bytes = b"") -> bytes:
    """What git answers, in the folder that this is run in; ``asked`` is what it reads.

    Raises:
        GitFailed: there is no git, or it ended with an error.
    """
    try:
        done = subprocess.run(["git", *arguments], input=asked, capture_output=True, check=False)
    except OSError as error:
        raise GitFailed(f"git cannot be run: {error.strerror}.") from None
    if done.returncode:
        told = done.stderr.decode("utf-8", "replace").strip().partition("\n")[0]
        raise GitFailed(f"{told or 'git failed'}.")
    return done.stdout
