"""Revisions named in an imported table: labels in, revisions out; missing ones are made."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from uuid import UUID

from journal.content.messages import word_message
from journal.domain.messages import Message
from journal.domain.part_states import PartState
from journal.domain.revisions import Revision, RevisionEntry
from journal.records.work import Work
from journal.store import parts, revisions

_ENDS_IN_NUMBER = re.compile(r"(.*?)\s*(\d+)")


def split_label(label: str) -> tuple[str, int | None]:
    """Return the words and the number of a label such as "Launcher 3" or "3"."""
    found = _ENDS_IN_NUMBER.fullmatch(label.strip())
    return (found[1], int(found[2])) if found else (label.strip(), None)


@dataclass(slots=True)
class Line:
    """One part's line of revisions, with the labels that the table adds to it."""

    state: PartState
    #: Labels without a revision yet, by their folded text, in order of first appearance.
    added: dict[str, str] = field(default_factory=dict)
    made: dict[str, Revision] = field(default_factory=dict)

    def find(self, label: str) -> Revision | None:
        """Return the revision that a label means: by its number, or as an earlier import has it."""
        words, number = split_label(label)
        by_number = words.casefold() in {"", self.state.name.casefold(), "revision"}
        for revision in self.state.revisions:
            if by_number and revision.number == number:
                return revision
            if revision.reason == reason_of(label):
                return revision
        return None

    def ask_for(self, label: str) -> None:
        """Note that the table uses a label."""
        if self.find(label) is None:
            self.added.setdefault(label.strip().casefold(), label.strip())

    def make(self, work: Work, session_id: UUID) -> int:
        """Make a revision for each new label, from the one before; return how many."""
        if self.added:
            parts.keep_parts(work.session, [self.state.part])
        before = self.state.revisions[-1] if self.state.revisions else None
        for key, label in self.added.items():
            owner = self.state.part.owner_id
            entry = RevisionEntry(
                part_id=self.state.part.id,
                parent_id=before.id if before else None,
                reason=reason_of(label),
                maker_ids=(owner,) if owner else (),
            )
            before = revisions.add_revision(
                work.session, self.state.part, entry, session_id=session_id, made_at=work.now()
            )
            self.made[key] = before
        return len(self.added)

    def get(self, label: str) -> Revision:
        """Return the revision of a label that was asked for and made."""
        return self.find(label) or self.made[label.strip().casefold()]


def reason_of(label: str) -> str:
    """Return the reason that an imported revision carries: it keeps the table's own label."""
    return word_message(Message("imports.imported_in_the_table", label=label.strip()))
