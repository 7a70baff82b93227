"""The portfolio of a group: its record comes in, one page of plain values goes out.

The database is done when `gather_portfolio` returns; rendering needs no unit of work.
"""

from __future__ import annotations

from uuid import UUID

from journal.charts.spines import draw_spine
from journal.content.gates import get_caution_line
from journal.content.messages import word_message
from journal.content.rubrics import get_rubric
from journal.content.shown_times import show_day
from journal.content.standards import standards_of
from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message
from journal.domain.permits import require_may_teach
from journal.domain.trials import TrialState
from journal.findings.counted_words import describe_counted
from journal.findings.group_findings import find_for_group
from journal.pictures.group_pictures import draw_family_of, draw_hits, draw_trials, draw_walk
from journal.portfolio.notes import begin, list_asked, look_back
from journal.portfolio.pages import Assessment, Cover, Ending, Family, PortfolioPage, Walk
from journal.portfolio.parts import describe_events, list_parts
from journal.portfolio.revisions import make_spread, parts_in_full
from journal.portfolio.trials import list_trials
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import Work
from journal.store import stages, trials

#: Drawn for a column 170 mm wide; on paper 1 px of a drawing is then 0.2 mm.
FULL_WIDTH_PX = 850
#: Larger marks than elsewhere: the numbers in them are read across a table.
_COVER_PX = 560
_SPINE_WIDTH_PX = 28
#: The height of the spine on paper, 277 mm, when it is 10 mm wide.
_SPINE_HEIGHT_PX = 775.6


def gather_portfolio(work: Work, group_id: UUID, challenge_id: UUID | None = None) -> PortfolioPage:
    """Return the group's portfolio, for its teacher only, in a fixed number of queries.

    It is that of the present challenge, unless another one of the class is named.
    """
    context = get_group_context(work, group_id, challenge_id)
    require_may_teach(work.actor, context.school_class)
    record = gather_group(work, context)
    notes = stages.notes_of_group(work.session, group_id, context.challenge_id)
    corrections = trials.corrections_of_trials(work.session, [trial.id for trial in record.trials])
    # What is printed is finished: verdicts rest on every trial that stands on the sheet.
    found = find_for_group(record, finished=True)
    full = parts_in_full(record)
    school_class = context.school_class
    return PortfolioPage(
        language=school_class.language,
        title=f"Portfolio of {context.group.name}, {context.challenge.title}",
        band=school_class.band.value,
        cover=_cover(record, show_day(work.now())),
        beginning=begin(record, notes),
        walk=_walk(record),
        spreads=tuple(
            make_spread(record, state, revision, found, notes)
            for state in full
            for revision in state.revisions
        ),
        parts=list_parts(record, found, without=full),
        family=Family(
            picture=_family_picture(record),
            events=tuple(line for state in full for line in describe_events(record, state)),
        ),
        asked=list_asked(record, full),
        looking_back=look_back(record, found, notes),
        ending=Ending(
            trials=list_trials(record, corrections),
            assessment=_assessment(school_class.band, school_class.language),
            counted=describe_counted(record),
        ),
    )


def _cover(record: GroupRecord, printed_on: str) -> Cover:
    context = record.context
    count = len(context.sessions)
    sessions = {0: "", 1: ", 1 session"}.get(count, f", {count} sessions")
    picture, caption = _cover_picture(record)
    return Cover(
        spine=draw_spine(context.group.number, _SPINE_HEIGHT_PX, _SPINE_WIDTH_PX),
        group_name=context.group.name,
        challenge_title=context.challenge.title,
        problem=context.wording.problem,
        picture=picture,
        caption=caption,
        made_by=", ".join(dict.fromkeys(member.nickname for member in context.group.members)),
        class_words=f"{context.school_class.name}{sessions}",
        printed_on=printed_on,
        caution=get_caution_line(context.school_class.language, context.challenge),
    )


def _cover_picture(record: GroupRecord) -> tuple[str, str]:
    measured = [trial for trial in record.usable_trials if trial.state is TrialState.MEASURED]
    main = record.main_part
    if not measured or main is None:
        return "", ""
    part = main.kind.name.lower()
    placed = [trial for trial in measured if trial.x_mm is not None and trial.y_mm is not None]
    if record.context.challenge.panel is not None and placed:
        drawn = draw_hits(
            record,
            placed,
            width_px=_COVER_PX,
            height_px=_COVER_PX,
            labels=False,
            ids="cover",
            title=word_message(
                Message("gathering.panel_with_every_hit_of", name=record.group.name),
                record.language,
            ),
            numbers=True,
        )
        message = Message("gathering.each_mark_is_a_hit", count=len(placed), part=part)
        return drawn, word_message(message, record.language)
    drawn = draw_trials(record, main, width_px=FULL_WIDTH_PX, ids="cover")
    count = sum(len(record.trials_of(revision.id)) for revision in main.revisions)
    message = Message("gathering.each_dot_is_a_trial", count=count, part=part)
    return drawn, word_message(message, record.language)


def _walk(record: GroupRecord) -> Walk:
    main = record.main_part
    has_trials = main is not None and any(
        record.trials_of(revision.id) for revision in main.revisions
    )
    return Walk(
        path=draw_walk(record, width_px=FULL_WIDTH_PX) if record.steps else "",
        dots=draw_trials(record, main, width_px=FULL_WIDTH_PX, ids="all")
        if main is not None and has_trials
        else "",
        dots_heading=""
        if main is None
        else word_message(Message("gathering.every_trial_of", name=main.name), record.language),
    )


def _family_picture(record: GroupRecord) -> str:
    if not any(state.revisions for state in record.parts):
        return ""
    return draw_family_of(record, width_px=FULL_WIDTH_PX)


def _assessment(band: GradeBand, language: str) -> Assessment:
    return Assessment(
        rubric=get_rubric(language),
        in_parts=band is GradeBand.TWO,
        standards=tuple((standard.code, standard.paraphrase) for standard in standards_of(band)),
    )
