"""Paper: a template and a page of plain values come in, the bytes of a tagged PDF go out.

A drawing reaches a sheet by the filter `drawing`; every other value is escaped.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from journal.charts.palette import PAPER, SHEET

_PACKAGE = Path(__file__).parent.parent
#: In the wheel inside the package, in the repository at its top.
_TEMPLATE_FOLDERS = (_PACKAGE / "templates", _PACKAGE.parent / "templates")


def print_paper(template: str, page: object, fonts: Path) -> bytes:
    """Render a template of `templates/print` with one page object and print it."""
    # Loaded at the first sheet: the renderer takes longer to load than all the rest of the journal.
    from journal.printing.rendering import render_pdf  # noqa: PLC0415

    return render_pdf(render_paper(template, page), fonts)


def render_paper(template: str, page: object) -> str:
    """Return a template of `templates/print` with one page object as HTML."""
    return _templates().get_template(template).render(page=page)


def whiten(drawing: str) -> Markup:
    """Return a drawing of ours as markup, the tone of the screen's ground left to the paper."""
    # Drawings come from `journal.charts`, which escapes every word in them.
    return Markup(drawing.replace(PAPER, "#FFFFFF").replace(SHEET, "#FFFFFF"))  # noqa: S704


@cache
def _templates() -> Environment:
    folder = next(path / "print" for path in _TEMPLATE_FOLDERS if (path / "print").is_dir())
    templates = Environment(
        loader=FileSystemLoader(folder),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    templates.filters["drawing"] = whiten
    return templates
