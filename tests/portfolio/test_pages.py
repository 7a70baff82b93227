"""What is gathered for a group's portfolio."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from dataclasses import asdict

import pytest

from journal.domain.actors import OPERATOR, Actor, Role
from journal.domain.classes import GradeBand
from journal.domain.errors import NotAllowed, NotFound
from journal.domain.parts import PartEventKind
from journal.jobs.portfolios import print_portfolio
from journal.portfolio.gathering import gather_portfolio
from journal.portfolio.pages import PortfolioPage
from journal.records.work import open_work
from journal.services.parts import report_event
from journal.store import groups
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.factories.stories import Story, tell_story
from tests.services.trial_entries import bridge_entry, log, make_bridge_room

CountQueries = Callable[[], AbstractContextManager[list[str]]]


@pytest.fixture
def story(store: Store, clock: StandingClock, classroom: Classroom) -> Story:
    """Return a group with a whole story behind it."""
    return tell_story(store, clock, classroom)


def test_the_story_is_told_from_the_task_to_what_is_next(story: Story) -> None:
    """Task, ideas, each revision, questions and reflection are there in the group's words."""
    page = _gather(story)
    written = [note.text for section in page.beginning.sections for note in section.notes]
    assert ["The tree stands on the far side.", "A rail that pushes straight."] == written
    assert ["First build", "2 bands"] == [spread.title for spread in page.spreads]
    assert ["“They lie closer together.”"] == [asked.answer.words for asked in page.asked]
    assert ["It drops too early."] == [
        note.text for section in page.spreads[0].found for note in section.notes
    ]
    assert ["A cork tip for each dart."] == [
        note.text for section in page.looking_back.sections for note in section.notes
    ]


def test_a_revision_says_what_changed_why_and_what_stayed(story: Story) -> None:
    """From, to, reason, prediction, maker, and each other factor as it was."""
    spread = _gather(story).spreads[1]
    change = spread.changes[0]
    assert ("Bands", "1 band", "2 bands", "It must fly flatter.") == (
        change.factor,
        change.before,
        change.now,
        change.why,
    )
    assert "rail length 200 mm" in spread.stayed
    assert "Most of them reach the bark." == spread.prediction
    assert ("Who made it", "Ben") == spread.people[0]
    assert "Made from Launcher 1" in spread.origin


def test_materials_are_added_up_against_the_limit(story: Story) -> None:
    """Two strips at 0.50 and two bands at 0.10 make 1.20; latex is marked."""
    bill = _gather(story).spreads[1].bill
    assert bill is not None
    assert ("1.20", "6.00") == (bill.total, bill.limit)
    assert [False, True] == [line.latex for line in bill.lines]


def test_a_changed_way_of_using_it_is_marked(story: Story) -> None:
    """Only the pull differs from the trials of the revision before."""
    happened = _gather(story).spreads[1].happened
    assert happened is not None
    assert ["Pull"] == [fact.name for fact in happened.conditions if fact.changed]
    assert "half (6), full (2)" in [fact.text for fact in happened.conditions]


def test_what_was_taken_back_stands_in_the_table_only(story: Story) -> None:
    """8 trials enter the findings of the second launcher; the table holds the ninth as well."""
    page = _gather(story)
    happened = page.spreads[1].happened
    assert happened is not None
    assert "8 trials, 1 counted" == happened.count
    assert len(story.trial_ids) == len(page.ending.trials)
    assert "taken back" == page.ending.trials[-1].state


def test_a_correction_keeps_the_old_value_in_sight(story: Story) -> None:
    """One sentence for one correction, with every field, the day and the reason."""
    line = _gather(story).ending.trials[0]
    assert "Wall, 0 points" == line.result
    assert 1 == len(line.corrections)
    assert "place was panel, is wall" in line.corrections[0]
    assert line.corrections[0].endswith("It was the wall.")


def test_no_child_of_another_group_is_named(story: Story) -> None:
    """A borrowed dart has no owner here, whatever picture or line it stands in."""
    page = _gather(story)
    texts = "\n".join(_texts(asdict(page)))
    assert "a borrowed dart" in texts
    assert "a dart of another group" in texts
    assert [] == [name for name in ("Dara", "Eli", "Finn", "Gia") if name in texts]


