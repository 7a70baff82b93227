"""Guest tests by API: a tablet puts each launch under an id of its own making."""

from __future__ import annotations

from http import HTTPStatus
from uuid import UUID

from journal.domain.guest_tests import GuestTrial, GuestTrialEntry
from journal.services.guest_tests import log_guest_trial_of
from journal.web.api.trials import TrialBlueprint
from journal.web.request_work import request_work
from journal.web.schemas.guest_tests import GuestTrialEntrySchema, GuestTrialSchema

api = TrialBlueprint(
    "guest_test_api", __name__, url_prefix="/api/guest-tests", description="Guest tests"
)


@api.route("/<uuid:guest_test_id>/trials/<uuid:launch_id>", methods=["PUT"])
@api.arguments(GuestTrialEntrySchema())
@api.response(HTTPStatus.OK, GuestTrialSchema)
def put_guest_trial(entry: GuestTrialEntry, guest_test_id: UUID, launch_id: UUID) -> GuestTrial:
    """Log one launch under the next turn, once however often it is sent."""
    with request_work() as work:
        return log_guest_trial_of(work, guest_test_id, launch_id, entry)
