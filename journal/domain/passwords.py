"""What a teacher's password may be; the hash is made elsewhere, nothing is kept here.

Length 8 to 128 after OWASP ASVS 5.0, 6.2 (at least 8, at least 64 allowed). No rule about kinds of
characters: length is what counts, and paste works.
"""

from __future__ import annotations

import unicodedata

from journal.domain.errors import Invalid
from journal.domain.messages import Message

LEAST_CHARACTERS = 8
MOST_CHARACTERS = 128
#: Runs that a hand walks over a keyboard or the alphabet, forth and back.
_RUNS = ("abcdefghijklmnopqrstuvwxyz", "01234567890123456789", "qwertyuiopasdfghjklzxcvbnm")
_FEWEST_DIFFERENT = 4
_ADVICE = Message("passwords.three_or_four_words_are_good")


def normalise_password(password: str) -> str:
    """Return one spelling of a password, so that two keyboards give the same one.

    What is too long stays too long, but megabytes of it are not read.
    """
    sent = password[: 4 * MOST_CHARACTERS]
    return unicodedata.normalize("NFKC", sent)[: MOST_CHARACTERS + 1]


def check_new_password(password: str, sign_in_name: str) -> str:
    """Return the password in its one spelling; raise Invalid beside the field `password`."""
    plain = normalise_password(password)
    sentence = _find_fault(plain, sign_in_name)
    if sentence:
        raise Invalid.at("password", sentence)
    return plain


def _find_fault(plain: str, sign_in_name: str) -> Message | None:
    small = plain.casefold()
    name = sign_in_name.casefold()
    faults = (
        (
            len(plain) < LEAST_CHARACTERS,
            Message(
                "passwords.use_at_least_characters",
                least_characters=LEAST_CHARACTERS,
                advice=_ADVICE,
            ),
        ),
        (
            len(plain) > MOST_CHARACTERS,
            Message("passwords.use_at_most_characters", most_characters=MOST_CHARACTERS),
        ),
        (any(map(_is_control, plain)), Message("passwords.use_letters")),
        (
            len(set(small)) < _FEWEST_DIFFERENT,
            Message("passwords.that_repeats_a_few_characters", advice=_ADVICE),
        ),
        (
            any(small in run or small in run[::-1] for run in _RUNS),
            Message("passwords.that_is_a_run", advice=_ADVICE),
        ),
        (bool(name) and name in small, Message("passwords.leave_your_sign_in_name")),
    )
    return next((sentence for holds, sentence in faults if holds), None)


def _is_control(sign: str) -> bool:
    """Tell signs that no keyboard sends, and halves of a pair that no text may hold."""
    return unicodedata.category(sign) in {"Cc", "Cs"}
