"""What a command comes to, and the words of a no that several share."""

from __future__ import annotations

from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD
from stillroom.stock.events import SET_ASIDE, AnyEvent, Lot
from stillroom.stock.lotcode import printed

Decision = tuple[AnyEvent, ...] | Refusal
NOTHING: tuple[AnyEvent, ...] = ()
"""It is booked already: the same request once more changes nothing."""


def set_aside_is_ours() -> Refusal:
    """Say that no one else puts things where failed jars are."""
    return Refusal(
        f"{SET_ASIDE!r} is the place of jars whose seal failed, or may have",
        instead="name another place; a seal check sets jars aside by itself",
        source=OUR_RECORD,
    )


def there_twice(lot: Lot, *, instead: str) -> Refusal:
    """Say that one request names a lot a second time."""
    return Refusal(
        f"{lot.what} {printed(lot.code)} is there twice",
        instead=instead,
        source=OUR_RECORD,
    )
