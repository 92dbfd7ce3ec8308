"""
A measure taken half-way: 7 1/4 cups of pulp where 8 were expected.

What follows goes by what there is. A fruit butter is reckoned by its pulp, so sugar,
spice, jars and time change with it; a jelly with pectin is a fixed batch, and too
little juice is never mended by trimming it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from stillroom.measures import cups, kitchen_mass, kitchen_volume, mixed_number
from stillroom.methods import butter, pickle, syrup
from stillroom.methods.method import Method, Part, Recipe, Station, Yield
from stillroom.methods.portions import (
    HAIR,
    in_metric,
    is_weighed,
    quantity_words,
    volume_words,
)
from stillroom.refusal import Refusal

SOURCE = "the published recipe, reckoned by the cup of pulp"
LEAST, MOST = 0.25, 1.25
"""Further off than this the measure or the recipe is another one: our own limits."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing that is different now."""

    name: str
    was: str
    now: str
    what: str
    """"take back 3/8 cup", "add 2 tbsp"; where it measures the same, to leave it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remeasured:
    """The batch as it is, after a measure was taken."""

    share: float
    """Measured over expected. [1]"""
    recipe: Recipe
    """The rest of the recipe, by what there is."""
    changes: tuple[Change, ...]
    was: Yield
    now: Yield
    cook_min: tuple[float, float] | None
    """Minutes to cook down before and now, where a pot and fire are known. [min]"""


def remeasured(
    method: Method,
    recipe: Recipe,
    measured_m3: float,
    jar: str,
    station: Station | None = None,
) -> Remeasured | Refusal:
    """
    Return what changes when the base of a batch measures other than it should.

    Parameters
    ----------
    method : Method
        The batch's way of putting up.
    recipe : Recipe
        The batch as it was planned.
    measured_m3 : float
        Pulp or juice that there really is. [m3]
    jar : str
        Jar size that is filled.
    station : Station, optional
        Pot and fire, to say how the time changes.
    """
    base = recipe.base
    if base.volume_m3 is None:
        return Refusal(
            f"{recipe.procedure.name} is reckoned by the weight of its fruit, not by "
            "a measure half-way",
            instead="weigh the fruit before it is cut",
            source=recipe.procedure.source,
        )
    share = measured_m3 / base.volume_m3
    if method.NAME == syrup.NAME:  # its fruit is strained by then
        return _fixed(recipe, "strained juice", syrup.juice_m3(recipe), measured_m3)
    if method.NAME != butter.NAME:
        expected = (base.volume_m3, base.volume_m3)
        return _fixed(recipe, base.name, expected, measured_m3)
    if not LEAST <= share <= MOST:
        return Refusal(
            f"{_said(recipe, measured_m3)} is {share:.0%} of "
            f"the {_said(recipe, base.volume_m3)} that were expected",
            instead="measure again; make another whole batch of what is too much, or "
            "keep so little cold for the table",
            source=SOURCE,
        )
    limit = recipe.procedure.largest_batch_cups
    if limit is not None and cups(measured_m3) > (limit + 0.01) * recipe.multiple:
        return Refusal(
            f"{_said(recipe, measured_m3)} is more than the "
            f"{limit:g} cups of pulp that one batch may have",
            instead="keep the rest cold and make it a batch of its own",
            source=recipe.procedure.source,
        )
    scaled = _by(recipe, share)
    was, now = method.expected_yield(recipe, jar), method.expected_yield(scaled, jar)
    if isinstance(was, Refusal):
        return was
    if isinstance(now, Refusal):
        return now
    return Remeasured(
        share=share,
        recipe=scaled,
        changes=tuple(
            _change(old, new)
            for old, new in zip(recipe.parts, scaled.parts, strict=True)
            if old is not base
        ),
        was=was,
        now=now,
        cook_min=None
        if station is None
        else (
            butter.cook_down_min(recipe, station),
            butter.cook_down_min(scaled, station),
        ),
    )


def _by(recipe: Recipe, share: float) -> Recipe:
    """Every part of a recipe at a share of itself; masses go with it."""
    return replace(
        recipe,
        parts=tuple(
            replace(
                part,
                quantity=part.quantity * share,
                mass_kg=None if part.mass_kg is None else part.mass_kg * share,
                volume_m3=None if part.volume_m3 is None else part.volume_m3 * share,
            )
            for part in recipe.parts
        ),
    )


def _change(old: Part, new: Part) -> Change:
    moved = _moved(old, new)
    grams = "" if new.mass_kg is None else f" ({new.mass_kg * 1000:.0f} g)"
    if in_metric(new) and is_weighed(new):
        grams = ""  # they are said first
    was, now = quantity_words(old), quantity_words(new)
    what = f"take back {moved}" if new.quantity < old.quantity else f"add {moved}"
    return Change(
        name=old.name,
        was=was,
        now=now + grams,
        what=what if now != was else "leave it as it is",
    )


def _moved(old: Part, new: Part) -> str:
    """Say what is added or taken back."""
    apart = abs(old.quantity - new.quantity)
    volume_m3 = abs((old.volume_m3 or 0.0) - (new.volume_m3 or 0.0))
    mass_kg = abs((old.mass_kg or 0.0) - (new.mass_kg or 0.0))
    said = in_metric(replace(new, quantity=apart, volume_m3=volume_m3, mass_kg=mass_kg))
    if said:
        return said
    if old.unit == "cup" and abs(apart * 8 - round(apart * 8)) < 0.02:
        return f"{mixed_number(apart)} cup{'s' if apart > 1 else ''}"
    if old.volume_m3 is not None and new.volume_m3 is not None:
        return kitchen_volume(volume_m3)
    return kitchen_mass(mass_kg)


def _said(recipe: Recipe, volume_m3: float) -> str:
    return volume_words(volume_m3, metric=recipe.metric)


def _fixed(
    recipe: Recipe, what: str, expected_m3: tuple[float, float], measured_m3: float
) -> Refusal:
    """A jelly is a fixed batch: more or less juice changes nothing but the choices."""
    name = recipe.procedure.name
    least, most = expected_m3
    there = _said(recipe, measured_m3)
    of = " to ".join(dict.fromkeys((_said(recipe, least), _said(recipe, most))))
    if measured_m3 < least * (1 - HAIR):
        never, instead = _too_little(recipe, what)
        reason = (
            f"{name} is a fixed batch: it lacks {_said(recipe, least - measured_m3)} "
            f"of {what}, and {never} are never trimmed to fit"
        )
    elif measured_m3 <= most * (1 + HAIR):
        reason = (
            f"{there} is what {name} is printed with: {of} of {what}. Nothing changes"
        )
        instead = "go on with the sugar and all else that are printed"
    else:
        extra = _said(recipe, measured_m3 - most)
        reason = f"{name} is a fixed batch of {of} of {what}"
        instead = f"take {_said(recipe, most)} and chill the other {extra}"
    return Refusal(reason, instead=instead, source=recipe.procedure.source)


def _too_little(recipe: Recipe, what: str) -> tuple[str, str]:
    """What is never trimmed to too little of a thing, and what to do instead."""
    if recipe.procedure.method == pickle.NAME:
        return (
            "vinegar, salt and sugar",
            "prepare what is missing, or keep it cold until there is enough",
        )
    never = "sugar and pectin" if recipe.of_role("pectin") else "sugar and acid"
    if what.endswith("juice"):
        return never, (
            "wet the pulp and press it again, use a smaller published recipe, or "
            "freeze the juice until there is enough"
        )
    return never, (
        "make more fruit ready, use a smaller published recipe, or freeze it until "
        "there is enough"
    )
