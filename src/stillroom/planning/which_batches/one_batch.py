"""One question: how many whole batches is this, and does the pot hold them?"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from stillroom.book.processes import Process, process_for
from stillroom.methods.kitchen import Burner, CannerKind, Heat, Kitchen, Pot
from stillroom.methods.method import Kept, Material
from stillroom.methods.recipes import own_pack, process_name
from stillroom.methods.today import AirToday
from stillroom.planning.day import Lot
from stillroom.planning.dayplan import Leftover
from stillroom.planning.which_batches.choices import Fitted, Place, fit
from stillroom.planning.which_batches.leftovers import leftover_of
from stillroom.planning.which_batches.pressed import to_press
from stillroom.planning.which_batches.shelf import (
    LotLeft,
    amount,
    in_measure_of,
    to_fetch,
    whole_times,
    words_for,
)
from stillroom.refusal import Refusal


@dataclass(frozen=True, slots=True, kw_only=True)
class OneBatch:
    """The recipe for one pot, how many pots there is fruit for, and the rest."""

    fitted: Fitted
    batches: int
    left: Leftover | None
    process: Process | Refusal | None
    """`None` where the elevation was not given, and for goods that need no canner."""
    jars_worth: int | None = None
    """Jars' worth in all, where the recipe is for one jar and pots share them."""
    taken: str = ""
    """What a weight was taken to be; empty of a measure, which says it itself."""

    @property
    def jars(self) -> int:
        """Full jars to expect of one batch."""
        return round(self.fitted.expected.likely)


def small_kitchen(
    pot: Pot, burner: Burner, heat: Heat, air: AirToday, *, metric: bool
) -> Kitchen:
    """One pot on one fire; ``metric`` as she writes."""
    return Kitchen(
        name="as asked",
        elevation_m=None,
        pressure_pa=air.pressure_pa,
        heat=heat,
        burners=(burner,),
        pots=(pot,),
        canners=(),
        metric=metric,
    )


def one_batch(
    product: str,
    have: Lot,
    kitchen: Kitchen,
    air: AirToday,
    *,
    multiple: int = 1,
    jar: str = "half-pint",
    with_process: bool = True,
) -> OneBatch | Refusal:
    """
    Return the batch of a product and how many of it ``have`` makes.

    A measure is taken to be what the recipe is measured by, a weight the fruit itself:
    of fruit that is pressed the printed yield says how much makes a batch. Less than
    one batch is refused: a tested recipe is not trimmed.
    """
    fitted = fit(product, jar, multiple, Place(kitchen=kitchen, air=air))
    if isinstance(fitted, Refusal):
        return fitted
    taken = _taken_as(have, fitted, metric=kitchen.metric)
    if isinstance(taken, Refusal):
        return taken
    base, taken_words = taken
    have = replace(have, what=base.name)  # so that its other uses can be named
    metric = kitchen.metric
    held = LotLeft(have, 0.0, metric)
    held.left = held.whole
    there = in_measure_of(base, held)
    if there <= 0:
        return Refusal(
            f"{have.typed} is not a measure of {base.name}",
            instead="give it as the recipe does: "
            + words_for(base, amount(base), metric=metric),
            source=fitted.recipe.procedure.source,
        )
    batches = whole_times(there, amount(base))
    if batches == 0:
        return Refusal(
            f"{have.typed} of {base.name} is less than one batch: "
            f"{to_fetch(base, amount(base), metric=metric)} make one, "
            f"{to_fetch(base, amount(base) - there, metric=metric)} more",
            instead="; or ".join(leftover_of(held, fitted, in_cups=base).choices),
            source=fitted.recipe.procedure.source,
        )
    held.left *= max(0.0, 1.0 - batches * amount(base) / there)
    left = (
        leftover_of(held, fitted, in_cups=base)
        if held.left > amount(base) * 1e-3
        else None
    )
    process = _process(fitted, air) if with_process else None
    if not fitted.method.PER_JAR or multiple > 1:
        return OneBatch(
            fitted=fitted,
            batches=batches,
            left=left,
            process=process,
            taken=taken_words,
        )
    pots, whole = _shared_out(fitted, batches, Place(kitchen=kitchen, air=air))
    return OneBatch(
        fitted=whole,
        batches=pots,
        left=left,
        process=process,
        jars_worth=batches,
        taken=taken_words,
    )


def _taken_as(
    have: Lot, fitted: Fitted, *, metric: bool
) -> tuple[Material, str] | Refusal:
    """Return what one batch takes of what she has, and what her weight is taken as."""
    base = _in_her_measure(have, fitted)
    if have.mass_kg is None:
        return base, ""
    pressed = to_press(fitted.recipe.procedure, base, metric=metric)
    if isinstance(pressed, Refusal):
        return pressed
    if pressed is not None:
        weighed = f"{have.typed} is taken as the weight of {pressed.fruit.name}"
        return pressed.fruit, f"{weighed} to press: {pressed.words}"
    part = fitted.recipe.base.name
    bought = " as they are bought" if base.as_bought else ""
    made = f", of which {part} is made" if part != base.name else ""
    return base, f"{have.typed} is taken as the weight of {base.name}{bought}{made}"


def _in_her_measure(have: Lot, fitted: Fitted) -> Material:
    """Return the base of a batch; in cups for who has the cups or pints of it."""
    part = fitted.recipe.base
    by_volume = have.volume_m3 is not None and fitted.base.volume_m3 is None
    printed_so = part.unit in ("cup", "pint", "quart")
    if not by_volume or not printed_so or part.name != fitted.base.name:
        return fitted.base  # pulp is not the fruit that it is made of
    if not part.volume_m3:
        return fitted.base
    return Material(name=part.name, volume_m3=part.volume_m3)


def _shared_out(fitted: Fitted, worths: int, place: Place) -> tuple[int, Fitted]:
    """Share jars' worths evenly over as few pots as hold them; the largest of these."""

    def of(size: int) -> Fitted | Refusal:
        return fit(fitted.asked, fitted.jar, size, place)

    most, too_many = 1, worths + 1
    while too_many - most > 1:  # a pot that holds some holds fewer
        middle = (most + too_many) // 2
        if isinstance(of(middle), Refusal):
            too_many = middle
        else:
            most = middle
    pots = math.ceil(worths / most)
    whole = of(math.ceil(worths / pots))
    return (worths, fitted) if isinstance(whole, Refusal) else (pots, whole)


def _process(fitted: Fitted, air: AirToday) -> Process | Refusal | None:
    """Published process of a batch, in boiling water where there is one."""
    procedure = fitted.recipe.procedure
    if fitted.method.KEPT is not Kept.SHELF or procedure.keeping == "cold":
        return None
    answers = [
        process_for(
            process_name(procedure),
            jar=fitted.jar,
            elevation_ft=air.elevation_ft,
            pack=fitted.method.PACK or own_pack(procedure),
            canner=kind.value,
        )
        for kind in CannerKind
    ]
    found = (answer for answer in answers if not isinstance(answer, Refusal))
    return next(found, answers[0])
