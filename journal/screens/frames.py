"""What stands around every page: the values the base templates read from `page.frame`."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID


@dataclass(frozen=True, slots=True, kw_only=True)
class LaneLine:
    """The lane on a tablet: its words, and how it stood when the page was made.

    The page shows `ask` until its script has shown that it hears the journal.
    """

    state: str
    open: str
    closed: str
    ask: str
    #: Where no session runs, so that nothing is open or closed.
    none: str
    open_icon: str
    closed_icon: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TabletFrame:
    """The frame of a group's page: spine at the left, head, caution line at the foot."""

    #: Title of the window, such as "Heron, trials".
    title: str
    group_id: UUID
    group_number: int
    group_name: str
    #: What the page is about, beside the group's name in the head.
    what: str
    band: str
    language: str = "en"
    #: The last line of a screen that leads to a launch; empty where nothing is launched.
    caution: str = ""
    #: Whose rules come first; told wherever the caution is.
    rules: str = ""
    #: None where the challenge launches and loads nothing.
    lane: LaneLine | None = None
    #: The way back to the class, where its teacher is looking.
    class_id: UUID | None = None
    class_name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NextStep:
    """The next step of a class's teacher, and what comes afterwards."""

    step: str
    do: str
    why: str
    later: tuple[str, ...]
    class_id: UUID
    session_id: UUID | None


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskFrame:
    """The frame of a teacher's page: head with the place and the teacher, caution line."""

    title: str
    #: The heading in the head, such as "Class overview", and the quiet words beside it.
    heading: str
    what: str = ""
    #: A page about a class leads back to it, by its name.
    class_id: UUID | None = None
    class_name: str = ""
    language: str = "en"
    caution: str = ""
    #: None where nothing is missing, or the page is about something else.
    next_step: NextStep | None = None
    #: False on the class's own page.
    is_of_class: bool = False

    @property
    def way_back(self) -> bool:
        """Tell whether the head leads back to the class."""
        return self.class_id is not None and not self.is_of_class


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainFrame:
    """The frame of the door, of errors and of other pages before anyone is signed in."""

    title: str
    heading: str
    language: str = "en"
