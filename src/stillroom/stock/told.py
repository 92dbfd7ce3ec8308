"""Each entry in a plain sentence, as the history shows it."""

from __future__ import annotations

from collections.abc import Iterable

from stillroom.in_a_list import all_of
from stillroom.jar_count import counted
from stillroom.measures import height
from stillroom.stock.events import (
    AnyEvent,
    Checked,
    ColdSaid,
    Completed,
    Counted,
    GaugeSaid,
    Held,
    How,
    Labelled,
    Made,
    Mended,
    Moved,
    Noted,
    Part,
    Pictured,
    Processed,
    PutUpSaid,
    Recalled,
    Received,
    Taken,
)
from stillroom.stock.fold import Stock
from stillroom.stock.gauge import psi_words
from stillroom.stock.lotcode import printed
from stillroom.stock.making import held_words
from stillroom.stock.tracing import whom
from stillroom.stock.words import by_plan, said_day


def told(stock: Stock, event: AnyEvent) -> str:
    """Return what happened, in a sentence without its full stop."""
    said = _told(stock, event)
    return f"{said} (typed in late)" if event.late else said


def _told(stock: Stock, event: AnyEvent) -> str:
    match event:
        case Received(lot=lot, place=place, number=number):
            said = f"{lot.measure.of(number, lot.what)} {printed(lot.code)}"
            whom = f" from {lot.supplier}" if lot.supplier else ""
            return f"received {said} at {place}{whom}"
        case Made(lot=lot, place=place, number=number, inputs=inputs):
            said = f"made {lot.measure.of(number, lot.what)} "
            said += f"{printed(lot.code)}, at {place}"
            return said + (f", out of {_parts(stock, inputs)}" if inputs else "")
        case Taken(way=way, parts=parts, to=to, why=why):
            said = f"{way.value}: {_parts(stock, parts)}"
            return said + (f", to {to}" if to else "") + (f" ({why})" if why else "")
        case Moved(parts=parts, to=to):
            return f"moved {_parts(stock, parts)} to {to}"
        case Counted():
            return _counted(stock, event)
        case Checked():
            return _checked(stock, event)
        case Held(day=day, load=load, lots=codes):
            which = (
                f"load {load} of {said_day(day)}"
                if load is not None
                else (", ".join(map(printed, codes)))
            )
            held = codes if load is None else stock.of_load(day, load)
            return f"put on hold {which}: {held_words(event)}{_went(stock, held)}"
        case Processed(lots=codes, who=who):
            which = ", ".join(map(printed, codes))
            return (
                f"processed {which}: {event.minutes} min{psi_words(event.gauge_psi)}, "
                f"from {event.began:%H:%M} to {event.ended:%H:%M}, seen by {who}"
            )
        case Completed(lot=code, due_min=due):
            name = f"{stock.lots[code].what} {printed(code)}"
            at = psi_words(event.due_psi)
            return f"said of {name}: {_added(event)}; {due} min{at} are due"
        case ColdSaid(lot=code, place=place, cold=cold, who=who):
            name = f"{stock.lots[code].what} {printed(code)}"
            return f"said of {name}: {place} was as cold as a {cold}, {who} says"
        case GaugeSaid(lot=code, gauge_psi=psi, who=who):
            name = f"{stock.lots[code].what} {printed(code)}"
            return f"said of {name}: its gauge read {psi:g} psi, {who} says"
        case PutUpSaid(lot=code):
            return f"said of {stock.lots[code].what} {printed(code)}: {_put_up(event)}"
        case Labelled(lot=code, hand=hand):
            return f"label {hand.value}: {stock.lots[code].what} {printed(code)}"
        case Noted(lot=code, about=about, words=words):
            return f"{about.value}: {stock.lots[code].what} {printed(code)}: {words}"
        case Pictured(lot=code):
            return f"picture kept of {stock.lots[code].what} {printed(code)}"
        case Recalled(lots=codes, why=why):
            return f"recalled {', '.join(map(printed, codes))}: {why}"
        case Mended(of=of, why=why):
            return f"mended number {of}: {why}"


def _went(stock: Stock, codes: Iterable[str]) -> str:
    """Say what of lots that are in doubt went to others, who are told; "" if none."""
    gone = []
    for code in codes:
        jars = sum(out.part.number for out in whom(stock.outs(code)))
        if jars and stock.recall(code) is None:
            gone.append(f"{stock.lots[code].measure.words(jars)} of {printed(code)}")
    if not gone:
        return ""
    return f"; {all_of(gone)} went to others: its recall sheet says whom to tell"


def _parts(stock: Stock, parts: tuple[Part, ...]) -> str:
    return all_of(
        f"{stock.lots[part.lot].measure.of(part.number, stock.lots[part.lot].what)} "
        f"{printed(part.lot)} at {part.place}"
        for part in parts
    )


def _added(event: Completed) -> str:
    said = (
        event.which,
        event.jar and f"in {event.jar} jars",
        event.pack and f"{event.pack} pack",
        f"at {height(event.elevation_ft)}",
        event.canner and f"canner: {event.canner}",
    )
    return ", ".join(words for words in said if words)


def _put_up(event: PutUpSaid) -> str:
    if event.how is not How.PROCESS:
        return f"{event.how.value}, {event.who} says"
    said = (
        event.which,
        event.jar and f"in {event.jar} jars",
        event.pack and f"{event.pack} pack",
        event.elevation_ft is not None and f"at {height(event.elevation_ft)}",
        f"{event.minutes} min{psi_words(event.gauge_psi)}",
        event.canner and f"canner: {event.canner}",
    )
    how = ", ".join(words for words in said if words)
    at = psi_words(event.due_psi)
    return f"{how}, {event.who} says; {event.due_min} min{at} are due"


def _counted(stock: Stock, event: Counted) -> str:
    lot = stock.lots[event.lot]
    measure = lot.measure
    said = f"counted {measure.of(event.number, lot.what)} {printed(lot.code)} "
    said += f"at {event.place}"
    less = event.book - event.number
    if not less:
        return f"{said}, as in the record"
    said += f"; the record had {measure.words(event.book)}, "
    said += f"{measure.words(abs(less))} {'fewer' if less > 0 else 'more'} now"
    return said + (f" ({event.why})" if event.why else "")


def _checked(stock: Stock, event: Checked) -> str:
    said = f"looked at {stock.lots[event.lot].what} {printed(event.lot)}: "
    parts = []
    made = stock.made(event.lot)
    if event.good is not None and made is not None and made.batch.stands:
        # it stood open in its dryer or crock: nobody has looked at a lid
        less = event.failed + event.doubtful
        rest = f", {less} not" if less else ""
        parts.append(f"{event.good} {made.batch.finished}{rest}")
    elif event.good is not None:
        parts.append(
            f"seals {event.good} good, {event.failed} failed, {event.doubtful} doubtful"
        )
    if event.seen:
        parts.append(f"set: {event.seen.value}")
    if event.aside > 0:
        parts.append(f"{counted(event.aside, 'jar')} set aside from {event.place}")
    elif event.aside < 0:
        parts.append(f"{counted(-event.aside, 'jar')} back to {event.place}")
    return said + ", ".join(parts) + (f" ({event.note})" if event.note else "")


def load_words(made: Made) -> str:
    """Say in which load of its day a lot was: "2", "2, by the plan of ..."."""
    plan = by_plan(made.batch.run, made.lot.day)
    load = "" if made.batch.load is None else str(made.batch.load)
    return ", ".join(word for word in (load, plan) if load and word)
