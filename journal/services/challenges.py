"""Open a ready challenge for a class, read it, and change the class's own copy."""

from __future__ import annotations

from collections.abc import Mapping
from uuid import UUID

from journal.content.library import get_ready_challenge
from journal.domain.challenge_documents import with_changes
from journal.domain.challenges import LONGEST_TITLE, Challenge, Factor
from journal.domain.classes import SchoolClass
from journal.domain.errors import Invalid, NotFound, Problem
from journal.domain.lengths import read_length_mm
from journal.domain.messages import Message
from journal.domain.numbers import NoNumber, read_number
from journal.domain.permits import require_may_teach
from journal.domain.sentences import clean_words, find_problem
from journal.records.work import Work
from journal.services.classes import get_own_class
from journal.store import challenges, classes


def open_challenge(work: Work, class_id: UUID, key: str) -> Challenge:
    """Give the class its own copy of a ready challenge, at the distance of its band."""
    school_class = get_own_class(work, class_id)
    ready = get_ready_challenge(key)
    distance_mm = ready.wording[school_class.band].distance_mm
    opened = challenges.add_challenge(
        work.session, school_class, with_changes(ready, distance_mm=distance_mm), work.now()
    )
    classes.bump_version(work.session, class_id)
    return opened


def get_own_challenge(work: Work, challenge_id: UUID) -> tuple[Challenge, SchoolClass]:
    """Return a challenge of one of the teacher's classes, with the class; raise NotFound."""
    challenge = challenges.get_challenge(work.session, challenge_id)
    if challenge.class_id is None:
        message = Message("challenges.no_such_challenge")
        raise NotFound(message)
    school_class = classes.get_class(work.session, challenge.class_id)
    require_may_teach(work.actor, school_class)
    return challenge, school_class


def change_challenge(work: Work, challenge_id: UUID, entered: Mapping[str, str]) -> Challenge:
    """Change title, distance, thresholds and factors of a class's copy.

    `entered` goes by the path of each value, such as `criteria.near_blaze.threshold` or
    `parts.dart.factors.fin_area.start`, as text. Raises Invalid with every problem by its path.
    """
    challenge, school_class = get_own_challenge(work, challenge_id)
    problems: list[Problem] = []
    title = clean_words(entered.get("title", challenge.title))
    if not title:
        problems.append(Problem("title", Message("challenges.challenge_needs_a_title")))
    elif too_long := find_problem("title", title, LONGEST_TITLE):
        problems.append(too_long)
    distance_mm = _read_distance(entered, problems)
    thresholds = _read_thresholds(challenge, entered, problems)
    factors = _read_factors(challenge, entered, problems)
    if problems:
        raise Invalid(problems[0].what, problems)
    changed = with_changes(
        challenge, title=title, distance_mm=distance_mm, thresholds=thresholds, factors=factors
    )
    challenges.save_challenge(work.session, changed)
    classes.bump_version(work.session, school_class.id)
    return changed


def _read_distance(entered: Mapping[str, str], problems: list[Problem]) -> int | None:
    text = entered.get("distance_mm", "").strip()
    if not text:
        return None
    try:
        return read_length_mm(text, "distance_mm", lowest_mm=100, highest_mm=50_000)
    except Invalid as invalid:
        problems.extend(invalid.problems)
        return None


def _read_thresholds(
    challenge: Challenge, entered: Mapping[str, str], problems: list[Problem]
) -> dict[str, float]:
    thresholds = {}
    for criterion in challenge.criteria:
        path = f"criteria.{criterion.key}.threshold"
        if path in entered:
            number = _read_number(entered[path], path, problems)
            if number is not None:
                thresholds[criterion.key] = number
    return thresholds


def _read_factors(
    challenge: Challenge, entered: Mapping[str, str], problems: list[Problem]
) -> dict[str, dict[str, dict[str, object]]]:
    factors: dict[str, dict[str, dict[str, object]]] = {}
    for part in challenge.parts:
        for factor in part.factors:
            base = f"parts.{part.key}.factors.{factor.key}"
            changed = {
                name: _read_factor_value(factor, name, entered[f"{base}.{name}"], base, problems)
                for name in ("start", "lowest", "highest", "choices")
                if f"{base}.{name}" in entered
            }
            if changed:
                factors.setdefault(part.key, {})[factor.key] = changed
    return factors


def _read_factor_value(
    factor: Factor, name: str, text: str, base: str, problems: list[Problem]
) -> object:
    """Return the value as the document holds it; None takes it out."""
    text = text.strip()
    if name == "choices":
        return [choice.strip() for choice in text.split(",") if choice.strip()]
    if not text:
        return None
    if factor.choices:
        return text
    return _read_number(text, f"{base}.{name}", problems)


def _read_number(text: str, path: str, problems: list[Problem]) -> float | None:
    try:
        number = read_number(text)
    except NoNumber as error:
        problems.append(Problem(path, error.message))
        return None
    return int(number) if number.is_integer() else number
