"""The teacher's page of one group: what its trials say, who hit where, what was agreed."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from journal.analysis.spread import spread_of
from journal.content.gates import get_caution_line
from journal.content.needs import get_need_sentence
from journal.domain.needs import NeedKind, find_need
from journal.domain.permits import require_may_teach
from journal.domain.trials import Place, Trial
from journal.services.benches import get_bench
from journal.services.beside_pictures import draw_beside
from journal.services.findings import GroupFindings, find_for_group
from journal.services.frames import DeskFrame
from journal.services.overviews import pulse_of
from journal.services.pictures import caption_of, draw_family_of, draw_hits, draw_walk
from journal.services.records import GroupRecord, gather_group
from journal.services.shown_times import minutes_between, show_day, show_time
from journal.services.swap_offers import SwapLinks, link_swaps
from journal.services.trial_lines import TrialLine, trial_lines
from journal.services.voices import TEACHER_BAND
from journal.services.work import Work

HITS_PX = 168
BESIDE_PX = 560


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupHead:
    """Who the group is and how long ago the teacher was there."""

    id: UUID
    number: int
    name: str
    members: str
    class_id: UUID
    challenge: str
    reason: str
    since_visit: str
    near_misses: tuple[str, ...]
    swaps: SwapLinks


@dataclass(frozen=True, slots=True, kw_only=True)
class RevisionLine:
    """A revision with what its trials say, for the teacher."""

    label: str
    caption: str
    reason: str
    prediction: str
    state: str
    sentences: tuple[str, ...]
    beside: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChildHits:
    """Where one child hit with the newest revision."""

    name: str
    note: str
    svg: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """Something said or noted, with when."""

    when: str
    what: str
    answer: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupPage:
    """The teacher's page of a group."""

    frame: DeskFrame
    head: GroupHead
    sentences: tuple[str, ...]
    stall: str
    criteria: tuple[tuple[str, str], ...]
    beside_svg: str
    revisions: tuple[RevisionLine, ...]
    pictures: tuple[str, ...]
    hits: tuple[ChildHits, ...]
    ladder: tuple[Said, ...]
    visits: tuple[Said, ...]
    trials: tuple[TrialLine, ...]


def prepare_findings(work: Work, group_id: UUID) -> GroupPage:
    """Gather the page."""
    bench = get_bench(work, group_id)
    require_may_teach(work.actor, bench.school_class)
    record = gather_group(work, bench)
    findings = find_for_group(record, TEACHER_BAND)
    return GroupPage(
        frame=_frame(record),
        head=_head(work, record, findings),
        sentences=findings.sentences,
        stall=findings.stall_sentence,
        criteria=tuple((one.text, one.sentence) for one in findings.criteria),
        beside_svg=_beside(record, findings),
        revisions=_revisions(record, findings),
        pictures=(draw_walk(record, width_px=820), draw_family_of(record, width_px=820)),
        hits=_hits(record),
        ladder=_ladder(record),
        visits=_visits(record),
        trials=tuple(reversed(trial_lines(record))),
    )


def _frame(record: GroupRecord) -> DeskFrame:
    bench = record.bench
    school_class = bench.school_class
    return DeskFrame(
        title=f"{record.group.name}, findings",
        heading=record.group.name,
        what=f"{bench.challenge.title}, {school_class.name}",
        class_id=school_class.id,
        class_name=school_class.name,
        language=school_class.language,
        caution=get_caution_line(school_class.language, launches=bench.challenge.launches),
    )


