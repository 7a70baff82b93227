"""Paper: a template and a page of plain values come in, the bytes of a tagged PDF go out.

Nothing is fetched: the only files a sheet can name are our own fonts.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from weasyprint import HTML
from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

_PACKAGE = Path(__file__).parent.parent
#: In the wheel inside the package, in the repository at its top.
_TEMPLATE_FOLDERS = (_PACKAGE / "templates", _PACKAGE.parent / "templates")
#: How a sheet names a font: `url("journal-font:NAME.woff2")`.
_FONT_SCHEME = "journal-font:"
#: Accessible by its own statement: ISO 14289-1, the tagged form of PDF.
_VARIANT = "pdf/ua-1"


class OwnFonts(URLFetcher):
    """A fetcher that hands out our own fonts and refuses every other address."""

    def __init__(self, folder: Path) -> None:
        super().__init__(allowed_protocols=())
        self._files = {path.name: path for path in folder.glob("*.woff2")}

    def fetch(self, url: str, headers: Mapping[str, str] | None = None) -> URLFetcherResponse:
        """Return a font's bytes; raise for anything that is none of our fonts."""
        del headers
        name = url.removeprefix(_FONT_SCHEME)
        if not url.startswith(_FONT_SCHEME) or name not in self._files:
            message = f"Paper takes nothing from {url}: only fonts of our own."
            raise FatalURLFetchingError(message)
        return URLFetcherResponse(
            url, self._files[name].read_bytes(), headers={"Content-Type": "font/woff2"}
        )


def print_paper(template: str, page: object, fonts: Path) -> bytes:
    """Render a template of `templates/print` with one page object and print it."""
    html = _templates().get_template(template).render(page=page)
    printed: bytes = HTML(string=html, url_fetcher=OwnFonts(fonts)).write_pdf(pdf_variant=_VARIANT)
    return printed


@cache
def _templates() -> Environment:
    folder = next(path / "print" for path in _TEMPLATE_FOLDERS if (path / "print").is_dir())
    return Environment(
        loader=FileSystemLoader(folder),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
