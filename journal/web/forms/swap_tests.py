"""The choices of a swap test: as they were sent, and as a plan to make."""

from __future__ import annotations

from werkzeug.datastructures import MultiDict

from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.domain.numbers import NoNumber, read_whole
from journal.domain.swap_tests import SwapKind
from journal.screens.tablet.swap_tests import SwapForm
from journal.services.swap_tests import SwapEntry
from journal.web.forms.fields import find_id, find_ids


def read_choices(sent: MultiDict[str, str], errors: dict[str, list[str]] | None = None) -> SwapForm:
    """Return the choices as they were sent, for a form or the end of an address."""
    usual = SwapForm()
    return SwapForm(
        kind=sent.get("kind", usual.kind),
        old=sent.get("old", ""),
        new=sent.get("new", ""),
        students=tuple(sent.getlist("students")),
        trials_each=sent.get("trials_each", usual.trials_each),
        errors=errors,
    )


def read_plan(form: SwapForm) -> SwapEntry:
    """Return the plan that the choices make; raise Invalid where one is missing."""
    if not form.students:
        raise Invalid.at("students", Message("swap_tests.choose_at_least_one_name"))
    try:
        each = read_whole(form.trials_each)
    except NoNumber as error:
        raise Invalid.at("trials_each", error.message) from error
    return SwapEntry(
        kind=SwapKind.OWN_PARTS if form.kind == SwapKind.OWN_PARTS.value else SwapKind.REVISIONS,
        old_revision_id=find_id(form.old),
        new_revision_id=find_id(form.new),
        student_ids=find_ids(form.students),
        trials_each=each,
    )
