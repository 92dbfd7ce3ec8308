"""How a trace, a making and a recall are said in the terminal, and as JSON."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from stillroom.cli.paragraphs import bullet, columns, heading, say, strong
from stillroom.cli.stock_text import print_holds
from stillroom.jar_count import counted, plural
from stillroom.measures import height
from stillroom.paper.stock_sheets import untasted_words
from stillroom.refusal import Refusal
from stillroom.running.clock import HERE
from stillroom.stock.accounts import RecallSheet
from stillroom.stock.by_supplier import Supplied, held_of
from stillroom.stock.clock_here import clock_here
from stillroom.stock.events import Lot, Made, Part, Taken, Way
from stillroom.stock.fold import Out, Stock
from stillroom.stock.gauge import psi_words
from stillroom.stock.lacks import gauge_read_psi
from stillroom.stock.lotcode import printed
from stillroom.stock.making import holds
from stillroom.stock.mass import Balance, balance_of
from stillroom.stock.no_process_needed import KEPT_DRY
from stillroom.stock.tracing import Link, Trace
from stillroom.stock.words import said_day


def print_trace(stock: Stock, found: Trace) -> None:
    """Print a trace both ways."""
    say(_lot_line(found.lot) + ".")
    made = stock.made(found.lot.code)
    if made is not None:
        print_making(stock, found.lot.code)
    print_holds(stock, found.lot.code)
    heading("What went into it")
    if not found.back:
        say(_nothing_went_in(found.lot, made))
    direct = made.inputs if made else ()
    for link in found.back:
        took = [part for part in direct if part.lot == link.lot.code]
        bullet(_link_words(link.lot, link.steps, took))
    mass = balance_of(stock, found.lot.code)
    if isinstance(mass, Balance):
        say(f"By weight: {mass.sentence}.")
        if mass.remark:
            say(strong(f"Mind: {mass.remark}"))
    _print_forward(stock, found.forward, found.on_hand, found.outs)
    if found.same_load:
        heading("In the same canner load")
        for lot in found.same_load:
            there = ", ".join(
                f"{lot.measure.words(n)} at {place}"
                for place, n in stock.places(lot.code).items()
            )
            bullet(f"{_lot_line(lot)}: {there or 'none on hand'}")


def print_supplied(stock: Stock, found: Supplied) -> None:
    """Print all that came from one supplier, and what became of it."""
    heading(f"What came from {found.supplier}")
    for lot in found.came:
        bullet(_lot_line(lot))
    _print_forward(stock, found.made, found.on_hand, found.outs)
    held = held_of(stock, found)
    if held:
        heading("On hold")
    for lot, reasons in held:
        bullet(strong(f"{lot.what} {printed(lot.code)}: {'; '.join(reasons)}."))
    free = [lot for lot in found.came if stock.recall(lot.code) is None]
    if free:
        say(
            "To call one of these back with all that was made of it: stillroom stock "
            f'recall {printed(free[0].code)} --why "..."; each lot by itself.'
        )


def _print_forward(
    stock: Stock,
    made: Iterable[Link],
    on_hand: Iterable[tuple[Lot, str, int]],
    outs: Iterable[Out],
) -> None:
    heading("What was made of it")
    _bullets_or("Nothing.", (_link_words(link.lot, link.steps, []) for link in made))
    heading("Where it is")
    _bullets_or(
        "Nothing of it is on hand.",
        (f"{_lot_line(lot, number)}, at {place}" for lot, place, number in on_hand),
    )
    heading("Where it went")
    _bullets_or(
        "Nothing of it has left the shelf.",
        (_out_line(stock, out.event, out.part) for out in outs),
    )


def _nothing_went_in(lot: Lot, made: Made | None) -> str:
    """Say why no lot is known that went into one."""
    if made is not None and made.batch.unbooked:
        return f"No lot that the record knows: {made.batch.unbooked}."
    if made is not None:
        return "No lot that the record knows: it was made here, and none was named."
    if lot.supplier:
        return f"Nothing that the record knows; it came from {lot.supplier}."
    return (
        "Nothing that the record knows: it came in as it is, and from whom was not "
        "said."
    )


def print_making(stock: Stock, code: str) -> None:
    """Print how a lot was made, as far as it was said, and what is still open."""
    made = stock.made(code)
    if made is None:
        return
    batch = made.batch
    said = [
        ("recipe", batch.recipe),
        ("source", batch.source),
        ("times the recipe", f"{batch.multiple}" if batch.multiple > 1 else ""),
        ("who", batch.who),
        ("pot", batch.pot),
        ("boil began", clock_here(made, batch.boil_start, HERE)),
        ("boiled", batch.boiled),
        ("canner load", f"{batch.load}" if batch.load else ""),
        ("canner", batch.canner),
        (
            "elevation",
            "" if batch.elevation_ft is None else height(batch.elevation_ft),
        ),
        ("pack", batch.pack),
        (
            "process given",
            _minutes(batch.process_min) + psi_words(gauge_read_psi(stock, code))
            if batch.canned
            else "",
        ),
        (
            "process due",
            _minutes(batch.due_min) + psi_words(batch.due_psi) if batch.due_min else "",
        ),
        ("process begun anew", _times(batch.times_lost)),
        ("broke in the canner", f"{batch.broken}" if batch.broken else ""),
        ("who says so", batch.due_source),
        ("lids", batch.lids),
        ("tasting", batch.tasting),
        ("picture", batch.picture),
    ]
    for check in stock.checks(code):
        if check.good is not None:
            said.append(
                (
                    "seals",
                    f"{check.good} good, {check.failed} failed, "
                    f"{check.doubtful} doubtful",
                )
            )
        if check.seen:
            said.append(("set", check.seen.value))
        said.append(("note", check.note))
    if stock.lots[code].kept_dry:
        said.append(("kept", KEPT_DRY))
    said.append(("note", stock.lots[code].note))
    said += [(noted.about.value, noted.words) for noted in stock.notes(code)]
    columns([(what, words) for what, words in said if words])


def print_recall(stock: Stock, sheet: RecallSheet) -> None:
    """Print the recall sheet: what, where, who is told."""
    found = sheet.trace
    heading(f"Recall of {_lot_line(found.lot)}")
    say(f"Why: {sheet.why}.")
    heading("The lots, and where all of each went")
    for account in sheet.accounts:
        bullet(f"{printed(account.lot.code)} {account.lot.what}: {account.said}.")
        if not account.is_whole:
            bullet(strong("The entries do not add up: run stillroom check."))
    heading("Take these off the shelf now")
    if untasted := untasted_words(sheet):
        say(strong(untasted))
    if not found.on_hand:
        say("Nothing of it is on hand.")
    for lot, place, number in found.on_hand:
        bullet(
            f"[ ] {place}: {lot.measure.words(number)}, {lot.what} {printed(lot.code)}"
        )
    heading("Tell those who have it")
    told_to = sheet.told
    if not told_to:
        say("None was sold or given, as far as the record knows.")
    for out in told_to:
        bullet("[ ] " + _out_line(stock, out.event, out.part))
    heading("Tell those it came from")
    if not sheet.suppliers:
        say("No supplier was written down.")
    for lot in sheet.suppliers:
        bullet(f"[ ] {lot.supplier}: {lot.what} {printed(lot.code)}")
    if found.same_load:
        heading("Look at these too: the same canner load")
        for lot in found.same_load:
            places = stock.places(lot.code).items()
            where = "; ".join(f"{lot.measure.words(n)} at {p}" for p, n in places)
            bullet(f"[ ] {lot.what} {printed(lot.code)}: {where or 'none on hand'}")
    say(
        "Whether an authority is told is decided by the rules of your place: ask your "
        "extension service or food authority."
    )


def trace_as_json(stock: Stock, found: Trace) -> dict[str, Any]:
    """Return the contract of ``stock trace --json``."""
    return {
        "lot": _lot_as_json(found.lot),
        "on_hold": list(holds(stock, found.lot.code)),
        "mass": _mass_as_json(balance_of(stock, found.lot.code)),
        "inputs": [_lot_as_json(link.lot, link.steps) for link in found.back],
        "made_of_it": [_lot_as_json(link.lot, link.steps) for link in found.forward],
        "on_hand": [_here_as_json(*here) for here in found.on_hand],
        "went": [_out_as_json(stock, out) for out in found.outs],
        "same_load": [printed(lot.code) for lot in found.same_load],
    }


def supplied_as_json(stock: Stock, found: Supplied) -> dict[str, Any]:
    """Return the contract of ``stock trace --from NAME --json``."""
    return {
        "supplier": found.supplier,
        "came": [_lot_as_json(lot) for lot in found.came],
        "made_of_it": [_lot_as_json(link.lot, link.steps) for link in found.made],
        "on_hand": [_here_as_json(*here) for here in found.on_hand],
        "went": [_out_as_json(stock, out) for out in found.outs],
        "on_hold": [
            {"lot": printed(lot.code), "why": list(reasons)}
            for lot, reasons in held_of(stock, found)
        ],
    }


def _lot_as_json(lot: Lot, steps: int = 0) -> dict[str, Any]:
    return {
        "lot": printed(lot.code),
        "what": lot.what,
        "day": lot.day or None,
        "supplier": lot.supplier or None,
        "steps": steps,
    }


def _here_as_json(lot: Lot, place: str, number: int) -> dict[str, Any]:
    return {
        "lot": printed(lot.code),
        "place": place,
        "quantity": number,
        "unit": lot.measure.unit.value,
        "words": lot.measure.words(number),
    }


def _out_as_json(stock: Stock, out: Out) -> dict[str, Any]:
    return {
        "lot": printed(out.part.lot),
        "way": out.event.way.value,
        "quantity": out.part.number,
        "words": stock.lots[out.part.lot].measure.words(out.part.number),
        "to": out.event.to or None,
        "why": out.event.why or None,
        "at": out.event.occurred_at.isoformat(),
    }


def _mass_as_json(mass: Balance | Refusal) -> dict[str, Any] | None:
    if isinstance(mass, Refusal):
        return None
    return {
        "in_mg": mass.in_mg,
        "out_mg": mass.out.mass_mg,
        "inputs": [{"what": i.name, "mass_mg": i.mass_mg} for i in mass.inputs],
        "losses": [{"what": x.name, "mass_mg": x.mass_mg} for x in mass.losses],
        "not_weighed": list(mass.not_weighed),
        "remark": mass.remark or None,
    }


def _bullets_or(nothing: str, lines: Iterable[str]) -> None:
    said = list(lines)
    if not said:
        say(nothing)
    for line in said:
        bullet(line)


def _lot_line(lot: Lot, number: int = 0) -> str:
    what = lot.measure.of(number, lot.what) if number else lot.what
    parts = [f"{what} {printed(lot.code)}"]
    if lot.day:
        parts.append(said_day(lot.day))
    if lot.supplier:
        parts.append(f"from {lot.supplier}")
    return ", ".join(parts)


def _link_words(lot: Lot, steps: int, took: list[Part]) -> str:
    said = _lot_line(lot, sum(part.number for part in took))
    return said if steps == 1 else f"{said} ({counted(steps, 'step')} away)"


def _out_line(stock: Stock, event: Taken, part: Part) -> str:
    lot = stock.lots[part.lot]
    day = said_day(event.occurred_at.astimezone().date().isoformat())
    said = f"{day}: {lot.measure.of(part.number, lot.what)} "
    said += f"{printed(lot.code)} {event.way.value}"
    if event.to:
        said += f" to {event.to}"
    elif event.way in (Way.SOLD, Way.GIVEN):
        said += " (to whom was not written down)"
    return said + (f": {event.why}" if event.why else "")


def _times(number: int) -> str:
    return f"{number} {plural(number, 'time')}" if number else ""


def _minutes(minutes: int | None) -> str:
    return f"{minutes} min" if minutes else "none"
