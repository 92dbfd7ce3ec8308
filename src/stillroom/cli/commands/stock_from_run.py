"""``stillroom stock made --from-run``: the lots of a day at the stove."""

from __future__ import annotations

import datetime as dt

from stillroom.cli.booking import agreed, book, now, token
from stillroom.cli.kept import kept
from stillroom.cli.options import print_json
from stillroom.cli.paragraphs import bullet, columns, say, strong
from stillroom.refusal import Unreadable
from stillroom.running.book_lots import booking
from stillroom.running.fold import RunState
from stillroom.running.handle import PREFIX, run_id, state_of
from stillroom.running.her_measure import drawn, is_metric, needed
from stillroom.running.lots_made import LotMade, day_of_lots, lots_made
from stillroom.stock.fold import Stock
from stillroom.stock.handle import stock_now
from stillroom.stock.lotcode import printed


def book_run(asked: str, db: str, *, yes: bool, json_: bool) -> None:
    """Show what a run made, and book what is out of the canner."""
    at = now()
    with kept(db) as records:
        ledger = records.ledger
        run = ledger.newest_stream(PREFIX) if asked == "last" else _run(asked)
        if run is None or not ledger.last(run):
            raise Unreadable(
                "no run is kept "
                + ("here yet" if asked == "last" else f"of {asked[:30]}")
                + ": a day is begun at the stove (stillroom serve)"
            )
        stock = stock_now(ledger)
        state = state_of(run, ledger=ledger)
        lots = lots_made(state, run, stock, at.tzinfo)
        ready = [lot for lot in lots if lot.ready and not lot.booked]
        if not json_:
            day = records.days.newest()
            metric = day is not None and is_metric(day.text)
            _show(lots, stock, state, at, metric=metric)
        if not ready:
            if json_:
                print_json({"booked": []})
            else:
                say("No lot is ready to be booked.")
            return
        if not agreed(yes, json_):
            if json_:
                print_json({"ready": [lot.batch for lot in ready], "booked": []})
            return
        on = day_of_lots(state, run, stock, at.tzinfo)
        stock = book(records, booking(ready, on=on, at=at, token=token()), json_)
        if not json_:
            say(
                "Write these lot codes on the lids now; the labels come after the "
                "checks:"
            )
            for lot in ready:
                made = lot.making.batch
                code = stock.from_run(made.run, made.run_batch, made.run_load)
                bullet(f"{lot.batch}: {strong(printed(code or ''))}")


def _run(text: str) -> str:
    try:
        return run_id(dt.date.fromisoformat(text))
    except ValueError:
        raise Unreadable(
            f"--from-run: {text[:30]!r} is no day; write such as 2026-09-12"
        ) from None


def _show(
    lots: tuple[LotMade, ...],
    stock: Stock,
    state: RunState,
    at: dt.datetime,
    *,
    metric: bool,
) -> None:
    columns(
        [
            (
                lot.batch,
                lot.load or "no canner",
                lot.making.thing.measure.words(lot.making.thing.number),
                lot.making.thing.place,
                _stands(lot, state, at),
            )
            for lot in lots
        ]
    )
    canned = [lot for lot in lots if lot.ready and not lot.booked and lot.load]
    if canned:
        jars = canned[0].making.thing
        say(
            "Only what was lifted out of a load had its process. Were more filled than "
            "stand here? Book those apart, without a process: "
            f'stillroom stock made "NUMBER {jars.measure.part}s {jars.what}, '
            'kitchen"'
        )
    for lot in lots:
        if not (lot.ready and not lot.booked):
            continue
        for part in lot.draws:
            taken = stock.lots[part.lot]
            bullet(
                f"{lot.batch} draws "
                f"{drawn(taken.measure, part.number, taken.what, metric=metric)} "
                f"{printed(part.lot)}, {part.place}"
            )
        if lot.left_in:
            bullet(strong(f"In time? Of {lot.batch} ") + f"{lot.left_in}.")
        if lot.lacking:
            bullet(
                strong(f"Count again? For {lot.batch} the stock lacks ")
                + "; ".join(needed(need, metric=metric) for need in lot.lacking)
            )


def _stands(lot: LotMade, state: RunState, at: dt.datetime) -> str:
    """Say how it stands with a lot; what cannot be there yet is not asked about."""
    if lot.booked:
        return f"booked as {printed(lot.booked)}"
    if not lot.is_asked_about(state, at):
        return "still to come"
    return lot.waits_for or "ready"
