"""What a swap test says, from plan to words: the trials go through the service that tablets use."""

from __future__ import annotations

from itertools import cycle

import pytest

from journal.analysis.verdicts import PracticeWord, Verdict
from journal.domain.classes import GradeBand
from journal.domain.swap_tests import SwapKind, SwapTest, SwapTurn
from journal.domain.trials import TrialState
from journal.findings.group_findings import find_for_group
from journal.findings.swap_pairs import pairs_of
from journal.findings.swap_tests import judge_swap_test
from journal.records.work import open_work
from journal.screens.links import Target
from journal.screens.swap_offers import link_swaps
from journal.services.swap_tests import end_swap_test
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.swaps import add_launcher, kept, log_all, log_turn, plan, record_of
from tests.services.trial_entries import entry_of, log


def _finished(
    store: Store, clock: StandingClock, room: Classroom, *, new_zone: str = "blaze", each: int = 8
) -> SwapTest:
    """Run a whole swap test: launcher 1 always in the trunk, launcher 2 in another zone."""
    new_id = add_launcher(store, clock, room)
    swap_test = plan(store, clock, room, new_id, trials_each=each)
    log_all(
        store, clock, room, swap_test,
        lambda turn: new_zone if turn.revision_id == new_id else "trunk",
    )  # fmt: skip
    return kept(store, swap_test)


