"""Who may do what: one row a route and method, and what a form needs to get as far as the permit.

A route without its row fails in `tests/house/test_routes.py`; `test_roles.py` tries each row with
every role. Whom a row lets in:

    anybody    whoever has the address, signed in or not
    word       whoever has brought the lesson word on this device
    tablets    each tablet that waits or is in
    teachers   each teacher, about what is the teacher's own
    teacher    the teacher of the class
    board      the class's board while its session runs, and its teacher
    group      the group's own tablet, once let in, and the teacher of its class
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any
from uuid import UUID, uuid4

from journal.domain.safety_limits import LimitKey

ROWS = """
GET  static                           anybody
GET  health.healthz                   anybody
GET  errors.problem                   anybody
GET  door.show_door                   anybody
POST door.bring_word                  anybody
GET  door.show_shelf                  word
GET  door.show_names                  word
POST door.bring_name                  word
GET  door.show_wait                   tablets
GET  door.poll_wait                  tablets
POST door.leave                       anybody
GET  sign_ins.show_sign_in            anybody
POST sign_ins.sign_in                 anybody
GET  sign_ins.show_password           teachers
POST sign_ins.replace_password        teachers
GET  classes.show_classes             teachers
GET  classes.new_class                teachers
POST classes.add_class                teachers
GET  classes.show_class               teacher
POST classes.new_word                 teacher
POST classes.change_door              teacher
GET  boards.show_board                board
GET  boards.show_board_now            board
GET  boards.show_board_lane           board
POST boards.put_up                    teacher
GET  tablets.show_tablets             teacher
POST tablets.let_everyone_in          teacher
POST tablets.let_new_ones_try         teacher
POST tablets.place_tablet             teacher
GET  groups.new_students              teacher
POST groups.paste_students            teacher
POST groups.place_student             teacher
POST groups.add_group                 teacher
POST groups.deal_out                  teacher
GET  groups.show_group                teacher
POST groups.join                      teacher
POST groups.name_group                teacher
POST groups.ask_in                    teacher
GET  measures.show_measures           teacher
POST measures.change_measures         teacher
GET  ladder_texts.show_ladder_texts   teacher
POST ladder_texts.change_ladder_texts teacher
GET  fair_test_cards.show_card        teacher
POST fair_test_cards.tick_card        teacher
GET  challenges.show_challenges       teacher
POST challenges.open_one              teacher
GET  challenges.show_challenge        teacher
GET  challenges.show_changes          teacher
POST challenges.change                teacher
GET  sessions.show_sessions           teacher
POST sessions.start                   teacher
GET  sessions.show_session            teacher
POST sessions.note_presence           teacher
POST sessions.open_launching          teacher
POST sessions.shut                    teacher
POST sessions.keep_plan               teacher
POST sessions.pause                   teacher
POST sessions.resume                  teacher
GET  sessions.ask_before_end          teacher
POST sessions.end                     teacher
GET  overviews.show_overview          teacher
GET  overviews.show_overview_now      teacher
GET  overview_api.get_overview        teacher
POST visits.visit                     teacher
POST visits.come_later                teacher
POST visits.note_for_visit            teacher
POST visits.near_miss                 teacher
POST visits.note_for_near_miss        teacher
GET  findings.show_findings           teacher
GET  diagnoses.show_diagnosis         teacher
POST diagnoses.keep_adaptation        teacher
POST diagnoses.keep_judged            teacher
GET  diagnoses.show_judged            teacher
GET  counted.show_counted             teacher
POST counted.choose                   teacher
GET  energy.show_energy               teacher
GET  energy.show_limits               teacher
POST energy.edit                      teacher
GET  corrections.show_corrections     teacher
POST corrections.correct              teacher
GET  parked_trials.show_parked        teacher
POST parked_trials.place              teacher
POST parked_trials.discard            teacher
GET  journals.go_home                 anybody
GET  journals.show_journal            group
GET  journals.show_earlier_journal    group
GET  finding_api.get_findings         group
GET  portfolios.show_portfolio        teacher
GET  portfolios.show_print            teacher
POST portfolios.print_again           teacher
POST portfolios.cancel                teacher
GET  lanes.show_lane                  group
GET  stages.show_stage                group
POST stages.go_to_stage               group
POST stages.keep                      group
GET  parts.show_parts                 group
POST parts.report                     group
POST parts.borrow                     group
POST parts.bring_back                 group
GET  revisions.new_revision           group
POST revisions.keep                   group
POST revisions.keep_first_builds      group
GET  revisions.show_edit              group
POST revisions.edit                   group
POST revisions.put_aside              group
POST revisions.take_up                group
GET  trials.new_trial                 group
POST trials.log                       group
GET  trials.waits                     group
POST trials.rebuilt                   group
POST trials.strike                    group
PUT  trial_api.put_trial              group
POST trial_api.strike                 group
GET  guest_tests.show_guest_tests      group
POST guest_tests.invite_guests         group
POST guest_tests.answer                group
POST guest_tests.log                   group
POST guest_tests.strike                group
POST guest_tests.end                   group
PUT  guest_test_api.put_guest_trial    group
GET  swap_tests.new_swap_test         group
POST swap_tests.plan                  group
GET  swap_tests.show_swap_test        group
POST swap_tests.end                   group
GET  ladders.show_ladder              group
POST ladders.be_stuck                 group
POST ladders.answer                   group
POST ladders.open_next                group
POST ladders.not_sure                 group
POST ladders.skip                     teacher
POST ladders.bear_out                 group
POST ladders.leave                    group
GET  physics.show_physics             group
"""

Ids = dict[str, UUID]
#: What a page reads before it asks whether it may; all others get an empty form.
FORMS: dict[str, Callable[[Ids], dict[str, Any]]] = {
    "door.bring_name": lambda ids: {"student_id": ids["student_id"]},
    "groups.join": lambda ids: {"student_id": ids["student_id"]},
    "groups.place_student": lambda _: {"place": "none"},
    "challenges.open_one": lambda _: {"key": "paper_bridge"},
    "energy.edit": lambda _: {"key": LimitKey.SOFT_TIP_ENERGY_J.value},
    "revisions.keep": lambda ids: {"part": ids["part_id"], "parent": ids["revision_id"]},
    "revisions.edit": lambda ids: {"part": ids["part_id"]},
    "trial_api.put_trial": lambda ids: {
        "revision_ids": [str(ids["revision_id"]), str(ids["own_revision_id"])],
        "student_id": str(ids["student_id"]),
        "kind": "practice",
        "logged_at": "2030-03-04T23:00:00Z",
        "x_mm": 10,
        "y_mm": 10,
    },
    "guest_tests.log": lambda _: {"trial_id": uuid4(), "at": "zone:bark"},
    "guest_test_api.put_guest_trial": lambda _: {
        "logged_at": "2030-03-04T23:00:00Z",
        "x_mm": 10,
        "y_mm": 10,
    },
    "sessions.start": lambda ids: {"challenge_id": ids["challenge_id"]},
    "parts.report": lambda _: {"kind": "lost"},
    "parts.borrow": lambda ids: {"student_id": ids["student_id"]},
    "ladders.not_sure": lambda _: {"rung": "notice"},
    "ladders.answer": lambda _: {"rung": "notice", "words": "They lie low."},
    "ladders.bear_out": lambda _: {"borne_out": "yes"},
    "diagnoses.keep_adaptation": lambda _: {"kind": "closer"},
}


#: Ids that a form may carry beside those of its address; a test puts another class's there.
FORM_IDS: dict[str, Callable[[Ids], dict[str, Any]]] = {
    "groups.add_group": lambda ids: {"students": ids["student_id"]},
    "groups.join": lambda ids: {"students": ids["neighbour_id"]},
    "groups.place_student": lambda ids: {"place": ids["other_group_id"]},
    "sessions.start": lambda ids: {
        "challenge_id": ids["challenge_id"],
        "distance": "2 m",
        "absent": ids["student_id"],
    },
    "sessions.note_presence": lambda ids: {"absent": ids["student_id"]},
    "stages.keep": lambda ids: {"problem": "A wide ditch.", "who": ids["student_id"]},
    "revisions.keep": lambda ids: {
        "part": ids["part_id"],
        "parent": ids["revision_id"],
        "makers": ids["student_id"],
        "reason": "It must fly flatter.",
    },
    "revisions.edit": lambda ids: {
        "part": ids["part_id"],
        "parent": ids["revision_id"],
        "makers": ids["student_id"],
        "reason": "It must fly flatter.",
    },
    "trials.log": lambda ids: {
        "trial_id": uuid4(),
        "student_id": ids["student_id"],
        "scribe_id": ids["student_id"],
        "shared": ids["revision_id"],
        f"own-{ids['student_id']}": ids["own_revision_id"],
        "at": "zone:bark",
    },
    "trial_api.put_trial": FORMS["trial_api.put_trial"],
    "guest_tests.invite_guests": lambda ids: {
        "kind": "their_device",
        "owner": ids["other_group_id"],
    },
    "guest_tests.log": lambda ids: {
        "trial_id": uuid4(),
        "at": "zone:bark",
        "own_part": ids["own_revision_id"],
    },
    "swap_tests.plan": lambda ids: {
        "kind": "revisions",
        "old": ids["first_revision_id"],
        "new": ids["revision_id"],
        "students": ids["student_id"],
        "trials_each": "4",
    },
    "ladders.answer": lambda ids: {
        "rung": "compare",
        "words": "They lie low.",
        "student_id": ids["student_id"],
        "revision_id": ids["revision_id"],
    },
    "parked_trials.place": lambda ids: {"session_id": ids["session_id"], "kind": "practice"},
    "corrections.correct": lambda ids: {
        "reason": "It was another child.",
        "state": "measured",
        "kind": "practice",
        "student_id": ids["student_id"],
        "at": "nowhere",
    },
}
#: Ids in an address that are not those which the name stands for elsewhere.
OTHER_IDS = {
    "guest_tests.answer": {"guest_test_id": "asking_test_id"},
    "guest_test_api.put_guest_trial": {"launch_id": "trial_id"},
    "parts.bring_back": {"part_id": "borrowed_part_id"},
    "revisions.show_edit": {"revision_id": "untried_revision_id"},
    "revisions.edit": {"revision_id": "untried_revision_id"},
}
#: What ends first, so that the next one can begin.
ENDS_BEFORE = {
    "guest_tests.invite_guests": "guest_tests.end",
    "sessions.start": "sessions.end",
    "swap_tests.plan": "swap_tests.end",
    "trials.log": "swap_tests.end",
    "trial_api.put_trial": "swap_tests.end",
}
#: An entry names no group, so another one's things are told from nothing: a refused entry.
REFUSED_AS_ENTRY = {"trial_api.put_trial"}


def read_rows() -> dict[tuple[str, str], str]:
    """Return whom each method of each route lets in."""
    rows = [line.split() for line in ROWS.strip().splitlines()]
    table = {(method, endpoint): lets_in for method, endpoint, lets_in in rows}
    assert len(rows) == len(table), "A route stands in two rows."
    return table
