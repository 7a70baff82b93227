"""What a newcomer guesses is there: a noun has the same file name on every floor."""

from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
NOUNS = sorted(
    path.stem for path in (ROOT / "journal/services").glob("*.py") if path.stem != "__init__"
)
#: Floors on which a noun has no file of its own, each with the reason.
ELSEWHERE: dict[str, dict[str, str]] = {
    "adaptations": {"screen page templates": "they stand on the group's page"},
    "backup_archives": {"store screen page templates test": "the file format of backups"},
    "backups": {"store screen page templates test": "made at the terminal; tested with restores"},
    "boards": {"store": "a board is a sign-in"},
    "browsers": {"screen page templates test": "on no page; tests/web/ has them"},
    "corrections": {"store": "a correction is a line beside its trial, in store/trials.py"},
    "goals": {"store screen page templates": "a goal is part of a challenge's document"},
    "groups": {"screen": "shown on the class's page and the overview"},
    "guesses": {"screen page templates test": "shown at the door; tests/web/ and tests/store/"},
    "judged_causes": {"store page templates": "kept and shown with the diagnoses"},
    "ladder_answers": {"store screen page templates test": "one part of ladders"},
    "ladder_questions": {"store screen page templates": "one part of ladders"},
    "ladder_steps": {"store screen page templates": "one part of ladders"},
    "lanes": {"store templates": "a lane is kept with its session and shown in its pages"},
    "lesson_words": {"store page templates": "kept with the class, asked for at the door"},
    "measures": {"store": "kept with the class"},
    "portfolios": {"store": "its prints are jobs, in store/jobs.py"},
    "open_questions": {"store screen page templates test": "one part of ladders"},
    "practice_sets": {"screen page templates": "shown on the page of trials"},
    "restores": {"store screen page templates": "made at the terminal"},
    "rosters": {"store page templates": "kept with the group, on the group's pages"},
    "safety_limits": {"screen page templates": "shown with the energy of a challenge"},
    "tablets": {"store": "a tablet is a sign-in"},
    "teachers": {"store screen page templates": "kept with people; made at the terminal"},
    "visits": {"screen": "noted from the overview, which shows them"},
}


def _missing(noun: str) -> set[str]:
    there = {
        "store": ROOT / "journal/store" / f"{noun}.py",
        "page": ROOT / "journal/web/pages" / f"{noun}.py",
        "templates": ROOT / "templates/pages" / noun,
        "test": ROOT / "tests/services" / f"test_{noun}.py",
    }
    missing = {floor for floor, path in there.items() if not path.exists()}
    screens = list((ROOT / "journal/screens").rglob(f"{noun}.py"))
    return missing if screens else missing | {"screen"}


@pytest.mark.parametrize("noun", NOUNS)
def test_a_noun_is_where_it_is_looked_for(noun: str) -> None:
    """Each verb's noun has its store, screen, page, templates and test, or a reason why not."""
    excused = {floor for floors in ELSEWHERE.get(noun, {}) for floor in floors.split()}
    assert excused == _missing(noun)


def test_no_excuse_is_left_over() -> None:
    """A noun that went takes its reasons along."""
    assert set() == set(ELSEWHERE) - set(NOUNS)
