"""Empty jars and lids that a lot made by hand was not drawn from. Pure."""

from __future__ import annotations

from stillroom.in_a_list import all_of
from stillroom.jar_count import counted
from stillroom.stock.events import Kind, Made
from stillroom.stock.fold import Stock
from stillroom.stock.jars_kept import size_of
from stillroom.stock.lotcode import printed


def not_counted_down(stock: Stock, made: Made) -> str:
    """
    Say which empty jars and lids still stand in the record beside jars just filled.

    What is booked from a run draws them by itself; by hand they are named, or counted.
    Empty where there are none, or they were named.
    """
    if made.lot.kind is not Kind.FILLED:
        return ""
    named = {stock.lots[part.lot].kind for part in made.inputs}
    size = size_of(made.lot.measure.part)
    empties = {
        code: stock.balance(code)
        for code in stock.on_hand()
        if (lot := stock.lots[code]).kind not in named
        and (lot.kind is Kind.LIDS or (lot.kind is Kind.JARS and _is(lot.what, size)))
    }
    there = [
        f"{counted(number, stock.lots[code].what.removesuffix('s'))} {printed(code)}"
        for code, number in empties.items()
        if number > 0
    ]
    if not there:
        return ""
    first, many = next(pair for pair in empties.items() if pair[1] > 0)
    code, some = printed(first), min(many, made.number)
    return (
        f"not counted down: {all_of(there)}. If these jars came from them, count what "
        f"is left (stillroom stock count {code} HOW-MANY); the next time name them: "
        f"--from {code}={some}"
    )


def _is(what: str, size: str) -> bool:
    return bool(size) and size_of(what) == size
