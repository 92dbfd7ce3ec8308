"""
Said later of jars that came in as they stand: how they were put up. Pure.

It is an entry of its own, with who knows it. A process stands only where the book has
one for it and what it had was whole: less would count as none.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.book.acid_foods import acid_of_its_own, acid_printed, may_mean
from stillroom.book.names import bare
from stillroom.book.process_table import JARS
from stillroom.book.processes import METHODS
from stillroom.in_a_list import any_of
from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD, known_lot
from stillroom.stock.commands import SayPutUp
from stillroom.stock.decision import Decision
from stillroom.stock.due import PACKS, due_process, is_jar
from stillroom.stock.events import How, Lot, PutUpSaid
from stillroom.stock.fold import Stock
from stillroom.stock.gauge import has_gauge, is_too_low, psi_words, read_gauge
from stillroom.stock.lotcode import printed
from stillroom.stock.no_process_needed import may_be_kept_dry
from stillroom.stock.unknown_process import (
    PROCESS_UNKNOWN_SOURCE,
    how_it_is_known,
    is_process_unknown,
)
from stillroom.stock.words import clean


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What may be said of jars, to be chosen from."""

    ways: tuple[How, ...]
    names: tuple[str, ...]
    """Products that its name may mean; none where it means one."""
    jars: tuple[str, ...]
    """Sizes, where it is not in the record."""
    acid: str
    """What is printed of the acid that it counts on; empty where none belongs to it."""
    canners: tuple[str, ...] = METHODS
    packs: tuple[str, ...] = PACKS


def put_up_asked(stock: Stock, code: str) -> Asked | None:
    """Return what is asked of how jars were put up; `None` where it is not."""
    if not is_process_unknown(stock, code):
        return None
    lot = stock.lots[code]
    dry = may_be_kept_dry(lot.what)
    return Asked(
        ways=tuple(how for how in How if dry or how is not How.DRY),
        names=may_mean(lot.what),
        jars=() if is_jar(lot.measure.part) else JARS,
        acid=acid_printed(lot.what),
    )


def say_put_up(stock: Stock, command: SayPutUp) -> Decision:
    """Take down how jars were put up of which nobody said so."""
    code = known_lot(stock, command.lot)
    if isinstance(code, Refusal):
        return code
    lot = stock.lots[code]
    said = f"{lot.what} {printed(code)}"
    if not is_process_unknown(stock, code):
        return Refusal(
            f"it is not asked of {said} how it was put up",
            instead="look at it with stillroom stock trace; what was said wrongly is "
            "taken back with stillroom stock mend, and jars of your own are booked "
            "with stillroom stock made",
            source=OUR_RECORD,
        )
    if not command.who.strip():
        return Refusal(
            f"it was not said who knows how {said} was put up",
            instead="name who put it up, or bought it; where nobody knows, discard it "
            "untasted",
            source=OUR_RECORD,
        )
    who = clean(command.who, "who")
    if command.how is How.PROCESS:
        return _by_a_process(stock, lot, command, who)
    if command.how is How.DRY and not may_be_kept_dry(lot.what):
        return Refusal(
            f"{lot.what} is not known as something that is kept dry",
            instead=how_it_is_known(stock, code),
            source=PROCESS_UNKNOWN_SOURCE,
        )
    return (
        PutUpSaid(
            lot=code,
            how=command.how,
            who=who,
            occurred_at=command.at,
            token=command.token,
            late=command.late,
        ),
    )


def acid_counted_on(stock: Stock, code: str) -> str:
    """
    Say that a process just booked counts on its acid; empty where none belongs to it.

    Its minutes were tested with it, under pressure too: who says them says that too.
    """
    said = stock.put_up_said(code)
    if said is None or said.how is not How.PROCESS:
        return ""
    what = said.which or stock.lots[code].what
    acid = acid_printed(what) or acid_of_its_own(what)
    if not acid:
        return ""
    return (
        f'that counts on its acid, put in before the jars were closed ("{acid}"): if '
        "it was left out, or nobody knows, take this entry back with stillroom stock "
        f"mend {stock.sequence} --why WORDS, and discard it untasted"
    )


