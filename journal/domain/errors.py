"""Everything that can go wrong, as messages for the person at the screen.

JournalError
+-- Invalid          what was entered cannot be taken; carries one Problem a field or line
+-- NotFound         no such thing, or nothing this person may know of
+-- NotAllowed       known, but not for this person
+-- SignedOut        nobody is signed in, or the sign-in has ended
+-- Refused          right in form, but the state of things forbids it
|   +-- GateShut     the teacher has not opened launching in this session
|   +-- NoChallenge  the class has no challenge yet
|   +-- Clash        another one did the same at the same moment
+-- Conflict         the same id already holds other content
+-- NotKept          nothing was kept, for no fault of the entry: send it again later
    +-- DiskFull     there is no room for it
    +-- OutOfReach   the database is busy, or away
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from uuid import UUID

from journal.domain.messages import Message, Words, list_lines, list_sentences


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing to mend: where it stands and what is wrong with it."""

    field: str
    what: Words


class JournalError(Exception):
    """The root of every error that reaches a person; `content/messages.py` words its message."""

    def __init__(self, message: Words) -> None:
        super().__init__(message)
        self.message = message

    def __str__(self) -> str:
        """Return key and values, for programmers: a person reads what `content/` makes of it."""
        return self.message if isinstance(self.message, str) else repr(self.message)


class Invalid(JournalError):
    """What was entered cannot be taken as it is."""

    def __init__(self, message: Words, problems: Sequence[Problem] = ()) -> None:
        super().__init__(message)
        self.problems = tuple(problems)

    @classmethod
    def at(cls, field: str, what: Words) -> Invalid:
        """Make the error for one field."""
        return cls(what, [Problem(field, what)])

    @classmethod
    def of(cls, problems: Sequence[Problem], *, by_line: bool = False) -> Invalid:
        """Make the error that says all problems, one after the other or a line each."""
        sentences = tuple(problem.what for problem in problems)
        return cls(list_lines(sentences) if by_line else list_sentences(sentences), problems)

    def by_field(self) -> dict[str, list[Words]]:
        """Return what is wrong grouped by field, in the order it was found."""
        grouped: dict[str, list[Words]] = {}
        for problem in self.problems:
            grouped.setdefault(problem.field, []).append(problem.what)
        return grouped


class NotFound(JournalError):
    """There is no such thing, or it belongs to somebody else: both look the same."""


class NotAllowed(JournalError):
    """This person may know of the thing, but not do this with it."""


class SignedOut(JournalError):
    """Nobody is signed in, or the sign-in has ended."""


class Refused(JournalError):
    """The entry is well formed, but the state of things forbids it."""


class GateShut(Refused):
    """Launching waits for the teacher's checklist."""


class NoChallenge(Refused):
    """The class has no challenge yet: its teacher is led to where one is chosen."""

    def __init__(self, class_id: UUID) -> None:
        super().__init__(Message("challenges.none_open"))
        self.class_id = class_id


class Clash(Refused):
    """Another one did the same at the same moment and was the first."""

    def __init__(self, message: Words = Message("errors.clash")) -> None:
        super().__init__(message)


class NotKept(JournalError):
    """Nothing was kept and the entry is not to blame: it may be sent again."""


class DiskFull(NotKept):
    """There is no room to keep anything more."""

    def __init__(self, message: Words = Message("errors.disk_full")) -> None:
        super().__init__(message)


class OutOfReach(NotKept):
    """The database is busy, away, or cannot write."""

    def __init__(self, message: Words = Message("errors.out_of_reach")) -> None:
        super().__init__(message)


class Conflict(JournalError):
    """The same id already holds other content; both are kept for comparison."""

    def __init__(
        self, message: Words, kept: Mapping[str, object], sent: Mapping[str, object]
    ) -> None:
        super().__init__(message)
        self.kept = dict(kept)
        self.sent = dict(sent)
