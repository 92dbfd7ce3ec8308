"""
Vegetables that stand in salt or ice before they are pickled.

What stands up to four hours stands within the day and needs nobody; what stands longer
is cut and salted the evening before, and the day begins with draining it.
"""

from __future__ import annotations

from dataclasses import replace

from stillroom.book.pickle_steps import Stand, stands_of
from stillroom.book.words import tokens
from stillroom.in_a_list import all_of
from stillroom.methods import hand_steps as cold
from stillroom.methods import handling as hand
from stillroom.methods.method import Part, Recipe
from stillroom.methods.multiples import about_kg
from stillroom.methods.portions import said
from stillroom.methods.step import Link, Skill, Step

STAND_IN_THE_DAY_H = 4.0
"""What stands longer is begun the evening before."""
LONGER_THAN_A_NIGHT_H = 16.0
"""What stands longer is begun the morning before."""
DAY_BEFORE, EVENING_BEFORE = "The day before", "The evening before"
DRAIN_MIN = (3.0, 0.5)
BLOSSOM_END = "cut 1/16 inch off the blossom ends"


def evening_before(*recipes: Recipe) -> tuple[str, ...]:
    """
    Return what is begun the evening before: what stands longer than four hours.

    Parameters
    ----------
    *recipes : Recipe
        What goes into each pot of one procedure: they are prepared together, so the
        line says how much that is in all, and what belongs to one batch.
    """
    first = recipes[0]
    stands = stands_of(first.procedure.id)
    if not _begun_before(stands):
        return ()
    when = DAY_BEFORE if begun_in_the_morning(first) else EVENING_BEFORE
    multiples = [recipe.multiple for recipe in recipes]
    said_all = _prepared_words(first, sum(multiples))
    if len(recipes) > 1:
        said_all += ". " + _for_each(first, multiples)
    return (
        f"{when}, {first.procedure.name}, {_how_many_words(multiples)}: {said_all}.",
    )


def begun_in_the_morning(recipe: Recipe) -> bool:
    """Whether one night is too short for it: pickle relish stands 29 hours in all."""
    stands = stands_of(recipe.procedure.id)
    return sum(stand.high_h for stand in stands) > LONGER_THAN_A_NIGHT_H


def hours_before(*recipes: Recipe) -> float:
    """
    Return how long before its day it is begun: cut, and the printed hours. [h]

    The hours are those of the first; what is prepared with it is all cut before. Zero
    for what stands within the day.
    """
    stands = stands_of(recipes[0].procedure.id)
    if not _begun_before(stands):
        return 0.0
    cut = hand.for_count(hand.CUT_FRUIT_MIN, sum(map(vegetables_kg, recipes)))
    return sum(stand.low_h for stand in stands) + cut / 60


def _how_many_words(multiples: list[int]) -> str:
    """
    Say how many batches stand together, and how often that takes the recipe.

    >>> _how_many_words([1]), _how_many_words([2])
    ('for 1 batch', 'for 1 batch (2 times the recipe)')
    >>> _how_many_words([1, 2])
    'for 3 times the recipe (2 batches)'
    >>> _how_many_words([1, 1]), _how_many_words([1, 1, 1])
    ('for both batches together', 'for all 3 batches together')
    """
    times = sum(multiples)
    if len(multiples) == 1:
        return "for 1 batch" + (f" ({times} times the recipe)" if times > 1 else "")
    if times == len(multiples):
        return f"for {'both' if times == 2 else f'all {times}'} batches together"
    return f"for {times} times the recipe ({len(multiples)} batches)"


def _for_each(recipe: Recipe, multiples: list[int]) -> str:
    """What belongs to one batch, or where they differ to the recipe taken once."""
    alike = multiples[0] if len(set(multiples)) == 1 else 1
    whose = "To each batch" if len(set(multiples)) == 1 else "To the recipe taken once"
    parts = [*recipe.of_role("fruit")]
    each = [said(_times(part, alike / recipe.multiple)) for part in parts]
    for stand in stands_of(recipe.procedure.id):
        each += _into(recipe, stand, alike)
    return f"{whose} belong {all_of(each)}"


