"""Every setting that is read is described, once, with its default."""

import re
from pathlib import Path

from journal.domain.settings import SETTINGS

ROOT = Path(__file__).parents[2]
ROW = re.compile(r"^\| `(JOURNAL_\w+)` \| (.+?) \| (.+?) \|$", re.MULTILINE)


def test_the_readme_describes_every_setting_and_no_other() -> None:
    """The table of the README and the settings say the same, in the same order."""
    table = [
        (name, default.strip("`"), meaning)
        for name, default, meaning in ROW.findall((ROOT / "README.md").read_text("utf-8"))
    ]
    assert [(one.name, one.default, one.meaning) for one in SETTINGS] == table


def test_nothing_reads_the_environment_but_the_settings() -> None:
    """Each JOURNAL_ variable named in the code or in the chores is a described setting."""
    known = {one.name for one in SETTINGS}
    files = [*(ROOT / "journal").rglob("*.py"), *(ROOT / ".ci").iterdir()]
    named = {
        name
        for file in files
        for name in re.findall(r"\bJOURNAL_[A-Z_]+[A-Z]\b", file.read_text("utf-8"))
    }
    assert set() == named - known


def test_the_last_line_of_the_readme_speaks_of_the_licence() -> None:
    """A reader learns that no licence has been chosen."""
    lines = (ROOT / "README.md").read_text("utf-8").rstrip().splitlines()
    assert "No licence has been chosen yet." == lines[-1]
