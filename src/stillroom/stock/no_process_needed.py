"""What stands on a shelf in jars and was never to have a process: by its name. Pure."""

from __future__ import annotations

from stillroom.book.names import product_named
from stillroom.book.words import plain
from stillroom.refusal import Refusal
from stillroom.stock.not_food import is_never_eaten

_DRY = ("dried ", "dehydrated ", "freeze dried ")
_NOT_DRY = frozenset({"in", "with", "rehydrated", "soaked", "cooked"})
_KEEPS = frozenset(
    {
        *("honey", "raw honey", "comb honey", "creamed honey", "clover honey"),
        *("vinegar", "cider vinegar", "apple cider vinegar", "wine vinegar"),
        *("salt", "sugar", "flour"),
    }
)
"""Common practice, no source: the book prints nothing of how these keep."""


def needs_no_process(what: str) -> bool:
    """
    Whether it is kept on a shelf without one: dried, no food, or honey and the like.

    What the book has a process for needs it, also where its name says "dried": dried
    beans are put up soaked and cooked.

    Examples
    --------
    >>> needs_no_process("dried apples"), needs_no_process("hand cream")
    (True, True)
    >>> needs_no_process("dried beans"), needs_no_process("dried tomatoes in oil")
    (False, False)
    """
    said = plain(what)
    if is_never_eaten(what) or said in {plain(name) for name in _KEEPS}:
        return True
    if not said.startswith(_DRY) or _NOT_DRY & set(said.split()):
        return False
    product = product_named(what)
    return isinstance(product, Refusal) or not product.process_table
