"""What the page of a class's measures shows: each measure, open or closed, and what is usual."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from uuid import UUID

from journal.content.bands import MEASURE_NAMES, get_measure_words, which_measures
from journal.findings.measures import measures_of
from journal.records.work import Work
from journal.screens.desk.classes import GRADES, Errors
from journal.screens.desk.frames import frame_class
from journal.screens.frames import DeskFrame
from journal.services.classes import get_own_class


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuresPage:
    """The form that opens and closes measures."""

    frame: DeskFrame
    class_id: UUID
    #: Name of the field, its words, and what it shows.
    options: tuple[tuple[str, str, str], ...]
    opened: tuple[str, ...]
    #: Opened or closed against the band, in words; "" where all is as usual.
    changed: str
    errors: Errors | None = None


def prepare_measures(work: Work, class_id: UUID, errors: Errors | None = None) -> MeasuresPage:
    """Gather the form."""
    school_class = get_own_class(work, class_id)
    shown = asdict(measures_of(school_class))
    usual = asdict(which_measures(school_class.band))
    language = school_class.language
    names = {name: get_measure_words(name, language)[0] for name in MEASURE_NAMES}
    changed = {
        words: [names[name] for name in MEASURE_NAMES if shown[name] is is_open is not usual[name]]
        for words, is_open in (("Opened", True), ("Closed", False))
    }
    return MeasuresPage(
        frame=frame_class(school_class, "What students see", GRADES[school_class.band]),
        class_id=class_id,
        options=tuple((name, *get_measure_words(name, language)) for name in MEASURE_NAMES),
        opened=tuple(name for name in MEASURE_NAMES if shown[name]),
        changed=" ".join(
            f"{words}: {', '.join(those)}." for words, those in changed.items() if those
        ),
        errors=errors,
    )
