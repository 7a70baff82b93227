"""Each room stands only on the floors below it."""

import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_rooms_import_only_from_lower_floors() -> None:
    """import-linter finds no import against the contracts of pyproject.toml."""
    command = shutil.which("lint-imports", path=str(Path(sys.executable).parent))
    assert command is not None, "import-linter is missing: install the extra 'test'"
    done = subprocess.run(
        [command, "--no-cache"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert (0, "") == (done.returncode, done.stderr), done.stdout


def test_nothing_asks_how_many_rows_a_statement_touched() -> None:
    """`rowcount` is -1 with some drivers: a statement tells by RETURNING what it did."""
    asking = [
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "journal").rglob("*.py")
        if ".rowcount" in path.read_text("utf-8")
    ]
    assert [] == asking
