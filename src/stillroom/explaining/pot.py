"""What pot, batch and burner do to the return to the boil after the sugar."""

from __future__ import annotations

from stillroom.book.heat import efficiency_of
from stillroom.explaining.asking import Given
from stillroom.explaining.boil import air_given
from stillroom.explaining.explanation import (
    Explanation,
    Figure,
    Mark,
    Picture,
    Table,
    line,
)
from stillroom.measures import kitchen_mass
from stillroom.methods.pot_and_fire import (
    BOIL_RISE_K,
    POT_LOSS_W,
    RETURN_SOURCE,
    SLOW_RETURN_MIN,
    WORST_RETURN_MIN,
    litres_and_quarts,
)
from stillroom.refusal import COMMON_PRACTICE, Caution, Refusal, Source, granted
from stillroom.science import curves, fire, kettle, syrup
from stillroom.science.ranges import OutOfRange

ASKS = (
    *("base", "sugar", "burner", "stove", "pot"),
    *("elevation", "test_water", "test_from", "test_to", "test_min"),
)
TEST = ("test_water", "test_from", "test_to", "test_min")
JUICE_SOLIDS = 0.12
"""Of most juices: what a plan takes where no produce row says otherwise. [1]"""
WARM_SUGAR_K = 353.15
SLOW = Caution(
    "a boil that comes back slowly boils the pectin to pieces: the jelly stays soft",
    RETURN_SOURCE,
)


def _efficiency(given: Given) -> tuple[float, Source]:
    """Share of the burner's power that arrives: by her own water test, or printed."""
    if all(given.has(name) for name in TEST):
        share = fire.measured_efficiency(
            given["test_water"],
            given["test_from"],
            given["test_to"],
            60.0 * given["test_min"],
            given["burner"],
        )
        return float(share), Source("your own test with water", "keeper")
    printed = granted(efficiency_of(given["stove"]))
    return printed.share, printed.source


