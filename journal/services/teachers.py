"""Teachers: adding one, setting and proving a password.

Passwords are kept as Argon2id hashes. Memory 19 MiB, two passes, one lane: the smaller setting of
the OWASP Password Storage Cheat Sheet (from memory), so that eight sign-ins at once fit a laptop.
"""

from __future__ import annotations

import unicodedata

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from journal.domain.errors import Invalid, NotFound, Problem
from journal.domain.passwords import MOST_CHARACTERS, check_new_password, normalise_password
from journal.domain.people import Teacher
from journal.domain.permits import require_operator, require_teacher
from journal.services.work import Work
from journal.store import people, sign_ins

LONGEST_NAME = 60
REFUSED = "This name and password do not go together. Check both and try again."
#: Compared with where there is no such teacher, so that it takes as long; made of random bytes.
_NOBODYS_HASH = (
    "$argon2id$v=19$m=19456,t=2,p=1$VfQsv/f3jwVssr3u5yJ"
    "wQg$rmrqyTnqxE6dlSlRg2L9pHjqxeOnyzW3FE/mVB30IzY"
)
_HASHER = PasswordHasher(time_cost=2, memory_cost=19_456, parallelism=1)


def add_teacher(work: Work, sign_in_name: str, shown_name: str, password: str) -> Teacher:
    """Add a teacher to the school of this journal, which is made with the first one.

    Raises Invalid beside `sign_in_name`, `shown_name` or `password`.
    """
    require_operator(work.actor)
    name = _check_sign_in_name(work, sign_in_name)
    shown = " ".join(shown_name.split())
    if not shown or len(shown) > LONGEST_NAME or not shown.isprintable():
        what = f"Give the name that stands on the pages, at most {LONGEST_NAME} letters."
        raise Invalid.at("shown_name", what)
    hashed = _HASHER.hash(check_new_password(password, name))
    school = people.find_school(work.session) or people.add_school(work.session, "School")
    return people.add_teacher(
        work.session, school.id, sign_in_name=name, shown_name=shown, password_hash=hashed
    )


def set_password(work: Work, sign_in_name: str, password: str) -> None:
    """Replace a teacher's password from the terminal and end every sign-in of that teacher."""
    require_operator(work.actor)
    found = people.find_teacher_by_name(work.session, _plain(sign_in_name))
    if found is None:
        message = f"There is no teacher with the sign-in name {sign_in_name!r}."
        raise NotFound(message)
    _keep_password(work, found[0], password)


def change_password(work: Work, present: str, password: str, again: str) -> None:
    """Replace the password of the teacher who asks; every sign-in ends, this one too.

    Raises Invalid beside `present`, `password` or `again`.
    """
    teacher = people.get_teacher(work.session, require_teacher(work.actor))
    found = people.find_teacher_by_name(work.session, teacher.sign_in_name)
    if found is None or not _fits(found[1], present):
        raise Invalid.at("present", "This is not your present password.")
    if password != again:
        raise Invalid.at("again", "This is not the same as the line above. Write it once more.")
    _keep_password(work, teacher, password)


def prove_teacher(work: Work, sign_in_name: str, password: str) -> Teacher:
    """Return the teacher whose name and password these are; raise Invalid otherwise.

    An unknown name gets the same answer after the same time as a known one with another password.
    This is the way in, so there is no permit to ask for.
    """
    found = people.find_teacher_by_name(work.session, _plain(sign_in_name)[: LONGEST_NAME + 1])
    fits = _fits(_NOBODYS_HASH if found is None else found[1], password)
    if found is None or not fits:
        raise Invalid(REFUSED, [Problem("password", REFUSED)])
    return found[0]


def _keep_password(work: Work, teacher: Teacher, password: str) -> None:
    hashed = _HASHER.hash(check_new_password(password, teacher.sign_in_name))
    people.set_password_hash(work.session, teacher.id, hashed)
    sign_ins.end_all_of_teacher(work.session, teacher.id, work.now())


def _check_sign_in_name(work: Work, sign_in_name: str) -> str:
    name = _plain(sign_in_name)
    if not name or len(name) > LONGEST_NAME or " " in name or not name.isprintable():
        what = f"Give a sign-in name without spaces, at most {LONGEST_NAME} letters."
        raise Invalid.at("sign_in_name", what)
    if people.find_teacher_by_name(work.session, name) is not None:
        raise Invalid.at("sign_in_name", f"The sign-in name {name!r} is taken. Choose another one.")
    return name


def _plain(sign_in_name: str) -> str:
    return unicodedata.normalize("NFKC", sign_in_name).strip().casefold()


def _fits(hashed: str, password: str) -> bool:
    try:
        return _HASHER.verify(hashed, normalise_password(password)[: MOST_CHARACTERS + 1])
    except (VerificationError, InvalidHashError, UnicodeEncodeError):
        return False
