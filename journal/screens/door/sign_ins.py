"""What the teacher's sign-in and the change of a password show."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from journal.domain.permits import require_teacher
from journal.records.work import Work
from journal.screens.frames import DeskFrame, PlainFrame
from journal.store import people


@dataclass(frozen=True, slots=True, kw_only=True)
class SignInPage:
    """The sign-in form; the password never comes back, the name does."""

    frame: PlainFrame
    sign_in_name: str = ""
    errors: Mapping[str, list[str]] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PasswordPage:
    """The form that changes a password."""

    frame: DeskFrame
    sign_in_name: str
    errors: Mapping[str, list[str]] | None = None


def prepare_sign_in(
    sign_in_name: str = "", errors: Mapping[str, list[str]] | None = None
) -> SignInPage:
    """Gather the sign-in form."""
    frame = PlainFrame(title="Teacher, sign in", heading="Teacher, sign in")
    return SignInPage(frame=frame, sign_in_name=sign_in_name, errors=errors)


def prepare_password(work: Work, errors: Mapping[str, list[str]] | None = None) -> PasswordPage:
    """Gather the form that changes the password of the teacher who asks."""
    teacher = people.get_teacher(work.session, require_teacher(work.actor))
    frame = DeskFrame(
        title="Change your password",
        heading="Change your password",
        what=teacher.shown_name,
    )
    return PasswordPage(frame=frame, sign_in_name=teacher.sign_in_name, errors=errors)
