"""A group's findings by API."""

from __future__ import annotations

from uuid import UUID

from flask_smorest import Blueprint

from journal.services.benches import get_bench
from journal.services.findings import GroupFindings, find_for_group
from journal.services.records import gather_group
from journal.web.request_work import request_work
from journal.web.schemas.findings import GroupFindingsSchema

api = Blueprint("finding_api", __name__, url_prefix="/api/groups", description="Findings")


@api.get("/<uuid:group_id>/findings")
@api.response(200, GroupFindingsSchema)
def get_findings(group_id: UUID) -> GroupFindings:
    """Return what the trials of a group say, in the words of its band."""
    with request_work() as work:
        return find_for_group(gather_group(work, get_bench(work, group_id)))
