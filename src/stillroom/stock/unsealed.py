"""Where jars stand whose seal failed, or may have: set aside, and carried on. Pure."""

from __future__ import annotations

import datetime as dt

from stillroom.refusal import Refusal
from stillroom.stock.events import SET_ASIDE, Checked, Moved
from stillroom.stock.fold import Stock
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.jars_out import jars_out_at
from stillroom.stock.lotcode import printed

UNSEALED_H = 24
"""So long after the canner a jar that did not seal may come into the cold. [h]"""
_SOURCE = (
    "Michigan State Univ. Extension leaflet 01600593; Univ. of Nebraska-Lincoln "
    "Extension"
)


def unsealed_at(stock: Stock, code: str) -> frozenset[str]:
    """
    Return the places of a lot at which unsealed jars are, or may be among others.

    What was set aside may be carried into the cold and eaten from there. It is no
    sealed jar by that, and the record does not tell it from those beside it.
    """
    found = {SET_ASIDE}
    if not any(check.aside > 0 for check in stock.checks(code)):
        return frozenset(found)
    for number, event in stock.about(code):
        if not isinstance(event, Moved) or number not in stock:
            continue
        if any(part.lot == code and part.place in found for part in event.parts):
            found.add(event.to)
    return frozenset(found)


def stood_unsealed(
    stock: Stock, code: str, place: str, at: dt.datetime
) -> Refusal | None:
    """
    Return why unsealed jars at a place are eaten no more; `None` where they may be.

    A jar that did not seal comes into the cold within its hours, or is discarded: what
    is found later stood warm without a seal, and carrying it on then mends nothing.
    """
    if place not in _too_late_at(stock, code, at):
        return None
    where = "" if place == SET_ASIDE else f" at {place}"
    among = "" if place == SET_ASIDE else ", or are among others that were"
    return Refusal(
        f"those jars of {stock.lots[code].what} {printed(code)}{where} were found "
        f"unsealed{among}, and were not in the cold within {UNSEALED_H} h of the "
        "canner",
        instead="discard them untasted: stillroom stock out "
        f"{printed(code)} QUANTITY --as spoiled. Only if they were in the cold by "
        "then, and it was booked late, whoever put them there books when: a late "
        "entry is taken back with stillroom stock mend, then they are moved with "
        f"their own day and hour (stillroom stock move {printed(code)} PLACE --on DAY "
        "--clock TIME)",
        source=_SOURCE,
    )


def _too_late_at(stock: Stock, code: str, at: dt.datetime) -> frozenset[str]:
    """Return the places at which unsealed jars are that stood warm for too long."""
    made = stock.made(code)
    if made is None or not made.batch.canned:
        return frozenset()
    out = jars_out_at(made, stock.lots[code], at.tzinfo)
    deadline = out + dt.timedelta(hours=UNSEALED_H)
    in_time = set() if cold_of(made.place) is Cold.SHELF else {made.place}
    late: set[str] = set()
    found: set[str] = set()
    from_warm = False
    for number, event in stock.about(code):
        if number not in stock:
            continue
        match event:
            case Checked(aside=aside, place=place) if aside > 0:
                from_warm = from_warm or place not in in_time
            case Moved(parts=parts, to=to, occurred_at=then):
                for part in (p for p in parts if p.lot == code):
                    was_aside = part.place == SET_ASIDE and from_warm
                    if part.place in found or (was_aside and then > deadline):
                        found.add(to)
                    if then > deadline and part.place not in in_time:
                        late.add(to)
                    elif cold_of(to) is not Cold.SHELF:
                        in_time.add(to)
                in_time -= late
            case _:
                pass
    return frozenset(found | ({SET_ASIDE} if from_warm and at > deadline else set()))
