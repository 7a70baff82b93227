"""The words of the assessment page."""

from __future__ import annotations

from journal.content.rubrics import get_rubric


def test_eight_rows_of_four_levels_and_two_parts() -> None:
    """Rows as classroom rubrics of engineering design have them: common practice, no source."""
    rubric = get_rubric("en")
    assert 8 == len(rubric.rows)
    assert (4, 2) == (len(rubric.levels), len(rubric.parts))
    for row in rubric.rows:
        assert 4 == len(row.levels)
    told = [words for row in rubric.rows for words in (*row.levels, row.says, row.does)]
    assert len(set(told)) == len(told)
    assert all(told)


def test_how_far_it_lands_is_never_a_row() -> None:
    """What is assessed is the work: no row speaks of points, distance or a score."""
    titles = " ".join(row.title.lower() for row in get_rubric("en").rows)
    assert [] == [word for word in ("points", "score", "distance", "hit") if word in titles.split()]
