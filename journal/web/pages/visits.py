"""Visits and near-misses: one tap, and a note where there is time for one."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from flask import Blueprint, make_response, redirect, render_template, request, session, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import NotKept
from journal.domain.messages import Message, Words
from journal.domain.needs import LATER
from journal.services.lanes import NOT_CLOSED, describe_near_miss
from journal.services.visits import (
    log_near_miss,
    log_visit,
    name_group,
    note_near_miss,
    note_visit,
)
from journal.web.error_words import notify, word_for_request
from journal.web.forms.overviews import PUT_OFF, remember
from journal.web.request_work import request_work

pages = Blueprint("visits", __name__)

#: htmx tells the page by this event to ask for the overview at once.
_NEWS = {"HX-Trigger": "journal-news"}


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPage:
    """What was kept by one tap, with the address that takes a note for it."""

    sentence: str
    question: str
    note_href: str


@pages.post("/groups/<uuid:group_id>/visits")
def visit(group_id: UUID) -> Response:
    """Keep that the teacher is here."""
    with request_work() as work:
        kept = log_visit(work, group_id, reason=request.form.get("reason", ""))
        name = name_group(work, group_id)
    href = url_for("visits.note_for_visit", group_id=group_id, visit_id=kept.id)
    question = Message("visits.what_did_you_agree_on_with", name=name)
    return _answer(group_id, Message("visits.your_visit_to_is_kept", name=name), question, href)


@pages.post("/groups/<uuid:group_id>/later")
def come_later(group_id: UUID) -> Response:
    """Put a group off for ten minutes on this screen: nothing is kept of it."""
    with request_work(writing=False) as work:
        name = name_group(work, group_id)
        session[PUT_OFF] = remember(session.get(PUT_OFF, {}), group_id, work.now())
    minutes = int(LATER.total_seconds() // 60)
    return _answer(group_id, Message("visits.later", name=name, minutes=minutes))


@pages.post("/groups/<uuid:group_id>/visits/<uuid:visit_id>")
def note_for_visit(group_id: UUID, visit_id: UUID) -> Response:
    """Keep the note of a visit."""
    with request_work() as work:
        note_visit(work, group_id, visit_id, request.form.get("note", ""))
        name = name_group(work, group_id)
    return _answer(group_id, Message("visits.note_on_is_kept", name=name))


@pages.post("/groups/<uuid:group_id>/near-misses")
def near_miss(group_id: UUID) -> Response:
    """Keep that something nearly went badly."""
    try:
        with request_work() as work:
            kept = log_near_miss(work, group_id)
            sentence = describe_near_miss(work, group_id)
            name = name_group(work, group_id)
    except NotKept as error:
        raise type(error)(NOT_CLOSED) from error.__cause__
    href = url_for("visits.note_for_near_miss", group_id=group_id, near_miss_id=kept.id)
    question = Message("visits.what_happened_at", name=name)
    return _answer(group_id, sentence, question, href)


@pages.post("/groups/<uuid:group_id>/near-misses/<uuid:near_miss_id>")
def note_for_near_miss(group_id: UUID, near_miss_id: UUID) -> Response:
    """Keep the note of a near-miss."""
    with request_work() as work:
        note_near_miss(work, group_id, near_miss_id, request.form.get("note", ""))
        name = name_group(work, group_id)
    return _answer(group_id, Message("visits.note_on_is_kept", name=name))


def _answer(group_id: UUID, message: Words, question: Words = "", note_href: str = "") -> Response:
    """Answer with the place for a note; without a script, with the group's page."""
    page = KeptPage(
        sentence=word_for_request(message),
        question=word_for_request(question),
        note_href=note_href,
    )
    if request.headers.get("HX-Request"):
        return make_response(render_template("pages/visits/kept.html", page=page), 200, _NEWS)
    notify(message)
    return redirect(url_for("findings.show_findings", group_id=group_id), 303)
