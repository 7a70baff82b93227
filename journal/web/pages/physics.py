"""A group's page of physics: the quantities stand in the address, nothing is kept."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, render_template, request

from journal.domain.errors import Invalid
from journal.screens.tablet.physics import prepare_physics
from journal.web.error_words import sentences_of
from journal.web.request_work import request_work

pages = Blueprint("physics", __name__)


@pages.get("/groups/<uuid:group_id>/physics")
def show_physics(group_id: UUID) -> str | tuple[str, int]:
    """Show where the energy goes, and work out what was asked."""
    entered = request.args.to_dict()
    with request_work() as work:
        try:
            page = prepare_physics(work, group_id, entered)
        except Invalid as invalid:
            page = prepare_physics(work, group_id, entered, sentences_of(invalid))
    status = 200 if page.errors is None else 422
    return render_template("pages/physics/physics.html", page=page), status
