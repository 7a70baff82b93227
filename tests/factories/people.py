"""Schools, teachers, students."""

from __future__ import annotations

import factory

from journal.store.people import SchoolRow, StudentRow, TeacherRow
from tests.factories.rows import RowFactory


class SchoolFactory(RowFactory):
    """A school."""

    class Meta:
        model = SchoolRow

    name = factory.Sequence(lambda n: f"School {n}")


class TeacherFactory(RowFactory):
    """A teacher whose password nobody knows."""

    class Meta:
        model = TeacherRow

    sign_in_name = factory.Sequence(lambda n: f"teacher{n}")
    shown_name = "Teacher"
    password_hash = "none"


class StudentFactory(RowFactory):
    """A student."""

    class Meta:
        model = StudentRow

    nickname = factory.Sequence(lambda n: f"Student {n}")
