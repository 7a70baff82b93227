"""The sessions that an imported table names: labels in, sessions out; an unknown one is made."""

from __future__ import annotations

from collections.abc import Sequence

from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.sessions import Session, SessionEntry
from journal.exchange.trials import CsvTrial
from journal.services.benches import challenge_id_of
from journal.services.trial_import_lines import split_label
from journal.services.work import Work
from journal.store import sessions


def make_sessions(
    work: Work,
    school_class: SchoolClass,
    challenge: Challenge,
    rows: Sequence[CsvTrial],
    held: Sequence[Session],
) -> dict[str, Session]:
    """Return a session for each label of the rows, folded; what is new has ended already."""
    by_number = {one.number: one for one in held if one.challenge_id == challenge.id}
    found: dict[str, Session] = {}
    for row in rows:
        label = row.session.casefold()
        if label in found:
            continue
        words, number = split_label(label)
        known = by_number.get(number) if number and words in {"", "session"} else None
        found[label] = known or _make(work, school_class, challenge, label, rows)
    return found


def _make(
    work: Work,
    school_class: SchoolClass,
    challenge: Challenge,
    label: str,
    rows: Sequence[CsvTrial],
) -> Session:
    told = {
        round(row.distance_mm)
        for row in rows
        if row.session.casefold() == label and row.distance_mm is not None
    }
    entry = SessionEntry(
        challenge_id=challenge_id_of(challenge),
        distance_mm=told.pop() if len(told) == 1 else challenge.distance_mm,
        lanes=1,
    )
    started = sessions.add_session(
        work.session,
        school_class,
        entry,
        panel=challenge.panel.key if challenge.panel else "",
        started_at=work.now(),
    )
    sessions.end_session(work.session, started.id, work.now())
    return started
