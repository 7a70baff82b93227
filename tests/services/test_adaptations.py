"""Adapting for one group: kept with its trials, told where results are compared, gate looked at."""

from __future__ import annotations

from dataclasses import replace

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.adaptations import (
    AdaptationEntry,
    AdaptationKind,
    AdaptedCheck,
    adapted_checks_of,
)
from journal.domain.errors import Invalid, NotAllowed, NotFound, Refused
from journal.domain.group_records import GroupRecord
from journal.domain.revisions import Change
from journal.domain.trials import TrialKind
from journal.findings.group_findings import find_for_group
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.screens.desk.counted import prepare_counted
from journal.screens.tablet.journals import prepare_journal
from journal.services.adaptations import adapt, describe_adaptations, offered_kinds
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.factories.stories import Story
from tests.sentences import raises

ALL = tuple(check.value for check in AdaptedCheck)
CLOSER = AdaptationEntry(kind=AdaptationKind.CLOSER, distance="1.5 m", ticked=ALL)


@pytest.fixture
def story(store: Store, clock: StandingClock, classroom: Classroom) -> Story:
    """Return a group at work, 2.5 m from the panel."""
    return Story(store, clock, classroom)


def _adapt(story: Story, entry: AdaptationEntry) -> None:
    story.do(adapt, story.group_id, entry, actor=story.room.teacher)


def _record(story: Story) -> GroupRecord:
    with open_work(story.store, story.room.teacher, writing=False) as work:
        return gather_group(work, get_group_context(work, story.group_id))


def test_trials_carry_the_groups_own_distance_from_then_on(story: Story) -> None:
    """Before, after, and back at the class's distance; the other group is untouched."""
    first = story.room.shared_revision_ids[0]
    story.launch(first, 0, x_mm=0.0, y_mm=0.0)
    _adapt(story, CLOSER)
    story.launch(first, 0, x_mm=0.0, y_mm=0.0)
    assert 1500 == _record(story).distance_mm
    _adapt(story, AdaptationEntry(kind=AdaptationKind.BACK, ticked=ALL))
    story.launch(first, 0, x_mm=0.0, y_mm=0.0)
    assert [2500, 1500, 2500] == [trial.distance_mm for trial in _record(story).trials]
    with open_work(story.store, story.room.teacher, writing=False) as work:
        other = gather_group(work, get_group_context(work, story.room.group_ids[1]))
    assert 2500 == other.distance_mm


def test_results_from_two_distances_are_not_compared(story: Story) -> None:
    """The next revision, tested from nearer, is told apart and never called better."""
    first = story.room.shared_revision_ids[0]
    story.play(first, 2)
    _adapt(story, CLOSER)
    change = Change(factor="bands", from_value="", to_value="2")
    second = story.build(first, (change,))
    story.play(second, 2)
    told = " ".join(find_for_group(_record(story)).revisions[1].beside)
    assert "from 2.5 m to 1.5 m" in told


def test_what_was_adapted_is_told_with_how_much(story: Story) -> None:
    """One sentence each, oldest first."""
    _adapt(story, CLOSER)
    _adapt(story, AdaptationEntry(kind=AdaptationKind.SIMPLER, note="A ready rail", ticked=ALL))
    _adapt(story, AdaptationEntry(kind=AdaptationKind.MORE_PRACTICE, trials="6"))
    expected = (
        "1.5 m instead of 2.5 m. Not comparable with trials before: 1 m closer.",
        "A simpler device: A ready rail.",
        "6 practice trials before anything counts.",
    )
    assert expected == describe_adaptations(_record(story))


def test_a_note_and_the_number_of_practice_trials_stand_side_by_side(story: Story) -> None:
    """The teacher's reason follows what was adapted, whichever kind it is."""
    _adapt(story, replace(CLOSER, note="They see no hit"))
    entry = AdaptationEntry(kind=AdaptationKind.MORE_PRACTICE, trials="6", note="They rush.")
    _adapt(story, entry)
    expected = (
        "1.5 m instead of 2.5 m. Not comparable with trials before: 1 m closer. They see no hit.",
        "6 practice trials before anything counts. They rush.",
    )
    assert expected == describe_adaptations(_record(story))


