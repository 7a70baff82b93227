"""Every room of this floor with a door to the outside, named once: pages and API.

A new module of pages or of the API is imported here and named in `PAGES` or `APIS`. Importing this
module imports the whole house; the roof does so only when an application is made.
"""

from __future__ import annotations

from flask_smorest import Blueprint as ApiBlueprint

from journal.web import errors, health
from journal.web.api import findings as finding_api
from journal.web.api import guest_tests as guest_test_api
from journal.web.api import overviews as overview_api
from journal.web.api import trials as trial_api
from journal.web.pages import (
    boards,
    challenges,
    classes,
    corrections,
    counted,
    diagnoses,
    door,
    energy,
    fair_test_cards,
    findings,
    groups,
    guest_tests,
    journals,
    ladder_texts,
    ladders,
    lanes,
    measures,
    overviews,
    parked_trials,
    parts,
    physics,
    portfolios,
    revisions,
    sessions,
    sign_ins,
    stages,
    swap_tests,
    tablets,
    trials,
    visits,
)

#: Each module has `pages`, a Flask blueprint.
PAGES = (
    boards,
    challenges,
    classes,
    corrections,
    counted,
    diagnoses,
    door,
    energy,
    errors,
    fair_test_cards,
    findings,
    groups,
    guest_tests,
    health,
    journals,
    ladder_texts,
    ladders,
    lanes,
    measures,
    overviews,
    parked_trials,
    parts,
    physics,
    portfolios,
    revisions,
    sessions,
    sign_ins,
    stages,
    swap_tests,
    tablets,
    trials,
    visits,
)
#: Each module has `api`, a flask-smorest blueprint.
APIS: tuple[ApiBlueprint, ...] = (
    finding_api.api,
    guest_test_api.api,
    overview_api.api,
    trial_api.api,
)
