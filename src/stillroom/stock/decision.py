"""What a command comes to, and the words of a no that several share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD
from stillroom.stock.events import SET_ASIDE, AnyEvent, Lot
from stillroom.stock.lotcode import printed

Decision = tuple[AnyEvent, ...] | Refusal
NOTHING: tuple[AnyEvent, ...] = ()
"""It is booked already: the same request once more changes nothing."""


def of_one_request(events: Sequence[AnyEvent], token: str) -> tuple[AnyEvent, ...]:
    """Return what one request books: the first of its events carries its token."""
    if not events:
        return NOTHING
    first, *rest = events
    return (replace(first, token=token), *rest)


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
