"""Many vehicles as profile files: the demo profiles with other names and other values."""

from __future__ import annotations

import random
import re
from pathlib import Path

MAKES = ("Ashdown", "Brackley", "Calder", "Dunmere", "Eastlow", "Farnholt", "Garrick", "Holmwell")
MODELS = ("Alder", "Birch", "Cairn", "Dell", "Esker", "Fell", "Glen", "Heath", "Inlet", "Knoll")
_VALUE = re.compile(r"([0-9.]+) to ([0-9.]+) (ohm|N·m|lbf·ft|in-lb)")
_YEARS = re.compile(r"(?m)^  years: .*$")


def write_profiles(demo: Path, folder: Path, count: int) -> int:
    """Write so many profiles made from the demo ones; the number of bytes written."""
    originals = [path.read_text() for path in sorted(demo.glob("*.yml"))]
    size = 0
    for number in range(count):
        chance = random.Random(number)
        text = _varied(originals[number % len(originals)], number, chance)
        size += (folder / f"vehicle-{number:04d}.yml").write_bytes(text.encode())
    return size


def _varied(text: str, number: int, chance: random.Random) -> str:
    make, model = (re.findall(rf"(?m)^  {key}: (.*)$", text)[0] for key in ("make", "model"))
    names = {make: MAKES[number % len(MAKES)], model: f"{chance.choice(MODELS)} {number}"}
    for before, after in names.items():
        text = text.replace(before, after)
    first = chance.randrange(1996, 2015)
    text = _YEARS.sub(f"  years: {first} to {first + chance.randrange(8)}", text)
    scale = chance.uniform(0.95, 1.05)
    return _VALUE.sub(
        lambda found: f"{_scaled(found[1], scale)} to {_scaled(found[2], scale)} {found[3]}", text
    )


def _scaled(number: str, scale: float) -> str:
    decimals = len(number.partition(".")[2])
    return f"{float(number) * scale:.{decimals}f}"
