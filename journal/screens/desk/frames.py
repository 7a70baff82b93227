"""The frame of a teacher's page about a class."""

from __future__ import annotations

from collections.abc import Sequence

from journal.content.gates import get_caution_line
from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.screens.frames import DeskFrame


def frame_class(
    school_class: SchoolClass,
    heading: str,
    what: str = "",
    *,
    title: str = "",
    tested: Sequence[Challenge] | None = None,
) -> DeskFrame:
    """Return the frame of a page: `what` beside its heading, else the name of the class.

    The title of the window is the heading with the class unless it is given. The caution at the
    foot is that of the challenges `tested` there, a general one for none of them; with None there
    is no such line.
    """
    usual = heading if heading == school_class.name else f"{heading}, {school_class.name}"
    language = school_class.language
    return DeskFrame(
        title=title or usual,
        heading=heading,
        what=what or school_class.name,
        class_id=school_class.id,
        class_name=school_class.name,
        language=language,
        caution="" if tested is None else get_caution_line(language, *tested),
    )
