"""Trials that came late: the teacher says where each belongs, or discards it with a reason."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid, Refused
from journal.domain.messages import Message
from journal.screens.desk.parked_trials import prepare_parked
from journal.services.parked_trials import discard_trial, find_class_of, place_trial
from journal.web.error_words import notify, sentences_of
from journal.web.forms.fields import read_id
from journal.web.request_work import request_work

pages = Blueprint("parked_trials", __name__)


@pages.get("/classes/<uuid:class_id>/late-trials")
def show_parked(class_id: UUID) -> str:
    """Show what waits, and what was decided."""
    with request_work() as work:
        page = prepare_parked(work, class_id)
    return render_template("pages/parked_trials/list.html", page=page)


@pages.post("/late-trials/<uuid:parked_id>/place")
def place(parked_id: UUID) -> Response | tuple[str, int]:
    """File an entry under a session, or say why it does not fit there."""
    form = request.form
    try:
        with request_work() as work:
            class_id = find_class_of(work, parked_id)
            session_id = read_id(
                form.get("session_id", ""), "session_id", Message("parked_trials.choose_a_session")
            )
            place_trial(work, parked_id, session_id, form.get("kind", ""))
    except (Invalid, Refused) as error:
        return _show_again(parked_id, error)
    notify(Message("parked_trials.it_is_placed"))
    return redirect(url_for("parked_trials.show_parked", class_id=class_id), 303)


@pages.post("/late-trials/<uuid:parked_id>/discard")
def discard(parked_id: UUID) -> Response | tuple[str, int]:
    """Discard an entry; it stays on the page with the reason."""
    try:
        with request_work() as work:
            class_id = find_class_of(work, parked_id)
            discard_trial(work, parked_id, request.form.get("reason", ""))
    except (Invalid, Refused) as error:
        return _show_again(parked_id, error)
    notify(Message("parked_trials.it_is_discarded"))
    return redirect(url_for("parked_trials.show_parked", class_id=class_id), 303)


def _show_again(parked_id: UUID, error: Invalid | Refused) -> tuple[str, int]:
    sentences = sentences_of(error, "entry")
    with request_work(writing=False) as work:
        class_id = find_class_of(work, parked_id)
        page = prepare_parked(work, class_id, parked_id, request.form, sentences)
    return render_template("pages/parked_trials/list.html", page=page), 422
