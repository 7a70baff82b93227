"""The overview by API."""

from __future__ import annotations

from uuid import UUID

from flask_smorest import Blueprint

from journal.screens.desk.overviews import OverviewPage, prepare_overview
from journal.web.request_work import request_work
from journal.web.schemas.overviews import OverviewSchema

api = Blueprint("overview_api", __name__, url_prefix="/api/classes", description="Overview")


@api.get("/<uuid:class_id>/overview")
@api.response(200, OverviewSchema)
def get_overview(class_id: UUID) -> OverviewPage:
    """Return who needs a visit and where each group is: for the teacher of the class."""
    with request_work() as work:
        return prepare_overview(work, class_id)
