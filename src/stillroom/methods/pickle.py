"""
Fresh-pack pickles, relish, chutney and salsa: acid in printed proportions.

The vegetables stand in salt or ice for the printed hours, the brine is brought to the
boil, and hot or raw packed jars get their published process. Nothing in the proportions
is ever changed; a batch may only be taken whole, so many times.
"""

from __future__ import annotations

from dataclasses import replace

from stillroom.book.packs import quarts_in
from stillroom.book.pickle_steps import Boil, boil_of, stands_of
from stillroom.book.procedures import Ingredient, Procedure
from stillroom.in_a_list import any_of
from stillroom.jar_count import jars_said
from stillroom.measures.write import mixed_number
from stillroom.methods import hand_steps as cold
from stillroom.methods import handling as hand
from stillroom.methods import jars as jar_work
from stillroom.methods import pot_and_fire as fire
from stillroom.methods import spread
from stillroom.methods.method import (
    Checked,
    Filling,
    Kept,
    Later,
    Material,
    Part,
    Recipe,
    Station,
    Work,
    Yield,
)
from stillroom.methods.multiples import about_m3, so_many_times
from stillroom.methods.pickle_brine import (
    brine_kg,
    brine_m3,
    comes_first,
    comes_late,
    dissolved_share,
    first_kg,
    into_it_late,
    into_the_brine,
    into_the_pot,
)
from stillroom.methods.portions import (
    drawn,
    material_of,
    printed_yield,
)
from stillroom.methods.salted import (
    evening_before,
    prepared,
    vegetables_kg,
)
from stillroom.methods.solids import ROOM_K
from stillroom.methods.step import Link, Skill, Step
from stillroom.refusal import COMMON_PRACTICE, Caution, Refusal

NAME = "pickle"
KEPT = Kept.SHELF
PER_JAR = False
PACK = None
"""Each recipe is published for its own pack; a filling's process says which."""
TROUBLES = (
    *("soft-pickle", "dark-top", "siphoned-less", "siphoned-more", "bubbles"),
    *("unsealed-day", "unsealed-late", "wrong-time"),
)
"""Rows of the table of troubles that belong to it."""

MOST_BATCHES = 4
POT_TIMES = 1.25
POT_SOURCE = f"a quarter over what goes in, for it does not foam: {COMMON_PRACTICE}"
PACK_RAW_MIN = (1.0, 1.2)
POUR_WITHIN_MIN = 5
TASTE_WEEKS = 4
TASTE_SOURCE = "Michigan State Univ. Extension leaflet 01600131: 4 to 5 weeks"
PROPORTIONS = Caution(
    "vinegar, vegetables and salt stay in the printed proportions: no more onion or "
    "pepper, no less vinegar or lemon juice; where it is made several times, all of it "
    "is multiplied",
    "tested proportions (NCHFP says so of its salsas and relishes); the multiple is "
    f"{COMMON_PRACTICE}",
)


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return the procedure taken whole, so many times; proportions never change."""
    boil = boil_of(procedure.id)
    if isinstance(boil, Refusal):
        return boil
    recipe = so_many_times(
        procedure,
        multiple,
        most=MOST_BATCHES,
        source=PROPORTIONS.source,
        cautions=(PROPORTIONS,),
    )
    if isinstance(recipe, Refusal):
        return recipe
    pairs = zip(recipe.parts, procedure.ingredients, strict=True)
    return replace(recipe, parts=tuple(_to_each(*pair) for pair in pairs))


def _to_each(part: Part, ingredient: Ingredient) -> Part:
    """Say of what goes in by the jar that it does, however many batches it is."""
    if ingredient.per not in ("pint", "quart"):
        return part
    of_one = _for_jars(part, ingredient, ingredient.per, 1)
    prep = f"to each {ingredient.per}" + (part.prep and f", {part.prep}")
    return replace(of_one, prep=prep, per=ingredient.per)


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return vegetables, vinegar, sugar, salt and spices, jars, lids."""
    per = dict(zip(recipe.parts, recipe.procedure.ingredients, strict=True))
    parts = sorted(drawn(recipe), key=lambda part: part is not recipe.base)
    return (
        *(material_of(_for_jars(part, per[part], jar, jars)) for part in parts),
        *jar_work.jar_materials(jar, jars),
    )


