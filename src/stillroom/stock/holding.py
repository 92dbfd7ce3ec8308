"""Loads put on hold, processes typed in late, labels, pictures, notes: pure."""

from __future__ import annotations

import datetime as dt

from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD, known_lot
from stillroom.stock.clock_offsets import began_before, fixed
from stillroom.stock.cold_days import for_days_words
from stillroom.stock.commands import Hold, Label, Note, Picture, Process
from stillroom.stock.decision import NOTHING, Decision
from stillroom.stock.discarding import REDO_WITHIN_H
from stillroom.stock.events import (
    Held,
    Kind,
    Labelled,
    Noted,
    Pictured,
    Processed,
)
from stillroom.stock.fold import Stock
from stillroom.stock.gauge import read_gauge
from stillroom.stock.jars_out import filled_at
from stillroom.stock.lacks import is_in_doubt, is_unprocessed
from stillroom.stock.late_gauge import due_psi_typed_late, gauge_to_be_said
from stillroom.stock.leaving import not_if_recalled
from stillroom.stock.lotcode import printed
from stillroom.stock.making import hold_source, holds
from stillroom.stock.stands import stands_in
from stillroom.stock.unknown_process import how_it_is_known, is_process_unknown
from stillroom.stock.unprocessed import NEBRASKA

LONGEST_PROCESS_MIN = 600
MOST_PICTURES = 6


def hold(stock: Stock, command: Hold) -> Decision:
    """Put a canner load on hold, with all its lots, booked or still to come."""
    day, load = command.day, command.load
    codes: tuple[str, ...] = ()
    if command.lot:
        code = known_lot(stock, command.lot)
        if isinstance(code, Refusal):
            return code
        made = stock.made(code)
        if made is None or stock.lots[code].kind is not Kind.FILLED:
            return _not_filled_here(stock, code)
        load, codes = made.batch.load, (code,)
        day = dt.date.fromisoformat(made.lot.day)
    if day is None or (load is None and not codes):
        return Refusal(
            "it was not said which load is meant",
            instead="name a lot of it, or its day and its number",
            source=OUR_RECORD,
        )
    held = (
        stock.held_load(day.isoformat(), load)
        if load is not None
        else (stock.held(codes[0]))
    )
    if any(event.doubt is command.doubt for event in held):
        return NOTHING
    return (
        Held(
            doubt=command.doubt,
            day=day.isoformat(),
            load=load,
            lots=() if load is not None else codes,
            note=command.note,
            occurred_at=command.at,
            token=command.token,
            late=command.late,
        ),
    )


def process(stock: Stock, command: Process) -> Decision:
    """
    Take in a process that took place and was not tapped on its day.

    It needs its start, its end and who was there, and is marked as typed in late. It
    must have begun within 2 h of the filling: jars that stood longer had another food
    in them by then, whatever the canner did.
    """
    code = known_lot(stock, command.lot)
    if isinstance(code, Refusal):
        return code
    made, lot = stock.made(code), stock.lots[code]
    if made is None or lot.kind is not Kind.FILLED or not made.batch.canned:
        return _not_filled_here(stock, code)
    said = f"{lot.what} {printed(code)}"
    if not is_unprocessed(stock, code):
        return Refusal(
            f"{said} has its process in the record already",
            instead="look at it with stillroom stock trace; a mistaken entry is taken "
            "back with stillroom stock mend",
            source=OUR_RECORD,
        )
    if not command.who.strip():
        return Refusal(
            f"it was not said who saw the process of {said}",
            instead="name who stood by the canner; a process that nobody saw is none",
            source=OUR_RECORD,
        )
    began = fixed(began_before(command.began, command.ended))
    ended = fixed(command.ended)
    refused = _not_at_such_times(began, ended, command.at)
    if refused is not None:
        return refused
    canner = command.canner or made.batch.canner
    gauge_psi = read_gauge(command.gauge, canner=canner)
    refused = gauge_to_be_said(said, made, lot, canner, gauge_psi)
    if refused is not None:
        return refused
    filled = filled_at(made, lot, command.at.tzinfo)
    if not made.batch.filled_at and began.date() == filled.date():
        filled = began  # the hour was not written down: nothing to hold it to
    refused = _not_so_long_after(said, filled, began)
    if refused is not None:
        return refused
    return (
        Processed(
            lots=(code,),
            began=began,
            ended=ended,
            who=command.who,
            canner=command.canner,
            gauge_psi=gauge_psi,
            due_psi=due_psi_typed_late(made, lot, canner, gauge_psi),
            occurred_at=command.at,
            token=command.token,
            late=True,
        ),
    )


