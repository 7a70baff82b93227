"""Forms and API calls are taken only from our own pages.

A form carries the hidden field made by the macro `csrf()` of `parts/fields.html`; a script sends
the content of `<meta name="csrf-token">` as the header `X-CSRFToken`, htmx does so by itself
(`hx-headers` on the body of each base template).
"""

from __future__ import annotations

from flask import Flask
from flask_wtf.csrf import CSRFProtect

#: One instance for every application: a view may be exempted by decorating with `csrf.exempt`.
csrf = CSRFProtect()


def protect_forms(app: Flask) -> None:
    """Refuse every POST, PUT, PATCH and DELETE without the token of the device's own session."""
    # A lesson outlasts the usual hour, and the token ends with the session cookie anyway.
    app.config["WTF_CSRF_TIME_LIMIT"] = None
    csrf.init_app(app)
