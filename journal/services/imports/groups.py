"""The rows of one group: who did it and which revisions it used, looked up in the class."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from uuid import UUID

from journal.domain.group_contexts import GroupContext
from journal.domain.groups import Member
from journal.domain.messages import Message
from journal.domain.part_states import PartState
from journal.exchange.problems import TableProblems
from journal.exchange.trials import CsvTrial
from journal.records.work import Work
from journal.services.imports.lines import Line, split_label
from journal.services.parts import parts_of_context


@dataclass(slots=True, eq=False)
class GroupTable:
    """One group's rows in order, with the lines of revisions they may use."""

    context: GroupContext
    rows: list[CsvTrial]
    states: tuple[PartState, ...]
    lines: dict[UUID, Line] = field(default_factory=dict)

    def find_student(self, row: CsvTrial, problems: TableProblems) -> UUID | None:
        """Return who did it: somebody who is or was in the group; None where nobody is named."""
        if not row.student:
            return None
        member = self._find_member(row.student)
        if member is None:
            what = Message(
                "imports.nobody_called", student=row.student, name=self.context.group.name
            )
            problems.note(row.row, "student", what)
            return None
        return member.student_id

    def ask_for_revisions(self, row: CsvTrial, problems: TableProblems) -> None:
        """Note which revisions the row needs, and what is wrong with its labels."""
        for line, label, column in self._labels(row, problems):
            found = line.find(label)
            if found is not None and found.is_set_aside:
                what = Message("imports.was_set_aside", name=line.state.name, number=found.number)
                problems.note(row.row, column, what)
            line.ask_for(label)

    def make_revisions(self, work: Work, session_id: UUID) -> int:
        """Make what the rows need and nobody has built yet; return how many."""
        return sum(line.make(work, session_id) for line in self.lines.values())

    def revisions_of(self, row: CsvTrial) -> tuple[UUID, ...]:
        """Return the revisions that a row without problems used, once they are made."""
        return tuple(line.get(label).id for line, label, _ in self._labels(row, TableProblems()))

    def _labels(self, row: CsvTrial, problems: TableProblems) -> list[tuple[Line, str, str]]:
        """Return each line that the row uses with its label and the column that names it."""
        shared = [state for state in self.states if not state.part.is_own]
        named = []
        if shared:
            named.append((self._line(shared[0]), row.revision, "revision"))
        if row.own_part or not shared:
            owned = self._own_line(row, problems)
            if owned is not None:
                line, label = owned
                named.append((line, label if shared else row.revision, "own_part"))
        return named

    def _own_line(self, row: CsvTrial, problems: TableProblems) -> tuple[Line, str] | None:
        owner = row.own_part or row.student
        own = {state.part.owner_id: state for state in self.states if state.part.is_own}
        if not self.context.challenge.own_parts:
            what = Message("imports.in_this_challenge_nobody_has_a_part")
            problems.note(row.row, "own_part", what)
            return None
        words, number = owner, None
        member = self._find_member(owner)
        if member is None:
            words, number = split_label(owner)
            member = self._find_member(words) or self._find_owner(words)
        state = own.get(member.student_id) if member else None
        if state is None:
            what = Message(
                "imports.nobodys_part_in_group", told=owner, name=self.context.group.name
            )
            problems.note(row.row, "own_part", what)
            return None
        if number is None:
            number = state.current.number if state.current else state.next_number
        return self._line(state), str(number)

    def _line(self, state: PartState) -> Line:
        return self.lines.setdefault(state.part.id, Line(state))

    def _find_member(self, name: str) -> Member | None:
        folded = name.casefold()
        return next(
            (
                member
                for member in self.context.group.members
                if member.nickname.casefold() == folded
            ),
            None,
        )

    def _find_owner(self, name: str) -> Member | None:
        """Return whose part has this name, such as "Pim’s dart"."""
        folded = name.replace("'", "’").casefold()
        owners = {state.part.owner_id for state in self.states if state.name.casefold() == folded}
        return next(
            (member for member in self.context.group.members if member.student_id in owners), None
        )


def make_tables(
    work: Work,
    contexts: Sequence[GroupContext],
    rows: Sequence[CsvTrial],
    group_name: str | None,
    problems: TableProblems,
) -> list[GroupTable]:
    """Return a table for each group that the rows name, in order of first appearance."""
    by_name = {context.group.name.casefold(): context for context in contexts}
    tables: dict[str, GroupTable] = {}
    for row in rows:
        name = row.group or group_name or ""
        context = by_name.get(name.casefold())
        if context is None:
            problems.note(row.row, "group", _group_problem(name, contexts))
            continue
        if name.casefold() not in tables:
            states = parts_of_context(work, _with_everybody(context))
            tables[name.casefold()] = GroupTable(context=context, rows=[], states=states)
        tables[name.casefold()].rows.append(row)
    for table in tables.values():
        if all(row.order is not None for row in table.rows):
            table.rows.sort(key=lambda row: row.order or 0)
    return list(tables.values())


def _with_everybody(context: GroupContext) -> GroupContext:
    """Return the context as if nobody were absent or had left: their trials may be in the table."""
    here = {member.student_id: replace(member, left_at=None) for member in context.group.members}
    group = replace(context.group, members=tuple(here.values()))
    return replace(context, group=group, sessions=())


def _group_problem(name: str, contexts: Sequence[GroupContext]) -> Message:
    names = tuple(context.group.name for context in contexts)
    if not name:
        return Message("imports.which_group_is_it", names=names)
    return Message("imports.is_no_group", name=name, names=names or Message("imports.none_yet"))
