"""What the options of ``sondebook new`` say, by the question each of them answers."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from generator.profile.answer_text import NotAnAnswer
from generator.profile.questions import MOST_BANKS, MOST_POSITIONS

_BANK_OPTION = re.compile(r"([0-9])=([^:]+)(?::(.*))?")
_SENSOR_OPTION = re.compile(r"([0-9])\.([0-9])=([^:]*):([^:]*)(?::([^:]*))?(?::(.*))?")


def given_by_options(
    plain: Mapping[str, str | None], banks: Sequence[str], sensors: Sequence[str]
) -> dict[str, str]:
    """The texts that options give, by the name of the question each answers.

    ``plain`` holds them by name already; ``banks`` are such as ``1=1,2,3:rear`` and ``sensors``
    such as ``1.2=switching:4:below:in the pipe``, the last two parts of which may be left out.

    Raises:
        NotAnAnswer: a bank or a sensor that is not written so, twice, or not counted from 1.
    """
    given = {name: text for name, text in plain.items() if text is not None}
    for number, (cylinders, side) in enumerate(_numbered_banks(banks), start=1):
        given[f"cylinders of bank {number}"] = cylinders
        if side:
            given[f"side of bank {number}"] = side
    if banks:
        given["number of banks"] = str(len(banks))
    counts = dict.fromkeys(range(1, MOST_BANKS + 1), 0)
    for (bank, position), texts in _numbered_sensors(sensors):
        counts[bank] = position
        for what, text in zip(("kind", "wires", "reach", "place"), texts, strict=True):
            if text:
                given[f"{what} of sensor {bank}.{position}"] = text
    if sensors:
        given |= {f"number of sensors in bank {bank}": str(n) for bank, n in counts.items()}
    return given


def _numbered_banks(options: Sequence[str]) -> list[tuple[str, str]]:
    found: dict[int, tuple[str, str]] = {}
    for option in options:
        match = _BANK_OPTION.fullmatch(option.strip())
        if match is None:
            raise NotAnAnswer(f"`--bank {option}` is not written as `--bank 1=1,2,3:rear`.")
        if int(match[1]) in found:
            raise NotAnAnswer(f"`--bank {match[1]}=...` is there twice.")
        found[int(match[1])] = match[2].strip(), (match[3] or "").strip()
    if sorted(found) != list(range(1, len(found) + 1)) or len(found) > MOST_BANKS:
        raise NotAnAnswer(f"`--bank` is counted from 1, and up to {MOST_BANKS}.")
    return [found[number] for number in sorted(found)]


def _numbered_sensors(
    options: Sequence[str],
) -> list[tuple[tuple[int, int], tuple[str, str, str, str]]]:
    found: dict[tuple[int, int], tuple[str, str, str, str]] = {}
    for option in options:
        match = _SENSOR_OPTION.fullmatch(option.strip())
        if match is None:
            raise NotAnAnswer(
                f"`--sensor {option}` is not written as `--sensor 1.1=wide-range:5`, or "
                "`--sensor 1.1=wide-range:5:above:in the manifold`."
            )
        number = int(match[1]), int(match[2])
        if number in found:
            raise NotAnAnswer(f"`--sensor {match[1]}.{match[2]}=...` is there twice.")
        kind, wires, reach, where = (each.strip() if each else "" for each in match.groups()[2:])
        found[number] = kind, wires, reach, where
    for bank, position in sorted(found):
        if not 1 <= bank <= MOST_BANKS or not 1 <= position <= MOST_POSITIONS:
            raise NotAnAnswer(
                f"There is no sensor {bank}.{position}: banks and positions are 1 to 4."
            )
        if position > 1 and (bank, position - 1) not in found:
            raise NotAnAnswer(
                f"`--sensor {bank}.{position}` is there without {bank}.{position - 1}: positions "
                "are counted along the exhaust, from 1."
            )
    return sorted(found.items())
