"""Patterns of designing: what a group's log shows of nine ways to work, for a talk, never a grade.

Comes in: counts from the log. Goes out: the patterns that are worth a talk, with their figures. The
nine patterns: Crismond & Adams 2012, J. Eng. Educ. 101(4):738-797; the signs are our own choice.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

#: Fewer trials before the next revision show nothing of the one before.
LEAST_TRIALS = 3
#: So many trials with one revision, and no next one, are worth a word.
MANY_TRIALS = 16
#: So many trials without a note about them.
UNNOTED_TRIALS = 8


class DesignPattern(StrEnum):
    """One of the nine."""

    FRAMING = "framing"
    RESEARCHING = "researching"
    IDEAS = "ideas"
    REPRESENTING = "representing"
    WEIGHING = "weighing"
    EXPERIMENTING = "experimenting"
    TROUBLESHOOTING = "troubleshooting"
    ITERATING = "iterating"
    REFLECTING = "reflecting"


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignLog:
    """What the log of a group holds, in counts."""

    members: int
    #: Before the first device was built; all notes while nothing is built.
    problem_noted: bool
    choice_noted: bool
    members_with_idea: int
    #: Words of each idea.
    idea_words: tuple[int, ...]
    questions: int
    #: Revisions after a first build.
    revisions: int
    #: Of these: several changes at once or too few trials before; nothing noted as found before.
    untold_revisions: int
    unseen_revisions: int
    has_built: bool
    #: Trials in all, and since something was noted about them.
    trials: int
    trials_unnoted: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignSign:
    """A pattern with the figures that make it worth a talk."""

    pattern: DesignPattern
    figures: Mapping[str, int]


_FEW_WORDS = 5


def find_signs(log: DesignLog) -> tuple[DesignSign, ...]:
    """Return the patterns worth a talk, in the order of the nine; none before anything is built."""
    if not log.has_built:
        return ()
    half = log.revisions / 2
    worth = {
        DesignPattern.FRAMING: not log.problem_noted,
        DesignPattern.RESEARCHING: log.questions == 0,
        DesignPattern.IDEAS: 2 * log.members_with_idea <= log.members,
        DesignPattern.REPRESENTING: bool(log.idea_words) and max(log.idea_words) <= _FEW_WORDS,
        DesignPattern.WEIGHING: not log.choice_noted,
        DesignPattern.EXPERIMENTING: log.revisions > 0 and log.untold_revisions > half,
        DesignPattern.TROUBLESHOOTING: log.revisions > 0 and log.unseen_revisions > half,
        DesignPattern.ITERATING: log.revisions == 0 and log.trials >= MANY_TRIALS,
        DesignPattern.REFLECTING: log.trials_unnoted >= UNNOTED_TRIALS
        and log.trials_unnoted == log.trials,
    }
    figures = {
        "members": log.members,
        "ideas": log.members_with_idea,
        "revisions": log.revisions,
        "several": log.untold_revisions,
        "unseen": log.unseen_revisions,
        "trials": log.trials,
    }
    return tuple(
        DesignSign(pattern=pattern, figures=figures) for pattern, is_so in worth.items() if is_so
    )
