"""
Jars in doubt of which none is here any more: whoever has them is to be told. Pure.

Nothing goes to others while it is in doubt, so the doubt came later: by what was said
of its process since, or of that of what it was made out of. Those entries are few, and
lead to the lots; a walk through all that ever were would grow with the record.
"""

from __future__ import annotations

from stillroom.stock.fold import Stock
from stillroom.stock.lacks import is_in_doubt
from stillroom.stock.of_held import recall_of
from stillroom.stock.tracing import made_of_it, whom


def all_gone_in_doubt(stock: Stock) -> tuple[str, ...]:
    """
    Return the lots in doubt that others have, and nobody was told of yet.

    A recall ends it: its sheet says whom to tell, and where the rest is.
    """
    said = stock.said_of_process()
    stock.bring(said)
    codes = dict.fromkeys(said)
    for code in said:
        if stock.held(code):
            codes.update(dict.fromkeys(made_of_it(stock, code)))
    return tuple(code for code in codes if is_all_gone_in_doubt(stock, code))


def is_all_gone_in_doubt(stock: Stock, code: str) -> bool:
    """Whether none of a lot in doubt is here, and others have some of it."""
    return (
        stock.balance(code) <= 0
        and bool(whom(stock.outs(code)))
        and is_in_doubt(stock, code)
        and recall_of(stock, code) is None
    )
