"""
Drying: cut alike, treated, spread in one layer, dried till the printed test says so.

What is left is a balance of masses: all but water stays. The printed hours are longer
than most days, so the day ends with loaded trays and the rest is said as what comes
later. One recipe is one pound of the food as it is bought.
"""

from __future__ import annotations

from stillroom.book.drying import Drying, drying_for, drying_rules
from stillroom.book.jars import jar_volume_m3
from stillroom.book.procedures import Procedure
from stillroom.jar_count import counted
from stillroom.measures import CUP_M3, mixed_number
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
from stillroom.methods.multiples import so_many_times
from stillroom.methods.portions import uses, weight_words
from stillroom.methods.solids import ROOM_K
from stillroom.methods.step import Link, Skill, Step
from stillroom.refusal import COMMON_PRACTICE, Caution, Refusal, Source
from stillroom.science.dry import dried_mass_kg

NAME = "dry"
KEPT = Kept.DRY
PER_JAR = True
ONE_IS = "lb"
"""What its recipe taken once is, where that is no jar's worth in every jar."""
PACK = None
STANDS = "in the dryer"
"""Where it stands when its steps of the day are over, in no closed jar yet."""
TROUBLES = ("mould",)
"""Rows of the table of troubles that belong to it."""

MOST_POUNDS = 40
SPREAD_TRAYS_MIN = (2.0, 2.0)
"""Minutes to begin with, and for each kilogram."""
BLANCH_WATER_TIMES = 4.0
"""Water by weight of what is blanched at once: common practice, no source. [1]"""
BLANCH_AT_ONCE_KG = 0.5
WARM_UP_MIN = 10
_AGAINST_BROWNING = "lemon juice or ascorbic acid"
DIP_MIN = 5
"""In lemon water: common practice, no source."""


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return so many pounds' worth."""
    return so_many_times(
        procedure, multiple, most=MOST_POUNDS, source=f"hands: {COMMON_PRACTICE}"
    )


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return the food as it is bought, and what it is kept in."""
    found = uses(recipe)
    drying = drying_of(recipe)
    if not isinstance(drying, Refusal) and _AGAINST_BROWNING in drying.treat:
        found = (*found, Material(name=_AGAINST_BROWNING, said="enough for the water"))
    return (*found, Material(name=f"{jar} jars", count=jars))


def drying_of(recipe: Recipe) -> Drying | Refusal:
    """Return the row of the table that a recipe was made from."""
    return drying_for(recipe.procedure.name)


def prepared_kg(recipe: Recipe) -> float | Refusal:
    """Weight of what goes on the trays: peel, core and stones are out. [kg]"""
    drying = drying_of(recipe)
    if isinstance(drying, Refusal):
        return drying
    if drying.waste_share is None:
        return _weigh(drying, "how much of it is peel and core")
    return (recipe.base.mass_kg or 0.0) * (1.0 - drying.waste_share)


def dried_kg(recipe: Recipe) -> tuple[float, float, float] | Refusal:
    """
    Weight when it is dry enough: least, likely, most. [kg]

    What is not water stays. The least is for the driest print, the most for the
    wettest; the likely one is the wettest for fruit, which stays pliable, and the
    driest for what is to be brittle.
    """
    drying = drying_of(recipe)
    if isinstance(drying, Refusal):
        return drying
    prepared = prepared_kg(recipe)
    if isinstance(prepared, Refusal):
        return prepared
    if drying.water_share is None:
        return _weigh(drying, "its water")
    low, high = (
        float(dried_mass_kg(prepared, drying.water_share, left))
        for left in (drying.dry_water_low, drying.dry_water_high)
    )
    return low, high if drying.kind == "fruit" else low, high


def _weigh(drying: Drying, what: str) -> Refusal:
    return Refusal(
        f"{what} is not in the book for {drying.food}, so neither is the yield",
        instead="dry a weighed pound first, weigh it again, and enter your own yield",
        source=str(drying.source),
    )


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return how long it takes, what is left of it, and what threatens it."""
    drying = drying_of(recipe)
    if isinstance(drying, Refusal):
        return drying
    prepared, left = prepared_kg(recipe), dried_kg(recipe)
    if isinstance(prepared, Refusal):
        return prepared
    if isinstance(left, Refusal):
        return left
    needed = 0.0
    if drying.blanch_min:
        needed = BLANCH_AT_ONCE_KG * (1 + BLANCH_WATER_TIMES) / 1000 * 1.3
        small = fire.holds(
            needed,
            station.pot,
            f"blanching {drying.food}",
            source=f"water for half a kilogram at a time: {COMMON_PRACTICE}",
        )
        if small is not None:
            return small
    return cold.no_fire_needed(
        recipe,
        station,
        f"leaves {left[0]:.2f} to {left[2]:.2f} kg of {prepared:.2f} kg on the trays, "
        f"{prepared - left[1]:.2f} kg of water gone; printed "
        f"{drying.hours_low:g} to {drying.hours_high:g} h, often longer than the day: "
        "look by the test, not by the clock",
        Caution(
            f"{_warmth()}; hotter at first and it crusts outside and stays wet inside",
            str(drying_rules()["temperature"].source),
        ),
        needed_m3=needed,
    )


