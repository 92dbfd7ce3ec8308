"""What went wrong, told in the order of the clock: what may still be done, first."""

from __future__ import annotations

from collections.abc import Sequence

from stillroom.book.trouble import Trouble

_LATE = "-late"
"""A row of this name holds when the hours of another are over."""


def by_the_clock(found: Sequence[Trouble]) -> tuple[Trouble, ...]:
    """
    Put a process that can be begun again before what holds once it is too late.

    Both stand there only where nobody said how many hours it is: whoever asks at the
    stove is told first what the clock still leaves her to do.

    Examples
    --------
    >>> from stillroom.book.trouble import troubles_for
    >>> [t.id for t in by_the_clock(troubles_for("boil stopped"))]
    ['lost-boil', 'lost-boil-late']
    """
    told = list(found)
    for row in found:
        late = next((t for t in told if t.id == f"{row.id}{_LATE}"), None)
        if row.do == "restart" and late is not None:
            told.remove(row)
            told.insert(told.index(late), row)
    return tuple(told)
