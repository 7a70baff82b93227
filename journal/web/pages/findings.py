"""The teacher's page of one group."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, render_template, request

from journal.screens.desk.findings import prepare_findings
from journal.web.forms.fields import find_id
from journal.web.request_work import request_work

pages = Blueprint("findings", __name__)


@pages.get("/groups/<uuid:group_id>/findings")
def show_findings(group_id: UUID) -> str:
    """Show what the group's trials say, and what was agreed with it.

    With `with_intervals` also what takes some seconds to work out; with `challenge` about that one.
    """
    challenge_id = find_id(request.args.get("challenge", ""))
    with_intervals = bool(request.args.get("with_intervals"))
    with request_work() as work:
        page = prepare_findings(work, group_id, challenge_id, with_intervals=with_intervals)
    return render_template("pages/findings/group.html", page=page)
