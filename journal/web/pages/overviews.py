"""The class overview: the page, and the part of it that a screen asks for again and again."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, Response, make_response, render_template, request, session

from journal.screens.desk.overviews import find_overview_version, prepare_overview
from journal.web.forms.overviews import PUT_OFF, read_shown
from journal.web.request_work import request_work

pages = Blueprint("overviews", __name__)


@pages.get("/classes/<uuid:class_id>/overview")
def show_overview(class_id: UUID) -> str:
    """Show which group needs a visit now, and where each group is."""
    with request_work() as work:
        page = prepare_overview(work, class_id, read_shown({}, session.get(PUT_OFF, {})))
    return render_template("pages/overviews/overview.html", page=page)


@pages.get("/classes/<uuid:class_id>/overview/now")
def show_overview_now(class_id: UUID) -> Response:
    """Answer with the moving part, or that nothing moved, before anything else is looked up."""
    shown = read_shown(request.args, session.get(PUT_OFF, {}))
    with request_work() as work:
        if request.if_none_match.contains(find_overview_version(work, class_id, shown)):
            return Response(status=304)
        page = prepare_overview(work, class_id, shown)
    response = make_response(render_template("pages/overviews/now.html", page=page))
    response.set_etag(page.version)
    return response
