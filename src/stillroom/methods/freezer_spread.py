"""
Freezer jam and jelly: the fruit stays raw, only pectin and water are boiled.

It sets while it stands up to a day, and then keeps in the freezer, or three weeks in
the refrigerator. It is never for the shelf.
"""

from __future__ import annotations

from stillroom.book.jars import jar_volume_m3
from stillroom.book.procedures import Procedure
from stillroom.methods import crushing, spread
from stillroom.methods import hand_steps as cold
from stillroom.methods import handling as hand
from stillroom.methods import pot_and_fire as fire
from stillroom.methods.jars import wash_pot
from stillroom.methods.method import (
    Checked,
    Filling,
    Kept,
    Later,
    Material,
    Recipe,
    Station,
    Work,
    Yield,
)
from stillroom.methods.portions import printed_in, quantity_words, said, uses
from stillroom.methods.scaling import at_multiple
from stillroom.methods.solids import ROOM_K
from stillroom.methods.step import Link, Skill, Step
from stillroom.refusal import Refusal, Source

NAME = "freezer_spread"
KEPT = Kept.FREEZER
PER_JAR = False
PACK = None
TROUBLES = ("soft-early", "soft-late", "crystals", "mould", "bubbles")
"""Rows of the table of troubles that belong to it."""

SET_SOURCE = (
    "Michigan State Univ. Extension leaflet 01600300 (USDA uncooked jam); Univ. of "
    "Wisconsin Extension B2909 p.39"
)
STAND_H = 24.0
REFRIGERATED_DAYS = 21
STAND_WITH_SUGAR_MIN = 10
"""Till the juice runs: common practice, no source."""
STIR_MIN = 3
PECTIN_BOIL_MIN = 1
"""Pectin and water are boiled one minute, as printed in all of these recipes."""
HELD_BACK = 0.03


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return the procedure at a whole multiple of its tested batch."""
    return at_multiple(procedure, multiple)


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return its parts, whole boxes of pectin, and freezer boxes."""
    return (*uses(recipe), Material(name=f"{jar} freezer boxes", count=jars))


def boils_pectin(recipe: Recipe) -> bool:
    """Powder is boiled in water; a pouch is stirred in as it is."""
    return any(part.name == "water" for part in recipe.of_role("liquid"))


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return whether the pot boils its pectin; the fruit is not cooked."""
    if (metal := fire.reacts(station.pot)) is not None:
        return metal
    water = sum(part.volume_m3 or 0.0 for part in recipe.of_role("liquid"))
    needed = fire.POT_TIMES * water
    small = fire.holds(
        needed,
        station.pot,
        f"pectin and water of {recipe.procedure.name}",
        source=fire.POT_SOURCE,
    )
    if small is not None:
        return small
    return Checked(
        dissolved_m3=fire.dissolved_m3(recipe),
        pot_needed_m3=needed,
        pot_given_m3=station.pot.volume_m3,
        back_to_boil_min=None,
        outlook="is not cooked, but for its pectin; stands up to "
        f"{STAND_H:.0f} h to set, then the freezer, or {REFRIGERATED_DAYS} days in the "
        f"refrigerator; {spread.risk(recipe)}",
        cautions=(*recipe.cautions, *fire.metal_cautions(station.pot)),
    )


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """Return how many boxes it fills: nothing boils away, so by volume."""
    volume = jar_volume_m3(jar)
    if isinstance(volume, Refusal):
        return volume
    high = fire.dissolved_m3(recipe) / volume
    low = high * (1 - 2 * HELD_BACK)
    printed = printed_in(recipe, volume)
    basis = f"volume of fruit, water and dissolved sugar: {high:.1f} if none is lost"
    likely = high * (1 - HELD_BACK)
    if printed:
        place = "within" if printed[0] <= likely <= printed[1] else "beside"
        basis += f"; that lies {place} the printed yield"
    return Yield(
        jar=jar,
        likely=likely,
        low=low,
        high=high,
        printed_low=printed[0] if printed else None,
        printed_high=printed[1] if printed else None,
        basis=basis,
        source=Source(
            f"volumes as measured; printed yield: {recipe.procedure.source}",
            "computed",
        ),
    )


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps of one batch, from the berries to the boxes that stand."""
    made = [cold.wash_boxes(filling), spread.measure_sugar(recipe)]
    links = [*cold.box_links(), Link(before="measure_sugar", after="stir_sugar")]
    if not recipe.from_juice:
        made.append(crushing.crush(recipe))
        links.append(Link(before="crush", after="stir_sugar", at_most_min=60))
    made += [
        cold.by_hand(
            "stir_sugar",
            f"Stir the sugar into the {'juice' if recipe.from_juice else 'fruit'}",
            "well mixed",
            STIR_MIN,
            note=_with_the_sugar(recipe),
        ),
        cold.standing(
            "stand",
            "Let it stand",
            "the sugar draws juice and dissolves",
            STAND_WITH_SUGAR_MIN,
            hand.BASIS,
        ),
    ]
    links.append(Link(before="stir_sugar", after="stand", at_most_min=5))
    if boils_pectin(recipe):
        made += [_boil_pectin(recipe, station), _stir_in("the hot pectin")]
        links += [
            Link(before="stand", after="stir_in", at_most_min=60),
            Link(
                before="boil_pectin", after="stir_in", at_most_min=1, why="it gels hot"
            ),
        ]
        made.append(wash_pot())
        links.append(Link(before="stir_in", after="wash_pot"))
    else:
        made.append(_stir_in("pectin and lemon juice, mixed first"))
        links.append(Link(before="stand", after="stir_in", at_most_min=60))
    made += [
        cold.fill_boxes(filling, recipe.procedure.headspace_in, "at once: it sets"),
        cold.label_boxes(filling, "lids tight", then="they stand where they are"),
    ]
    links.append(
        Link(
            before="stir_in",
            after="fill",
            at_most_min=hand.FILL_WITHIN_MIN,
            why="it gels in the bowl",
        )
    )
    return Work(
        steps=tuple(made),
        links=tuple(links),
        ready_after="label",
        closed_wait_at_most_min=hand.CLOSED_WAIT_MIN,
        later=_later(recipe),
    )


