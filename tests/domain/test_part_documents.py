"""Reading the parts of a challenge and what can be changed in them."""

from __future__ import annotations

from typing import Any

import pytest

from tests.domain.challenge_samples import problems_of, rolling_cart

LIST_WANTED = (
    "must be a list of texts in square brackets. Write the values to choose from, or leave it out."
)


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


@pytest.mark.parametrize(
    ("choices", "problem"),
    [
        (
            "straw",
            LIST_WANTED,
        ),
        (["straw", ""], "holds an empty text. Take it out or write it."),
        (
            ["straw", 4],
            LIST_WANTED,
        ),
    ],
)
def test_choices_are_a_list_of_texts(choices: object, problem: str) -> None:
    """One text, a number or an empty text among them is named."""
    document = rolling_cart()
    document["parts"][0]["factors"][1]["choices"] = choices
    path = "parts.cart.factors.axle.choices"
    assert f"mine.toml: {path} {problem}" == problems_of(document)[path]


def test_a_start_outside_the_choices_is_refused() -> None:
    """The first build's value is one of the choices."""
    document = rolling_cart()
    document["parts"][0]["factors"][1]["start"] = "spoon"
    path = "parts.cart.factors.axle.start"
    expected = f"mine.toml: {path} cannot be 'spoon'. Choose one of: straw, stick."
    assert {path: expected} == problems_of(document)