def _warmth() -> str:
    rule = drying_rules()["temperature"]
    return f"{rule.low:g} to {rule.high:g} {rule.unit}, {rule.text}"


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """Return how many jars of dried food there are, from the balance of masses."""
    volume = jar_volume_m3(jar)
    if isinstance(volume, Refusal):
        return volume
    drying = drying_of(recipe)
    if isinstance(drying, Refusal):
        return drying
    left = dried_kg(recipe)
    if isinstance(left, Refusal):
        return left
    if drying.kg_per_cup_dried is None:
        return _weigh(drying, "what a cup of it weighs dried")
    each = drying.kg_per_cup_dried * volume / float(CUP_M3)
    water = drying.water_source or drying.dry_water_source
    return Yield(
        jar=jar,
        likely=left[1] / each,
        low=left[0] / each,
        high=left[2] / each,
        printed_low=None,
        printed_high=None,
        basis=f"balance of masses: {drying.water_share:.0%} water down to "
        f"{drying.dry_water_low:.0%} to {drying.dry_water_high:.0%}; a cup of it dried "
        f"weighs {1000 * drying.kg_per_cup_dried:.0f} g ({drying.packs_known})",
        source=Source(f"{water}; {drying.dry_water_source}", "memory")
        if drying.packs_known == "memory"
        else Source(f"{water}; {drying.dry_water_source}", "computed"),
    )


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps of one batch, from the sink to the loaded dryer."""
    drying = drying_of(recipe)
    if isinstance(drying, Refusal):
        return drying
    prepared = prepared_kg(recipe)
    if isinstance(prepared, Refusal):
        return prepared
    made = [_prepare(recipe, drying)]
    links: list[Link] = []
    if drying.blanch_min:
        made += [*_blanch(drying, prepared, station), wash_pot()]
        links = [
            Link(before="boil_water", after="treat", at_most_min=15),
            Link(before="treat", after="wash_pot"),
        ]
    elif drying.treat:
        held = f"Hold the {drying.food}{drying.treat.removeprefix('held')}"
        made.append(cold.by_hand("treat", held, "all of it under water", DIP_MIN))
    made += [_spread(drying, prepared, metric=recipe.metric), _start()]
    links += [
        *_in_turn(drying),
        Link(before="spread", after="start", at_most_min=15, why="it would sour"),
    ]
    return Work(
        steps=tuple(made),
        links=tuple(links),
        ready_after="start",
        closed_wait_at_most_min=0,
        later=_later(drying, filling),
    )


def _in_turn(drying: Drying) -> tuple[Link, ...]:
    """Cut, treated where it is, spread: without a long wait between."""
    if not drying.treat:
        return (Link(before="prepare", after="spread", at_most_min=30),)
    return (
        Link(before="prepare", after="treat", at_most_min=30, why="cut fruit browns"),
        Link(before="treat", after="spread", at_most_min=30, why="it would sour"),
    )


def _prepare(recipe: Recipe, drying: Drying) -> Step:
    kilos = recipe.base.mass_kg or 0.0
    return cold.by_hand(
        "prepare",
        f"Prepare the {drying.food}",
        f"{drying.prep}; all pieces alike",
        hand.for_count(hand.CUT_FRUIT_MIN, kilos),
        skill=Skill.KNIFE,
        note=weight_words(kilos, metric=recipe.metric),
    )


def _blanch(drying: Drying, prepared: float, station: Station) -> list[Step]:
    minutes = drying.blanch_min or 0.0
    loads = max(1, -(-prepared // BLANCH_AT_ONCE_KG))
    whole = hand.whole_min(loads * (minutes + 2))
    water = BLANCH_WATER_TIMES * BLANCH_AT_ONCE_KG
    heat = hand.whole_min(fire.heat_up_min(water, 0.0, station, ROOM_K))
    return [
        Step(
            id="boil_water",
            verb="Bring water to the boil",
            end_sign="a full boil, lid on",
            duration_min=heat,
            spread=hand.spread_of(heat),
            basis=f"computed: {water:.1f} kg of water",
            skill=Skill.PAN,
            burner_w=station.burner.power_w,
            in_pot=True,
        ),
        Step(
            id="treat",
            verb=f"{_blanched_how(drying)} {_short(minutes)}, "
            f"in {counted(int(loads), 'go')}",
            end_sign=drying.treat,
            duration_min=whole,
            spread=hand.spread_of(whole),
            basis=str(drying.source),
            attention_quarters=3,
            skill=Skill.PAN,
            burner_w=station.burner.power_w,
            in_pot=True,
            caution="Steam under the lid: lift it away from you.",
            note="then drain and pat dry",
        ),
    ]


def _blanched_how(drying: Drying) -> str:
    """As printed: some in steam alone, some dipped till the skin cracks."""
    if "boiling water" not in drying.treat:
        return "Steam"
    if (drying.blanch_min or 0.0) < 1:
        return "Dip in boiling water"
    return "Into boiling water or steam," if "steam" in drying.treat else "Blanch"


def _short(minutes: float) -> str:
    """
    A short time in minutes or seconds.

    >>> _short(0.17), _short(5)
    ('10 s', '5 min')
    """
    if minutes < 1:
        return f"{round(minutes * 60):g} s"
    return f"{mixed_number(minutes)} min"


def _spread(drying: Drying, prepared: float, *, metric: bool) -> Step:
    minutes = hand.for_count(SPREAD_TRAYS_MIN, prepared)
    return cold.by_hand(
        "spread",
        "Spread on the trays",
        "one layer, nothing touching",
        minutes,
        note=drying.note or weight_words(prepared, metric=metric),
        put_up=True,
    )


def _start() -> Step:
    return cold.by_hand(
        "start",
        "Warm the dryer, trays in",
        _warmth(),
        WARM_UP_MIN,
        note="write down the hour",
        caution="A dryer runs day and night: on a stone floor, away from curtains.",
    )


def _later(drying: Drying, filling: Filling) -> tuple[Later, ...]:
    look, condition = drying_rules()["look every"], drying_rules()["conditioning"]
    dry = Later(
        after_h=drying.hours_low,
        text=f"Cool a piece of the {drying.food} and test it: {drying.dry_sign}. It "
        f"may take to {drying.hours_high:g} h; look every {look.low:g} to "
        f"{look.high:g} h, turn and change the trays.",
        source=f"{drying.source}; {look.source}",
    )
    kept = f"in {filling.jar} jars, dark, dry and cool."
    by = "Univ. of Georgia, So Easy to Preserve, drying"
    if drying.kind != "fruit":
        packed = Later(
            after_h=drying.hours_high,
            text=f"Cool what is dry and close it {kept}",
            source=by,
        )
        return dry, packed
    days = Later(
        after_h=drying.hours_high,
        text=f"Cool what is dry and condition the {drying.food} {condition.low:g} to "
        f"{condition.high:g} days: {condition.text}.",
        source=str(condition.source),
    )
    packed = Later(
        after_h=drying.hours_high + condition.low * 24.0,
        text=f"When the {drying.food} have stood their {condition.low:g} to "
        f"{condition.high:g} days and no moisture shows on the lid: close them {kept}",
        source=by,
    )
    return dry, days, packed
