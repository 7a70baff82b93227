"""What can be set from outside: environment variables in, one frozen value out.

Every setting is described once, in `SETTINGS`; the table in the README is checked against it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from journal.domain.errors import Invalid, Problem

HIGHEST_PORT = 65_535
MOST_THREADS = 256


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One setting: its name, what holds without it, and what it is for."""

    name: str
    default: str
    meaning: str


SETTINGS = (
    Setting(
        name="JOURNAL_INSTANCE",
        default="./instance",
        meaning="Folder of everything a running journal keeps.",
    ),
    Setting(
        name="JOURNAL_DATABASE_URL",
        default="SQLite in the instance folder",
        meaning="Address of the database, such as postgresql+psycopg://...",
    ),
    Setting(
        name="JOURNAL_HOST",
        default="0.0.0.0",  # noqa: S104 (tablets of the classroom have to reach it)
        meaning="Address to listen on; 0.0.0.0 is every network of this machine.",
    ),
    Setting(name="JOURNAL_PORT", default="8080", meaning="Port to listen on."),
    Setting(
        name="JOURNAL_THREADS",
        default="8",
        meaning="Requests answered at the same time.",
    ),
    Setting(
        name="JOURNAL_SECRET_FILE",
        default="secret_key in the instance folder",
        meaning="File with the key that signs forms; made at the first start.",
    ),
    Setting(
        name="JOURNAL_SECURE_COOKIES",
        default="no",
        meaning="yes where the journal is reached by HTTPS only.",
    ),
    Setting(
        name="JOURNAL_ALLOW_UNSAFE_COMMIT",
        default="no",
        meaning="yes takes a server with fsync or synchronous_commit off, which may lose entries.",
    ),
)
_DEFAULTS = {setting.name: setting.default for setting in SETTINGS}
_YES_OR_NO = {"yes": True, "true": True, "1": True, "no": False, "false": False, "0": False}


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """The settings as read; every path is as given, nothing is opened here."""

    instance: Path
    database_url: str
    host: str
    port: int
    threads: int
    secret_file: Path
    secure_cookies: bool
    allow_unsafe_commit: bool


def settings_from(environ: Mapping[str, str]) -> Settings:
    """Read the settings from environment variables.

    An empty variable counts as not set. Raises Invalid with one Problem for each variable that
    cannot be taken.
    """
    problems: list[Problem] = []
    instance = Path(_text(environ, "JOURNAL_INSTANCE") or _DEFAULTS["JOURNAL_INSTANCE"])
    settings = Settings(
        instance=instance,
        database_url=_text(environ, "JOURNAL_DATABASE_URL") or default_database_url(instance),
        host=_text(environ, "JOURNAL_HOST") or _DEFAULTS["JOURNAL_HOST"],
        port=_number(environ, "JOURNAL_PORT", HIGHEST_PORT, problems),
        threads=_number(environ, "JOURNAL_THREADS", MOST_THREADS, problems),
        secret_file=Path(_text(environ, "JOURNAL_SECRET_FILE") or instance / "secret_key"),
        secure_cookies=_yes_or_no(environ, "JOURNAL_SECURE_COOKIES", problems),
        allow_unsafe_commit=_yes_or_no(environ, "JOURNAL_ALLOW_UNSAFE_COMMIT", problems),
    )
    if problems:
        raise Invalid.of(problems)
    return settings


def default_database_url(instance: Path) -> str:
    """Return the address of the embedded database of an instance folder."""
    # Both mean something in an address, and a folder may be called anything.
    path = str(instance / "journal.sqlite3").replace("%", "%25").replace("?", "%3F")
    return f"sqlite:///{path}"


def _text(environ: Mapping[str, str], name: str) -> str:
    return environ.get(name, "").strip()


def _number(environ: Mapping[str, str], name: str, highest: int, problems: list[Problem]) -> int:
    text = _text(environ, name) or _DEFAULTS[name]
    if text.isascii() and text.isdigit() and 1 <= int(text) <= highest:
        return int(text)
    problems.append(Problem(name, f"{name} is {text!r}. Give a whole number from 1 to {highest}."))
    return 1


def _yes_or_no(environ: Mapping[str, str], name: str, problems: list[Problem]) -> bool:
    text = _text(environ, name) or _DEFAULTS[name]
    if text.lower() not in _YES_OR_NO:
        problems.append(Problem(name, f"{name} is {text!r}. Say yes or no."))
        return False
    return _YES_OR_NO[text.lower()]
