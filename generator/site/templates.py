"""Jinja2's language and escaping, compiled to do less work for each value of a page.

Jinja2 asks at run time what is known when a template is read. Here an attribute is read as one, a
macro or function is called directly, and a value is escaped by its type: the pages are the same,
and a build takes two thirds of the time. Text is escaped as ever; only ``Markup`` is let through.

What a template may not do in turn: ask for an attribute as if it were a key or the other way round,
and ask whether an attribute or a key is defined. What a value lacks is an error.
"""

from __future__ import annotations

from collections.abc import Callable, MutableMapping
from gettext import NullTranslations
from types import CodeType
from typing import Any

from jinja2 import Environment, Template, nodes
from jinja2.compiler import CodeGenerator, Frame, MacroRef
from jinja2.runtime import Macro
from jinja2.utils import missing
from markupsafe import Markup, _escape_inner, escape  # type: ignore[attr-defined]

# These are called with the context of the page
_OF_CONTEXT = {"_", "gettext", "ngettext", "pgettext", "npgettext"}
# Never characters that HTML knows
_PLAIN_TYPES = (int, float)
# Text as HTML, and a string as Markup, each without a step through Python
_text_html: Callable[[str], str] = _escape_inner
_new_string: Callable[[type[Markup], str], Markup] = str.__new__

_MOST_COMPILED = 512
# By what stands in the template, its name, and its file
_compiled: dict[tuple[str, str | None, str | None], CodeType] = {}


class DirectMacro(Macro):
    """A macro that is called like a function when it has no block to call and no keywords."""

    def __init__(self, environment: Environment, *given: Any) -> None:
        super().__init__(environment, *given)
        self._absent = (missing,) * len(self.arguments)
        self._is_plain = not (self.caller or self.catch_kwargs or self.catch_varargs)

    def __call__(self, *given: Any, **named: Any) -> str:
        """The macro's HTML."""
        if named or not self._is_plain:
            return super().__call__(*given, **named)
        return _new_string(Markup, self._func(*given, *self._absent[len(given) :]))


def value_html(value: object) -> str:
    """A value that is neither text nor ``Markup`` as HTML."""
    if type(value) in _PLAIN_TYPES:
        return str(value)
    own = getattr(value, "__html__", None)
    return own() if own else escape(value)


def said(sentence: str, **values: object) -> Markup:
    """A sentence of ours, in the words of the page's language, with its values as HTML."""
    return _new_string(Markup, sentence % {name: _html(each) for name, each in values.items()})


def _html(value: object) -> str:
    if type(value) is str:
        return _text_html(value)
    return value if type(value) is Markup else value_html(value)


# Its methods are named by Jinja2
class _DirectCode(CodeGenerator):
    def visit_Template(self, node: nodes.Template, frame: Frame | None = None) -> None:  # noqa: N802
        self.writeline(f"from {__name__} import DirectMacro, Markup, _text_html, said, value_html")
        super().visit_Template(node, frame)

    def _output_child_pre(self, node: nodes.Expr, frame: Frame, finalize: Any) -> None:
        if frame.eval_ctx.volatile or not frame.eval_ctx.autoescape:
            super()._output_child_pre(node, frame, finalize)
        else:
            self.write("(_text_html(_v) if (_t := type(_v := ")

    def _output_child_post(self, node: nodes.Expr, frame: Frame, finalize: Any) -> None:
        if frame.eval_ctx.volatile or not frame.eval_ctx.autoescape:
            super()._output_child_post(node, frame, finalize)
        else:
            self.write(")) is str else _v if _t is Markup else value_html(_v))")

    def visit_Getattr(self, node: nodes.Getattr, frame: Frame) -> None:  # noqa: N802
        self.visit(node.node, frame)
        self.write(f".{node.attr}")

    def visit_Getitem(self, node: nodes.Getitem, frame: Frame) -> None:  # noqa: N802
        self.visit(node.node, frame)
        self.write("[")
        self.visit(node.arg, frame)
        self.write("]")

    def visit_Call(self, node: nodes.Call, frame: Frame, forward_caller: bool = False) -> None:  # noqa: N802
        of_context = isinstance(node.node, nodes.Name) and node.node.name in _OF_CONTEXT
        if of_context and len(node.args) == 1 and isinstance(node.args[0], nodes.Const):
            # The environment speaks one language, so the sentence is looked up here and now
            translations: NullTranslations = self.environment.translations  # type: ignore[attr-defined]
            self.write(f"said({translations.gettext(node.args[0].value)!r}, ")
            arguments: list[nodes.Expr | nodes.Keyword] = [*node.kwargs]
        elif of_context or node.dyn_args or node.dyn_kwargs:
            super().visit_Call(node, frame, forward_caller=forward_caller)
            return
        else:
            self.visit(node.node, frame)
            self.write("(")
            arguments = [*node.args, *node.kwargs]
        for argument in arguments:
            self.visit(argument, frame)
            self.write(", ")
        self.write("caller=caller)" if forward_caller else ")")

    def macro_def(self, macro_ref: MacroRef, frame: Frame) -> None:
        self.write("Direct")
        super().macro_def(macro_ref, frame)


class DirectEnvironment(Environment):
    """An environment whose templates are compiled as this module says, and stay as they are.

    It needs the attribute ``translations`` before the first template is read.
    """

    code_generator_class = _DirectCode

    def __init__(self, **options: Any) -> None:
        super().__init__(**options, auto_reload=False)
        self._templates: dict[str, Template] = {}

    def get_template(
        self,
        name: str | Template,
        parent: str | None = None,
        globals: MutableMapping[str, Any] | None = None,
    ) -> Template:
        """The template of a name, which is asked for a dozen times a page."""
        template = self._templates.get(name) if isinstance(name, str) else name
        if template is None:
            template = self._templates[str(name)] = super().get_template(name, parent, globals)
        return template

    def compile(
        self,
        source: str | nodes.Template,
        name: str | None = None,
        filename: str | None = None,
        raw: bool = False,
        defer_init: bool = False,
    ) -> Any:
        """The code of a template; that of an English one is kept for the next environment.

        A preview builds again and again in one process; compiling was a third of it.
        """
        given = source, name, filename, raw, defer_init
        translations: NullTranslations = self.translations  # type: ignore[attr-defined]
        if raw or not isinstance(source, str) or type(translations) is not NullTranslations:
            return super().compile(*given)  # type: ignore[call-overload]
        key = self.preprocess(source, name, filename), name, filename
        if key not in _compiled:
            if len(_compiled) >= _MOST_COMPILED:
                _compiled.clear()
            _compiled[key] = super().compile(*given)  # type: ignore[call-overload]
        return _compiled[key]

    def make_globals(self, d: MutableMapping[str, Any] | None) -> MutableMapping[str, Any]:
        """One dictionary rather than a chain of two, since each page copies it."""
        return {**self.globals, **(d or {})}
