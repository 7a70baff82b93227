"""Reading a challenge from its document, and a class's changed copy of one."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import replace
from typing import Any
from uuid import UUID

import pytest

from journal.domain.challenge_documents import read_challenge, with_changes
from journal.domain.challenges import OutcomeKind
from journal.domain.errors import Invalid
from journal.domain.outcomes import DirectionKind

CLASS_ID = UUID(int=7)


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
    return {problem.field: problem.what for problem in caught.value.problems}


def test_a_whole_document_is_read() -> None:
    """Money is kept in hundredths, numbers of a first build as text, the document as it came."""
    challenge = read_challenge(rolling_cart(), "mine.toml")
    assert "Rolling cart" == challenge.title
    assert 30 == challenge.materials[0].price_hundredths
    assert 150 == challenge.budget_hundredths
    assert "4" == challenge.parts[0].factors[0].start
    assert OutcomeKind.MEASURE is challenge.outcome.kind
    assert challenge.panel is None
    assert rolling_cart() == challenge.document


def test_a_later_change_of_the_document_does_not_reach_the_challenge() -> None:
    """The challenge keeps a copy of its own."""
    document = rolling_cart()
    challenge = read_challenge(document, "mine.toml")
    document["criteria"][0]["threshold"] = 1
    assert rolling_cart() == challenge.document


def test_a_missing_field_names_file_and_key() -> None:
    """The message says in which file which key is missing, and what to add."""
    document = rolling_cart()
    del document["outcome"]["kind"]
    with pytest.raises(Invalid) as caught:
        read_challenge(document, "mine.toml")
    assert "mine.toml: outcome.kind is missing. Add zones, measure or count." == str(caught.value)


def test_every_mistake_is_named_at_once() -> None:
    """Five mistakes give five problems."""
    document = rolling_cart()
    document["titel"] = document.pop("title")
    document["counting"]["attempts"] = 0
    document["materials"][0]["price"] = -1
    document["misfires"] = []
    fields = {"title", "titel", "counting.attempts", "materials.card.price", "misfires"}
    assert fields == set(problems_of(document))


@pytest.mark.parametrize("key", sorted(rolling_cart().keys() - {"budget", "materials"}))
def test_each_needed_key_is_asked_for(key: str) -> None:
    """Leaving any needed key out is said, with the key's name."""
    document = rolling_cart()
    del document[key]
    assert f"mine.toml: {key} is missing." in problems_of(document)[key]


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("title", 4),
        ("title", "  "),
        ("launches", "no"),
        ("distance_mm", 0),
        ("distance_mm", 1.5),
        ("distance_mm", float("nan")),
        ("budget", float("inf")),
        ("budget", 0.125),
        ("budget", True),
        ("outcome.kind", "luck"),
        ("outcome.step", 0),
        ("outcome.highest", -1),
        ("outcome.near", 5),
        ("outcome.colour", "red"),
        ("counting.way", "best"),
        ("counting.attempts", 2.5),
        ("wording", "one"),
        ("wording.3-5", None),
        ("wording.6-8.story", ""),
        ("criteria", "far"),
    ],
)
def test_a_value_that_cannot_be_is_refused(path: str, value: object) -> None:
    """A wrong type, an unknown choice or a number out of bounds is named by its path."""
    document = rolling_cart()
    *way, last = path.split(".")
    table = document
    for key in way:
        table = table[key]
    if value is None:
        del table[last]
    else:
        table[last] = value
    found = problems_of(document)
    assert path in found
    assert found[path].startswith(f"mine.toml: {path} ")


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"start": 9}, "start"),
        ({"start": "many"}, "start"),
        ({"lowest": 6}, "highest"),
        ({"unit": ""}, "unit"),
        ({"choices": []}, "choices"),
        ({"choices": ["a", "a"]}, "choices"),
        ({"choices": ["a", "b"]}, "lowest"),
        ({"bands": ["4"]}, "bands"),
        ({"key": "No Spaces"}, "key"),
    ],
)
def test_a_factor_that_cannot_be_built_is_refused(changes: dict[str, Any], field: str) -> None:
    """A factor's start lies within its limits and its choices are there and differ."""
    document = rolling_cart()
    factor = document["parts"][0]["factors"][0]
    factor.update(changes)
    assert f"parts.cart.factors.{factor['key']}.{field}" in problems_of(document)


def test_a_start_outside_the_choices_is_refused() -> None:
    """The first build's value is one of the choices."""
    document = rolling_cart()
    document["parts"][0]["factors"][1]["start"] = "spoon"
    path = "parts.cart.factors.axle.start"
    expected = f"mine.toml: {path} cannot be 'spoon'. Choose one of: straw, stick."
    assert {path: expected} == problems_of(document)


def test_keys_of_a_list_are_unique() -> None:
    """Two causes with one key cannot be told apart later."""
    document = rolling_cart()
    document["misfires"] = document["misfires"] * 2
    assert ["misfires.stuck"] == list(problems_of(document))


@pytest.mark.parametrize("key", ["no_sharp_ends", "nobody_is_aimed_at"])
def test_a_launching_challenge_holds_its_two_fixed_constraints(key: str) -> None:
    """Taking one out, or letting it be taken out, is refused."""
    without = ring_throw()
    without["constraints"] = [row for row in without["constraints"] if row["key"] != key]
    loosened = ring_throw()
    for row in loosened["constraints"]:
        row["fixed"] = row["key"] != key
    assert [f"constraints.{key}"] == list(problems_of(without))
    assert [f"constraints.{key}"] == list(problems_of(loosened))


