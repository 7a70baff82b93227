"""The fair-test card of a class, to print and to tick."""

from __future__ import annotations

from http import HTTPStatus
from uuid import UUID

from flask import Blueprint, redirect, render_template, url_for
from werkzeug.wrappers import Response

from journal.domain.messages import Message
from journal.screens.desk.fair_test_cards import prepare_card
from journal.services.fair_test_cards import set_card_done
from journal.web.error_words import notify
from journal.web.request_work import request_work

pages = Blueprint("fair_test_cards", __name__)


@pages.get("/classes/<uuid:class_id>/fair-test-card")
def show_card(class_id: UUID) -> str:
    """Show the card."""
    with request_work() as work:
        page = prepare_card(work, class_id)
    return render_template("pages/fair_test_cards/card.html", page=page)


@pages.post("/classes/<uuid:class_id>/fair-test-card")
def tick_card(class_id: UUID) -> Response:
    """Keep that the talk was held."""
    with request_work() as work:
        set_card_done(work, class_id)
    notify(Message("fair_test_cards.kept_the_card"))
    address = url_for("fair_test_cards.show_card", class_id=class_id)
    return redirect(address, HTTPStatus.SEE_OTHER)
