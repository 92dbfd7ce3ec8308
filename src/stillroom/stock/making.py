"""
A lot made, the day after, and what must be looked at before it is sold or given.

Nothing here calls a jar safe. A hold says what is still to be looked at, or what was
not done; the published process and the seal check decide, not this program.
"""

from __future__ import annotations

import datetime as dt
import re
from functools import lru_cache

from stillroom.book.foods_said import FOODS, is_dense
from stillroom.book.keeping import canner_facts_of
from stillroom.book.names import product_named
from stillroom.book.rendering import rendering_for
from stillroom.book.trouble import Trouble, troubles_for
from stillroom.measures.clock import clock_time
from stillroom.refusal import Fault, Refusal, Unreadable
from stillroom.stock.cold_days import cold_days, for_days_words
from stillroom.stock.events import Batch, Checked, Doubt, Held, How, Kind, Lot, Made
from stillroom.stock.fold import Stock
from stillroom.stock.how_long_ago import moment_words
from stillroom.stock.jars_out import (
    hours_since,
    hours_waited,
    is_hour_said,
    jars_out_by,
)
from stillroom.stock.lacking import what_to_say
from stillroom.stock.lacks import (
    counts_as_unprocessed,
    is_in_doubt,
    lack_words,
    process_given_min,
)
from stillroom.stock.lotcode import printed
from stillroom.stock.no_process_needed import may_be_kept_dry, needs_no_process
from stillroom.stock.of_held import held_inputs, recall_of, recall_words
from stillroom.stock.stands import if_in_its_crock, stands_in, still_stands
from stillroom.stock.unknown_process import (
    PROCESS_UNKNOWN_SOURCE,
    is_process_unknown,
    unknown_words,
)
from stillroom.stock.warm import doubtful_places, stood_warm

SETS = frozenset({"jelly", "jam", "marmalade", "preserves", "conserve"})
"""Kinds of product whose set is looked at."""
CHECK_AFTER_H, CHECK_WITHIN_H = 12, 24
"""Seals are tested so long after the process; a test holds it to the book. [h]"""
LOOKS_AT_SET_H = (24, 72, 14 * 24)
"""After a day, three days, for the last time two weeks; a test holds it to the book."""


def holds(stock: Stock, code: str) -> tuple[str, ...]:
    """
    Return why a lot cannot be sold or given yet; empty where nothing is open.

    What came from a supplier is held by a recall alone, but for jars that may be
    low-acid: whom they are from does not say how they were put up. Own jars that were
    taken in as they stood, and not booked as made, are held: nothing is known of their
    process.
    """
    why = []
    if (recalled := recall_of(stock, code)) is not None:
        why.append(recall_words(stock, code, *recalled))
    made, lot = stock.made(code), stock.lots[code]
    known = stock.put_up_said(code) if made is None else None
    if is_process_unknown(stock, code):
        why.append(unknown_words(lot.what))
    elif taken_in_as_they_stood(stock, code) and known is not None:
        why.append(f"its seals are not in the record; {known.who} knows its process")
    elif taken_in_as_they_stood(stock, code):
        why.append("its process and its seals are not in the record")
    why += [held_words(event) for event in stock.held(code)]
    why += [
        f"it was made out of {stock.lots[of].what} {printed(of)}, which was put on "
        f"hold since: {held_words(event)}"
        for of, event in held_inputs(stock, code)
    ]
    if (warm := stood_warm(stock, code)) is not None:
        why.append(warm.words)
    elif days := for_days_words(stock, code):
        why.append(days)
    if stands := still_stands(stock, code):
        why.append(stands)
    if made is None or lot.kind is not Kind.FILLED or not made.batch.canned:
        return tuple(why)
    batch, given = made.batch, process_given_min(stock, code)
    if not given and not isinstance(rendering_for(lot.what), Refusal):
        why.append("no process is published for it, sealed or not: it is kept cold")
    elif not given:
        said = "it had no process: sealed is not processed"
        asked = _if_dry(lot, batch) + if_in_its_crock(lot, batch)
        why.append(said + asked + _if_cold(stock, code, batch))
    elif batch.due_min is None:
        said = (
            f"it {lack_words(stock, code)}"  # what else might have been done is over
            if counts_as_unprocessed(stock, code)
            else f"no published process is known for it ({batch.due_source})"
        )
        why.append(said + what_to_say(stock, code))
    elif given < batch.due_min:
        why.append(f"its process was {given} min, and {batch.due_min} min are due")
    elif counts_as_unprocessed(stock, code):
        why.append(f"it {lack_words(stock, code)}")
    if counts_as_unprocessed(stock, code):
        return tuple(why)  # neither seals nor set would end it
    checks = stock.checks(code)
    if not any(check.good is not None for check in checks):
        why.append("its seals have not been looked at")
    elif not _looked_in_time(made, lot, checks):
        perhaps = "" if is_hour_said(made, lot) else "perhaps "
        why.append(
            f"its seals were looked at {perhaps}before {CHECK_AFTER_H} h had passed: "
            "look again"
        )
    if batch.food in SETS and not any(check.seen for check in checks):
        why.append(f"its set has not been looked at: look from {set_from(stock, code)}")
    return tuple(why)


