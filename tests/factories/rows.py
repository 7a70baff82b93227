"""What all factories share: the session they write to, flush then expire."""

from __future__ import annotations

from typing import Any

import factory
from sqlalchemy.orm import Session


class RowFactory(factory.alchemy.SQLAlchemyModelFactory):  # type: ignore[misc]
    """Make a row, flush it so that the database checks it, expire it so that it is read back."""

    class Meta:
        """Tell factory-boy that this one makes nothing itself."""

        abstract = True

    @classmethod
    def _save(
        cls, model_class: type[Any], session: Session, args: tuple[Any, ...], kwargs: dict[str, Any]
    ) -> Any:
        row = model_class(*args, **kwargs)
        session.add(row)
        session.flush()
        session.expire(row)
        return row


def bind(session: Session) -> None:
    """Let every factory write to this session."""
    for kind in _all(RowFactory):
        kind._meta.sqlalchemy_session = session


def _all(kind: type[RowFactory]) -> list[type[RowFactory]]:
    found: list[type[RowFactory]] = []
    for child in kind.__subclasses__():
        found += [child, *_all(child)]
    return found
