"""
The day after: what each canner load still wants looked at, and until when. Pure.

Seals 12 to 24 h after the jars came out, the set after a day, after three, after two
weeks, then the label. What failed, and what had no process, shows the published choices
with the hours that are left for them.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from itertools import groupby

from stillroom.book.trouble import troubles_for
from stillroom.jar_count import counted
from stillroom.refusal import Refusal
from stillroom.stock.all_gone import all_gone_in_doubt, is_all_gone_in_doubt
from stillroom.stock.choices import Choices
from stillroom.stock.events import SET_ASIDE, Kind, Made, Seen
from stillroom.stock.fold import Stock
from stillroom.stock.how_it_is_booked import how_it_is_booked
from stillroom.stock.how_long_ago import left_words, moment_words
from stillroom.stock.jars_out import (
    hours_since,
    hours_waited,
    is_hour_said,
    jars_out_at,
    jars_out_by,
)
from stillroom.stock.lacks import (
    counts_as_unprocessed,
    is_in_doubt,
    is_unprocessed,
    lack_of,
)
from stillroom.stock.making import (
    CHECK_AFTER_H,
    CHECK_WITHIN_H,
    LOOK_FIRST,
    LOOKS_AT_SET_H,
    SETS,
    check_missed,
    choices_for_unsealed,
    hold_source,
    holds,
    is_set_too_early,
    may_set,
    whether_dry,
)
from stillroom.stock.open_lots import SAID_AS_NONE, LoadAfter, Open
from stillroom.stock.process_words import process_words
from stillroom.stock.stands import stands_in
from stillroom.stock.tracing import whom
from stillroom.stock.unprocessed import (
    choices_for_doubt,
    choices_for_unprocessed,
    choices_for_warm,
    is_asked_if_dry,
    may_be_done_again,
)
from stillroom.stock.warm import stood_warm
from stillroom.stock.words import by_plan

LABEL_LEFT_OUT = dt.timedelta(days=90)
"""A lot older than this is no longer asked for its label: it has been found since."""


def day_after(stock: Stock, at: dt.datetime) -> tuple[LoadAfter, ...]:
    """Return the loads that still want something, the most pressing first."""
    found = [
        o
        for code in dict.fromkeys((*stock.on_hand(), *all_gone_in_doubt(stock)))
        if (o := open_of(stock, code, at)) is not None and not o.is_done
    ]
    found.sort(
        key=lambda o: (o.lot.day, o.made.batch.run, o.made.batch.load or 0, o.lot.code)
    )
    loads = [
        _load(day, run, load, tuple(lots), at)
        for (day, run, load), lots in groupby(found, key=lambda o: o.made.of_load)
    ]
    return tuple(sorted(loads, key=lambda load: _pressing(load, at)))


def open_of(stock: Stock, code: str, at: dt.datetime) -> Open | None:
    """
    Return what is open about a lot of jars; `None` where it was not filled here.

    Of jars of which none is here it is whom to tell, where they are in doubt.
    """
    made, lot = stock.made(code), stock.lots[code]
    places = stock.places(code)
    if made is None or lot.kind is not Kind.FILLED:
        return None
    is_gone = sum(places.values()) <= 0
    if is_gone and not is_all_gone_in_doubt(stock, code):
        return None
    aside = places.get(SET_ASIDE, 0)
    held = holds(stock, code)
    choices, which = _choices(stock, code, aside, at)
    young = at - jars_out_at(made, lot, at.tzinfo) <= LABEL_LEFT_OUT
    found = Open(
        lot=lot,
        made=made,
        was_in_canner=made.batch.canned and not is_unprocessed(stock, code),
        number=sum(places.values()) - aside,
        aside=aside,
        places=tuple(place for place in places if place != SET_ASIDE),
        held=held,
        recalled=stock.recall(code) is not None,
        went=sum(out.part.number for out in whom(stock.outs(code))),
        in_doubt=is_in_doubt(stock, code),
        seals=_seals(stock, code, at),
        missed=check_missed(stock, code, at),
        set_=_set(stock, code, at),
        may_set=may_set(stock, code),
        set_may_be_seen=not is_set_too_early(stock, code, at),
        stands=stands_in(stock, code),
        label=stock.label(code),
        may_be_labelled=young and not held and stock.label(code) is None,
        process=process_words(stock, code, at.tzinfo),
        choices=choices,
        choices_of=which,
        how_booked=how_it_is_booked(
            stock, code, again=may_be_done_again(stock, code, at)
        ),
        source=hold_source(stock, code),
    )
    return _with_others(found) if is_gone else found


def _with_others(lot: Open) -> Open:
    """Leave out what is done with jars that are here: whoever has them is told."""
    return replace(
        lot,
        seals="",
        missed=False,
        set_="",
        stands="",
        choices=None,
        choices_of="",
        how_booked="",
    )


def _choices(
    stock: Stock, code: str, aside: int, at: dt.datetime
) -> tuple[Choices | Refusal | None, str]:
    """Return the published choices of the jars that need one, the graver matter."""
    made, lot = stock.made(code), stock.lots[code]
    assert made is not None
    lack = lack_of(stock, code)
    if is_asked_if_dry(stock, code):
        return whether_dry(lot), "Dry in its jars, or not"
    if lack in SAID_AS_NONE:
        chosen = choices_for_unprocessed(stock, code, at)
        return _by_its_day(chosen, made, at), SAID_AS_NONE[lack]
    if stood_warm(stock, code) is not None:
        return choices_for_warm(stock, code, at), "Put up cold, and stood on a shelf"
    if doubts := stock.held(code):
        doubt = doubts[-1].doubt
        chosen = choices_for_doubt(stock, code, doubt, at)
        return _by_its_day(chosen, made, at), doubt.value.capitalize()
    if not aside:
        return _soft(stock, code, at)
    found = choices_for_unsealed(stock, code, at)
    which = f"{counted(aside, 'jar')} set aside: not sealed, or in doubt"
    if isinstance(found, Refusal):
        return found, which
    hours = hours_since(made, lot, at)
    ends = [t.within_h for t in found if t.within_h is not None]
    until = at + dt.timedelta(hours=min(ends) - hours) if ends else None
    return _by_its_day(Choices(hours, until, found), made, at), which


def _by_its_day(
    choices: Choices | Refusal, made: Made, at: dt.datetime
) -> Choices | Refusal:
    """Say that hours count from the lot's day, where no hour of it is known."""
    if isinstance(choices, Refusal) or is_hour_said(made, made.lot, at.tzinfo):
        return choices
    return replace(choices, counted_from="the beginning of its day")