def _if_dry(lot: Lot, batch: Batch) -> str:
    """Say how what is dry in its jars is booked, where it may be that by its name."""
    return (
        f"; if it stands dry in its jars, {_AS_DRY}" if may_be_dry(lot, batch) else ""
    )


_AS_DRY = (
    "in no liquid, take its entry back with stillroom stock mend, and book it with the "
    "words kept dry"
)


def _if_cold(stock: Stock, code: str, batch: Batch) -> str:
    """Say how it is said that jars without a process were in the cold after all."""
    if batch.load is not None or batch.run or not doubtful_places(stock, code):
        return ""
    return (
        "; if it was put up for the cold, and was as cold as in a refrigerator all the "
        f"while, whoever knows it says so with stillroom stock cold {printed(code)}"
    )


def may_be_dry(lot: Lot, batch: Batch) -> bool:
    """Whether jars that had no process may be a dry good by their name: it is asked."""
    seen = batch.load is not None or batch.run or batch.process_min
    return not seen and may_be_kept_dry(lot.what)


def whether_dry(lot: Lot) -> Refusal:
    """Ask whether jars are dry: what is dry needs no process, and is good food."""
    return Refusal(
        f"whether {lot.what} {printed(lot.code)} stands dry in its jars was not said",
        instead=f"if it does, {_AS_DRY}: it needs no process then. If it is moist, or "
        "lies in oil, water or another liquid, discard it untasted",
        source="USDA Complete Guide Guide 1; dry goods in jars: common practice, no "
        "source",
    )


def taken_in_as_they_stood(stock: Stock, code: str) -> bool:
    """Whether jars came with neither their making nor whom they are from."""
    lot = stock.lots[code]
    if stock.made(code) is not None or lot.kind is not Kind.FILLED or lot.supplier:
        return False
    said = stock.put_up_said(code)
    if said is not None and said.how is not How.PROCESS:
        return False
    return not needs_no_process(lot.what, kept_dry=lot.kept_dry)


def held_words(event: Held) -> str:
    """Say why a canner load was put on hold."""
    said = {
        Doubt.WRONG_TIME: "its canner load had a wrong time or pressure",
        Doubt.WATER_LOW: "the water stood below the lids at the end of its process",
    }[event.doubt]
    return f"{said} ({event.note})" if event.note else said


def _looked_in_time(made: Made, lot: Lot, checks: tuple[Checked, ...]) -> bool:
    """Whether the seals were looked at once the jars had stood long enough."""
    return any(
        check.good is not None
        and hours_waited(made, lot, check.occurred_at) >= CHECK_AFTER_H
        for check in checks
    )


def is_set_too_early(stock: Stock, code: str, at: dt.datetime) -> bool:
    """Whether the hour at which the set of a lot is looked at is still to come."""
    made = stock.made(code)
    if made is None or made.batch.food not in SETS:
        return False
    return hours_waited(made, stock.lots[code], at) < LOOKS_AT_SET_H[0]


def may_set(stock: Stock, code: str) -> bool:
    """Whether jars made here set, or nobody knows what food is in them."""
    made = stock.made(code)
    return made is not None and made.batch.food in SETS | {""}


def set_from(stock: Stock, code: str) -> str:
    """Say from when on the set of a lot that was made here is looked at."""
    made = stock.made(code)
    assert made is not None
    out = jars_out_by(made, stock.lots[code])
    return moment_words(out + dt.timedelta(hours=LOOKS_AT_SET_H[0]), out)


def hold_source(stock: Stock, code: str) -> str:
    """Return who says what a held lot still lacks."""
    if is_process_unknown(stock, code):
        return PROCESS_UNKNOWN_SOURCE
    made = stock.made(code)
    if for_days_words(stock, code):
        return f"{cold_days().source}, from memory"
    if stands_in(stock, code):
        return "how Stillroom keeps records"
    parts = [made.batch.due_source] if made and made.batch.due_source else []
    facts = canner_facts_of("cooling jars")
    if not isinstance(facts, Refusal):
        parts += [f.source.text for f in facts if f.what == "wait before seal test"]
    return "; ".join(parts) or "how Stillroom keeps records"


