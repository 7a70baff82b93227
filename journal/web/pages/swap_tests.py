"""Swap tests: plan one, see whose turn it is, read what it said."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid, Refused
from journal.domain.messages import Message
from journal.screens.tablet.swap_tests import prepare_plan, prepare_swap_test
from journal.services.swap_tests import end_swap_test, plan_swap_test
from journal.web.error_words import notify, sentences_of
from journal.web.forms.swap_tests import read_choices, read_plan
from journal.web.request_work import request_work

pages = Blueprint("swap_tests", __name__)


@pages.get("/groups/<uuid:group_id>/swap-tests/new")
def new_swap_test(group_id: UUID) -> str:
    """Show the choices of a swap test."""
    with request_work() as work:
        page = prepare_plan(work, group_id, read_choices(request.args))
    return render_template("pages/swap_tests/plan.html", page=page)


@pages.post("/groups/<uuid:group_id>/swap-tests")
def plan(group_id: UUID) -> Response | tuple[str, int]:
    """Plan a swap test, or show the choices again with what is to be mended."""
    form = read_choices(request.form)
    try:
        with request_work() as work:
            planned = plan_swap_test(work, group_id, read_plan(form))
    except (Invalid, Refused) as error:
        sentences = sentences_of(error, "plan")
        with request_work(writing=False) as work:
            page = prepare_plan(work, group_id, read_choices(request.form, sentences))
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
    notify(Message("swap_tests.swap_test_is_over"))
    return _to(group_id, swap_test_id)


def _to(group_id: UUID, swap_test_id: UUID) -> Response:
    address = url_for("swap_tests.show_swap_test", group_id=group_id, swap_test_id=swap_test_id)
    return redirect(address, 303)
