"""A group's home."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, redirect, render_template, url_for
from werkzeug.wrappers import Response

from journal.screens.tablet.earlier_journals import prepare_earlier_journal
from journal.screens.tablet.journals import prepare_journal
from journal.web.request_work import request_work

pages = Blueprint("journals", __name__)


@pages.get("/groups/<uuid:group_id>")
def go_home(group_id: UUID) -> Response:
    """Lead from the group's name to its journal."""
    return redirect(url_for("journals.show_journal", group_id=group_id))


@pages.get("/groups/<uuid:group_id>/journal")
def show_journal(group_id: UUID) -> str:
    """Show a group's journal."""
    with request_work() as work:
        page = prepare_journal(work, group_id)
    return render_template("pages/journals/journal.html", page=page)


@pages.get("/groups/<uuid:group_id>/journal/<uuid:challenge_id>")
def show_earlier_journal(group_id: UUID, challenge_id: UUID) -> str | Response:
    """Show what a group did in another challenge of its class; lead to the journal from its own."""
    with request_work() as work:
        page = prepare_earlier_journal(work, group_id, challenge_id)
    if page is None:
        return redirect(url_for("journals.show_journal", group_id=group_id))
    return render_template("pages/journals/earlier.html", page=page)
