"""Wrong lesson words and passwords, counted so that guessing gets slow.

Nothing is counted by the network address: forty tablets of a school share one. A browser that was
in before is counted for itself. A stranger's is counted for itself as well, but it can throw its
cookie away, so all strangers are counted together too (`domain/guesses.py` has the limits). What is
counted is committed whatever came of the try, so a refusal here is a value and no exception.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Protocol
from uuid import UUID

from journal.domain.errors import Invalid
from journal.domain.guesses import (
    FREE_FOR,
    OWN_LIMIT,
    STRANGERS_LIMIT,
    Limit,
    Tally,
    count_wrong,
    describe_pause,
    fresh_tally,
    is_free,
    pause_left,
    take_one_back,
)
from journal.domain.messages import Message
from journal.records.work import Work
from journal.services.classes import get_own_class
from journal.store import guesses

#: A tally that nobody added to for this long is deleted.
KEPT_FOR = timedelta(days=1)


class PauseWords(Protocol):
    """What is said in a pause: how long is left comes in, a message goes out."""

    def __call__(self, left: Message) -> Message:
        """Return the message."""


def _say_own_pause(left: Message) -> Message:
    return Message("guesses.that_did_not_fit_several_times", left=left)


def _say_strangers_pause(left: Message) -> Message:
    return Message("guesses.many_words_did_not_fit", left=left)


@dataclass(frozen=True, slots=True, kw_only=True)
class Guesser:
    """Whose wrong entries are counted together, their limit, and what is said in a pause."""

    #: What is guessed and who guesses it: a browser, a sign-in name, all strangers. Each kind has
    #: keys of its own.
    kind: str
    who: str
    limit: Limit = OWN_LIMIT
    say_pause: PauseWords = _say_own_pause

    @property
    def key(self) -> str:
        """Return what is kept of it: a hash, because a typed name may be a password."""
        text = f"{self.kind}\n{self.who}"
        return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def strangers(kind: str, say_pause: PauseWords) -> Guesser:
    """Return all browsers that were never in before, together."""
    return Guesser(kind=kind, who="strangers", limit=STRANGERS_LIMIT, say_pause=say_pause)


STRANGERS_AT_DOOR = strangers("lesson word", _say_strangers_pause)


def find_pause(work: Work, guessers: Iterable[Guesser], field: str) -> Invalid | None:
    """Return the refusal, to be shown beside a field, while one of them waits."""
    asked = list(guessers)
    return _pause(work, asked, guesses.find_tallies(work.session, _keys(asked)), field)


def count_guess(work: Work, guessers: Iterable[Guesser], field: str) -> Invalid | None:
    """Count an entry as wrong before it is tried; return the refusal where one of them waits.

    Each of a hundred entries at once sees those before it. `take_back` mends it for a right one.
    """
    asked = list(guessers)
    if not asked:
        return None
    now = work.now()
    tallies = guesses.lock_tallies(work.session, _keys(asked), now)
    refused = _pause(work, asked, tallies, field)
    if refused is None:
        guesses.drop_tallies_before(work.session, now - KEPT_FOR)
        for guesser in asked:
            counted = count_wrong(tallies.get(guesser.key), guesser.limit, now)
            guesses.keep_tally(work.session, guesser.key, counted)
    return refused


def take_back(work: Work, guessers: Iterable[Guesser], *, anew: bool = True) -> None:
    """Take a right entry back: whoever made it starts anew, strangers lose this one only.

    Without `anew` whoever made it loses this one only as well.
    """
    asked = list(guessers)
    if not asked:
        return
    tallies = guesses.lock_tallies(work.session, _keys(asked), work.now())
    for guesser in asked:
        mended = take_one_back(tallies[guesser.key], guesser.limit)
        if guesser.limit.within is None and (anew or not (mended.wrong or mended.pauses)):
            guesses.drop_tallies(work.session, [guesser.key])
        else:
            guesses.keep_tally(work.session, guesser.key, mended)


def find_strangers(work: Work) -> Tally | None:
    """Return what was counted at the door for browsers that were never in before."""
    key = STRANGERS_AT_DOOR.key
    return guesses.find_tallies(work.session, [key]).get(key)


def are_strangers_free(work: Work) -> bool:
    """Tell whether a teacher lets new tablets try just now."""
    return is_free(find_strangers(work), work.now())


def let_strangers_try(work: Work, class_id: UUID) -> None:
    """End the pause of new tablets and count none for a while, because the teacher asks for it."""
    get_own_class(work, class_id)
    now = work.now()
    key = STRANGERS_AT_DOOR.key
    tally = guesses.lock_tallies(work.session, [key], now).get(key, fresh_tally(now))
    freed = replace(tally, wrong=0, paused_until=None, free_until=now + FREE_FOR)
    guesses.keep_tally(work.session, key, freed)


def _pause(
    work: Work, asked: list[Guesser], tallies: dict[str, Tally], field: str
) -> Invalid | None:
    if not asked:
        return None
    now = work.now()
    longest = max(asked, key=lambda guesser: pause_left(tallies.get(guesser.key), now))
    left = pause_left(tallies.get(longest.key), now)
    if not left:
        return None
    return Invalid.at(field, longest.say_pause(describe_pause(left)))


def _keys(asked: Iterable[Guesser]) -> list[str]:
    return [guesser.key for guesser in asked]
