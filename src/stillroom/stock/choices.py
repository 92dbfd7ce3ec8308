"""What is published for jars at this hour, and how long it still holds. Pure."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from stillroom.book.trouble import Trouble
from stillroom.stock.how_long_ago import since_words


@dataclass(frozen=True, slots=True)
class Choices:
    """What is published for jars at this hour, and how long it still holds."""

    hours: float
    """Since it happened. [h]"""
    until: dt.datetime | None
    """When the first of the choices is over; `None` where none has an end."""
    troubles: tuple[Trouble, ...]
    """The strict answer before the milder one."""
    counted_from: str = ""
    """"the beginning of its day", "when it was booked": where no hour was said."""

    @property
    def since(self) -> str:
        """How long ago it was, in words."""
        if self.counted_from:
            return f"no hour was said: counted from {self.counted_from}"
        return f"{since_words(self.hours)} since"

    def left(self, at: dt.datetime) -> dt.timedelta | None:
        """Return what is left until then, not below zero; `None` without an end."""
        if self.until is None:
            return None
        return max(dt.timedelta(), self.until - at)
