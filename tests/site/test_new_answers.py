"""Whatever is answered, the profile that is written has no errors."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.new_command import Dialogue
from generator.profile import read_text
from generator.profile.answer_text import NotAnAnswer
from generator.profile.answers import Answers
from generator.profile.given import given_by_options
from generator.profile.questions import Question, ask_names, ask_rest
from generator.profile.starter import starter
from generator.trade.place import Arrangement, Bay, Mounting
from generator.trade.sensor import SensorKind
from generator.trade.sensor_wiring import WIRES
from tests.site.new_profile import PLAIN


def answered(given_texts: dict[str, str]) -> Answers:
    dialogue = Dialogue(given_texts, asks=False, at_terminal=False)
    return ask_rest(dialogue, ask_names(dialogue))


def findings(answers: Answers) -> list[str]:
    text = starter(answers.as_data(), "schema.json")
    return [str(each) for each in read_text(text.encode(), "a.yml", "a").findings]


@pytest.mark.parametrize("cylinders", range(1, 17))
def test_every_layout_is_proposed_without_a_finding(cylinders: int) -> None:
    for arrangement, mounting, bay in product(Arrangement, Mounting, Bay):
        for banks in range(1, min(4, cylinders) + 1):
            texts = {
                **PLAIN,
                "cylinders": str(cylinders),
                "arrangement": arrangement.value,
                "mounting": mounting.value,
                "bay": bay.value,
                "number of banks": str(banks),
                **given_by_options(
                    {}, (), [f"{bank}.1=switching:4" for bank in range(1, banks + 1)]
                ),
            }
            answers = answered(texts)
            assert len(answers.banks) == banks
            assert findings(answers) == [], texts


@pytest.mark.parametrize("kind", SensorKind)
def test_every_number_of_wires_of_a_kind_is_without_a_finding(kind: SensorKind) -> None:
    for wires in range(WIRES[kind].fewest, WIRES[kind].most + 1):
        sensors = [f"1.{position}={kind}:{wires}" for position in range(1, 5)]
        assert findings(answered(given_by_options(PLAIN, (), sensors))) == []


class Anyone:
    """Answers each question with whatever hypothesis draws, until the answer is taken."""

    def __init__(self, data: st.DataObject) -> None:
        self.data = data

    def __call__(self, question: Question[object], /) -> object:
        words = st.one_of(
            st.sampled_from([*question.choices, question.proposal, "1", "2", "4", "6", "2011"]),
            st.text(max_size=6),
            st.lists(st.integers(1, 8), max_size=5).map(lambda each: " ".join(map(str, each))),
        )
        for _ in range(5):
            try:
                return question.read(self.data.draw(words, label=question.name))
            except NotAnAnswer as refusal:
                assert str(refusal).endswith((".", "?"))
        known = {**PLAIN, **{f"place of sensor {b}.{p}": "x" for b in "1234" for p in "1234"}}
        for text in (question.proposal, known.get(question.name, ""), *question.choices, "4"):
            if text:
                return question.read(text)
        raise AssertionError(question.name)


@given(st.data())
@settings(max_examples=150)
def test_whatever_is_answered_the_profile_has_no_errors(data: st.DataObject) -> None:
    anyone = Anyone(data)
    answers = ask_rest(anyone, ask_names(anyone))
    text = starter(answers.as_data(), "schema.json")
    read = read_text(text.encode(), "a.yml", "a")
    assert not read.has_errors, (text, read.findings)
    assert {each.rule for each in read.findings} <= {"years"}
