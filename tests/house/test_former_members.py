"""Somebody whose name is gone is called the same everywhere."""

import re
from pathlib import Path

WORDS = re.compile(r"""["'](?:an? )?former member["']""", re.IGNORECASE)
ROOT = Path(__file__).parents[2]
MODULES = sorted((ROOT / "journal").rglob("*.py"))


def test_a_former_member_is_named_in_one_place() -> None:
    """The words stand once: `Group.name_of` gives them to screens, paper and findings."""
    written = [
        path.relative_to(ROOT).as_posix()
        for path in MODULES
        for _ in re.findall(
            r"""["'](?:an? )?former member["']""", path.read_text("utf-8"), re.IGNORECASE
        )
    ]
    assert ["journal/domain/groups.py"] == written
