"""
Read what came in, "14 bags redcurrant juice, 4 cups each, freezer 2, June".

Parts are set off by commas. The first is how much of what; the others are known by
their look: a measure for each, a place, a day, a supplier, a price, a date on the
package. What is not understood is said, and nothing is booked before it is confirmed.
"""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass, field
from functools import cache

from stillroom.book.produce import fruits
from stillroom.book.words import plain
from stillroom.measures.words import TRAPS
from stillroom.refusal import Unreadable
from stillroom.stock.amounts import (
    MOST_PIECES,
    Absurd,
    Measure,
    Unit,
    counted,
    measured,
)
from stillroom.stock.commands import Incoming
from stillroom.stock.events import Kind, Lot
from stillroom.stock.keeps import keeps
from stillroom.stock.making import is_jar, product_kind
from stillroom.stock.words import clean, read_best_before, read_day, said_day

LONGEST_SENTENCE = 400
_PLACES = (
    *("freezer", "fridge", "refrigerator", "pantry", "shelf", "cellar", "stand"),
    *(
        "larder",
        "store",
        "bin",
        "attic",
        "porch",
        "barn",
        "shed",
        "cupboard",
        "kitchen",
    ),
    *("basement", "rack", "crate", "table", "loft", "clamp", "garage", "drawer"),
)
_PARTS = (
    *(
        "bag",
        "box",
        "packet",
        "pack",
        "package",
        "pouch",
        "jar",
        "lid",
        "band",
        "piece",
    ),
    *("bottle", "tub", "crate", "bin", "sack", "bucket", "carton", "tin"),
)
_NUMBER = re.compile(r"([0-9][0-9,]*(?:\.[0-9]+)?)\s*")
_EACH = re.compile(r"(?i)^(?:each\s+)?(?P<size>[0-9½⅓⅔¼¾.].*?)(?:\s+(?:each|apiece))?$")
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
_IN = re.compile(r"(?i)^(?:in|at|on)\s+(?:the\s+)?(?P<place>.+)$")
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


@dataclass(slots=True)
class _Reading:
    """What has been read so far."""

    today: dt.date
    known_places: tuple[str, ...]
    what: str = ""
    unit: Unit = Unit.PIECES
    number: int = 0
    part: str = ""
    each: int = 0
    place: str = ""
    day: str = ""
    supplier: str = ""
    paid: str = ""
    best_before: dt.date | None = None
    note: str = ""
    faults: list[str] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)


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
    reading = _Reading(today, known_places)
    if len(sentence) > LONGEST_SENTENCE:
        fault = (
            f"{len(sentence):,} letters came, and a sentence has at most "
            f"{LONGEST_SENTENCE}: say one thing at a time, or give a CSV file"
        )
        return Proposal(sentence[:60] + "...", None, (), (fault,))
    first, *others = [p.strip() for p in re.split(r",(?=\s)|;|\n", sentence)]
    try:
        _head(first, reading, as_jars=as_jars)
    except Unreadable as fault:
        reading.faults += [str(f) for f in fault.faults]
    for part in others:
        if part:
            try:
                _other(part, reading)
            except Unreadable as fault:
                reading.faults += [str(f) for f in fault.faults]
    return _proposal(sentence, reading, kind)


def _head(text: str, reading: _Reading, *, as_jars: bool) -> None:
    """Read how much of what."""
    text = re.sub(r"(?i)\bdozens?\b(?:\s+of\b)?", "dozen", text).strip()
    if not text:
        raise Unreadable("nothing is written there: say how much of what")
    if text.startswith(("-", "\u2212")):
        raise Unreadable(f"{text[:40]!r} is less than nothing: give what came in")
    rest = _jars(text, reading, as_jars) or _parts(text, reading)
    if rest is None:
        rest = _bulk(text, reading)
    rest = re.sub(r"(?i)^of\s+", "", rest.strip())
    if not rest and reading.part in ("lid", "band", "jar"):
        rest = counted(2, reading.part)[2:]
    reading.what = clean(rest, "what")
    if reading.what in (counted(2, reading.part)[2:], f"{reading.part} jars"):
        reading.part = ""  # 60 lids are 60 of lids


