"""The teacher's pages about what poor results are put down to, and about adapting for a group."""

from __future__ import annotations

from http import HTTPStatus
from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.screens.desk.diagnoses import prepare_diagnosis
from journal.screens.desk.judged_causes import prepare_judged
from journal.services.adaptations import adapt
from journal.services.judged_causes import judge_cause
from journal.web.error_words import notify, sentences_of
from journal.web.forms.adaptations import read_adaptation
from journal.web.request_work import request_work

pages = Blueprint("diagnoses", __name__)


@pages.get("/groups/<uuid:group_id>/diagnosis")
def show_diagnosis(group_id: UUID) -> str:
    """Show what the group's results are put down to, and what can be done."""
    with request_work() as work:
        page = prepare_diagnosis(work, group_id)
    return render_template("pages/diagnoses/group.html", page=page)


@pages.post("/groups/<uuid:group_id>/adaptations")
def keep_adaptation(group_id: UUID) -> Response | tuple[str, int]:
    """Keep an adaptation, or show the form again with what is to be mended."""
    try:
        with request_work() as work:
            adapt(work, group_id, read_adaptation(request.form))
    except Invalid as invalid:
        return _again(group_id, invalid)
    notify(Message("diagnoses.kept_the_groups_trials"))
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/judged-causes")
def keep_judged(group_id: UUID) -> Response | tuple[str, int]:
    """Keep what it turned out to be."""
    form = request.form
    try:
        with request_work() as work:
            judge_cause(work, group_id, form.get("turned_out", ""), form.get("found", ""))
    except Invalid as invalid:
        return _again(group_id, invalid)
    notify(Message("diagnoses.kept_beside"))
    return _back(group_id)


@pages.get("/classes/<uuid:class_id>/diagnoses")
def show_judged(class_id: UUID) -> str:
    """Show how often the journal was right in this class."""
    with request_work() as work:
        page = prepare_judged(work, class_id)
    return render_template("pages/diagnoses/judged.html", page=page)


def _again(group_id: UUID, invalid: Invalid) -> tuple[str, int]:
    with request_work(writing=False) as work:
        page = prepare_diagnosis(
            work, group_id, request.form, request.form.getlist("checks"), sentences_of(invalid)
        )
    body = render_template("pages/diagnoses/group.html", page=page)
    return body, HTTPStatus.UNPROCESSABLE_ENTITY


def _back(group_id: UUID) -> Response:
    address = url_for("diagnoses.show_diagnosis", group_id=group_id)
    return redirect(address, HTTPStatus.SEE_OTHER)