def test_a_clear_swap_test_says_better_without_practice(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Twelve pairs of three students, all for the new one: more, practice balanced."""
    swap_test = _finished(store, clock, classroom)
    record = record_of(store, classroom)

    judged = judge_swap_test(record, swap_test)

    assert judged.sentences == (
        "In the swap test Launcher 2 did better in 12 of 12 pairs.",
        "Launcher 2 did better than Launcher 1. Both were tested in turn.",
    )
    assert judged.comparison is not None
    assert (Verdict.MORE, PracticeWord.BALANCED, True, 6.0) == (
        judged.comparison.verdict,
        judged.comparison.practice,
        judged.comparison.better,
        judged.comparison.difference,
    )


def test_the_p_value_is_that_of_flipping_signs(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Twelve pairs of one sign: 2 of 2^12 ways are as far (sign test, any textbook)."""
    swap_test = _finished(store, clock, classroom)

    comparison = judge_swap_test(record_of(store, classroom), swap_test).comparison

    assert comparison is not None
    assert pytest.approx(2 / 2**12) == comparison.p_value


def test_blocks_before_it_do_not_stain_it(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A block of old trials first: the finding of the revision rests on the pairs alone."""
    for _ in range(6):
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock))
    _finished(store, clock, classroom)
    findings = find_for_group(record_of(store, classroom))

    newest = next(revision for revision in findings.revisions if revision.label == "Launcher 2")
    assert newest.comparison is not None
    assert (12, PracticeWord.BALANCED) == (newest.comparison.old_n, newest.comparison.practice)
    assert findings.sentences == newest.beside[:2]
    assert "Practice can explain it" not in " ".join(newest.beside)


def test_blocks_alone_leave_practice_in_and_offer_the_swap_test(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Old block, new block: more, but practice can explain it; the offer leads to a plan."""
    new_id = add_launcher(store, clock, classroom)
    own = classroom.own_revision_ids[0]
    for revision_id, x_mm in ((classroom.shared_revision_ids[0], 250.0), (new_id, 10.0)):
        for place in list(range(3)) * 4:
            clock.move(seconds=45)
            log(store, clock, classroom.tablets[0], entry_of(
                classroom, clock, x_mm=x_mm, student_id=classroom.student_ids[0][place],
                revision_ids=(revision_id, own[place]),
            ))  # fmt: skip
    record = record_of(store, classroom)

    findings = find_for_group(record)
    links = link_swaps(record, findings)

    assert "Practice can explain it" in findings.sentences[0]
    assert (
        "A swap test can tell: use Launcher 1 and Launcher 2 in turn. Four turns each find only a "
        "big difference. More turns find smaller ones." == links.sentence
    )
    assert links.link is not None
    revisions = (("old", classroom.shared_revision_ids[0]), ("new", new_id))
    assert (Target.NEW_SWAP_TEST, revisions) == (links.link.target, links.link.values[1:])


def test_children_bound_to_their_own_darts_are_offered_an_exchange(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Two children who each used only their own dart: dart and use cannot be told apart."""
    for place in (0, 1, 0, 1):
        log(store, clock, classroom.tablets[0], entry_of(
            classroom, clock, student_id=classroom.student_ids[0][place],
            revision_ids=classroom.revisions_for(0, place),
        ))  # fmt: skip
    record = record_of(store, classroom)

    links = link_swaps(record, find_for_group(record))

    assert "You each always used your own dart. Exchange them to tell more." == links.sentence
    assert links.link is not None
    assert (("kind", "own_parts"),) == links.link.values[1:]


def test_nothing_is_said_before_the_end_and_what_is_left_of_an_early_end(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Ended after two pairs of twelve: too early, and the block's word stays."""
    new_id = add_launcher(store, clock, classroom)
    swap_test = plan(store, clock, classroom, new_id)
    for turn in swap_test.turns[:5]:
        log_turn(store, clock, classroom, turn, "bark")
    assert judge_swap_test(record_of(store, classroom), kept(store, swap_test)).sentences == ()
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        end_swap_test(work, classroom.group_ids[0], swap_test.id)
    record = record_of(store, classroom)

    judged = judge_swap_test(record, kept(store, swap_test))

    assert 2 == len(pairs_of(record, record.swap_tests[0]))
    assert "It is too early to tell: there are only a few trials." in judged.sentences
    newest = next(
        revision for revision in find_for_group(record).revisions if revision.label == "Launcher 2"
    )
    assert newest.comparison is None or newest.comparison.old_n != 2


def test_a_misfire_costs_its_pair_and_is_said(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """One misfire among twelve pairs: eleven are compared."""
    new_id = add_launcher(store, clock, classroom)
    swap_test = plan(store, clock, classroom, new_id)

    def zone_of(turn: SwapTurn) -> str | None:
        if turn.position == 1:
            return None
        return "blaze" if turn.revision_id == new_id else "trunk"

    log_all(store, clock, classroom, swap_test, zone_of)
    record = record_of(store, classroom)
    sentences = judge_swap_test(record, kept(store, swap_test)).sentences

    assert "In the swap test Launcher 2 did better in 11 of 11 pairs." == sentences[0]
    assert "1 pair had a misfire, so it is not compared." == sentences[-1]
    assert TrialState.MISFIRE in {trial.state for trial in record.trials}


def test_no_clear_difference_says_how_many_more_pairs(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A lead in eight pairs, a lag in four: a range of pairs that would tell."""
    new_id = add_launcher(store, clock, classroom)
    swap_test = plan(store, clock, classroom, new_id)
    new_zones = cycle(["blaze", "blaze", "trunk"])
    log_all(
        store, clock, classroom, swap_test,
        lambda turn: next(new_zones) if turn.revision_id == new_id else "bark",
    )  # fmt: skip

    judged = judge_swap_test(record_of(store, classroom), kept(store, swap_test))

    assert judged.comparison is not None
    assert Verdict.NO_CLEAR_DIFFERENCE is judged.comparison.verdict
    assert "In the swap test Launcher 2 did better in 8 of 12 pairs." == judged.sentences[0]
    assert judged.sentences[2].startswith("About ")


def test_all_tests_of_the_same_two_share_one_level(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A second swap test is judged on all pairs, at the level that is left for it."""
    first = _finished(store, clock, classroom, each=4)
    again = plan(store, clock, classroom, first.new_revision_id, trials_each=4)  # type: ignore[arg-type]
    log_all(
        store, clock, classroom, again,
        lambda turn: "blaze" if turn.revision_id == first.new_revision_id else "trunk",
    )  # fmt: skip
    record = record_of(store, classroom)

    first_judged = judge_swap_test(record, kept(store, first)).comparison
    both_judged = judge_swap_test(record, kept(store, again)).comparison

    assert first_judged is not None
    assert both_judged is not None
    assert (6, 12) == (first_judged.old_n, both_judged.old_n)
    # Three quarters of .05; of the second, one eighth, a look at 8 pairs took a little before.
    assert pytest.approx(0.03125 / 0.75) == first_judged.adjusted_p
    assert (both_judged.adjusted_p or 0) > 8 * (both_judged.p_value or 0)
    assert Verdict.MORE is both_judged.verdict


@pytest.mark.parametrize(
    ("best_dart", "sentence"),
    [
        (True, "It made a difference which dart was used."),
        (False, "Each dart did the same so far."),
    ],
)
def test_an_exchange_tells_whether_the_dart_matters(
    store: Store, clock: StandingClock, classroom: Classroom, sentence: str, *, best_dart: bool
) -> None:
    """One dart that hits the blaze in whatever hands; or darts that are all alike."""
    dart = classroom.own_revision_ids[0][0]
    swap_test = plan(store, clock, classroom, dart, kind=SwapKind.OWN_PARTS)
    log_all(
        store, clock, classroom, swap_test,
        lambda turn: "blaze" if best_dart and turn.revision_id == dart else "trunk",
    )  # fmt: skip
    record = record_of(store, classroom)

    assert (sentence,) == judge_swap_test(record, kept(store, swap_test)).sentences
    assert "" == link_swaps(record, find_for_group(record)).sentence


@pytest.mark.parametrize("band", list(GradeBand))
def test_every_band_hears_it(
    store: Store, clock: StandingClock, classroom: Classroom, band: GradeBand
) -> None:
    """Grade 2 hears counts of pairs; grades 6-8 the means as well."""
    swap_test = _finished(store, clock, classroom, each=4)

    sentences = judge_swap_test(record_of(store, classroom), swap_test, band).sentences

    assert "6 of 6 pairs" in sentences[0]
    apart = "6 points higher on average, within pairs" in " ".join(sentences)
    assert (band is GradeBand.SIX_TO_EIGHT) == apart


def test_whole_pairs_count_where_children_of_one_parity_leave(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The first and the third began with the old one and left after a pair; the second finished."""
    new_id = add_launcher(store, clock, classroom)
    swap_test = plan(store, clock, classroom, new_id, trials_each=8)
    stays = classroom.student_ids[0][1]
    for turn in swap_test.turns:
        if turn.student_id == stays or turn.pair == 1:
            zone = "blaze" if turn.revision_id == new_id else "trunk"
            log_turn(store, clock, classroom, turn, zone)
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        end_swap_test(work, classroom.group_ids[0], swap_test.id)
    judged = judge_swap_test(record_of(store, classroom), kept(store, swap_test))
    assert judged.comparison is not None
    assert (6, 6.0) == (judged.comparison.new_n, judged.comparison.difference)
    assert "In the swap test Launcher 2 did better in 6 of 6 pairs." in judged.sentences
