"""A launch's energy beside published limits, and those limits, for the teacher only."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.screens.desk.energy import prepare_energy
from journal.screens.desk.limits import prepare_limits
from journal.services.safety_limits import edit_limit
from journal.web.error_words import notify, sentences_of
from journal.web.request_work import request_work

pages = Blueprint("energy", __name__)


@pages.get("/classes/<uuid:class_id>/energy")
def show_energy(class_id: UUID) -> tuple[str, int]:
    """Show the form, and what the launch comes to beside the limits; nothing is kept."""
    entered = request.args.to_dict()
    with request_work() as work:
        try:
            page = prepare_energy(work, class_id, entered)
        except Invalid as invalid:
            page = prepare_energy(work, class_id, entered, sentences_of(invalid))
    status = 200 if page.errors is None else 422
    return render_template("pages/energy/energy.html", page=page), status


@pages.get("/classes/<uuid:class_id>/energy/limits")
def show_limits(class_id: UUID) -> str:
    """Show every limit with its origin."""
    with request_work() as work:
        page = prepare_limits(work, class_id)
    return render_template("pages/energy/limits.html", page=page)


@pages.post("/classes/<uuid:class_id>/energy/limits")
def edit(class_id: UUID) -> Response | tuple[str, int]:
    """Keep the school's own value of a limit, or show the form again."""
    entered = request.form.to_dict()
    try:
        with request_work() as work:
            edit_limit(work, class_id, entered)
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_limits(work, class_id, entered, sentences_of(invalid))
        return render_template("pages/energy/limits.html", page=page), 422
    notify(Message("energy.kept_for_every_class_of_the_school"))
    return redirect(url_for("energy.show_limits", class_id=class_id), 303)
