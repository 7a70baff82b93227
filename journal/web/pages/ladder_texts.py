"""The questions of a class's ladder, in the teacher's own words."""

from __future__ import annotations

from http import HTTPStatus
from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.screens.desk.ladder_texts import prepare_ladder_texts
from journal.services.ladder_texts import set_ladder_texts
from journal.web.error_words import notify, sentences_of
from journal.web.request_work import request_work

pages = Blueprint("ladder_texts", __name__)


@pages.get("/classes/<uuid:class_id>/ladder")
def show_ladder_texts(class_id: UUID) -> str:
    """Show the question of each rung."""
    with request_work() as work:
        page = prepare_ladder_texts(work, class_id)
    return render_template("pages/ladder_texts/ladder_texts.html", page=page)


@pages.post("/classes/<uuid:class_id>/ladder")
def change_ladder_texts(class_id: UUID) -> Response | tuple[str, int]:
    """Keep the teacher's questions, or show the form again with what is to be mended."""
    entered = request.form.to_dict()
    try:
        with request_work() as work:
            changed = set_ladder_texts(work, class_id, entered)
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_ladder_texts(work, class_id, entered, sentences_of(invalid))
        return render_template("pages/ladder_texts/ladder_texts.html", page=page), 422
    notify(
        Message("ladder_texts.kept_a_group_reads")
        if changed
        else Message("ladder_texts.nothing_was_changed")
    )
    address = url_for("ladder_texts.show_ladder_texts", class_id=class_id)
    return redirect(address, HTTPStatus.SEE_OTHER)