def _with_the_sugar(recipe: Recipe) -> str:
    """Acid goes in with the sugar, but lemon juice waits for a pouch of pectin."""
    parts = list(recipe.of_role("sugar"))
    parts += [
        part
        for part in recipe.of_role("acid")
        if boils_pectin(recipe) or "lemon" not in part.name
    ]
    return " · ".join(map(said, parts))


def _boil_pectin(recipe: Recipe, station: Station) -> Step:
    water = sum(part.mass_kg or 0.0 for part in recipe.of_role("liquid"))
    heat = hand.whole_min(fire.heat_up_min(water, 0.0, station, ROOM_K))
    minutes = heat + PECTIN_BOIL_MIN
    return Step(
        id="boil_pectin",
        verb=f"Boil pectin and water {PECTIN_BOIL_MIN} min",
        end_sign=f"{PECTIN_BOIL_MIN} min from a full boil, stirring",
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=f"{spread.fire_basis(water, station)}; {recipe.procedure.source}",
        attention_quarters=4,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        same_hands="pan",
        critical=True,
        caution="A small hot sticky pot: stir all the time.",
        note=" · ".join(
            f"{quantity_words(part)} {part.name}"
            for part in recipe.of_role("liquid", "pectin")
        ),
    )


def _stir_in(what: str) -> Step:
    return Step(
        id="stir_in",
        verb=f"Stir in {what}",
        end_sign=f"{STIR_MIN} min, till no sugar grates on the spoon",
        duration_min=STIR_MIN,
        spread=hand.spread_of(STIR_MIN),
        basis=hand.BASIS,
        attention_quarters=4,
        skill=Skill.COLD,
        same_hands="pan",
        critical=True,
    )


def _later(recipe: Recipe) -> tuple[Later, ...]:
    name = recipe.procedure.name
    return (
        Later(
            after_h=STAND_H,
            text=f"The {name} has stood: into the freezer, or the refrigerator for "
            f"{REFRIGERATED_DAYS} days at most. Never on the shelf.",
            source=SET_SOURCE,
        ),
        Later(
            after_h=365 * 24.0,
            text=f"Use up the frozen {name}: best within a year.",
            source=SET_SOURCE,
        ),
    )
