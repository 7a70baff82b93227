"""Addresses of our own static files, each with a hash of its content."""

from __future__ import annotations

import hashlib
from functools import lru_cache
from pathlib import Path

from flask import Flask, url_for

STATIC_FOLDER = Path(__file__).parent / "static"
_HASH_DIGITS = 12


def asset(name: str) -> str:
    """Return the address of a static file, such as `asset("journal.css")`.

    Raises FileNotFoundError for a file that does not exist: a wrong name shows in the first test.
    """
    changed_ns = (STATIC_FOLDER / name).stat().st_mtime_ns
    return url_for("static", filename=name, v=_content_hash(name, changed_ns))


def offer_assets(app: Flask) -> None:
    """Let every template and macro say `asset(name)`."""
    app.jinja_env.globals["asset"] = asset


@lru_cache(maxsize=256)
def _content_hash(name: str, changed_ns: int) -> str:  # noqa: ARG001 (part of the cache's key)
    return hashlib.sha256((STATIC_FOLDER / name).read_bytes()).hexdigest()[:_HASH_DIGITS]
