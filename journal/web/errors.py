"""Errors as answers: problem details for a machine, a plain page for a person, never a trace."""

from __future__ import annotations

from dataclasses import dataclass
from http import HTTPStatus

from flask import (
    Blueprint,
    Flask,
    Response,
    flash,
    jsonify,
    make_response,
    redirect,
    render_template,
    request,
    url_for,
)
from werkzeug.exceptions import HTTPException, NotFound

from journal.domain.actors import Role
from journal.domain.errors import JournalError, NoChallenge, NotKept, Refused, SignedOut
from journal.domain.messages import Message
from journal.screens.frames import PlainFrame
from journal.web.door_log import note_denial
from journal.web.error_words import word_for_request
from journal.web.forms.again import SentForm, find_sent_form
from journal.web.problems import ProblemDetails, details_of, details_of_http, find_title
from journal.web.request_work import current_actor
from journal.web.storage_log import StorageLog

#: Where a person is sent who has no sign-in, and may come without.
_DOOR = "door.show_door"
_AT_THE_DOOR = {_DOOR, "door.bring_word"}
PROBLEM_JSON = "application/problem+json"
_MACHINE_PATHS = ("/api/", "/healthz")
_HTML = "text/html"
_JSON_TYPES = ("application/json", PROBLEM_JSON)

#: Another one's thing is not found rather than forbidden, so both are written down.
DENIALS = {HTTPStatus.UNAUTHORIZED, HTTPStatus.FORBIDDEN, HTTPStatus.NOT_FOUND}
#: A moment, for whoever sends again by a program.
RETRY_AFTER_S = 5

pages = Blueprint("errors", __name__)


@dataclass(frozen=True, slots=True, kw_only=True)
class ProblemPage:
    """What the error page and the notice inside a page show."""

    frame: PlainFrame
    detail: str
    sentences: tuple[str, ...] = ()
    #: What a form held and where it goes, so that it can be sent once more.
    again: SentForm | None = None


def answer_errors(app: Flask) -> None:
    """Register the two handlers through which every error leaves the house."""
    log = StorageLog()

    def answer_not_kept(error: NotKept) -> Response:
        log.note(error)
        response = _answer(details_of(error), find_sent_form())
        response.headers["Retry-After"] = str(RETRY_AFTER_S)
        return response

    app.register_error_handler(JournalError, _answer_journal_error)
    app.register_error_handler(NotKept, answer_not_kept)
    app.register_error_handler(HTTPException, _answer_http_error)


def wants_json() -> bool:
    """Tell whether the asker is a program rather than a person with a browser."""
    if request.path.startswith(_MACHINE_PATHS):
        return True
    accepted = request.accept_mimetypes
    best = accepted.best_match((_HTML, *_JSON_TYPES))
    return best in _JSON_TYPES and accepted[best] > accepted[_HTML]


@pages.get("/problems/<name>")
def problem(name: str) -> str:
    """Show what a kind of problem is: the page to which `type` in problem details leads."""
    title = find_title(name)
    if title is None:
        raise NotFound
    frame = PlainFrame(title=title, heading=title)
    detail = word_for_request(Message("problems.one_of_the_answers_of_the_journal"))
    return render_template("base/problem.html", page=ProblemPage(frame=frame, detail=detail))


def _answer_journal_error(error: JournalError) -> Response:
    details = details_of(error)
    can_come_again = isinstance(error, NotKept | Refused)
    if details.status in DENIALS:
        note_denial(details.status)
    if isinstance(error, SignedOut) and not wants_json() and request.endpoint not in _AT_THE_DOOR:
        return _send_to(url_for(_DOOR), details, HTTPStatus.UNAUTHORIZED)
    if isinstance(error, NoChallenge) and _is_page_of_teacher():
        href = url_for("challenges.show_challenges", class_id=error.class_id)
        return _send_to(href, details, HTTPStatus.CONFLICT)
    return _answer(details, find_sent_form() if can_come_again else None)


def _answer_http_error(error: HTTPException) -> Response:
    response = _answer(details_of_http(error))
    # What belongs to the status stays with it, such as Allow with 405 and Retry-After.
    for name, value in error.get_headers():
        if name.lower() not in {"content-type", "content-length"}:
            response.headers.setdefault(name, value)
    return response


def _answer(details: ProblemDetails, again: SentForm | None = None) -> Response:
    if wants_json():
        kind = url_for("errors.problem", name=details.name)
        response = jsonify(details.as_json(kind, request.path))
        response.mimetype = PROBLEM_JSON
        response.status_code = details.status
        return response
    page = ProblemPage(
        frame=PlainFrame(title=details.title, heading=details.title),
        detail=details.detail,
        sentences=_sentences(details),
        again=again,
    )
    if request.headers.get("HX-Request"):
        # The page stays as it is, with all that was written; only the notice is put in.
        response = make_response(render_template("parts/problem.html", page=page), details.status)
        response.headers["HX-Retarget"] = "#notices"
        response.headers["HX-Reswap"] = "innerHTML"
        return response
    return make_response(render_template("base/problem.html", page=page), details.status)


def _is_page_of_teacher() -> bool:
    return request.method == "GET" and not wants_json() and current_actor().role is Role.TEACHER


def _send_to(href: str, details: ProblemDetails, status: HTTPStatus) -> Response:
    """Lead to where it goes on, with the sentence; `status` is for a part of a page."""
    flash(details.detail)
    if request.headers.get("HX-Request"):
        response = make_response("", status)
        response.headers["HX-Redirect"] = href
        return response
    return make_response(redirect(href, HTTPStatus.SEE_OTHER))


def _sentences(details: ProblemDetails) -> tuple[str, ...]:
    every = (sentence for sentences in details.errors.values() for sentence in sentences)
    return tuple(sentence for sentence in dict.fromkeys(every) if sentence != details.detail)
