"""Where things stand: carried to another place, and counted; pure."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from stillroom.in_a_list import all_of
from stillroom.measures.number_words import is_nothing
from stillroom.refusal import Fault, Refusal, Unreadable
from stillroom.stock.choosing import (
    OUR_RECORD,
    Wanted,
    one_of,
    parts_of,
    wanted,
    why_so_much,
)
from stillroom.stock.commands import Count, CountShelf, Move
from stillroom.stock.counted_since import not_if_counted_since
from stillroom.stock.decision import (
    Decision,
    of_one_request,
    set_aside_is_ours,
    there_twice,
)
from stillroom.stock.events import SET_ASIDE, Counted, Kind, Moved
from stillroom.stock.fold import Stock
from stillroom.stock.how_cold import Cold, cold_of, not_if_unsure
from stillroom.stock.jars_out import jars_out_at
from stillroom.stock.lacks import Lack, is_in_doubt, lack_of
from stillroom.stock.lotcode import printed
from stillroom.stock.making import hold_source
from stillroom.stock.movements import movements, tells_of
from stillroom.stock.no_process_needed import is_canned
from stillroom.stock.unknown_process import is_process_unknown
from stillroom.stock.unprocessed import UNPROCESSED_SOURCE, not_on_a_shelf
from stillroom.stock.unsealed import unsealed_at
from stillroom.stock.where_it_is import apart
from stillroom.stock.words import begun


def move(stock: Stock, command: Move) -> Decision:
    """Carry a lot, or some of it, to another place."""
    if command.to.casefold() == SET_ASIDE:
        return set_aside_is_ours()
    if (no := not_if_unsure(command.to)) is not None:
        return no
    place, *beside = apart(command.to, stock.known_places(), command.at.date())
    if beside:
        return Refusal(
            f"{command.to[:60]!r} has {all_of(beside)!r} beside the place",
            instead=f"name the place alone, {place}; the day on which it was carried, "
            "if it is another, goes with --on DAY and --clock TIME",
            source=OUR_RECORD,
        )
    if command.quantity:
        parts = parts_of(stock, command.lot, command.quantity, place=command.place)
    else:
        found = wanted(stock, command.lot, place=command.place)
        parts = found if isinstance(found, Refusal) else found.all
    if isinstance(parts, Refusal):
        return parts
    to = one_of(stock.known_places(), command.to)
    if all(part.place == to for part in parts):
        return Refusal(
            f"it is at {to} already",
            instead="name another place",
            source=OUR_RECORD,
        )
    for part in parts:
        if (no := _not_before_it_was_made(stock, part.lot, command)) is not None:
            return no
        if cold_of(to) is Cold.SHELF and _goes_to_no_shelf(stock, part.lot):
            return not_on_a_shelf(stock, part.lot, part.place, command.at)
        if _was_put_up_cold(stock, part.lot, to):
            return _only_cold(stock, part.lot)
        if cold_of(to) is Cold.SHELF and part.place in unsealed_at(stock, part.lot):
            return Refusal(
                "jars that were set aside do not go back to a shelf by being moved",
                instead="into the freezer or the refrigerator; or look at them again "
                f"and say so: stillroom stock check {printed(part.lot)}",
                source=hold_source(stock, part.lot),
            )
    moving = tuple(part for part in parts if part.place != to)
    if command.late:
        ends = (*moving, *(replace(part, place=to) for part in moving))
        no = not_if_counted_since(stock, ends, command.at)
        if no is not None:
            return no
    return (
        Moved(
            parts=moving,
            to=to,
            occurred_at=command.at,
            token=command.token,
            late=command.late,
        ),
    )


def _not_before_it_was_made(stock: Stock, code: str, command: Move) -> Refusal | None:
    """Refuse to carry jars before they came out; only what is typed late can say so."""
    made, lot = stock.made(code), stock.lots[code]
    if not command.late or made is None:
        return None
    is_hour_said = made.batch.out_at or made.batch.filled_at
    if not is_hour_said and command.at.date() >= begun(lot.day):
        return None  # it was booked whenever there was time
    out = jars_out_at(made, lot, command.at.tzinfo)
    if command.at >= out:
        return None
    return Refusal(
        f"{lot.what} {printed(code)} was carried at {command.at:%Y-%m-%d %H:%M}, as "
        f"was said, and came out of its pot or canner at {out:%Y-%m-%d %H:%M}",
        instead="say the day and the hour at which it was carried",
        source=OUR_RECORD,
    )


def _goes_to_no_shelf(stock: Stock, code: str) -> bool:
    """Whether jars are in doubt; where only what is due is not known, they stay."""
    unknown = lack_of(stock, code) is Lack.UNKNOWN and not stock.held(code)
    unknown |= is_process_unknown(stock, code)
    return is_in_doubt(stock, code) and not unknown


def _was_put_up_cold(stock: Stock, code: str, to: str) -> bool:
    """Whether jars were filled for the cold, and would go where a process is due."""
    made, lot = stock.made(code), stock.lots[code]
    if made is None or lot.kind is not Kind.FILLED or made.batch.canned:
        return False
    return is_canned(lot.what, lot.measure.part, to, kept_dry=lot.kept_dry)


def _only_cold(stock: Stock, code: str) -> Refusal:
    return Refusal(
        f"{stock.lots[code].what} {printed(code)} was put up to be kept cold, and had "
        "no whole process: no seal lets it stand on a shelf",
        instead="leave it in the refrigerator or the freezer, and book what is used "
        f"now: stillroom stock out {printed(code)} QUANTITY --as eaten. If it had its "
        "process, take its entry back with stillroom stock mend, and book it anew with "
        "the minutes that it had: stillroom stock made",
        source=UNPROCESSED_SOURCE,
    )


def count(stock: Stock, command: Count) -> Decision:
    """Hold the shelf against the record."""
    found = wanted(stock, command.lot, place=command.place, empty=True)
    if isinstance(found, Refusal):
        return found
    codes = list(dict.fromkeys(part.lot for part in found.all))
    places = list(dict.fromkeys(part.place for part in found.all))
    if len(codes) > 1:
        return Refusal(
            f"{command.lot} is there as {len(codes)} lots: "
            + ", ".join(f"{printed(part.lot)} at {part.place}" for part in found.all),
            instead="count each by its lot code, so that each jar can still be traced",
            source=OUR_RECORD,
        )
    if len(places) > 1:
        return _which_place(found)
    code, place = codes[0], places[0]
    lot = stock.lots[code]
    none = is_nothing(command.quantity)
    number = 0 if none else lot.measure.read(command.quantity, lot.what)
    book = book_then(stock, code, place, command)
    if number > book and _was_put_up_cold(stock, code, place):
        return _only_cold(stock, code)
    left = stock.balance(code, place) + number - book
    if left < 0:
        return Refusal(
            f"{lot.measure.of(number, lot.what)} were counted at "
            f"{command.counted_at or command.at:%H:%M}, and more than that has been "
            "taken since",
            instead="count again now: the record cannot go below nothing",
            source=OUR_RECORD,
        )
    return (
        Counted(
            lot=code,
            place=place,
            number=number,
            book=book,
            why=why_so_much(command.why, lot, command.quantity),
            counted_at=_before(command),
            occurred_at=command.at,
            token=command.token,
            late=command.late,
        ),
    )


def _before(command: Count) -> dt.datetime | None:
    """When it was counted, where that was before it is booked."""
    counted_at = command.counted_at
    return counted_at if counted_at and counted_at < command.at else None


def book_then(stock: Stock, code: str, place: str, command: Count) -> int:
    """
    Return what the record would have had of a lot when it was counted.

    A count that is confirmed or arrives after it was made is held against the shelf of
    its own moment: what was booked as having happened since is no difference.
    """
    book = stock.balance(code, place)
    counted_at = command.counted_at or (command.at if command.late else None)
    if counted_at is None:
        return book
    return book - sum(
        part.number
        for _, event in stock.about(code)
        if tells_of(event) > counted_at
        for part in movements(event)
        if (part.lot, part.place) == (code, place)
    )


def count_shelf(stock: Stock, command: CountShelf) -> Decision:
    """
    Hold a whole shelf against the record: every line of it, or none.

    Raises
    ------
    Unreadable
        If lines cannot be read: each of them is named with its lot.
    """
    counted: list[Counted] = []
    faults: list[Fault] = []
    for lot, quantity in command.counts:
        asked = Count(
            lot=lot,
            quantity=quantity,
            place=command.place,
            at=command.at,
            late=command.late,
            counted_at=command.counted_at,
        )
        try:
            found = count(stock, asked)
        except Unreadable as wrong:
            faults += [Fault(str(fault), key=lot) for fault in wrong.faults]
            continue
        if isinstance(found, Refusal):
            return found
        for event in found:
            assert isinstance(event, Counted)
            if any(event.lot == other.lot for other in counted):
                return there_twice(
                    stock.lots[event.lot],
                    instead="count each lot once, and give the sum",
                )
            counted.append(event)
    if faults:
        raise Unreadable(*faults)
    if not counted:
        return Refusal(
            "nothing was counted",
            instead="write what stands there beside at least one lot",
            source=OUR_RECORD,
        )
    return of_one_request(counted, command.token)


def _which_place(found: Wanted) -> Refusal:
    return Refusal(
        "it stands at " + all_of(dict.fromkeys(part.place for part in found.all)),
        instead="say at which place (at the command line: --at PLACE)",
        source=OUR_RECORD,
    )
