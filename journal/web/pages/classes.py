"""The teacher's classes: the list, a new one, a class's desk with its door."""

from __future__ import annotations

from http import HTTPStatus
from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.screens.desk.classes import prepare_class, prepare_classes, prepare_new_class
from journal.services.classes import make_class, set_door
from journal.services.lesson_words import end_lesson_word, make_lesson_word
from journal.web.error_words import notify, sentences_of
from journal.web.request_work import request_work

pages = Blueprint("classes", __name__)


@pages.get("/classes")
def show_classes() -> str:
    """Show the teacher's classes: the teacher's home."""
    with request_work() as work:
        page = prepare_classes(work)
    return render_template("pages/classes/list.html", page=page)


@pages.get("/classes/new")
def new_class() -> str:
    """Show the form for a new class."""
    with request_work() as work:
        page = prepare_new_class(work)
    return render_template("pages/classes/new.html", page=page)


@pages.post("/classes/new")
def add_class() -> Response | tuple[str, int]:
    """Make a class, or show the form again with what is to be mended."""
    try:
        with request_work() as work:
            made = make_class(work, request.form)
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_new_class(work, request.form, sentences_of(invalid))
        return render_template("pages/classes/new.html", page=page), 422
    notify(Message("classes.is_made", name=made.name))
    return redirect_to_class(made.id)


@pages.get("/classes/<uuid:class_id>")
def show_class(class_id: UUID) -> str:
    """Show a class's desk."""
    with request_work() as work:
        page = prepare_class(work, class_id)
    return render_template("pages/classes/class.html", page=page)


@pages.post("/classes/<uuid:class_id>/word")
def new_word(class_id: UUID) -> Response:
    """Give the class a new lesson word for some hours, or end the present one."""
    with request_work() as work:
        if request.form.get("do") == "end":
            end_lesson_word(work, class_id)
            notify(Message("classes.door_is_shut"))
        else:
            make_lesson_word(work, class_id, request.form.get("hours", ""))
    return redirect_to_class(class_id)


@pages.post("/classes/<uuid:class_id>/door")
def change_door(class_id: UUID) -> Response:
    """Set whether tablets come in at once or knock first."""
    with request_work() as work:
        set_door(work, class_id, request.form.get("door", ""))
    return redirect_to_class(class_id)


def redirect_to_class(class_id: UUID) -> Response:
    """Lead back to the class's desk after a change."""
    return redirect(url_for("classes.show_class", class_id=class_id), HTTPStatus.SEE_OTHER)