def _for_jars(part: Part, ingredient: Ingredient, jar: str, jars: int) -> Part:
    """A clove to a pint is as many as there are pints."""
    if ingredient.per not in ("pint", "quart"):
        return part
    times = jars * float(quarts_in(jar) / quarts_in(ingredient.per))
    cup = None if part.volume_m3 is None else part.volume_m3 / part.quantity
    quantity = times * float(ingredient.quantity)
    return replace(
        part,
        per="",
        quantity=quantity,
        volume_m3=None if cup is None else quantity * cup,
        mass_kg=None if ingredient.mass_kg is None else ingredient.mass_kg * times,
    )


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return whether the pot holds it and does not react with vinegar."""
    boil = boil_of(recipe.procedure.id)
    if isinstance(boil, Refusal):
        return boil
    if (metal := fire.reacts(station.pot)) is not None:
        return metal
    inside = brine_m3(recipe)
    if "hot" in boil.packs:
        inside += sum(about_m3(part) for part in recipe.of_role("fruit"))
    needed = POT_TIMES * inside
    what = fire.batch_words(recipe)
    small = fire.holds(needed, station.pot, what, source=POT_SOURCE)
    if small is not None:
        return small
    early = tuple(
        Caution(line, str(stands_of(recipe.procedure.id)[0].source))
        for line in evening_before(recipe)
    )
    return Checked(
        dissolved_m3=inside,
        pot_needed_m3=needed,
        pot_given_m3=station.pot.volume_m3,
        back_to_boil_min=None,
        outlook=_outlook(recipe, boil),
        cautions=(*recipe.cautions, *fire.metal_cautions(station.pot), *early),
    )


def _outlook(recipe: Recipe, boil: Boil) -> str:
    stands = stands_of(recipe.procedure.id)
    first = (
        "stands " + ", then ".join(stand.hours for stand in stands) + "; "
        if stands
        else ""
    )
    packed = "is packed " + any_of(boil.packs)
    if not _ripens(recipe):
        return f"{first}{packed}"
    return (
        f"{first}{packed}; {TASTE_WEEKS} to {TASTE_WEEKS + 1} weeks on the shelf "
        "before it tastes right"
    )


def _ripens(recipe: Recipe) -> bool:
    """A salsa is eaten when it is wanted; a pickle takes its weeks."""
    return recipe.procedure.kind != "salsa"


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """Return the printed yield: a pickle fills jars by its pieces, not by solids."""
    return printed_yield(
        recipe,
        jar,
        instead="make one batch and enter how many jars it filled",
        least=0.9,
        most=1.05,
        basis="the printed yield of the tested batch, 10 % less to 5 % more "
        f"({COMMON_PRACTICE}); brine that is left over is not stretched",
    )


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps of one batch, from the sink, or from last night's crock."""
    boil = boil_of(recipe.procedure.id)
    if isinstance(boil, Refusal):
        return boil
    raw = _pack(boil, filling) == "raw"
    made, links, last = prepared(recipe)
    made += [*jar_work.before_filling(filling, station.air)]
    links += jar_work.jar_links()
    if boil.timed != "together":
        made.append(_brine(recipe, station, boil))
        links += _brine_links(raw)
        if comes_late(recipe):
            links.append(Link(before=last, after="brine", at_most_min=60))
    if raw:
        made.append(_pack_raw(recipe, filling))
        links += [
            Link(before=last, after="pack_raw", at_most_min=60),
            Link(before="heat_jars", after="pack_raw"),
            Link(before="pack_raw", after="fill", at_most_min=20, why="jars cool"),
        ]
    else:
        made.append(_cook(recipe, station, boil))
        links += [
            Link(before=last, after="cook", at_most_min=60),
            Link(
                before="cook",
                after="fill",
                at_most_min=hand.FILL_WITHIN_MIN,
                why="filled hot",
            ),
        ]
    return Work(
        steps=(
            *made,
            *jar_work.fill_and_close(
                filling,
                recipe.procedure.headspace_in,
                sweet=bool(recipe.of_role("sugar")),
                over_raw=raw,
            ),
            jar_work.wash_pot(),
        ),
        links=tuple(links),
        ready_after="wipe_and_lid",
        closed_wait_at_most_min=hand.CLOSED_WAIT_MIN,
        later=_later(recipe),
    )


