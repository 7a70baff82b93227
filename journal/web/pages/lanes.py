"""Whether the lane is open: what every tablet asks again and again, in as few bytes as it can."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, Response, jsonify, request

from journal.services.lanes import find_lane
from journal.web.request_work import current_actor, request_work

pages = Blueprint("lanes", __name__)


@pages.get("/groups/<uuid:group_id>/lane")
def show_lane(group_id: UUID) -> Response:
    """Answer with the state of the lane, or that it did not change.

    The page asks by itself: a tablet that lies about signed in is not kept so by this.
    """
    current_actor(is_use=False)
    with request_work() as work:
        mark, state = find_lane(work, group_id)
    if request.if_none_match.contains(mark):
        response = Response(status=304)
    else:
        response = jsonify(state=state.value)
    response.set_etag(mark)
    return response
