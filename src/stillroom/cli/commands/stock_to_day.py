"""``stillroom stock to-day``: the shelf of the kept day, taken from the stock."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import click

from stillroom.cli.booking import agreed, now
from stillroom.cli.kept import database, kept
from stillroom.cli.paragraphs import columns, say
from stillroom.in_a_list import all_of
from stillroom.jar_count import counted
from stillroom.measures import kitchen_mass, kitchen_volume
from stillroom.planning.day import Lot as DayLot
from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.day_file.dayfile_write import write_day
from stillroom.planning.day_file.dayschema import TABLES
from stillroom.planning.which_batches.names_on_shelf import same_thing
from stillroom.refusal import Unreadable
from stillroom.stock.day_shelf import (
    day_shelf,
    is_unknown,
    look_at_first,
    stood_too_long,
    with_room,
)
from stillroom.stock.handle import stock_now


@click.command(name="to-day")
@click.option("--out", "file", type=click.Path(path_type=Path), help="A new day file.")
@click.option("--yes", is_flag=True, help="Save it as the day that the pages plan.")
@database
def to_day(file: Path | None, yes: bool, db: str) -> None:
    """
    Take the shelf of the day from the stock, and leave the rest of it alone.

    What the stock never had stays as it was; what it has none left of goes.
    """
    with kept(db) as records:
        seen = records.days.newest()
        stock = stock_now(records.ledger)
        at = now()
        shelf, past = day_shelf(stock, at), stood_too_long(stock, at)
        if seen is None:
            raise Unreadable(
                "no day is kept here yet: begin one with stillroom serve, or give the "
                "record that has it with --db"
            )
        if not shelf:
            none = "nothing is on hand that a batch could draw on"
            raise Unreadable(f"{none}. {past}".strip())
        day = read_day(seen.text)
        stays = tuple(lot for lot in day.shelf if is_unknown(stock, lot.what))
        there = {lot.what for lot in shelf}
        shelf, left = with_room(shelf, TABLES["shelf"].at_most - len(stays))
        new = write_day(replace(day, shelf=(*shelf, *stays)))
        read_day(new)
        columns([(_day_quantity(lot), lot.what, lot.name) for lot in shelf])
        if left:
            say(left)
        if past:
            say(past)
        if fresh := look_at_first(stock, at):
            say(
                f"Look at first: {all_of(fresh)}. It is fresh, and nobody prints how "
                "long it keeps: discard what is doubtful."
            )
        kept_by_name = there | {lot.what for lot in stays}
        gone = dict.fromkeys(
            lot.what
            for lot in day.shelf
            if not any(same_thing(lot.what, what) for what in kept_by_name)
        )
        if gone:
            say(
                f"The stock has none to use of {all_of(gone)}: no longer on this shelf."
            )
        if stays:
            say("As they were, for the stock knows nothing of them:")
            columns([(_day_quantity(lot), lot.what, lot.name) for lot in stays])
        if file is not None:
            try:
                with file.open("x", encoding="utf-8") as out_:
                    out_.write(new)
            except OSError as error:
                raise Unreadable(
                    f"{file} cannot be written ({error.strerror}): name a new file"
                ) from None
            say(f"Wrote {file}. Plan it with: stillroom plan {file}")
        elif agreed(yes, False):
            why = "shelf taken from the stock"
            # while she looks at it, the pages may save another day
            number = records.days.save(new, why, after=seen.number)
            say(f"Saved as revision {number} of the day; the one before is kept.")


def _day_quantity(lot: DayLot) -> str:
    if lot.count is not None:
        return f"{lot.count}"
    bags = f"{counted(lot.bags, 'bag')}, " if lot.bags else ""
    if lot.volume_m3 is not None:
        return f"{bags}{kitchen_volume(lot.volume_m3)}"
    return f"{bags}{kitchen_mass(lot.mass_kg or 0.0)}"
