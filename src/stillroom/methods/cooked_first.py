"""
What is cooked, or stands, before a spread is brought to its boil.

Peels that simmer half an hour, pulp that is cooked and sieved, a puree that is boiled
in its vinegar: printed in one sentence with the fruit, minutes and all.
"""

from __future__ import annotations

import re

from stillroom.methods import handling as hand
from stillroom.methods import pot_and_fire as fire
from stillroom.methods.method import Recipe, Station
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
        note=as_printed(recipe),
    )


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
