"""How much of a lot there ever was: what a late count is asked about against."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.simulation.shelf_model import ShelfModel


def most_ever(shelf: ShelfModel, code: str) -> int:
    """Return the most that the book ever had of a lot, after any of its entries."""
    had = [0]
    for entry in shelf.booked:
        change = sum(n for (of, _), n in entry.change.items() if of == code)
        had.append(had[-1] + change)
    return max(had)
