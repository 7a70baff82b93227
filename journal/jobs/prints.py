"""The folder of prints: a job's id comes in, its file goes out.

A file is written beside its place and gets its name when it is whole. The children's words are in
it, so folder and files are for their owner only.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Collection
from pathlib import Path
from uuid import UUID

#: Where the prints lie in the instance folder.
PRINTS = "prints"
_PART = ".part"


class PrintFolder:
    """The prints of one instance folder."""

    def __init__(self, folder: Path) -> None:
        """Make nothing yet: the folder appears with the first print."""
        self._folder = folder

    def begin(self, job_id: UUID, attempt: int) -> Path:
        """Return the file that an attempt writes."""
        self._folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        return self._folder.absolute() / f"{job_id}.{attempt}{_PART}"

    def keep(self, part: Path, job_id: UUID) -> None:
        """Give a whole file its name."""
        part.replace(self._path(job_id))

    def read(self, job_id: UUID) -> bytes | None:
        """Return a print; None where there is none."""
        try:
            return self._path(job_id).read_bytes()
        except FileNotFoundError:
            return None

    def has(self, job_id: UUID) -> bool:
        """Return whether the print is there."""
        return self._path(job_id).is_file()

    def remove_all_but(self, job_ids: Collection[UUID]) -> None:
        """Remove every file that belongs to none of some jobs."""
        kept = {str(job_id) for job_id in job_ids}
        with contextlib.suppress(FileNotFoundError):
            for path in self._folder.iterdir():
                if path.name.partition(".")[0] not in kept:
                    path.unlink(missing_ok=True)

    def _path(self, job_id: UUID) -> Path:
        return self._folder / f"{job_id}.pdf"


def write_print(path: Path, content: bytes) -> None:
    """Write a file for its owner only, down to the disk."""
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
