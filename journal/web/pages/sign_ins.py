"""The teacher's sign-in and password."""

from __future__ import annotations

from http import HTTPStatus

from flask import (
    Blueprint,
    make_response,
    redirect,
    render_template,
    request,
    url_for,
)
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.domain.people import Teacher
from journal.screens.door.sign_ins import prepare_password, prepare_sign_in
from journal.services.browsers import know_browser
from journal.services.guesses import count_guess, find_pause, take_back
from journal.services.sign_ins import start_teacher
from journal.services.teachers import (
    change_password,
    guesser_of_present,
    guessers_of_sign_in,
    hash_new_password,
    prove_present,
    prove_teacher,
)
from journal.web.browsers import browser_token, keep_browser
from journal.web.door_log import note_at_door
from journal.web.error_words import notify, sentences_of
from journal.web.request_work import doorway, drop_sign_in, keep_sign_in, request_work

pages = Blueprint("sign_ins", __name__)


@pages.get("/teacher")
def show_sign_in() -> str:
    """Ask a teacher for sign-in name and password."""
    return render_template("pages/sign_ins/teacher.html", page=prepare_sign_in())


@pages.post("/teacher")
def sign_in() -> Response:
    """Sign a teacher in with a new token."""
    name = request.form.get("sign_in_name", "")
    browser = browser_token()
    try:
        teacher = _prove(name, request.form.get("password", ""), browser)
    except Invalid as invalid:
        note_at_door("a teacher's sign-in was refused")
        page = prepare_sign_in(name, sentences_of(invalid))
        answer = make_response(render_template("pages/sign_ins/teacher.html", page=page), 422)
        return keep_browser(answer, browser)
    with request_work() as work:
        take_back(work, guessers_of_sign_in(work, name, browser))
        token = start_teacher(work, teacher)
        browser = know_browser(work, browser, token)
    note_at_door("a teacher came in", doorway().actor_of(token, is_use=False))
    response = redirect(url_for("classes.show_classes"), HTTPStatus.SEE_OTHER)
    return keep_browser(keep_sign_in(response, token), browser)


@pages.get("/teacher/password")
def show_password() -> str:
    """Show the form that changes the password."""
    with request_work() as work:
        page = prepare_password(work)
    return render_template("pages/sign_ins/password.html", page=page)


@pages.post("/teacher/password")
def replace_password() -> Response | tuple[str, int]:
    """Change the password and end every sign-in, this one too."""
    form = request.form
    try:
        _prove_present(form.get("present", ""))
        # Hashing takes a while; no tablet waits for it in a reading work.
        with request_work(writing=False) as work:
            hashed = hash_new_password(work, form.get("password", ""), form.get("again", ""))
    except Invalid as invalid:
        note_at_door("a new password was refused")
        with request_work(writing=False) as work:
            page = prepare_password(work, sentences_of(invalid))
        return render_template("pages/sign_ins/password.html", page=page), 422
    with request_work() as work:
        change_password(work, hashed)
    note_at_door("a password was changed")
    response = drop_sign_in(redirect(url_for("sign_ins.show_sign_in"), HTTPStatus.SEE_OTHER))
    notify(Message("sign_ins.your_password_is_changed"))
    return response


def _prove(name: str, password: str, browser: str) -> Teacher:
    """Return the teacher; raise Invalid. It is counted before it is tried, so no two try at once.

    A look comes first: whoever must wait does not take the writer's turn.
    """
    with request_work(writing=False) as work:
        refused = find_pause(work, guessers_of_sign_in(work, name, browser), "password")
    if refused is None:
        with request_work() as work:
            refused = count_guess(work, guessers_of_sign_in(work, name, browser), "password")
    if refused is not None:
        raise refused
    with request_work(writing=False) as work:
        return prove_teacher(work, name, password)


def _prove_present(present: str) -> None:
    """Raise Invalid unless this is the present password of the teacher who asks."""
    with request_work() as work:
        refused = count_guess(work, [guesser_of_present(work)], "present")
    if refused is not None:
        raise refused
    with request_work(writing=False) as work:
        prove_present(work, present)
    with request_work() as work:
        take_back(work, [guesser_of_present(work)])
