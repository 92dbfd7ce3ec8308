"""Which process a lot had, in words, beside the one that is due. Pure."""

from __future__ import annotations

import datetime as dt

from stillroom.stock.clock_here import clock_here, moment_here
from stillroom.stock.fold import Stock
from stillroom.stock.gauge import psi_words
from stillroom.stock.how_long_ago import clock_words
from stillroom.stock.jars_out import days_said
from stillroom.stock.lacks import Lack, gauge_due_psi, gauge_read_psi, lack_of


def process_words(stock: Stock, code: str, zone: dt.tzinfo | None) -> str:
    """Say what process a lot had, by the clock of ``zone``, and where it is from."""
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
        here = zone or late.began.tzinfo
        return (
            f"{late.minutes} min{at}, typed in late: "
            f"{clock_words(f'{late.began.astimezone(here):%H:%M}')} to "
            f"{moment_here(late.ended.astimezone(here), day, zone)}, "
            f"seen by {late.who}{due}"
        )
    given = made.batch.process_min
    on = days_said(made.batch, day)[0]
    since = clock_here(made, made.batch.process_began, zone, on=on)
    began = f" from {since}" if since else ""
    return f"{given} min{at}{began}{due}" if given else f"none{due}"
