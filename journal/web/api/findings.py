"""A group's findings by API."""

from __future__ import annotations

from uuid import UUID

from flask import Response, jsonify
from flask_smorest import Blueprint

from journal.domain.actors import Role
from journal.findings.group_findings import find_for_group
from journal.findings.measures import measures_of
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.web.request_work import request_work
from journal.web.schemas.findings import GroupFindingsSchema
from journal.web.schemas.open_findings import open_findings_of

api = Blueprint("finding_api", __name__, url_prefix="/api/groups", description="Findings")


@api.get("/<uuid:group_id>/findings")
@api.response(200, GroupFindingsSchema)
def get_findings(group_id: UUID) -> Response:
    """Return what the trials of a group say, in the words of its band.

    A tablet gets what the class's measures let its pages show; a teacher gets every figure.
    """
    with request_work() as work:
        context = get_group_context(work, group_id)
        found = find_for_group(gather_group(work, context))
    if work.actor.role is Role.TABLET:
        return jsonify(open_findings_of(found, measures_of(context.school_class)))
    return jsonify(GroupFindingsSchema().dump(found))
