"""The demo class: large enough, made through the services, with every case a teacher meets."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from journal.analysis.verdicts import Verdict
from journal.domain.actors import OPERATOR, Actor, Role
from journal.domain.parts import PartEventKind
from journal.services.demo import fill_demo
from journal.services.findings import find_for_group
from journal.services.overviews import prepare_overview
from journal.services.records import GroupRecord, gather_class
from journal.services.work import open_work
from journal.store import classes, people, sessions
from journal.store.engine import Store

NOW = datetime(2030, 3, 4, 10, 0, tzinfo=UTC)


@pytest.fixture
def demo(store: Store) -> Actor:
    """Fill the demo and return its teacher."""
    fill_demo(store, sign_in_name="demo", password="a-long-word-123", now=NOW)
    with open_work(store, OPERATOR, writing=False) as work:
        found = people.find_teacher_by_name(work.session, "demo")
    assert found is not None
    return Actor(role=Role.TEACHER, school_id=found[0].school_id, teacher_id=found[0].id)


def records_of_demo(store: Store, demo: Actor) -> dict[str, GroupRecord]:
    """Return the record of each group by name."""
    assert demo.teacher_id is not None
    with open_work(store, demo, writing=False, clock=lambda: NOW) as work:
        school_class = classes.classes_of_teacher(work.session, demo.teacher_id)[0]
        return {record.group.name: record for record in gather_class(work, school_class)}


def test_the_demo_shows_every_case(store: Store, demo: Actor) -> None:
    """Six groups, 24 students, two sessions, 150 trials and more, and each kind of group."""
    records = records_of_demo(store, demo)
    groups = [record.group for record in records.values()]
    assert 6 == len(groups)
    assert 24 == sum(len(group.present_members) for group in groups)
    assert 2 == len(records["Heron"].bench.sessions)
    assert 150 <= sum(len(record.trials) for record in records.values())
    assert records["Wren"].climbs[-1].is_open
    means = [one.summary.mean for one in find_for_group(records["Heron"]).revisions[:3]]
    assert means == sorted(means, key=lambda mean: mean or 0.0)
    newest = find_for_group(records["Chisel"]).revisions[2].comparison
    assert newest is not None
    assert newest.verdict is Verdict.TOO_EARLY
    assert 1 == len(records["Mallet"].bench.running.absent_student_ids)  # type: ignore[union-attr]
    lost = [one.kind for state in records["Mallet"].parts for one in state.events]
    assert PartEventKind.LOST in lost
    borrowed = [
        trial
        for trial in records["Mallet"].trials
        for revision_id in trial.revision_ids
        if (found := records["Mallet"].find_revision(revision_id))
        and found[0].part.owner_id not in {None, trial.student_id}
    ]
    assert borrowed


def test_one_group_used_its_launcher_in_two_ways(store: Store, demo: Actor) -> None:
    """Half pull beside full pull, by four children with one launcher; others had one way only."""
    records = records_of_demo(store, demo)
    (line,) = find_for_group(records["Plane"]).handling.lines
    assert line.sentence.startswith("Pull: with half instead of full, the same 4 children")
    assert () == find_for_group(records["Heron"]).handling.lines


def test_the_overview_leads_to_the_stalled_group_and_then_to_the_misfires(
    store: Store, demo: Actor
) -> None:
    """The teacher who opens the demo sees at once where to go."""
    assert demo.teacher_id is not None
    with open_work(store, demo, writing=False, clock=lambda: NOW) as work:
        school_class = classes.classes_of_teacher(work.session, demo.teacher_id)[0]
        page = prepare_overview(work, school_class.id)
        assert sessions.find_running(work.session, school_class.id) is not None
    assert ["Wren", "Swift"] == [need.name for need in page.needs[:2]]
