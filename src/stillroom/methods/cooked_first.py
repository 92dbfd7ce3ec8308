"""
What is cooked, or stands, before a spread is brought to its boil.

Peels that simmer half an hour, pulp that is cooked and sieved, a puree that is boiled
in its vinegar: printed in one sentence with the fruit, minutes and all.
"""

from __future__ import annotations

import re

from stillroom.book.words import tokens
from stillroom.methods import handling as hand
from stillroom.methods import pot_and_fire as fire
from stillroom.methods.method import Part, Recipe, Station
from stillroom.methods.portions import if_wanted, said
from stillroom.methods.solids import ROOM_K
from stillroom.methods.step import Link, Skill, Step

_MINUTES = re.compile(r"\b([0-9]+) min\b")
_STANDS = "stand an hour"
_OR_COOK = ", or cook "
"""What comes out of a can is not cooked first; what was dried is, by its own words."""
FRUIT_SOLIDS = 0.12


def cook_min(recipe: Recipe) -> int:
    """
    Return the printed minutes of what cooks first, each part of it; else 0. [min]

    Juice comes into the kitchen cooked: what its fruit asks for is said elsewhere.
    """
    if recipe.from_juice or _OR_COOK in recipe.procedure.base_prep:
        return 0
    return sum(map(int, _MINUTES.findall(recipe.procedure.base_prep)))


def stand_min(recipe: Recipe) -> int:
    """How long the fruit stands with its sugar first, as printed; else 0. [min]"""
    stands = not recipe.from_juice and _STANDS in recipe.procedure.base_prep
    return 60 if stands else 0


def is_told_with_the_fruit(recipe: Recipe) -> bool:
    """Whether it goes with the fruit: it stands, or only some kinds are cooked."""
    told = _OR_COOK in recipe.procedure.base_prep and not recipe.from_juice
    return told or bool(stand_min(recipe))


def as_printed(recipe: Recipe) -> str:
    """Return what is printed of it, with whose water that is."""
    once = "" if recipe.multiple == 1 else " (so printed for one batch)"
    return recipe.procedure.base_prep.rstrip(".") + once


def is_in_it(recipe: Recipe, part: Part) -> bool:
    """
    Whether what cooks first has a part in it, so that none of it goes in later.

    It is told by the printed sentence: "simmer 10 min with the water and lemon". Water
    that is drained off again is a part of its own.
    """
    if not cook_min(recipe) or part.role not in ("fruit", "liquid", "acid"):
        return False
    if part.name in {soak.name for soak in recipe.of_role("soak")}:
        return False
    told = set(tokens(recipe.procedure.base_prep))
    whole = part.role == "fruit" and "fruit" in told
    return whole or bool(told & set(tokens(part.name)))


def as_it_is_now(recipe: Recipe) -> str:
    """Say what cooked first as it goes on: fruit by its cups, where it has cups."""
    now = [
        said(part)
        for part in recipe.of_role("fruit")
        if is_in_it(recipe, part) and part.unit == "cup"
    ]
    return ": ".join(["what was cooked first", *filter(None, [" · ".join(now)])])


def cook_first(recipe: Recipe, station: Station) -> Step:
    """Cook it in the pot that it is boiled in, from cold, for the printed minutes."""
    wet = sum(p.mass_kg or 0.0 for p in recipe.of_role("fruit", "liquid", "acid"))
    printed = cook_min(recipe)
    minutes = hand.whole_min(
        fire.heat_up_min(wet, FRUIT_SOLIDS, station, ROOM_K) + printed
    )
    return Step(
        id="cook_first",
        verb=f"Cook first: {printed} min in all once it simmers",
        end_sign="soft, and measured again",
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=f"computed: {wet:.1f} kg to the boil; {recipe.procedure.source}",
        attention_quarters=1,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        note=" · ".join([as_printed(recipe), *_poured_on(recipe)]),
    )


def _poured_on(recipe: Recipe) -> list[str]:
    """The water and acid that it cooks in, with their quantities."""
    wet = recipe.of_role("liquid", "acid")
    return [in_the_pot(part) for part in wet if is_in_it(recipe, part)]


def in_the_pot(part: Part) -> str:
    """Say a part as it goes into the pot: "1 tbsp lemon juice, bottled"."""
    return f"{said(part)}{if_wanted(part)}"


def links(recipe: Recipe) -> list[Link]:
    """What crushed fruit goes through before it is brought to the boil."""
    if cook_min(recipe):
        return [
            Link(before="crush", after="cook_first"),
            Link(before="cook_first", after="to_boil"),
        ]
    if stand_min(recipe):
        stands = "it stands with its sugar, as printed"
        return [
            Link(before=first, after="to_boil", at_least_min=60, why=stands)
            for first in ("crush", "measure_sugar")
        ]
    return [Link(before="crush", after="to_boil")]
