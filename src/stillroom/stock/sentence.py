"""
Read what came in, "14 bags redcurrant juice, 4 cups each, freezer 2, June".

Parts are set off by commas. The first is how much of what, and may end with whom it is
from and where it is; the others are known by their look: a measure for each, a place,
a day, a supplier, a price, a date on the package. What is not understood is said, and
nothing is booked before it is confirmed.
"""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass, replace

from stillroom.book.acid_foods import low_acid_but_for_a_slip
from stillroom.refusal import Unreadable
from stillroom.stock.amounts import Measure
from stillroom.stock.commands import Incoming
from stillroom.stock.events import Kind
from stillroom.stock.for_the_cold import is_for_the_cold
from stillroom.stock.from_a_day import day_from, is_of_a_day
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.how_much import head
from stillroom.stock.in_parts import what_one_holds
from stillroom.stock.jars_or_measure import jars_or_measure
from stillroom.stock.left_in_a_name import JAR_SIZE
from stillroom.stock.no_process_needed import may_be_kept_dry, needs_no_process
from stillroom.stock.reading import BETWEEN, Reading, each_holds
from stillroom.stock.said_twice import one_place, said_once
from stillroom.stock.sorts import kind_of
from stillroom.stock.to_mind import to_mind
from stillroom.stock.understood import lot_of, understood
from stillroom.stock.unknown_process import may_be_home_canned
from stillroom.stock.where_it_is import apart, place_in
from stillroom.stock.words import (
    NOT_YET,
    WEEKDAYS,
    clean,
    read_best_before,
    read_day,
)

LONGEST_SENTENCE = 400
AS_THEY_STAND = (
    "so taken in, these jars are on hold, neither sold nor given: nothing says which "
    "process they had. Jars of your own are booked with it (stillroom stock made), "
    'bought ones with whom they are from, such as ", from Orchard Row"'
)
MAY_BE_LOW_ACID = (
    "so taken in, these jars are on hold, and on no list of what to eat: they may be "
    "low-acid, and nothing says which process they had. Who knows it says so "
    "(stillroom stock put-up), jars of your own are booked with it (stillroom stock "
    'made), and those bought filled in a shop with the words ", bought in a shop"'
)
FOR_THE_COLD = MAY_BE_LOW_ACID.replace(
    "they may be low-acid", "by their name they are for the refrigerator or the freezer"
)
OR_KEPT_DRY = '; what stands dry in its jars, in no liquid, with the words ", kept dry"'
_EACH = re.compile(r"(?i)^(?:each\s+)?(?P<size>[0-9½⅓⅔¼¾.].*?)(?:\s+(?:each|apiece))?$")
_EACH_BEHIND = re.compile(
    r"(?i)(?<=[^\W\d])\s+(?:(?:at|of|@)\s+)?\(?(?P<each>[0-9½⅓⅔¼¾.]"
    r"(?:[^(),;]|,(?=[0-9]))*\seach)\)?"
)
"""Behind what it is: "6 bags of plum juice (5 cups each)", in brackets or not."""
_DATE_IN_DIGITS = re.compile(r"^[0-9]{1,2}([./-])[0-9]{1,2}(?:\1(?:[0-9]{2}){1,2}|\.)$")
"""9/10/2026 is a day of October to some and of September to others: never guessed."""
_FROM = re.compile(r"(?i)^(?:from|by|supplier:?|bought (?:at|from))\s+(?P<who>.+)$")
_PAID = re.compile(r"(?i)^(?:paid|cost|price:?|for)\s+(?P<paid>[^\s].*)$")
_MONEY = re.compile(r"^[$£€]?\s?[0-9]{1,7}(?:[.,][0-9]{2})?(?:\s?[A-Za-z]{2,8})?$")
_USE_BY = re.compile(
    r"(?i)^(?:use[ -]by|best[ -](?:before|by)|(?:keeps|good) until)\s+(?P<day>.+)$"
)
_ON = re.compile(
    r"(?i)^(?:made|picked|frozen|bought|received|came|put up)?\s*(?:on|in)?\s*"
    r"(?P<day>.+)$"
)
_FROM_BEHIND = re.compile(r"(?i)^(?P<rest>.*\S)\s+(?P<part>from\s+(?P<who>\S.*))$")
"""Behind what it is, without a comma: "25 lb plums from Orchard Row"."""
_SUPPLIERS = frozenset(
    {"orchard", "garden", "market", "farm", "store", "neighbor", "neighbors", "mill"}
    | {"neighbour", "neighbours", "grocer", "yard", "field", "hedge", "woods"}
)
"""Last words of whom or where something is from, without a capital."""
_IN_BEHIND = re.compile(r"(?i)^(?P<rest>.*\S)\s+(?P<part>(?:in|at|on)\s+\S.*)$")
_NOT_YET = "".join(rf"(?<!\b{word})" for word in NOT_YET)
_DAY_BEHIND = re.compile(
    rf"(?i)^(?!last\s+\w+$)(?P<rest>\S.*?)(?:\s+(?:on|from))?{_NOT_YET}\s+"
    rf"(?P<day>today|yesterday|(?:last\s+)?(?:{'|'.join(WEEKDAYS)}))$"
)
"""Behind what it is or where it is, without a comma: "in the shed yesterday"."""
_DRY = re.compile(
    r"(?i)^(?:(?:kept|stored|put up|all|bone|still)\s+)?dry"
    r"(?:\s+(?:goods|storage|stored|in\s+(?:the\s+|its\s+|their\s+)?jars?))?$"
)
_SHOP = re.compile(
    r"(?i)^(?:(?:shop|store)[ -]bought|bought(?:\s+filled)?\s+in\s+(?:a|the)\s+"
    r"(?:shop|store|supermarket))$"
)
_DRY_BEHIND = re.compile(r"(?i)^(?P<rest>.*\S)\s+\(?(?:kept|stored)\s+dry\)?$")
"""Behind what it is, without a comma: "dried beans kept dry"."""
_NOTE = re.compile(r"(?i)^(?:note:?)\s+(?P<note>.+)$")


