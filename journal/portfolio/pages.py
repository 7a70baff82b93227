"""What a portfolio is made of: plain values only, so that paper can never touch the database."""

from __future__ import annotations

from dataclasses import dataclass

from journal.content.rubrics import Rubric
from journal.pictures.answer_quotes import AnswerQuote
from journal.pictures.chains import ChainLink


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """The first page."""

    spine: str
    group_name: str
    challenge_title: str
    problem: str
    #: Every hit with its revision, or every measure; "" before the first trial.
    picture: str
    caption: str
    made_by: str
    class_words: str
    printed_on: str
    caution: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """Something a group wrote: the words, and what stands beside them."""

    text: str
    who: str
    when: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteSection:
    """What was written at one field."""

    heading: str
    notes: tuple[Said, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Beginning:
    """The task in the challenge's words, and what the group wrote before the first build."""

    story: str
    problem: str
    criteria: tuple[str, ...]
    limits: tuple[str, ...]
    sections: tuple[NoteSection, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Walk:
    """The path through the stages and every trial of the main part; "" where there is none."""

    path: str
    dots: str
    dots_heading: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLine:
    """One factor of a revision, ready to print."""

    factor: str
    before: str
    now: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialLine:
    """One material with what it cost."""

    name: str
    cost: str
    latex: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Bill:
    """Materials, what they cost together and what was allowed."""

    lines: tuple[MaterialLine, ...]
    total: str
    #: Together with every revision of the group before it; "" where there is none, or no budget.
    so_far: str
    limit: str
    #: That the budget is broken by then; "" where it is not.
    over: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """One fact about how the trials were done; changed against the parent's trials or not."""

    name: str
    text: str
    changed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ChildCount:
    """A child's mark on the panel with the count of trials."""

    mark: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapPrint:
    """A swap test that is over."""

    heading: str
    #: The pairs; "" where none is whole.
    picture: str
    note: str
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Happened:
    """What came of a revision."""

    count: str
    hits: str
    parent_hits: str
    dots: str
    dots_heading: str
    children: tuple[ChildCount, ...]
    conditions: tuple[Condition, ...]
    numbers: tuple[str, ...]
    beside: tuple[str, ...]
    #: Swap tests in which it was the new one.
    swaps: tuple[SwapPrint, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RevisionSpread:
    """One revision of the main part: what and why on the left, what happened on the right."""

    number: int
    label: str
    title: str
    origin: str
    parent_label: str
    changes: tuple[ChangeLine, ...]
    stayed: str
    reason: str
    prediction: str
    plan: tuple[NoteSection, ...]
    #: What the group found with it and what it wanted next; empty for the newest one.
    found: tuple[NoteSection, ...]
    #: Name and words, such as who made it and who decided.
    people: tuple[tuple[str, str], ...]
    bill: Bill | None
    happened: Happened | None
    #: What the group saw and thought on the ladder before it changed something.
    cause: tuple[ChainLink, ...] = ()

    @property
    def has_whys(self) -> bool:
        """Tell whether any change has a reason of its own."""
        return any(change.why for change in self.changes)


@dataclass(frozen=True, slots=True, kw_only=True)
class SmallRevision:
    """One revision of another part, in a few lines."""

    label: str
    changes: tuple[str, ...]
    #: Reason and prediction in the maker's words.
    said: tuple[str, ...]
    facts: str
    numbers: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartSection:
    """Another part with its revisions and what happened to it."""

    name: str
    revisions: tuple[SmallRevision, ...]
    events: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """The drawn family and what happened to the main part."""

    picture: str
    events: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedQuestion:
    """A question of the ladder as it was put, and the answer."""

    question: str
    #: Of the question.
    language: str
    answer: AnswerQuote
    who: str
    #: The day, and whether a test bore it out.
    when: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LookingBack:
    """What was found and what is next."""

    finding: tuple[str, ...]
    #: Each criterion with where the group stands.
    criteria: tuple[tuple[str, str], ...]
    sections: tuple[NoteSection, ...]
    #: Own parts that were exchanged in turn.
    exchanges: tuple[SwapPrint, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialLine:
    """One trial of the table at the end."""

    number: int
    session: int
    when: str
    who: str
    used: str
    handling: str
    result: str
    state: str
    #: What was put right in it, a sentence each.
    corrections: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Assessment:
    """The blank page for the teacher."""

    rubric: Rubric
    #: Two yes/no parts a row instead of four levels.
    in_parts: bool
    #: Code, and what it asks in our words.
    standards: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ending:
    """Every trial, struck and void ones too, and the blank page."""

    trials: tuple[TrialLine, ...]
    assessment: Assessment
    #: The goal of the counted attempts and what the group itself reached; empty before the first.
    counted: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PortfolioPage:
    """One group's portfolio, ready to print."""

    language: str
    title: str
    band: str
    cover: Cover
    beginning: Beginning
    walk: Walk
    spreads: tuple[RevisionSpread, ...]
    parts: tuple[PartSection, ...]
    family: Family
    asked: tuple[AskedQuestion, ...]
    looking_back: LookingBack
    #: The table of every trial and the blank page, which both stand at the end.
    ending: Ending
