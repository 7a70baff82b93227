"""The students' door: lesson word, group, name, and in; no word or name stands in an address."""

from __future__ import annotations

from http import HTTPStatus
from uuid import UUID

from flask import (
    Blueprint,
    make_response,
    redirect,
    render_template,
    request,
    session,
    url_for,
)
from werkzeug.wrappers import Response

from journal.domain.actors import Role, TabletState
from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.screens.door.lesson_words import (
    prepare_names,
    prepare_shelf,
    prepare_wait,
    prepare_word,
)
from journal.services.browsers import know_browser
from journal.services.guesses import find_pause
from journal.services.lesson_words import guessers_at_door, try_word
from journal.services.sign_ins import sign_out
from journal.services.tablets import Wait, come_in, find_way
from journal.web.browsers import browser_token, keep_browser
from journal.web.door_log import note_at_door
from journal.web.error_words import notify, sentences_of
from journal.web.forms.fields import read_id
from journal.web.request_work import (
    current_actor,
    doorway,
    drop_sign_in,
    keep_sign_in,
    request_work,
)

pages = Blueprint("door", __name__)
#: The word as it was typed on this device: a new one on the board ends it at once.
WORD = "lesson_word"


@pages.get("/")
def show_door() -> str | Response:
    """Ask for the lesson word, or lead whoever is signed in to where they belong."""
    actor = current_actor()
    if actor.role is Role.TEACHER:
        return redirect(url_for("classes.show_classes"), HTTPStatus.SEE_OTHER)
    if actor.tablet_state in {TabletState.IN, TabletState.WAITING}:
        return redirect(url_for("door.show_wait"), HTTPStatus.SEE_OTHER)
    return render_template("pages/door/word.html", page=prepare_word())


@pages.post("/")
def bring_word() -> Response:
    """Take the lesson word; a wrong one gets the same answer whatever was wrong."""
    typed = request.form.get("word", "")
    browser = browser_token()
    # A look first: whoever must wait does not take the writer's turn.
    with request_work(writing=False) as work:
        refused = find_pause(work, guessers_at_door(work, browser), "word")
    if refused is None:
        with request_work() as work:
            session[WORD], refused = try_word(work, typed, browser)
    if refused is None:
        return redirect(url_for("door.show_shelf"), HTTPStatus.SEE_OTHER)
    note_at_door("a lesson word was refused")
    page = prepare_word(typed, sentences_of(refused))
    response = make_response(render_template("pages/door/word.html", page=page), 422)
    return keep_browser(response, browser)


@pages.get("/door/groups")
def show_shelf() -> str | Response:
    """Show the groups of the class whose word this device has."""
    try:
        with request_work() as work:
            page = prepare_shelf(work, session.get(WORD, ""))
    except Invalid:
        return _start_again()
    return render_template("pages/door/groups.html", page=page)


@pages.get("/door/groups/<uuid:group_id>")
def show_names(group_id: UUID) -> str | Response:
    """Show the names of one group."""
    try:
        with request_work() as work:
            page = prepare_names(work, session.get(WORD, ""), group_id)
    except Invalid:
        return _start_again()
    return render_template("pages/door/names.html", page=page)


@pages.post("/door/groups/<uuid:group_id>")
def bring_name(group_id: UUID) -> Response:
    """Sign the tablet in for the group as the child who tapped, or let it wait."""
    student_id = read_id(request.form.get("student_id", ""), "student_id")
    try:
        with request_work() as work:
            token, _ = come_in(work, session.get(WORD, ""), group_id, student_id)
            browser = know_browser(work, browser_token(), token)
    except Invalid:
        return _start_again()
    note_at_door("a tablet came in", doorway().actor_of(token, is_use=False))
    response = keep_sign_in(redirect(url_for("door.show_wait"), HTTPStatus.SEE_OTHER), token)
    return keep_browser(response, browser)


@pages.get("/door/wait")
def show_wait() -> str | Response:
    """Show what the tablet waits for; go on once there is nothing left."""
    with request_work() as work:
        group_id, wait = find_way(work)
        page = prepare_wait(work)
    if wait is Wait.NOTHING:
        return redirect(url_for("journals.show_journal", group_id=group_id), HTTPStatus.SEE_OTHER)
    return render_template("pages/door/wait.html", page=page)


@pages.get("/door/state")
def poll_wait() -> Response:
    """Answer a waiting tablet's question: nothing new (204), or to look at its page again."""
    with request_work() as work:
        _, wait = find_way(work)
    if wait.value == request.args.get("seen"):
        return make_response("", HTTPStatus.NO_CONTENT)
    response = make_response("")
    response.headers["HX-Redirect"] = url_for("door.show_wait")
    return response


@pages.post("/sign-out")
def leave() -> Response:
    """Sign out whoever is signed in on this device."""
    with request_work() as work:
        sign_out(work)
    note_at_door("signed out")
    response = drop_sign_in(redirect(url_for("door.show_door"), HTTPStatus.SEE_OTHER))
    notify(Message("door.you_are_signed_out"))
    return response


def _start_again() -> Response:
    """Send the device back to the first step: it has no word, or its word has expired."""
    if session.pop(WORD, ""):
        notify(Message("door.lesson_word_is_over"))
    return redirect(url_for("door.show_door"), HTTPStatus.SEE_OTHER)