@dataclass(frozen=True, slots=True)
class Proposal:
    """What was understood of a sentence, and what was not; nothing is booked yet."""

    typed: str
    thing: Incoming | None
    """`None` where what is needed could not be read."""
    understood: tuple[tuple[str, str], ...]
    """(what, words) pairs, to be shown."""
    faults: tuple[str, ...]
    """What must be said otherwise before it can be booked."""
    remarks: tuple[str, ...] = ()


def propose(
    sentence: str,
    *,
    today: dt.date,
    known_places: tuple[str, ...] = (),
    kind: Kind | None = None,
    as_jars: bool = False,
) -> Proposal:
    """
    Read a sentence on something that came in, or was made.

    Parameters
    ----------
    sentence : str
        At most 400 letters.
    today : date
        A month without its year is the last one that was.
    known_places : tuple of str
        Places that the record knows; any other is known by a word such as "shelf".
    kind : Kind, optional
        What sort of thing it is, where the keeper said so.
    as_jars : bool
        Read "9 quarts" as nine jars, not as a volume: it was put up.

    Examples
    --------
    >>> said = "14 bags redcurrant juice, 4 cups each, freezer 2, June"
    >>> thing = propose(said, today=dt.date(2026, 11, 25)).thing
    >>> thing.what, thing.place, thing.day, thing.measure.words(thing.number)
    ('redcurrant juice', 'freezer 2', '2026-06', '14 bags (56 cups)')
    """
    reading = Reading(today, known_places)
    if len(sentence) > LONGEST_SENTENCE:
        fault = (
            f"{len(sentence):,} letters came, and a sentence has at most "
            f"{LONGEST_SENTENCE}: say one thing at a time, or give a CSV file"
        )
        return Proposal(sentence[:60] + "...", None, (), (fault,))
    parts = [p.strip() for p in BETWEEN.split(sentence)]
    unfolded = _EACH_BEHIND.sub(r", \g<each>", parts[0])
    parts[:1] = unfolded.split(", ")
    first, *others = [one for part in parts for one in _without_day(part)]
    first, *behind = _taken_apart(first, others, reading)
    others += behind
    if found := _DRY_BEHIND.match(first):
        first, reading.kept_dry = found["rest"], True
    try:
        head(first, reading, as_jars=as_jars)
    except Unreadable as fault:
        reading.faults += [str(f) for f in fault.faults]
    for part in others:
        if part:
            try:
                _other(part, reading)
            except Unreadable as fault:
                reading.faults += [str(f) for f in fault.faults]
    read = _proposal(sentence, reading, kind)
    thing = read.thing
    if thing is None or as_jars:
        return read
    doubtful = cold_of(thing.place) is Cold.SHELF and may_be_home_canned(lot_of(thing))
    if not doubtful and not _is_own_canned(thing):
        return read
    dry = OR_KEPT_DRY if may_be_kept_dry(thing.what) else ""
    held = FOR_THE_COLD if is_for_the_cold(thing.what) else MAY_BE_LOW_ACID
    if meant := low_acid_but_for_a_slip(thing.what):
        held += (
            f"; if {meant!r} is meant, write it so: no process is known of "
            f"{thing.what!r}"
        )
    remark = (held if doubtful else AS_THEY_STAND) + dry
    return replace(read, remarks=(*read.remarks, remark))


