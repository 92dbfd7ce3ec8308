"""The odd bag: what is left of fruit and juice, and what it may become."""

from __future__ import annotations

import math

from stillroom.book.procedures import Procedure, procedures_using
from stillroom.measures import kitchen_volume
from stillroom.methods.by_name import method_named
from stillroom.planning.batches import Batched
from stillroom.planning.choices import Fitted
from stillroom.planning.day import Day
from stillroom.planning.dayplan import Leftover
from stillroom.planning.shelf import (
    Held,
    Shelf,
    amount,
    in_measure_of,
    mass_words,
    same_thing,
    words_for,
)
from stillroom.refusal import Refusal

_LITTLE_M3 = 6e-5
"""A quarter of a cup is a taste, not a leftover. [m3]"""


def leftovers(made: Batched, shelf: Shelf) -> list[Leftover]:
    """Say what is left of every fruit or juice that the day drew on or could have."""
    left: list[Leftover] = []
    for held in shelf.held:
        if held.left <= _LITTLE_M3 or held.lot.count is not None:
            continue
        what = held.lot.what
        fitted = [g.chosen.fitted for g in made.groups]
        drawn_by = [f for f in fitted if same_thing(f.base.name, what)]
        if drawn_by or _uses(held):
            left.append(leftover_of(held, drawn_by[0] if drawn_by else None))
    return left


def leftover_of(held: Held, fitted: Fitted | None) -> Leftover:
    """Say what is left of a lot, what it lacks of a batch, and what it may become."""
    text = _measure(held, held.left)
    if fitted is not None:
        base = fitted.base
        short = amount(base) - in_measure_of(base, held)
        if short > amount(base) * 1e-3:
            text += f", {words_for(base, short)} short of another batch"
    recipes = _uses(held)
    choices = [
        f"{procedure.name} ({procedure.title}): a whole tested batch fits"
        for procedure in recipes
    ]
    choices.append(_kept(held))
    if not recipes:
        choices.append("drink it or cook with it: no published recipe here is so small")
    return Leftover(lot=held.lot.name, text=text, choices=tuple(choices))


def _measure(held: Held, quantity: float) -> str:
    return (
        kitchen_volume(quantity)
        if held.lot.volume_m3 is not None
        else mass_words(quantity)
    )


def _kept(held: Held) -> str:
    lot = held.lot
    if lot.frozen and lot.bag_m3:
        whole = math.floor(held.left / lot.bag_m3 + 1e-6)
        opened = held.left - whole * lot.bag_m3
        parts = []
        if whole:
            parts.append(
                f"{whole} whole {'bag stays' if whole == 1 else 'bags stay'} frozen"
            )
        if opened > _LITTLE_M3:
            parts.append(
                f"{kitchen_volume(opened)} of an opened bag goes back to the freezer, "
                "measured and dated"
            )
        return "; ".join(parts)
    if lot.volume_m3 is not None:
        return "freeze it, measured and dated"
    return "keep it cool, or freeze it"


def _uses(held: Held) -> list[Procedure]:
    """Published recipes of which one whole batch fits in what is left."""
    fitting: list[Procedure] = []
    for procedure in procedures_using(held.lot.what):
        method = method_named(procedure.method)
        if isinstance(method, Refusal):
            continue
        recipe = method.scale(procedure, 1)
        if isinstance(recipe, Refusal):
            continue
        base = method.materials(recipe, "half-pint", 0)[0]
        if amount(base) <= in_measure_of(base, held) + 1e-9:
            fitting.append(procedure)
    return fitting


def evening_before(day: Day, made: Batched) -> list[str]:
    """What is set out, thawed and counted the evening before."""
    lines: list[str] = []
    taken: dict[str, float] = {}
    for batch in made.batches:
        for draw in batch.draws:
            taken[draw.lot] = taken.get(draw.lot, 0.0) + (draw.volume_m3 or 0.0)
    for lot in day.shelf:
        if lot.frozen and lot.bag_m3 and taken.get(lot.name, 0.0) > 0:
            bags = min(lot.bags, math.ceil(taken[lot.name] / lot.bag_m3 - 1e-6))
            lines.append(
                f"Move {bags} of {lot.bags} bags of {lot.name} from the freezer to the "
                "refrigerator, in a pan; measure the first one when it has thawed."
            )
    for jar in dict.fromkeys(batch.jar for batch in made.batches):
        number = sum(batch.jars for batch in made.batches if batch.jar == jar)
        lines.append(f"Count out {number} {jar} jars and one to spare; look for nicks.")
    if made.batches:
        lines.append("Lids, bands, ladle, funnel, towels or a board for the hot jars.")
    return lines
