"""``stillroom stock made`` and ``stillroom stock check``: lots made, the day after."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import click

from stillroom.book.acid_foods import acid_printed
from stillroom.cli.as_typed import BOIL, MINUTES
from stillroom.cli.booking import agreed, book, now, optional, token
from stillroom.cli.commands.stock_after import print_choices_of
from stillroom.cli.commands.stock_from_run import book_run
from stillroom.cli.kept import database, kept, kept_or_new, kept_or_none_yet
from stillroom.cli.options import (
    WholeNumber,
    as_json,
    print_json,
    read_elevation_m,
)
from stillroom.cli.paragraphs import bullet, columns, say, strong
from stillroom.cli.stock_text import print_choices, print_holds, print_proposal
from stillroom.measures import FOOT_M
from stillroom.planning.day_file.dayfile import read_day
from stillroom.records.days import Records
from stillroom.refusal import Unreadable, granted
from stillroom.smallholding.invented import is_invented
from stillroom.stock.after import open_of
from stillroom.stock.amounts import MOST_PIECES
from stillroom.stock.before_booked import stood_too_long_words
from stillroom.stock.choosing import known_lot
from stillroom.stock.clock_offsets import with_offsets
from stillroom.stock.commands import Check, Incoming, Make
from stillroom.stock.decide import decide
from stillroom.stock.events import SET_ASIDE, Made, Seen
from stillroom.stock.fold import Stock
from stillroom.stock.gauge import gauge_not_said, psi_words, read_gauge
from stillroom.stock.handle import stock_now
from stillroom.stock.how_long_ago import clock_words, since_words
from stillroom.stock.jars_out import hours_since, is_hour_said, out_on
from stillroom.stock.lacks import is_in_doubt
from stillroom.stock.lotcode import printed
from stillroom.stock.making import (
    CHECK_AFTER_H,
    holds,
    read_clock,
    read_seals,
)
from stillroom.stock.no_process_needed import KEPT_DRY
from stillroom.stock.not_counted_down import not_counted_down
from stillroom.stock.put_up import batch_put_up, no_part_of_a_making, thing_made
from stillroom.stock.sentence import Proposal, propose
from stillroom.stock.what_went_in import read_input
from stillroom.stock.words import read_day as read_past_day
from stillroom.stock.words import said_day

WHOLE = WholeNumber(1, MOST_PIECES)


@click.command()
@click.argument("words", nargs=-1)
@click.option(
    "--from-run",
    "run",
    is_flag=False,
    flag_value="last",
    default=None,
    metavar="[DAY]",
    help="The lots of a run at the stove instead; the last one, or of that day.",
)
@click.option(
    "--from",
    "inputs",
    multiple=True,
    metavar="LOT=QUANTITY",
    help="What went into it; may be given again.",
)
@click.option("--load", type=WholeNumber(1, 30), help="Canner load of that day.")
@click.option("--process", type=MINUTES, help="Minutes that it had.")
@click.option(
    "--canner", default="boiling-water", show_default=True, help="Which it was in."
)
@click.option("--gauge", default="", metavar="READING", help="11 psi, 15 lb weighted.")
@click.option("--pack", type=click.Choice(["hot", "raw"]), help="How it was packed.")
@click.option("--elevation", metavar="HEIGHT", help="2150ft or 655m; else the day's.")
@click.option("--filled", default="", metavar="TIME", help="Jars closed at 21:40.")
@click.option("--began", default="", metavar="TIME", help="Process from 22:05 on.")
@click.option("--out", "out_at", default="", metavar="TIME", help="Jars out at 14:05.")
@click.option("--on", "on", default="", metavar="DAY", help="Day it was made; today.")
@click.option("--recipe", default="", help="What it was made by.")
@click.option("--source", default="", help="Who published the recipe.")
@click.option("--multiple", type=WholeNumber(1, 20), default=1, help="Of the recipe.")
@click.option("--who", default="", help="Who made it.")
@click.option("--pot", default="", help="Which pot.")
@click.option("--boil-start", default="", metavar="TIME", help="Boil began at 13:20.")
@click.option("--boil-min", "boiled_s", type=BOIL, help='Minutes it boiled, or "30 s".')
@click.option("--lids", default="", help="Which lids, or their lot.")
@click.option("--tasting", default="", help="How it tasted.")
@click.option("--picture", default="", help="Where its picture is.")
@click.option("--note", default="", help="Anything else.")
@click.option("--yes", is_flag=True, help="Book it without asking.")
@database
@as_json
def made(
    words: tuple[str, ...],
    run: str | None,
    inputs: tuple[str, ...],
    load: int | None,
    process: int | None,
    canner: str,
    gauge: str,
    pack: str | None,
    elevation: str | None,
    filled: str,
    began: str,
    out_at: str,
    on: str,
    recipe: str,
    source: str,
    multiple: int,
    who: str,
    pot: str,
    boil_start: str,
    boiled_s: int | None,
    lids: str,
    tasting: str,
    picture: str,
    note: str,
    yes: bool,
    db: str,
    json_: bool,
) -> None:
    """Book what was made, "8 half-pints plum jelly, pantry", with what went in."""
    at = now()
    if bool(words) == (run is not None):
        raise click.UsageError("say what was made, in quotes, or give --from-run")
    if run is not None:
        if gauge:
            raise click.UsageError(
                "of a run each load has its gauge: say it on the page Lots of the day"
            )
        book_run(run, db, yes=yes, json_=json_)
        return
    with kept_or_none_yet(db) as records:
        stock = stock_now(records.ledger)
        understood, proposal = _understood(" ".join(words), stock, at, json_)
        day = _day(on or understood.day or "today", at.date())
        if fault := no_part_of_a_making(understood, day):
            raise Unreadable(fault)
        thing = thing_made(understood, day, optional(note, "--note"))
        filled_, out = read_clock(filled, "--filled"), read_clock(out_at, "--out")
        batch = replace(
            batch_put_up(
                thing,
                process_min=process,
                load=load,
                canner=canner,
                elevation_ft=_elevation_ft(elevation, records),
                pack=pack,
                gauge_psi=read_gauge(gauge, canner=canner),
            ),
            recipe=optional(recipe, "--recipe"),
            source=optional(source, "--source"),
            multiple=multiple,
            who=optional(who, "--who"),
            pot=optional(pot, "--pot"),
            boil_start=read_clock(boil_start, "--boil-start"),
            boil_min=None if boiled_s is None or boiled_s % 60 else boiled_s // 60,
            boil_s=boiled_s if boiled_s is not None and boiled_s % 60 else None,
            lids=optional(lids, "--lids"),
            filled_at=filled_,
            process_began=read_clock(began, "--began"),
            out_at=out,
            out_on=out_on(day, out, filled_, at),
            tasting=optional(tasting, "--tasting"),
            picture=optional(picture, "--picture"),
        )
        asked = Make(
            thing=thing,
            inputs=tuple(read_input(text, "--from") for text in inputs),
            batch=batch,
            on=day,
            at=at,
            token=token(),
        )
        if not json_:
            _show(asked)
            if stood := stood_too_long_words(decide(stock, asked)):
                say(strong(f"They will be on hold: {stood}."))
            for remark in proposal.remarks:
                say(f"Mind: {remark}.")
    if not agreed(yes, json_):
        if json_:
            print_json({"understood": dict(proposal.understood), "booked": []})
        return
    with kept_or_new(db, json_) as records:
        stock = book(records, asked, json_)
        if not json_:
            _print_what_follows(stock, at)


def _understood(
    words: str, stock: Stock, at: dt.datetime, json_: bool
) -> tuple[Incoming, Proposal]:
    """Return what was made, or say what of it cannot be read."""
    proposal = propose(
        words, today=at.date(), known_places=stock.known_places(), as_jars=True
    )
    if proposal.thing is None:
        if not json_:
            print_proposal(proposal)
        raise Unreadable(*(proposal.faults if json_ else ()), "Nothing was booked.")
    return proposal.thing, proposal


def _print_what_follows(stock: Stock, at: dt.datetime) -> None:
    """Say of the lot that was just booked what holds it, and what comes next."""
    booked = stock.event(stock.sequence)
    assert isinstance(booked, Made)
    code = booked.lot.code
    print_holds(stock, code)
    if unread := gauge_not_said(booked.batch, printed(code)):
        say(f"Mind: {unread}.")
    if left := not_counted_down(stock, booked):
        say(f"Mind: {left}.")
    open_ = open_of(stock, code, at)
    if open_ is not None and open_.choices is not None:
        print_choices_of(open_, at)
    elif open_ is not None and open_.missed:
        say(
            f"Seals: {open_.seals}: stillroom stock check {printed(code)} --seals "
            "7 good 1 failed"
        )
    elif booked.batch.canned:
        say(
            f"Look at the seals {CHECK_AFTER_H} to 24 h after the jars came out: "
            f"stillroom stock check {printed(code)} --seals 7 good 1 failed"
        )


def _day(text: str, today: dt.date) -> dt.date:
    day = read_past_day(text, today=today)
    if day is None or len(day) != 10:
        raise Unreadable(
            f"--on: {text[:30]!r} is no day; write today, 12 June 2026 or 2026-06-12"
        )
    return dt.date.fromisoformat(day)


def _elevation_ft(typed: str | None, records: Records) -> float | None:
    """
    Return the height as given, else that of the kitchen in the day file.

    That of an invented kitchen is nobody's own, and would say what process was due.
    """
    if typed is not None:
        return read_elevation_m(typed) / float(FOOT_M)
    text = records.days.current()
    if text is None:
        return None
    try:
        day = read_day(text)
    except Unreadable:
        return None
    if day.invented and not is_invented(records.ledger):
        return None
    metres = day.kitchen.elevation_m
    return None if metres is None else metres / float(FOOT_M)


def _show(asked: Make) -> None:
    thing, batch = asked.thing, asked.batch
    rows = [
        ("made", f"{thing.measure.of(thing.number, thing.what)}"),
        ("where", thing.place),
        ("on", asked.on.isoformat()),
        *([("kept", KEPT_DRY)] if thing.kept_dry else []),
    ]
    rows += [("out of", f"{quantity} of {lot}") for lot, quantity in asked.inputs]
    set_back = with_offsets(batch, asked.on, asked.at.tzinfo).out_on
    if not batch.out_on and set_back:
        again = f"{batch.out_at}, the second time in that night"
        rows.append(("out of the canner", f"{again}: clocks went back"))
    elif batch.filled_at > batch.out_at != "":
        rows.append(("out of the canner", f"{batch.out_at} of the next day"))
    if batch.out_on:
        night = f"{batch.out_at} of {batch.out_on}, in the night after"
        afternoon = f"{int(batch.out_at[:2]) + 12}{batch.out_at[2:]}"
        rows.append(
            (
                "out of the canner",
                f"{night}; if not, give --filled too, or write {afternoon} for the "
                "afternoon",
            )
        )
    if batch.canned:
        at, at_due = psi_words(batch.gauge_psi), psi_words(batch.due_psi)
        given = f"{batch.process_min} min{at}" if batch.process_min else "none"
        if batch.process_began:
            given += f" from {clock_words(batch.process_began)}"
        due = f"{batch.due_min} min{at_due}" if batch.due_min else "not known"
        rows += [
            ("process given", given),
            ("process due", f"{due} ({batch.due_source})"),
        ]
        if acid := acid_printed(thing.what):
            rows.append(("its acid", acid))
    say("Understood:")
    columns(rows)


@click.command()
@click.argument("lot")
@click.argument("words", nargs=-1)
@click.option("--seals", default="", help="What was seen: 7 good 1 failed 0 doubtful.")
@click.option(
    "--set",
    "seen",
    type=click.Choice([seen.value for seen in Seen]),
    help="How a tilted jar looked.",
)
@click.option("--at", "place", default="", metavar="PLACE", help="Where they stood.")
@click.option("--note", default="", help="Label, looks, anything else.")
@database
@as_json
def check(
    lot: str,
    words: tuple[str, ...],
    seals: str,
    seen: str | None,
    place: str,
    note: str,
    db: str,
    json_: bool,
) -> None:
    """Book the seals and the set of a lot, the day after; failed jars go aside."""
    at = now()
    said = " ".join((seals, *words)).strip()
    with kept(db) as records:
        stock = stock_now(records.ledger)
        code = granted(known_lot(stock, lot))
        jars = stock.balance(code) - stock.balance(code, SET_ASIDE)
        good, failed, doubtful = read_seals(said, jars=jars) if said else (None, 0, 0)
        aside = bool(failed or doubtful)
        if not said and not seen:
            if json_:
                print_json({"booked": []})
            else:
                _print_state(stock, code, at)
            return
        asked = Check(
            lot=printed(code),
            good=good,
            failed=failed,
            doubtful=doubtful,
            seen=Seen(seen) if seen else None,
            place=place,
            note=optional(note, "--note"),
            at=at,
            token=token(),
        )
        stock = book(records, asked, json_)
        if json_:
            return
        print_holds(stock, code)
        if aside:
            _print_choices(stock, code, at)
        elif seen == Seen.SOFT.value:
            open_ = open_of(stock, code, at)
            if open_ is not None and open_.choices is not None:
                print_choices_of(open_, at)


def _print_state(stock: Stock, code: str, at: dt.datetime) -> None:
    """Without anything seen: say what is still open, and how long it has been."""
    lot, made_ = stock.lots[code], stock.made(code)
    say(
        f"{lot.what} {printed(code)}: nothing was said of seals or set, so none booked."
    )
    if made_ is not None and is_hour_said(made_, lot, at.tzinfo):
        say(f"Out for {since_words(hours_since(made_, lot, at))}.")
    elif made_ is not None:
        say(f"Out on {said_day(lot.day)}, and no hour was said.")
    for reason in holds(stock, code):
        bullet(f"On hold: {reason}.")
    _print_choices(stock, code, at)


def _print_choices(stock: Stock, code: str, at: dt.datetime) -> None:
    """What is published: of a process in doubt first, for that is the graver matter."""
    open_ = open_of(stock, code, at)
    if is_in_doubt(stock, code) and open_ is not None and open_.choices is not None:
        print_choices_of(open_, at)
    else:
        print_choices(stock, code, at)