@pytest.mark.parametrize("band", list(GradeBand))
def test_the_band_decides_what_is_said(store: Store, clock: StandingClock, band: GradeBand) -> None:
    """Means are for grades 6 to 8 alone, and never without their n; levels are for grade 3 on."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), band=band)
    page = _gather(tell_story(store, clock, room))
    said = " ".join(
        sentence
        for spread in page.spreads
        if spread.happened
        for sentence in spread.happened.numbers
    )
    assert (band is GradeBand.SIX_TO_EIGHT) == ("Mean" in said and "n = " in said)
    assert (band is GradeBand.TWO) == page.ending.assessment.in_parts
    assert {"2": 3, "3-5": 3, "6-8": 4}[band.value] == len(page.ending.assessment.standards)


def test_a_group_that_has_done_nothing_has_no_empty_chapter(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Without trials and notes there is the task, the first builds and the blank page."""
    with open_work(store, classroom.teacher, writing=False, clock=clock) as work:
        page = gather_portfolio(work, classroom.group_ids[1])
    assert ("", "", ()) == (page.cover.picture, page.walk.path, page.beginning.sections)
    assert (None,) == tuple(spread.happened for spread in page.spreads)
    assert ((), (), ()) == (page.asked, page.looking_back.finding, page.ending.trials)


def test_a_group_without_members_and_builds_has_a_portfolio_too(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A group that was only just made prints its cover, the task and the blank page."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        group = groups.add_group(
            work.session,
            school_id=classroom.school_id,
            class_id=classroom.class_id,
            number=9,
            name="Kite",
        )
        page = gather_portfolio(work, group.id)
    assert ("Kite", "", "") == (page.cover.group_name, page.cover.made_by, page.family.picture)
    assert ((), ()) == (page.spreads, page.parts)
    assert print_portfolio(page).startswith(b"%PDF")


def test_what_happened_to_a_part_is_told(story: Story) -> None:
    """Another group stays without a name; where each trial destroys the part, that is no news."""
    launcher = story.parts_of(0)[0]
    story.do(report_event, story.group_id, launcher.part.id, PartEventKind.BROKEN)
    assert ("Launcher broke on 4 March 2030.",) == _gather(story).family.events
    bridges = make_bridge_room(story.store, story.clock)
    log(story.store, story.clock, bridges.tablets[0], bridge_entry(bridges, story.clock))
    with open_work(story.store, bridges.teacher, writing=False, clock=story.clock) as work:
        page = gather_portfolio(work, bridges.group_ids[0])
    assert () == page.family.events
    assert "Each dot is our one trial, under the revision of our bridge." == page.cover.caption


def test_it_takes_as_many_queries_for_a_large_group_as_for_a_small_one(
    story: Story, count_queries: CountQueries
) -> None:
    """A group with a long story and one without any cost the same."""
    counts = []
    for group_id in story.room.group_ids:
        with (
            open_work(story.store, story.room.teacher, writing=False) as work,
            count_queries() as statements,
        ):
            gather_portfolio(work, group_id)
        counts.append(len(statements))
    # Revisions of borrowed parts are looked up only where a trial used one.
    assert counts[1] <= counts[0] <= counts[1] + 1
    assert counts[0] <= 25


def test_it_is_for_the_groups_own_teacher(story: Story) -> None:
    """A tablet may not print it, and another teacher finds no such group."""
    stranger = Actor(
        role=Role.TEACHER, school_id=story.room.school_id, teacher_id=story.room.class_id
    )
    for actor, refusal in ((story.room.tablets[0], NotAllowed), (stranger, NotFound)):
        with (
            open_work(story.store, actor, writing=False) as work,
            pytest.raises(refusal),
        ):
            gather_portfolio(work, story.group_id)


def _gather(story: Story) -> PortfolioPage:
    with open_work(story.store, story.room.teacher, writing=False, clock=story.clock) as work:
        return gather_portfolio(work, story.group_id)


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for one in value.values():
            yield from _texts(one)
    elif isinstance(value, list | tuple):
        for one in value:
            yield from _texts(one)
