"""
What was made out of jars that were put on hold since, as a person would say it.

The rules of the plain model; it shares no code with the program.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.simulation.shelf_words import REDO_WITHIN

if TYPE_CHECKING:
    from tests.simulation.shelf_model import ShelfModel


def of_held(shelf: ShelfModel, code: str) -> bool:
    """Whether what went into a lot, or into that, was put on hold since it was made."""
    born, todo = shelf.lots[code].born, [code]
    while todo:
        parents = [
            p
            for c in todo
            if shelf.made_here(c)
            for p in shelf.lots[c].parents
            if not _done_again(shelf, c, p)
        ]
        for parent in parents:
            load = shelf.lots[parent].load if shelf.made_here(parent) else None
            for number, entry in enumerate(shelf.booked, 1):
                is_of_it = entry.load == load if entry.load else parent in entry.lots
                counts = entry.kind == "held" and not entry.undone and number > born
                if counts and is_of_it:
                    return True
        todo = parents
    return False


def _done_again(shelf: ShelfModel, child: str, parent: str) -> bool:
    """Whether jars of a lot went through a canner anew within their hours."""
    one, other = shelf.lots[child], shelf.lots[parent]
    if one.made_at is None or other.made_at is None:
        return False
    if not (one.canned and other.canned and one.jars and other.jars):
        return False
    return one.made_at - other.made_at <= REDO_WITHIN