def _head(work: Work, record: GroupRecord, findings: GroupFindings) -> GroupHead:
    now = work.now()
    need = find_need(pulse_of(record, now), now)
    key = need.kind.value
    if need.kind is NeedKind.UNVISITED and not record.visits:
        key = "unvisited_never"
    since = "Not visited yet"
    if record.visits:
        since = f"{minutes_between(record.visits[-1].visited_at, now)} min since your visit"
    return GroupHead(
        id=record.group.id,
        number=record.group.number,
        name=record.group.name,
        members=", ".join(member.nickname for member in record.group.present_members),
        class_id=record.bench.school_class.id,
        challenge=record.bench.challenge.title,
        reason=get_need_sentence(
            key, record.bench.school_class.language, n=need.n, minutes=need.minutes
        ),
        since_visit=since,
        near_misses=tuple(
            f"{show_day(one.noted_at)}, {show_time(one.noted_at)}. {one.note}".strip()
            for one in record.near_misses
        ),
        swaps=link_swaps(record, findings, TEACHER_BAND),
    )


def _beside(record: GroupRecord, findings: GroupFindings) -> str:
    """Draw the newest tested revision of the main part beside its parent."""
    main = record.main_part
    tested = [
        one
        for one in (findings.of_part(main.part.id) if main else ())
        if one.summary.n + one.summary.misfires
    ]
    if not tested:
        return ""
    return draw_beside(
        record,
        tested[-1],
        width_px=BESIDE_PX,
        show_mean=True,
        show_difference=True,
        ids="beside",
    )


def _revisions(record: GroupRecord, findings: GroupFindings) -> tuple[RevisionLine, ...]:
    lines = []
    for one in reversed(findings.revisions):
        found = record.find_revision(one.revision_id)
        if found is None:
            continue
        state, revision = found
        lines.append(
            RevisionLine(
                label=one.label,
                caption=caption_of(state, revision),
                reason=revision.reason,
                prediction=revision.prediction,
                state="set aside" if revision.is_set_aside else "",
                sentences=one.sentences,
                beside=one.beside,
            )
        )
    return tuple(lines)


def _hits(record: GroupRecord) -> tuple[ChildHits, ...]:
    main = record.main_part
    if record.bench.challenge.panel is None or main is None or main.current is None:
        return ()
    trials = record.trials_of(main.current.id)
    cards = []
    for place, member in enumerate(record.group.members):
        own = [trial for trial in trials if trial.student_id == member.student_id]
        if not own:
            continue
        svg = draw_hits(
            record,
            own,
            width_px=HITS_PX,
            height_px=HITS_PX,
            labels=False,
            ids=f"hits-{place}",
            title=f"Hits of {member.nickname}",
        )
        cards.append(ChildHits(name=member.nickname, note=_hits_note(own), svg=svg))
    return tuple(cards)


def _hits_note(trials: list[Trial]) -> str:
    """Say where the middle of a child's hits lies; nothing below three of them."""
    hits = [
        (trial.x_mm, trial.y_mm)
        for trial in trials
        if trial.place is Place.PANEL and trial.x_mm is not None and trial.y_mm is not None
    ]
    counted = f"{len(hits)} hits" if len(hits) != 1 else "1 hit"
    spread = spread_of(hits)
    least = 3
    if spread is None or len(hits) < least:
        return f"{counted}, too few to say where"
    up = "high" if spread.offset_y_mm > 0 else "low"
    side = "right" if spread.offset_x_mm > 0 else "left"
    return (
        f"{counted}, middle {abs(spread.offset_y_mm):.0f} mm {up}, "
        f"{abs(spread.offset_x_mm):.0f} mm {side}"
    )


def _ladder(record: GroupRecord) -> tuple[Said, ...]:
    return tuple(
        Said(
            when=f"{show_day(answer.answered_at)}, {show_time(answer.answered_at)}",
            what=answer.question,
            answer=answer.text or "Said to the teacher.",
        )
        for climb in reversed(record.climbs)
        for answer in reversed(climb.answers)
    )


def _visits(record: GroupRecord) -> tuple[Said, ...]:
    return tuple(
        Said(
            when=f"{show_day(visit.visited_at)}, {show_time(visit.visited_at)}",
            what=visit.reason,
            answer=visit.note,
        )
        for visit in reversed(record.visits)
    )