def _taken_apart(first: str, others: list[str], reading: Reading) -> list[str]:
    """
    Return the first part, and what stands behind it of whom and where, as parts.

    Whom it is from is a name, with a capital: "plum jelly from frozen juice" is one
    thing.
    """
    parts: list[str] = []
    first = _without_place(first, parts, reading)
    first, *days = _without_day(first)
    parts += days
    if found := _FROM_BEHIND.match(first):
        who = found["who"].split()
        is_named = any(w[0].isupper() for w in who) or who[-1].lower() in _SUPPLIERS
        if is_named or is_of_a_day(found["part"], reading.today):
            parts.append(found["part"])
            first = re.sub(r"(?i)\s+bought$", "", found["rest"])
            first = _without_place(first, parts, reading)
        elif not any(map(_FROM.match, others)):
            reading.remarks.append(
                f"{found['part'][:60]!r} is read as part of its name; if somebody is "
                f'meant, set it off by a comma: ", {found["part"][:60]}"'
            )
    return [first, *parts]


def _without_day(part: str) -> tuple[str, ...]:
    """Return a part, and apart from it the day that stands behind it."""
    found, said = _DAY_BEHIND.match(part), _ON.match(part)
    if found is None or _NOTE.match(part) or (said and said["day"] == found["day"]):
        return (part,)
    return found["rest"], found["day"]


def _without_place(first: str, parts: list[str], reading: Reading) -> str:
    """Return the first part without a place behind it, which goes to the parts."""
    found = _IN_BEHIND.match(first)
    if found is None or _FROM_BEHIND.match(found["part"]):
        return first
    if not _place(found["part"], reading):
        return first
    parts.append(found["part"])
    return found["rest"]


