"""The zip file of a backup: written with a list of its files, read within that list and limits.

Whoever made a file is not known, so each of its sizes, names and sums is looked at before anything
of it is used.
"""

from __future__ import annotations

import errno
import hashlib
import json
import shutil
import struct
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import IO

from journal.domain.errors import Invalid, Refused
from journal.domain.messages import Message

DATABASE = "journal.sqlite3"
MANIFEST = "manifest.json"
FILES = "files"
#: A school's journal is a few MB; a small zip can be made to grow to any size.
USUAL_LARGEST_MB = 1_000
MB = 1_000_000
_LARGEST_LIST_BYTES = 16 * MB
#: A restore makes the database anew beside the one unpacked, with its log.
_COPIES = 2
_CHUNK_BYTES = 1 << 20
_PLAIN_WAYS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_ENCRYPTED = 0x1
#: What reading a damaged zip raises, as tried with its bytes turned over one by one.
_DAMAGE = (
    zipfile.BadZipFile,
    zlib.error,
    struct.error,
    EOFError,
    NotImplementedError,
    RuntimeError,
    ValueError,
    OverflowError,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Backup:
    """What a backup holds."""

    shape: str
    rows: dict[str, int]
    #: SHA-256 by name inside the backup.
    hashes: dict[str, str]
    #: All files together, as they lie on the disk.
    size_bytes: int

    @property
    def row_count(self) -> int:
        """Return the rows of all tables together."""
        return sum(self.rows.values())

    @property
    def file_count(self) -> int:
        """Return the files beside the database."""
        return len(self.hashes) - 1


def pack(whole: Path, database: Path, files: Path, *, shape: str, rows: dict[str, int]) -> Backup:
    """Write the zip; what is listed is the sum of the very bytes that went in."""
    hashes: dict[str, str] = {}
    size_bytes = 0
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, path in ((DATABASE, database), *_named_files(files)):
            with path.open("rb") as source, archive.open(_entry(name), "w", force_zip64=True) as to:
                hashes[name], written = _copy(source, to)
            size_bytes += written
        manifest = {"shape": shape, "rows": rows, "hashes": hashes}
        archive.writestr(_entry(MANIFEST), json.dumps(manifest, indent=1, sort_keys=True))
    return Backup(shape=shape, rows=rows, hashes=hashes, size_bytes=size_bytes)


def _named_files(files: Path) -> Iterator[tuple[str, Path]]:
    if files.is_dir():
        for path in sorted(path for path in files.rglob("*") if path.is_file()):
            yield f"{FILES}/{path.relative_to(files).as_posix()}", path


def _entry(name: str) -> zipfile.ZipInfo:
    # With a time of its own making: a laptop whose clock starts in 1970 can save as well.
    info = zipfile.ZipInfo(name)
    info.compress_type = zipfile.ZIP_DEFLATED
    info.external_attr = 0o600 << 16
    return info


def check_archive(whole: Path) -> None:
    """Read a backup just written once more, from the first byte to the last."""
    with _open(whole) as archive:
        backup = _read_list(whole, archive)
        for name, wanted in backup.hashes.items():
            with archive.open(name) as source:
                _require(wanted == _copy(source, None)[0], whole, name)


def unpack(source: Path, folder: Path, largest_bytes: int) -> Backup:
    """Lay the files of a backup into an empty folder; raises Invalid at the first thing unlike."""
    with _open(source) as archive:
        backup = _read_list(source, archive)
        if backup.size_bytes > largest_bytes:
            raise Invalid(
                Message(
                    "backup_archives.grows_to_mb",
                    name=source.name,
                    size_bytes=_mb(backup.size_bytes),
                    largest_bytes=_mb(largest_bytes),
                )
            )
        need_bytes = (1 + _COPIES) * backup.size_bytes
        if shutil.disk_usage(folder).free < need_bytes:
            raise Refused(Message("backup_archives.disk_is_too_full", need_bytes=_mb(need_bytes)))
        for name, wanted in sorted(backup.hashes.items()):
            path = folder.joinpath(*PurePosixPath(name).parts)
            path.parent.mkdir(parents=True, exist_ok=True)
            with archive.open(name) as content, path.open("xb") as to:
                _require(wanted == _copy(content, to)[0], source, name)
    return backup


def _mb(size_bytes: int) -> int:
    return -(-size_bytes // MB)


def _require(alike: bool, source: Path, name: str) -> None:  # noqa: FBT001 (a condition)
    if not alike:
        raise Invalid(Message("backup_archives.is_damaged", name=source.name, file=name))


@contextmanager
def _open(source: Path) -> Iterator[zipfile.ZipFile]:
    try:
        with zipfile.ZipFile(source) as archive:
            yield archive
    except _DAMAGE as error:
        raise _damaged(source) from error
    except OSError as error:
        # A place before the beginning of the file; what the disk says has other numbers.
        if error.errno != errno.EINVAL:
            raise
        raise _damaged(source) from error


def _damaged(source: Path) -> Invalid:
    return Invalid(Message("backup_archives.not_a_backup_of_a_journal", name=source.name))


def _read_list(source: Path, archive: zipfile.ZipFile) -> Backup:
    entries = {info.filename: info for info in archive.infolist()}
    listed = entries.pop(MANIFEST, None)
    if listed is None or listed.file_size > _LARGEST_LIST_BYTES:
        raise Invalid(Message("backup_archives.is_not_a_backup_of_a_journal", name=source.name))
    try:
        manifest = json.loads(archive.read(listed))
        backup = Backup(
            shape=str(manifest["shape"]),
            rows={str(name): int(count) for name, count in manifest["rows"].items()},
            hashes={str(name): str(value) for name, value in manifest["hashes"].items()},
            size_bytes=sum(info.file_size for info in entries.values()),
        )
    except (KeyError, TypeError, ValueError, AttributeError, RecursionError) as error:
        raise Invalid(
            Message("backup_archives.no_backup_of_a_journal", name=source.name)
        ) from error
    if set(entries) != set(backup.hashes) or len(entries) + 1 != len(archive.infolist()):
        raise Invalid(
            Message("backup_archives.does_not_hold_what_its_list_names", name=source.name)
        )
    if DATABASE not in entries or not all(_is_ordinary(info) for info in entries.values()):
        raise Invalid(
            Message("backup_archives.holds_something_that_no_backup_of_a_journal", name=source.name)
        )
    return backup


def _is_ordinary(entry: zipfile.ZipInfo) -> bool:
    parts = PurePosixPath(entry.filename).parts
    return (
        (entry.filename == DATABASE or (len(parts) > 1 and parts[0] == FILES))
        and "/".join(parts) == entry.filename
        and not {"..", "."} & set(parts)
        and "\\" not in entry.filename
        and entry.compress_type in _PLAIN_WAYS
        and not entry.flag_bits & _ENCRYPTED
    )


def _copy(source: IO[bytes], goal: IO[bytes] | None) -> tuple[str, int]:
    """Copy to the end; return the SHA-256 and the length of what was copied."""
    digest, length = hashlib.sha256(), 0
    while chunk := source.read(_CHUNK_BYTES):
        digest.update(chunk)
        length += len(chunk)
        if goal is not None:
            goal.write(chunk)
    return digest.hexdigest(), length
