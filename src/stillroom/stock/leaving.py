"""What leaves the shelf, and what may not: pure."""

from __future__ import annotations

import datetime as dt

from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD, parts_of, why_so_much
from stillroom.stock.cold_days import for_days_words, too_many_days
from stillroom.stock.commands import Take
from stillroom.stock.cooked import cooked_and_warm
from stillroom.stock.counted_since import not_if_counted_since
from stillroom.stock.decision import Decision
from stillroom.stock.events import SET_ASIDE, Part, Taken, Way
from stillroom.stock.fold import Stock
from stillroom.stock.in_oil import too_old_in_oil
from stillroom.stock.lacking import how_it_is_said
from stillroom.stock.lacks import counts_as_unprocessed
from stillroom.stock.lotcode import printed
from stillroom.stock.making import hold_source, holds
from stillroom.stock.not_food import is_never_eaten, not_eaten
from stillroom.stock.of_held import held_inputs, recall_of, recall_words
from stillroom.stock.stands import stands_in
from stillroom.stock.unknown_process import how_it_is_known, is_process_unknown
from stillroom.stock.unprocessed import may_be_done_again, may_be_eaten
from stillroom.stock.unsealed import stood_unsealed, unsealed_at
from stillroom.stock.warm import stood_warm

_TO_OTHERS = (Way.SOLD, Way.GIVEN)
_INTO_A_MOUTH = (Way.EATEN, Way.TASTED, Way.DRAWN)
_ENDS_A_RECALL = (
    "leave it where it is, marked; throw it away with stillroom stock out LOT QUANTITY "
    "--as spoiled, or take the recall back with stillroom stock mend if it was a "
    "mistake"
)


def take(stock: Stock, command: Take) -> Decision:
    """Take something off the shelf."""
    parts = parts_of(
        stock, command.lot, command.quantity, place=command.place, way=command.way
    )
    if isinstance(parts, Refusal):
        return parts
    for part in parts:
        no = may_leave(stock, part, command.way, at=command.at)
        if no is not None:
            return no
    if command.late:
        no = not_if_counted_since(stock, parts, command.at)
        if no is not None:
            return no
    return (
        Taken(
            way=command.way,
            parts=parts,
            to=command.to,
            why=why_so_much(command.why, stock.lots[parts[0].lot], command.quantity),
            occurred_at=command.at,
            token=command.token,
            late=command.late,
        ),
    )


def not_if_recalled(stock: Stock, code: str) -> Refusal | None:
    """Return that a lot was recalled, and why; `None` where it was not."""
    recalled = recall_of(stock, code)
    if recalled is None:
        return None
    said = recall_words(stock, code, *recalled).removeprefix("it ")
    return Refusal(
        f"{stock.lots[code].what} {printed(code)} {said}",
        instead=_ENDS_A_RECALL,
        source=OUR_RECORD,
    )


def may_leave(
    stock: Stock,
    part: Part,
    way: Way,
    *,
    at: dt.datetime,
    put_up_at: dt.datetime | None = None,
) -> Refusal | None:
    """
    Return why some of a lot may not leave that way at a moment; `None` where it may.

    ``put_up_at`` is when it was filled into jars again, where it was: what had a wrong
    process is done again within its hours, and then the new lot is made of the old.
    """
    lot = stock.lots[part.lot]
    said = f"{lot.what} {printed(part.lot)}"
    if way in (Way.EATEN, Way.TASTED) and is_never_eaten(lot.what):
        return not_eaten(lot)
    if way in (*_TO_OTHERS, *_INTO_A_MOUTH):
        no = not_if_recalled(stock, part.lot)
        no = no or too_old_in_oil(stock, part.lot, part.place, at)
        no = no or cooked_and_warm(stock, part.lot, part.place, at)
        no = no or too_many_days(stock, part.lot, part.place, at)
        if no is not None:
            return no
    again = put_up_at is not None and may_be_done_again(stock, part.lot, put_up_at)
    if way in _INTO_A_MOUTH and not again:
        no = may_be_eaten(stock, part.lot, part.place, put_up_at or at)
        no = no or stood_unsealed(stock, part.lot, part.place, put_up_at or at)
        if no is not None:
            return no
    if way not in _TO_OTHERS:
        return None
    if why := holds(stock, part.lot):
        return Refusal(
            f"{said} is on hold: {'; '.join(why)}",
            instead=_what_ends_a_hold(stock, part.lot),
            source=hold_source(stock, part.lot),
        )
    if part.place in unsealed_at(stock, part.lot):
        return Refusal(
            f"those jars of {said} {_unsealed(part.place)}",
            instead="see what is published for them: stillroom stock check "
            f"{printed(part.lot)}",
            source=hold_source(stock, part.lot),
        )
    return None


def _unsealed(place: str) -> str:
    if place == SET_ASIDE:
        return "are set aside: their seal failed, or may have"
    return (
        f"at {place} have some among them that were set aside: their seal failed, or "
        "may have"
    )


def _what_ends_a_hold(stock: Stock, code: str) -> str:
    """Say what can be done about a hold: looking at lids lifts no doubt."""
    made = stock.made(code)
    after = "see its choices and their hours with stillroom stock after"
    if counts_as_unprocessed(stock, code) or stood_warm(stock, code) is not None:
        return f"what had no whole process is not for sale or a gift: {after}"
    if stock.held(code) or held_inputs(stock, code):
        return (
            "no look at its seals or its set ends that; it is not for sale or a gift: "
            f"{after}. A hold that was a mistake is taken back with stillroom stock "
            "mend"
        )
    if is_process_unknown(stock, code):
        return how_it_is_known(stock, code)
    if made is None:
        return (
            "own jars are booked with stillroom stock made, and bought ones with "
            "whom they came from"
        )
    if for_days_words(stock, code):
        return "eat it within its days, or freeze it; it is not for sale or a gift"
    if stands_in(stock, code):
        return (
            f"when it is {made.batch.finished}, say how many jars that gave: "
            f"stillroom stock check {printed(code)}"
        )
    if made.batch.canned and made.batch.due_min is None:
        return (
            "what has no published process is not for sale or a gift; where it has "
            f"one, {how_it_is_said(stock, code)}"
        )
    return (
        "look at its seals and its set, and say so: stillroom stock check "
        f"{printed(code)}"
    )
