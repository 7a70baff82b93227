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
from tests.domain.challenge_samples import problems_of, ring_throw, rolling_cart
from tests.sentences import sentence_of

CLASS_ID = UUID(int=7)


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
    assert "mine.toml: outcome.kind is missing. Add zones, measure or count." == sentence_of(
        caught.value
    )


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
        ("wording.9-12", {"story": "A cart.", "problem": "It rolls."}),
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


def test_a_handling_needs_its_choices() -> None:
    """A way of using it without choices is no way."""
    document = rolling_cart()
    document["handling"] = [{"key": "push", "name": "Push", "choices": []}, {"name": "Ramp"}]
    assert {
        "handling.push.choices": "is empty. Write the choices, the usual one first.",
        "handling[2].key": "is missing. Add a short name for the choice.",
        "handling[2].choices": "is missing. Add the choices, the usual one first.",
    } == {field: what.split(" ", 2)[2] for field, what in problems_of(document).items()}


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


def test_a_message_beside_a_field_does_not_tell_the_path() -> None:
    """A form shows the sentence where it belongs: the path is in the problem's field only."""
    ready = read_challenge(rolling_cart(), "mine.toml")
    with pytest.raises(Invalid) as caught:
        with_changes(ready, title=" ")
    assert "This is empty. Write the challenge's name on the screen." == sentence_of(caught.value)
    assert ["title"] == [problem.field for problem in caught.value.problems]


def test_changing_nothing_changes_nothing() -> None:
    """A copy without changes is equal to what it was copied from."""
    ready = read_challenge(deepcopy(ring_throw()), "mine.toml")
    assert ready == with_changes(ready)