def _prepared_words(recipe: Recipe, times: int) -> str:
    """What is cut and what it stands in, one after another, at so many times."""
    fruit = [_times(part, times / recipe.multiple) for part in recipe.of_role("fruit")]
    cut = all_of(said(p) + (f" ({p.prep})" if p.prep else "") for p in fruit)
    words = [f"wash and cut {cut}" + (f", {BLOSSOM_END}" if _cucumbers(recipe) else "")]
    for stand in stands_of(recipe.procedure.id):
        into = all_of(_into(recipe, stand, times))
        words.append(f"{stand.hours} {stand.what}" + (f": {into}" if into else ""))
    rest = rest_of_salt(recipe)
    if rest is None:
        return "; then ".join(words)
    kept = said(_times(rest, times / recipe.multiple))
    return "; then ".join(words) + f". Keep {kept} for the brine"


def _into(recipe: Recipe, stand: Stand, times: int) -> list[str]:
    """Everything that they stand in, with how much: never rounded to less."""
    found = [
        said(_times(part, times / recipe.multiple))
        for part in recipe.of_role(*stand.takes)
    ]
    if stand.salt is not None:
        (salt,) = recipe.of_role("salt")
        found.append(said(_so_much(salt, float(stand.salt) * times)))
    return found


def rest_of_salt(recipe: Recipe) -> Part | None:
    """Salt that they do not stand in, which goes into the brine; `None` for none."""
    stood_in = sum(float(s.salt or 0) for s in stands_of(recipe.procedure.id))
    for salt in recipe.of_role("salt"):
        left = salt.quantity - stood_in * recipe.multiple
        if stood_in and left > 1e-9:
            return _so_much(salt, left)
    return None


def _times(part: Part, factor: float) -> Part:
    return _so_much(part, part.quantity * factor)


def _so_much(part: Part, quantity: float) -> Part:
    factor = quantity / part.quantity
    return replace(
        part,
        quantity=quantity,
        mass_kg=None if part.mass_kg is None else part.mass_kg * factor,
        volume_m3=None if part.volume_m3 is None else part.volume_m3 * factor,
    )


def is_salted_first(recipe: Recipe) -> bool:
    """Whether the vegetables stand in the recipe's salt, which is then no brine's."""
    prepared = tokens(recipe.procedure.base_prep)
    return bool(stands_of(recipe.procedure.id)) and "salt" in prepared


def _begun_before(stands: tuple[Stand, ...]) -> bool:
    return sum(stand.high_h for stand in stands) > STAND_IN_THE_DAY_H


def _cucumbers(recipe: Recipe) -> bool:
    return any("cucumber" in part.name for part in recipe.of_role("fruit"))


def stands_in_its_brine(recipe: Recipe) -> bool:
    """Whether what they stood in last is boiled with them: nothing is drained off."""
    stands = stands_of(recipe.procedure.id)
    return bool(stands) and "acid" in stands[-1].takes


def vegetables_kg(recipe: Recipe) -> float:
    """Mass of the vegetables, guessed where they are measured by the cup. [kg]"""
    return sum(about_kg(part) for part in recipe.of_role("fruit"))


def prepared(recipe: Recipe) -> tuple[list[Step], list[Link], str]:
    """Cut, stand and drain; what stands overnight was cut the evening before."""
    stands = stands_of(recipe.procedure.id)
    if _begun_before(stands):
        if stands_in_its_brine(recipe):
            return [_out_of_the_cold(recipe, stands)], [], "from_cold"
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
    fruit = recipe.of_role("fruit")
    notes = [said(part) + (part.prep and f", {part.prep}") for part in fruit]
    if _cucumbers(recipe):
        notes.append(f"{BLOSSOM_END}: they soften pickles")
    if is_salted_first(recipe):
        notes += [f"{said(part)} over it" for part in recipe.of_role("salt")]
    return cold.by_hand(
        "prepare",
        "Wash and cut " + all_of(p.name for p in fruit),
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


def _out_of_the_cold(recipe: Recipe, stands: tuple[Stand, ...]) -> Step:
    return cold.by_hand(
        "from_cold",
        "Put it into the pot, with all that it stood in",
        "nothing is drained off: what it stood in is its brine",
        hand.for_count(DRAIN_MIN, vegetables_kg(recipe)),
        note=f"after {stands[-1].hours} {stands[-1].what}",
    )
