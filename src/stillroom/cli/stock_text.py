"""How the stock is said in the terminal, and as JSON."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from itertools import groupby
from typing import Any

from stillroom.cli.paragraphs import bullet, columns, heading, say, strong
from stillroom.jar_count import counted, plural
from stillroom.paper.stock_sheets import untasted_words
from stillroom.refusal import Refusal
from stillroom.stock.accounts import RecallSheet
from stillroom.stock.events import SET_ASIDE, AnyEvent, Lot, Made, Part, Taken, Way
from stillroom.stock.fold import Stock
from stillroom.stock.gauge import psi_words
from stillroom.stock.how_long_ago import left_words, since_words
from stillroom.stock.jars_out import hours_since
from stillroom.stock.lacks import gauge_read_psi, is_in_doubt
from stillroom.stock.lotcode import printed
from stillroom.stock.making import (
    CHECK_MISSED,
    CHECK_WITHIN_H,
    check_missed,
    choices_for_unsealed,
    holds,
)
from stillroom.stock.mass import Balance, balance_of
from stillroom.stock.no_process_needed import KEPT_DRY
from stillroom.stock.on_hand import OnHand, on_hand
from stillroom.stock.sentence import Proposal
from stillroom.stock.told import told
from stillroom.stock.tracing import Trace
from stillroom.stock.words import said_day


def print_list(stock: Stock, rows: Iterable[OnHand], at: dt.datetime) -> None:
    """Print what is on hand, by place; within a place what keeps least comes first."""
    by_place = sorted(rows, key=lambda row: row.place.casefold())
    if not by_place:
        places = dict.fromkeys(row.place for row in on_hand(stock))
        known = f" There is something at {', '.join(places)}." if places else ""
        say(f"Nothing of that is on hand.{known}")
        return
    for place, here in groupby(by_place, key=lambda row: row.place):
        heading(place[:1].upper() + place[1:])
        columns(
            [
                (row.words, row.lot.what, printed(row.lot.code), _state(stock, row, at))
                for row in here
            ]
        )


def _state(stock: Stock, row: OnHand, at: dt.datetime) -> str:
    said = [said_day(row.lot.day)] if row.lot.day else []
    held = holds(stock, row.lot.code)
    if row.place == SET_ASIDE:
        said.append(strong("seal failed or doubtful"))
    elif row.keeps.until is not None and not held:
        past = row.keeps.until < at.date()
        word = "past its best since" if past else "best until"
        day = said_day(row.keeps.until.isoformat())
        said.append(f"{word} {day}{row.keeps.mark}")
    if held:
        said.append(strong(f"on hold: {'; '.join(held)}"))
    if check_missed(stock, row.lot.code, at):
        said.append(CHECK_MISSED)
    return ", ".join(said)


def row_as_json(stock: Stock, row: OnHand) -> dict[str, Any]:
    """Return one row of the contract of ``stock --json``."""
    lot, until = row.lot, row.keeps.until
    doubt = is_in_doubt(stock, lot.code)
    return {
        "lot": printed(lot.code),
        "what": lot.what,
        "kind": lot.kind.value,
        "place": row.place,
        "quantity": row.number,
        "unit": lot.measure.unit.value,
        "part": lot.measure.part or None,
        "each": lot.measure.each or None,
        "words": row.words,
        "day": lot.day or None,
        "supplier": lot.supplier or None,
        "best_until": until.isoformat() if until and not doubt else None,
        "best_until_why": "no date: its process is in doubt, see on_hold"
        if doubt
        else row.keeps.words,
        "source": row.keeps.source.text,
        "how_known": row.keeps.source.how_known,
        "on_hold": list(holds(stock, lot.code)),
    }


def print_proposal(proposal: Proposal) -> None:
    """Print what was understood of a sentence, and what was not."""
    if proposal.understood:
        say("Understood:")
        columns([(what, words) for what, words in proposal.understood])
    for remark in proposal.remarks:
        say(f"Mind: {remark}.")
    for fault in proposal.faults:
        say(f"Not understood: {fault}")


def print_booked(stock: Stock, events: Iterable[AnyEvent]) -> None:
    """Say what was booked, and under which number."""
    booked = tuple(events)
    number = stock.sequence - len(booked) + 1
    if not booked:
        say("That was booked before; nothing was booked again.")
    for i, event in enumerate(booked):
        say(f"Booked as number {number + i}: {told(stock, event)}")


def print_history(stock: Stock, code: str | None) -> None:
    """Print the entries, of a lot or all, the oldest first."""
    rows = []
    all_ = enumerate(stock.events, start=1) if code is None else stock.about(code)
    for number, event in all_:
        mended = "" if number in stock else " (mended since)"
        at = event.occurred_at.astimezone()
        rows.append((f"{number}", f"{at:%Y-%m-%d %H:%M}", told(stock, event) + mended))
    if not rows:
        say("Nothing was booked yet.")
    columns(rows, indent="")


def print_holds(stock: Stock, code: str) -> bool:
    """Print why a lot is on hold; returns whether it is."""
    reasons = holds(stock, code)
    for reason in reasons:
        bullet(strong(f"On hold: {reason}."))
    return bool(reasons)


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
    heading("What was made of it")
    if not found.forward:
        say("Nothing.")
    for link in found.forward:
        bullet(_link_words(link.lot, link.steps, []))
    heading("Where it is")
    if not found.on_hand:
        say("Nothing of it is on hand.")
    for lot, place, number in found.on_hand:
        bullet(f"{_lot_line(lot, number)}, at {place}")
    heading("Where it went")
    if not found.outs:
        say("Nothing of it has left the shelf.")
    for out in found.outs:
        bullet(_out_line(stock, out.event, out.part))
    if found.same_load:
        heading("In the same canner load")
        for lot in found.same_load:
            there = ", ".join(
                f"{lot.measure.words(n)} at {place}"
                for place, n in stock.places(lot.code).items()
            )
            bullet(f"{_lot_line(lot)}: {there or 'none on hand'}")


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
        ("boil began", batch.boil_start),
        ("boiled", batch.boiled),
        ("canner load", f"{batch.load}" if batch.load else ""),
        ("canner", batch.canner),
        (
            "elevation",
            "" if batch.elevation_ft is None else f"{batch.elevation_ft} ft",
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


def print_choices(stock: Stock, code: str, at: dt.datetime) -> None:
    """Print what is published for jars that have not sealed, with its hours."""
    found = choices_for_unsealed(stock, code, at)
    heading("Jars that have not sealed")
    made = stock.made(code)
    if made is not None:
        hours = hours_since(made, stock.lots[code], at)
        left = dt.timedelta(hours=CHECK_WITHIN_H - hours)
        say(
            f"Out of the canner for {since_words(hours)}, as far as the record knows"
            + (f": {left_words(left)} are left." if left > dt.timedelta() else ".")
        )
    if isinstance(found, Refusal):
        say(str(found))
        return
    for trouble in found:
        say(trouble.advice)
        if trouble.within_h is not None:
            say(f"This holds within {trouble.within_h:g} h of the process.")
        known = trouble.source.how_known.replace("_", " ")
        say(f"From: {trouble.source} ({known}).")


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

    def of(lot: Lot, steps: int = 0) -> dict[str, Any]:
        return {
            "lot": printed(lot.code),
            "what": lot.what,
            "day": lot.day or None,
            "supplier": lot.supplier or None,
            "steps": steps,
        }

    return {
        "lot": of(found.lot),
        "on_hold": list(holds(stock, found.lot.code)),
        "mass": _mass_as_json(balance_of(stock, found.lot.code)),
        "inputs": [of(link.lot, link.steps) for link in found.back],
        "made_of_it": [of(link.lot, link.steps) for link in found.forward],
        "on_hand": [
            {
                "lot": printed(lot.code),
                "place": place,
                "quantity": number,
                "unit": lot.measure.unit.value,
                "words": lot.measure.words(number),
            }
            for lot, place, number in found.on_hand
        ],
        "went": [
            {
                "lot": printed(out.part.lot),
                "way": out.event.way.value,
                "quantity": out.part.number,
                "words": stock.lots[out.part.lot].measure.words(out.part.number),
                "to": out.event.to or None,
                "why": out.event.why or None,
                "at": out.event.occurred_at.isoformat(),
            }
            for out in found.outs
        ],
        "same_load": [printed(lot.code) for lot in found.same_load],
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
