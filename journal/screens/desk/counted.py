"""The teacher's page of counted attempts: every group's attempts, sums, means and the goal."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from uuid import UUID

from journal.analysis.scoring import Attempt, Ranked
from journal.content.messages import word_message
from journal.domain.goals import Goal, GoalKind
from journal.domain.messages import Message
from journal.domain.numbers import show_fixed
from journal.findings.counted_scores import (
    GroupCount,
    count_group,
    describe_goal_of,
    goal_for,
    name_place,
    place_groups,
    show_score,
)
from journal.records.group_contexts import get_present_challenge
from journal.records.group_records import gather_class
from journal.records.work import Work
from journal.screens.desk.frames import frame_class
from journal.screens.desk.goal_forms import GoalForm, fill_goal_form, list_goal_rows
from journal.screens.frames import DeskFrame
from journal.services.adaptations import describe_unlike_distances
from journal.services.classes import get_own_class

Errors = Mapping[str, list[str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberAttempts:
    """One member: what each attempt gave, how many are left, and what is to be known."""

    name: str
    given: tuple[str, ...]
    left: int
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupAttempts:
    """One group's line."""

    id: UUID
    number: int
    name: str
    members: tuple[MemberAttempts, ...]
    attempts: int
    sum: str
    mean: str
    score: str
    missing: str
    place: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CountedPage:
    """The class's counted attempts."""

    frame: DeskFrame
    class_id: UUID
    goal: str
    attempts_each: int
    unit: str
    shows_score: bool
    score_heading: str
    groups: tuple[GroupAttempts, ...]
    notes: tuple[str, ...]
    table: tuple[str, ...]
    form: GoalForm
    errors: Errors | None = None


def prepare_counted(
    work: Work,
    class_id: UUID,
    entered: Mapping[str, str] | None = None,
    errors: Errors | None = None,
) -> CountedPage:
    """Gather the page; what was entered for a goal stands in its form again after a problem."""
    school_class = get_own_class(work, class_id)
    challenge, _ = get_present_challenge(work, school_class)
    records = gather_class(work, school_class)
    counts = [count_group(record) for record in records]
    goal = goal_for(challenge)
    ranking, by_mean = place_groups(counts, goal)
    ranked = {each.score.group: each for each in ranking.ranked}
    lines = tuple(_group(count, ranked[count.score.group]) for count in counts)
    notes = [
        *_notes(
            counts,
            goal,
            unequal=ranking.unequal_attempts,
            by_mean=by_mean,
            has_left=any(member.left for line in lines for member in line.members),
        ),
        *describe_unlike_distances(records),
    ]
    return CountedPage(
        frame=frame_class(
            school_class,
            "Counted attempts",
            f"{school_class.name}, {challenge.title}",
            tested=[challenge],
        ),
        class_id=class_id,
        goal=describe_goal_of(challenge, school_class.language),
        attempts_each=challenge.counting.attempts,
        unit=challenge.outcome.unit,
        shows_score=goal.kind not in {GoalKind.MOST_POINTS, GoalKind.MEAN_PER_ATTEMPT},
        score_heading=word_message(_SCORE_HEADINGS.get(goal.kind, ""), school_class.language),
        groups=lines,
        notes=tuple(word_message(note, school_class.language) for note in notes),
        table=tuple(list_goal_rows(challenge, goal, school_class.language)),
        form=fill_goal_form(
            challenge,
            school_class.language,
            entered,
            has_begun=any(count.score.attempts for count in counts),
        ),
        errors=errors,
    )


_SCORE_HEADINGS = {
    GoalKind.COMPLETE_SET: Message("counted.hit_of_the_set"),
    GoalKind.ATTEMPTS_TO_COMPLETE: Message("counted.attempts_it_took"),
    GoalKind.CLASS_TABLE: Message("counted.by_the_table"),
}


def _group(count: GroupCount, ranked: Ranked) -> GroupAttempts:
    record = count.record
    challenge = record.context.challenge
    place = "" if ranked.place is None else str(ranked.place)
    return GroupAttempts(
        id=record.group.id,
        number=record.group.number,
        name=record.group.name,
        members=_members(count),
        attempts=count.score.attempts,
        sum=show_score(count.sum),
        mean="" if count.mean is None else show_fixed(count.mean, 2),
        score=show_score(count.score.score),
        missing=", ".join(name_place(challenge, key) for key in count.score.missing),
        place=f"{place}, shared" if ranked.tied else place,
    )


def _members(count: GroupCount) -> tuple[MemberAttempts, ...]:
    record = count.record
    context = record.context
    each = context.challenge.counting.attempts
    absent = context.running.absent_student_ids if context.running else frozenset()
    lines = []
    for member in record.group.members:
        own = [attempt for attempt in count.attempts if attempt.student == str(member.student_id)]
        given = [trial for trial in own if not trial.excused]
        if not own and not member.is_here:
            continue
        is_absent = member.student_id in absent
        left = 0 if is_absent or not member.is_here else max(0, each - len(given))
        lines.append(
            MemberAttempts(
                name=member.nickname,
                given=tuple(show_score(trial.points) for trial in given),
                left=left,
                note=_note(
                    own,
                    given,
                    count.record.language,
                    is_absent=is_absent,
                    is_here=member.is_here,
                    each=each,
                ),
            )
        )
    return tuple(lines)


def _note(
    own: Sequence[Attempt],
    given: Sequence[Attempt],
    language: str,
    *,
    is_absent: bool,
    is_here: bool,
    each: int,
) -> str:
    notes: list[Message] = []
    if is_absent and len(given) < each:
        notes.append(Message("counted.absent", excused=each - len(given)))
    if not is_here:
        notes.append(Message("counted.left_the_group"))
    void = len(own) - len(given)
    if void:
        notes.append(Message("counted.set_aside", void=void))
    return ", ".join(word_message(note, language) for note in notes)


def _notes(
    counts: Sequence[GroupCount], goal: Goal, *, unequal: bool, by_mean: bool, has_left: bool
) -> list[Message]:
    """Say what the places rest on."""
    notes: list[Message] = []
    near = counts[0].record.context.challenge.outcome.direction.near if counts else None
    if near is not None and goal.low_is_better:
        notes.append(Message("counted.each_figure_is_how_far_an_attempt", near=near))
    if not any(count.score.attempts for count in counts):
        notes.append(Message("counted.no_counted_attempt_has_been_made_yet"))
    if by_mean:
        notes.append(Message("counted.unequal_attempts_by_mean"))
    elif unequal:
        notes.append(Message("counted.unequal_attempts"))
    if has_left and any(count.score.attempts for count in counts):
        notes.append(Message("counted.attempts_are_still_left"))
    if goal.kind is GoalKind.ATTEMPTS_TO_COMPLETE:
        notes.append(Message("counted.group_that_has_not_completed_the_set"))
    if any(count.score.excused for count in counts):
        notes.append(Message("counted.excused_attempt_does_not_count"))
    return notes
