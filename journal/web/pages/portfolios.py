"""The portfolio of a group as PDF, for its teacher."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, Response, request

from journal.jobs.portfolios import name_file, print_portfolio
from journal.portfolio.gathering import gather_portfolio
from journal.web.request_work import request_work
from journal.web.sent_forms import find_id

pages = Blueprint("portfolios", __name__)


@pages.get("/groups/<uuid:group_id>/portfolio.pdf")
def show_portfolio(group_id: UUID) -> Response:
    """Print the group's portfolio; the database is done before the paper is set."""
    with request_work() as work:
        page = gather_portfolio(work, group_id, find_id(request.args.get("challenge", "")))
    answer = Response(print_portfolio(page), mimetype="application/pdf")
    answer.headers.set(
        "Content-Disposition",
        "inline",
        filename=name_file(page.cover.group_number, page.cover.group_name),
    )
    return answer
