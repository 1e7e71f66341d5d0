"""What several pages have in common is rendered once, and known again by its identity."""

from __future__ import annotations

from typing import Any

import pytest
from jinja2 import UndefinedError
from markupsafe import Markup

from generator.site.renderer import Once
from tests.site.jinja_pair import (
    Part,
    SubText,
    Translated,
    environments,
    values,
)


def macro_of(calls: list[tuple[object, ...]]) -> Any:
    def macro(*given_values: object) -> Markup:
        calls.append(given_values)
        return Markup("<p>{}</p>").format(len(calls))

    return macro


def test_the_same_object_is_made_once_and_an_equal_one_again() -> None:
    calls: list[tuple[object, ...]] = []
    once, macro = Once(), macro_of(calls)
    view, equal = Part(), Part()
    assert view == equal
    assert once(macro, view) == once(macro, view) == Markup("<p>1</p>")
    assert once(macro, equal) == Markup("<p>2</p>")
    assert [each[0] for each in calls] == [view, equal]


def test_text_is_compared_and_nothing_else_is() -> None:
    calls: list[tuple[object, ...]] = []
    once, macro = Once(), macro_of(calls)
    for word in ("".join(["a", "b"]), "ab", "".join(["a", "b"])):
        once(macro, word)
    assert len(calls) == 1
    once(macro, Markup("ab"))
    once(macro, SubText("ab"))
    assert len(calls) == 3
    one, other = [1000 * 1000], [1000 * 1000]
    once(macro, one)
    once(macro, other)
    assert len(calls) == 5


def test_the_macro_the_order_and_the_number_of_values_count() -> None:
    calls: list[tuple[object, ...]] = []
    once, first, second = Once(), macro_of(calls), macro_of(calls)
    for given_values in (("a", "b"), ("b", "a"), ("a",), (), ("a", "b", "")):
        once(first, *given_values)
    once(second, "a")
    assert len(calls) == 6


def test_a_text_is_not_taken_for_an_identity() -> None:
    calls: list[tuple[object, ...]] = []
    once, macro, view = Once(), macro_of(calls), Part()
    once(macro, view)
    once(macro, str(id(view)))
    once(macro, id(view))
    assert len(calls) == 3


def test_nothing_else_can_come_to_have_the_identity_of_what_was_given() -> None:
    """A view that was given and let go would free its identity for the next one."""

    def macro(part: Part) -> Markup:
        return Markup(part.number)

    once = Once()
    assert [once(macro, Part(number=n)) for n in range(300)] == [str(n) for n in range(300)]


def test_what_is_kept_does_not_grow_without_end() -> None:
    calls: list[tuple[object, ...]] = []
    once, macro = Once(), macro_of(calls)
    for n in range(3 * Once._MOST):
        assert once(macro, str(n)) == Markup("<p>{}</p>").format(n + 1)
    assert len(once._made) <= Once._MOST
    once(macro, "0")
    assert len(calls) == 3 * Once._MOST + 1, "let go, so made again"


def test_a_fault_in_a_macro_is_told_each_time() -> None:
    def broken(_value: object) -> Markup:
        raise UndefinedError("nothing")

    once = Once()
    for _ in range(2):
        with pytest.raises(UndefinedError):
            once(broken, "a")


def test_once_in_a_template_gives_what_the_macro_gives() -> None:
    templates = {
        "parts": (
            "{% macro box(part, title) %}<div>{{ title }}: {{ part.text }}</div>{% endmacro %}"
        ),
        "page": (
            "{% import 'parts' as parts %}"
            "{{ once(parts.box, part, '<t>') }}{{ once(parts.box, part, '<t>') }}"
            "{{ parts.box(part, '<t>') }}"
        ),
    }  # fmt: skip
    _, ours = environments(templates, Translated())
    once = ours.globals["once"] = Once()
    pages = [ours.get_template("page").render(values()) for _ in range(2)]
    one, two, plain = pages[0].split("</div>")[:3]
    assert one == two == plain and "&lt;t&gt;: a &lt; b" in one
    assert pages[0] == pages[1]
    assert len(once._made) >= 1
