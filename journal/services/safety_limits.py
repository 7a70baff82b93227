"""Published limits as a school has edited them, and editing one."""

from __future__ import annotations

from collections.abc import Mapping
from uuid import UUID

from journal.content.safety_limits import read_safety_limits
from journal.domain.errors import Invalid, NotFound, Problem
from journal.domain.messages import Message
from journal.domain.numbers import NoNumber, read_number, show_number
from journal.domain.permits import require_teacher
from journal.domain.safety_limits import LimitEdit, LimitKey, SafetyLimits
from journal.domain.sentences import clean_words
from journal.records.work import Work
from journal.services.classes import get_own_class
from journal.store.safety_limits import LONGEST_SOURCE, add_limit_edit, limit_edits_of_school

LARGEST_LIMIT = 1_000_000.0


def limits_of_school(work: Work, school_id: UUID) -> SafetyLimits:
    """Return the published limits with the school's own values in their place."""
    return read_safety_limits().with_edits(limit_edits_of_school(work.session, school_id))


def edit_limit(work: Work, class_id: UUID, entered: Mapping[str, str]) -> LimitEdit:
    """Put the school's own value in the place of a limit, or go back to the published one.

    `entered` holds `key`, and under the key's path `.value` with `.source`, or `published` to go
    back. Earlier values stay in the record. Raises NotFound for a key that is none, Invalid beside
    each field.
    """
    school_class = get_own_class(work, class_id)
    teacher_id = require_teacher(work.actor)
    key = entered.get("key", "")
    if key not in set(LimitKey):
        message = Message("safety_limits.no_limit_called", key=key)
        raise NotFound(message)
    goes_back = bool(entered.get("published"))
    value = None if goes_back else _read(entered, key)
    edit = LimitEdit(
        key=LimitKey(key),
        value=value,
        source="" if goes_back else _source(entered, key),
        edited_at=work.now(),
    )
    add_limit_edit(work.session, school_class.school_id, teacher_id, edit)
    return edit


def _read(entered: Mapping[str, str], key: str) -> float:
    problems: list[Problem] = []
    value = 0.0
    try:
        value = read_number(entered.get(f"{key}.value", ""))
        if not 0.0 < value <= LARGEST_LIMIT:
            most = show_number(LARGEST_LIMIT)
            what = Message("safety_limits.cannot_be_a_limit", value=value, most=most)
            problems.append(Problem(f"{key}.value", what))
    except NoNumber as error:
        problems.append(Problem(f"{key}.value", error.message))
    source = _source(entered, key)
    if not source or len(source) > LONGEST_SOURCE:
        what = Message(
            "safety_limits.say_where_the_value_comes_from", longest_source=LONGEST_SOURCE
        )
        problems.append(Problem(f"{key}.source", what))
    if problems:
        raise Invalid(problems[0].what, problems)
    return value


def _source(entered: Mapping[str, str], key: str) -> str:
    return clean_words(entered.get(f"{key}.source", ""))