def _brine_links(raw: bool) -> list[Link]:
    """Boiling brine is poured over at once, or kept at the boil for what goes in."""
    if raw:
        poured = "poured boiling"
        return [
            Link(before="brine", after="fill", at_most_min=POUR_WITHIN_MIN, why=poured)
        ]
    return [Link(before="brine", after="cook", at_most_min=5, why="kept at the boil")]


def _later(recipe: Recipe) -> tuple[Later, ...]:
    if not _ripens(recipe):
        return ()
    return (
        Later(
            after_h=TASTE_WEEKS * 7 * 24.0,
            text=f"Taste the {recipe.procedure.name}: {TASTE_WEEKS} to "
            f"{TASTE_WEEKS + 1} weeks on the shelf before it tastes right.",
            source=TASTE_SOURCE,
        ),
    )


def _pack(boil: Boil, filling: Filling) -> str:
    """Hot or raw, as the published process of these jars has it."""
    if filling.process is not None and filling.process.pack in boil.packs:
        return filling.process.pack
    return boil.packs[0]


def _brine(recipe: Recipe, station: Station, boil: Boil) -> Step:
    kilos = first_kg(recipe)
    heat = fire.heat_up_min(kilos, dissolved_share(recipe, kilos), station, ROOM_K)
    timed = recipe.procedure.boil_min or 0.0
    after = timed if boil.timed in ("brine", "both") else 0.0
    minutes = hand.whole_min(heat + after)
    return Step(
        id="brine",
        verb=f"Bring {comes_first(recipe)} to the boil"
        + (f", {after:g} min" if after else ""),
        end_sign=_signs(recipe, boil)[0],
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=f"{spread.fire_basis(kilos, station)}; {boil.source}",
        attention_quarters=1,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        same_hands="pan",
        caution="Hot vinegar bites in the nose: open a window, stand back.",
        note=" · ".join(into_the_brine(recipe)),
    )


def _signs(recipe: Recipe, boil: Boil) -> tuple[str, str]:
    """What the brine is watched for, and what the vegetables in it are."""
    sign = recipe.procedure.boil_sign
    if boil.timed in ("vegetables", "together"):
        return "it boils", sign
    brine, _, then = sign.partition("; ")
    return brine, then.removeprefix("then ") or brine


def _cook(recipe: Recipe, station: Station, boil: Boil) -> Step:
    whole = brine_kg(recipe) + vegetables_kg(recipe)
    together = boil.timed == "together"
    hot_share = 0.0 if together else first_kg(recipe) / whole
    mixed_k = hot_share * station.air.water_boils_k + (1 - hot_share) * ROOM_K
    heat = fire.heat_up_min(
        whole, dissolved_share(recipe, whole), station, min(mixed_k, 370.0)
    )
    timed = recipe.procedure.boil_min or 0.0
    after = timed if boil.timed in ("vegetables", "both", "together") else 0.0
    minutes = hand.whole_min(heat + after)
    long_boil = after >= 15
    return Step(
        id="cook",
        verb=into_the_pot(recipe, together=together)
        + (f", {after:g} min" if after else ""),
        end_sign=_signs(recipe, boil)[1],
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=f"{spread.fire_basis(whole, station)}; {boil.source}",
        attention_quarters=2 if long_boil else 3,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        same_hands="pan",
        critical=not long_boil,
        caution="It catches at the bottom as it thickens." if long_boil else "",
        note=" · ".join(into_it_late(recipe)),
    )


def _pack_raw(recipe: Recipe, filling: Filling) -> Step:
    per_jar = [
        f"{i.name}, {mixed_number(i.quantity)} "
        f"{'' if i.unit == 'each' else i.unit + ' '}to a {i.per}"
        for i in recipe.procedure.ingredients
        if i.per in ("pint", "quart")
    ]
    return cold.by_hand(
        "pack_raw",
        f"Pack {jars_said(filling.jars, f'hot {filling.jar}')}",
        "close, but not pressed; brine must reach the bottom",
        hand.for_count(PACK_RAW_MIN, filling.jars),
        note=" · ".join(per_jar) or recipe.procedure.order_of_adding,
        put_up=True,
        caution="Jars are hot: a cloth under the hand.",
    )
