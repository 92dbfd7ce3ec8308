"""
What the gauge of a canner load read, said later than its jars were booked. Pure.

It is an entry of its own for each lot of the load, with who read it. Less than is
published for the minutes that were due counts as no process, as when it is booked.
"""

from __future__ import annotations

from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD, known_lot
from stillroom.stock.commands import SayGauge
from stillroom.stock.decision import Decision, of_one_request
from stillroom.stock.events import GaugeSaid
from stillroom.stock.fold import Stock
from stillroom.stock.gauge import has_gauge, psi_words, read_gauge
from stillroom.stock.lacking import how_it_is_said, lacking
from stillroom.stock.lacks import (
    Lack,
    canner_of,
    gauge_due_psi,
    gauge_read_psi,
    lack_of,
    process_given_min,
)
from stillroom.stock.late_gauge import due_psi_said_late
from stillroom.stock.lotcode import printed
from stillroom.stock.words import clean


def may_gauge_be_said(stock: Stock, code: str) -> bool:
    """Whether a lot had a process under pressure, and nobody said what was read."""
    made = stock.made(code)
    if made is None or not made.batch.canned or not process_given_min(stock, code):
        return False
    return _is_under_pressure(stock, code) and gauge_read_psi(stock, code) is None


def say_gauge(stock: Stock, command: SayGauge) -> Decision:
    """Take down what a gauge read, for every lot of its load that has no reading."""
    code = known_lot(stock, command.lot)
    if isinstance(code, Refusal):
        return code
    said = f"{stock.lots[code].what} {printed(code)}"
    if not may_gauge_be_said(stock, code):
        return _not_asked(stock, code, said)
    psi = read_gauge(command.gauge, canner=canner_of(stock, code))
    if psi is None:
        return Refusal(
            f"it was not said what the gauge of {said} read",
            instead="give the reading, such as 11 psi or 15 lb weighted",
            source=OUR_RECORD,
        )
    if not command.who.strip():
        return Refusal(
            f"it was not said who read the gauge of {said}",
            instead="name who stood by the canner; a reading that nobody saw is none",
            source=OUR_RECORD,
        )
    of_load = (c for c in stock.same_load(code) if c != code)
    codes = (code, *(c for c in of_load if may_gauge_be_said(stock, c)))
    who = clean(command.who, "who")
    events = [
        GaugeSaid(
            lot=each,
            gauge_psi=psi,
            due_psi=due_psi_said_late(
                made, stock.lots[each], canner_of(stock, each), psi
            ),
            who=who,
            occurred_at=command.at,
            late=True,
        )
        for each in codes
        if (made := stock.made(each)) is not None
    ]
    return of_one_request(events, command.token)


def _is_under_pressure(stock: Stock, code: str) -> bool:
    """Whether its canner has a gauge; one by a name of the keeper's own may."""
    return gauge_due_psi(stock, code) is not None or has_gauge(canner_of(stock, code))


def _not_asked(stock: Stock, code: str, said: str) -> Refusal:
    read = gauge_read_psi(stock, code)
    if read is not None:
        return Refusal(
            f"what the gauge of {said} read is in the record:{psi_words(read)}",
            instead="if that was a slip, take its entry back with stillroom stock "
            "mend; if it read less at any time, put it on hold: stillroom stock hold "
            f"{printed(code)} --as wrong-time",
            source=OUR_RECORD,
        )
    if lack_of(stock, code) is Lack.NONE:
        return Refusal(
            f"{said} had no process by the record, so no gauge",
            instead="where it had one, say it with its gauge: stillroom stock process "
            f"{printed(code)} --began TIME --ended TIME --who NAME",
            source=OUR_RECORD,
        )
    return Refusal(
        f"{said} was in no canner here that has a gauge, by the record",
        instead=f"say that first: {how_it_is_said(stock, code)}"
        if (found := lacking(stock, code)) is not None and found.canners
        else "if it was, take its entry back with stillroom stock mend, and book it "
        "anew with its canner and its gauge: stillroom stock made",
        source=OUR_RECORD,
    )
