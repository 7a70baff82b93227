"""How the trials of a revision were done: trials come in, facts go out, changed ones marked."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from journal.charts.drawing import draw
from journal.charts.marks import describe_strokes, stem, stem_width_px
from journal.content.shown_times import show_day
from journal.content.trial_words import count_words
from journal.domain.group_records import GroupRecord
from journal.domain.lengths import show_length
from journal.domain.trials import Trial, TrialKind, TrialState
from journal.portfolio.pages import ChildCount, Condition

_MARK_PX = 20


def count_trials(trials: Sequence[Trial]) -> str:
    """Say how many trials there were, and how many of them were misfires or counted."""
    told = [count_words(len(trials), "trial", "trials")]
    misfires = sum(one.state is TrialState.MISFIRE for one in trials)
    if misfires:
        told.append(count_words(misfires, "misfire", "misfires"))
    counted = sum(one.kind is TrialKind.COUNTED for one in trials)
    if counted:
        told.append(f"{counted} counted")
    return ", ".join(told)


def count_children(
    record: GroupRecord, trials: Sequence[Trial], *, marked: bool
) -> tuple[ChildCount, ...]:
    """Return each child with the mark on the panel and the count of trials."""
    counts = Counter(one.student_id for one in trials)
    strokes = record.group.strokes
    lines = [
        ChildCount(
            mark=_draw_mark(strokes[student_id], name) if marked else "",
            text=f"{name}, {count_words(counts[student_id], 'trial', 'trials')}",
        )
        for student_id, name in record.nicknames.items()
        if counts[student_id]
    ]
    others = sum(count for one, count in counts.items() if one not in record.nicknames)
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
            for choice in record.bench.challenge.handling
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
    return tuple(one for one in conditions if one.name != "Panel" or one.changed or "(" in one.text)


def _words(counts: Counter[str]) -> str:
    """Return the values, each with its count where there is more than one."""
    if len(counts) == 1:
        return next(iter(counts))
    return ", ".join(f"{value} ({count})" for value, count in counts.most_common())


def _sessions(record: GroupRecord, trials: Sequence[Trial]) -> Counter[str]:
    numbers = {one.id: one for one in record.bench.sessions}
    return Counter(
        f"{numbers[one.session_id].number}, {show_day(numbers[one.session_id].started_at)}"
        for one in trials
        if one.session_id in numbers
    )


def _distances(trials: Sequence[Trial]) -> Counter[str]:
    return Counter(show_length(one.distance_mm) for one in trials if one.distance_mm is not None)


def _panels(trials: Sequence[Trial]) -> Counter[str]:
    return Counter(one.panel.replace("_", " ") for one in trials if one.panel)


def _handling(trials: Sequence[Trial], key: str) -> Counter[str]:
    return Counter(str(one.handling[key]) for one in trials if key in one.handling)


def _borrowed(record: GroupRecord, trials: Sequence[Trial]) -> Counter[str]:
    """Count trials with another group's part; whose it was is not for this paper."""
    foreign = {
        revision.id: state.kind.name.lower()
        for state in record.foreign_parts
        for revision in state.revisions
    }
    return Counter(
        f"a {foreign[revision_id]} of another group"
        for one in trials
        for revision_id in one.revision_ids
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
