"""Rendering: HTML comes in, the bytes of a tagged PDF go out.

Nothing is fetched: the only files a sheet can name are our own fonts.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from weasyprint import HTML
from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

#: How a sheet names a font: `url("journal-font:NAME.ttf")`.
_FONT_SCHEME = "journal-font:"
#: Tagged, so that it can be read aloud: ISO 14289-1.
_VARIANT = "pdf/ua-1"


class OwnFonts(URLFetcher):  # type: ignore[misc] # the library has no types
    """A fetcher that hands out our own fonts and refuses every other address."""

    def __init__(self, folder: Path) -> None:
        super().__init__(allowed_protocols=())
        # Not woff2: taking it apart is a third of the time that a portfolio takes.
        self._files = {path.name: path for path in folder.glob("*.ttf")}

    def fetch(self, url: str, headers: Mapping[str, str] | None = None) -> URLFetcherResponse:
        """Return a font's bytes; raise for anything that is none of our fonts."""
        del headers
        name = url.removeprefix(_FONT_SCHEME)
        if not url.startswith(_FONT_SCHEME) or name not in self._files:
            message = f"Paper takes nothing from {url}: only fonts of our own."
            raise FatalURLFetchingError(message)
        return URLFetcherResponse(
            url, self._files[name].read_bytes(), headers={"Content-Type": "font/ttf"}
        )


def render_pdf(html: str, fonts: Path) -> bytes:
    """Render a whole page of HTML; `fonts` is the folder of our own fonts."""
    rendered: bytes = HTML(string=html, url_fetcher=OwnFonts(fonts)).write_pdf(pdf_variant=_VARIANT)
    return rendered
