"""How long importing the whole application takes, beside importing the libraries it stands on.

Each import runs in a process of its own, the two in turn; the least of several counts, because
everything else the machine does only adds.
Run: python -m tests.bench.app_import [--short]
"""

from __future__ import annotations

import subprocess
import sys

from tests.bench.lines import tell

GOAL = 1.2
ROUNDS, SHORT_ROUNDS = 15, 5
LIBRARIES = "import flask, sqlalchemy.orm, marshmallow, flask_smorest"
APPLICATION = "import journal.app"
#: What an application that is made needs besides.
EVERY_ROOM = "import journal.app, journal.web.rooms"


def main() -> None:
    """Measure and print one line."""
    rounds = SHORT_ROUNDS if "--short" in sys.argv else ROUNDS
    libraries, application = [], []
    for _ in range(rounds):
        libraries.append(time_import(LIBRARIES))
        application.append(time_import(APPLICATION))
    tell(
        "app_import",
        min(application) * 1000,
        "ms",
        limit=min(libraries) * 1000,
        goal=GOAL,
        more_is_better=False,
        with_every_room_ms=round(min(time_import(EVERY_ROOM) for _ in range(rounds)) * 1000, 1),
    )


def time_import(statement: str) -> float:
    """Return the seconds that an import takes in a process of its own."""
    timed = f"import time; s = time.perf_counter(); {statement}; print(time.perf_counter() - s)"
    done = subprocess.run([sys.executable, "-c", timed], capture_output=True, text=True, check=True)
    return float(done.stdout)


if __name__ == "__main__":
    main()
