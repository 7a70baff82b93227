"""Trials by API: a tablet puts each under an id of its own making, as often as it likes."""

from __future__ import annotations

from dataclasses import asdict
from http import HTTPStatus
from uuid import UUID

from flask import Request, Response, make_response
from flask_smorest import Blueprint
from webargs.flaskparser import FlaskParser
from werkzeug.exceptions import BadRequest

from journal.domain.parked_trials import ParkedTrial
from journal.domain.trials import Trial, TrialEntry
from journal.records.work import Work
from journal.services.parked_trials import describe_parked, take_back_entry, take_entry
from journal.web.request_work import request_work
from journal.web.schemas.trials import ParkedTrialSchema, TrialEntrySchema, TrialSchema


class BodyParser(FlaskParser):
    """Read a body of JSON; whatever the reader stumbles over is the sender's to mend."""

    def _raw_load_json(self, req: Request) -> object:
        try:
            return super()._raw_load_json(req)
        except (ValueError, RecursionError):
            # A number of thousands of digits, or brackets nested without end.
            raise BadRequest from None


class TrialBlueprint(Blueprint):
    """A blueprint whose bodies are read by `BodyParser`."""

    ARGUMENTS_PARSER = BodyParser()


api = TrialBlueprint("trial_api", __name__, url_prefix="/api/trials", description="Trials")


@api.route("/<uuid:trial_id>", methods=["PUT"])
@api.arguments(TrialEntrySchema())
@api.response(HTTPStatus.CREATED, TrialSchema)
@api.alt_response(HTTPStatus.OK, schema=TrialSchema, description="It was in already, the same.")
@api.alt_response(
    HTTPStatus.ACCEPTED,
    schema=ParkedTrialSchema,
    description="It came late and belongs nowhere: it waits for the teacher.",
)
def put_trial(entry: TrialEntry, trial_id: UUID) -> tuple[Trial, HTTPStatus] | Response:
    """Log a trial once: 201 when it is new, 200 when it was in already, 202 when it is parked."""
    with request_work() as work:
        kept = take_entry(work, trial_id, entry)
        if isinstance(kept, ParkedTrial):
            return _tell_parked(work, kept, HTTPStatus.ACCEPTED)
    return kept.trial, HTTPStatus.CREATED if kept.added else HTTPStatus.OK


@api.route("/<uuid:trial_id>/strike", methods=["POST"])
@api.response(HTTPStatus.OK, TrialSchema)
def strike(trial_id: UUID) -> Trial | Response:
    """Take the group's last trial back; it is kept as struck. One that is parked is discarded."""
    with request_work() as work:
        kept = take_back_entry(work, trial_id)
        return _tell_parked(work, kept, HTTPStatus.OK) if isinstance(kept, ParkedTrial) else kept


def _tell_parked(work: Work, parked: ParkedTrial, status: HTTPStatus) -> Response:
    answer = asdict(parked) | {"state": parked.state, "sentence": describe_parked(work, parked)}
    return make_response(ParkedTrialSchema().dump(answer), status)
