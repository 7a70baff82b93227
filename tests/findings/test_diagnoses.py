"""What results are put down to, in the teacher's words; what it turned out to be is kept.

The hits are made up so that their cause is plain; how well the diagnosis does is measured apart.
"""

from __future__ import annotations

import pytest

from journal.domain.diagnoses import Reading
from journal.domain.errors import Invalid, NotAllowed, NotFound
from journal.domain.group_records import GroupRecord
from journal.domain.ladders import AnswerEntry, Rung
from journal.domain.revisions import Change
from journal.domain.trials import Place
from journal.findings.diagnoses import GroupDiagnosis, diagnose_group, points_to
from journal.findings.diagnosis_words import word_diagnosis
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.screens.desk.diagnoses import prepare_diagnosis
from journal.screens.desk.judged_causes import prepare_judged
from journal.screens.desk.overviews import prepare_overview
from journal.screens.links import Target, link_to
from journal.screens.tablet.ladders import prepare_ladder
from journal.services.judged_causes import judge_cause
from journal.services.ladders import answer_rung, say_not_sure, start_climb
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.stories import Story

#: Offsets in mm about a middle, for hits that lie together.
ABOUT = ((0, 0), (30, 20), (-25, 10), (15, -30), (-20, -15), (25, 5), (-10, 25), (5, -20))


@pytest.fixture
def story(store: Store, clock: StandingClock, classroom: Classroom) -> Story:
    """Return a group at work."""
    return Story(store, clock, classroom)


def _play(story: Story, middles: tuple[tuple[float, float], ...], rounds: int = 6) -> None:
    """Let each student hit about a middle of the own."""
    for turn in range(rounds):
        for student, (x_mm, y_mm) in enumerate(middles):
            dx, dy = ABOUT[(turn + 3 * student) % len(ABOUT)]
            first = story.room.shared_revision_ids[0]
            story.launch(first, student, x_mm=x_mm + dx, y_mm=y_mm + dy)


def _misfire(story: Story) -> None:
    """Hit the aim nine times and misfire seven: the device, whoever launches."""
    _play(story, (MIDDLE, MIDDLE, MIDDLE), rounds=3)
    for turn in range(7):
        story.launch(story.room.shared_revision_ids[0], turn % 3, misfire="let_go")


def _record(story: Story) -> GroupRecord:
    with open_work(story.store, story.room.teacher, writing=False) as work:
        return gather_group(work, get_group_context(work, story.group_id))


def _found(story: Story) -> GroupDiagnosis:
    return diagnose_group(_record(story))


LOW = (0.0, -210.0)
MIDDLE = (0.0, 0.0)


def test_what_all_share_needs_a_contrast(story: Story) -> None:
    """Everybody low: device or a use that all share, said as such, and the test that would tell."""
    _play(story, (LOW, LOW, LOW))
    found = _found(story)
    assert Reading.CANNOT_TELL is found.reading
    assert 100 == sum(share for _, share in found.shares)
    assert Reading.CANNOT_TELL is points_to(_record(story))
    words = word_diagnosis(_record(story), found)
    assert "These trials alone cannot tell" == words.heading
    assert words.sentence.startswith("All of them hit low. That can be the device, or how all")
    assert any("gather low, about 2" in reason for reason in words.reasons)
    assert words.next_test[0].startswith("A guest test would tell most")
    assert "8 launches, about 10 minutes." == words.next_test[2]


def test_a_device_that_misfires_is_named(story: Story) -> None:
    """On the aim whenever it goes, and it often does not: the device."""
    _misfire(story)
    found = _found(story)
    assert Reading.DEVICE is found.reading
    assert 60 <= found.in_100
    assert "Probably the device" == word_diagnosis(_record(story), found).heading


def test_one_who_differs_points_to_the_use_or_the_own_part(story: Story) -> None:
    """While own parts are never exchanged both are one finding, and that is said."""
    _play(story, ((190.0, -60.0), MIDDLE, MIDDLE))
    found = _found(story)
    assert Reading.USE is found.reading
    words = word_diagnosis(_record(story), found)
    assert "one finding until parts are exchanged" in words.sentence
    assert any("exchange parts" in reason for reason in words.reasons)


@pytest.mark.parametrize("rounds", [0, 1])
def test_nothing_is_named_from_a_few_trials(story: Story, rounds: int) -> None:
    """Three trials are too few; none at all as well."""
    _play(story, (LOW, LOW, LOW), rounds)
    found = _found(story)
    assert Reading.CANNOT_TELL is found.reading
    assert () == found.shares
    assert 0 == found.in_100
    assert "fewer than 4 trials" in word_diagnosis(_record(story), found).sentence


def test_a_group_with_nothing_but_misfires_gets_an_honest_answer(story: Story) -> None:
    """No position is known, and the mechanism is what can be seen."""
    for turn in range(9):
        story.launch(story.room.shared_revision_ids[0], turn % 3, misfire="let_go")
    words = word_diagnosis(_record(story), _found(story))
    assert "9 of 9 trials misfired." in words.reasons
    assert any("not known" in reason for reason in words.reasons)


def test_hits_off_the_panel_break_nothing(story: Story) -> None:
    """All on the wall: no exception, and no figure that is none."""
    for turn in range(9):
        story.launch(story.room.shared_revision_ids[0], turn % 3, place=Place.WALL)
    page = story.do(prepare_diagnosis, story.group_id, actor=story.room.teacher)
    assert "nan" not in repr(page).lower()


