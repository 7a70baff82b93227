"""Every table, imported once, so that the metadata is whole for migrations and tests."""

from __future__ import annotations

from journal.store import (  # noqa: F401 - importing a module registers its tables
    adaptations,
    browsers,
    challenges,
    classes,
    diagnoses,
    fair_test_cards,
    groups,
    guesses,
    guest_tests,
    jobs,
    ladder_texts,
    ladders,
    parked_trials,
    parts,
    people,
    practice_sets,
    revisions,
    safety_limits,
    sessions,
    sign_ins,
    stages,
    swap_tests,
    trials,
    visits,
)
from journal.store.tables import Row

METADATA = Row.metadata
