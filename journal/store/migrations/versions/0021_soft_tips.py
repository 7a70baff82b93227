"""Soft tips without cork and wax in the class copies of the challenge with the ditch.

A copy made while the ready challenge had cork and wax among its soft tips kept them for good, and a
safety line cannot be edited by a teacher. Changes the choices of the tip and the safety line, each
only where it is still the shipped one, and adds fleece to the materials. A list in a teacher's own
words stays, and so does one from which a teacher chose cork or wax for the first build: another
value would change what the first darts are said to be of. The safety line then says what makes a
tip soft. Revisions stay as they were made, and cork and wax stay among the materials, since amounts
of them may be booked. One small row a copy is written, and tablets write none of them, so it may
run while tablets write; a teacher must not save a challenge meanwhile. Taken back, the copies stay
as they are.
"""

from collections.abc import Mapping
from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0021"
down_revision = "0020"
branch_labels = None
depends_on = None

_CHALLENGES = sa.table(
    "challenges",
    sa.column("id", sa.Uuid()),
    sa.column("key", sa.String()),
    sa.column("document", sa.JSON()),
)
_KEY = "beyond_the_ditch"
_BEFORE = ["felt", "cork", "sponge", "wax"]
_SOFT = ["felt", "sponge", "fleece"]
_LINE_BEFORE = "Only soft tips from the list."
_LINE = (
    "Only soft tips from the list. They leave no dent on a thumb. They are 15 mm wide or more."
)
_FLEECE = {"key": "fleece", "name": "Fleece", "unit": "piece", "price": 0.3}


def _with_soft_tips(factor: Mapping[str, Any]) -> dict[str, Any]:
    is_shipped = factor.get("key") == "tip_material" and factor.get("choices") == _BEFORE
    if is_shipped and factor.get("start") in _SOFT:
        return {**factor, "choices": _SOFT}
    return dict(factor)


def _with_line(line: Mapping[str, Any]) -> dict[str, Any]:
    is_shipped = line.get("key") == "soft_tips" and line.get("text") == _LINE_BEFORE
    return {**line, "text": _LINE} if is_shipped else dict(line)


def upgrade() -> None:
    """Go forward."""
    connection = op.get_bind()
    copies = connection.execute(
        sa.select(_CHALLENGES.c.id, _CHALLENGES.c.document).where(_CHALLENGES.c.key == _KEY)
    ).all()
    for copy in copies:
        document = dict(copy.document)
        document["parts"] = [
            {**part, "factors": [_with_soft_tips(one) for one in part.get("factors", [])]}
            for part in document.get("parts", [])
        ]
        document["safety"] = [_with_line(one) for one in document.get("safety", [])]
        materials = document.get("materials", [])
        is_new = document["parts"] != copy.document.get("parts")
        if is_new and "fleece" not in {one.get("key") for one in materials}:
            document["materials"] = [*materials, _FLEECE]
        if document != copy.document:
            connection.execute(
                sa.update(_CHALLENGES)
                .where(_CHALLENGES.c.id == copy.id)
                .values(document=document)
            )


def downgrade() -> None:
    """Go back: the copies stay as they are, since the earlier list was not one of soft tips."""
