"""Pages of the ladder of questions."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid, Refused
from journal.domain.ladders import LedTo
from journal.domain.messages import Message
from journal.records.group_contexts import get_group_context
from journal.records.tablet_records import gather_tablet
from journal.screens.tablet.ladders import LadderPage, prepare_ladder
from journal.screens.tablet.ladders import show_ladder as show_ladder_page
from journal.services.ladder_steps import StepEntry, leave_for, take_step
from journal.services.ladders import (
    ASKED,
    answer_rung,
    check_answer,
    judge_answer,
    open_next_rung,
    say_not_sure,
    skip_rung,
    start_climb,
)
from journal.services.open_questions import OpenQuestion, read_question
from journal.web.error_words import notify, sentence_of, sentences_of
from journal.web.forms.ladders import read_answer, read_borne_out, read_rung, read_step
from journal.web.request_work import request_work

pages = Blueprint("ladders", __name__)
#: The page where what an answer led to is made ready.
_NEXT_STEPS = {
    LedTo.REVISION: "revisions.new_revision",
    LedTo.HANDLING: "trials.new_trial",
    LedTo.SWAP_TEST: "swap_tests.new_swap_test",
    LedTo.PRACTICE_SET: "trials.new_trial",
}


@pages.get("/groups/<uuid:group_id>/ladder")
def show_ladder(group_id: UUID) -> str:
    """Show the present question."""
    with request_work() as work:
        page = prepare_ladder(work, group_id)
    return render_template("pages/ladders/ladder.html", page=page)


@pages.post("/groups/<uuid:group_id>/ladder")
def be_stuck(group_id: UUID) -> Response:
    """Put the group on the ladder."""
    with request_work() as work:
        start_climb(work, group_id, request.form.get("why", ASKED))
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/ladder/answers")
def answer(group_id: UUID) -> Response | tuple[str, int]:
    """Keep an answer, or show the question again with what was written."""
    form = request.form
    # The question is worked out, and a wrong answer refused, before anybody waits for the lock.
    with request_work(writing=False) as work:
        gathered = gather_tablet(work, get_group_context(work, group_id))
        try:
            step, entry = read_step(form), read_answer(form)
            question = check_answer(work, gathered, entry)
        except Invalid as invalid:
            return _show_again(show_ladder_page(work, gathered, form, sentences_of(invalid)))
    try:
        with request_work() as work:
            if step is not None:
                take_step(work, group_id, entry, step, question)
            elif answer_rung(work, group_id, entry, question=question).rung is entry.rung:
                notify(Message("ladders.your_answer_is_kept_for_your_teacher"))
    except Invalid as invalid:
        with request_work(writing=False) as work:
            return _show_again(prepare_ladder(work, group_id, form, sentences_of(invalid)))
    return _back(group_id) if step is None else _go(group_id, step.led_to)


@pages.post("/groups/<uuid:group_id>/ladder/next")
def open_next(group_id: UUID) -> Response:
    """Open the next question after a new trial."""
    question = _read_question(group_id)
    with request_work() as work:
        open_next_rung(work, group_id, question)
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/ladder/not-sure")
def not_sure(group_id: UUID) -> Response:
    """Open the next question for a group that is not sure yet, or say what it can do instead."""
    rung = read_rung(request.form.get("rung", ""))
    try:
        question = _read_question(group_id)
        with request_work() as work:
            say_not_sure(work, group_id, rung, question)
    except (Refused, Invalid) as refused:
        flash(sentence_of(refused))
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/ladder/skip")
def skip(group_id: UUID) -> Response:
    """Skip a question in the teacher's name."""
    question = _read_question(group_id, for_teacher=True)
    with request_work() as work:
        skip_rung(work, group_id, question)
    notify(Message("ladders.next_question_is_open_on_their_tablet"))
    return redirect(url_for("diagnoses.show_diagnosis", group_id=group_id), 303)


@pages.post("/groups/<uuid:group_id>/ladder/answers/<uuid:answer_id>/borne-out")
def bear_out(group_id: UUID, answer_id: UUID) -> Response:
    """Keep whether the last test bore an answer out."""
    with request_work() as work:
        judge_answer(work, group_id, answer_id, read_borne_out(request.form.get("borne_out", "")))
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/ladder/leave")
def leave(group_id: UUID) -> Response:
    """Leave the ladder for what the group knows to try."""
    step = read_step(request.form) or StepEntry(led_to=LedTo.REVISION)
    question = _read_question(group_id)
    with request_work() as work:
        leave_for(work, group_id, step, question)
    return _go(group_id, step.led_to)


def _read_question(group_id: UUID, *, for_teacher: bool = False) -> OpenQuestion:
    """Return the open question, worked out while nobody waits for it."""
    with request_work(writing=False) as work:
        return read_question(work, group_id, for_teacher=for_teacher)


def _show_again(page: LadderPage) -> tuple[str, int]:
    return render_template("pages/ladders/ladder.html", page=page), 422


def _go(group_id: UUID, led_to: LedTo) -> Response:
    """Go where the next test is made ready."""
    origin: dict[str, Any] = {"from": "ladder"} if led_to is LedTo.REVISION else {}
    return redirect(url_for(_NEXT_STEPS[led_to], group_id=group_id, **origin), 303)


def _back(group_id: UUID) -> Response:
    return redirect(url_for("ladders.show_ladder", group_id=group_id), 303)
