"""Pages of the six stages."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.exceptions import NotFound
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid
from journal.domain.stages import NoteEntry, NoteKind, Stage
from journal.screens.tablet.stages import describe_next, prepare_stage
from journal.services.stages import arrive, keep_notes
from journal.web.request_work import request_work
from journal.web.sent_forms import find_id

pages = Blueprint("stages", __name__)


@pages.get("/groups/<uuid:group_id>/stages/<stage>")
def show_stage(group_id: UUID, stage: str) -> str:
    """Show a stage; looking at it is no arrival."""
    with request_work() as work:
        page = prepare_stage(work, group_id, _stage(stage))
    return render_template("pages/stages/stage.html", page=page)


@pages.post("/groups/<uuid:group_id>/stages/<stage>")
def go_to_stage(group_id: UUID, stage: str) -> Response:
    """Note that the group is at a stage now, and show it."""
    with request_work() as work:
        arrive(work, group_id, _stage(stage))
    return redirect(url_for("stages.show_stage", group_id=group_id, stage=stage), 303)


@pages.post("/groups/<uuid:group_id>/stages/<stage>/notes")
def keep(group_id: UUID, stage: str) -> Response | tuple[str, int]:
    """Keep what was written, or show the form again with what is to be mended."""
    at, form = _stage(stage), request.form
    entries = [
        NoteEntry(
            kind=kind,
            starter=form.get(f"{kind.value}_starter", ""),
            words=form.get(kind.value, ""),
            student_id=find_id(form.get("who", "")),
            scribe=form.get("scribe", ""),
        )
        for kind in NoteKind
        if kind.stage is at
    ]
    try:
        with request_work() as work:
            keep_notes(work, group_id, entries)
            told = describe_next(work, group_id, at)
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_stage(work, group_id, at, form, invalid.by_field())
        return render_template("pages/stages/stage.html", page=page), 422
    flash(told)
    return redirect(url_for("stages.show_stage", group_id=group_id, stage=stage), 303)


def _stage(name: str) -> Stage:
    try:
        return Stage(name)
    except ValueError:
        raise NotFound from None
