"""Which measures the students of a class see."""

from __future__ import annotations

from http import HTTPStatus
from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.screens.desk.measures import prepare_measures
from journal.services.measures import set_measures
from journal.web.error_words import notify, sentences_of
from journal.web.request_work import request_work

pages = Blueprint("measures", __name__)


@pages.get("/classes/<uuid:class_id>/measures")
def show_measures(class_id: UUID) -> str:
    """Show which measures are open."""
    with request_work() as work:
        page = prepare_measures(work, class_id)
    return render_template("pages/measures/measures.html", page=page)


@pages.post("/classes/<uuid:class_id>/measures")
def change_measures(class_id: UUID) -> Response | tuple[str, int]:
    """Open those that are ticked and close the others."""
    try:
        with request_work() as work:
            set_measures(work, class_id, request.form.getlist("measures"))
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_measures(work, class_id, sentences_of(invalid))
        return render_template("pages/measures/measures.html", page=page), 422
    notify(Message("measures.kept_journal_findings"))
    return redirect(url_for("measures.show_measures", class_id=class_id), HTTPStatus.SEE_OTHER)
