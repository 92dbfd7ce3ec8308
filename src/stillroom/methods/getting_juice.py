"""
Fruit to juice: what a weight of fruit gives, and what to do when it gives too little.

Her own press is the better guide: once a weight and a measure are known, the printed
yield is shown beside it and no longer planned with.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.book.jelly_juice import juice_table
from stillroom.book.procedures import Procedure, procedures_using
from stillroom.book.produce import JuiceYield, juice_yield
from stillroom.measures import CUP_M3, POUND_KG, kitchen_volume, mixed_number
from stillroom.methods.by_name import method_named
from stillroom.methods.portions import volume_words
from stillroom.refusal import Refusal, Source

LEAST_M3_PER_KG, MOST_M3_PER_KG = 1e-4, 1.2e-3
"""A kilogram of fruit with its water gives no less and no more: our own limits."""
_SAME = 0.005
"""Two printed yields are one where cups and pounds were rounded otherwise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JuiceAsked:
    """What is needed, what there is, and what is lacking."""

    fruit: str
    need_m3: float
    got_m3: float | None
    own_m3_per_kg: float | None
    """Measured at this press; planned with from now on."""
    printed_m3_per_kg: float | None
    printed_as: str
    """Empty where no yield of it is printed in the book."""
    recipe_printed_as: str
    """The yield that its recipe prints, where that is larger; empty where it is not."""
    short_m3: float
    """What is lacking; all of it where nothing is pressed yet. [m3]"""
    more_kg: float | None
    """Fruit that would give what is lacking; `None` where no yield is known. [kg]"""
    total_kg: float | None
    choices: tuple[str, ...]
    how: str
    """Water and simmering as printed, of the recipe first; empty where none is."""
    source: Source
    metric: bool = False
    """Asked in litres or kilograms, and so answered."""


def printed_yield(fruit: str, recipe: Procedure | None) -> JuiceYield | Refusal:
    """
    Return the printed yield of a fruit, or that of a recipe where it is smaller.

    Juice that is drawn with more water is more: of 4 1/2 lb of plums and a cup of it
    come 5 cups, of half a cup of it 4.
    """
    general = juice_yield(fruit)
    own = None if recipe is None else _yield_in(recipe)
    if own is None:
        return general
    if isinstance(general, Refusal) or own.juice_m3_per_kg < general.juice_m3_per_kg:
        return own
    return general


def _more_in(recipe: Procedure | None, known: JuiceYield | None) -> str:
    """Return the yield that a recipe prints, where it is larger than the one known."""
    own = None if recipe is None else _yield_in(recipe)
    if own is None or known is None:
        return ""
    larger = own.juice_m3_per_kg > known.juice_m3_per_kg * (1 + _SAME)
    return own.as_printed if larger else ""


def _yield_in(recipe: Procedure) -> JuiceYield | None:
    """Juice from the fruit that a recipe prints for it; `None` where it prints none."""
    base = recipe.base
    if base.as_bought_kg is None or not base.name.endswith("juice"):
        return None
    pounds = mixed_number(base.as_bought_kg / float(POUND_KG))
    return JuiceYield(
        float(base.quantity * CUP_M3) / base.as_bought_kg,
        f"{pounds} lb give {mixed_number(base.quantity)} cups in this recipe",
        Source(recipe.source, base.as_bought_known),
    )


def juice_asked(
    fruit: str,
    *,
    need_m3: float,
    fruit_kg: float | None = None,
    got_m3: float | None = None,
    recipe: Procedure | None = None,
    metric: bool = False,
) -> JuiceAsked | Refusal:
    """
    Return what lacks of a measure of juice, and how much fruit would give it.

    Parameters
    ----------
    fruit : str
        "red currants", "plums".
    need_m3 : float
        Juice that the recipe asks for. [m3]
    fruit_kg, got_m3 : float, optional
        Fruit that was pressed, and the juice that it gave. [kg], [m3]
    recipe : Procedure, optional
        What the juice is for, where that is a recipe of the book.
    metric : bool
        Whether it is asked, and so answered, in litres.
    """
    if not 1e-5 <= need_m3 <= 0.2:
        return Refusal(
            "that is no quantity of juice for a kitchen",
            instead="give what the recipe asks for, such as 6 1/2 cups",
            source="the kitchen",
        )
    own = None
    if fruit_kg is not None and got_m3 is not None:
        if fruit_kg <= 0:
            got = kitchen_volume(got_m3, metric=metric)
            return Refusal(
                f"no fruit was pressed, and {got} of juice came",
                instead="give the weight that was pressed, or leave it out: the "
                "printed yield is then used",
                source="the kitchen",
            )
        own = got_m3 / fruit_kg
        if not LEAST_M3_PER_KG <= own <= MOST_M3_PER_KG:
            return Refusal(
                f"{fruit_kg:.2f} kg of fruit do not give {got_m3 * 1000:.2f} L",
                instead="check the weight and the measure, and their units",
                source="our own limits of 0.1 to 1.2 L a kilogram",
            )
    printed = printed_yield(fruit, recipe)
    rate = own
    known = None if isinstance(printed, Refusal) else printed
    if rate is None and known is not None:
        rate = known.juice_m3_per_kg
    if rate is None and isinstance(printed, Refusal):
        return printed
    assert rate is not None
    short = max(0.0, need_m3 - (got_m3 or 0.0))
    return JuiceAsked(
        fruit=fruit,
        need_m3=need_m3,
        got_m3=got_m3,
        own_m3_per_kg=own,
        printed_m3_per_kg=None if known is None else known.juice_m3_per_kg,
        printed_as="" if known is None else known.as_printed,
        recipe_printed_as=_more_in(recipe, known),
        short_m3=short,
        more_kg=short / rate,
        total_kg=(fruit_kg or 0.0) + short / rate,
        choices=_choices(fruit, got_m3, short, metric=metric),
        how=_how(fruit, recipe),
        metric=metric,
        source=Source("this press", "keeper")
        if own is not None or known is None
        else known.source,
    )


def _how(fruit: str, recipe: Procedure | None) -> str:
    """Say how it is drawn: as its recipe prints it, else by the general table."""
    if recipe is not None and recipe.base.name.endswith("juice"):
        return f"as its recipe prints ({recipe.title}): {recipe.base_prep.rstrip('.')}"
    table = juice_table(fruit)
    if isinstance(table, Refusal):
        return ""
    return (
        f"{span(table.water_cups_per_lb)} cup water a pound, simmer "
        f"{span(table.simmer_min)} min, let it drip; a squeezed bag gives cloudy juice"
    )


def span(figures: tuple[float, float]) -> str:
    """Say a range: "5 to 10", or "5" where both ends are one."""
    low, high = figures
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def _choices(
    fruit: str, got_m3: float | None, short_m3: float, *, metric: bool
) -> tuple[str, ...]:
    """What may be done with too little; a batch is never trimmed to fit."""
    if got_m3 is None or short_m3 <= 0:
        return ()
    choices = ["wet the pulp and press it again"]
    for procedure in procedures_using(f"{fruit} juice"):
        method = method_named(procedure.method)
        if isinstance(method, Refusal) or procedure.refuse:
            continue
        recipe = method.scale(procedure, 1)
        if isinstance(recipe, Refusal):
            continue
        needed = recipe.base.volume_m3
        if needed is not None and needed <= got_m3 + 1e-9:
            takes = volume_words(needed, metric=metric)
            choices.append(f"{procedure.title}: takes {takes}")
    got = kitchen_volume(got_m3, metric=metric)
    choices.append(f"freeze {got} as one lot, measured and dated")
    return tuple(choices)
