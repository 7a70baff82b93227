"""Pages of the six stages."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid
from journal.screens.tablet.stages import describe_next, prepare_stage
from journal.services.stages import arrive, keep_notes
from journal.web.error_words import sentences_of
from journal.web.forms.stages import read_notes, read_stage
from journal.web.request_work import request_work

pages = Blueprint("stages", __name__)


@pages.get("/groups/<uuid:group_id>/stages/<stage>")
def show_stage(group_id: UUID, stage: str) -> str:
    """Show a stage; looking at it is no arrival."""
    with request_work() as work:
        page = prepare_stage(work, group_id, read_stage(stage))
    return render_template("pages/stages/stage.html", page=page)


@pages.post("/groups/<uuid:group_id>/stages/<stage>")
def go_to_stage(group_id: UUID, stage: str) -> Response:
    """Note that the group is at a stage now, and show it."""
    with request_work() as work:
        arrive(work, group_id, read_stage(stage))
    return redirect(url_for("stages.show_stage", group_id=group_id, stage=stage), 303)


@pages.post("/groups/<uuid:group_id>/stages/<stage>/notes")
def keep(group_id: UUID, stage: str) -> Response | tuple[str, int]:
    """Keep what was written, or show the form again with what is to be mended."""
    at, form = read_stage(stage), request.form
    try:
        with request_work() as work:
            keep_notes(work, group_id, read_notes(form, at))
            sentence = describe_next(work, group_id, at)
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_stage(work, group_id, at, form, sentences_of(invalid))
        return render_template("pages/stages/stage.html", page=page), 422
    flash(sentence)
    return redirect(url_for("stages.show_stage", group_id=group_id, stage=stage), 303)
