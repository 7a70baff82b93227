"""The one table from errors to HTTP, and the one shape of an error.

JSON follows RFC 9457 (problem details): type, title, status, detail, instance, and as extensions
`errors` by field, and `kept` and `sent` where one id holds two contents. A page gets the same
words.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from http import HTTPStatus
from typing import cast

from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException

from journal.domain import errors
from journal.domain.messages import Message, Words
from journal.web.error_words import sentence_of, sentences_of, word_for_request


@dataclass(frozen=True, slots=True, kw_only=True)
class ProblemKind:
    """One row of the table: the error, its HTTP status, its name and its heading."""

    error: type[Exception]
    status: HTTPStatus
    name: str
    title: Message


#: The first row whose class fits is taken, so a special error stands above its general one.
#: A shut gate is 409: the request clashes with the state of the session and may be sent again
#: once the teacher has opened it (423 speaks of a lock held by another client, RFC 4918).
PROBLEM_KINDS = (
    ProblemKind(
        error=errors.Invalid,
        status=HTTPStatus.UNPROCESSABLE_ENTITY,
        name="invalid",
        title=Message("problems.something_needs_mending"),
    ),
    ProblemKind(
        error=errors.NotFound,
        status=HTTPStatus.NOT_FOUND,
        name="not-found",
        title=Message("problems.nothing_is_here"),
    ),
    ProblemKind(
        error=errors.NotAllowed,
        status=HTTPStatus.FORBIDDEN,
        name="not-allowed",
        title=Message("problems.not_open_to_you"),
    ),
    ProblemKind(
        error=errors.SignedOut,
        status=HTTPStatus.UNAUTHORIZED,
        name="signed-out",
        title=Message("problems.please_come_in_first"),
    ),
    ProblemKind(
        error=errors.GateShut,
        status=HTTPStatus.CONFLICT,
        name="gate-shut",
        title=Message("problems.launching_waits_for_your_teacher"),
    ),
    ProblemKind(
        error=errors.NoChallenge,
        status=HTTPStatus.CONFLICT,
        name="no-challenge",
        title=Message("problems.challenge_comes_first"),
    ),
    ProblemKind(
        error=errors.Clash,
        status=HTTPStatus.CONFLICT,
        name="clash",
        title=Message("problems.two_did_the_same_at_once"),
    ),
    ProblemKind(
        error=errors.Refused,
        status=HTTPStatus.CONFLICT,
        name="refused",
        title=Message("problems.cannot_be_done_now"),
    ),
    ProblemKind(
        error=errors.Conflict,
        status=HTTPStatus.CONFLICT,
        name="conflict",
        title=Message("problems.two_entries_share_one_number"),
    ),
    ProblemKind(
        error=errors.DiskFull,
        status=HTTPStatus.INSUFFICIENT_STORAGE,
        name="disk-full",
        title=Message("problems.journals_disk_is_full"),
    ),
    ProblemKind(
        error=errors.OutOfReach,
        status=HTTPStatus.SERVICE_UNAVAILABLE,
        name="out-of-reach",
        title=Message("problems.journal_is_busy"),
    ),
    ProblemKind(
        error=errors.NotKept,
        status=HTTPStatus.SERVICE_UNAVAILABLE,
        name="not-kept",
        title=Message("problems.nothing_was_kept_of_this"),
    ),
)

#: Words for what HTTP itself refuses; any other status takes the general sentence.
HTTP_SENTENCES: Mapping[int, tuple[Message, Words]] = {
    400: (
        Message("problems.journal_could_not_read_this"),
        Message("problems.load_the_page_again_and_send_once_more"),
    ),
    404: (Message("problems.nothing_is_here"), Message("problems.no_such_page")),
    405: (
        Message("problems.address_does_not_work_that_way"),
        Message("problems.go_back_and_use_the_buttons"),
    ),
    413: (Message("problems.is_too_large"), Message("problems.send_a_smaller_file")),
    415: (Message("problems.journal_could_not_read_this"), Message("problems.send_json")),
    422: (
        Message("problems.something_needs_mending"),
        Message("problems.look_at_the_fields_named_below"),
    ),
    500: (
        Message("problems.journal_stumbled"),
        Message("problems.it_was_written_down_for_whoever_looks_after"),
    ),
    503: (Message("problems.journal_is_busy"), errors.OutOfReach().message),
}
GENERAL_SENTENCE = (
    Message("problems.journal_could_not_do_this"),
    Message("problems.go_back_and_try_once_more"),
)
FORM_EXPIRED = (
    Message("problems.page_was_open_for_too_long"),
    Message("problems.load_it_again"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ProblemDetails:
    """One error as it leaves the house."""

    status: int
    name: str
    title: str
    detail: str
    errors: Mapping[str, list[str]] = field(default_factory=dict)
    kept: Mapping[str, object] | None = None
    sent: Mapping[str, object] | None = None

    def as_json(self, kind: str, instance: str) -> dict[str, object]:
        """Return the body of a JSON answer: the page of this kind, and the path asked for."""
        body: dict[str, object] = {
            "type": kind,
            "title": self.title,
            "status": self.status,
            "detail": self.detail,
            "instance": instance,
        }
        if self.errors:
            body["errors"] = self.errors
        if self.kept is not None:
            body |= {"kept": self.kept, "sent": self.sent}
        return body


def details_of(error: errors.JournalError) -> ProblemDetails:
    """Return the details of one of our own errors."""
    kind = next((kind for kind in PROBLEM_KINDS if isinstance(error, kind.error)), None)
    return ProblemDetails(
        status=kind.status if kind else HTTPStatus.BAD_REQUEST,
        name=kind.name if kind else "journal-error",
        title=word_for_request(kind.title if kind else GENERAL_SENTENCE[0]),
        detail=sentence_of(error) or word_for_request(GENERAL_SENTENCE[1]),
        errors=sentences_of(error) if isinstance(error, errors.Invalid) else {},
        kept=error.kept if isinstance(error, errors.Conflict) else None,
        sent=error.sent if isinstance(error, errors.Conflict) else None,
    )


def details_of_http(error: HTTPException) -> ProblemDetails:
    """Return the details of an error of HTTP itself, or of whatever went wrong unforeseen."""
    status = error.code or HTTPStatus.INTERNAL_SERVER_ERROR
    title, detail = HTTP_SENTENCES.get(status, GENERAL_SENTENCE)
    if isinstance(error, CSRFError):
        title, detail = FORM_EXPIRED
    by_field = _messages_by_field(getattr(error, "data", None) or {})
    return ProblemDetails(
        status=status,
        name=f"http-{status}",
        title=word_for_request(title),
        detail=word_for_request(detail),
        errors=by_field,
    )


def find_title(name: str) -> str | None:
    """Return the heading of a kind of problem by its name, for the page its type leads to."""
    titles = {kind.name: kind.title for kind in PROBLEM_KINDS}
    titles |= {f"http-{status}": title for status, (title, _) in HTTP_SENTENCES.items()}
    title = titles.get(name)
    return None if title is None else word_for_request(title)


def _messages_by_field(data: Mapping[str, object]) -> dict[str, list[str]]:
    """Flatten what schema validation says: {"json": {"a": {"0": ["no"]}}} -> {"a.0": ["no"]}."""
    messages = data.get("errors") or data.get("messages")
    found: dict[str, list[str]] = {}
    if isinstance(messages, Mapping):
        for part in messages.values():
            _collect(part, "", found)
    return found


def _collect(part: object, path: str, found: dict[str, list[str]]) -> None:
    if isinstance(part, Mapping):
        for key, value in cast("Mapping[object, object]", part).items():
            _collect(value, f"{path}.{key}" if path else str(key), found)
    elif isinstance(part, list):
        found.setdefault(path or "body", []).extend(str(sentence) for sentence in part)
    else:
        found.setdefault(path or "body", []).append(str(part))
