"""The teacher puts a trial right: a form, and what was put right before."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.screens.desk.corrections import prepare_correction
from journal.services.corrections import correct_trial
from journal.web.error_words import notify, sentences_of
from journal.web.forms.corrections import read_correction
from journal.web.request_work import request_work

pages = Blueprint("corrections", __name__)


@pages.get("/trials/<uuid:trial_id>/corrections")
def show_corrections(trial_id: UUID) -> str:
    """Show the form and the history of a trial."""
    with request_work() as work:
        page = prepare_correction(work, trial_id)
    return render_template("pages/corrections/correction.html", page=page)


@pages.post("/trials/<uuid:trial_id>/corrections")
def correct(trial_id: UUID) -> Response | tuple[str, int]:
    """Put the trial right, or show the form again with what is to be mended."""
    try:
        with request_work() as work:
            correct_trial(work, trial_id, read_correction(request.form))
    except Invalid as error:
        with request_work(writing=False) as work:
            page = prepare_correction(work, trial_id, request.form, sentences_of(error))
        return render_template("pages/corrections/correction.html", page=page), 422
    notify(Message("corrections.it_is_put_right"))
    return redirect(url_for("corrections.show_corrections", trial_id=trial_id), 303)
