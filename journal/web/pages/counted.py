"""The counted attempts of a class, and the goal they are for."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.screens.desk.counted import prepare_counted
from journal.services.goals import choose_goal
from journal.web.error_words import notify, sentences_of
from journal.web.request_work import request_work

pages = Blueprint("counted", __name__)


@pages.get("/classes/<uuid:class_id>/counted")
def show_counted(class_id: UUID) -> str:
    """Show each group's counted attempts and what they come to."""
    with request_work() as work:
        page = prepare_counted(work, class_id)
    return render_template("pages/counted/counted.html", page=page)


@pages.post("/classes/<uuid:class_id>/counted/goal")
def choose(class_id: UUID) -> Response | tuple[str, int]:
    """Keep the goal, or show the form again with what is to be mended."""
    entered = request.form.to_dict()
    try:
        with request_work() as work:
            choose_goal(work, class_id, entered)
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_counted(work, class_id, entered, sentences_of(invalid))
        return render_template("pages/counted/counted.html", page=page), 422
    notify(Message("counted.goal_is_kept"))
    return redirect(url_for("counted.show_counted", class_id=class_id), 303)
