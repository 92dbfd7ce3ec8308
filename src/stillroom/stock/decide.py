"""Stock and command to events or a refusal. Pure: no clock, no database."""

from __future__ import annotations

from dataclasses import replace

from stillroom.refusal import Refusal
from stillroom.stock.choosing import (
    OUR_RECORD,
    Wanted,
    known_lot,
    one_of,
    parts_of,
    short_of,
    wanted,
)
from stillroom.stock.commands import (
    Check,
    Command,
    Count,
    Incoming,
    Make,
    Mend,
    Move,
    Recall,
    Receive,
    Take,
)
from stillroom.stock.events import (
    SET_ASIDE,
    AnyEvent,
    Checked,
    Counted,
    Kind,
    Lot,
    Made,
    Mended,
    Moved,
    Part,
    Recalled,
    Received,
    Taken,
    Way,
    movements,
)
from stillroom.stock.fold import Stock
from stillroom.stock.keeps import Cold, cold_of
from stillroom.stock.lotcode import MOST_LOADS, lot_code, printed
from stillroom.stock.making import hold_source, holds
from stillroom.stock.tracing import made_of_it

Decision = tuple[AnyEvent, ...] | Refusal
NOTHING: tuple[AnyEvent, ...] = ()
"""It is booked already: the same request once more changes nothing."""

_TO_OTHERS = (Way.SOLD, Way.GIVEN)
_INTO_A_MOUTH = (Way.EATEN, Way.TASTED, Way.DRAWN)
_ENDS_A_RECALL = (
    "leave it where it is, marked; throw it away with stillroom stock out LOT QUANTITY "
    "--as spoiled, or take the recall back with stillroom stock mend if it was a "
    "mistake"
)


def decide(stock: Stock, command: Command) -> Decision:
    """
    Return the events that ``command`` leads to, or why not.

    Raises
    ------
    Unreadable
        If a lot or a quantity cannot be read.
    """
    if command.token and command.token in stock.tokens:
        return NOTHING
    match command:
        case Receive():
            return _receive(stock, command)
        case Take():
            return _take(stock, command)
        case Move():
            return _move(stock, command)
        case Count():
            return _count(stock, command)
        case Make():
            return _make(stock, command)
        case Check():
            return _check(stock, command)
        case Recall():
            return _recall(stock, command)
        case Mend():
            return _mend(stock, command)


def _lot(thing: Incoming, code: str) -> Lot:
    return Lot(
        code=code,
        what=thing.what,
        kind=thing.kind,
        measure=thing.measure,
        day=thing.day,
        supplier=thing.supplier,
        paid=thing.paid,
        best_before=thing.best_before,
        note=thing.note,
    )


def _receive(stock: Stock, command: Receive) -> Decision:
    day = command.at.date()
    number = stock.next_number(day)
    for thing in command.things:
        if thing.place.casefold() == SET_ASIDE:
            return _set_aside_is_ours()
    return tuple(
        Received(
            lot=_lot(thing, lot_code(day, number + i)),
            place=one_of(stock.known_places(), thing.place),
            number=thing.number,
            occurred_at=command.at,
            # One request, one token: the first of its events carries it.
            token="" if i else command.token,
        )
        for i, thing in enumerate(command.things)
    )


def _take(stock: Stock, command: Take) -> Decision:
    parts = parts_of(
        stock, command.lot, command.quantity, place=command.place, way=command.way
    )
    if isinstance(parts, Refusal):
        return parts
    for part in parts:
        no = _may_leave(stock, part, command.way)
        if no is not None:
            return no
    return (
        Taken(
            way=command.way,
            parts=parts,
            to=command.to,
            why=command.why,
            occurred_at=command.at,
            token=command.token,
        ),
    )


def _may_leave(stock: Stock, part: Part, way: Way) -> Refusal | None:
    said = f"{stock.lots[part.lot].what} {printed(part.lot)}"
    if way in (*_TO_OTHERS, *_INTO_A_MOUTH):
        recall = stock.recall(part.lot)
        if recall is not None:
            return Refusal(
                f"{said} was recalled: {recall.why}",
                instead=_ENDS_A_RECALL,
                source=OUR_RECORD,
            )
    if way not in _TO_OTHERS:
        return None
    if why := holds(stock, part.lot):
        return Refusal(
            f"{said} is on hold: {'; '.join(why)}",
            instead="look at its seals and its set, and say so: stillroom stock check "
            f"{printed(part.lot)}; what had no whole process is not for sale or a "
            "gift, and own jars are booked with stillroom stock made",
            source=hold_source(stock, part.lot),
        )
    if part.place == SET_ASIDE:
        return Refusal(
            f"those jars of {said} are set aside: their seal failed, or may have",
            instead="see what is published for them: stillroom stock check "
            f"{printed(part.lot)}",
            source=hold_source(stock, part.lot),
        )
    return None


def _move(stock: Stock, command: Move) -> Decision:
    if command.to.casefold() == SET_ASIDE:
        return _set_aside_is_ours()
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
        if part.place == SET_ASIDE and cold_of(to) is Cold.SHELF:
            return Refusal(
                "jars that were set aside do not go back to a shelf by being moved",
                instead="into the freezer or the refrigerator; or look at them again "
                f"and say so: stillroom stock check {printed(part.lot)}",
                source=hold_source(stock, part.lot),
            )
    moving = tuple(part for part in parts if part.place != to)
    return (Moved(parts=moving, to=to, occurred_at=command.at, token=command.token),)


