"""How the trials of a revision were done: trials come in, facts go out, changed ones marked."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from journal.charts.drawing import draw
from journal.charts.marks import describe_strokes, stem, stem_width_px
from journal.content.messages import word_message
from journal.content.shown_times import show_day
from journal.content.trial_words import count_words
from journal.domain.group_records import GroupRecord
from journal.domain.lengths import show_length
from journal.domain.messages import Message
from journal.domain.trials import Trial, TrialKind, TrialState
from journal.portfolio.pages import ChildCount, Condition

_MARK_PX = 20


def count_trials(trials: Sequence[Trial]) -> str:
    """Say how many trials there were, and how many of them were misfires or counted."""
    counts = [count_words(len(trials), "trial", "trials")]
    misfires = sum(trial.state is TrialState.MISFIRE for trial in trials)
    if misfires:
        counts.append(count_words(misfires, "misfire", "misfires"))
    counted = sum(trial.kind is TrialKind.COUNTED for trial in trials)
    if counted:
        counts.append(f"{counted} counted")
    return ", ".join(counts)


def count_children(
    record: GroupRecord, trials: Sequence[Trial], *, marked: bool
) -> tuple[ChildCount, ...]:
    """Return each child with the mark on the panel and the count of trials."""
    counts = Counter(trial.student_id for trial in trials)
    strokes = record.group.strokes
    lines = [
        ChildCount(
            mark=_draw_mark(strokes[student_id], name) if marked else "",
            text=f"{name}, {count_words(counts[student_id], 'trial', 'trials')}",
        )
        for student_id, name in record.nicknames.items()
        if counts[student_id]
    ]
    others = sum(
        count for student_id, count in counts.items() if student_id not in record.nicknames
    )
    if others and lines:
        lines.append(ChildCount(mark="", text=f"No name, {count_words(others, 'trial', 'trials')}"))
    return tuple(lines)


def list_conditions(
    record: GroupRecord, trials: Sequence[Trial], before: Sequence[Trial]
) -> tuple[Condition, ...]:
    """Return where, when and how; what differs from the trials before is marked."""
    facts = [
        ("Sessions", _sessions(record, trials), None),
        ("Distance", _distances(trials), _distances(before)),
        ("Panel", _panels(trials), _panels(before)),
        *(
            (
                choice.name,
                _handling(trials, choice.key),
                _handling(before, choice.key),
            )
            for choice in record.context.challenge.handling
        ),
        ("Borrowed", _borrowed(record, trials), None),
    ]
    conditions = tuple(
        Condition(
            name=name,
            text=_words(counts),
            changed=bool(before) and earlier is not None and set(counts) != set(earlier),
        )
        for name, counts, earlier in facts
        if counts
    )
    # One and the same panel all the time is drawn beside, and needs no words.
    return tuple(
        condition
        for condition in conditions
        if condition.name != "Panel" or condition.changed or "(" in condition.text
    )


def _words(counts: Counter[str]) -> str:
    """Return the values, each with its count where there is more than one."""
    if len(counts) == 1:
        return next(iter(counts))
    return ", ".join(f"{value} ({count})" for value, count in counts.most_common())


def _sessions(record: GroupRecord, trials: Sequence[Trial]) -> Counter[str]:
    numbers = {session.id: session for session in record.context.sessions}
    return Counter(
        f"{numbers[trial.session_id].number}, {show_day(numbers[trial.session_id].started_at)}"
        for trial in trials
        if trial.session_id in numbers
    )


def _distances(trials: Sequence[Trial]) -> Counter[str]:
    return Counter(
        show_length(trial.distance_mm) for trial in trials if trial.distance_mm is not None
    )


def _panels(trials: Sequence[Trial]) -> Counter[str]:
    return Counter(trial.panel.replace("_", " ") for trial in trials if trial.panel)


def _handling(trials: Sequence[Trial], key: str) -> Counter[str]:
    return Counter(str(trial.handling[key]) for trial in trials if key in trial.handling)


def _borrowed(record: GroupRecord, trials: Sequence[Trial]) -> Counter[str]:
    """Count trials with another group's part; whose it was is not for this paper."""
    foreign = {
        revision.id: state.kind.name.lower()
        for state in record.foreign_parts
        for revision in state.revisions
    }
    return Counter(
        word_message(
            Message("conditions.of_another_group", part=foreign[revision_id]), record.language
        )
        for trial in trials
        for revision_id in trial.revision_ids
        if revision_id in foreign
    )


def _draw_mark(strokes: int, name: str) -> str:
    left = (_MARK_PX - stem_width_px(_MARK_PX)) / 2
    return draw(
        *stem(strokes, left, 0, _MARK_PX),
        width_px=_MARK_PX,
        height_px=_MARK_PX,
        title=f"Mark of {name}",
        desc=describe_strokes(strokes),
    )
