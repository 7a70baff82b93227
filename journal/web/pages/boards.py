"""The board of a class: the page of the projector, what moves on it, and how it is put up."""

from __future__ import annotations

from http import HTTPStatus
from uuid import UUID

from flask import (
    Blueprint,
    jsonify,
    make_response,
    redirect,
    render_template,
    request,
    url_for,
)
from werkzeug.wrappers import Response

from journal.screens.desk.boards import prepare_board
from journal.services.boards import find_lane_of_board, put_up_board
from journal.web.addresses import is_own_machine
from journal.web.request_work import board_work, doorway, keep_board, request_work

pages = Blueprint("boards", __name__)


@pages.get("/classes/<uuid:class_id>/board")
def show_board(class_id: UUID) -> str:
    """Show the board."""
    with board_work() as work:
        page = prepare_board(work, class_id, _links())
    return render_template("pages/boards/board.html", page=page)


@pages.post("/classes/<uuid:class_id>/board")
def put_up(class_id: UUID) -> Response:
    """Put the board up on this device, until the session ends."""
    address = url_for("boards.show_board", class_id=class_id)
    with request_work() as work:
        token = put_up_board(work, class_id)
    response = redirect(address, HTTPStatus.SEE_OTHER)
    return response if token is None else keep_board(response, token, address)


@pages.get("/classes/<uuid:class_id>/board/now")
def show_board_now(class_id: UUID) -> Response:
    """Answer the board's question: nothing new (204), or what moves as it is now."""
    with board_work() as work:
        page = prepare_board(work, class_id, ())
    if request.args.get("seen") == page.seen:
        return make_response("", HTTPStatus.NO_CONTENT)
    return make_response(render_template("pages/boards/now.html", page=page))


@pages.get("/classes/<uuid:class_id>/board/lane")
def show_board_lane(class_id: UUID) -> Response:
    """Answer with the state of the lane, or that it did not change."""
    with board_work() as work:
        mark, state = find_lane_of_board(work, class_id)
    if request.if_none_match.contains(mark):
        response = Response(status=HTTPStatus.NOT_MODIFIED)
    else:
        response = jsonify(state=state.value)
    response.set_etag(mark)
    return response


def _links() -> tuple[str, ...]:
    """Return where tablets find the journal: as this browser did, unless it runs on the machine."""
    own = () if is_own_machine(request.host) else (request.host_url,)
    return tuple(dict.fromkeys((*own, *doorway().links())))
