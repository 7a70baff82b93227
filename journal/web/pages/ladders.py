"""Pages of the ladder of questions."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid
from journal.domain.ladders import AnswerEntry, Rung
from journal.services.ladder_pages import prepare_ladder
from journal.services.ladders import (
    ASKED,
    answer_rung,
    leave_ladder,
    open_next_rung,
    start_climb,
)
from journal.web.request_work import request_work
from journal.web.sent_forms import find_id

pages = Blueprint("ladders", __name__)


@pages.get("/groups/<uuid:group_id>/ladder")
def show_ladder(group_id: UUID) -> str:
    """Show the present question."""
    with request_work() as work:
        page = prepare_ladder(work, group_id)
    return render_template("pages/ladders/ladder.html", page=page)


@pages.post("/groups/<uuid:group_id>/ladder")
def be_stuck(group_id: UUID) -> Response:
    """Put the group on the ladder."""
    with request_work() as work:
        start_climb(work, group_id, request.form.get("why", ASKED))
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/ladder/answers")
def answer(group_id: UUID) -> Response | tuple[str, int]:
    """Keep an answer, or show the question again with what was written."""
    form = request.form
    try:
        entry = AnswerEntry(
            rung=_rung(form.get("rung", "")),
            question="",
            starter=form.get("words_starter", ""),
            words=form.get("words", ""),
            said_to_teacher="said" in form,
            student_id=find_id(form.get("who", "")),
            scribe=form.get("scribe", ""),
        )
        with request_work() as work:
            answer_rung(work, group_id, entry)
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_ladder(work, group_id, form, invalid.by_field())
        return render_template("pages/ladders/ladder.html", page=page), 422
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/ladder/next")
def open_next(group_id: UUID) -> Response:
    """Open the next question after a new trial."""
    with request_work() as work:
        open_next_rung(work, group_id)
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/ladder/leave")
def leave(group_id: UUID) -> Response:
    """Leave the ladder for the next revision or another way to use it."""
    with request_work() as work:
        leave_ladder(work, group_id)
    if request.form.get("to") == "handling":
        return redirect(f"/groups/{group_id}/trials/new", 303)
    return redirect(url_for("revisions.new_revision", group_id=group_id), 303)


def _back(group_id: UUID) -> Response:
    return redirect(url_for("ladders.show_ladder", group_id=group_id), 303)


def _rung(text: str) -> Rung:
    try:
        return Rung(text)
    except ValueError:
        raise Invalid.at("words", "Load the page again, then answer once more.") from None
