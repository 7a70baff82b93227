"""Which measures a class is shown: its band's, but for those the teacher opened or closed.

Journal, findings and portfolio all ask `measures_of`, so that a closed measure is closed in each.
"""

from __future__ import annotations

from journal.content.bands import Measures, which_measures, with_measures
from journal.domain.classes import SchoolClass


def measures_of(school_class: SchoolClass) -> Measures:
    """Return what the class is shown."""
    return with_measures(which_measures(school_class.band), school_class.measures)
