"""The starter: valid as it is, and with any of its offered keys opened."""

from __future__ import annotations

import re
from itertools import product
from typing import Any, NamedTuple

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.profile import ProfileFile, read_text
from generator.profile.answers import Answers, Named, SensorAnswers
from generator.profile.characters import as_seen, unfit
from generator.profile.model import Profile
from generator.profile.part import Part
from generator.profile.questions import usual_cylinders
from generator.profile.sensor_model import Reach, Sensor
from generator.profile.starter import MODELINE, starter
from generator.profile.yaml_text import block
from generator.trade import place
from generator.trade.place import Arrangement, Bay, Mounting, Wheel
from generator.trade.sensor import SensorKind
from generator.trade.sensor_wiring import WIRES
from tests.profile.test_schema import KEYS, VALIDATOR
from tests.profile.yaml_of_editors import data_of

LAYOUTS = [
    (place.Engine(cylinders, arrangement, mounting, bay), banks)
    for arrangement, mounting, bay in product(Arrangement, Mounting, Bay)
    for cylinders, banks in ((1, 1), (3, 1), (4, 1), (4, 2), (5, 2), (6, 2), (12, 4), (16, 3))
]
KINDS = [(kind, wires) for kind, span in WIRES.items() for wires in (span.fewest, span.most)]
TOP_KEYS = set(Profile.model_fields)
NAMED = Named("Fenwright", "Carrow", "2009 to 2014", "1.6 petrol")