def explain(given: Given) -> Explanation | Refusal:
    """Say how long this batch takes back to the boil, and larger and smaller ones."""
    air = air_given(given)
    if isinstance(air, Refusal):
        return air
    base, sugar, power = given["base"], given["sugar"], given["burner"]
    share, said_by = _efficiency(given)
    boils = air.water_boils_k + BOIL_RISE_K

    def minutes(
        watts: float, *, part: float = 1.0, sugar_k: float = 293.15
    ) -> float | None:
        try:
            seconds = fire.back_to_boil_s(
                mix_kg=part * base,
                mix_solids=JUICE_SOLIDS,
                sugar_kg=part * sugar,
                boils_k=boils,
                boiled_k=air.water_boils_k,
                burner_w=watts,
                efficiency=share,
                pot_kg=given["pot"],
                sugar_k=sugar_k,
                loss_w=POT_LOSS_W,
            )
        except OutOfRange:
            return None  # what arrives does not even cover the loss
        return float(seconds) / 60.0

    mine, warm = minutes(power), minutes(power, sugar_k=WARM_SUGAR_K)
    if mine is None or warm is None:
        return Refusal(
            f"{power / 1000:.1f} kW of {given['stove']} never bring it back to a boil",
            instead="use a stronger burner, or look at what is written on its plate",
            source=RETURN_SOURCE,
        )
    juice_m3 = base / float(syrup.density_at_20_c_kg_m3(JUICE_SOLIDS))
    mix_m3 = float(kettle.dissolved_volume_m3(juice_m3, sugar))
    steam = float(fire.evaporation_kg_per_s(power, share, boils, POT_LOSS_W)) * 60.0
    solids = (JUICE_SOLIDS * base + sugar) / (base + sugar)
    largest = max(2.5 * base, 1.0)
    curve = curves.back_to_boil_by_batch(
        burner_w=power,
        efficiency=share,
        boils_k=boils,
        sugar_per_mix=min(2.0, max(0.05, sugar / base)),
        mix_solids=JUICE_SOLIDS,
        pot_kg=given["pot"],
        largest_kg=largest,
        points=50,
        loss_w=POT_LOSS_W,
        boiled_k=air.water_boils_k,
    )
    powers = sorted({0.5 * power, power, 1.5 * power, 2.0 * power})
    reading = (
        "That is quick enough."
        if mine <= SLOW_RETURN_MIN
        else "That is slow: warm the sugar, take a stronger burner, or a smaller batch."
    )
    figures = [
        Figure(label="Back to a full boil", value=mine, unit="min"),
        Figure(label="With the sugar warmed to 80 °C", value=warm, unit="min"),
        Figure(label="Share of the heat that arrives", value=100 * share, unit="%"),
        Figure(label="Water it then boils off each minute", value=steam, unit="kg"),
    ]
    if solids < 0.65:
        left = float(kettle.mass_after_boil_down_kg(base + sugar, solids, 0.65))
        figures.append(Figure(label="Left of it at 65 % solids", value=left, unit="kg"))
    heats = (
        float(syrup.heat_capacity_j_per_kg_k(solids, boils)),
        float(syrup.heat_capacity_by_parts_j_per_kg_k(solids, boils)),
    )
    return Explanation(
        topic="pot",
        title="What pot, batch and burner do to the return to the boil",
        sentence=f"With {kitchen_mass(sugar)} of sugar into {kitchen_mass(base)} of "
        f"boiling juice or fruit it takes {mine:.1f} min back to a full boil. "
        f"{reading}",
        more=(
            "Cold sugar cools the pot, and the fire heats all of it again: twice the "
            "batch takes twice as long, half the burner more than twice as long, since "
            "the pot loses heat meanwhile.",
            "That is one reason why a tested batch is not doubled. It needs a pot of "
            f"{litres_and_quarts(float(kettle.pot_needed_m3(mix_m3)))} so as not to "
            f"boil over: four times the dissolved mix ({COMMON_PRACTICE}).",
            "Two published ways to reckon the heat that syrup holds differ by "
            f"{100 * abs(1 - heats[1] / heats[0]):.0f} % here; what the stove really "
            "gives differs more. Heat a weighed pot of water once and give its "
            "figures.",
        ),
        figures=tuple(figures),
        picture=Picture(
            title="Minutes back to the boil by the size of the batch",
            desc=f"The minutes rise evenly with the batch; this one, {base:.2f} kg, "
            f"takes {mine:.1f} min. Common practice calls {SLOW_RETURN_MIN:g} min slow "
            f"and {WORST_RETURN_MIN:g} min too slow.",
            x_label="juice or fruit, kg",
            y_label="min",
            lines=(line("back to a full boil", curve.x, curve.y / 60.0),),
            marks=(
                Mark(
                    text=f"slow ({COMMON_PRACTICE})",
                    at=SLOW_RETURN_MIN,
                    upright=False,
                    published=False,
                ),
                Mark(
                    text=f"too slow ({COMMON_PRACTICE})",
                    at=WORST_RETURN_MIN,
                    upright=False,
                    published=False,
                ),
                Mark(text="this batch", at=base, upright=True, published=False),
            ),
        ),
        table=Table(
            caption="Minutes back to the boil by batch and burner",
            heads=("juice or fruit", *(f"{watts / 1000:.2g} kW" for watts in powers)),
            rows=tuple(
                (
                    kitchen_mass(part * base),
                    *(_said(minutes(watts, part=part)) for watts in powers),
                )
                for part in (0.5, 1.0, 1.5, 2.0)
            ),
        ),
        cautions=(SLOW,) if mine > SLOW_RETURN_MIN else (),
        source=f"{curve.source}; burner: {said_by}",
        estimate=True,
    )


def _said(minutes: float | None) -> str:
    return "never" if minutes is None else f"{minutes:.1f} min"
