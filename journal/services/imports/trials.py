"""Imports trials into a class: rows come in, trials and the revisions they need are stored.

First everything is planned and every problem noted; only a table without one is taken over.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import datetime, timedelta
from uuid import NAMESPACE_OID, UUID, uuid5

from journal.domain.challenges import Challenge
from journal.domain.errors import NotFound
from journal.domain.group_contexts import GroupContext, challenge_id_of
from journal.domain.messages import Message
from journal.domain.sessions import Session
from journal.domain.trial_fields import values_of
from journal.domain.trial_outcomes import TrialOutcome
from journal.domain.trials import Ending, Trial
from journal.exchange.problems import TableProblems
from journal.exchange.trials import CsvTrial
from journal.records.work import Work
from journal.services.classes import get_own_class
from journal.services.imports.attempts import check_attempts
from journal.services.imports.groups import GroupTable, make_tables
from journal.services.imports.rows import judge_row, read_handling
from journal.services.imports.sessions import check_sessions, make_sessions
from journal.store import challenges, classes, groups, sessions, trials


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportReport:
    """What an import has added."""

    trial_count: int
    revision_count: int
    group_names: tuple[str, ...]
    #: Rows that an earlier import of the same table had brought.
    known_count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Planned:
    """One row, ready to be kept."""

    id: UUID
    row: CsvTrial
    table: GroupTable
    student_id: UUID | None
    handling: dict[str, str]
    outcome: TrialOutcome


def import_trials(
    work: Work,
    class_id: UUID,
    challenge_id: UUID,
    csv_trials: Sequence[CsvTrial],
    group_name: str | None = None,
) -> ImportReport:
    """Take a table of trials over into a class; `group_name` serves rows that name no group.

    Raises Invalid with every problem, row and column named, and then nothing is kept. The same
    table read twice is taken over once.
    """
    school_class = get_own_class(work, class_id)
    challenge = _get_challenge(work, class_id, challenge_id)
    of_class = groups.groups_of_class(work.session, class_id)
    held = sessions.sessions_of_class(work.session, class_id)
    contexts = [
        GroupContext(
            group=group,
            school_class=school_class,
            challenge=challenge,
            sessions=tuple(session for session in held if session.challenge_id == challenge.id),
        )
        for group in of_class
    ]
    problems = TableProblems()
    tables = make_tables(work, contexts, csv_trials, group_name, problems)
    known = _known_ids(work, tables)
    planned = [
        entry for table in tables for row in table.rows if (entry := _plan(table, row, problems))
    ]
    fresh = [entry for entry in planned if entry.id not in known]
    taken = ((entry.row, entry.student_id, entry.outcome.state) for entry in fresh)
    check_attempts(work, challenge, taken, problems)
    check_sessions(challenge, [entry.row for entry in fresh], held, problems)
    problems.finish()
    made = _keep(work, challenge, fresh, held) if fresh else 0
    if fresh:
        classes.bump_version(work.session, class_id)
    return ImportReport(
        trial_count=len(fresh),
        revision_count=made,
        group_names=tuple(table.context.group.name for table in tables),
        known_count=len(planned) - len(fresh),
    )


def _get_challenge(work: Work, class_id: UUID, challenge_id: UUID) -> Challenge:
    challenge = challenges.get_challenge(work.session, challenge_id)
    if challenge.class_id != class_id:
        message = Message("challenges.no_such_challenge_in_this_class")
        raise NotFound(message)
    return challenge


def _known_ids(work: Work, tables: Sequence[GroupTable]) -> set[UUID]:
    if not tables:
        return set()
    ids = [table.context.group.id for table in tables]
    kept = trials.trials_of_groups(work.session, ids, tables[0].context.session_ids)
    return {trial.id for trial in kept}


def _plan(table: GroupTable, row: CsvTrial, problems: TableProblems) -> _Planned | None:
    challenge = table.context.challenge
    student_id = table.find_student(row, problems)
    table.ask_for_revisions(row, problems)
    handling = read_handling(row, challenge, problems)
    outcome = judge_row(row, challenge, problems)
    if outcome is None:
        return None
    return _Planned(
        id=_id_of(table, row),
        row=row,
        table=table,
        student_id=student_id,
        handling=handling,
        outcome=outcome,
    )


def _id_of(table: GroupTable, row: CsvTrial) -> UUID:
    """Return an id that follows from the row, so that the same table is taken over once."""
    cells = _cells_of(row) | {
        "challenge": table.context.challenge_id,
        "group": table.context.group.id,
    }
    return uuid5(NAMESPACE_OID, repr(sorted((key, str(value)) for key, value in cells.items())))


def _cells_of(row: CsvTrial) -> dict[str, object]:
    """Return the cells of a row without those that are empty in whatever is taken over."""
    return {key: value for key, value in asdict(row).items() if key not in {"guest", "owner"}}


def _keep(
    work: Work, challenge: Challenge, planned: Sequence[_Planned], held: Sequence[Session]
) -> int:
    """Keep sessions, revisions and trials; return how many revisions were made."""
    school_class = planned[0].table.context.school_class
    by_label = make_sessions(work, school_class, challenge, [entry.row for entry in planned], held)
    made = 0
    for table in dict.fromkeys(entry.table for entry in planned):
        first = next(entry for entry in planned if entry.table is table)
        made += table.make_revisions(work, by_label[first.row.session.casefold()].id)
    now = work.now()
    for index, entry in enumerate(planned):
        # A microsecond apart: the order of receipt is the order of the table.
        received_at = now + timedelta(microseconds=index)
        trial = _trial(entry, by_label[entry.row.session.casefold()], received_at)
        sent = {key: str(value) for key, value in _cells_of(entry.row).items()}
        trials.add_once(work.session, trial, sent | {"challenge": str(challenge_id_of(challenge))})
    return made


def _trial(entry: _Planned, session: Session, received_at: datetime) -> Trial:
    distance_mm = entry.row.distance_mm
    return Trial(
        id=entry.id,
        school_id=session.school_id,
        group_id=entry.table.context.group.id,
        session_id=session.id,
        revision_ids=entry.table.revisions_of(entry.row),
        student_id=entry.student_id,
        kind=entry.row.kind,
        state=entry.outcome.state,
        handling=entry.handling,
        amount=entry.row.amount,
        distance_mm=session.distance_mm if distance_mm is None else round(distance_mm),
        panel=entry.row.panel or session.panel,
        logged_at=received_at,
        received_at=received_at,
        **values_of(entry.outcome, Ending),
    )
