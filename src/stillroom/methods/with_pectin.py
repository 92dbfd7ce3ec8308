"""
Jelly and jam with added powdered pectin.

Pectin goes into the cold juice; a full boil; all the sugar at once; back to a full
boil; one minute by the clock; skim; fill. The return to the boil and the minute after
it cannot be left.
"""

from __future__ import annotations

from collections.abc import Sequence

from stillroom.book.jars import jar_volume_m3
from stillroom.book.procedures import Procedure
from stillroom.book.processes import Process
from stillroom.measures import mixed_number
from stillroom.methods import handling as hand
from stillroom.methods import jars as jar_work
from stillroom.methods import pot_and_fire as fire
from stillroom.methods.method import (
    Checked,
    Material,
    Recipe,
    Station,
    Work,
    Yield,
)
from stillroom.methods.portions import printed_in, quantity_words, uses
from stillroom.methods.scaling import at_multiple
from stillroom.methods.solids import JAM_SOLIDS, ROOM_K, jars_at, mix_solids
from stillroom.methods.step import Link, Skill, Step
from stillroom.refusal import COMMON_PRACTICE, Refusal, Source

NAME = "with_pectin"
HELD_BACK = 0.03
"""What foam, pot and ladle keep: common practice, no source. [1]"""
FULL_BOIL = "a boil that stirring does not stop"


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return the procedure at a whole multiple of its tested batch."""
    return at_multiple(procedure, multiple)


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return what it uses up: its parts, whole boxes of pectin, jars, lids."""
    return (*uses(recipe), *jar_work.jar_materials(jar, jars))


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return what pot and fire make of the batch, or why they cannot hold it."""
    if (metal := fire.reacts(station.pot)) is not None:
        return metal
    volume = fire.dissolved_m3(recipe)
    needed = fire.POT_TIMES * volume
    what = f"{recipe.multiple} × {recipe.procedure.name}"
    small = fire.holds(needed, station.pot, what, source=fire.POT_SOURCE)
    if small is not None:
        return small
    back = fire.back_to_boil_min(recipe, station)
    if isinstance(back, Refusal):
        return back
    return Checked(
        dissolved_m3=volume,
        pot_needed_m3=needed,
        pot_given_m3=station.pot.volume_m3,
        back_to_boil_min=back,
        outlook=_outlook(recipe, back),
        cautions=(
            *recipe.cautions,
            *fire.metal_cautions(station.pot),
            *fire.return_cautions(back, station),
        ),
    )


def _outlook(recipe: Recipe, back: float) -> str:
    """When it boils again, when it sets, and what threatens the set."""
    risk = (
        f"risk: {recipe.multiple} batches in one pot"
        if recipe.multiple > 1
        else "risk: slow return to the boil"
        if back > fire.SLOW_RETURN_MIN
        else "one tested batch in this pot"
    )
    return (
        f"boils back in about {back:.0f} min; judge the set after 24 h, and for the "
        f"last time after two weeks; {risk}"
    )


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """
    Return how many jars it fills, from the balance of soluble solids.

    Lowest where it is boiled down to 65 % solids, highest where no water leaves. A
    timed boil with pectin ends between the two, and the printed yield says where in the
    test kitchen; where the printed figure lies outside what the solids allow, the
    nearest possible one is taken.
    """
    volume = jar_volume_m3(jar)
    if isinstance(volume, Refusal):
        return volume
    total, solids = mix_solids(recipe)
    at_65 = jars_at(total, solids, max(JAM_SOLIDS, solids), volume)
    undiminished = jars_at(total, solids, solids, volume)
    low, high = at_65 * (1 - HELD_BACK), undiminished
    printed = printed_in(recipe, volume)
    if printed is None:
        likely = low
        basis = (
            f"solids balance: {low:.1f} at 65 % solids with {HELD_BACK:.0%} left in "
            "pot and foam; no yield is printed"
        )
    else:
        middle = (printed[0] + printed[1]) / 2
        likely = min(high, max(low, middle))
        place = "within" if low <= middle <= high else "outside"
        basis = (
            f"solids balance: {low:.1f} at 65 % solids with {HELD_BACK:.0%} left in "
            f"pot and foam, {high:.1f} if nothing left it; the printed yield lies "
            f"{place} that"
        )
    return Yield(
        jar=jar,
        likely=likely,
        low=low,
        high=high,
        printed_low=printed[0] if printed else None,
        printed_high=printed[1] if printed else None,
        basis=basis,
        source=Source(
            "balance of soluble solids with 21 CFR 150 fruit factors; printed yield: "
            + recipe.procedure.source,
            "computed",
        ),
    )


def steps(
    recipe: Recipe,
    station: Station,
    process: Process,
    jars: int,
    *,
    bought_ready: Sequence[str] = (),
) -> Work | Refusal:
    """Return the steps of one batch, from washing jars to the clean pot."""
    back = fire.back_to_boil_min(recipe, station)
    if isinstance(back, Refusal):
        return back
    made = [*jar_work.before_filling(process.jar, jars, process, station.air)]
    links = jar_work.jar_links()
    if not recipe.from_juice:
        made.append(_crush(recipe))
        links.append(Link(before="crush", after="boil_juice"))
    made += [_measure_sugar(recipe), _boil_juice(recipe, station)]
    made += _sugar_and_boil(recipe, station, back)
    made += [
        *jar_work.fill_and_close(
            process.jar, jars, recipe.procedure.headspace_in, gels=True
        ),
        jar_work.wash_pot(),
    ]
    links += [
        Link(before="measure_sugar", after="sugar_in"),
        *(
            Link(before=a, after=b, at_most_min=0, why="a boil is not left")
            for a, b in (
                ("boil_juice", "sugar_in"),
                ("sugar_in", "hard_boil"),
                ("hard_boil", "skim"),
            )
        ),
        Link(
            before="skim",
            after="fill",
            at_most_min=hand.FILL_WITHIN_MIN,
            why="it gels in the pot",
        ),
    ]
    return Work(
        steps=tuple(made),
        links=tuple(links),
        ready_after="wipe_and_lid",
        closed_wait_at_most_min=hand.CLOSED_WAIT_MIN,
        closed_wait_source=COMMON_PRACTICE,
    )


def _crush(recipe: Recipe) -> Step:
    fruit = recipe.of_role("fruit")
    minutes = hand.for_count(hand.CRUSH_FRUIT_MIN, sum(p.mass_kg or 0 for p in fruit))
    return Step(
        id="crush",
        verb="Wash and crush the fruit",
        end_sign="measured level in the cup",
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=hand.BASIS,
        attention_quarters=3,
        skill=Skill.KNIFE,
        note=" · ".join(f"{quantity_words(p)} {p.name}, {p.prep}" for p in fruit),
    )


def _measure_sugar(recipe: Recipe) -> Step:
    cups = sum(p.quantity for p in recipe.of_role("sugar"))
    minutes = hand.for_count(hand.MEASURE_SUGAR_MIN, cups)
    return Step(
        id="measure_sugar",
        verb="Measure the sugar into a bowl",
        end_sign="level cups, all of it before the pot is lit",
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=hand.BASIS,
        attention_quarters=3,
        skill=Skill.COLD,
        note=f"{mixed_number(cups)} cups",
    )


def _boil_juice(recipe: Recipe, station: Station) -> Step:
    wet = recipe.of_role("fruit", "liquid", "acid")
    mass = sum(p.mass_kg or 0.0 for p in wet)
    minutes = hand.whole_min(fire.heat_up_min(mass, 0.12, station, ROOM_K))
    return Step(
        id="boil_juice",
        verb="Stir in the pectin, bring to a full boil",
        end_sign=FULL_BOIL,
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=_fire_basis(mass, station),
        attention_quarters=2,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        same_hands="pan",
        note=" · ".join(f"{quantity_words(p)} {p.name}" for p in wet[:2]),
    )


def _sugar_and_boil(recipe: Recipe, station: Station, back: float) -> list[Step]:
    total, _ = mix_solids(recipe)
    cups = sum(p.quantity for p in recipe.of_role("sugar"))
    boil = hand.whole_min(recipe.procedure.boil_min or 1.0)
    minutes = hand.whole_min(back)
    return [
        Step(
            id="sugar_in",
            verb="Sugar in all at once, back to a full boil",
            end_sign=FULL_BOIL,
            duration_min=minutes,
            spread=hand.spread_of(minutes),
            basis=_fire_basis(total, station),
            attention_quarters=4,
            skill=Skill.PAN,
            burner_w=station.burner.power_w,
            in_pot=True,
            same_hands="pan",
            critical=True,
            caution="It foams up: a hand on the knob, do not leave the pot.",
            note=f"{mixed_number(cups)} cups sugar",
        ),
        Step(
            id="hard_boil",
            verb=f"Boil hard {boil} min by the clock",
            end_sign=f"{boil} min from the full boil, stirring",
            duration_min=boil,
            basis=recipe.procedure.source,
            attention_quarters=4,
            skill=Skill.PAN,
            burner_w=station.burner.power_w,
            in_pot=True,
            same_hands="pan",
            critical=True,
            caution="Do not leave the pot.",
        ),
        Step(
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
        ),
    ]


def _fire_basis(mass_kg: float, station: Station) -> str:
    return (
        f"computed: {mass_kg:.1f} kg on {station.burner.power_w / 1000:.1f} kW "
        f"{station.heat.value}, {station.efficiency:.0%} of it into the pot"
    )
