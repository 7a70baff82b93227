"""A class sees its band's measures, but for those the teacher opened or closed."""

from __future__ import annotations

import pytest

from journal.domain.classes import SchoolClass
from journal.domain.errors import Invalid, NotAllowed
from journal.findings.measures import measures_of
from journal.records.work import open_work
from journal.services.measures import set_measures
from journal.store import classes
from journal.store.engine import Store
from tests.factories.classrooms import Classroom

#: Common Core 3.MD.B and 4.MD.B (2010): what grades 3-5 see without a word of the teacher.
USUAL = ["show_counts", "show_dot_plot", "show_decimals", "show_range"]


def _class(store: Store, room: Classroom) -> SchoolClass:
    with open_work(store, room.teacher, writing=False) as work:
        return classes.get_class(work.session, room.class_id)


def test_a_measure_is_opened_and_closed(store: Store, classroom: Classroom) -> None:
    """Only what differs from the band is kept, and the overview has news."""
    before = _class(store, classroom)
    assert not measures_of(before).show_mean
    with open_work(store, classroom.teacher) as work:
        set_measures(work, classroom.class_id, [*USUAL[1:], "show_mean"])
    after = _class(store, classroom)
    assert (("show_counts", False), ("show_mean", True)) == after.measures
    assert before.version + 1 == after.version
    measures = measures_of(after)
    assert (True, False, True) == (
        measures.show_mean,
        measures.show_counts,
        measures.show_range,
    )
    assert 12 == measures.most_words_a_sentence


def test_back_to_usual_keeps_nothing(store: Store, classroom: Classroom) -> None:
    """Ticking what the band sees anyway leaves no trace."""
    for opened in ([*USUAL, "show_median"], USUAL):
        with open_work(store, classroom.teacher) as work:
            set_measures(work, classroom.class_id, opened)
    assert () == _class(store, classroom).measures


def test_only_known_measures_and_only_its_teacher(store: Store, classroom: Classroom) -> None:
    """A made-up name is refused, and so is a tablet."""
    with pytest.raises(Invalid), open_work(store, classroom.teacher) as work:
        set_measures(work, classroom.class_id, ["show_all"])
    with pytest.raises(NotAllowed), open_work(store, classroom.tablets[0]) as work:
        set_measures(work, classroom.class_id, USUAL)
