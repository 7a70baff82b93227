"""Makes the address of what a screen links to."""

from __future__ import annotations

from typing import Any

from flask import Flask, url_for

from journal.screens.links import Link, Target

#: The function that shows each target.
ENDPOINTS = {
    Target.CHALLENGE_CHANGES: "challenges.show_changes",
    Target.EARLIER_JOURNAL: "journals.show_earlier_journal",
    Target.EDIT_REVISION: "revisions.show_edit",
    Target.FAIR_TEST_CARD: "fair_test_cards.show_card",
    Target.FINDINGS: "findings.show_findings",
    Target.NEW_REVISION: "revisions.new_revision",
    Target.NEW_SWAP_TEST: "swap_tests.new_swap_test",
    Target.NEW_TRIAL: "trials.new_trial",
    Target.PARTS: "parts.show_parts",
    Target.SESSIONS: "sessions.show_sessions",
    Target.SWAP_TEST: "swap_tests.show_swap_test",
}


def address_of(link: Link) -> str:
    """Return the address of a link."""
    values: dict[str, Any] = dict(link.values)
    return url_for(ENDPOINTS[link.target], _anchor=link.place or None, **values)


def offer_links(app: Flask) -> None:
    """Let every template and macro say `page.next_step | address`."""
    app.jinja_env.filters["address"] = address_of