def _by_a_process(stock: Stock, lot: Lot, command: SayPutUp, who: str) -> Decision:
    gauge_psi = read_gauge(command.gauge, canner=command.canner)
    if (no := _not_all_said(lot, command, gauge_psi)) is not None:
        return no
    due = due_process(
        command.which or lot.what,
        command.jar or lot.measure.part,
        elevation_ft=command.elevation_ft,
        canner=command.canner,
        pack=command.pack or None,
        gauge_psi=gauge_psi,
    )
    said = f"{lot.what} {printed(lot.code)}"
    had = f"{command.minutes} min{psi_words(gauge_psi)}"
    if due.minutes is None:
        return Refusal(
            f"no published process is known for {said} with {had} in a "
            f"{command.canner} canner: {due.words}",
            instead="say it as the book has it, if it was so; else it stays on hold, "
            "and is discarded untasted",
            source=PROCESS_UNKNOWN_SOURCE,
        )
    if (command.minutes or 0) < due.minutes or is_too_low(gauge_psi, due.psi):
        return Refusal(
            f"{said} had {had}, and {due.minutes} min{psi_words(due.psi)} are "
            "published for it: too little, which counts as none",
            instead="it stays on hold: discard it untasted, jars and all: stillroom "
            f"stock out {printed(lot.code)} QUANTITY --as spoiled",
            source=due.words,
        )
    return (
        PutUpSaid(
            lot=lot.code,
            how=How.PROCESS,
            who=who,
            minutes=command.minutes,
            canner=command.canner,
            gauge_psi=gauge_psi,
            pack=command.pack,
            elevation_ft=command.elevation_ft,
            which=command.which,
            jar=command.jar,
            due_min=due.minutes,
            due_source=due.words,
            due_psi=due.psi,
            occurred_at=command.at,
            token=command.token,
            late=command.late,
        ),
    )


def _not_all_said(
    lot: Lot, command: SayPutUp, gauge_psi: float | None
) -> Refusal | None:
    """Return what is still to be said of a process; `None` where all is."""
    names = may_mean(lot.what)
    if command.which and bare(command.which) not in {bare(name) for name in names}:
        return Refusal(
            f"{lot.what} is not a name that may mean {command.which}",
            instead=f"say which it is of {any_of(names)}"
            if names
            else "leave it out; a lot that is something else is taken back with "
            "stillroom stock mend, and added anew under its name",
            source=OUR_RECORD,
        )
    booked = lot.measure.part
    if command.jar and is_jar(booked) and command.jar != booked:
        return Refusal(
            f"its jar is in the record: {booked}",
            instead="leave it out; if that was a mistake, take the entry back with "
            "stillroom stock mend, and add the lot anew",
            source=OUR_RECORD,
        )
    said = (
        ("its minutes", "--process MINUTES", command.minutes),
        (f"its canner, {any_of(METHODS)}", "--canner CANNER", command.canner),
        (
            "what its gauge read",
            "--gauge READING",
            gauge_psi is not None or not has_gauge(command.canner),
        ),
        ("its height", "--elevation HEIGHT", command.elevation_ft is not None),
        ("its jar", "--jar SIZE", command.jar or is_jar(booked)),
        ("which it is", "--which NAME", command.which or not names),
    )
    lacks = [(words, option) for words, option, is_said in said if not is_said]
    if not lacks:
        return None
    words = ", ".join(words for words, _ in lacks)
    return Refusal(
        f"how {lot.what} {printed(lot.code)} was put up is not said whole: {words}",
        instead="say in one entry also "
        + " ".join(option for _, option in lacks)
        + "; where nobody knows it, discard it untasted",
        source=PROCESS_UNKNOWN_SOURCE,
    )
