"""The demo: large enough, made through the services, with every case a teacher meets."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from journal.analysis.verdicts import Verdict
from journal.content.demo_classes import read_demo_classes
from journal.content.library import get_ready_challenge
from journal.domain.actors import OPERATOR, Actor, Role
from journal.domain.group_records import GroupRecord
from journal.domain.parts import PartEventKind
from journal.domain.revision_rules import cost_hundredths
from journal.findings.group_findings import find_for_group
from journal.portfolio.gathering import gather_portfolio
from journal.records.group_records import gather_class
from journal.records.work import open_work
from journal.screens.desk.overviews import prepare_overview
from journal.services.demo.classes import fill_demo
from journal.store import classes, people, sessions
from journal.store.engine import Store

NOW = datetime(2030, 3, 4, 10, 0, tzinfo=UTC)
#: Words a sentence of a child of the band: grade 5, grade 7 (common practice, no source).
LONGEST_SENTENCE = {"5B": 15, "7A": 22}


@dataclass(frozen=True)
class Demo:
    """A journal filled with the demo, and its teacher."""

    store: Store
    teacher: Actor

    def records(self, name: str) -> dict[str, GroupRecord]:
        """Return the record of each group of a class by the group's name."""
        assert self.teacher.teacher_id is not None
        with open_work(self.store, self.teacher, writing=False, clock=lambda: NOW) as work:
            found = classes.classes_of_teacher(work.session, self.teacher.teacher_id)
            school_class = next(one for one in found if one.name == name)
            return {record.group.name: record for record in gather_class(work, school_class)}


@pytest.fixture(scope="module")
def demo(migrated_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Demo]:
    """Fill the demo once; the tests only read it."""
    path = tmp_path_factory.mktemp("demo") / "journal.sqlite3"
    shutil.copyfile(migrated_file, path)
    store = Store(f"sqlite:///{path}", durable=False)
    fill_demo(store, sign_in_name="demo", password="a-long-word-123", now=NOW)
    with open_work(store, OPERATOR, writing=False) as work:
        found = people.find_teacher_by_name(work.session, "demo")
    assert found is not None
    yield Demo(
        store,
        Actor(role=Role.TEACHER, school_id=found[0].school_id, teacher_id=found[0].id),
    )
    store.close()


def test_the_demo_shows_every_case(demo: Demo) -> None:
    """Six groups, 24 students, two sessions, 150 trials and more, and each kind of group."""
    records = demo.records("5B")
    groups = [record.group for record in records.values()]
    assert 6 == len(groups)
    assert 24 == sum(len(group.present_members) for group in groups)
    assert 2 == len(records["Heron"].context.sessions)
    assert 150 <= sum(len(record.trials) for record in records.values())
    assert records["Wren"].climbs[-1].is_open
    means = [revision.summary.mean for revision in find_for_group(records["Heron"]).revisions[:3]]
    assert means == sorted(means, key=lambda mean: mean or 0.0)
    newest = find_for_group(records["Chisel"]).revisions[2].comparison
    assert newest is not None
    assert newest.verdict is Verdict.TOO_EARLY
    assert 1 == len(records["Mallet"].context.running.absent_student_ids)  # type: ignore[union-attr]
    lost = [event.kind for state in records["Mallet"].parts for event in state.events]
    assert PartEventKind.LOST in lost
    borrowed = [
        trial
        for trial in records["Mallet"].trials
        for revision_id in trial.revision_ids
        if (found := records["Mallet"].find_revision(revision_id))
        and found[0].part.owner_id not in {None, trial.student_id}
    ]
    assert borrowed


def test_one_group_used_its_launcher_in_two_ways(demo: Demo) -> None:
    """Half pull beside full pull, by four children with one launcher; others had one way only."""
    records = demo.records("5B")
    (line,) = find_for_group(records["Plane"]).handling.lines
    assert "half did worse than full by the same 4 children" in line.sentence
    assert () == find_for_group(records["Heron"]).handling.lines


def test_the_overview_leads_to_the_stalled_group_and_then_to_the_misfires(
    demo: Demo,
) -> None:
    """The teacher who opens the demo sees at once where to go."""
    assert demo.teacher.teacher_id is not None
    with open_work(demo.store, demo.teacher, writing=False, clock=lambda: NOW) as work:
        school_class = classes.classes_of_teacher(work.session, demo.teacher.teacher_id)[0]
        page = prepare_overview(work, school_class.id)
        assert sessions.find_running(work.session, school_class.id) is not None
    assert ["Wren", "Swift"] == [need.name for need in page.needs[:2]]


