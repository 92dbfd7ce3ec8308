"""
What jellies and jams have in common, however they are made to set.

Sugar is measured before the pot is lit; a full boil is one that stirring does not stop;
the hot pan is not left; it is skimmed off the fire and filled before it gels.
"""

from __future__ import annotations

import itertools
from dataclasses import replace

from stillroom.book.jars import jar_volume_m3
from stillroom.measures import minutes_said
from stillroom.methods import cooked_first, crushing
from stillroom.methods import handling as hand
from stillroom.methods import jars as jar_work
from stillroom.methods import pot_and_fire as fire
from stillroom.methods.method import (
    Checked,
    Filling,
    Later,
    Part,
    Recipe,
    Station,
    Work,
    Yield,
)
from stillroom.methods.portions import (
    as_printed,
    printed_in,
    sum_words,
)
from stillroom.methods.solids import (
    JAM_SOLIDS,
    ROOM_K,
    UNKNOWN_SOLIDS,
    guessed,
    jars_at,
    mix_solids,
    not_reckoned,
)
from stillroom.methods.step import Link, Skill, Step
from stillroom.refusal import Refusal, Source

FULL_BOIL = "a boil that stirring does not stop"
LOOK_AT_THE_SET = (
    Later(
        after_h=24.0,
        text="Look at the set: tilt a jar. Soft is not failed yet.",
        source="remake leaflets print 24 h",
    ),
    Later(
        after_h=14 * 24.0,
        text="Judge the set for the last time; after two weeks it will not change.",
        source="up to two weeks for some powdered-pectin sets, from memory",
    ),
)
HELD_BACK = 0.03
"""What foam, pot and ladle keep: common practice, no source. [1]"""


def begun(
    recipe: Recipe, station: Station, filling: Filling
) -> tuple[list[Step], list[Link]]:
    """Steps and links that a batch begins with: jars, and fruit crushed for the pan."""
    made = jar_work.before_filling(filling, station.air)
    links = jar_work.jar_links()
    if not recipe.from_juice:
        fruit = crushing.crush(recipe)
        if cooked_first.is_told_with_the_fruit(recipe):
            told = f"{fruit.note} · {cooked_first.as_printed(recipe)}"
            fruit = replace(fruit, note=told)
        made.append(fruit)
        if cooked_first.cook_min(recipe):
            made.append(cooked_first.cook_first(recipe, station))
        links += cooked_first.links(recipe)
    return made, links


def measure_sugar(recipe: Recipe) -> Step:
    """Measure the sugar before anything is hot."""
    sugar = recipe.of_role("sugar")
    minutes = hand.for_count(hand.MEASURE_SUGAR_MIN, sum(p.quantity for p in sugar))
    how = "weighed" if recipe.metric else "level cups"
    return Step(
        id="measure_sugar",
        verb="Measure the sugar into a bowl",
        end_sign=f"{how}, all of it before the pot is lit",
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=hand.BASIS,
        attention_quarters=3,
        skill=Skill.COLD,
        note=sum_words(sugar),
    )


def to_boil(
    recipe: Recipe, station: Station, parts: tuple[str, ...], verb: str
) -> Step:
    """Bring the parts of the given roles from room temperature to a full boil."""
    inside = recipe.of_role(*parts)
    mass = sum(part.mass_kg or 0.0 for part in inside)
    sugar = sum(p.mass_kg or 0.0 for p in inside if p.role == "sugar")
    solids = min(0.8, (0.12 * (mass - sugar) + sugar) / mass)
    minutes = hand.whole_min(fire.heat_up_min(mass, solids, station, ROOM_K))
    return Step(
        id="to_boil",
        verb=verb,
        end_sign=FULL_BOIL,
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=fire_basis(mass, station),
        attention_quarters=2,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        same_hands="pan",
        caution="It foams up near the boil." if sugar else "",
        note=" · ".join(_going_in(recipe, inside)),
    )


def _going_in(recipe: Recipe, inside: tuple[Part, ...]) -> list[str]:
    """Each part with its quantity; what was cooked first is in the pot, and said so."""
    there = [part for part in inside if cooked_first.is_in_it(recipe, part)]
    new = [cooked_first.in_the_pot(part) for part in inside if part not in there]
    return [cooked_first.as_it_is_now(recipe), *new] if there else new


