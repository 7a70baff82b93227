"""The page on which a group logs its trials, and the form behind it for a tablet without script."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, Response, jsonify, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from journal.domain.errors import Conflict, Invalid, Refused
from journal.domain.messages import Message
from journal.screens.tablet.trial_waits import find_wait_sentence
from journal.screens.tablet.trials import prepare_log
from journal.services.corrections import strike_last
from journal.services.trials import log_trial, mend_broken
from journal.web.error_words import notify, sentences_of
from journal.web.forms.trials import read_entry, read_trial_id
from journal.web.request_work import request_work

pages = Blueprint("trials", __name__)


@pages.get("/groups/<uuid:group_id>/trials/new")
def new_trial(group_id: UUID) -> str:
    """Show the page on which trials are logged."""
    with request_work() as work:
        page = prepare_log(work, group_id)
    return render_template("pages/trials/log.html", page=page)


@pages.post("/groups/<uuid:group_id>/trials")
def log(group_id: UUID) -> AnyResponse | tuple[str, int]:
    """Log a trial from the form, or show the form again with what is to be mended."""
    form = request.form
    try:
        with request_work() as work:
            log_trial(work, read_trial_id(form), read_entry(form, work.now()))
    except Conflict:
        notify(Message("trials.that_trial_was_in_already"))
    except (Invalid, Refused) as error:
        sentences = sentences_of(error, "log")
        with request_work(writing=False) as work:
            page = prepare_log(work, group_id, form, sentences)
        return render_template("pages/trials/log.html", page=page), 422
    return _back(group_id)


@pages.get("/groups/<uuid:group_id>/trials/waits")
def waits(group_id: UUID) -> Response:
    """Tell a waiting tablet whether it still waits, and for what."""
    with request_work() as work:
        return jsonify(wait=find_wait_sentence(work, group_id))


@pages.post("/groups/<uuid:group_id>/trials/rebuilt")
def rebuilt(group_id: UUID) -> AnyResponse:
    """Note that what a test destroyed was built again the same way."""
    with request_work() as work:
        mend_broken(work, group_id)
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/trials/<uuid:trial_id>/strike")
def strike(group_id: UUID, trial_id: UUID) -> AnyResponse:
    """Take the group's last trial back."""
    with request_work() as work:
        strike_last(work, group_id, trial_id)
    notify(Message("trials.it_is_taken_back"))
    return _back(group_id)


def _back(group_id: UUID) -> AnyResponse:
    return redirect(url_for("trials.new_trial", group_id=group_id), 303)
