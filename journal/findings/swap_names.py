"""What a swap test swaps, in words."""

from __future__ import annotations

from journal.domain.group_records import GroupRecord
from journal.domain.swap_tests import SwapKind, SwapTest
from journal.findings.trial_records import label_revision


def name_swap(record: GroupRecord, swap_test: SwapTest) -> str:
    """Return what was swapped, such as "Launcher 2 and Launcher 3"."""
    ids = (swap_test.old_revision_id, swap_test.new_revision_id)
    if swap_test.kind is SwapKind.OWN_PARTS:
        found = record.find_revision(swap_test.turns[0].revision_id)
        return "our own parts" if found is None else f"our own {found[0].kind.name.lower()}s"
    labels = [
        label_revision(*found)
        for id_ in ids
        if id_ is not None and (found := record.find_revision(id_)) is not None
    ]
    return " and ".join(labels)