def printed_boil_min(recipe: Recipe) -> float:
    """
    Return the minutes of the timed boil, as printed. [min]

    Raises
    ------
    ValueError
        If the recipe prints none: an end sign ends its boil, and none is made up.
    """
    printed = recipe.procedure.boil_min
    if printed is None:
        raise ValueError(f"{recipe.procedure.id} prints no minutes for its boil")
    return printed


def hard_boil(recipe: Recipe, station: Station) -> Step:
    """Boil hard for the published minutes, by the clock."""
    printed = printed_boil_min(recipe)
    timed = minutes_said(printed)
    return Step(
        id="hard_boil",
        verb=f"Boil hard {timed} by the clock",
        end_sign=f"{timed} from the full boil, stirring",
        duration_min=hand.whole_min(printed),
        basis=recipe.procedure.source,
        attention_quarters=4,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        same_hands="pan",
        critical=True,
        caution="Do not leave the pot.",
    )


def skim() -> Step:
    """Take it off the fire and skim it."""
    return Step(
        id="skim",
        verb="Off the fire, skim",
        end_sign="no foam",
        duration_min=hand.SKIM_MIN,
        spread=hand.spread_of(hand.SKIM_MIN),
        basis=hand.BASIS,
        attention_quarters=4,
        skill=Skill.PAN,
        in_pot=True,
        same_hands="pan",
        critical=True,
    )


def not_left(*steps: str) -> list[Link]:
    """Tie steps that follow one another without a pause, and the filling after."""
    pairs = itertools.pairwise(steps)
    return [
        *(
            Link(before=a, after=b, at_most_min=0, why="a boil is not left")
            for a, b in pairs
        ),
        Link(
            before=steps[-1],
            after="fill",
            at_most_min=hand.FILL_WITHIN_MIN,
            why="it gels in the pot",
        ),
    ]


def fire_basis(mass_kg: float, station: Station) -> str:
    """Say what a duration on the fire was computed from."""
    return (
        f"computed: {mass_kg:.1f} kg on {station.burner.power_w / 1000:.1f} kW "
        f"{station.heat.value}, {station.efficiency:.0%} of it into the pot"
    )


def fits(recipe: Recipe, station: Station) -> tuple[float, float] | Refusal:
    """Return the dissolved volume and the pot it needs, or why this pot will not do."""
    if (metal := fire.reacts(station.pot)) is not None:
        return metal
    volume = fire.dissolved_m3(recipe)
    needed = fire.POT_TIMES * volume
    what = fire.batch_words(recipe)
    small = fire.holds(needed, station.pot, what, source=fire.POT_SOURCE)
    return (volume, needed) if small is None else small


def checked(
    recipe: Recipe, station: Station, back: float | None, outlook: str
) -> Checked | Refusal:
    """Return what pot and fire make of a spread, with its cautions."""
    room = fits(recipe, station)
    if isinstance(room, Refusal):
        return room
    return Checked(
        dissolved_m3=room[0],
        pot_needed_m3=room[1],
        pot_given_m3=station.pot.volume_m3,
        back_to_boil_min=back,
        outlook=outlook,
        cautions=(
            *recipe.cautions,
            *fire.metal_cautions(station.pot),
            *(() if back is None else fire.return_cautions(back, station)),
        ),
    )


def sets(recipe: Recipe) -> str:
    """When a spread with added pectin sets, and at what soluble solids it ends."""
    _, solids = mix_solids(recipe)
    low, high = sorted((round(solids * 100), round(JAM_SOLIDS * 100)))
    ends = f"{low} to {high}" if low != high else f"{low}"
    return (
        f"ends at {ends} % soluble solids; sets in 12 to 24 h (common practice), "
        "judged for the last time after two weeks"
    )


def risk(recipe: Recipe, back: float | None = None) -> str:
    """What threatens the set, in a few words."""
    if recipe.multiple > 1:
        return f"risk: {recipe.multiple} batches in one pot"
    if back is not None and back > fire.SLOW_RETURN_MIN:
        return "risk: slow return to the boil"
    return "one tested batch in this pot"


