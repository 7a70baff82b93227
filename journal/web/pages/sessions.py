"""Pages of a class's sessions: start, who is there, the gate, the end."""

from __future__ import annotations

from http import HTTPStatus
from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid, NotKept
from journal.domain.messages import Message
from journal.screens.desk.sessions import prepare_end, prepare_session, prepare_sessions
from journal.services.lanes import NOT_CLOSED, close_lane, describe_opening
from journal.services.sessions import (
    end_session,
    keep_texts,
    open_gate,
    pause_session,
    resume_session,
    set_absent,
    start_session,
)
from journal.web.error_words import notify, sentences_of
from journal.web.forms.fields import read_id, read_ids
from journal.web.request_work import request_work

pages = Blueprint("sessions", __name__)


@pages.get("/classes/<uuid:class_id>/sessions")
def show_sessions(class_id: UUID) -> str:
    """Show the class's sessions and the form that starts the next one."""
    with request_work() as work:
        page = prepare_sessions(work, class_id)
    return render_template("pages/sessions/list.html", page=page)


@pages.post("/classes/<uuid:class_id>/sessions")
def start(class_id: UUID) -> Response | tuple[str, int]:
    """Start the next session, or show the form again: to be mended, or for another challenge."""
    form = request.form
    absent = form.getlist("absent")
    if form.get("other"):
        return _show_form(class_id, absent)
    try:
        with request_work() as work:
            started = start_session(
                work,
                class_id,
                challenge_id=read_id(form.get("challenge_id", ""), "challenge_id"),
                distance=form.get("distance", ""),
                lanes=form.get("lanes", "1").strip(),
                length=form.get("length_min", ""),
                absent_student_ids=read_ids(absent, "absent"),
            )
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_sessions(work, class_id, form, absent, sentences_of(invalid))
        return render_template("pages/sessions/list.html", page=page), 422
    return redirect(url_for("sessions.show_session", session_id=started.id), 303)


def _show_form(class_id: UUID, absent: list[str]) -> tuple[str, int]:
    """Show the form for another challenge, with what was written so far."""
    with request_work(writing=False) as work:
        page = prepare_sessions(work, class_id, request.form, absent)
    return render_template("pages/sessions/list.html", page=page), HTTPStatus.OK


@pages.get("/sessions/<uuid:session_id>")
def show_session(session_id: UUID) -> str:
    """Show one session."""
    with request_work() as work:
        page = prepare_session(work, session_id)
    return render_template("pages/sessions/session.html", page=page)


@pages.post("/sessions/<uuid:session_id>/presence")
def note_presence(session_id: UUID) -> Response:
    """Note who is not there."""
    with request_work() as work:
        set_absent(work, session_id, read_ids(request.form.getlist("absent"), "absent"))
    notify(Message("sessions.kept_who_is_absent"))
    return _redirect_to(session_id)


@pages.post("/sessions/<uuid:session_id>/gate")
def open_launching(session_id: UUID) -> Response | tuple[str, int]:
    """Open the lane, or say which line of the checklist is not ticked."""
    ticked = request.form.getlist("checks")
    try:
        with request_work() as work:
            open_gate(work, session_id, ticked, request.form.get("seen"))
            sentence = describe_opening(work, session_id)
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_session(work, session_id, ticked, sentences_of(invalid))
        return render_template("pages/sessions/session.html", page=page), 422
    flash(sentence)
    return redirect(url_for("sessions.show_session", session_id=session_id), 303)


@pages.post("/sessions/<uuid:session_id>/lane/close")
def shut(session_id: UUID) -> Response:
    """Close the lane by one tap, and show the page from which it was closed."""
    try:
        with request_work() as work:
            school_class = close_lane(work, session_id)
    except NotKept as error:
        raise type(error)(NOT_CLOSED) from error.__cause__
    if request.form.get("from") == "overview":
        return redirect(url_for("overviews.show_overview", class_id=school_class.id), 303)
    return redirect(url_for("sessions.show_session", session_id=session_id), 303)


@pages.post("/sessions/<uuid:session_id>/texts")
def keep_plan(session_id: UUID) -> Response | tuple[str, int]:
    """Keep what we do today and the teacher's notes, or say what does not fit."""
    form = request.form
    try:
        with request_work() as work:
            keep_texts(work, session_id, form.get("plan", ""), form.get("notes", ""))
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_session(work, session_id, (), sentences_of(invalid), form)
        return render_template("pages/sessions/session.html", page=page), 422
    notify(Message("sessions.kept"))
    return _redirect_to(session_id)


@pages.post("/sessions/<uuid:session_id>/pause")
def pause(session_id: UUID) -> Response:
    """Pause the session."""
    with request_work() as work:
        pause_session(work, session_id)
    return _redirect_to(session_id)


@pages.post("/sessions/<uuid:session_id>/resume")
def resume(session_id: UUID) -> Response:
    """Go on with a session that is paused, or that was ended by mistake."""
    with request_work() as work:
        resume_session(work, session_id)
    return _redirect_to(session_id)


@pages.get("/sessions/<uuid:session_id>/end")
def ask_before_end(session_id: UUID) -> str | Response:
    """Ask once before the session ends."""
    with request_work() as work:
        page = prepare_end(work, session_id)
    return render_template("pages/sessions/end.html", page=page)


@pages.post("/sessions/<uuid:session_id>/end")
def end(session_id: UUID) -> Response:
    """End the session."""
    with request_work() as work:
        end_session(work, session_id)
        class_id = prepare_end(work, session_id).class_id
    notify(Message("sessions.the_session_has_ended"))
    return redirect(url_for("sessions.show_sessions", class_id=class_id), 303)


def _redirect_to(session_id: UUID) -> Response:
    return redirect(url_for("sessions.show_session", session_id=session_id), 303)
