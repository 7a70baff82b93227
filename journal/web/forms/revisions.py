"""The form of a revision, as it was sent: checked in the domain, shown again as it was written."""

from __future__ import annotations

from werkzeug.datastructures import MultiDict

from journal.domain.revision_rules import RevisionForm
from journal.web.forms.fields import find_id, find_ids, read_id

_VALUE, _AMOUNT = "to_", "material_"


def read_revision(form: MultiDict[str, str]) -> RevisionForm:
    """Return what was written and ticked."""
    return RevisionForm(
        part_id=read_id(form.get("part", ""), "part"),
        parent_id=find_id(form.get("parent", "")),
        ticked=tuple(form.getlist("changes")),
        values=_by_key(form, _VALUE),
        amounts=_by_key(form, _AMOUNT),
        reason_starter=form.get("reason_starter", ""),
        reason=form.get("reason", ""),
        prediction_starter=form.get("prediction_starter", ""),
        prediction=form.get("prediction", ""),
        maker_ids=find_ids(form.getlist("makers")),
        decider_ids=find_ids(form.getlist("deciders")),
        scribe=form.get("scribe", ""),
    )


def _by_key(form: MultiDict[str, str], start: str) -> dict[str, str]:
    return {name.removeprefix(start): form[name] for name in form if name.startswith(start)}
