"""Pages of revisions: the next one, putting one right, setting one aside."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.screens.tablet.revisions import prepare_edit, prepare_revision
from journal.services.revisions import (
    edit_revision,
    make_first_builds,
    make_revision_from_form,
    set_aside,
    take_up_again,
)
from journal.web.error_words import notify, sentences_of
from journal.web.forms.fields import find_id
from journal.web.forms.revisions import read_revision
from journal.web.request_work import request_work

pages = Blueprint("revisions", __name__)


@pages.get("/groups/<uuid:group_id>/revisions/new")
def new_revision(group_id: UUID) -> str:
    """Show the form for the group's next revision."""
    part_id, parent_id = (find_id(request.args.get(name, "")) for name in ("part", "parent"))
    with request_work() as work:
        page = prepare_revision(work, group_id, part_id, parent_id, from_ladder=_is_from_ladder())
    return render_template("pages/revisions/form.html", page=page)


@pages.post("/groups/<uuid:group_id>/revisions/new")
def keep(group_id: UUID) -> Response | tuple[str, int]:
    """Keep the next revision, or show the form again with what is to be mended."""
    form = read_revision(request.form)
    try:
        with request_work() as work:
            made = make_revision_from_form(work, group_id, form)
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_revision(
                work,
                group_id,
                form.part_id,
                form=form,
                errors=sentences_of(invalid),
                from_ladder=_is_from_ladder(),
            )
        return render_template("pages/revisions/form.html", page=page), 422
    notify(_kept_sentence(len(made.changes), is_first=made.parent_id is None))
    return _to_journal(group_id)


@pages.post("/groups/<uuid:group_id>/revisions/first")
def keep_first_builds(group_id: UUID) -> Response:
    """Keep a first build of every own part that has none."""
    with request_work() as work:
        made = make_first_builds(work, group_id)
    notify(
        Message("revisions.first_build_is_done")
        if len(made) == 1
        else Message("revisions.first_builds_are_done")
    )
    return _to_journal(group_id)


@pages.get("/groups/<uuid:group_id>/revisions/<uuid:revision_id>/edit")
def show_edit(group_id: UUID, revision_id: UUID) -> str:
    """Show the form that puts a revision without trials right."""
    with request_work() as work:
        page = prepare_edit(work, group_id, revision_id)
    return render_template("pages/revisions/form.html", page=page)


@pages.post("/groups/<uuid:group_id>/revisions/<uuid:revision_id>/edit")
def edit(group_id: UUID, revision_id: UUID) -> Response | tuple[str, int]:
    """Put a revision right, or show the form again with what is to be mended."""
    form = read_revision(request.form)
    try:
        with request_work() as work:
            edit_revision(work, group_id, revision_id, form)
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_edit(work, group_id, revision_id, form, sentences_of(invalid))
        return render_template("pages/revisions/form.html", page=page), 422
    notify(Message("sessions.kept"))
    return _to_journal(group_id)


@pages.post("/groups/<uuid:group_id>/revisions/<uuid:revision_id>/aside")
def put_aside(group_id: UUID, revision_id: UUID) -> Response:
    """Set a revision aside."""
    with request_work() as work:
        set_aside(work, group_id, revision_id)
    notify(Message("revisions.set_aside"))
    return _to_journal(group_id)


@pages.post("/groups/<uuid:group_id>/revisions/<uuid:revision_id>/again")
def take_up(group_id: UUID, revision_id: UUID) -> Response:
    """Take a revision up again."""
    with request_work() as work:
        take_up_again(work, group_id, revision_id)
    notify(Message("revisions.it_is_in_use_again"))
    return _to_journal(group_id)


def _is_from_ladder() -> bool:
    return request.args.get("from") == "ladder"


def _kept_sentence(changes: int, *, is_first: bool) -> Message:
    if is_first:
        return Message("revisions.first_build_is_done")
    if changes == 1:
        return Message("revisions.kept_one_change")
    if changes > 1:
        return Message("revisions.kept_you_can_tell")
    return Message("revisions.kept_nothing_was_changed")


def _to_journal(group_id: UUID) -> Response:
    return redirect(url_for("journals.show_journal", group_id=group_id), 303)
