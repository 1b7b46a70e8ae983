"""The Jinja environment: undefined names are faults, text from data is escaped whatever a template does."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, TemplateError, nodes
from jinja2.compiler import CodeGenerator, Frame
from markupsafe import Markup
from markupsafe import escape as markup

from reckoner.pages.shared.display import escape
from reckoner.problems import HandbookError, Location, Problem

PAGES = Path(__file__).parent.parent
#: A template stands beside its view; names are unique over all rooms.
ROOMS = tuple(sorted(folder for folder in PAGES.iterdir() if any(folder.glob("*.jinja"))))
#: How messages name the folder of pages, seen from the project's own.
SHOWN_AS = "hooks/reckoner/pages"
#: What stands for itself between double quotes in YAML.
_AS_IT_IS = frozenset(map(chr, range(0x20, 0x7F))) - {'"', "\\"}


def _finalize(value: Any) -> Markup:
    if isinstance(value, Markup):
        return value
    return escape(value) if isinstance(value, str) else markup(value)


class _EscapedOnce(CodeGenerator):
    """What ``_finalize`` has escaped is written as it is: Jinja would ask each word twice more whether it is markup."""

    def _output_child_pre(self, node: nodes.Expr, frame: Frame, finalize: CodeGenerator._FinalizeInfo) -> None:
        self.write("environment.finalize(")

    def _output_child_post(self, node: nodes.Expr, frame: Frame, finalize: CodeGenerator._FinalizeInfo) -> None:
        self.write(")")


class _Templates(Environment):
    code_generator_class = _EscapedOnce


def front_matter(text: str) -> Markup:
    """A title as YAML in front of a page, escaped for HTML: the theme writes it as it stands.

    JSON will not do: it parts a character beyond U+FFFF in two, which YAML refuses, and MkDocs then takes the whole
    front matter for Markdown.

    >>> print(front_matter("B & W"), front_matter("Metol \U0001f9ea"))
    "B &amp; W" "Metol \\U0001F9EA"
    """
    html = text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace("'", "&#39;")
    return Markup('"' + "".join(c if c in _AS_IT_IS else f"\\U{ord(c):08X}" for c in html) + '"')


@lru_cache(maxsize=4)
def environment(folders: tuple[Path, ...] = ROOMS) -> Environment:
    """The environment over some folders of templates."""
    made = _Templates(
        loader=FileSystemLoader(folders),
        autoescape=True,
        finalize=_finalize,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        auto_reload=False,
    )
    made.filters["front_matter"] = front_matter
    return made


def render(template: str, context: object, folders: tuple[Path, ...] = ROOMS) -> str:
    """Render one template with a view as ``page``.

    Raises:
        HandbookError: the template fails, with its file and line.
    """
    try:
        return environment(folders).get_template(template).render(page=context)
    except TemplateError as error:
        line = getattr(error, "lineno", None) or _failing_line(error, template)
        place = Location(_shown(template, folders), line or 1)
        raise HandbookError([Problem(place, f"the template fails: {error} (mend the template)")]) from error
    except (TypeError, AttributeError, ValueError, ArithmeticError, LookupError) as error:
        place = Location(_shown(template, folders), _failing_line(error, template) or 1)
        raise HandbookError([Problem(place, f"the template fails: {error} (mend the template)")]) from error


def _shown(template: str, folders: tuple[Path, ...]) -> str:
    room = next((folder.name for folder in folders if (folder / template).exists()), "")
    return f"{SHOWN_AS}/{room}/{template}"


def _failing_line(error: BaseException, template: str) -> int | None:
    """The last line inside the template that the error passed through."""
    line, trace = None, error.__traceback__
    while trace is not None:
        if trace.tb_frame.f_code.co_filename.endswith(template):
            line = trace.tb_lineno
        trace = trace.tb_next
    return line