def _jars(text: str, reading: _Reading, as_jars: bool) -> str | None:
    """Read "8 half-pints plum jelly", and "60 half-pint jars" as empty jars."""
    sizes = r"half[ -]?pint|half[ -]?gallon|pint|quart"
    found = re.match(
        rf"(?i)^([0-9][0-9,]*)\s*({sizes})(s?)(?:[ -]+(jars?))?(?=\s|$)(?:\s+of\b)?",
        text,
    )
    if found is None:
        return None
    size = re.sub(r"[ -]", "", found[2].lower()).replace("half", "half-")
    is_jar = found[4] or as_jars or size in ("half-pint",)
    rest = text[found.end() :].strip()
    if not is_jar:
        reading.remarks.append(
            f"{found[0].strip()!r} is read as a volume; for jars write "
            f'"{found[1]} {size} jars"'
        )
        return None
    reading.unit, reading.part = Unit.PIECES, size
    reading.number = _whole(found[1], text)
    if not rest:
        return f"{size} jars"
    return rest


def _parts(text: str, reading: _Reading) -> str | None:
    """Read "14 bags redcurrant juice", and "6 bags of 5 cups plum juice"."""
    found = _NUMBER.match(text)
    if found is None:
        return None
    rest = text[found.end() :]
    word = re.match(r"(?i)^dozen\s+", rest)
    if not found[1].replace(",", "").isdigit():
        return None
    if word:
        rest = rest[word.end() :]
    for part in _PARTS:
        plural = counted(2, part)[2:]
        named = re.match(rf"(?i)^({plural}|{part})\b\s*", rest)
        if named:
            reading.part = part
            reading.number = _whole(found[1], text) * (12 if word else 1)
            rest = rest[named.end() :]
            of = re.match(r"(?i)^of\s+(?=[0-9½⅓⅔¼¾.])", rest)
            if of:
                size, rest = _longest_measure(rest[of.end() :])
                _each(size, reading)
            return rest
    if word:
        reading.number = _whole(found[1], text) * 12
        return rest
    return None


def _bulk(text: str, reading: _Reading) -> str:
    """Read "3 lb 2 oz sugar", "25 kg pears", "60 lids" and "60 regular lids"."""
    try:
        size, rest = _longest_measure(text)
    except Absurd:
        raise
    except Unreadable:
        raise Unreadable(
            f"{text[:60]!r} does not begin with how much there is: write such as "
            '"14 bags redcurrant juice", "25 lb pears" or "60 lids"'
        ) from None
    reading.unit, reading.number, reading.each = measured(size)
    if size.replace(",", "").isdigit():
        _counted_by_itself(size, rest, text)
    return rest


def _counted_by_itself(size: str, rest: str, text: str) -> None:
    """A bare number is let in where the thing is counted; else its unit is missing."""
    first, *others = rest.split(" ") if rest else ("",)
    last = (others or [first])[-1].lower()
    if plain(rest) in _produce() or last in (
        "lid",
        "lids",
        "jar",
        "jars",
        "band",
        "bands",
    ):
        return
    trap = TRAPS.get(first.lower())
    why = (
        f"{first[:30]!r} is not read: {trap}"
        if trap
        else (f"no unit is called {first[:30]!r}")
    )
    raise Unreadable(
        f"{text[:60]!r}: {why}. For things that are counted write "
        f'"{size} pieces {rest[:40]}"'
    )


def _longest_measure(text: str) -> tuple[str, str]:
    """Split off as many words in front as are a measure."""
    words = text.split(" ")
    fault = Unreadable(f"{text[:60]!r} begins with no measure")
    for last in range(min(len(words), 7), 0, -1):
        size = " ".join(words[:last])
        try:
            measured(size)
        except Absurd:
            raise
        except Unreadable as error:
            fault = error
            continue
        return size, " ".join(words[last:])
    raise fault


def _whole(number: str, text: str) -> int:
    digits = number.replace(",", "")
    if len(digits) > 9 or not 0 < int(digits) <= MOST_PIECES:
        raise Unreadable(
            f"{text[:40]!r}: a count is above 0 and at most {MOST_PIECES:,}"
        )
    return int(digits)


def _each(size: str, reading: _Reading) -> None:
    if not reading.part and reading.unit is not Unit.PIECES:
        raise Unreadable(
            f"{size[:40]!r} each: of how many? Write such as "
            '"14 bags redcurrant juice, 4 cups each"'
        )
    unit, each, _ = measured(size)
    if unit is Unit.PIECES:
        raise Unreadable(f"{size[:40]!r} each: give what one holds, such as 4 cups")
    reading.unit, reading.each = unit, each
    reading.part = reading.part or "piece"
    reading.number *= each


