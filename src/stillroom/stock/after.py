"""
The day after: what each canner load still wants looked at, and until when. Pure.

Seals 12 to 24 h after the jars came out, the set after a day, after three, after two
weeks, then the label. What failed, and what had no process, shows the published choices
with the hours that are left for them.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace
from itertools import groupby

from stillroom.book.trouble import troubles_for
from stillroom.jar_count import counted
from stillroom.refusal import Refusal
from stillroom.stock.all_gone import all_gone_in_doubt, is_all_gone_in_doubt
from stillroom.stock.events import SET_ASIDE, Doubt, Kind, Labelled, Lot, Made, Seen
from stillroom.stock.fold import Stock
from stillroom.stock.gauge import has_gauge
from stillroom.stock.how_it_is_booked import how_it_is_booked
from stillroom.stock.how_long_ago import left_words, moment_words
from stillroom.stock.jars_out import hours_since, is_hour_said, jars_out_at
from stillroom.stock.lacks import (
    Lack,
    counts_as_unprocessed,
    is_in_doubt,
    is_unprocessed,
    lack_of,
)
from stillroom.stock.lotcode import printed
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
from stillroom.stock.process_words import process_words
from stillroom.stock.stands import stands_in
from stillroom.stock.tracing import whom
from stillroom.stock.unprocessed import (
    Choices,
    choices_for_doubt,
    choices_for_unprocessed,
    choices_for_warm,
    is_asked_if_dry,
    may_be_done_again,
)
from stillroom.stock.warm import stood_warm
from stillroom.stock.words import by_plan

_COUNTS_AS_NONE = {
    Lack.NONE: "Never processed",
    Lack.SHORT: "Processed too short: counts as never",
    Lack.LOW: "Processed under too low a pressure: counts as never",
    Lack.LATE: "Processed too late: counts as never",
    Lack.REFUSED: "No such process is published: counts as never",
}
_OF_ALL = {*_COUNTS_AS_NONE.values(), *(doubt.value.capitalize() for doubt in Doubt)}
LABEL_LEFT_OUT = dt.timedelta(days=90)
"""A lot older than this is no longer asked for its label: it has been found since."""

NONE_HERE = "none of it is here any more."


@dataclass(frozen=True, slots=True, kw_only=True)
class Open:
    """One lot, and what is still open about it."""

    lot: Lot
    made: Made
    was_in_canner: bool
    """It had a process, be it one that counts as none."""
    number: int
    """Jars at hand, those that were set aside not counted."""
    aside: int
    """Jars set aside: their seal failed, or may have."""
    places: tuple[str, ...]
    held: tuple[str, ...]
    recalled: bool
    """It was called back: its recall sheet says where it is, and whom to tell."""
    went: int
    """How many of it were sold or given."""
    in_doubt: bool
    """Its process was wrong, short, missing or doubted: others are to be told."""
    seals: str
    """What is to be done about its seals, by the clock; empty where they are in."""
    missed: bool
    """The seals were not looked at within their hours."""
    set_: str
    """The same for its set."""
    may_set: bool
    """It is jelly or the like, or nobody knows what it is: a set may be said of it."""
    set_may_be_seen: bool
    """The hour has come at which it may be said that it has set."""
    stands: str
    """Where it stands still, in no closed jar: "in the dryer"; empty where closed."""
    label: Labelled | None
    may_be_labelled: bool
    process: str
    """What its process was, in words; it says so where it was typed in late."""
    choices: Choices | Refusal | None
    """For jars that failed, or had no process or a wrong one."""
    choices_of: str
    """Which jars those are, in words."""
    how_booked: str
    """How a process that it has after all, or anew, is booked; empty: there is none."""
    source: str

    @property
    def code(self) -> str:
        """Its lot code as on the jar."""
        return printed(self.lot.code)

    @property
    def under_pressure(self) -> bool:
        """Whether it was booked in a canner that has a gauge, or a pressure is due."""
        batch = self.made.batch
        return batch.due_psi is not None or has_gauge(batch.canner)

    @property
    def all_may_be_sealed(self) -> bool:
        """Whether "all of them are sealed" may be said of it at this hour."""
        is_early = self.seals.startswith("too early")
        asks = self.seals and self.number and not self.aside and not is_early
        return bool(asks and not self.are_all_in_doubt)

    @property
    def are_all_in_doubt(self) -> bool:
        """Whether its choices are those of every jar: no lid says anything of them."""
        return self.choices_of in _OF_ALL

    @property
    def went_words(self) -> str:
        """Say how many went to others before all were in doubt; empty where none."""
        if not self.went or self.recalled or not self.in_doubt:
            return ""
        return f"{self.lot.measure.words(self.went)} of it went to others already"

    @property
    def is_all_gone(self) -> bool:
        """Whether none of it is here: it is named for the sake of who has it."""
        return not (self.number or self.aside)

    @property
    def all_to_discard(self) -> bool:
        """Whether to discard all its jars is the one thing that is published."""
        if self.choices is None or isinstance(self.choices, Refusal):
            return False
        none_else = all(one.do == "discard" for one in self.choices.troubles)
        return self.are_all_in_doubt and none_else

    @property
    def aside_to_discard(self) -> bool:
        """Whether to discard is the one thing published for those set aside."""
        if self.choices is None or isinstance(self.choices, Refusal):
            return False
        none_else = all(one.do == "discard" for one in self.choices.troubles)
        return bool(self.aside) and none_else and not self.all_to_discard

    @property
    def is_done(self) -> bool:
        """Whether nothing is open any longer."""
        labelled = self.label is not None or not self.may_be_labelled
        return not (self.held or self.aside or self.seals or self.set_) and labelled

    @property
    def wants_looking(self) -> bool:
        """Whether it is to be looked at; a recall alone has nothing to be looked at."""
        only_recalled = self.recalled and len(self.held) == 1
        asks = self.seals or self.set_ or self.aside or self.choices is not None
        asks = bool(asks or not only_recalled)
        return asks and not self.is_done and not self.is_all_gone


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadAfter:
    """The lots of one canner load, or of one day without a load."""

    day: str
    load: int | None
    plan: str
    """By which plan it went, in words, where that is of another day; else empty."""
    out_at: dt.datetime | None
    """When the first of its jars came out; `None` where no hour was said."""
    lots: tuple[Open, ...]

    @property
    def name(self) -> str:
        """As it is said: "load 3"."""
        return f"load {self.load}" if self.load is not None else "without a load"

    @property
    def answered_as_one(self) -> tuple[Open, ...]:
        """Lots of which one answer may be given, where that spares another."""
        found = tuple(lot for lot in self.lots if lot.all_may_be_sealed)
        return found if len(found) > 1 else ()

    @property
    def wants_looking(self) -> bool:
        """Whether any of its lots is to be looked at."""
        return any(lot.wants_looking for lot in self.lots)

    @property
    def is_with_others(self) -> bool:
        """Whether others have jars in doubt of it, and none of those is here."""
        return any(lot.is_all_gone for lot in self.lots)

    @property
    def has_seals(self) -> bool:
        """Whether any of it was to go through a canner, by whatever was said of it."""
        return any(lot.made.batch.canned for lot in self.lots)


def in_doubt_with_others(loads: int) -> str:
    """
    Say of how many loads others have jars in doubt, of which none is here.

    >>> in_doubt_with_others(1)
    '1 load that is in doubt is with others: call them'
    """
    be = "is" if loads == 1 else "are"
    return f"{counted(loads, 'load')} that {be} in doubt {be} with others: call them"


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
        process=process_words(stock, code),
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
    if lack in _COUNTS_AS_NONE:
        return choices_for_unprocessed(stock, code, at), _COUNTS_AS_NONE[lack]
    if stood_warm(stock, code) is not None:
        return choices_for_warm(stock, code, at), "Put up cold, and stood on a shelf"
    if doubts := stock.held(code):
        doubt = doubts[-1].doubt
        return choices_for_doubt(stock, code, doubt, at), doubt.value.capitalize()
    if not aside:
        return _soft(stock, code, at)
    found = choices_for_unsealed(stock, code, at)
    which = f"{counted(aside, 'jar')} set aside: not sealed, or in doubt"
    if isinstance(found, Refusal):
        return found, which
    hours = hours_since(made, lot, at)
    ends = [t.within_h for t in found if t.within_h is not None]
    until = at + dt.timedelta(hours=min(ends) - hours) if ends else None
    return Choices(hours, until, found), which


def _soft(
    stock: Stock, code: str, at: dt.datetime
) -> tuple[Choices | Refusal | None, str]:
    """Return what is published for a spread that was soft when last looked at."""
    made, lot = stock.made(code), stock.lots[code]
    seen = [check.seen for check in stock.checks(code) if check.seen is not None]
    if made is None or made.batch.food not in SETS or seen[-1:] != [Seen.SOFT]:
        return None, ""
    hours = hours_since(made, lot, at)
    # A powdered-pectin set is looked at again after 72 h before anything is remade.
    sign_hours = hours if hours > LOOKS_AT_SET_H[1] else min(hours, LOOKS_AT_SET_H[0])
    found = troubles_for("soft", hours=sign_hours, food="jelly")
    if isinstance(found, Refusal):
        return found, "Soft"
    return Choices(hours, None, found), "Soft"


def _seals(stock: Stock, code: str, at: dt.datetime) -> str:
    made, lot = stock.made(code), stock.lots[code]
    assert made is not None
    if not made.batch.canned or counts_as_unprocessed(stock, code):
        return ""
    out = jars_out_at(made, lot, at.tzinfo)
    looked = any(
        check.good is not None
        and hours_since(made, lot, check.occurred_at) >= CHECK_AFTER_H
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
    out = jars_out_at(made, lot, at.tzinfo)
    hours = hours_since(made, lot, at)
    last = LOOKS_AT_SET_H[-1]
    if seen and hours_since(made, lot, seen[-1].occurred_at) >= last:
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