def answers(
    engine: place.Engine, banks: int, sensors: list[tuple[SensorKind, int]], named: Named = NAMED
) -> Answers:
    """Answers with the banks as proposed, and sensors counted along each bank in turn."""
    sides = place.allowed_sides(engine, banks)
    merged = banks == 1 and engine.arrangement is not Arrangement.INLINE
    return Answers(
        named,
        engine,
        (Wheel.LEFT,),
        tuple(
            place.Bank(number, cylinders, None if merged else sides[number % 2])
            for number, cylinders in enumerate(usual_cylinders(engine, banks), start=1)
        ),
        tuple(
            SensorAnswers(at % banks + 1, at // banks + 1, kind, wires, Reach.BELOW, "on the pipe")
            for at, (kind, wires) in enumerate(sensors)
        ),
    )


def written(given_answers: Answers) -> str:
    return starter(given_answers.as_data(), "../docs/reference/profile.schema.json")


def read(text: str) -> ProfileFile:
    return read_text(text.encode(), "a-car.yml", "a-car")


class Offer(NamedTuple):
    """An offered key: where its lines are, its name, its indent and its comment."""

    start: int
    end: int
    key: str
    indent: int
    comment: str


def offers(text: str) -> list[Offer]:
    """Every commented line that begins with a key, with the lines that belong to it."""
    lines = text.splitlines()
    body = lines.index("")
    found = []
    for at, line in enumerate(lines[body:], start=body):
        match = re.fullmatch(r"( *)# (\w+):.*?  # (.+)", line)
        if match:
            end = at + 1
            while end < len(lines) and lines[end].startswith(f"{match[1]}#   "):
                end += 1
            found.append(Offer(at, end, match[2], len(match[1]), match[3]))
    return found


def opened(text: str, chosen: list[Offer]) -> str:
    lines = text.splitlines()
    for offer in chosen:
        for at in range(offer.start, offer.end):
            assert lines[at].startswith(f"{' ' * offer.indent}# ")
            lines[at] = lines[at].replace("# ", "", 1)
    return "\n".join(lines) + "\n"


def test_the_head_leads_to_the_schema_and_the_rest_is_short() -> None:
    text = written(answers(LAYOUTS[2][0], 1, [(SensorKind.SWITCHING, 4)]))
    lines = text.splitlines()
    assert lines[0] == f"{MODELINE}../docs/reference/profile.schema.json"
    assert "Fenwright Carrow 1.6 petrol" in text
    assert max(map(len, lines)) <= 120
    assert len(lines) < 90


@pytest.mark.parametrize(
    ("engine", "banks"), LAYOUTS, ids=[f"{e.arrangement}-{e.mounting}-{e.bay}-{e.cylinders}-{b}"
                                       for e, b in LAYOUTS]
)  # fmt: skip
def test_every_layout_starts_without_a_finding(engine: place.Engine, banks: int) -> None:
    kinds = [(SensorKind.WIDE_RANGE, 5)] * banks + [(SensorKind.SWITCHING, 4)] * banks
    text = written(answers(engine, banks, kinds))
    result = read(text)
    assert result.findings == (), text
    assert VALIDATOR.is_valid(data_of(text))


@pytest.mark.parametrize(("kind", "wires"), KINDS)
def test_an_opened_key_is_valid_or_needs_only_what_its_comment_says(
    kind: SensorKind, wires: int
) -> None:
    text = written(answers(LAYOUTS[2][0], 1, [(kind, wires)]))
    found = offers(text)
    tops = {offer.key: offer for offer in found if offer.indent == 0}
    assert len(found) >= 14
    alone = 0
    for offer in found:
        needed = [tops[key] for key in re.findall(r"`(\w+)`", offer.comment) if key in tops]
        by_itself = read(opened(text, [offer]))
        if not needed:
            assert not by_itself.has_errors, (offer, by_itself.findings)
            alone += 1
        chosen = _with_their_needs([offer], tops)
        together = read(opened(text, chosen))
        assert not together.has_errors, (offer, together.findings)
        assert VALIDATOR.is_valid(data_of(opened(text, chosen)))
        if by_itself.has_errors:
            assert {each.rule for each in by_itself.findings if each.severity == "error"} == {
                "unknown-name"
            }
    assert alone >= 9


def _with_their_needs(chosen: list[Offer], tops: dict[str, Offer]) -> list[Offer]:
    """The offers with what their comments name, and what the comments of that name."""
    found = list(chosen)
    for offer in found:
        for key in re.findall(r"`(\w+)`", offer.comment):
            if key in tops and tops[key] not in found:
                found.append(tops[key])
    return found


@pytest.mark.parametrize(("kind", "wires"), KINDS)
def test_all_keys_opened_at_once_are_valid(kind: SensorKind, wires: int) -> None:
    text = written(answers(LAYOUTS[2][0], 1, [(kind, wires)]))
    whole = opened(text, offers(text))
    assert not read(whole).has_errors, read(whole).findings
    assert VALIDATOR.is_valid(data_of(whole))


def test_all_keys_opened_on_an_ordinary_car_leave_nothing_to_find() -> None:
    text = written(answers(LAYOUTS[2][0], 1, [(SensorKind.SWITCHING, 4)]))
    assert [str(each) for each in read(opened(text, offers(text))).findings] == []


def _parts_shown() -> list[tuple[type[Part], str]]:
    shown = {"Profile", "Vehicle", "Engine", "Bank", "Where", "Sensor"}
    # An exception is written once the check has warned
    return [(part, key) for part, key in KEYS if part.__name__ in shown and key != "exceptions"]


@pytest.mark.parametrize(("part", "key"), _parts_shown(), ids=str)
def test_every_key_stands_in_it_with_what_the_model_says(part: type[Part], key: str) -> None:
    both = written(
        answers(LAYOUTS[2][0], 1, [(SensorKind.SWITCHING, 4), (SensorKind.WIDE_RANGE, 5)])
    )
    said = part.model_fields[key].description
    assert said
    lines = [
        line for line in both.splitlines() if re.match(rf"[ #-]*{key}:", line) and said in line
    ]
    assert len(lines) == 1, lines


def test_a_key_is_offered_only_where_it_can_be_right() -> None:
    unheated = written(answers(LAYOUTS[2][0], 1, [(SensorKind.SWITCHING, 1)]))
    keys = {offer.key for offer in offers(unheated)}
    assert keys & {"heater", "fuse", "fuses", "supply_wire", "readings", "curve"} == set()
    wide = {o.key for o in offers(written(answers(LAYOUTS[2][0], 1, [(SensorKind.WIDE_RANGE, 5)])))}
    assert wide >= set(Sensor.model_fields) - {"bank", "position", "kind", "wires", "place"}


def test_a_third_position_has_its_catalyst() -> None:
    sensors = [(SensorKind.SWITCHING, 4)] * 3
    result = read(written(answers(LAYOUTS[2][0], 1, sensors)))
    assert result.findings == ()
    assert result.profile is not None
    assert result.profile.banks[1].catalysts == 2


WORDS = st.text(min_size=1, max_size=60).filter(
    lambda text: text.strip() and text.isprintable() and _is_plain(text)
)


def _is_plain(text: str) -> bool:
    return not unfit(text) and as_seen(text) == text


@given(make=WORDS, model=WORDS, engine=WORDS)
@settings(max_examples=80)
def test_any_words_come_back_as_they_were(make: str, model: str, engine: str) -> None:
    named = Named(make, model, "2009 on", engine)
    result = read(written(answers(LAYOUTS[2][0], 1, [(SensorKind.SWITCHING, 4)], named)))
    assert result.profile is not None, result.findings
    got: Any = result.profile
    assert (got.vehicle.make, got.vehicle.model) == (make.strip(), model.strip())
    assert got.engine.name == engine.strip()


def test_sentences_stand_in_lines_of_their_own() -> None:
    assert block({"steps": ["Lift it.", "Turn, then pull."], "behind": ["one", "two"]}) == [
        "steps:",
        "  - Lift it.",
        "  - Turn, then pull.",
        "behind: [one, two]",
    ]
