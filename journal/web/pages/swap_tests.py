"""Swap tests: plan one, see whose turn it is, read what it said."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.datastructures import MultiDict
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid, Refused
from journal.domain.numbers import NoNumber, read_whole
from journal.domain.swap_tests import SwapKind
from journal.screens.tablet.swap_tests import SwapForm, prepare_plan, prepare_swap_test
from journal.services.swap_tests import SwapEntry, end_swap_test, plan_swap_test
from journal.web.request_work import request_work
from journal.web.sent_forms import find_id, find_ids

pages = Blueprint("swap_tests", __name__)


@pages.get("/groups/<uuid:group_id>/swap-tests/new")
def new_swap_test(group_id: UUID) -> str:
    """Show the choices of a swap test."""
    with request_work() as work:
        page = prepare_plan(work, group_id, _form(request.args))
    return render_template("pages/swap_tests/plan.html", page=page)


@pages.post("/groups/<uuid:group_id>/swap-tests")
def plan(group_id: UUID) -> Response | tuple[str, int]:
    """Plan a swap test, or show the choices again with what is to be mended."""
    form = _form(request.form)
    try:
        with request_work() as work:
            planned = plan_swap_test(work, group_id, _entry(form))
    except (Invalid, Refused) as error:
        told = error.by_field() if isinstance(error, Invalid) else {"plan": [str(error)]}
        with request_work(writing=False) as work:
            page = prepare_plan(work, group_id, _form(request.form, told))
        return render_template("pages/swap_tests/plan.html", page=page), 422
    return _to(group_id, planned.id)


@pages.get("/groups/<uuid:group_id>/swap-tests/<uuid:swap_test_id>")
def show_swap_test(group_id: UUID, swap_test_id: UUID) -> str:
    """Show a swap test."""
    with request_work() as work:
        page = prepare_swap_test(work, group_id, swap_test_id)
    return render_template("pages/swap_tests/swap_test.html", page=page)


@pages.post("/groups/<uuid:group_id>/swap-tests/<uuid:swap_test_id>/end")
def end(group_id: UUID, swap_test_id: UUID) -> Response:
    """End a swap test before it is through."""
    with request_work() as work:
        end_swap_test(work, group_id, swap_test_id)
    flash("The swap test is over. Its trials are kept.")
    return _to(group_id, swap_test_id)


def _form(sent: MultiDict[str, str], errors: dict[str, list[str]] | None = None) -> SwapForm:
    usual = SwapForm()
    return SwapForm(
        kind=sent.get("kind", usual.kind),
        old=sent.get("old", ""),
        new=sent.get("new", ""),
        students=tuple(sent.getlist("students")),
        trials_each=sent.get("trials_each", usual.trials_each),
        errors=errors,
    )


def _entry(form: SwapForm) -> SwapEntry:
    if not form.students:
        raise Invalid.at("students", "Choose at least one name.")
    try:
        each = read_whole(form.trials_each)
    except NoNumber as error:
        raise Invalid.at("trials_each", str(error)) from error
    return SwapEntry(
        kind=SwapKind.OWN_PARTS if form.kind == SwapKind.OWN_PARTS.value else SwapKind.REVISIONS,
        old_revision_id=find_id(form.old),
        new_revision_id=find_id(form.new),
        student_ids=find_ids(form.students),
        trials_each=each,
    )


def _to(group_id: UUID, swap_test_id: UUID) -> Response:
    address = url_for("swap_tests.show_swap_test", group_id=group_id, swap_test_id=swap_test_id)
    return redirect(address, 303)