def _other(part: str, reading: Reading) -> None:
    """Read a part by its look."""
    if since := day_from(part, reading.today):
        said_once("day", part, reading)
        reading.day = since
    elif found := _FROM.match(part):
        said_once("supplier", part, reading)
        reading.supplier = clean(found["who"], "supplier")
    elif _DRY.match(part):
        reading.kept_dry = True
    elif _SHOP.match(part):
        reading.bought_in_shop = True
    elif found := _USE_BY.match(part):
        said_once("best before", part, reading)
        reading.best_before = read_best_before(found["day"])
    elif found := _NOTE.match(part):
        said_once("note", part, reading)
        reading.note = clean(found["note"], "note", longest=200)
    elif (found := _PAID.match(part)) and _MONEY.match(found["paid"]):
        said_once("paid", part, reading)
        reading.paid = found["paid"]
    elif part[:1] in ("$", "£", "€") and _MONEY.match(part):
        said_once("paid", part, reading)
        reading.paid = part
    elif (found := _ON.match(part)) and (
        day := read_day(found["day"], today=reading.today)
    ):
        said_once("day", part, reading)
        reading.day = day
    elif found and _DATE_IN_DIGITS.match(found["day"]):
        reading.faults.append(
            f"{part[:60]!r} looks like a day, and digits alone do not say which is the "
            "month: write 12 June 2026 or 2026-06-12"
        )
    elif place := _place(part, reading):
        beside = apart(part, reading.known_places, reading.today)
        if len(beside) == 1:
            reading.place = one_place(clean(place, "place"), part, reading)
        for one in beside[1:] and beside:
            _other(one, reading)
    elif (
        re.match(r"^[0-9½⅓⅔¼¾.]", part) or part.lower().startswith("each ")
    ) and not reading.each:
        size = _EACH.match(part)
        each_holds(size["size"] if size else part, reading)
    elif re.fullmatch(rf"(?i){JAR_SIZE}", part):
        reading.faults.append(
            f'{part!r} alone: write the size before the jars, "12 pint jars plum jelly"'
        )
    else:
        clean(part, "part")
        reading.faults.append(
            f"{part[:60]!r} is not understood: a place (freezer 2), a day (June, "
            '12 June 2026), "4 cups each", "from WHOM", "paid 4.50", '
            '"best before 2027-03-31" or "note ..." would be'
        )


def _place(part: str, reading: Reading) -> str:
    return place_in(part, reading.known_places)


def _proposal(sentence: str, reading: Reading, kind: Kind | None) -> Proposal:
    measure = Measure(unit=reading.unit, part=reading.part, each=reading.each)
    if not reading.place and not reading.faults:
        reading.faults.append(
            "it does not say where it is: add a place, such as "
            '", freezer 2" or ", pantry shelf B"'
        )
    if reading.kept_dry and reading.what and not may_be_kept_dry(reading.what):
        reading.faults.append(
            f"{reading.what!r} is not known as something that is kept dry, such as "
            "dried beans, corn, rice or noodles: leave those words out, and say what "
            "process it had"
        )
    sort = kind or (_kind(reading, measure) if reading.what else Kind.RAW)
    asked = jars_or_measure(sentence, reading), what_one_holds(reading, sort)
    reading.faults += [fault for fault in asked if fault]
    if sort is Kind.JARS and reading.each:
        reading.faults.append(
            f"{reading.what!r} are empty jars, which are counted, neither weighed nor "
            'measured: write their size before them, such as "24 half-pint jars"'
        )
    if reading.faults or not reading.number:
        thing = None
    else:
        thing = Incoming(
            what=reading.what,
            kind=sort,
            measure=measure,
            number=reading.number,
            place=reading.place,
            day=reading.day,
            supplier=reading.supplier,
            paid=reading.paid,
            best_before=reading.best_before,
            note=reading.note,
            kept_dry=reading.kept_dry,
        )
    remarks = (*reading.remarks, *(to_mind(thing) if thing else ()))
    return Proposal(
        sentence,
        thing,
        understood(thing) if thing else (),
        tuple(dict.fromkeys(reading.faults)),
        remarks,
    )


def _is_own_canned(thing: Incoming) -> bool:
    """Whether it is jars that nobody brought, and that keep by a process."""
    if thing.kind is not Kind.FILLED or thing.supplier:
        return False
    return not needs_no_process(thing.what, kept_dry=thing.kept_dry)


def _kind(reading: Reading, measure: Measure) -> Kind:
    """Return what sort of thing it is; jars bought filled are no jars of our own."""
    if reading.bought_in_shop:
        return Kind.BOUGHT
    bought = bool(reading.paid or reading.supplier)
    return kind_of(reading.what, measure, bought=bought)
