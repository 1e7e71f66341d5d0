"""How the command was called, for sentences that say what to run next."""

from __future__ import annotations

import os
import shutil
import sys
from pathlib import Path

NAME = "sondebook"


def called_as() -> str:
    """The command as it can be called again from here: its name, or the way to its program."""
    program = Path(sys.argv[0])
    if program.stem != NAME or not program.exists():
        return NAME
    found = shutil.which(NAME)
    if found and Path(found).resolve() == program.resolve():
        return NAME
    way = Path(os.path.relpath(program))
    return str(program if ".." in way.parts else way)