def _not_at_such_times(
    began: dt.datetime, ended: dt.datetime, now: dt.datetime
) -> Refusal | None:
    """Why a process has no such start and end; `None` if it may have."""
    minutes = (ended - began).total_seconds() / 60
    if not 1 <= minutes <= LONGEST_PROCESS_MIN:
        return Refusal(
            f"from {began:%Y-%m-%d %H:%M} to {ended:%Y-%m-%d %H:%M} "
            f"are {minutes:.0f} min",
            instead="give the start at the full boil and the end, 1 to "
            f"{LONGEST_PROCESS_MIN} min later",
            source=OUR_RECORD,
        )
    if ended > now:
        return Refusal(
            f"its end, {ended:%Y-%m-%d %H:%M}, lies in the future",
            instead="say it when it is over; a process that runs now has its clock at "
            "the stove",
            source=OUR_RECORD,
        )
    return None


def _not_so_long_after(
    said: str, filled: dt.datetime, began: dt.datetime
) -> Refusal | None:
    """Why jars filled then may not be processed from then on; `None` if they may."""
    if began < filled:
        return Refusal(
            f"the process would have begun at {began:%Y-%m-%d %H:%M}, before "
            f"the jars were filled at {filled:%Y-%m-%d %H:%M}",
            instead="look at the day and the clock times again",
            source=OUR_RECORD,
        )
    waited = (began - filled).total_seconds() / 3600
    if waited > REDO_WITHIN_H:
        return Refusal(
            f"{said} had stood {waited:.1f} h when that process began; within "
            f"{REDO_WITHIN_H:g} h is the limit",
            instead="it stays on hold: see its choices with stillroom stock after. "
            f"Where its food was taken out within those {REDO_WITHIN_H:g} h, heated "
            "and filled anew, what stands in the jars was filled then: take its entry "
            "back with stillroom stock mend, and book it anew with stillroom stock "
            "made, with the hour at which it was filled and its process",
            source=NEBRASKA,
        )
    return None


def label(stock: Stock, command: Label) -> Decision:
    """Say that a lot has its label; what is on hold gets none."""
    code = known_lot(stock, command.lot)
    if isinstance(code, Refusal):
        return code
    lot = stock.lots[code]
    if lot.kind is not Kind.FILLED:
        return _not_filled_here(stock, code)
    if (no := not_if_recalled(stock, code)) is not None:
        return no
    if why := holds(stock, code):
        return Refusal(
            f"{lot.what} {printed(code)} is on hold: {'; '.join(why)}",
            instead="write its lot code on the lids with a pen; "
            + (
                how_it_is_known(stock, code)
                if is_process_unknown(stock, code)
                else "what is in doubt gets no label: see its choices and their hours "
                "with stillroom stock after"
                if is_in_doubt(stock, code)
                else "it is eaten within its days, and gets no label"
                if for_days_words(stock, code)
                else "the label comes when that was said (stillroom stock after)"
                if stands_in(stock, code)
                else "the label comes when its checks are in (stillroom stock after)"
            ),
            source=hold_source(stock, code),
        )
    known = stock.label(code)
    if known is not None and known.hand is command.hand:
        return NOTHING
    return (
        Labelled(
            lot=code,
            hand=command.hand,
            occurred_at=command.at,
            token=command.token,
            late=command.late,
        ),
    )


def picture(stock: Stock, command: Picture) -> Decision:
    """Say that a picture of a lot was kept; the same one once."""
    code = known_lot(stock, command.lot)
    if isinstance(code, Refusal):
        return code
    kept = stock.pictures(code)
    if command.name in kept:
        return NOTHING
    if len(kept) >= MOST_PICTURES:
        return Refusal(
            f"{stock.lots[code].what} {printed(code)} has {len(kept)} pictures",
            instead=f"keep the best {MOST_PICTURES}: take one back with stillroom "
            "stock mend",
            source=OUR_RECORD,
        )
    return (
        Pictured(
            lot=code,
            name=command.name,
            occurred_at=command.at,
            token=command.token,
            late=command.late,
        ),
    )


def note(stock: Stock, command: Note) -> Decision:
    """Write something down of a lot; a note says nothing of its checks."""
    code = known_lot(stock, command.lot)
    if isinstance(code, Refusal):
        return code
    if not command.words:
        return Refusal(
            "nothing is written there",
            instead="say it in a few words, such as: tart, sets well",
            source=OUR_RECORD,
        )
    return (
        Noted(
            lot=code,
            about=command.about,
            words=command.words,
            occurred_at=command.at,
            token=command.token,
            late=command.late,
        ),
    )


def _not_filled_here(stock: Stock, code: str) -> Refusal:
    lot = stock.lots[code]
    return Refusal(
        f"{lot.what} {printed(code)} is no lot of jars that was filled here",
        instead="name a lot that was booked as made; see them with stillroom stock "
        "after",
        source=OUR_RECORD,
    )
