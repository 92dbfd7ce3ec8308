"""What was seen of jars the day after: seals and set; pure."""

from __future__ import annotations

from dataclasses import replace

from stillroom.jar_count import jars_said
from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD, known_lot, one_of
from stillroom.stock.commands import Check, CheckLoad
from stillroom.stock.decision import Decision, of_one_request, there_twice
from stillroom.stock.events import SET_ASIDE, Checked, Kind, Seen
from stillroom.stock.fold import Stock
from stillroom.stock.lotcode import printed
from stillroom.stock.making import (
    LOOKS_AT_SET_H,
    hold_source,
    is_set_too_early,
    may_set,
    set_from,
)


def check(stock: Stock, command: Check) -> Decision:
    """Book what was seen of seals and set; what failed goes aside."""
    code = known_lot(stock, command.lot)
    if isinstance(code, Refusal):
        return code
    lot = stock.lots[code]
    if stock.made(code) is None or lot.kind is not Kind.FILLED:
        return Refusal(
            f"{lot.what} {printed(code)} is no lot of jars that was filled here",
            instead="check the lots that stillroom stock made booked",
            source=OUR_RECORD,
        )
    if command.all_good and command.good is None:
        at_hand = stock.balance(code) - stock.balance(code, SET_ASIDE)
        command = replace(command, good=max(0, at_hand))
    if command.good is None and command.seen is None:
        return Refusal(
            "nothing was said of its seals or its set",
            instead="say what you saw, such as 7 good 1 failed, and set or soft",
            source=hold_source(stock, code),
        )
    if command.seen is not None and not may_set(stock, code):
        return _sets_not(stock, code)
    if command.seen is Seen.SET and is_set_too_early(stock, code, command.at):
        if command.good is None:
            return _too_early(stock, code)
        command = _without_set(command)
    aside, place = 0, ""
    if command.good is not None:
        found = _aside(stock, code, command)
        if isinstance(found, Refusal):
            return found
        aside, place = found
    return (
        Checked(
            lot=code,
            good=command.good,
            failed=command.failed,
            doubtful=command.doubtful,
            place=place,
            aside=aside,
            seen=command.seen,
            note=command.note,
            occurred_at=command.at,
            token=command.token,
            late=command.late,
        ),
    )


def _sets_not(stock: Stock, code: str) -> Refusal:
    return Refusal(
        f"{stock.lots[code].what} {printed(code)} is no jelly, jam, preserves, "
        "conserve or marmalade: nothing in it sets",
        instead="say what was seen of its seals alone, and what else you saw as a note",
        source=OUR_RECORD,
    )


def _without_set(command: Check) -> Check:
    """Keep what was seen of the seals: that counts, and so early a set does not."""
    said = "a set was seen too early to count"
    note = f"{command.note}; {said}" if command.note else said
    return replace(command, seen=None, note=note)


def _too_early(stock: Stock, code: str) -> Refusal:
    after_h = LOOKS_AT_SET_H[0]
    return Refusal(
        f"{stock.lots[code].what} {printed(code)} is not {after_h} h out of the "
        "canner, and a gel goes on setting as it cools and stands",
        instead=f"leave it where it stands, and look at its set from "
        f"{set_from(stock, code)}; its seals may be said before that",
        source="remake leaflets of extension services print 24 h",
    )


def check_load(stock: Stock, command: CheckLoad) -> Decision:
    """
    Book that every lid of a load is sealed; nothing is said of its set.

    Jars that were set aside are no part of it: they are looked at lot by lot.
    """
    booked: list[Checked] = []
    for code, jars in command.jars:
        good = Check(lot=code, good=jars, at=command.at, late=command.late)
        found = check(stock, good)
        if isinstance(found, Refusal):
            return found
        for event in found:
            assert isinstance(event, Checked)
            if any(event.lot == other.lot for other in booked):
                return there_twice(
                    stock.lots[event.lot],
                    instead="open the day after again, and answer for its load",
                )
            if stock.balance(event.lot, SET_ASIDE):
                return Refusal(
                    f"some of {stock.lots[event.lot].what} {printed(event.lot)} is set "
                    "aside",
                    instead="look at that lot by itself, and say how many are sealed",
                    source=hold_source(stock, event.lot),
                )
            booked.append(event)
    if not booked:
        return Refusal(
            "no lot was named whose lids are sealed",
            instead="open the day after again, and answer for its load",
            source=OUR_RECORD,
        )
    loads = {made.of_load for event in booked if (made := stock.made(event.lot))}
    if len(loads) > 1:
        return Refusal(
            f"lots of {len(loads)} canner loads were named in one answer",
            instead="answer for one load at a time: each was lifted by itself",
            source=OUR_RECORD,
        )
    return of_one_request(booked, command.token)


def _aside(stock: Stock, code: str, command: Check) -> tuple[int, str] | Refusal:
    """Return how many jars go aside, and from where; below zero: come back."""
    here = stock.places(code)
    set_aside = here.pop(SET_ASIDE, 0)
    shelf = sum(here.values())
    good, bad = command.good or 0, command.failed + command.doubtful
    if good + bad == shelf:
        aside = bad
    elif set_aside and good + bad == shelf + set_aside:
        aside = bad - set_aside
    else:
        looked = f" (and {set_aside} set aside)" if set_aside else ""
        return Refusal(
            f"{jars_said(good + bad)} {'was' if good + bad == 1 else 'were'} looked "
            f"at, and the record has {shelf}{looked}",
            instead="count again; if jars are missing, say so first: stillroom stock "
            f"count {printed(code)} QUANTITY",
            source=OUR_RECORD,
        )
    doubtful = sum(c.doubtful for c in stock.checks(code)[-1:])
    if aside < 0 and -aside > doubtful:
        return Refusal(
            f"{jars_said(-aside)} would come back from being set aside, and lids in "
            f"doubt were {doubtful}; a lid that failed does not seal by itself",
            instead="leave those that failed out, or process them again within their "
            "hours and book that as made",
            source=hold_source(stock, code),
        )
    if not aside:
        return 0, ""
    if command.place:
        place = one_of(tuple(here) or stock.known_places(), command.place)
    elif len(here) == 1:
        place = next(iter(here))
    else:
        return Refusal(
            f"{printed(code)} stands at {len(here)} places",
            instead="say at which place they were (at the command line: --at PLACE)",
            source=OUR_RECORD,
        )
    if aside > here.get(place, 0):
        return Refusal(
            f"{here.get(place, 0)} jars are at {place}, and {aside} would go aside",
            instead="check one place at a time, or count again",
            source=OUR_RECORD,
        )
    return aside, place
