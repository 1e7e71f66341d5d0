"""Compiled templates give what plain Jinja2 gives on the same text, and say where they do not."""

from __future__ import annotations

from collections.abc import Iterator
from gettext import NullTranslations
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jinja2 import TemplateError, UndefinedError
from markupsafe import Markup

from generator.site.templates import said, value_html
from tests.site.jinja_pair import (
    OwnHtml,
    SubMarkup,
    SubText,
    Translated,
    environments,
    rendered,
    values,
)

PAGES = {
    "text": "{{ part.text }} | {{ part.inner.text }}",
    "numbers": "{{ part.number }} {{ part.share }} {{ 1 + 2 }} {{ -part.number }} {{ part.none }}",
    "markup": "{{ part.markup }} {{ part.text | safe }} {{ part.text | e }} {{ part.markup | e }}",
    "joined": "{{ part.text ~ part.markup ~ 1 }} {{ part.markup + part.text }}",
    "own html": "{{ own }} {{ sub }} {{ sub_markup }} {{ part.several }} {{ true }}",
    "keys": "{{ part.named['key'] }} {{ part.named['a-b'] }} {{ part.several[1] }}",
    "slices": "{{ part.several[1:] }} {{ part.several[-1] }} {{ part.several[::2] | join('<') }}",
    "calls": "{{ part.doubled('<') }} {{ part.doubled('x', times=3) }} {{ part.named.items() }}",
    "loops": (
        "{% for name, count in part.rows %}{{ loop.index }}{{ loop.first }}{{ name }}{{ count }}"
        "{% if not loop.last %}, {% endif %}{% else %}none{% endfor %}"
    ),
    "empty loop": "{% for each in [] %}{{ each }}{% else %}<p>none</p>{% endfor %}",
    "choice": "{% if part.none %}a{% elif part.text %}<b>{{ part.text }}</b>{% endif %}",
    "inline choice": "{{ 'x' if part.none else part.markup }} {{ part.none or part.text }}",
    "set": (
        "{% set name = part.text %}{{ name }}"
        "{% set block %}<i>{{ name }}</i>{% endset %}{{ block }}"
    ),
    "filters": "{{ part.several | join(', ') }} {{ part.text | upper }} {{ part.rows | length }}",
    "tests": "{{ part.none is none }} {{ 'x' in part.several }} {{ part.number is even }}",
    "blanks": "  {% if true %}\n   a\n  {% endif %}\n\n\tb {{- part.number -}} \n c\n",
    "comment": "a{# <b>{{ part.nothing }}</b> #}b",
    "raw": "{% raw %}{{ part.text }}{% endraw %}",
    "macro": (
        "{% macro cell(value, mark='<m>', end=none) %}"
        "[{{ value }}{{ mark }}{{ end }}]{% endmacro %}"
        "{{ cell(part.text) }}{{ cell(part.markup, part.text) }}{{ cell(1, end='>') }}"
        "{{ cell(value=part.text, mark=cell(2)) }}"
    ),
    "macro of a macro": (
        "{% macro inner(a) %}<i>{{ a }}</i>{% endmacro %}"
        "{% macro outer(a) %}<p>{{ inner(a) }}{{ inner(inner(a)) }}</p>{% endmacro %}"
        "{{ outer('<') }}"
    ),
    "macro with caller": (
        "{% macro box(title) %}<div>{{ title }}{{ caller() }}</div>{% endmacro %}"
        "{% call box('<t>') %}<p>{{ part.text }}</p>{% endcall %}"
    ),
    "macro with what else": (
        "{% macro many() %}{{ varargs | join('-') }}{{ kwargs['x'] }}{% endmacro %}"
        "{{ many('<', 2, x='>') }}"
    ),
    "macro with more": (
        "{% macro many(a) %}{{ a }}{{ varargs | join('-') }}{% endmacro %}"
        "{{ many('<', 2, '>') }}{{ many(1) }}"
    ),
    "sentence": "{{ _('Fuse') }} {{ gettext('Fuses %(count)s', count=part.text) }}",
    "sentence block": "{% trans %}Of the <b>sensor</b>{% endtrans %}",
    "sentence with values": (
        "{% trans name=part.text, mark=part.markup %}A {{ name }} {{ mark }}{% endtrans %}"
    ),
    "percent": "{% trans share=part.number %}{{ share }} % of 100 %{% endtrans %} {{ _('5 %%') }}",
    "plural": "{% trans count=part.number %}one{% pluralize %}{{ count }} of many{% endtrans %}",
    "plural call": "{{ ngettext('%(num)s bolt', '%(num)s bolts', 1) }}",
    "context": "{{ pgettext('of a page', 'Next') }}",
    "a name from outside": "{% set which = 'Fuse' %}{{ _(which) }}",
}  # fmt: skip


