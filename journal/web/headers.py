"""Headers on every response, errors and files too."""

from __future__ import annotations

from flask import Flask, Response, request

CONTENT_SECURITY_POLICY = (
    "default-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; "
    "frame-ancestors 'none'"
)
ALWAYS = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=()",
}
#: The address of a file holds a hash of its content, so it never changes under that address.
FOREVER = "public, max-age=31536000, immutable"
ASK_AGAIN = "public, no-cache"
PERSONAL = "no-store"


def add_headers(app: Flask) -> None:
    """Add the headers to every response of the application."""

    @app.after_request
    def _add(response: Response) -> Response:
        for name, value in ALWAYS.items():
            response.headers[name] = value
        if request.endpoint == "static" and response.status_code < 400:  # noqa: PLR2004
            response.headers["Cache-Control"] = FOREVER if "v" in request.args else ASK_AGAIN
        elif "Cache-Control" not in response.headers:
            response.headers["Cache-Control"] = PERSONAL
        return response
