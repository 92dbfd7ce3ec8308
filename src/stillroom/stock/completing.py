"""
What was not said of jars when they were booked, said later: pure.

It is an entry of its own. It stands only where the book then knows what process is due:
a hold for that ends if the process was that long, and by nothing else that is said.
"""

from __future__ import annotations

from stillroom import measures
from stillroom.book.names import bare, canner_named
from stillroom.in_a_list import any_of
from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD, known_lot
from stillroom.stock.commands import Complete
from stillroom.stock.decision import Decision
from stillroom.stock.due import due_process, is_jar
from stillroom.stock.events import Completed, Lot, Made
from stillroom.stock.fold import Stock
from stillroom.stock.lacking import Lacking, lacking, lacking_of
from stillroom.stock.lacks import canner_of, gauge_read_psi
from stillroom.stock.lotcode import printed


def complete(stock: Stock, command: Complete) -> Decision:
    """Add what was not said of a lot, where the book then knows its process."""
    code = known_lot(stock, command.lot)
    if isinstance(code, Refusal):
        return code
    made, lot = stock.made(code), stock.lots[code]
    said = f"{lot.what} {printed(code)}"
    asked = lacking(stock, code)
    if made is None or asked is None:
        return _nothing_lacks(made, said)
    booked = canner_of(stock, code)
    found = lacking_of(stock, code, made)
    if (no := _said_before(command, made, lot, found, booked)) is not None:
        return no
    elevation_ft = (
        made.batch.elevation_ft
        if command.elevation_ft is None
        else command.elevation_ft
    )
    if elevation_ft is None:
        return _still_lacks(said, "the height of the kitchen was not said", asked, code)
    canner = command.canner or booked
    due = due_process(
        command.which or lot.what,
        command.jar or lot.measure.part,
        elevation_ft=float(elevation_ft),
        canner=canner or "boiling-water",
        pack=command.pack or made.batch.pack or None,
        gauge_psi=gauge_read_psi(stock, code),
    )
    if due.minutes is None:
        return _still_lacks(said, due.words, asked, code)
    return (
        Completed(
            lot=code,
            elevation_ft=elevation_ft,
            which=command.which,
            jar=command.jar,
            canner=canner,
            pack=command.pack or made.batch.pack,
            due_min=due.minutes,
            due_source=due.words,
            due_psi=due.psi,
            occurred_at=command.at,
            token=command.token,
            late=command.late,
        ),
    )


def _said_before(
    command: Complete, made: Made, lot: Lot, found: Lacking, canner: str
) -> Refusal | None:
    """Return why something cannot be added: it was said, and said otherwise."""
    batch = made.batch
    height = batch.elevation_ft
    if height is not None and command.elevation_ft not in (None, height):
        return _said_otherwise("height", measures.height(height))
    if command.pack and batch.pack and command.pack != batch.pack:
        return _said_otherwise("pack", batch.pack)
    sizes = found.jars or (lot.measure.part,)
    if command.jar and command.jar not in sizes:
        measure = lot.measure
        booked = measure.part if is_jar(measure.part) else measure.words(measure.each)
        return _said_otherwise("jar", booked)
    if command.canner and command.canner not in found.canners:
        known = canner_named(canner)
        if isinstance(known, Refusal) or canner_named(command.canner) != known:
            return _said_otherwise("canner", canner)
    if command.which and bare(command.which) not in {bare(n) for n in found.names}:
        return Refusal(
            f"{lot.what} is not booked under a name that may mean {command.which}",
            instead=f"say which it is of {any_of(found.names)}"
            if found.names
            else "a lot that is something else is taken back with stillroom stock "
            "mend, and booked anew under its name",
            source=OUR_RECORD,
        )
    return None


def _said_otherwise(what: str, booked: str) -> Refusal:
    return Refusal(
        f"its {what} is in the record: {booked}",
        instead="leave it as it is; if that was a mistake, take the entry back with "
        "stillroom stock mend, and book the lot anew",
        source=OUR_RECORD,
    )


def _still_lacks(said: str, why: str, asked: Lacking, code: str) -> Refusal:
    return Refusal(
        f"how many minutes are due for {said} is still not known: {why}",
        instead=f"say in one entry all that lacks, {asked.words}: stillroom stock "
        f"complete {printed(code)} {asked.options}. Until then it stays as it is",
        source=OUR_RECORD,
    )


def _nothing_lacks(made: Made | None, said: str) -> Refusal:
    due = None if made is None else made.batch.due_min
    if due is not None:
        return Refusal(
            f"the process that is due for {said} is known: {due} min",
            instead="look at it with stillroom stock trace; what was said wrongly is "
            "taken back with stillroom stock mend",
            source=OUR_RECORD,
        )
    return Refusal(
        f"nothing that could be added of {said} leads to a published process",
        instead="if it was booked under a wrong name, or in a wrong canner, take its "
        "entry back with stillroom stock mend, and book it anew; else see what may be "
        "done with it: stillroom stock after",
        source=OUR_RECORD,
    )
