"""Guest tests: invite, answer, log launch by launch, end."""

from __future__ import annotations

from datetime import datetime
from http import HTTPStatus
from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.datastructures import MultiDict
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid, Problem, Refused
from journal.domain.guest_tests import GuestKind, GuestTestEntry, GuestTrialEntry
from journal.domain.trial_fields import values_of
from journal.domain.trials import Ending
from journal.screens.tablet.guest_tests import prepare_guest_tests
from journal.services.guest_tests import (
    answer_guest_test,
    end_guest_test,
    invite,
    log_guest_trial,
    strike_guest_trial,
)
from journal.web.error_words import sentences_of
from journal.web.forms.fields import find_id, find_ids, read_number
from journal.web.forms.trials import read_ending, read_trial_id
from journal.web.request_work import request_work

pages = Blueprint("guest_tests", __name__)


@pages.get("/groups/<uuid:group_id>/guest-tests")
def show_guest_tests(group_id: UUID) -> str:
    """Show who is asked, who could be invited, and whose turn it is."""
    with request_work() as work:
        page = prepare_guest_tests(work, group_id)
    return render_template("pages/guest_tests/guest_tests.html", page=page)


@pages.post("/groups/<uuid:group_id>/guest-tests")
def invite_guests(group_id: UUID) -> Response | tuple[str, int]:
    """Plan a guest test."""
    form = request.form
    is_device = form.get("kind") == GuestKind.THEIR_DEVICE.value
    entry = GuestTestEntry(
        kind=GuestKind.THEIR_DEVICE if is_device else GuestKind.GUESTS,
        student_ids=find_ids(form.getlist("students")),
        owner_group_id=find_id(form.get("owner", "")),
    )
    try:
        with request_work() as work:
            invite(work, group_id, entry)
    except (Invalid, Refused) as error:
        return _again(group_id, error)
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/guest-tests/<uuid:guest_test_id>/answer")
def answer(group_id: UUID, guest_test_id: UUID) -> Response:
    """Say yes or not now to a group that asks."""
    with request_work() as work:
        answer_guest_test(work, group_id, guest_test_id, agreed=request.form.get("agreed") == "yes")
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/guest-tests/<uuid:guest_test_id>/trials")
def log(group_id: UUID, guest_test_id: UUID) -> Response | tuple[str, int]:
    """Keep one launch."""
    try:
        with request_work() as work:
            entry = _read_entry(request.form, work.now())
            log_guest_trial(work, group_id, guest_test_id, read_trial_id(request.form), entry)
    except (Invalid, Refused) as error:
        return _again(group_id, error)
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/guest-tests/<uuid:guest_test_id>/strike")
def strike(group_id: UUID, guest_test_id: UUID) -> Response | tuple[str, int]:
    """Take the last launch back."""
    try:
        with request_work() as work:
            strike_guest_trial(work, group_id, guest_test_id)
    except Refused as error:
        return _again(group_id, error)
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/guest-tests/<uuid:guest_test_id>/end")
def end(group_id: UUID, guest_test_id: UUID) -> Response:
    """End a guest test before it is through."""
    with request_work() as work:
        end_guest_test(work, group_id, guest_test_id)
    return _back(group_id)


def _read_entry(form: MultiDict[str, str], now: datetime) -> GuestTrialEntry:
    problems: list[Problem] = []
    amount = read_number(form.get("amount", ""), "amount", problems)
    ending = read_ending(form, problems)
    if problems:
        raise Invalid.of(problems)
    return GuestTrialEntry(
        logged_at=now,
        amount=amount,
        own_revision_id=find_id(form.get("own_part", "")),
        **values_of(ending, Ending),
    )


def _again(group_id: UUID, error: Invalid | Refused) -> tuple[str, int]:
    with request_work(writing=False) as work:
        page = prepare_guest_tests(work, group_id, sentences_of(error, "log"))
    body = render_template("pages/guest_tests/guest_tests.html", page=page)
    return body, HTTPStatus.UNPROCESSABLE_ENTITY


def _back(group_id: UUID) -> Response:
    address = url_for("guest_tests.show_guest_tests", group_id=group_id)
    return redirect(address, HTTPStatus.SEE_OTHER)
