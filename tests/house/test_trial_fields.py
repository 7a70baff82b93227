"""A trial's fields are written down once; whoever reads or writes them takes them from there."""

from __future__ import annotations

import re
from pathlib import Path

import journal
from journal.content.texts import read_texts
from journal.domain.trial_corrections import CORRECTED
from journal.domain.trial_fields import fields_of
from journal.domain.trials import Trial, TrialContent, TrialEntry
from journal.exchange.trials import READERS, CsvTrial
from journal.store.trials import TrialRow
from journal.web.schemas.trials import TrialEntrySchema, TrialSchema

ROOT = Path(journal.__file__).parent
#: A file that sets or declares as many of them lists them.
MANY = 9
#: Where they are listed all the same, and why.
LISTED = {
    "domain/trials.py": "the one list",
    "store/trials.py": "columns with the lengths and keys of a table",
    "store/migrations/versions/0003_trials_and_visits.py": "the table as it once was made",
    "store/guest_tests.py": "columns of launches that are no trials, kept apart from them",
    "store/migrations/versions/0019_guest_tests.py": "the table of these",
    "domain/trial_corrections.py": "what can be put right, and which ending follows from it",
    "services/demo/trials.py": "makes trials of every kind for a story",
    "web/forms/trials.py": "a form, each with its own control",
    "web/static/scripts/log-trial.js": "another language",
}


def test_few_files_list_the_fields() -> None:
    """Whoever adds a field finds them all here."""
    names = [
        re.compile(rf'^\s+{name}: |[(,\s]{name}=|"{name}"|\b{name} =', re.MULTILINE)
        for name in fields_of(TrialContent)
    ]
    found = {
        path.relative_to(ROOT).as_posix()
        for path in ROOT.rglob("*")
        if path.suffix in {".py", ".js"}
        and sum(bool(name.search(path.read_text(encoding="utf-8"))) for name in names) >= MANY
    }

    assert set(LISTED) == found


def test_each_place_has_every_field() -> None:
    """API, table, words and columns of an import."""
    kept = set(fields_of(Trial))

    assert set(fields_of(TrialEntry)) == set(TrialEntrySchema().fields)
    assert kept - {"school_id", "panel", "lane_closed"} == set(TrialSchema().fields)
    assert kept - {"revision_ids"} | {"content_hash"} == set(TrialRow.__table__.c.keys())
    for words in read_texts("trial_fields", "en").values():
        assert set(CORRECTED) == set(words)
    assert set(fields_of(CsvTrial)) - {"row"} == set(READERS)