def test_what_launches_nothing_needs_no_launching_constraint() -> None:
    """The two constraints belong to launching."""
    assert not read_challenge(rolling_cart(), "mine.toml").launches


@pytest.mark.parametrize(
    "zone",
    [
        {"shape": "circle", "radius_mm": 151},
        {"shape": "circle", "radius_mm": 100, "centre_x_mm": 101},
        {"shape": "rectangle", "width_mm": 401, "height_mm": 20},
        {"shape": "polygon", "corners_mm": [[0, 0], [201, 0], [0, 100]]},
    ],
)
def test_a_zone_over_the_edge_is_refused(zone: dict[str, Any]) -> None:
    """Every zone lies on the panel, whatever its shape."""
    document = ring_throw()
    document["panel"]["zones"] = [{"key": "z", "name": "Z", "points": 1, **zone}]
    assert ["panel.zones.z"] == list(problems_of(document))


@pytest.mark.parametrize(
    ("zone", "field"),
    [
        ({"shape": "circle"}, "radius_mm"),
        ({"shape": "circle", "radius_mm": 0}, "radius_mm"),
        ({"shape": "circle", "radius_mm": 10, "width_mm": 10}, "width_mm"),
        ({"shape": "rectangle", "width_mm": 10}, "height_mm"),
        ({"shape": "polygon"}, "corners_mm"),
        ({"shape": "polygon", "corners_mm": [[0, 0], [1, 1]]}, "corners_mm"),
        ({"shape": "polygon", "corners_mm": [[0, 0], [0, 0], [1, 1]]}, "corners_mm"),
        ({"shape": "polygon", "corners_mm": [[0, 0], [1, float("nan")], [1, 1]]}, "corners_mm"),
    ],
)
def test_a_zone_has_the_sizes_of_its_shape(zone: dict[str, Any], field: str) -> None:
    """A size that the shape needs is asked for, one of another shape refused."""
    document = ring_throw()
    document["panel"]["zones"] = [{"key": "z", "name": "Z", "points": 1, **zone}]
    assert [f"panel.zones.z.{field}"] == list(problems_of(document))


def test_zones_need_a_panel_and_a_measure_has_none() -> None:
    """The panel goes with points by zone, and with nothing else."""
    without = ring_throw()
    del without["panel"]
    measured = ring_throw()
    measured["outcome"]["kind"] = "measure"
    assert ["panel"] == list(problems_of(without))
    assert ["panel"] == list(problems_of(measured))


def test_near_needs_its_value() -> None:
    """Near a value is better: the value has to be said."""
    document = rolling_cart()
    document["outcome"]["direction"] = "near"
    assert ["outcome.near"] == list(problems_of(document))
    document["outcome"]["near"] = 500
    direction = read_challenge(document, "mine.toml").outcome.direction
    assert (DirectionKind.NEAR, 500.0) == (direction.kind, direction.near)


def test_reliability_is_told_of_ten() -> None:
    """A threshold of reliability lies from 0 to 10 trials."""
    document = rolling_cart()
    document["criteria"][0].update(measure="reliability", threshold=11)
    assert ["criteria.far.threshold"] == list(problems_of(document))


def test_a_class_copy_carries_its_changes_and_its_owner() -> None:
    """Title, distance, thresholds and factors are changed; the rest and the ready one stay."""
    ready = read_challenge(rolling_cart(), "mine.toml")
    copy = with_changes(
        ready,
        title="Parcel cart",
        distance_mm=1800,
        thresholds={"far": 1500},
        factors={"cart": {"wheels": {"highest": 8, "start": 6}, "axle": {"choices": ["straw"]}}},
    )
    assert ("Parcel cart", 1800) == (copy.title, copy.distance_mm)
    assert 1500 == copy.criteria[0].threshold
    assert (8, "6") == (copy.parts[0].factors[0].highest, copy.parts[0].factors[0].start)
    assert ("straw",) == copy.parts[0].factors[1].choices
    assert 1000 == ready.criteria[0].threshold
    assert copy == read_challenge(copy.document, "again")


def test_a_class_copy_keeps_its_ids() -> None:
    """A changed copy is still the class's own."""
    kept = replace(read_challenge(rolling_cart(), "mine.toml"), id=CLASS_ID, class_id=CLASS_ID)
    changed = with_changes(kept, title="Other")
    assert (CLASS_ID, CLASS_ID) == (changed.id, changed.class_id)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"title": ""}, "title"),
        ({"distance_mm": -5}, "distance_mm"),
        ({"thresholds": {"near": 1}}, "criteria.near"),
        ({"thresholds": {"far": float("nan")}}, "criteria.far.threshold"),
        ({"factors": {"boat": {"sail": {"start": 1}}}}, "parts.boat.factors.sail"),
        ({"factors": {"cart": {"wheels": {"start": 7}}}}, "parts.cart.factors.wheels.start"),
        ({"factors": {"cart": {"wheels": {"own": True}}}}, "parts.cart.factors.wheels.own"),
    ],
)
def test_a_change_that_breaks_a_rule_is_refused(changes: dict[str, Any], field: str) -> None:
    """The rules of a challenge hold for a class's copy as well."""
    ready = read_challenge(rolling_cart(), "mine.toml")
    with pytest.raises(Invalid) as caught:
        with_changes(ready, **changes)
    assert [field] == list(caught.value.by_field())


def test_changing_nothing_changes_nothing() -> None:
    """A copy without changes is equal to what it was copied from."""
    ready = read_challenge(deepcopy(ring_throw()), "mine.toml")
    assert ready == with_changes(ready)