@pytest.mark.parametrize("name", PAGES)
def test_a_template_gives_what_plain_jinja_gives(name: str) -> None:
    plain, ours = rendered(PAGES[name], **values())
    assert ours == plain
    assert plain.strip(), "there is something to compare"


@pytest.mark.parametrize("name", PAGES)
def test_and_so_it_does_in_english(name: str) -> None:
    plain, ours = rendered(PAGES[name], NullTranslations(), **values())
    assert ours == plain


INHERITED = {
    "base": (
        "<title>{% block title %}base{% endblock %}</title>"
        "{% block main required %}{% endblock %}"
    ),
    "parts": "{% macro link(href, text) %}<a href=\"{{ href }}\">{{ text }}</a>{% endmacro %}",
    "piece": "<small>{{ part.text }}</small>",
    "page": (
        "{% extends 'base' %}{% import 'parts' as parts %}{% from 'parts' import link as linked %}"
        "{% block title %}{{ super() }} {{ part.text }}{% endblock %}"
        "{% block main %}{{ parts.link('x?a&b', part.text) }}{{ linked(part.markup, 1) }}"
        "{% include 'piece' %}{% endblock %}"
    ),
}  # fmt: skip


def test_pages_that_extend_import_and_include_give_the_same() -> None:
    plain, ours = rendered(INHERITED, **values())
    assert ours == plain
    assert "&lt; b &amp;" in ours and "<b>bold</b>" in ours


# ---- text is escaped, whatever it is


@pytest.mark.parametrize(
    ("value", "html"),
    [
        (3, "3"),
        (0.5, "0.5"),
        (True, "True"),
        (None, "None"),
        (["<"], "[&#39;&lt;&#39;]"),
        (SubText("<"), "&lt;"),
        (SubMarkup("<br>"), "<br>"),
        (OwnHtml(), "<i>own</i>"),
        (float("inf"), "inf"),
    ],
)
def test_a_value_that_is_no_text_is_escaped_by_its_type(value: object, html: str) -> None:
    assert value_html(value) == html
    assert rendered("{{ v }}", v=value) == (html, html)


def test_only_markup_is_let_through() -> None:
    page = "{{ a }}{{ a ~ b }}{{ b }}{{ [a] | join }}{{ '<>' if a }}{{ m(a) }}"
    text = "{% macro m(x) %}{{ x }}{% endmacro %}" + page
    _, ours = rendered(text, a="<script>", b=Markup("<i>"))
    assert "<script>" not in ours and ours.count("<i>") == 1 + 1


def test_where_escaping_is_off_it_is_off() -> None:
    page = "{% autoescape false %}{{ a }}{% endautoescape %}{{ a }}"
    assert rendered(page, a="<") == ("<&lt;", "<&lt;")


def test_the_values_of_a_sentence_are_html() -> None:
    told = said("%(a)s of %(b)s, 5 %%", a="<", b=Markup("<b>"))
    assert told == Markup("&lt; of <b>, 5 %") and type(told) is Markup


def test_a_macro_gives_markup() -> None:
    page = (
        "{% macro m(a) %}<i>{{ a }}</i>{% endmacro %}"
        "{% set made = m('<') %}{{ made }}{{ made | e }}"
    )
    plain, ours = rendered(page)
    assert ours == plain == "<i>&lt;</i>" * 2


# ---- what a value lacks is an error


@pytest.mark.parametrize(
    "page",
    [
        "{{ nothing }}",
        "{% if nothing %}{% endif %}",
        "{% for each in nothing %}{% endfor %}",
        "{{ nothing ~ 'x' }}",
        "{% macro m(a) %}{{ a }}{% endmacro %}{{ m() }}",
    ],
)
def test_a_name_that_is_not_given_is_an_error_in_both(page: str) -> None:
    for each in environments({"page": page}, Translated()):
        with pytest.raises(UndefinedError):
            each.get_template("page").render(values())


