"""What the challenge pages show: ready values, no rules."""

from __future__ import annotations

from dataclasses import dataclass, replace
from uuid import UUID

from journal.charts.panels import draw_panel
from journal.content.gates import get_caution_line
from journal.content.library import ready_challenges
from journal.content.messages import word_message
from journal.domain.challenges import Challenge, Material, PartKind
from journal.domain.classes import SchoolClass
from journal.domain.lengths import show_length
from journal.domain.messages import Message
from journal.domain.numbers import show_money, show_number
from journal.records.work import Work
from journal.screens.desk.frames import frame_class
from journal.screens.desk.next_steps import find_next_step
from journal.screens.frames import DeskFrame
from journal.screens.links import Link, Target, link_to
from journal.services.challenges import get_own_challenge
from journal.services.classes import get_own_class
from journal.store import challenges

PANEL_PX = 360


@dataclass(frozen=True, slots=True, kw_only=True)
class ChallengeCard:
    """A challenge in a list."""

    key: str
    title: str
    story: str
    problem: str
    #: Read before the challenge is opened.
    caution: str
    parts: str
    id: UUID | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ChallengesPage:
    """The challenges a class can open, and those it has opened."""

    frame: DeskFrame
    class_id: UUID
    ready: tuple[ChallengeCard, ...]
    opened: tuple[ChallengeCard, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One value that the class may change: its path, label, value and unit."""

    path: str
    label: str
    value: str
    unit: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartSettings:
    """A part with the factors that can be changed in it."""

    name: str
    note: str
    factors: tuple[tuple[Setting, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChallengePage:
    """A class's copy of a challenge, to read whole."""

    frame: DeskFrame
    challenge: Challenge
    story: str
    problem: str
    distance: str
    panel_svg: str
    prices: tuple[tuple[str, str, str], ...]
    budget: str
    counting: str
    changes: Link
    sessions: Link


@dataclass(frozen=True, slots=True, kw_only=True)
class ChallengeChangesPage:
    """The form that changes a class's copy."""

    frame: DeskFrame
    challenge_id: UUID
    top: tuple[Setting, ...]
    criteria: tuple[Setting, ...]
    parts: tuple[PartSettings, ...]
    errors: dict[str, list[str]] | None = None


def prepare_challenges(work: Work, class_id: UUID) -> ChallengesPage:
    """Gather the ready challenges and the class's own."""
    school_class = get_own_class(work, class_id)
    opened = challenges.challenges_of_class(work.session, class_id)
    return ChallengesPage(
        frame=replace(
            frame_class(school_class, "Challenges"), next_step=find_next_step(work, school_class)
        ),
        class_id=class_id,
        ready=tuple(_card(challenge, school_class) for challenge in ready_challenges()),
        opened=tuple(_card(challenge, school_class) for challenge in opened),
    )


def prepare_challenge(work: Work, challenge_id: UUID) -> ChallengePage:
    """Gather a class's copy of a challenge."""
    challenge, school_class = get_own_challenge(work, challenge_id)
    wording = challenge.wording[school_class.band]
    panel_svg = ""
    if challenge.panel is not None:
        panel_svg = draw_panel(
            challenge.panel,
            (),
            width_px=PANEL_PX + 120,
            height_px=PANEL_PX,
            text_px=13,
            ids="panel",
            title=f"Panel of {challenge.title}",
        )
    return ChallengePage(
        frame=replace(
            frame_class(school_class, challenge.title, tested=[challenge]),
            next_step=find_next_step(work, school_class),
        ),
        challenge=challenge,
        story=wording.story,
        problem=wording.problem,
        distance="" if challenge.distance_mm is None else show_length(challenge.distance_mm),
        panel_svg=panel_svg,
        prices=tuple(_price(material, challenge) for material in challenge.materials),
        budget=show_price(challenge.budget_hundredths, challenge),
        counting=word_message(_counting(challenge), school_class.language),
        changes=link_to(Target.CHALLENGE_CHANGES, challenge_id=challenge_id),
        sessions=link_to(Target.SESSIONS, class_id=school_class.id),
    )


def prepare_changes(
    work: Work,
    challenge_id: UUID,
    entered: dict[str, str] | None = None,
    errors: dict[str, list[str]] | None = None,
) -> ChallengeChangesPage:
    """Gather the form of changes; what was entered stands in it again after a problem."""
    challenge, school_class = get_own_challenge(work, challenge_id)
    given = entered or {}
    top = [Setting(path="title", label="Title", value=given.get("title", challenge.title))]
    if challenge.distance_mm is not None:
        distance = given.get("distance_mm", show_length(challenge.distance_mm))
        top.append(
            Setting(
                path="distance_mm",
                label=word_message(
                    Message("physics_quantities.distance_to_the_panel"), school_class.language
                ),
                value=distance,
            )
        )
    criteria = [
        Setting(
            path=f"criteria.{criterion.key}.threshold",
            label=criterion.text,
            value=given.get(
                f"criteria.{criterion.key}.threshold", show_number(criterion.threshold)
            ),
            unit=criterion.unit,
        )
        for criterion in challenge.criteria
    ]
    return ChallengeChangesPage(
        frame=frame_class(school_class, f"Change {challenge.title}", tested=[challenge]),
        challenge_id=challenge_id,
        top=tuple(top),
        criteria=tuple(criteria),
        parts=tuple(_part_settings(part, given) for part in challenge.parts),
        errors=errors,
    )


def show_price(hundredths: int | None, challenge: Challenge) -> str:
    """Return an amount of the challenge's money in words; "" where there is none."""
    return "" if hundredths is None else f"{show_money(hundredths)} {challenge.money_name}"


def _card(challenge: Challenge, school_class: SchoolClass) -> ChallengeCard:
    wording = challenge.wording[school_class.band]
    shared = ", ".join(
        word_message(
            Message("challenges.one_a_group", name=part.name.lower()), school_class.language
        )
        for part in challenge.shared_parts
    )
    own = ", ".join(f"one {part.name.lower()} each" for part in challenge.own_parts)
    return ChallengeCard(
        key=challenge.key,
        title=challenge.title,
        story=wording.story,
        problem=wording.problem,
        caution=get_caution_line(school_class.language, challenge),
        parts=", ".join(part for part in (shared, own) if part),
        id=challenge.id,
    )


def _price(material: Material, challenge: Challenge) -> tuple[str, str, str]:
    name = f"{material.name} (latex)" if material.latex else material.name
    price = f"{show_money(material.price_hundredths)} {challenge.money_name} a {material.unit}"
    allowed = "" if material.allowance is None else f"up to {show_number(material.allowance)}"
    return name, price, allowed


def _counting(challenge: Challenge) -> Message:
    attempts = challenge.counting.attempts
    if challenge.counting.way == "sum":
        return Message("challenges.counted_attempts_by_sum", attempts=attempts)
    return Message("challenges.counted_attempts_by_mean", attempts=attempts)


def _part_settings(part: PartKind, given: dict[str, str]) -> PartSettings:
    rows = []
    for factor in part.factors:
        base = f"parts.{part.key}.factors.{factor.key}"
        cells: tuple[tuple[str, str, str], ...]
        if factor.choices:
            cells = (
                ("choices", "choices, with commas", ", ".join(factor.choices)),
                ("start", "at the start", factor.start),
            )
        else:
            cells = (
                ("start", "at the start", factor.start),
                ("lowest", "least", _number(factor.lowest)),
                ("highest", "most", _number(factor.highest)),
            )
        rows.append(
            tuple(
                Setting(
                    path=f"{base}.{name}",
                    label=f"{factor.name}, {label}",
                    value=given.get(f"{base}.{name}", value),
                    unit=factor.unit,
                )
                for name, label, value in cells
            )
        )
    return PartSettings(
        name=part.name,
        note="one each" if part.own else "one a group",
        factors=tuple(rows),
    )


def _number(value: float | None) -> str:
    return "" if value is None else show_number(value)
