"""Teachers: adding one, setting and proving a password.

Passwords are kept as Argon2id hashes. Memory 19 MiB, two passes, one lane: the smaller setting of
the OWASP Password Storage Cheat Sheet (from memory), so that eight sign-ins at once fit a laptop.
"""

from __future__ import annotations

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from journal.content.common_passwords import is_common
from journal.domain.errors import Invalid, NotFound, Problem
from journal.domain.messages import Message
from journal.domain.passwords import check_new_password, normalise_password
from journal.domain.people import LONGEST_SIGN_IN_NAME, Teacher, normalise_sign_in_name
from journal.domain.permits import require_operator, require_teacher
from journal.records.work import Work
from journal.services.browsers import known_for
from journal.services.guesses import Guesser, strangers
from journal.store import people, sign_ins

LONGEST_NAME = 60
REFUSED = Message("teachers.name_and_password_do_not_go_together")
COMMON = Message("teachers.very_many_people_have_this_password")


def _say_strangers_pause(left: Message) -> Message:
    return Message("teachers.many_passwords_did_not_fit", left=left)


_STRANGERS = strangers("sign-in", _say_strangers_pause)
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
        what = Message("teachers.give_the_name_that_stands_on_the_pages", longest_name=LONGEST_NAME)
        raise Invalid.at("shown_name", what)
    hashed = _hash(password, name)
    school = people.find_school(work.session) or people.add_school(work.session, "School")
    return people.add_teacher(
        work.session, school.id, sign_in_name=name, shown_name=shown, password_hash=hashed
    )


def set_password(work: Work, sign_in_name: str, password: str) -> None:
    """Replace a teacher's password from the terminal and end every sign-in of that teacher."""
    require_operator(work.actor)
    found = people.find_teacher_by_name(work.session, normalise_sign_in_name(sign_in_name))
    if found is None:
        message = Message(
            "teachers.no_teacher_with_the_sign_in_name", sign_in_name=repr(sign_in_name)
        )
        raise NotFound(message)
    _keep_password(work, found[0], _hash(password, found[0].sign_in_name))


def guesser_of_present(work: Work) -> Guesser:
    """Return with whom wrong present passwords are counted: this sign-in, so nobody else's."""
    require_teacher(work.actor)
    return Guesser(kind="present password", who=str(work.actor.sign_in_id))


def prove_present(work: Work, present: str) -> None:
    """Raise Invalid beside `present` unless it is the password of the teacher who asks."""
    teacher = people.get_teacher(work.session, require_teacher(work.actor))
    found = people.find_teacher_by_name(work.session, teacher.sign_in_name)
    if found is None or not _fits(found[1], present):
        raise Invalid.at("present", Message("teachers.not_your_present_password"))


def hash_new_password(work: Work, password: str, again: str) -> str:
    """Return the hash of a new password for the teacher who asks.

    Raises Invalid beside `password` or `again`. It takes a while: do it in a reading work.
    """
    teacher = people.get_teacher(work.session, require_teacher(work.actor))
    if password != again:
        raise Invalid.at("again", Message("teachers.not_the_same_as_the_line_above"))
    return _hash(password, teacher.sign_in_name)


def change_password(work: Work, hashed: str) -> None:
    """Replace the password of the teacher who asks; every sign-in ends, this one too."""
    teacher = people.get_teacher(work.session, require_teacher(work.actor))
    _keep_password(work, teacher, hashed)


def guessers_of_sign_in(work: Work, sign_in_name: str, browser: str) -> tuple[Guesser, ...]:
    """Return with whom a wrong password is counted.

    A browser with which this teacher was in before counts for itself, so nobody locks the teacher
    out of it. Any other one counts by name and by browser, a stranger with all strangers as well.
    """
    name = normalise_sign_in_name(sign_in_name)
    found = people.find_teacher_by_name(work.session, name)
    known = known_for(work, browser)
    if found is not None and found[0].id in known:
        return (Guesser(kind="browser of a teacher", who=str(known[found[0].id])),)
    own = str(min(known.values())) if known else browser
    others = (Guesser(kind="sign-in name", who=name), Guesser(kind="browser, sign-in", who=own))
    return others if known else (*others, _STRANGERS)


def prove_teacher(work: Work, sign_in_name: str, password: str) -> Teacher:
    """Return the teacher whose name and password these are; raise Invalid otherwise.

    An unknown name gets the same answer after the same time as a known one with another password.
    This is the way in, so there is no permit to ask for.
    """
    found = people.find_teacher_by_name(work.session, normalise_sign_in_name(sign_in_name))
    fits = _fits(_NOBODYS_HASH if found is None else found[1], password)
    if found is None or not fits:
        raise Invalid(REFUSED, [Problem("password", REFUSED)])
    return found[0]


def _hash(password: str, sign_in_name: str) -> str:
    plain = check_new_password(password, sign_in_name)
    if is_common(plain):
        raise Invalid.at("password", COMMON)
    return _HASHER.hash(plain)


def _keep_password(work: Work, teacher: Teacher, hashed: str) -> None:
    people.set_password_hash(work.session, teacher.id, hashed)
    sign_ins.end_all_of_teacher(work.session, teacher.id, work.now())


def _check_sign_in_name(work: Work, sign_in_name: str) -> str:
    name = normalise_sign_in_name(sign_in_name)
    if not name or len(name) > LONGEST_SIGN_IN_NAME or " " in name or not name.isprintable():
        what = Message(
            "teachers.give_a_sign_in_name_without_spaces", longest_sign_in_name=LONGEST_SIGN_IN_NAME
        )
        raise Invalid.at("sign_in_name", what)
    if people.find_teacher_by_name(work.session, name) is not None:
        raise Invalid.at("sign_in_name", Message("teachers.sign_in_name_is_taken", name=repr(name)))
    return name


def _fits(hashed: str, password: str) -> bool:
    try:
        return _HASHER.verify(hashed, normalise_password(password))
    except (VerificationError, InvalidHashError, UnicodeEncodeError):
        return False
