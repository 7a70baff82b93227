"""Several comparisons of one group."""

from journal.analysis.compare import Comparison
from journal.analysis.comparisons import best_of, compare_revisions
from journal.analysis.verdicts import Verdict
from journal.domain.outcomes import LESS_IS_BETTER, MORE_IS_BETTER
from tests.analysis.trial_records import trials

LOW, MIDDLE, HIGH = [1.0, 2.0, 1.0, 2.0, 1.0], [4.0, 5.0, 4.0, 5.0, 4.0], [8.0, 9.0, 8.0, 9.0, 8.0]


def _pairs(found: tuple[Comparison, ...]) -> list[tuple[str, str]]:
    return [(one.old, one.new) for one in found]


def test_each_revision_meets_the_one_before_and_the_best() -> None:
    """The best before is added where it is another one."""
    records = [
        *trials("A", HIGH),
        *trials("B", LOW, start=6),
        *trials("C", MIDDLE, start=11),
    ]
    assert [("A", "B"), ("B", "C"), ("A", "C")] == _pairs(compare_revisions(records))


def test_less_decides_what_is_best() -> None:
    """With less as the better direction the lowest revision is the best so far."""
    records = [
        *trials("A", HIGH),
        *trials("B", LOW, start=6),
        *trials("C", MIDDLE, start=11),
    ]
    assert [("A", "B"), ("B", "C")] == _pairs(compare_revisions(records, LESS_IS_BETTER))


def test_parents_stand_before_the_order() -> None:
    """A revision made from an earlier one is compared with that one; two parents give two."""
    records = [
        *trials("A", LOW),
        *trials("B", MIDDLE, start=6),
        *trials("C", HIGH, start=11),
    ]
    found = compare_revisions(records, parents={"B": ["A"], "C": ["A", "B"]})
    assert [("A", "B"), ("A", "C"), ("B", "C")] == _pairs(found)


def test_first_of_its_line_meets_only_the_best() -> None:
    """A revision without a parent is set beside the best so far."""
    records = [*trials("A", LOW), *trials("B", MIDDLE, start=6)]
    assert [("A", "B")] == _pairs(compare_revisions(records, parents={"A": [], "B": []}))


def test_one_lucky_trial_is_not_the_best() -> None:
    """Fewer than three values count only where there is nothing else."""
    lucky = {"A": trials("A", LOW), "B": trials("B", [100.0])}
    assert "A" == best_of(lucky, MORE_IS_BETTER)
    assert "B" == best_of({"B": lucky["B"]}, MORE_IS_BETTER)
    assert best_of({"C": trials("C", [None])}, MORE_IS_BETTER) is None


def test_comparisons_shown_together_are_adjusted() -> None:
    """4 v 4 reaches .0286: clear alone, two of them together are a hint at most."""
    alone = [*trials("A", LOW[:4]), *trials("B", MIDDLE[:4], start=5)]
    assert [Verdict.MORE] == [one.verdict for one in compare_revisions(alone)]
    together = [*alone, *trials("C", HIGH[:4], start=9)]
    assert [Verdict.HINT, Verdict.HINT] == [one.verdict for one in compare_revisions(together)]


def test_what_is_too_early_does_not_count_among_those_shown() -> None:
    """A first trial of the next revision takes no verdict away."""
    records = [
        *trials("A", LOW[:4]),
        *trials("B", MIDDLE[:4], start=5),
        *trials("C", [9.0], start=9),
    ]
    found = compare_revisions(records)
    assert [Verdict.MORE, Verdict.TOO_EARLY] == [one.verdict for one in found]


def test_one_revision_has_nothing_to_compare() -> None:
    """No comparison, and no exception."""
    assert () == compare_revisions(trials("A", LOW))
    assert () == compare_revisions([])
