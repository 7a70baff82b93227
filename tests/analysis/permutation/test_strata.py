"""Old and new values made ready for counting."""

from fractions import Fraction

from hypothesis import given, settings

from journal.analysis.permutation.strata import Stratum, lay_out, smallest_share
from tests.analysis.deals import brute_share
from tests.analysis.trial_records import strata


def test_layout_takes_out_what_all_values_share() -> None:
    """Each stratum starts at zero and the common step is one."""
    layout = lay_out([Stratum((0.5, 2.5), (4.5,)), Stratum((10.5,), (14.5,))])
    assert layout is not None
    assert (((0, 1), (2,)), ((0,), (2,))) == layout.strata
    assert 2 == layout.unit


@settings(max_examples=60, deadline=None)
@given(strata(most=3, students=2))
def test_smallest_share_is_reached_by_the_outermost_deal(groups: list[Stratum]) -> None:
    """The smallest p-value over all deals of the same values, found by trying the ends."""
    ends = []
    for highest in (True, False):
        dealt = []
        for group in groups:
            ordered = sorted((*group.old, *group.new), reverse=highest)
            dealt.append(
                Stratum(tuple(ordered[len(group.new) :]), tuple(ordered[: len(group.new)]))
            )
        ends.append(brute_share(dealt))
    layout = lay_out(groups)
    assert layout is not None
    assert min(ends) == smallest_share(layout)


def test_all_values_equal_reach_no_small_p_value() -> None:
    """Where nothing differs nothing can be found."""
    layout = lay_out([Stratum((2.0, 2.0), (2.0, 2.0))])
    assert layout is not None
    assert Fraction(1) == smallest_share(layout)