def _count(stock: Stock, command: Count) -> Decision:
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
    measure = stock.lots[code].measure
    none = command.quantity.strip().lower() in ("0", "none", "nothing", "no")
    number = 0 if none else measure.read(command.quantity)
    return (
        Counted(
            lot=code,
            place=place,
            number=number,
            book=stock.balance(code, place),
            why=command.why,
            occurred_at=command.at,
            token=command.token,
        ),
    )


def _make(stock: Stock, command: Make) -> Decision:
    if command.on > command.at.date():
        return Refusal(
            f"{command.on} lies in the future",
            instead="book a lot on the day on which it was made, or later",
            source=OUR_RECORD,
        )
    if command.thing.place.casefold() == SET_ASIDE:
        return _set_aside_is_ours()
    load = command.batch.load
    if load is not None and not 1 <= load <= MOST_LOADS:
        return Refusal(
            f"load {load} does not fit into a lot code",
            instead=f"give the load of the day, 1 to {MOST_LOADS}",
            source=OUR_RECORD,
        )
    inputs: list[Part] = []
    drawn: dict[tuple[str, str], int] = {}
    for lot, quantity in command.inputs:
        parts = parts_of(stock, lot, quantity, drawn=drawn)
        if isinstance(parts, Refusal):
            return parts
        for part in parts:
            no = _may_leave(stock, part, Way.DRAWN)
            if no is not None:
                return no
            key = (part.lot, part.place)
            drawn[key] = drawn.get(key, 0) + part.number
        inputs += parts
    code = lot_code(command.on, stock.next_number(command.on), load)
    return (
        Made(
            lot=replace(_lot(command.thing, code), day=command.on.isoformat()),
            place=one_of(stock.known_places(), command.thing.place),
            number=command.thing.number,
            inputs=tuple(inputs),
            batch=command.batch,
            occurred_at=command.at,
            token=command.token,
        ),
    )


def _check(stock: Stock, command: Check) -> Decision:
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
    if command.good is None and command.seen is None:
        return Refusal(
            "nothing was said of its seals or its set",
            instead="say what you saw, such as --seals 7 good 1 failed --set set",
            source=hold_source(stock, code),
        )
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
        ),
    )


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
            f"{good + bad} jars were looked at, and the book has {shelf}{looked}",
            instead="count again; if jars are missing, say so first: stillroom stock "
            f"count {printed(code)} QUANTITY",
            source=OUR_RECORD,
        )
    doubtful = sum(c.doubtful for c in stock.checks(code)[-1:])
    if aside < 0 and -aside > doubtful:
        return Refusal(
            f"{-aside} jars would come back from being set aside, and {doubtful} of "
            "them were doubtful; a lid that failed does not seal by itself",
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
            instead="say at which one the jars were, with --at PLACE",
            source=OUR_RECORD,
        )
    if aside > here.get(place, 0):
        return Refusal(
            f"{here.get(place, 0)} jars are at {place}, and {aside} would go aside",
            instead="check one place at a time, or count again",
            source=OUR_RECORD,
        )
    return aside, place


def _recall(stock: Stock, command: Recall) -> Decision:
    code = known_lot(stock, command.lot)
    if isinstance(code, Refusal):
        return code
    codes = (code, *made_of_it(stock, code))
    fresh = tuple(c for c in codes if stock.recall(c) is None)
    if not fresh:
        return NOTHING
    return (
        Recalled(
            lots=fresh, why=command.why, occurred_at=command.at, token=command.token
        ),
    )


def _mend(stock: Stock, command: Mend) -> Decision:
    if not 1 <= command.of <= stock.sequence:
        return Refusal(
            f"there is no entry {command.of}; the last one is {stock.sequence}",
            instead="look it up with stillroom stock history",
            source=OUR_RECORD,
        )
    event = stock.event(command.of)
    if isinstance(event, Mended) or command.of in stock.undone:
        return Refusal(
            f"entry {command.of} is a mending itself"
            if isinstance(event, Mended)
            else f"entry {command.of} was mended already",
            instead="book what is right as an entry of its own",
            source=OUR_RECORD,
        )
    changes = tuple(
        Part(lot=m.lot, place=m.place, number=-m.number)
        for m in movements(event)
        if m.number
    )
    sums: dict[tuple[str, str], int] = {}
    for change in changes:
        key = (change.lot, change.place)
        sums[key] = sums.get(key, 0) + change.number
    for (code, place), change_of in sums.items():
        there = stock.balance(code, place)
        if there + change_of < 0:
            short = short_of(stock, code, place, -change_of)
            return Refusal(
                f"entry {command.of} cannot be taken back as it is: {short.reason}",
                instead="take back what was booked after it first, the last one first "
                f"(stillroom stock history {printed(code)})",
                source=OUR_RECORD,
            )
    return (
        Mended(
            of=command.of,
            changes=changes,
            why=command.why,
            occurred_at=command.at,
            token=command.token,
        ),
    )


def _which_place(found: Wanted) -> Refusal:
    return Refusal(
        "it stands at " + " and ".join(dict.fromkeys(part.place for part in found.all)),
        instead="say which with --at PLACE",
        source=OUR_RECORD,
    )


def _set_aside_is_ours() -> Refusal:
    return Refusal(
        f"{SET_ASIDE!r} is the place of jars whose seal failed, or may have",
        instead="name another place; a seal check sets jars aside by itself",
        source=OUR_RECORD,
    )
