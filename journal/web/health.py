"""`/healthz`: does the journal answer, and does its database."""

from __future__ import annotations

from http import HTTPStatus

from flask import Blueprint, Response, jsonify

from journal import __version__
from journal.web.request_work import doorway

pages = Blueprint("health", __name__)


@pages.get("/healthz")
def healthz() -> tuple[Response, int]:
    """Tell a machine whether the journal is ready; nobody needs to be signed in."""
    ready = doorway().is_ready()
    body = {"status": "ok" if ready else "waiting for the database", "version": __version__}
    return jsonify(body), HTTPStatus.OK if ready else HTTPStatus.SERVICE_UNAVAILABLE
