"""Who may be the next one, and with which own part: a context with its parts in, Testers out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from journal.domain.group_contexts import GroupContext
from journal.domain.part_states import PartState
from journal.domain.trials import Trial, TrialKind, TrialState

Pair = tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnChoice:
    """Which own part a child uses: field name, icon, the parts to choose among, theirs first."""

    field: str
    kind_name: str
    icon: str
    options: tuple[Pair, ...]
    chosen: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Tester:
    """A child who may be the next one."""

    student_id: str
    nickname: str
    #: Of the child's mark.
    strokes: int
    #: Of this session: a journal holds more, so it says of when. "" without a session.
    trials: str
    counted: str
    own: tuple[OwnChoice, ...]


def list_testers(
    context: GroupContext,
    states: Sequence[PartState],
    borrowed: Sequence[PartState],
    logged: Sequence[Trial],
) -> tuple[Tester, ...]:
    """Return the members who are here, each with trials of this session and parts to use."""
    running = context.running
    strokes = context.group.strokes
    attempts = context.challenge.counting.attempts
    testers = []
    for member in context.members:
        theirs = [trial for trial in logged if trial.student_id == member.student_id]
        today = sum(
            their.state.is_usable and running is not None and their.session_id == running.id
            for their in theirs
        )
        had = sum(
            their.kind is TrialKind.COUNTED and their.state is TrialState.MEASURED
            for their in theirs
        )
        testers.append(
            Tester(
                student_id=str(member.student_id),
                nickname=member.nickname,
                strokes=strokes[member.student_id],
                trials="" if running is None else f"{today} today",
                counted=f"{had} of {attempts}",
                own=_own_choices(context, states, borrowed, member.student_id),
            )
        )
    return tuple(testers)


def _own_choices(
    context: GroupContext,
    states: Sequence[PartState],
    borrowed: Sequence[PartState],
    student_id: UUID,
) -> tuple[OwnChoice, ...]:
    choices = []
    for kind in context.challenge.own_parts:
        usable = [
            state
            for state in (*states, *borrowed)
            if state.kind.key == kind.key and state.is_usable and state.current is not None
        ]
        usable.sort(key=lambda state: state.part.owner_id != student_id)
        has_own = bool(usable) and usable[0].part.owner_id == student_id
        name = f"{kind.name[:1].lower()}{kind.name[1:]}"
        options = [
            (str(state.current.id), f"{state.name} {state.current.number}")
            for state in usable
            if state.current is not None
        ]
        if not has_own:
            # Nobody else's is taken without a tap: it would go under the wrong name.
            options.insert(0, ("", f"Whose {name}?" if usable else f"No {name} yet"))
        choices.append(
            OwnChoice(
                field=f"own-{student_id}-{kind.key}",
                kind_name=name,
                icon=kind.icon,
                options=tuple(options),
                chosen=options[0][0],
            )
        )
    return tuple(choices)