def _soft(
    stock: Stock, code: str, at: dt.datetime
) -> tuple[Choices | Refusal | None, str]:
    """Return what is published for a spread that was soft when last looked at."""
    made, lot = stock.made(code), stock.lots[code]
    seen = [check.seen for check in stock.checks(code) if check.seen is not None]
    if made is None or made.batch.food not in SETS or seen[-1:] != [Seen.SOFT]:
        return None, ""
    hours = hours_waited(made, lot, at)
    # A powdered-pectin set is looked at again after 72 h before anything is remade.
    sign_hours = hours if hours > LOOKS_AT_SET_H[1] else min(hours, LOOKS_AT_SET_H[0])
    found = troubles_for("soft", hours=sign_hours, food="jelly")
    if isinstance(found, Refusal):
        return found, "Soft"
    said = "" if is_hour_said(made, lot, at.tzinfo) else "the end of its day"
    return Choices(hours, None, found, counted_from=said), "Soft"


def _seals(stock: Stock, code: str, at: dt.datetime) -> str:
    made, lot = stock.made(code), stock.lots[code]
    assert made is not None
    if not made.batch.canned or counts_as_unprocessed(stock, code):
        return ""
    out = jars_out_by(made, lot, at.tzinfo)
    looked = any(
        check.good is not None
        and hours_waited(made, lot, check.occurred_at) >= CHECK_AFTER_H
        for check in stock.checks(code)
    )
    if looked:
        return ""
    first, last = (out + dt.timedelta(hours=h) for h in (CHECK_AFTER_H, CHECK_WITHIN_H))
    if at < first:
        return f"too early: look from {moment_words(first, at)}"
    if at <= last:
        return f"look now, by {moment_words(last, at)}: {left_words(last - at)} left"
    eating = "" if is_in_doubt(stock, code) else f"; {LOOK_FIRST}"
    return f"check missed: it was due by {moment_words(last, at)}{eating}"


def _set(stock: Stock, code: str, at: dt.datetime) -> str:
    made, lot = stock.made(code), stock.lots[code]
    assert made is not None
    if made.batch.food not in SETS or counts_as_unprocessed(stock, code):
        return ""
    seen = [check for check in stock.checks(code) if check.seen is not None]
    if seen and seen[-1].seen is Seen.SET:
        return ""
    out = jars_out_by(made, lot, at.tzinfo)
    hours = hours_waited(made, lot, at)
    last = LOOKS_AT_SET_H[-1]
    if seen and hours_waited(made, lot, seen[-1].occurred_at) >= last:
        return ""  # it will not change any more: soft is what it is
    again = next((h for h in LOOKS_AT_SET_H if h > hours), None)
    said = f"{seen[-1].seen} when last looked at; " if seen else ""
    if again is None:
        return f"{said}two weeks are over: look for the last time"
    if not seen and hours >= LOOKS_AT_SET_H[0]:
        return "look now"
    return f"{said}look at {moment_words(out + dt.timedelta(hours=again), at)}"


def _load(
    day: str, run: str, load: int | None, lots: tuple[Open, ...], at: dt.datetime
) -> LoadAfter:
    outs = [
        jars_out_at(lot.made, lot.lot, at.tzinfo)
        for lot in lots
        if lot.was_in_canner and is_hour_said(lot.made, lot.lot, at.tzinfo)
    ]
    return LoadAfter(
        day=day,
        load=load,
        plan=by_plan(run, day),
        out_at=min(outs, default=None),
        lots=lots,
    )


def _pressing(load: LoadAfter, at: dt.datetime) -> tuple[int, float, str, int]:
    """Order by: choices whose hours run, what can be looked at now, then the day."""
    ends = [
        (lot.choices.until - at).total_seconds()
        for lot in load.lots
        if isinstance(lot.choices, Choices) and lot.choices.until is not None
    ]
    rank = 0 if ends else 1 if any(lot.seals for lot in load.lots) else 2
    return rank, min(ends, default=0.0), load.day, load.load or 0
