"""Pages of the ladder of questions."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid, Refused
from journal.domain.ladders import LedTo
from journal.screens.tablet.ladders import prepare_ladder
from journal.services.ladder_steps import StepEntry, leave_for, take_step
from journal.services.ladders import (
    ASKED,
    answer_rung,
    judge_answer,
    open_next_rung,
    say_not_sure,
    skip_rung,
    start_climb,
)
from journal.web.ladder_forms import read_answer, read_borne_out, read_rung, read_step
from journal.web.request_work import request_work

pages = Blueprint("ladders", __name__)


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
    try:
        step = read_step(form)
        entry = read_answer(form)
        with request_work() as work:
            if step is None:
                climb = answer_rung(work, group_id, entry)
                if climb.rung is entry.rung:
                    flash("Your answer is kept for your teacher. You can say more.")
            else:
                take_step(work, group_id, entry, step)
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_ladder(work, group_id, form, invalid.by_field())
        return render_template("pages/ladders/ladder.html", page=page), 422
    return _back(group_id) if step is None else _go(group_id, step.led_to)


@pages.post("/groups/<uuid:group_id>/ladder/next")
def open_next(group_id: UUID) -> Response:
    """Open the next question after a new trial."""
    with request_work() as work:
        open_next_rung(work, group_id)
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/ladder/not-sure")
def not_sure(group_id: UUID) -> Response:
    """Open the next question for a group that is not sure yet, or say what it can do instead."""
    rung = read_rung(request.form.get("rung", ""))
    try:
        with request_work() as work:
            say_not_sure(work, group_id, rung)
    except (Refused, Invalid) as refused:
        flash(str(refused))
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/ladder/skip")
def skip(group_id: UUID) -> Response:
    """Skip a question in the teacher's name."""
    with request_work() as work:
        skip_rung(work, group_id)
    flash("The next question is open on their tablet.")
    return redirect(f"/groups/{group_id}/diagnosis", 303)


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
    with request_work() as work:
        leave_for(work, group_id, step)
    return _go(group_id, step.led_to)


def _go(group_id: UUID, led_to: LedTo) -> Response:
    """Go where the next test is made ready."""
    home = f"/groups/{group_id}"
    ways = {
        LedTo.REVISION: f"{home}/revisions/new?from=ladder",
        LedTo.HANDLING: f"{home}/trials/new",
        LedTo.SWAP_TEST: f"{home}/swap-tests/new",
        LedTo.PRACTICE_SET: f"{home}/trials/new",
    }
    return redirect(ways[led_to], 303)


def _back(group_id: UUID) -> Response:
    return redirect(url_for("ladders.show_ladder", group_id=group_id), 303)