def test_the_groups_journal_names_its_own_distance(story: Story) -> None:
    """The tablet says from where."""
    _adapt(story, CLOSER)
    assert "1.5 m" == story.do(prepare_journal, story.group_id).distance


def test_nothing_counts_before_the_practice_is_through(story: Story) -> None:
    """A counted attempt is refused with how many are in, then taken."""
    first = story.room.shared_revision_ids[0]
    _adapt(story, AdaptationEntry(kind=AdaptationKind.MORE_PRACTICE, trials="3"))
    with raises(Refused, match="asks for 3 practice trials first: 0 are in"):
        story.launch(first, 0, x_mm=0.0, y_mm=0.0, kind=TrialKind.COUNTED)
    story.play(first, 1)
    story.launch(first, 0, x_mm=0.0, y_mm=0.0, kind=TrialKind.COUNTED)
    assert TrialKind.COUNTED is _record(story).trials[-1].kind


def test_counted_attempts_from_nearer_are_not_ranked_in_silence(story: Story) -> None:
    """The page of counted attempts names the group and how much closer it was."""
    first = story.room.shared_revision_ids[0]
    story.launch(first, 0, x_mm=0.0, y_mm=0.0, kind=TrialKind.COUNTED)
    page = story.do(prepare_counted, story.room.class_id, actor=story.room.teacher)
    assert not any("comparable" in note for note in page.notes)
    _adapt(story, CLOSER)
    story.launch(first, 1, x_mm=0.0, y_mm=0.0, kind=TrialKind.COUNTED)
    page = story.do(prepare_counted, story.room.class_id, actor=story.room.teacher)
    name = _record(story).group.name
    assert f"Not comparable with the rest: {name}, 1 m closer." in page.notes


@pytest.mark.parametrize(
    ("entry", "fields"),
    [
        (AdaptationEntry(kind=AdaptationKind.CLOSER, distance="near", ticked=ALL), ["distance"]),
        (AdaptationEntry(kind=AdaptationKind.CLOSER, distance="2.5 m", ticked=ALL), ["distance"]),
        (AdaptationEntry(kind=AdaptationKind.CLOSER, distance="1 m", ticked=ALL[:2]), ["checks"]),
        (AdaptationEntry(kind=AdaptationKind.SIMPLER, note=" "), ["note", "checks"]),
        (AdaptationEntry(kind=AdaptationKind.OTHER_WAY, note="x" * 301, ticked=ALL), ["note"]),
        (AdaptationEntry(kind=AdaptationKind.MORE_PRACTICE, trials="0"), ["trials"]),
        (AdaptationEntry(kind=AdaptationKind.MORE_PRACTICE, trials="-3"), ["trials"]),
        (AdaptationEntry(kind=AdaptationKind.BACK), ["checks"]),
    ],
)
def test_what_cannot_be_adapted_is_named_by_its_field(
    story: Story, entry: AdaptationEntry, fields: list[str]
) -> None:
    """Every problem at once, and nothing is kept by halves."""
    with pytest.raises(Invalid) as caught:
        _adapt(story, entry)
    assert fields == list(caught.value.by_field())
    assert () == _record(story).adaptations


def test_only_the_classs_teacher_adapts(story: Story) -> None:
    """A tablet may not, another group's is not found by it."""
    with pytest.raises(NotAllowed):
        story.do(adapt, story.group_id, CLOSER)
    with pytest.raises(NotFound):
        story.do(adapt, story.room.group_ids[1], CLOSER)


def test_a_challenge_without_a_distance_offers_none(store: Store, clock: StandingClock) -> None:
    """A bridge is neither moved nor launched; what falls with it has a gate of its own."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), challenge_key="paper_bridge")
    with open_work(store, room.teacher, clock=clock) as work:
        kinds = offered_kinds(get_group_context(work, room.group_ids[0]))
        assert AdaptationKind.CLOSER not in kinds
        with raises(Invalid, match="no distance to change"):
            adapt(work, room.group_ids[0], CLOSER)
        simpler = AdaptationEntry(kind=AdaptationKind.SIMPLER, note="Folded for them.")
        with raises(Invalid, match="Heads, feet and hands"):
            adapt(work, room.group_ids[0], simpler)
        kept = adapt(work, room.group_ids[0], replace(simpler, ticked=ALL))
        assert adapted_checks_of(launches=False) == kept.checks
