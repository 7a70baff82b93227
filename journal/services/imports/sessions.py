"""Sessions named in an imported table: labels in, sessions out; missing ones are made."""

from __future__ import annotations

import math
from collections.abc import Sequence

from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.group_contexts import challenge_id_of
from journal.domain.messages import Message, list_sentences
from journal.domain.sessions import Session, SessionEntry
from journal.exchange.problems import TableProblems
from journal.exchange.trials import CsvTrial
from journal.records.work import Work
from journal.services.imports.lines import split_label
from journal.store import sessions


def check_sessions(
    challenge: Challenge,
    rows: Sequence[CsvTrial],
    held: Sequence[Session],
    problems: TableProblems,
) -> None:
    """Note each number that is no session of the challenge and would not become one.

    New sessions go on where the class's last one stopped, so a table may name the next numbers.
    """
    numbers = {row.row: session_number(row.session) for row in rows}
    of_challenge = {session.number for session in held if session.challenge_id == challenge.id}
    others = {session.number for session in held} - of_challenge
    following = max((session.number for session in held), default=0) + 1
    made = following
    while made in numbers.values():
        made += 1
    for row, number in numbers.items():
        if number is None or number in of_challenge or following <= number < made:
            continue
        what = (
            Message("imports.session_was_about_another_challenge", number=number)
            if number in others
            else Message("imports.is_no_session", number=number, following=following)
        )
        ways = Message("imports.write_a_number_that_is_right")
        problems.note(row, "session", list_sentences((what, ways)))


def session_number(label: str) -> int | None:
    """Return the number that a label such as "2" or "Session 2" means; None for other names."""
    words, number = split_label(label)
    return number if words.casefold() in {"", "session"} else None


def make_sessions(
    work: Work,
    school_class: SchoolClass,
    challenge: Challenge,
    rows: Sequence[CsvTrial],
    held: Sequence[Session],
) -> dict[str, Session]:
    """Return a session for each label of the rows, folded; what is new has ended already."""
    by_number = {
        session.number: session for session in held if session.challenge_id == challenge.id
    }
    found: dict[str, Session] = {}
    labels = dict.fromkeys(row.session.casefold() for row in rows)
    # Numbers first and in their order, so that each new session gets the number that it is called.
    for label in sorted(labels, key=lambda text: session_number(text) or math.inf):
        number = session_number(label)
        if number not in by_number:
            made = _make(work, school_class, challenge, label, rows)
            by_number[made.number] = made
            found[label] = made
        else:
            found[label] = by_number[number]
    return found


def _make(
    work: Work,
    school_class: SchoolClass,
    challenge: Challenge,
    label: str,
    rows: Sequence[CsvTrial],
) -> Session:
    distances = {
        round(row.distance_mm)
        for row in rows
        if row.session.casefold() == label and row.distance_mm is not None
    }
    entry = SessionEntry(
        challenge_id=challenge_id_of(challenge),
        distance_mm=distances.pop() if len(distances) == 1 else challenge.distance_mm,
        lanes=1,
    )
    now = work.now()
    return sessions.add_session(
        work.session,
        school_class,
        entry,
        panel=challenge.panel.key if challenge.panel else "",
        started_at=now,
        ended_at=now,
    )
