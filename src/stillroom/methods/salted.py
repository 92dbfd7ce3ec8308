"""
Vegetables that stand in salt or ice before they are pickled.

What stands up to four hours stands within the day and needs nobody; what stands longer
is cut and salted the evening before, and the day begins with draining it.
"""

from __future__ import annotations

from stillroom.book.pickle_steps import Stand, stands_of
from stillroom.book.words import tokens
from stillroom.in_a_list import all_of
from stillroom.methods import hand_steps as cold
from stillroom.methods import handling as hand
from stillroom.methods.method import Recipe
from stillroom.methods.multiples import about_kg
from stillroom.methods.portions import said
from stillroom.methods.step import Link, Skill, Step

STAND_IN_THE_DAY_H = 4.0
"""What stands longer is begun the evening before."""
DRAIN_MIN = (3.0, 0.5)


def evening_before(recipe: Recipe) -> tuple[str, ...]:
    """Return what is begun the evening before: what stands longer than four hours."""
    stands = stands_of(recipe.procedure.id)
    if not _begun_before(stands):
        return ()
    hours = sum(stand.high_h for stand in stands)
    when = "The day before" if hours > 16 else "The evening before"
    return (
        f"{when}, {recipe.procedure.name}: {_prepared_words(recipe)}; then "
        + "; then ".join(f"{stand.hours} {stand.what}" for stand in stands)
        + f". {_salted_words(recipe)}".rstrip(),
    )


def is_salted_first(recipe: Recipe) -> bool:
    """Whether the vegetables stand in the recipe's salt, which is then no brine's."""
    prepared = tokens(recipe.procedure.base_prep)
    return bool(stands_of(recipe.procedure.id)) and "salt" in prepared


def _salted_words(recipe: Recipe) -> str:
    """How it is salted, as printed, and how much salt that is."""
    if not is_salted_first(recipe):
        return ""
    salt = all_of(said(part) for part in recipe.of_role("salt"))
    return f"{recipe.procedure.base_prep} In all {salt}."


def _begun_before(stands: tuple[Stand, ...]) -> bool:
    return sum(stand.high_h for stand in stands) > STAND_IN_THE_DAY_H


def _prepared_words(recipe: Recipe) -> str:
    names = all_of(part.name for part in recipe.of_role("fruit")[:2])
    return f"wash and cut {names}"


def vegetables_kg(recipe: Recipe) -> float:
    """Mass of the vegetables, guessed where they are measured by the cup. [kg]"""
    return sum(about_kg(part) for part in recipe.of_role("fruit"))


def prepared(recipe: Recipe) -> tuple[list[Step], list[Link], str]:
    """Cut, stand and drain; what stands overnight was cut the evening before."""
    stands = stands_of(recipe.procedure.id)
    if _begun_before(stands):
        return [_drain(recipe, stands)], [], "drain"
    made, links, last = [_prepare(recipe)], [], "prepare"
    for number, stand in enumerate(stands, 1):
        id_ = f"stand_{number}"
        made.append(
            cold.standing(
                id_,
                f"Let it stand {stand.hours}",
                stand.what,
                hand.whole_min(stand.low_h * 60),
                str(stand.source),
                note="in the cold" if stand.cold else "",
            )
        )
        links.append(Link(before=last, after=id_, at_most_min=30))
        last = id_
    if stands:
        made.append(_drain(recipe, stands))
        longer = stands[-1].high_h - stands[-1].low_h
        links.append(
            Link(
                before=last,
                after="drain",
                at_most_min=max(30, round(longer * 60)),
                why="it stands no longer than printed",
            )
        )
        last = "drain"
    return made, links, last


def _prepare(recipe: Recipe) -> Step:
    kilos = vegetables_kg(recipe)
    cucumbers = any("cucumber" in part.name for part in recipe.of_role("fruit"))
    notes = [
        "cut 1/16 inch off the blossom ends: they soften pickles"
        if cucumbers
        else "all of it measured as printed"
    ]
    if is_salted_first(recipe):
        notes += [f"{said(part)} over it" for part in recipe.of_role("salt")]
    return cold.by_hand(
        "prepare",
        _prepared_words(recipe).capitalize(),
        recipe.procedure.base_prep,
        hand.for_count(hand.CUT_FRUIT_MIN, kilos),
        skill=Skill.KNIFE,
        note=" · ".join(notes),
    )


def _drain(recipe: Recipe, stands: tuple[Stand, ...]) -> Step:
    return cold.by_hand(
        "drain",
        "Drain it well" + (", as last night's" if _begun_before(stands) else ""),
        "no water runs off",
        hand.for_count(DRAIN_MIN, vegetables_kg(recipe)),
        note=f"after {stands[-1].hours} {stands[-1].what}",
    )
