"""A roster as pasted: text comes in, nicknames go out, or one problem a line.

A student is known by a nickname or a number only; what looks like a full name, an e-mail address
or a birth date is refused. The limits are our own choice.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

from journal.domain.errors import Invalid, Problem

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
    seen = {nickname.casefold(): "is in this class already" for nickname in present}
    room = MOST_STUDENTS - len(seen)
    seen |= {
        nickname.casefold(): "was in this class before: bring that student back on the class page"
        for nickname in former
    }
    nicknames: list[str] = []
    problems: list[Problem] = []
    for number, line in enumerate(text.splitlines(), start=1):
        nickname = " ".join(unicodedata.normalize("NFC", line).split())
        if not nickname:
            continue
        sentence = find_fault(nickname)
        if not sentence and nickname.casefold() in seen:
            sentence = f"“{nickname}” {seen[nickname.casefold()]}."
        if sentence:
            problems.append(Problem(f"line {number}", sentence))
        else:
            seen[nickname.casefold()] = f"stands in line {number} already"
            nicknames.append(nickname)
    if not problems and not nicknames:
        problems.append(Problem(FIELD, "Write one nickname or number a line."))
    if not problems and len(nicknames) > room:
        problems.append(Problem(FIELD, f"A class holds at most {MOST_STUDENTS} students."))
    if problems:
        message = "Nobody was added yet. Mend the lines named below and send the list again."
        raise Invalid(message, problems)
    return tuple(nicknames)


def find_fault(nickname: str) -> str:
    """Return what is wrong with a nickname as a sentence, empty where all is well."""
    shown = nickname if len(nickname) <= _SHOWN else f"{nickname[:_SHOWN]}…"
    if "@" in nickname:
        return f"“{shown}” looks like an e-mail address. Use a nickname or a number only."
    if _DATE.search(nickname) or _LONG_NUMBER.search(nickname):
        return f"“{shown}” looks like a birth date or a long number. Use a nickname only."
    if len(nickname) > LONGEST_NICKNAME:
        return f"“{shown}” is too long. Use at most {LONGEST_NICKNAME} letters."
    if _looks_like_full_name(nickname):
        return f"“{shown}” is two words: use a nickname or a number only."
    if not all(map(_may_stand, nickname)) or not nickname[0].isalnum():
        return f"“{shown}” has signs in it. Use letters and digits only."
    return ""


def _looks_like_full_name(nickname: str) -> bool:
    """Tell two words from one; a nickname with a number ("Ben 2") keeps two of a name apart."""
    if _NICKNAME_AND_NUMBER.fullmatch(nickname):
        return False
    parts = [part for part in re.split(r"[\s,;.]+", nickname) if part]
    return len(parts) > 1


def _may_stand(sign: str) -> bool:
    return sign == " " or sign.isalnum() or sign in _BETWEEN or unicodedata.category(sign) == "Mn"