def choices_for_unsealed(
    stock: Stock, code: str, at: dt.datetime
) -> tuple[Trouble, ...] | Refusal:
    """Return what is published for jars that have not sealed, by their hours."""
    made, lot = stock.made(code), stock.lots[code]
    if made is None:
        return Refusal(
            f"{lot.what} was not made here, so its hours are not known",
            instead="discard an unsealed jar untasted",
            source="Michigan State Univ. Extension leaflet 01600593",
        )
    food = made.batch.food
    dense = food == "pie filling" or is_dense(lot.what)
    sign = "dense not sealed" if dense else "not sealed"
    hours = hours_since(made, lot, at)
    return troubles_for(
        sign if hours <= CHECK_WITHIN_H else "not sealed",
        hours=hours,
        food=food if food in FOODS else None,
    )


LOOK_FIRST = "look at each lid before its jar is eaten"
CHECK_MISSED = f"check missed: {LOOK_FIRST}"


def check_missed(stock: Stock, code: str, at: dt.datetime) -> bool:
    """
    Whether the seals should have been looked at by now, and were not.

    Jars in doubt are not eaten, however their lids look: no look at them was missed.
    """
    made, lot = stock.made(code), stock.lots[code]
    if made is None or not seals_unseen(stock, code) or is_in_doubt(stock, code):
        return False
    return hours_waited(made, lot, at) > CHECK_WITHIN_H


def seals_unseen(stock: Stock, code: str) -> bool:
    """Whether these are jars of ours from a canner, and nobody looked at their lids."""
    made, lot = stock.made(code), stock.lots[code]
    if made is None or not made.batch.canned or lot.kind is not Kind.FILLED:
        return False
    return not any(check.good is not None for check in stock.checks(code))


@lru_cache(maxsize=1024)  # what the book does not know it looks for all over
def product_kind(what: str) -> str:
    """Return the kind of product that the book has under a name; empty if none."""
    product = product_named(what)
    return "" if isinstance(product, Refusal) else product.kind


_SEALS = {
    **dict.fromkeys(("good", "sealed", "ok", "okay"), "good"),
    **dict.fromkeys(("failed", "bad", "unsealed", "loose", "not"), "failed"),
    **dict.fromkeys(("doubtful", "unsure", "maybe"), "doubtful"),
}
"""A lid that popped may have gone down or come up: that word is not read."""
_ALL_GOOD = re.compile(r"(?i)\s*all(?:\s+(?:are|of\s+them))?\s+(\w+)[.!]?\s*")


def read_seals(text: str, *, jars: int | None = None) -> tuple[int, int, int]:
    """
    Read what was seen of the seals: (good, failed, doubtful).

    "All good" is understood where it is known of how many ``jars`` that is said.

    Raises
    ------
    Unreadable
        If a number or a word is missing, said twice, or not one of the three.

    Examples
    --------
    >>> read_seals("7 good 1 failed")
    (7, 1, 0)
    >>> read_seals("all sealed", jars=8)
    (8, 0, 0)
    """
    if jars and are_all_sealed(text):
        return jars, 0, 0
    words = text.lower().replace(",", " ").replace(" and ", " ").split()
    seen: dict[str, int] = {}
    for number, said in zip(words[::2], words[1::2], strict=False):
        word = _SEALS.get(said, "")
        if not word or word in seen:
            break
        if not (number.isascii() and number.isdecimal() and len(number) <= 4):
            break
        seen[word] = int(number)
    if not seen or len(seen) * 2 != len(words):
        raise Unreadable(
            f"{text[:60]!r} does not say what was seen of the seals: write "
            '"7 good 1 failed", with doubtful as a third word'
        )
    return seen.get("good", 0), seen.get("failed", 0), seen.get("doubtful", 0)


def are_all_sealed(text: str) -> bool:
    """
    Whether it is said of all the jars at hand that they are sealed.

    >>> are_all_sealed("All are sealed."), are_all_sealed("all bad")
    (True, False)
    """
    every = _ALL_GOOD.fullmatch(text)
    return every is not None and _SEALS.get(every[1].lower()) == "good"


def read_clock(text: str, what: str) -> str:
    """
    Read a clock time; it comes back as "14:05".

    Raises
    ------
    Unreadable
        If it is none.

    Examples
    --------
    >>> read_clock("9:05", "--out"), read_clock("2:30 pm", "--out")
    ('09:05', '14:30')
    >>> read_clock("9.05", "--out"), read_clock("1405", "--out")
    ('09:05', '14:05')
    """
    if not text:
        return ""
    clock = clock_time(text)
    if clock is None:
        raise Unreadable(
            Fault(
                f"{text[:30]!r} is no clock time: write such as 14:05, or 2:05 pm",
                key=what,
            )
        )
    return f"{clock:%H:%M}"
