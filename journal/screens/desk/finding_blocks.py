"""The blocks of the teacher's page of a group: findings in, ready values out."""

from __future__ import annotations

from dataclasses import dataclass, replace

from journal.analysis.compare import Comparison
from journal.analysis.spread import Interval, Spread
from journal.charts.tables import NOTHING, ChartTable
from journal.content.messages import word_message
from journal.content.teacher_words import show_p_value, word_for_teacher
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message
from journal.domain.numbers import show_number
from journal.domain.part_states import PartState
from journal.domain.swap_tests import SwapKind
from journal.domain.trials import Trial
from journal.findings.group_findings import GroupFindings, RevisionFinding
from journal.findings.handling import HandlingLine
from journal.findings.hits import HitFinding
from journal.findings.p_values import describe_p_values
from journal.findings.use import ShareLine
from journal.pictures.beside_pictures import draw_beside
from journal.pictures.drawings import Drawing, tabulate_hits
from journal.pictures.finding_drawings import MOST_DOTS
from journal.pictures.group_pictures import draw_hits
from journal.screens.links import Link, Target, link_to

BESIDE_PX = 660
HITS_PX = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class BesideBlock:
    """The newest revision beside another one."""

    heading: str
    drawing: Drawing | None
    #: What is said of this comparison where it is not the first one.
    sentences: tuple[str, ...]
    figures: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class UseBlock:
    """Device, use, or both."""

    sentences: tuple[str, ...]
    lines: tuple[ShareLine, ...]
    table: ChartTable
    #: Each two ways of handling, and what is said of them together.
    handling: tuple[HandlingLine, ...]
    handling_notes: tuple[str, ...]
    exchange: Link | None
    #: Where intervals are worked out; None where they are there, or cannot be.
    with_intervals: Link | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ChildHits:
    """Where one child hit with the newest revision."""

    name: str
    #: Of the child's mark; 0 for somebody who has none.
    strokes: int
    note: str
    svg: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HitsBlock:
    """Where the group hits."""

    newest: str
    note: str
    cards: tuple[ChildHits, ...]
    figures: ChartTable
    places: ChartTable
    fitted: tuple[str, ...]
    with_intervals: Link | None


def set_beside(
    record: GroupRecord, findings: GroupFindings, newest: RevisionFinding | None
) -> tuple[BesideBlock, ...]:
    """Set the newest tested revision beside its parent, and the best before it if another."""
    if newest is None:
        return ()
    unit, language = record.context.challenge.outcome.unit, record.language
    together = sum(
        comparison.verdict.tests
        for found in findings.of_part(newest.part_id)
        for comparison in (found.comparison, found.best_comparison)
        if comparison is not None
    )
    first = newest.comparison
    blocks = [
        BesideBlock(
            heading="" if first is None else f"{first.new} beside {first.old}",
            drawing=draw_beside(record, newest, first, width_px=BESIDE_PX, ids="beside"),
            sentences=(),
            figures=() if first is None else _figures(first, together, unit, language),
        )
    ]
    best = newest.best_comparison
    if best is not None:
        blocks.append(
            BesideBlock(
                heading=word_message(
                    Message("finding_blocks.beside_the_best_so_far", old=best.old), language
                ),
                drawing=draw_beside(record, newest, best, width_px=BESIDE_PX, ids="beside-best"),
                sentences=newest.beside_best,
                figures=_figures(best, together, unit, language),
            )
        )
    return tuple(blocks)


def _figures(comparison: Comparison, together: int, unit: str, language: str) -> tuple[str, ...]:
    """Say Hodges-Lehmann's difference and the p-value."""
    if not comparison.verdict.tests or comparison.p_value is None:
        return ()
    figures = []
    if comparison.hodges_lehmann is not None:
        figures.append(
            word_for_teacher(
                "middle_pair", language, difference=comparison.hodges_lehmann, unit=unit
            )
        )
    figures += describe_p_values(comparison, together, unit, language)
    if comparison.interval is None:
        figures.append(word_for_teacher("no_interval", language))
    return tuple(figures)


def show_use(record: GroupRecord, findings: GroupFindings, *, with_intervals: bool) -> UseBlock:
    """Return the two-way table and the shares."""
    use, group_id = findings.use, record.group.id
    can_say = use.shares.reason is None
    return UseBlock(
        sentences=use.sentences,
        lines=use.lines,
        table=use.table,
        handling=findings.handling.lines,
        handling_notes=findings.handling.notes,
        exchange=link_to(Target.NEW_SWAP_TEST, group_id=group_id, kind=SwapKind.OWN_PARTS.value)
        if use.offers_exchange
        else None,
        with_intervals=_link_intervals(record, "use") if can_say and not with_intervals else None,
    )


def _link_intervals(record: GroupRecord, place: str) -> Link:
    link = link_to(
        Target.FINDINGS,
        group_id=record.group.id,
        challenge=record.context.challenge_id,
        with_intervals="yes",
    )
    return replace(link, place=place)


