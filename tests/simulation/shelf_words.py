"""The words in which the model of the stock is asked, and in which it answers."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

ASIDE = "set aside"
SHELVES = ("pantry", "cellar shelf", "stand", "drawer")
COLD = ("freezer 1", "freezer 2")
TO_OTHERS = ("sold", "given")
INTO_A_MOUTH = ("eaten", "tasted", "drawn")
AFTER = dt.timedelta(hours=12)
DAY = dt.timedelta(days=1)
REDO_WITHIN = dt.timedelta(hours=2)
DUE_MIN = 10
"""Published for what is made in these weeks, at the height of this kitchen."""
EACH = {"redcurrant juice": 946_353}
"""What one of it is in the record: 4 cups are so many microlitres."""

Change = Mapping[tuple[str, str], int]


class Does(Enum):
    """What must come of a request."""

    BOOKS = "books"
    AGAIN = "is booked already"
    NO = "is refused"
    ASKS = "is asked about first"
    """A late count that would leave more of a lot than there ever was."""
    UNREADABLE = "cannot be read"


@dataclass(frozen=True, kw_only=True)
class Deed:
    """Something asked of the stock, with all that the model needs to judge it."""

    kind: str
    """``add``, a way out, ``move``, ``count``, ``check``, ``made``, ``recall``,
    ``mend``, ``label``, ``hold``, ``process``."""
    lot: str = ""
    place: str = ""
    number: int = 0
    """As it is typed: bags, jars, lids."""
    to: str = ""
    what: str = ""
    supplier: str = ""
    good: int | None = None
    failed: int = 0
    doubtful: int = 0
    seen: str = ""
    inputs: tuple[tuple[str, int], ...] = ()
    process_min: int = 10
    load: int | None = None
    of: int = 0
    said: str = ""
    """Of a label who wrote it, of a hold what was wrong."""
    began: dt.datetime | None = None
    ended: dt.datetime | None = None
    token: str = ""
    said_at: dt.datetime | None = None
    """When a count was asked for, or when a phone that was cut off had it typed in."""
    late: bool = False
    """Sent by a phone that was cut off: its own time is the entry's."""
    sure: bool = False
    """Said to be so, where it would leave more than there ever was."""


NO_DEED = Deed(kind="")


@dataclass(frozen=True, kw_only=True)
class ShelfCount:
    """A whole shelf, counted at once."""

    place: str
    lines: tuple[tuple[str, int], ...]
    """Lots, and what stands there of each as it is typed."""
    token: str
    said_at: dt.datetime | None = None
    late: bool = False

    @property
    def said(self) -> str:
        return f"count of {self.place}: {dict(self.lines)}"


@dataclass(frozen=True)
class Verdict:
    """What must happen; ``change`` where the entry's movements are known to the jar."""

    does: Does
    change: Change | None = None


@dataclass
class Lot:
    """What the model knows of a lot."""

    what: str
    jars: bool
    born: int
    supplier: str = ""
    made_at: dt.datetime | None = None
    canned: bool = False
    given_min: int = DUE_MIN
    load: tuple[str, int] | None = None
    """Day and number of its canner load."""
    parents: tuple[str, ...] = ()
    of_run: tuple[str, str, str] | None = None
    """Run, load and batch, where it was booked from the stove."""


@dataclass
class Booked:
    """An entry as the model took it over."""

    kind: str
    change: Change
    at: dt.datetime
    deed: Deed = NO_DEED
    lots: tuple[str, ...] = ()
    of: int = 0
    load: tuple[str, int] | None = None
    """Of a hold: day and number of the canner load."""
    undone: bool = False

    @property
    def tells_of(self) -> dt.datetime:
        """Return the moment whose shelf it tells of: a count's is its own."""
        if self.kind == "counted" and self.deed.said_at:
            return min(self.deed.said_at, self.at)
        return self.at
