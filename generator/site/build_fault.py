"""Why a site could not be made, in one sentence for a person."""

from __future__ import annotations

from traceback import extract_tb

from jinja2 import TemplateError, TemplateSyntaxError
from mkdocs.exceptions import Abort

from generator.site.lean import AssetFault
from generator.site.theme import theme_folder

BUILD_FAULTS = (AssetFault, OSError, TemplateError)
"""What may end the making of the guides, and is no fault of the program."""

_MEND = " Mend it there, or delete that file: then the one that comes with Sondebook is used."


def sentence_of(error: Exception) -> str:
    """What an error of a build says, with the place; a person reads it without a traceback."""
    if isinstance(error, Abort):
        return "nothing was built; the reason stands above."
    if isinstance(error, TemplateError):
        place, reason = _template_place(error), str(error).rstrip(".")
        mend = "" if place.startswith(str(theme_folder())) else _MEND
        return f"a template is at fault, {place}: {reason}.{mend}"
    if isinstance(error, OSError) and error.strerror:
        # Of a copy that failed, the second name is the one that was being written
        place = error.filename2 or error.filename
        place = f"{place}: " if place else ""
        return f"{place}{error.strerror}; what was published before stays as it was."
    return str(error) or type(error).__name__


def _template_place(error: TemplateError) -> str:
    """The innermost line of a template that an error came through."""
    if isinstance(error, TemplateSyntaxError):
        return f"{error.filename or error.name}:{error.lineno}"
    lines = [each for each in extract_tb(error.__traceback__) if each.filename.endswith(".html")]
    return f"{lines[-1].filename}:{lines[-1].lineno}" if lines else "and not found"