def show_hits(
    record: GroupRecord, findings: GroupFindings, main: PartState | None, *, with_intervals: bool
) -> HitsBlock | None:
    """Return where each child hit with the newest revision, and figures of all revisions."""
    hits = findings.hits
    newest = None if main is None else find_by_label(findings, hits.newest)
    if newest is None or not hits.by_revision:
        return None
    trials = record.trials_of(newest.revision_id)
    every = (*hits.by_revision, *hits.by_student)
    more = any(finding.spread.scores_only or finding.spread.beyond_panel for finding in every)
    language = record.language
    return HitsBlock(
        newest=hits.newest,
        note=" ".join((*hits.by_revision[-1].sentences, *hits.by_revision[-1].figures)),
        cards=tuple(
            card
            for place, spread in enumerate(hits.by_student)
            if (card := _card(record, trials, spread, place)) is not None
        ),
        figures=_hit_figures(hits.by_revision, hits.by_student, hits.newest, language),
        places=tabulate_hits(record, trials, f"Hits with {hits.newest}"),
        fitted=tuple(_fitted(finding, language) for finding in every if _was_fitted(finding))
        if with_intervals
        else (),
        with_intervals=_link_intervals(record, "hits") if more and not with_intervals else None,
    )


def find_by_label(findings: GroupFindings, label: str) -> RevisionFinding | None:
    """Return the finding of a revision by its label."""
    return next((revision for revision in findings.revisions if revision.label == label), None)


def _card(
    record: GroupRecord, trials: tuple[Trial, ...], found: HitFinding, place: int
) -> ChildHits | None:
    own = [trial for trial in trials if str(trial.student_id or "") == found.spread.label]
    if not found.label or not own:
        return None
    svg = draw_hits(
        record,
        own[-MOST_DOTS:],
        others=[trial for trial in trials[-MOST_DOTS:] if trial not in own],
        middle=True,
        width_px=HITS_PX,
        height_px=HITS_PX,
        labels=False,
        ids=f"hits-{place}",
        title=f"Hits of {found.label}",
    )
    student_id = own[0].student_id
    strokes = record.group.strokes.get(student_id, 0) if student_id else 0
    note = " ".join(found.sentences)
    return ChildHits(name=found.label, strokes=strokes, note=note, svg=svg)


def _hit_figures(
    revisions: tuple[HitFinding, ...], students: tuple[HitFinding, ...], newest: str, language: str
) -> ChartTable:
    rows = [(revision.label, *_hit_cells(revision)) for revision in revisions]
    rows += [
        (f"{student.label or 'Nobody named'}, {newest}", *_hit_cells(student))
        for student in students
    ]
    return ChartTable(
        caption=word_message(Message("finding_blocks.middle_and_spread_of_the_hits"), language),
        header=(
            *(
                "Trials of",
                "Hits",
                word_message(Message("finding_blocks.off_the_aim_point"), language),
                "p",
                "Scatter",
            ),
            *("Half lie within", "95 in 100 within"),
        ),
        rows=tuple(rows),
    )


def _hit_cells(found: HitFinding) -> tuple[str, ...]:
    exact: Spread | None = found.exact
    if exact is None:
        return (str(found.spread.hits), *(NOTHING,) * 5)
    return (
        str(found.spread.hits),
        f"{show_number(exact.offset_mm, 0)}{_where(exact)}",
        show_p_value(exact.offset_p_value) or NOTHING,
        _with_interval(exact.scatter_mm, exact.scatter_interval_mm),
        _with_interval(exact.half_radius_mm, exact.half_radius_interval_mm),
        _with_interval(exact.wide_radius_mm, exact.wide_radius_interval_mm),
    )


def _where(exact: Spread) -> str:
    up = "above" if exact.offset_y_mm > 0 else "below"
    side = "right" if exact.offset_x_mm > 0 else "left"
    up_mm, side_mm = (show_number(abs(at), 0) for at in (exact.offset_y_mm, exact.offset_x_mm))
    return f" ({up_mm} {up}, {side_mm} {side})"


def _with_interval(value: float | None, interval: Interval | None) -> str:
    if value is None:
        return NOTHING
    if interval is None:
        return show_number(value, 0)
    low, high = (show_number(end, 0) for end in interval)
    return f"{show_number(value, 0)} ({low} to {high})"


def _was_fitted(found: HitFinding) -> bool:
    return bool(found.spread.scores_only or found.spread.beyond_panel)


def _fitted(found: HitFinding, language: str) -> str:
    fitted, label = found.spread.fitted, found.label
    if fitted is None:
        return word_for_teacher("fitted_none", language, label=label)
    return word_for_teacher(
        "fitted",
        language,
        label=label,
        offset=show_number(fitted.offset_mm, 0),
        scatter=show_number(fitted.scatter_mm, 0),
    )
