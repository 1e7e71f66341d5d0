"""What ``sondebook new`` asks: the questions in their order, their choices, and what is refused.

Nothing is asked here: whoever does it, a person at a terminal or the options of a command, is
handed each question and gives back what the question reads out of a text.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import pairwise
from typing import Generic, Protocol, TypeVar

from generator.profile.answer_text import (
    NotAnAnswer,
    field_at,
    listed_cylinders,
    read_at,
    read_count,
    read_cylinders,
    read_wires,
    read_word,
    refuse_unwritable,
)
from generator.profile.answers import Answers, Named, SensorAnswers
from generator.profile.characters import as_seen
from generator.profile.examples import examples_of
from generator.profile.finding import Path
from generator.profile.sensor_model import Reach
from generator.profile.yaml_text import flow
from generator.trade import place
from generator.trade.place import Arrangement, Bay, Mounting, PositionPlace, Side, Wheel
from generator.trade.sensor import SensorKind
from generator.trade.sensor_wiring import WIRES

T = TypeVar("T")
Word = TypeVar("Word", bound=StrEnum)

MOST_BANKS = 4
MOST_POSITIONS = 4
_NO_SIDE = "none"
_BOTH = "both"
_YES_OR_NO = frozenset({"y", "yes", "n", "no", "ok"})
_USUAL_PLACE = {
    PositionPlace.BEFORE_CATALYST: "in the exhaust before the catalyst",
    PositionPlace.AFTER_CATALYST: "in the exhaust after the catalyst",
    PositionPlace.FURTHER_DOWN: "further down the exhaust",
}
_SPANS = ", ".join(f"{kind} {span.fewest} to {span.most}" for kind, span in WIRES.items())
_KINDS_BY_WIRES = f"Its kind; wires (common practice, no source): {_SPANS}."


@dataclass(frozen=True, slots=True)
class Question(Generic[T]):
    """One question: its name, what it means, how an option answers it, and how a text is read.

    ``proposal`` is what is usual; where ``is_settled``, nothing else can be right. ``read`` raises
    `NotAnAnswer`.
    """

    name: str
    meaning: str
    option: str
    read: Callable[[str], T]
    choices: tuple[str, ...] = ()
    proposal: str = ""
    is_settled: bool = False


class Asking(Protocol):
    """Whoever puts a question and gives back its answer."""

    def __call__(self, question: Question[T], /) -> T:
        """The answer to a question."""


def ask_names(ask: Asking) -> Named:
    """Ask which vehicle it is."""
    return Named(
        ask(_text_question("make", ("vehicle", "make"))),
        ask(_text_question("model", ("vehicle", "model"))),
        ask(_text_question("years", ("vehicle", "years"))),
        ask(_text_question("engine", ("engine", "name"))),
    )


def ask_rest(ask: Asking, named: Named) -> Answers:
    """Ask how the engine stands, which banks it has, and which sensors."""
    engine = place.Engine(
        ask(_number_question("cylinders", ("engine", "cylinders"))),
        ask(_word_question("arrangement", ("engine", "arrangement"), Arrangement)),
        ask(_word_question("mounting", ("engine", "mounting"), Mounting)),
        ask(_word_question("bay", ("engine", "bay"), Bay)),
    )
    steering = ask(_steering_question())
    banks = _ask_banks(ask, engine)
    return Answers(named, engine, steering, banks, _ask_sensors(ask, len(banks)))


# ---- banks and sensors


def _ask_banks(ask: Asking, engine: place.Engine) -> tuple[place.Bank, ...]:
    count = ask(_bank_count_question(engine))
    usual = usual_cylinders(engine, count)
    taken: list[tuple[int, ...]] = []
    for number in range(1, count + 1):
        taken.append(ask(_cylinders_question(engine, number, count, taken, usual[number - 1])))
    sides: list[Side | None] = []
    for number in range(1, count + 1):
        sides.append(ask(_side_question(engine, number, count, sides)))
    return tuple(
        place.Bank(number, cylinders, side)
        for number, (cylinders, side) in enumerate(zip(taken, sides, strict=True), start=1)
    )


def usual_cylinders(engine: place.Engine, banks: int) -> list[tuple[int, ...]]:
    """The cylinders of each bank as they are often counted: a proposal, never more.

    From side to side in a flat engine with two banks, one bank after the other in all others
    (common practice, no source).
    """
    every = range(1, engine.cylinders + 1)
    if engine.arrangement is Arrangement.FLAT and banks == 2:
        return [tuple(every[0::2]), tuple(every[1::2])]
    edges = [round(engine.cylinders * each / banks) for each in range(banks + 1)]
    return [tuple(every[low:high]) for low, high in pairwise(edges)]


def _bank_count_question(engine: place.Engine) -> Question[int]:
    most = min(MOST_BANKS, engine.cylinders)
    usual = 1 if engine.arrangement is Arrangement.INLINE else min(2, most)
    return Question(
        "number of banks",
        "Banks: groups of cylinders whose exhaust passes sensors of its own.",
        "--bank 1=1,2,3:rear",
        lambda text: read_count(text, 1, most, "banks"),
        proposal=str(usual),
        is_settled=most == 1,
    )


def _cylinders_question(
    engine: place.Engine,
    number: int,
    count: int,
    taken: Sequence[tuple[int, ...]],
    usual: tuple[int, ...],
) -> Question[tuple[int, ...]]:
    """The cylinders of one bank; the last bank gets what is left."""
    gone = {each for bank in taken for each in bank}
    left = tuple(each for each in range(1, engine.cylinders + 1) if each not in gone)
    is_last = number == count
    room = len(left) - (count - number)
    fits = set(usual) <= set(left) and len(usual) <= room and not is_last
    proposed = usual if fits else left[:room]

    def read(text: str) -> tuple[int, ...]:
        cylinders = read_cylinders(text, engine.cylinders)
        if already := [each for each in cylinders if each in gone]:
            raise NotAnAnswer(f"Cylinder {already[0]} is in an earlier bank already.")
        if number == 1 and 1 not in cylinders:
            raise NotAnAnswer("Bank 1 is the bank that holds cylinder 1.")
        rest = [each for each in left if each not in cylinders]
        if is_last and rest:
            raise NotAnAnswer(f"Cylinder {rest[0]} would be in no bank.")
        if not is_last and len(rest) < count - number:
            raise NotAnAnswer("That leaves no cylinder for the banks after it.")
        return cylinders

    return Question(
        f"cylinders of bank {number}",
        "The cylinders whose exhaust it collects; look at how yours are counted.",
        f"--bank {number}={listed_cylinders(proposed)}:SIDE",
        read,
        proposal=listed_cylinders(proposed),
        is_settled=is_last,
    )


def _side_question(
    engine: place.Engine, number: int, count: int, sides: Sequence[Side | None]
) -> Question[Side | None]:
    """The side of one bank; of two banks the second is on the other side."""
    allowed = place.allowed_sides(engine, count)
    merged = count == 1 and engine.arrangement is not Arrangement.INLINE
    if count == 2 and sides:
        allowed_words = tuple(side.value for side in allowed if side is not sides[0])
    else:
        allowed_words = tuple(side.value for side in allowed)
    choices = (_NO_SIDE, *allowed_words) if merged else allowed_words
    meaning = (
        "Its side; none where the exhausts of all cylinders join before the sensor."
        if merged
        else "Its side, the vehicle's own, as seen from the driver's seat looking forward."
    )

    def read(text: str) -> Side | None:
        word = read_word(text, choices)
        return None if word == _NO_SIDE else Side(word)

    return Question(
        f"side of bank {number}",
        meaning,
        f"--bank {number}=CYLINDERS:{choices[-1]}",
        read,
        choices,
        proposal=choices[(number - 1) % len(choices)],
        is_settled=len(choices) == 1,
    )


def _ask_sensors(ask: Asking, banks: int) -> tuple[SensorAnswers, ...]:
    found: list[SensorAnswers] = []
    for bank in range(1, banks + 1):
        count = ask(_sensor_count_question(bank, needed=bank == banks and not found))
        for position in range(1, count + 1):
            alike = next((each for each in found if each.position == position), None)
            found.append(_ask_sensor(ask, bank, position, alike))
    return tuple(found)


def _ask_sensor(
    ask: Asking, bank: int, position: int, alike: SensorAnswers | None
) -> SensorAnswers:
    named = f"sensor {bank}.{position}"
    where_usual = _USUAL_PLACE[place.position_place(position)]
    option = f"--sensor {bank}.{position}"
    of_kind = _word_question(
        f"kind of {named}",
        ("sensors", 0, "kind"),
        SensorKind,
        f"{option}=switching:4",
        alike.kind.value if alike else "",
    )
    told = f"Sensor {bank}.{position} is of bank {bank}, {where_usual}.\n{_KINDS_BY_WIRES}"
    kind = ask(replace(of_kind, meaning=told))
    span = WIRES[kind]
    wires = ask(
        Question(
            f"wires of {named}",
            "Wires, counted where the cable leaves the sensor.",
            f"{option}={kind}:{span.most}",
            lambda text: read_wires(text, kind),
            proposal=str(alike.wires) if alike and alike.kind is kind else "",
        )
    )
    full = f"{option}={kind}:{wires}"
    reach = ask(
        _word_question(
            f"reach of {named}", ("sensors", 0, "place", "reach"), Reach, f"{full}:below", "below"
        )
    )
    where = ask(
        _text_question(
            f"place of {named}",
            ("sensors", 0, "place", "where"),
            f"{full}:{reach}:WHERE",
            where_usual,
        )
    )
    return SensorAnswers(bank, position, kind, wires, reach, where)


def _sensor_count_question(bank: int, *, needed: bool) -> Question[int]:
    return Question(
        f"number of sensors in bank {bank}",
        "Sensors in its exhaust, counted along it from the engine.",
        f"--sensor {bank}.1=wide-range:5",
        lambda text: read_count(text, 1 if needed else 0, MOST_POSITIONS, "sensors"),
        proposal="2",
    )


# ---- kinds of questions


def _text_question(name: str, path: Path, option: str = "", proposal: str = "") -> Question[str]:
    field = field_at(path)
    example = flow(examples_of(field)[0])
    example = f'"{example}"' if " " in example else example

    def read(text: str) -> str:
        refuse_unwritable(text)
        seen = as_seen(text).strip()
        if proposal and seen.casefold() in _YES_OR_NO:
            raise NotAnAnswer(
                f"`{seen}` is no {name}. Enter takes `{proposal}`; else say it in words."
            )
        read_at(path, seen)
        return seen

    return Question(
        name, field.description or "", option or f"--{name} {example}", read, proposal=proposal
    )


def _number_question(name: str, path: Path) -> Question[int]:
    field = field_at(path)
    example = examples_of(field)[0]

    def read(text: str) -> int:
        return int(read_at(path, text))

    return Question(name, field.description or "", f"--{name} {example}", read)


def _word_question(
    name: str,
    path: Path,
    words: type[Word],
    option: str = "",
    proposal: str = "",
) -> Question[Word]:
    meaning = field_at(path).description or ""
    choices = tuple(word.value for word in words)

    def read(text: str) -> Word:
        return words(read_word(text, choices))

    option = option or f"--{name} {choices[0]}"
    return Question(name, meaning, option, read, choices, proposal)


def _steering_question() -> Question[tuple[Wheel, ...]]:
    choices = (*(wheel.value for wheel in Wheel), _BOTH)

    def read(text: str) -> tuple[Wheel, ...]:
        word = read_word(text, choices)
        return tuple(Wheel) if word == _BOTH else (Wheel(word),)

    return Question(
        "steering",
        "On which side the steering wheel was built.",
        f"--steering {_BOTH}",
        read,
        choices,
    )