def _other(part: str, reading: _Reading) -> None:
    """Read a part by its look."""
    if found := _FROM.match(part):
        reading.supplier = clean(found["who"], "supplier")
    elif found := _USE_BY.match(part):
        reading.best_before = read_best_before(found["day"])
    elif found := _NOTE.match(part):
        reading.note = clean(found["note"], "note", longest=200)
    elif (found := _PAID.match(part)) and _MONEY.match(found["paid"]):
        reading.paid = found["paid"]
    elif (found := _ON.match(part)) and (
        day := read_day(found["day"], today=reading.today)
    ):
        reading.day = day
    elif place := _place(part, reading):
        reading.place = clean(place, "place")
    elif (
        re.match(r"^[0-9½⅓⅔¼¾.]", part) or part.lower().startswith("each ")
    ) and not reading.each:
        size = _EACH.match(part)
        _each(size["size"] if size else part, reading)
    else:
        clean(part, "part")
        reading.faults.append(
            f"{part[:60]!r} is not understood: a place (freezer 2), a day (June, "
            '12 June 2026), "4 cups each", "from WHOM", "paid 4.50", '
            '"best before 2027-03-31" or "note ..." would be'
        )


def _place(part: str, reading: _Reading) -> str:
    found = _IN.match(part)
    place = found["place"] if found else part
    known = {name.casefold() for name in reading.known_places}
    words = re.findall(r"[a-z]+", place.lower())
    return place if place.casefold() in known or set(words) & set(_PLACES) else ""


def _proposal(sentence: str, reading: _Reading, kind: Kind | None) -> Proposal:
    measure = Measure(unit=reading.unit, part=reading.part, each=reading.each)
    if not reading.place and not reading.faults:
        reading.faults.append(
            "it does not say where it is: add a place, such as "
            '", freezer 2" or ", pantry shelf B"'
        )
    if reading.faults or not reading.number:
        thing = None
    else:
        thing = Incoming(
            what=reading.what,
            kind=kind or kind_of(reading.what, measure, bought=_bought(reading)),
            measure=measure,
            number=reading.number,
            place=reading.place,
            day=reading.day,
            supplier=reading.supplier,
            paid=reading.paid,
            best_before=reading.best_before,
            note=reading.note,
        )
    return Proposal(
        sentence,
        thing,
        tuple(_understood(thing)) if thing else (),
        tuple(dict.fromkeys(reading.faults)),
        tuple(reading.remarks),
    )


def _bought(reading: _Reading) -> bool:
    return bool(reading.paid or reading.supplier)


def kind_of(what: str, measure: Measure, *, bought: bool) -> Kind:
    """
    Return what sort of thing it is likely to be; the keeper may say otherwise.

    >>> kind_of("regular lids", Measure(unit=Unit.PIECES), bought=True)
    <Kind.LIDS: 'lids'>
    """
    words = what.lower().split()
    if words and words[-1] in ("lid", "lids"):
        return Kind.LIDS
    if words and words[-1] in ("jar", "jars"):
        return Kind.JARS
    if is_jar(measure.part) or measure.part == "jar":
        return Kind.FILLED
    if plain(what) in _produce():
        return Kind.RAW
    if bought or words[-1] in ("sugar", "pectin", "vinegar", "salt"):
        return Kind.BOUGHT
    if product_kind(what) in ("jelly", "jam", "butter", "sauce", "puree"):
        return Kind.HALF_MADE
    return Kind.RAW


@cache
def _produce() -> frozenset[str]:
    return frozenset(
        plain(word)
        for fruit in fruits().values()
        for word in (fruit.name, *fruit.aliases)
    )


def _understood(thing: Incoming) -> list[tuple[str, str]]:
    said = [
        ("what", thing.what),
        ("how much", thing.measure.words(thing.number)),
        ("where", thing.place),
        ("sort", thing.kind.value),
    ]
    if thing.day:
        said.append(("day", said_day(thing.day)))
    if thing.supplier:
        said.append(("from", thing.supplier))
    if thing.paid:
        said.append(("paid", thing.paid))
    if thing.note:
        said.append(("note", thing.note))
    return [*said, ("keeps", keeping_words(thing))]


def keeping_words(thing: Incoming) -> str:
    """Say until when something that came in keeps, as far as that is published."""
    lot = Lot(
        code="",
        what=thing.what,
        kind=thing.kind,
        measure=thing.measure,
        day=thing.day,
        best_before=thing.best_before,
    )
    kept = keeps(lot, thing.place)
    if kept.until is None:
        return f"not known: {kept.words}"
    return f"best until {kept.until} ({kept.words}; {kept.source})"
