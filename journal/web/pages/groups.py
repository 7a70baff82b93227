"""The teacher's pages of students and groups."""

from __future__ import annotations

from http import HTTPStatus
from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.screens.desk.classes import prepare_class
from journal.screens.desk.rosters import prepare_members, prepare_roster
from journal.services.groups import (
    deal_groups,
    get_own_group,
    make_group,
    move_student,
    rename_group,
    set_question_language,
)
from journal.services.rosters import add_students, bring_student_back, let_student_leave
from journal.web.error_words import notify, sentences_of
from journal.web.forms.fields import read_id, read_ids
from journal.web.pages.classes import redirect_to_class
from journal.web.request_work import request_work

pages = Blueprint("groups", __name__)


@pages.get("/classes/<uuid:class_id>/students/new")
def new_students(class_id: UUID) -> str:
    """Show the form for a pasted list."""
    with request_work() as work:
        page = prepare_roster(work, class_id)
    return render_template("pages/groups/roster.html", page=page)


@pages.post("/classes/<uuid:class_id>/students/new")
def paste_students(class_id: UUID) -> Response | tuple[str, int]:
    """Add everybody on the list, or nobody and name each line that cannot be taken."""
    text = request.form.get("nicknames", "")
    try:
        with request_work() as work:
            added = add_students(work, class_id, text)
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_roster(work, class_id, text, invalid)
        return render_template("pages/groups/roster.html", page=page), 422
    notify(Message("groups.students_are_added", count=len(added)))
    return redirect_to_class(class_id)


@pages.post("/classes/<uuid:class_id>/students/<uuid:student_id>")
def place_student(class_id: UUID, student_id: UUID) -> Response:
    """Move a student to another group, out of it, out of the class, or back into it."""
    place = request.form.get("place", "")
    with request_work() as work:
        if place == "away":
            let_student_leave(work, class_id, student_id)
        elif place == "back":
            bring_student_back(work, class_id, student_id)
        else:
            group_id = None if place == "none" else read_id(place, "place")
            move_student(work, class_id, student_id, group_id)
    return redirect_to_class(class_id)


@pages.post("/classes/<uuid:class_id>/groups/deal")
def deal_out(class_id: UUID) -> Response:
    """Deal those without a group into groups of about four."""
    with request_work() as work:
        made = deal_groups(work, class_id)
    notify(Message("groups.groups_are_made", count=len(made)))
    return redirect_to_class(class_id)


@pages.post("/classes/<uuid:class_id>/groups")
def add_group(class_id: UUID) -> Response | tuple[str, int]:
    """Make a group of the students ticked, or show the desk again with what is to be mended."""
    ticked = request.form.getlist("students")
    try:
        with request_work() as work:
            made = make_group(work, class_id, read_ids(ticked, "students"))
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_class(work, class_id, ticked, sentences_of(invalid))
        return render_template("pages/classes/class.html", page=page), 422
    notify(Message("groups.group_is_made", number=made.number, name=made.name))
    return redirect_to_class(class_id)


@pages.get("/classes/<uuid:class_id>/groups/<uuid:group_id>")
def show_group(class_id: UUID, group_id: UUID) -> str:
    """Show one group: its name, who is in it, who could join."""
    with request_work() as work:
        page = prepare_members(work, class_id, group_id)
    return render_template("pages/groups/group.html", page=page)


@pages.post("/classes/<uuid:class_id>/groups/<uuid:group_id>/name")
def name_group(class_id: UUID, group_id: UUID) -> Response | tuple[str, int]:
    """Give the group another name."""
    name = request.form.get("name", "")
    try:
        with request_work() as work:
            rename_group(work, class_id, group_id, name)
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_members(work, class_id, group_id, name, sentences_of(invalid))
        return render_template("pages/groups/group.html", page=page), 422
    return _redirect_to_group(class_id, group_id)


@pages.post("/classes/<uuid:class_id>/groups/<uuid:group_id>/question-language")
def ask_in(class_id: UUID, group_id: UUID) -> Response | tuple[str, int]:
    """Put the ladder's questions to the group in another language."""
    try:
        with request_work() as work:
            set_question_language(work, class_id, group_id, request.form.get("language", ""))
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_members(work, class_id, group_id, errors=sentences_of(invalid))
        return render_template("pages/groups/group.html", page=page), 422
    notify(Message("groups.their_questions_come_in_this_language"))
    return _redirect_to_group(class_id, group_id)


@pages.post("/classes/<uuid:class_id>/groups/<uuid:group_id>/members")
def join(class_id: UUID, group_id: UUID) -> Response:
    """Let the students ticked join the group, all of them or none."""
    with request_work() as work:
        get_own_group(work, class_id, group_id)
        for student_id in read_ids(request.form.getlist("students"), "students"):
            move_student(work, class_id, student_id, group_id)
    return _redirect_to_group(class_id, group_id)


def _redirect_to_group(class_id: UUID, group_id: UUID) -> Response:
    address = url_for("groups.show_group", class_id=class_id, group_id=group_id)
    return redirect(address, HTTPStatus.SEE_OTHER)
