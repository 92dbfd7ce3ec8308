"""Which process a lot had, in words, beside the one that is due. Pure."""

from __future__ import annotations

from stillroom.stock.fold import Stock
from stillroom.stock.gauge import psi_words
from stillroom.stock.how_long_ago import clock_words
from stillroom.stock.jars_out import days_said
from stillroom.stock.lacks import Lack, gauge_due_psi, gauge_read_psi, lack_of
from stillroom.stock.words import said_day


def _of_day(day: str) -> str:
    """Say of which day a clock time is, where it is not the lot's own."""
    return f" of {said_day(day)}" if day else ""


def process_words(stock: Stock, code: str) -> str:
    """Say what process a lot had, and where its clock is from."""
    made, late = stock.made(code), stock.processed(code)
    if made is None or not made.batch.canned:
        return ""
    at_due = psi_words(gauge_due_psi(stock, code))
    at = psi_words(gauge_read_psi(stock, code))
    due = f"; {made.batch.due_min} min{at_due} are due" if made.batch.due_min else ""
    match lack_of(stock, code):
        case Lack.REFUSED:
            due = "; no such process is published for it"
        case Lack.UNKNOWN:
            due = "; how many are due is not known"
        case _:
            pass
    day = stock.lots[code].day
    if late is not None:
        then = late.began.date().isoformat()
        return (
            f"{late.minutes} min{at}, typed in late: "
            f"{clock_words(f'{late.began:%H:%M}')} to "
            f"{clock_words(f'{late.ended:%H:%M}')}"
            f"{_of_day('' if then == day else then)}, seen by {late.who}{due}"
        )
    given = made.batch.process_min
    since = clock_words(made.batch.process_began)
    of = _of_day(days_said(made.batch, day)[0])
    began = f" from {since}{of}" if since else ""
    return f"{given} min{at}{began}{due}" if given else f"none{due}"
