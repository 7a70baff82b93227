"""What stays chosen from one trial to the next: how it is used, amount, kind, who writes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from journal.domain.group_contexts import GroupContext
from journal.domain.numbers import show_number
from journal.domain.trials import Trial, TrialKind, TrialState


@dataclass(frozen=True, slots=True, kw_only=True)
class HandlingField:
    """One way in which use can differ, with its choices and the one that holds now."""

    field: str
    key: str
    name: str
    choices: tuple[str, ...]
    chosen: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AmountField:
    """The amount logged with each trial, where the challenge has one."""

    name: str
    unit: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LogSettings:
    """The choices that stay."""

    handling: tuple[HandlingField, ...]
    amount: AmountField | None
    kind: str
    #: False where every member has had the counted attempts.
    offers_counted: bool
    scribes: tuple[tuple[str, str], ...]
    scribe: str
    #: How far a practice set is, such as "Practice set: 3 of 12."; "" without one.
    practice: str


def read_settings(
    context: GroupContext, logged: Sequence[Trial], sent: Mapping[str, str], practice: str = ""
) -> LogSettings:
    """Return the settings: as sent, else as in the last trial of this session, else the usual."""
    challenge = context.challenge
    running = context.running
    today = [trial for trial in logged if running is not None and trial.session_id == running.id]
    last = today[-1] if today else None
    handling = []
    for choice in challenge.handling:
        usual = last.handling.get(choice.key, "") if last else ""
        chosen = sent.get(f"handling-{choice.key}", usual)
        handling.append(
            HandlingField(
                field=f"handling-{choice.key}",
                key=choice.key,
                name=choice.name,
                choices=choice.choices,
                chosen=chosen if chosen in choice.choices else choice.choices[0],
            )
        )
    offers_counted = _attempts_remain(context, logged)
    kind = sent.get("kind", last.kind.value if last else TrialKind.PRACTICE.value)
    scribes = tuple((str(member.student_id), member.nickname) for member in context.members)
    return LogSettings(
        handling=tuple(handling),
        amount=_amount(context, last, sent),
        kind=kind if offers_counted else TrialKind.PRACTICE.value,
        offers_counted=offers_counted,
        scribes=scribes,
        scribe=sent.get("scribe_id", ""),
        practice=practice,
    )


def _amount(
    context: GroupContext, last: Trial | None, sent: Mapping[str, str]
) -> AmountField | None:
    outcome = context.challenge.outcome
    if not outcome.amount_name:
        return None
    usual = show_number(last.amount) if last and last.amount is not None else ""
    return AmountField(
        name=outcome.amount_name, unit=outcome.amount_unit, value=sent.get("amount", usual)
    )


def _attempts_remain(context: GroupContext, logged: Sequence[Trial]) -> bool:
    had = {member.student_id: 0 for member in context.members}
    for trial in logged:
        is_attempt = trial.kind is TrialKind.COUNTED and trial.state is TrialState.MEASURED
        if is_attempt and trial.student_id in had:
            had[trial.student_id] += 1
    return any(count < context.challenge.counting.attempts for count in had.values())