def test_the_other_class_launches_nothing_and_its_paper_is_whole(demo: Demo) -> None:
    """Each group built, tested and rebuilt; one asked for questions and was borne out."""
    records = demo.records("7A")
    assert 4 == len(records)
    for name, record in records.items():
        assert not record.context.challenge.launches
        (bridge,) = record.parts
        assert 3 <= len(bridge.revisions), name
        assert 15 <= len(record.trials), name
        with open_work(demo.store, demo.teacher, writing=False, clock=lambda: NOW) as work:
            page = gather_portfolio(work, record.group.id)
        # The first build is the challenge's own start and has no reason.
        assert ["", *(revision.reason for revision in bridge.revisions[1:])] == [
            one.reason for one in page.spreads
        ]
        assert all(spread.happened for spread in page.spreads), name
    answers = [answer for climb in records["Auger"].climbs for answer in climb.answers]
    assert [None, None, "yes"] == [answer.borne_out for answer in answers]
    assert answers[-1].sketch is not None
    assert records["Auger"].climbs[0].led_to == "revision"
    (line,) = find_for_group(records["Tern"]).handling.lines
    assert "spread out" in line.sentence


@pytest.mark.parametrize("story", read_demo_classes(), ids=lambda story: str(story["name"]))
def test_the_demo_tells_stories_of_its_own(story: dict[str, Any]) -> None:
    """Amounts of paint, sponge tips and bows can be tried; the demo does not retell them."""
    told = "\n".join(_sentences(story))
    assert not re.search(r"\b(paint|sponge|bow|cork)\w*", told, re.IGNORECASE)
    changed = {
        (factor, value)
        for step in _steps(story)
        for factor, value in step.get("changes", {}).items()
    }
    assert not {"paint_amount", "tip_material", "kind", "bow_length"} & {one for one, _ in changed}
    for factor, value in changed:
        assert not re.search(r"sponge|bow", f"{factor} {value}")
    launcher, dart = get_ready_challenge("beyond_the_ditch").parts
    assert {"kind", "bow_length"} <= {factor.key for factor in launcher.factors}
    assert {"paint_amount", "tip_material"} <= {factor.key for factor in dart.factors}


def test_the_groups_that_launch_have_causes_of_their_own(demo: Demo) -> None:
    """Fins that brake, a latch that lets go early, a rail that rubs."""
    records = demo.records("5B")
    fins = [
        change.to_value
        for state in records["Wren"].parts
        if state.part.is_own
        for change in state.revisions[-1].changes
    ]
    assert ["4000"] * 4 == fins
    slips = [trial.misfire for trial in records["Swift"].trials[-9:] if trial.misfire]
    assert ["let_go"] * 5 == slips
    rail = records["Chisel"].main_part
    assert rail is not None
    assert ["rail_face"] == [change.factor for change in rail.revisions[-1].changes]


@pytest.mark.parametrize("story", read_demo_classes(), ids=lambda story: str(story["name"]))
def test_children_of_the_band_could_have_written_it(story: dict[str, Any]) -> None:
    """Short sentences, each finished, and no group writes another group's sentence."""
    written = [text for text in _sentences(story) if text]
    longest = LONGEST_SENTENCE[story["name"]]
    for text in written:
        assert text.endswith((".", "?")), text
        for sentence in re.split(r"[.?:] ", text):
            assert len(sentence.split()) <= longest, sentence


def test_no_group_spends_more_than_its_budget(demo: Demo) -> None:
    """What is shown as an example keeps the rules of the challenge."""
    for name in ("5B", "7A"):
        for record in demo.records(name).values():
            challenge = record.context.challenge
            spent = sum(
                cost_hundredths(revision.materials, challenge)
                for state in record.parts
                for revision in state.revisions
            )
            assert challenge.budget_hundredths is not None
            assert spent <= challenge.budget_hundredths, record.group.name


def _steps(story: dict[str, Any]) -> list[dict[str, Any]]:
    return [step for group in story["groups"] for step in group["steps"]]


def _sentences(story: dict[str, Any]) -> list[str]:
    """Return all that the children write."""
    names = ("words", "reason", "prediction")
    return [step[name] for step in _steps(story) for name in names if name in step]