@pytest.mark.parametrize(
    ("page", "error"),
    [
        ("{{ part.nothing }}", AttributeError),
        ("{{ part.named.key }}", AttributeError),
        ("{{ part['text'] }}", TypeError),
        ("{{ part.named['nothing'] }}", KeyError),
        ("{{ part.several[9] }}", IndexError),
        ("{{ part.nothing is defined }}", AttributeError),
        ("{{ part.nothing | default('x') }}", AttributeError),
        ("{{ nothing.text }}", UndefinedError),
        ("{% macro m(a) %}{{ a }}{% endmacro %}{{ m(1, 2) }}", TypeError),
        ("{% macro m(a) %}{{ a }}{% endmacro %}{{ m(b=2) }}", TypeError),
    ],
)
def test_what_a_value_lacks_is_an_error(page: str, error: type[Exception]) -> None:
    """More than in Jinja2, which gives nothing for it, takes a key for an attribute, or asks."""
    _, ours = environments({"page": page}, Translated())
    with pytest.raises(error):
        ours.get_template("page").render(values())


def test_whether_a_name_is_given_may_be_asked() -> None:
    page = "{{ nothing is defined }}{{ part is defined }}{{ nothing | default('<') }}"
    plain, ours = rendered(page, **values())
    assert ours == plain == "FalseTrue&lt;"


def test_a_template_that_is_broken_is_an_error() -> None:
    _, ours = environments({"page": "{% if %}"}, Translated())
    with pytest.raises(TemplateError):
        ours.get_template("page")
    with pytest.raises(TemplateError):
        ours.get_template("nowhere")


# ---- sentences are looked up once; templates are read once


class Counting(Translated):
    """Notes what it is asked for."""

    def __init__(self) -> None:
        super().__init__()
        self.asked: list[str] = []

    def gettext(self, message: str) -> str:
        self.asked.append(message)
        return super().gettext(message)


def test_a_fixed_sentence_is_looked_up_when_a_template_is_read() -> None:
    t = Counting()
    _, ours = environments({"page": "{{ _('Fuse') }}{{ gettext('%(n)s fuses', n=count) }}"}, t)
    template = ours.get_template("page")
    assert t.asked == ["Fuse", "%(n)s fuses"]
    assert [template.render(count=n) for n in ("1", "<")] == [
        "«Fuse»«1 fuses»", "«Fuse»«&lt; fuses»",
    ]  # fmt: skip
    assert len(t.asked) == 2


def test_a_template_is_read_once() -> None:
    templates = {"page": "one"}
    _, ours = environments(templates, Translated())
    assert ours.get_template("page").render() == "one"
    templates["page"] = "two"
    assert ours.get_template("page").render() == "one", "a build sees one state of its templates"
    ours.cache = None
    same = ours.get_template("page")
    assert ours.get_template("page") is same
    assert ours.get_template(same) is same


def test_globals_are_there_in_every_template() -> None:
    _, ours = environments(INHERITED | {"piece": "{{ site }}"}, Translated())
    ours.globals["site"] = "<Club>"
    assert "&lt;Club&gt;" in ours.get_template("page").render(values())


# ---- any text, in any of the places where a page has text

PLACES = (
    "{% macro cell(value, mark='') %}<td class=\"{{ mark }}\">{{ value }}</td>{% endmacro %}"
    "{{ a }}|{{ a ~ b }}|{{ cell(a) }}|{{ cell(b, a) }}|{{ cell(value=a, mark=b) }}"
    "|{% trans name=a %}of {{ name }}{% endtrans %}|{{ _('%(x)s and %(y)s', x=a, y=b) }}"
    "|{% for each in all %}{{ loop.index }}{{ each }}{% else %}none{% endfor %}"
    "|{{ all | join(a) }}|{{ a if b else b }}|{{ named[a] }}|{{ number }}"
)
ANY = st.one_of(
    st.text(max_size=12),
    st.text(alphabet="<>&\"'{}%#\\\n\x00é", max_size=12),
    st.text(max_size=6).map(Markup),
    st.text(alphabet="<>&", max_size=6).map(Markup),
)


@pytest.fixture(scope="module")
def places() -> Iterator[tuple[Any, Any]]:
    plain, ours = environments({"page": PLACES}, Translated())
    yield plain.get_template("page"), ours.get_template("page")


@given(
    a=ANY,
    b=ANY,
    several=st.lists(st.one_of(ANY, st.integers(), st.none(), st.floats()), max_size=4),
    number=st.one_of(st.integers(), st.floats(), st.booleans(), st.none()),
)
@settings(max_examples=150)
def test_any_text_comes_out_as_in_plain_jinja(
    places: tuple[Any, Any], a: str, b: str, several: list[Any], number: Any
) -> None:
    given_values = {"a": a, "b": b, "all": several, "named": {a: b}, "number": number}
    plain, ours = (each.render(given_values) for each in places)
    assert ours == plain
