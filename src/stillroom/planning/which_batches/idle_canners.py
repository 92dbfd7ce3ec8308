"""Canners that take no load of a day although its jars have a table for them too."""

from __future__ import annotations

from collections.abc import Iterator

from stillroom.book.canner_rules import canners_in_words
from stillroom.book.processes import process_for
from stillroom.in_a_list import all_of
from stillroom.methods.kitchen import Canner, Kitchen
from stillroom.methods.recipes import own_pack, process_name
from stillroom.methods.today import AirToday
from stillroom.planning.dayplan import MadeBatch
from stillroom.planning.which_batches.batches import Batched
from stillroom.refusal import Caution, Refusal


def idle_canners(
    kitchen: Kitchen, air: AirToday, made: Batched, loads: int
) -> Iterator[Caution]:
    """
    Say of each canner that stands empty because all goes by another kind's table.

    A product has the process of one kind of canner in a plan, boiling water first. Of a
    single load nothing is said: it would wait for no canner.
    """
    kinds = {batch.process.method for batch in made.batches if batch.process}
    if loads < 2:
        return
    for canner in kitchen.canners:
        if canner.kind.value in kinds:
            continue
        takes = [b for b in made.batches if _takes(canner, b, air, made)]
        if takes:
            products = dict.fromkeys(b.product for b in takes)
            given = dict.fromkeys(b.process.method for b in takes if b.process)
            yield Caution(
                f"nothing goes into the {canner.name}: {all_of(products)} "
                f"{'is' if len(takes) == 1 else 'are'} planned by the table of "
                f"{canners_in_words(given)}, and a product has one kind of canner in "
                f"a plan. By its own table the {canner.name} takes "
                f"{'it' if len(takes) == 1 else 'them'} too: for both to work, plan "
                f"one product in a day file whose kitchen has that canner alone",
                "how Stillroom plans a day",
            )


def _takes(canner: Canner, batch: MadeBatch, air: AirToday, made: Batched) -> bool:
    """Whether a process is published for the jars of a batch in another canner."""
    if batch.process is None or not canner.holds(batch.jar):
        return False
    fitted = made.chosen[batch.id].fitted
    answer = process_for(
        process_name(fitted.recipe.procedure),
        jar=fitted.jar,
        elevation_ft=air.elevation_ft,
        pack=fitted.method.PACK or own_pack(fitted.recipe.procedure),
        canner=canner.kind.value,
    )
    return not isinstance(answer, Refusal)
