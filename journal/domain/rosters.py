"""A roster as pasted: text comes in, nicknames go out, or one problem a line.

A student is known by a nickname or a number only; what looks like a full name, an e-mail address
or a birth date is refused. The limits are our own choice.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

from journal.domain.errors import Invalid, Problem
from journal.domain.messages import Message

FIELD = "nicknames"
LONGEST_NICKNAME = 24
MOST_STUDENTS = 60
#: A longer number may be a birth date, a telephone or a school's number of the child.
MOST_DIGITS = 4
_DATE = re.compile(r"\d{1,4}\s*[./-]\s*\d{1,2}\s*[./-]\s*\d{1,4}")
_NICKNAME_AND_NUMBER = re.compile(r"(\S+) (\d{1,2})")
_LONG_NUMBER = re.compile(rf"\d{{{MOST_DIGITS + 1},}}")
_BETWEEN = "'’-"
_SHOWN = 30


def read_roster(
    text: str, present: Iterable[str] = (), former: Iterable[str] = ()
) -> tuple[str, ...]:
    """Return the nicknames of a pasted list, one a line; empty lines are skipped.

    `present` and `former` are the nicknames the class has and had. Raises Invalid with one Problem
    for each line that cannot be taken; its field is `line 3` for the third line.
    """
    seen = {nickname.casefold(): Message("rosters.in_this_class_already") for nickname in present}
    room = MOST_STUDENTS - len(seen)
    seen |= {
        nickname.casefold(): Message("rosters.was_in_this_class_before") for nickname in former
    }
    nicknames: list[str] = []
    problems: list[Problem] = []
    for number, line in enumerate(text.splitlines(), start=1):
        nickname = " ".join(unicodedata.normalize("NFC", line).split())
        if not nickname:
            continue
        sentence = find_fault(nickname)
        if not sentence and nickname.casefold() in seen:
            sentence = Message(
                "rosters.nickname_is_taken", nickname=nickname, why=seen[nickname.casefold()]
            )
        if sentence:
            problems.append(Problem(f"line {number}", sentence))
        else:
            seen[nickname.casefold()] = Message("rosters.stands_in_line_already", number=number)
            nicknames.append(nickname)
    if not problems and not nicknames:
        problems.append(Problem(FIELD, Message("rosters.write_one_nickname_or_number_a_line")))
    if not problems and len(nicknames) > room:
        problems.append(
            Problem(
                FIELD, Message("rosters.class_holds_at_most_students", most_students=MOST_STUDENTS)
            )
        )
    if problems:
        message = Message("rosters.nobody_was_added_yet")
        raise Invalid(message, problems)
    return tuple(nicknames)


def find_fault(nickname: str) -> Message | None:
    """Return what is wrong with a nickname, or None."""
    shown = nickname if len(nickname) <= _SHOWN else f"{nickname[:_SHOWN]}…"
    if "@" in nickname:
        return Message("rosters.looks_like_an_e_mail_address", shown=shown)
    if _DATE.search(nickname) or _LONG_NUMBER.search(nickname):
        return Message("rosters.looks_like_a_birth_date_or_a_long", shown=shown)
    if len(nickname) > LONGEST_NICKNAME:
        return Message("rosters.is_too_long", shown=shown, longest_nickname=LONGEST_NICKNAME)
    if _looks_like_full_name(nickname):
        return Message("rosters.is_two_words", shown=shown)
    if not all(map(_may_stand, nickname)) or not nickname[0].isalnum():
        return Message("rosters.has_signs_in_it", shown=shown)
    return None


def _looks_like_full_name(nickname: str) -> bool:
    """Tell two words from one; a nickname with a number ("Ben 2") keeps two of a name apart."""
    if _NICKNAME_AND_NUMBER.fullmatch(nickname):
        return False
    parts = [part for part in re.split(r"[\s,;.]+", nickname) if part]
    return len(parts) > 1


def _may_stand(sign: str) -> bool:
    return sign == " " or sign.isalnum() or sign in _BETWEEN or unicodedata.category(sign) == "Mn"
