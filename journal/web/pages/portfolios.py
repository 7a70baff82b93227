"""The portfolio of a group as PDF, for its teacher: asked for, waited for, opened."""

from __future__ import annotations

from http import HTTPStatus
from uuid import UUID

from flask import Blueprint, Response, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from journal.jobs.portfolios import name_file
from journal.screens.desk.portfolios import prepare_print
from journal.services.portfolios import PortfolioPrint, ask_for_print, cancel_print, find_print
from journal.web.forms.fields import find_id
from journal.web.request_work import current_actor, doorway, request_work

pages = Blueprint("portfolios", __name__)


@pages.get("/groups/<uuid:group_id>/portfolio.pdf")
def show_portfolio(group_id: UUID) -> AnyResponse:
    """Give the print that is there if nothing has changed since, else begin one and lead to it.

    With `last` in the address it is the print that is there, whatever has changed.
    """
    with request_work() as work:
        found = find_print(work, group_id, _challenge_id())
    content = None if found.done is None else doorway().prints.read(found.done.id)
    if content is not None and (found.is_unchanged or "last" in request.args):
        return _give(found, content)
    if not found.is_live:
        _ask(group_id, found)
    return _lead_to_print(group_id, found)


@pages.get("/groups/<uuid:group_id>/portfolio")
def show_print(group_id: UUID) -> AnyResponse:
    """Say how the print stands; a page that asks by itself hears only what is new to it."""
    seen = request.args.get("seen")
    current_actor(is_use=seen is None)
    with request_work() as work:
        page = prepare_print(work, group_id, _challenge_id(), doorway().prints.has)
    if seen is None:
        return make_response(render_template("pages/portfolios/print.html", page=page))
    if seen == page.seen:
        return make_response("", HTTPStatus.NO_CONTENT)
    return make_response(render_template("pages/portfolios/now.html", page=page))


@pages.post("/groups/<uuid:group_id>/portfolio")
def print_again(group_id: UUID) -> AnyResponse:
    """Begin a print, whatever there is already."""
    with request_work() as work:
        found = ask_for_print(work, group_id, _challenge_id())
    doorway().call_dispatcher()
    return _lead_to_print(group_id, found)


@pages.post("/groups/<uuid:group_id>/portfolio/cancel")
def cancel(group_id: UUID) -> AnyResponse:
    """Cancel the print that is waited for."""
    with request_work() as work:
        cancel_print(work, group_id, _challenge_id())
        found = find_print(work, group_id, _challenge_id())
    doorway().call_dispatcher()
    return _lead_to_print(group_id, found)


def _challenge_id() -> UUID | None:
    return find_id(request.args.get("challenge", ""))


def _ask(group_id: UUID, found: PortfolioPrint) -> None:
    with request_work(writing=True) as work:
        ask_for_print(work, group_id, found.context.challenge_id)
    doorway().call_dispatcher()


def _lead_to_print(group_id: UUID, found: PortfolioPrint) -> AnyResponse:
    address = url_for(
        "portfolios.show_print", group_id=group_id, challenge=found.context.challenge_id
    )
    return redirect(address, HTTPStatus.SEE_OTHER)


def _give(found: PortfolioPrint, content: bytes) -> AnyResponse:
    answer = Response(content, mimetype="application/pdf")
    group = found.context.group
    answer.headers.set(
        "Content-Disposition", "inline", filename=name_file(group.number, group.name)
    )
    return answer
