"""A progress line for a person watching; nothing where nobody is."""

from __future__ import annotations

import sys

from generator.profile.folder import Progress


def progress_line(what: str) -> Progress:
    """Count on one line of the error stream, when that is a terminal."""
    if not sys.stderr.isatty():
        return lambda done, of: None

    def tell(done: int, of: int) -> None:
        if done == of or done % 25 == 0:
            sys.stderr.write(f"\r{what}: {done} of {of}" + ("\n" if done == of else ""))
            sys.stderr.flush()

    return tell
