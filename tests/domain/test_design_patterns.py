"""Signs of nine ways of designing: each shows where it should, and none on a group that is well."""

from __future__ import annotations

from dataclasses import replace

import pytest

from journal.domain.design_patterns import DesignLog, DesignPattern, find_signs

WELL = DesignLog(
    members=4,
    problem_noted=True,
    choice_noted=True,
    members_with_idea=3,
    idea_words=(9, 12, 3),
    questions=2,
    revisions=3,
    untold_revisions=1,
    unseen_revisions=1,
    has_built=True,
    trials=20,
    trials_unnoted=4,
)


def test_a_group_that_works_well_shows_no_sign() -> None:
    """Nothing is made up."""
    assert () == find_signs(WELL)


def test_nothing_is_said_before_anything_is_built() -> None:
    """A group that still plans is not late."""
    assert () == find_signs(replace(WELL, has_built=False, problem_noted=False, questions=0))


@pytest.mark.parametrize(
    ("changes", "pattern"),
    [
        ({"problem_noted": False}, DesignPattern.FRAMING),
        ({"questions": 0}, DesignPattern.RESEARCHING),
        ({"members_with_idea": 2}, DesignPattern.IDEAS),
        ({"idea_words": (2, 5)}, DesignPattern.REPRESENTING),
        ({"choice_noted": False}, DesignPattern.WEIGHING),
        ({"untold_revisions": 2}, DesignPattern.EXPERIMENTING),
        ({"unseen_revisions": 3}, DesignPattern.TROUBLESHOOTING),
        (
            {"revisions": 0, "untold_revisions": 0, "unseen_revisions": 0},
            DesignPattern.ITERATING,
        ),
        ({"trials_unnoted": 20}, DesignPattern.REFLECTING),
    ],
)
def test_each_pattern_shows_by_its_own_sign(
    changes: dict[str, object], pattern: DesignPattern
) -> None:
    """One thing differs, one sign shows."""
    signs = find_signs(replace(WELL, **changes))  # type: ignore[arg-type]
    assert [pattern] == [sign.pattern for sign in signs]
