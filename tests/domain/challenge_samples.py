"""Documents of small challenges of our own, and what is found wrong with them."""

from __future__ import annotations

from typing import Any

import pytest

from journal.domain.challenge_documents import read_challenge
from journal.domain.errors import Invalid
from tests.sentences import what_of


def rolling_cart() -> dict[str, Any]:
    """Return the document of a small challenge that launches nothing."""
    return {
        "key": "rolling_cart",
        "title": "Rolling cart",
        "launches": False,
        "tester_question": "Who lets it roll?",
        "place_question": "How far did it roll?",
        "caution": "Keep the floor clear.",
        "budget": 1.5,
        "wording": {
            band: {"story": "A parcel waits.", "problem": "Let a cart roll to it."}
            for band in ("2", "3-5", "6-8")
        },
        "criteria": [
            {
                "key": "far",
                "text": "It rolls far.",
                "unit": "mm",
                "direction": "more",
                "threshold": 1000,
            }
        ],
        "constraints": [{"key": "card", "text": "Card only."}],
        "parts": [
            {
                "key": "cart",
                "name": "Cart",
                "own": False,
                "factors": [
                    {
                        "key": "wheels",
                        "name": "Wheels",
                        "unit": "wheels",
                        "lowest": 2,
                        "highest": 6,
                        "start": 4,
                    },
                    {"key": "axle", "name": "Axle", "choices": ["straw", "stick"]},
                ],
            }
        ],
        "materials": [{"key": "card", "name": "Card", "unit": "sheet", "price": 0.3}],
        "outcome": {"kind": "measure", "name": "Distance", "unit": "mm", "direction": "more"},
        "counting": {"attempts": 3, "way": "sum"},
        "misfires": [{"key": "stuck", "name": "It got stuck"}],
        "safety": [{"key": "floor", "text": "Nothing on the floor."}],
    }


def ring_throw() -> dict[str, Any]:
    """Return the document of a small challenge that launches something at a panel."""
    document = rolling_cart()
    document["launches"] = True
    document["constraints"] = [
        {"key": "no_sharp_ends", "text": "No sharp ends.", "fixed": True},
        {"key": "nobody_is_aimed_at", "text": "Nobody is aimed at.", "fixed": True},
    ]
    document["outcome"] = {"kind": "zones", "name": "Points", "unit": "points", "direction": "more"}
    document["panel"] = {
        "key": "board",
        "width_mm": 400,
        "height_mm": 300,
        "bare_name": "Board",
        "bare_points": 1,
        "wall_margin_mm": 50,
        "mark_radius_mm": 5,
        "line_touch": False,
        "zones": [
            {"key": "ring", "name": "Ring", "points": 3, "shape": "circle", "radius_mm": 100},
        ],
    }
    return document


def problems_of(document: dict[str, Any]) -> dict[str, str]:
    """Return what is wrong with a document, by path."""
    with pytest.raises(Invalid) as caught:
        read_challenge(document, "mine.toml")
    return {problem.field: what_of(problem) for problem in caught.value.problems}
