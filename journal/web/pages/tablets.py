"""The tablets at a class's door, for the teacher."""

from __future__ import annotations

from http import HTTPStatus
from uuid import UUID

from flask import Blueprint, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.actors import TabletState
from journal.screens.desk.tablets import prepare_tablets
from journal.services.guesses import let_strangers_try
from journal.services.tablets import let_in_waiting, set_tablet
from journal.web.door_log import note_at_door
from journal.web.forms.fields import find_id
from journal.web.pages.classes import redirect_to_class
from journal.web.request_work import request_work

pages = Blueprint("tablets", __name__)


@pages.get("/classes/<uuid:class_id>/tablets")
def show_tablets(class_id: UUID) -> Response:
    """Answer the desk's question: nothing new (204), or the list as it is now."""
    with request_work() as work:
        page = prepare_tablets(work, class_id, find_id(request.args.get("session", "")))
    if request.args.get("seen") == page.seen:
        return make_response("", HTTPStatus.NO_CONTENT)
    return make_response(render_template("pages/tablets/list.html", page=page))


@pages.post("/classes/<uuid:class_id>/tablets")
def let_everyone_in(class_id: UUID) -> Response:
    """Let in every tablet that waits."""
    with request_work() as work:
        let_in_waiting(work, class_id)
    return _go_back(class_id)


@pages.post("/classes/<uuid:class_id>/tablets/new")
def let_new_ones_try(class_id: UUID) -> Response:
    """End the pause that somebody's guessing brought upon tablets that were never in before."""
    with request_work() as work:
        let_strangers_try(work, class_id)
    note_at_door("new tablets may try for a while")
    return _go_back(class_id)


@pages.post("/classes/<uuid:class_id>/tablets/<uuid:sign_in_id>")
def place_tablet(class_id: UUID, sign_in_id: UUID) -> Response:
    """Let one tablet in, or send it out."""
    lets_in = request.form.get("do") == "let in"
    state = TabletState.IN if lets_in else TabletState.OUT
    with request_work() as work:
        set_tablet(work, class_id, sign_in_id, state)
    note_at_door(f"tablet {sign_in_id} was {'let in' if lets_in else 'sent out'}")
    return _go_back(class_id)


def _go_back(class_id: UUID) -> Response:
    """Lead back to the page on which the tablets stand."""
    session_id = find_id(request.form.get("session", ""))
    if session_id is None:
        return redirect_to_class(class_id)
    return redirect(url_for("sessions.show_session", session_id=session_id), HTTPStatus.SEE_OTHER)
