"""The page of a group's parts: lost, broken, mended, lent and borrowed."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.messages import Message
from journal.domain.parts import PartEventKind
from journal.screens.tablet.parts import prepare_parts
from journal.services.parts import borrow_part, give_back, report_event
from journal.web.error_words import notify
from journal.web.forms.fields import read_choice
from journal.web.request_work import current_actor, request_work

pages = Blueprint("parts", __name__)

_WHICH = Message("parts.tap_what_happened")


@pages.get("/groups/<uuid:group_id>/parts")
def show_parts(group_id: UUID) -> str:
    """Show a group's parts."""
    with request_work() as work:
        page = prepare_parts(work, group_id)
    return render_template("pages/parts/parts.html", page=page)


@pages.post("/groups/<uuid:group_id>/parts/<uuid:part_id>/events")
def report(group_id: UUID, part_id: UUID) -> Response:
    """Note what happened to a part."""
    kind = read_choice(PartEventKind, request.form.get("kind", ""), "kind", _WHICH)
    with request_work() as work:
        report_event(work, group_id, part_id, kind, current_actor().student_id)
    notify(Message("sessions.kept"))
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/parts/<uuid:part_id>/borrow")
def borrow(group_id: UUID, part_id: UUID) -> Response:
    """Borrow a part of another group, or take an own one back."""
    with request_work() as work:
        borrow_part(work, group_id, part_id, current_actor().student_id)
    notify(Message("parts.it_is_with_you_now"))
    return _back(group_id)


@pages.post("/groups/<uuid:group_id>/parts/<uuid:part_id>/return")
def bring_back(group_id: UUID, part_id: UUID) -> Response:
    """Give a borrowed part back."""
    with request_work() as work:
        give_back(work, group_id, part_id)
    notify(Message("parts.you_gave_it_back"))
    return _back(group_id)


def _back(group_id: UUID) -> Response:
    return redirect(url_for("parts.show_parts", group_id=group_id), 303)