def test_the_question_is_about_the_newest_device(story: Story) -> None:
    """An older one that missed is looked at beside it, and does not make the new one the cause."""
    _play(story, (LOW, LOW, LOW))
    first = story.room.shared_revision_ids[0]
    second = story.build(first, (Change(factor="bands", from_value="", to_value="2"),))
    for turn in range(12):
        dx, dy = ABOUT[turn % len(ABOUT)]
        story.launch(second, turn % 3, x_mm=float(dx), y_mm=float(dy))
    found = _found(story)
    assert ("Launcher 1", "Launcher 2") == found.revisions
    assert 30 == found.trials
    assert Reading.NONE is found.reading


def test_the_page_says_what_could_be_asked_and_done(story: Story) -> None:
    """Three openings by what the trials point to, bars, and where the group stands."""
    _play(story, (LOW, LOW, LOW))
    story.do(start_climb, story.group_id)
    story.do(say_not_sure, story.group_id, Rung.NOTICE)
    page = story.do(prepare_diagnosis, story.group_id, actor=story.room.teacher)
    assert 3 == len(set(page.starters))
    assert page.drawing is not None
    assert "Device" in page.drawing.svg
    assert "From 18 trials of the group, with Launcher 1." == page.rests_on
    assert page.ladder is not None
    assert page.ladder.can_skip
    assert page.ladder.not_sure[0].startswith("Notice: ")
    assert link_to(Target.FAIR_TEST_CARD, class_id=story.room.class_id) == page.head.card


def test_the_question_leans_on_what_the_trials_point_to(story: Story) -> None:
    """A group whose device misses is asked about the device first."""
    _misfire(story)
    story.do(start_climb, story.group_id)
    question = story.do(prepare_ladder, story.group_id).question
    assert "Watch the device during a trial." in question


def test_the_overview_names_the_reading_for_the_teacher(story: Story) -> None:
    """Beside the reason for a visit, while the group is on the ladder."""
    _misfire(story)
    story.do(start_climb, story.group_id)
    page = story.do(prepare_overview, story.room.class_id, actor=story.room.teacher)
    line = next(need for need in page.needs if need.group_id == story.group_id)
    assert line.reason.endswith("Probably the device.")
    assert page.card


def test_where_the_next_test_is_chosen_the_group_reads_what_cannot_be_told(story: Story) -> None:
    """All of them together, nobody alone; guests and an exchange stand among the tests."""
    _play(story, (LOW, LOW, LOW))
    story.do(start_climb, story.group_id)
    for rung in (Rung.NOTICE, Rung.COMPARE, Rung.EXPLAIN, Rung.AIM):
        assert "" == story.do(prepare_ladder, story.group_id).ways.contrast
        entry = AnswerEntry(rung=rung, question="", words="They lie low.")
        story.do(answer_rung, story.group_id, entry)
    ways = story.do(prepare_ladder, story.group_id).ways
    assert ways.contrast == (
        "All of you hit low. That can be the device, or how you all launch. "
        "A guest test would tell."
    )
    assert (ways.can_invite, ways.can_exchange) == (True, True)


def test_no_student_screen_names_a_reading(story: Story) -> None:
    """The tablet is asked, never told."""
    _misfire(story)
    story.do(start_climb, story.group_id)
    assert "Probably" not in repr(story.do(prepare_ladder, story.group_id))
    with pytest.raises(NotAllowed):
        story.do(prepare_diagnosis, story.group_id)


def test_what_it_turned_out_to_be_is_the_journals_own_record(story: Story) -> None:
    """Said and found stand side by side, with how often it was right."""
    teacher = story.room.teacher
    empty = story.do(prepare_judged, story.room.class_id, actor=teacher)
    assert "Nothing is marked yet." in empty.sentence
    story.do(judge_cause, story.group_id, "use", actor=teacher)
    page = story.do(prepare_judged, story.room.class_id, actor=teacher)
    assert "1 cause marked; the journal had named nothing in any of them." == page.sentence
    _misfire(story)
    story.do(judge_cause, story.group_id, "device", "The rail was bent.", actor=teacher)
    story.do(judge_cause, story.group_id, "both", actor=teacher)
    page = story.do(prepare_judged, story.room.class_id, actor=teacher)
    assert page.sentence.endswith("had named something in 2, and it turned out so in 1.")
    assert ["other than said", "as said", ""] == [line.came_out for line in page.lines]
    assert "The rail was bent." == page.lines[1].note


@pytest.mark.parametrize(
    ("turned_out", "note", "field"),
    [("weather", "", "turned_out"), ("", "", "turned_out"), ("use", "x" * 301, "note")],
)
def test_a_mark_that_says_nothing_is_refused(
    story: Story, turned_out: str, note: str, field: str
) -> None:
    """Named by its field."""
    with pytest.raises(Invalid) as caught:
        story.do(judge_cause, story.group_id, turned_out, note, actor=story.room.teacher)
    assert [field] == list(caught.value.by_field())


def test_only_the_teacher_marks(story: Story) -> None:
    """A tablet may not, and another's class is not found."""
    with pytest.raises(NotAllowed):
        story.do(judge_cause, story.group_id, "use")
    with pytest.raises(NotFound):
        story.do(judge_cause, story.room.group_ids[1], "use")
