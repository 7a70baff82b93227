"""Pages of a class's challenges: open a ready one, read it, change the class's copy."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.screens.desk.challenges import (
    prepare_challenge,
    prepare_challenges,
    prepare_changes,
)
from journal.services.challenges import change_challenge, open_challenge
from journal.web.error_words import notify, sentences_of
from journal.web.request_work import request_work

pages = Blueprint("challenges", __name__)


@pages.get("/classes/<uuid:class_id>/challenges")
def show_challenges(class_id: UUID) -> str:
    """Show what the class can open, and what it has opened."""
    with request_work() as work:
        page = prepare_challenges(work, class_id)
    return render_template("pages/challenges/list.html", page=page)


@pages.post("/classes/<uuid:class_id>/challenges")
def open_one(class_id: UUID) -> Response:
    """Give the class its own copy of a ready challenge."""
    with request_work() as work:
        opened = open_challenge(work, class_id, request.form.get("key", ""))
    notify(Message("challenges.is_open", title=opened.title))
    return redirect(url_for("challenges.show_challenge", challenge_id=opened.id), 303)


@pages.get("/challenges/<uuid:challenge_id>")
def show_challenge(challenge_id: UUID) -> str:
    """Show a class's copy, whole."""
    with request_work() as work:
        page = prepare_challenge(work, challenge_id)
    return render_template("pages/challenges/challenge.html", page=page)


@pages.get("/challenges/<uuid:challenge_id>/changes")
def show_changes(challenge_id: UUID) -> str:
    """Show the form that changes a class's copy."""
    with request_work() as work:
        page = prepare_changes(work, challenge_id)
    return render_template("pages/challenges/changes.html", page=page)


@pages.post("/challenges/<uuid:challenge_id>/changes")
def change(challenge_id: UUID) -> Response | tuple[str, int]:
    """Keep the changes, or show the form again with what is to be mended."""
    entered = request.form.to_dict()
    try:
        with request_work() as work:
            change_challenge(work, challenge_id, entered)
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_changes(work, challenge_id, entered, sentences_of(invalid))
        return render_template("pages/challenges/changes.html", page=page), 422
    notify(Message("challenges.kept_trials_from_now"))
    return redirect(url_for("challenges.show_challenge", challenge_id=challenge_id), 303)
