"""The limits as shipped: each sourced and dated, none missing, and mistakes are named."""

from __future__ import annotations

import pytest

from journal.calculators.limit_reports import describe_source
from journal.content.energy import describe_evidence
from journal.content.safety_limits import parse_safety_limits, read_safety_limits
from journal.domain.errors import Invalid, NotFound
from journal.domain.safety_limits import Evidence, LimitKey, SafetyLimits
from tests.sentences import raises

ROW = """
[[limits]]
key = "review_energy_j"
value = 0.08
unit = "J"
source = "A standard"
evidence = "looked_up"
reviewed_on = 2026-01-31
"""


def test_every_limit_has_a_source_and_a_date() -> None:
    """What has no source says that it is common practice."""
    limits = read_safety_limits()
    assert set(limits.limits) == set(LimitKey)
    for limit in limits.limits.values():
        assert limit.value > 0
        assert limit.reviewed_on.year >= 2026
        if limit.edition_year is None:
            assert limit.evidence is not Evidence.SECONDARY


#: What nobody compared with its source: an edition, or the number of a clause.
FROM_MEMORY = {
    LimitKey.RIGID_TIP_ENERGY_J,
    LimitKey.SOFT_TIP_ENERGY_J,
    LimitKey.SMALL_BALL_MM,
    LimitKey.SUCTION_CUP_LENGTH_MM,
}


def test_what_is_from_memory_is_not_called_looked_up() -> None:
    """One plain statement says so: nothing beside it speaks of looking or checking."""
    limits = read_safety_limits().limits.values()
    assert FROM_MEMORY == {one.key for one in limits if one.evidence is Evidence.FROM_MEMORY}
    for limit in limits:
        said = describe_source(limit, "en")
        if limit.key not in FROM_MEMORY:
            assert "memory" not in said
            continue
        assert 1 == said.count("memory")
        assert said.endswith(
            "Written down from memory on 25 November 2026 and never compared with the source."
        )
        for contradiction in ("looked", "checked", "reviewed"):
            assert contradiction not in said


def test_each_kind_of_evidence_has_its_own_sentence_with_its_day() -> None:
    """Six kinds are told apart."""
    words = [describe_evidence(one, "en", "4 March 2030") for one in Evidence]
    assert len(Evidence) == len(set(words)) == 6
    assert all("on 4 March 2030" in sentence and sentence.endswith(".") for sentence in words)


def test_the_lines_never_promise_anything() -> None:
    """The two lines speak of benchmarks, eye protection and local rules, and clear nothing."""
    limits = read_safety_limits()
    assert "benchmarks" in limits.scope
    assert "Eye protection" in limits.below_all
    assert "safe" not in f"{limits.scope} {limits.below_all}".lower()


@pytest.mark.parametrize(
    ("old", "new", "named"),
    [
        ("value = 0.08", 'value = "much"', "limits.review_energy_j.value"),
        ("value = 0.08", "value = 0.0", "limits.review_energy_j.value"),
        ("reviewed_on = 2026-01-31", 'reviewed_on = "soon"', "limits.review_energy_j.reviewed_on"),
        ('source = "A standard"', "", "limits.review_energy_j.source"),
        ('unit = "J"', 'unit = "J"\ncolour = "red"', "limits.review_energy_j.colour"),
    ],
)
def test_a_mistake_is_named_with_its_place(old: str, new: str, named: str) -> None:
    """The file and the key stand in the message."""
    text = 'scope = "Scope"\nbelow_all = "Below"\n' + ROW.replace(old, new)
    with pytest.raises(Invalid) as caught:
        parse_safety_limits(text)
    assert named in [problem.field for problem in caught.value.problems]


def test_a_missing_limit_is_named() -> None:
    """A file with one limit lacks the others."""
    with raises(Invalid, match="least_tip_mm"):
        parse_safety_limits('scope = "Scope"\nbelow_all = "Below"\n' + ROW)


def test_asking_for_a_limit_that_is_not_there_is_not_found() -> None:
    """An empty set of limits has none."""
    with raises(NotFound, match="review_energy_j"):
        SafetyLimits(scope="", below_all="", limits={}).value_of(LimitKey.REVIEW_ENERGY_J)