def filled(
    made: list[Step], links: list[Link], recipe: Recipe, filling: Filling
) -> Work:
    """Add filling, closing and washing-up, and return the whole work."""
    return Work(
        steps=(
            *made,
            *jar_work.fill_and_close(filling, recipe.procedure.headspace_in, gels=True),
            jar_work.wash_pot(),
        ),
        links=tuple(links),
        ready_after="wipe_and_lid",
        closed_wait_at_most_min=hand.CLOSED_WAIT_MIN,
        later=LOOK_AT_THE_SET,
    )


def timed_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """
    Return the jars of a spread with added pectin, from the balance of soluble solids.

    Lowest where it is boiled down to 65 % solids, highest where no water leaves. A
    timed boil ends between the two, and the printed yield says where in the test
    kitchen; where the printed figure lies outside what the solids allow, the nearest
    possible one is taken.
    """
    volume = jar_volume_m3(jar)
    if isinstance(volume, Refusal):
        return volume
    total, solids = mix_solids(recipe)
    end = max(JAM_SOLIDS, solids)
    low = jars_at(total, solids, end, volume) * (1 - HELD_BACK)
    high = jars_at(total, solids, solids, volume)
    printed = printed_in(recipe, volume)
    if (missing := not_reckoned(recipe)) and printed is not None:
        return as_printed(recipe, jar, printed, basis=_not_reckoned_words(missing))
    basis = (
        f"solids balance: {low:.1f} at 65 % solids with {HELD_BACK:.0%} left in "
        f"pot and foam, {high:.1f} if nothing boiled away"
    )
    if guessed(recipe):
        basis += f"; the fruit's solids are taken as {UNKNOWN_SOLIDS:.0%}"
    if printed is None:
        likely = low
        basis += "; no yield is printed"
    else:
        middle = (printed[0] + printed[1]) / 2
        likely = min(high, max(low, middle))
        apart = printed[0] > high or printed[1] < low
        place = "outside" if apart else "within"
        basis += f"; the printed yield lies {place} that"
    return Yield(
        jar=jar,
        likely=likely,
        low=low,
        high=high,
        printed_low=printed[0] if printed else None,
        printed_high=printed[1] if printed else None,
        basis=basis,
        source=yield_source(recipe),
    )


def _not_reckoned_words(missing: tuple[str, ...]) -> str:
    """Why the printed yield is taken where the balance lacks a part."""
    return f"as printed: no solids are known for {', '.join(missing)}"


def boiled_yield(recipe: Recipe, jar: str, spread_of_solids: float) -> Yield | Refusal:
    """Return the jars of a spread boiled down to 65 %; printed ones run too high."""
    volume = jar_volume_m3(jar)
    if isinstance(volume, Refusal):
        return volume
    printed = printed_in(recipe, volume)
    if (missing := not_reckoned(recipe)) and printed is not None:
        return as_printed(recipe, jar, printed, basis=_not_reckoned_words(missing))
    total, solids = mix_solids(recipe)
    end = max(JAM_SOLIDS, solids)
    kept = 1 - HELD_BACK
    likely = jars_at(total, solids, end, volume) * kept
    low = jars_at(total, solids, end + spread_of_solids, volume) * kept
    high = jars_at(total, solids, max(solids, end - spread_of_solids), volume)
    basis = f"solids balance: boiled down to 65 % soluble solids, {likely:.1f} jars"
    if printed and printed[0] > high:
        basis += "; the printed yield is more than the solids can fill"
    return Yield(
        jar=jar,
        likely=likely,
        low=low,
        high=high,
        printed_low=printed[0] if printed else None,
        printed_high=printed[1] if printed else None,
        basis=basis,
        source=yield_source(recipe),
    )


def yield_source(recipe: Recipe) -> Source:
    """Who says what of a yield: the solids, and the printed figure."""
    return Source(
        "balance of soluble solids with 21 CFR 150 fruit factors; printed yield: "
        + recipe.procedure.source,
        "computed",
    )
