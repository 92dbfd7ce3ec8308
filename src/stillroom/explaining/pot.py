"""What pot, batch and burner do to the return to the boil after the sugar."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.book.heat import efficiency_of
from stillroom.explaining.asking import Given
from stillroom.explaining.boil import air_given
from stillroom.explaining.explanation import (
    POUNDS,
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
from stillroom.methods.solids import JAM_SOLIDS
from stillroom.methods.today import AirToday
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


@dataclass(frozen=True, slots=True, kw_only=True)
class _Batch:
    """Sugar that goes into boiling juice or fruit, on one fire."""

    base_kg: float
    sugar_kg: float
    pot_kg: float
    burner_w: float
    share: float
    """Of the burner's power that arrives. [1]"""
    air: AirToday

    @property
    def boils_k(self) -> float:
        """Where the whole boils. [K]"""
        return self.air.water_boils_k + BOIL_RISE_K

    @property
    def solids(self) -> float:
        """Soluble solids of the whole. [1]"""
        whole = self.base_kg + self.sugar_kg
        return (JUICE_SOLIDS * self.base_kg + self.sugar_kg) / whole

    def back_min(
        self, burner_w: float, *, part: float = 1.0, sugar_k: float = 293.15
    ) -> float | None:
        """
        Minutes back to the boil, for a part or more of the batch. [min]

        `None` where what arrives does not even cover the loss.
        """
        try:
            seconds = fire.back_to_boil_s(
                mix_kg=part * self.base_kg,
                mix_solids=JUICE_SOLIDS,
                sugar_kg=part * self.sugar_kg,
                boils_k=self.boils_k,
                boiled_k=self.air.water_boils_k,
                burner_w=burner_w,
                efficiency=self.share,
                pot_kg=self.pot_kg,
                sugar_k=sugar_k,
                loss_w=POT_LOSS_W,
            )
        except OutOfRange:
            return None
        return float(seconds) / 60.0


def explain(given: Given) -> Explanation | Refusal:
    """Say how long this batch takes back to the boil, and larger and smaller ones."""
    air = air_given(given)
    if isinstance(air, Refusal):
        return air
    share, said_by = _efficiency(given)
    batch = _Batch(
        base_kg=given["base"],
        sugar_kg=given["sugar"],
        pot_kg=given["pot"],
        burner_w=given["burner"],
        share=share,
        air=air,
    )
    mine = batch.back_min(batch.burner_w)
    warm = batch.back_min(batch.burner_w, sugar_k=WARM_SUGAR_K)
    if mine is None or warm is None:
        return Refusal(
            f"{batch.burner_w / 1000:.1f} kW of {given['stove']} never bring it back "
            "to a boil",
            instead="use a stronger burner, or look at what is written on its plate",
            source=RETURN_SOURCE,
        )
    reading = (
        "That is quick enough."
        if mine <= SLOW_RETURN_MIN
        else "That is slow: warm the sugar, take a stronger burner, or a smaller batch."
    )
    curve = _curve(batch)
    return Explanation(
        topic="pot",
        title="What pot, batch and burner do to the return to the boil",
        sentence=f"With {kitchen_mass(batch.sugar_kg)} of sugar into "
        f"{kitchen_mass(batch.base_kg)} of boiling juice or fruit it takes {mine:.1f} "
        f"min back to a full boil. {reading}",
        more=_more(batch),
        figures=_figures(batch, mine, warm),
        picture=_picture(batch, mine, curve),
        table=_table(batch),
        cautions=(SLOW,) if mine > SLOW_RETURN_MIN else (),
        source=f"{curve.source}; burner: {said_by}",
        estimate=True,
    )


def _curve(batch: _Batch) -> curves.Curve:
    return curves.back_to_boil_by_batch(
        burner_w=batch.burner_w,
        efficiency=batch.share,
        boils_k=batch.boils_k,
        sugar_per_mix=min(2.0, max(0.05, batch.sugar_kg / batch.base_kg)),
        mix_solids=JUICE_SOLIDS,
        pot_kg=batch.pot_kg,
        largest_kg=max(2.5 * batch.base_kg, 1.0),
        points=50,
        loss_w=POT_LOSS_W,
        boiled_k=batch.air.water_boils_k,
    )


def _more(batch: _Batch) -> tuple[str, ...]:
    juice_m3 = batch.base_kg / float(syrup.density_at_20_c_kg_m3(JUICE_SOLIDS))
    mix_m3 = float(kettle.dissolved_volume_m3(juice_m3, batch.sugar_kg))
    needed = litres_and_quarts(float(kettle.pot_needed_m3(mix_m3)))
    held = float(syrup.heat_capacity_j_per_kg_k(batch.solids, batch.boils_k))
    by_parts = float(
        syrup.heat_capacity_by_parts_j_per_kg_k(batch.solids, batch.boils_k)
    )
    return (
        "Cold sugar cools the pot, and the fire heats all of it again: twice the batch "
        "takes twice as long, half the burner more than twice as long, since the pot "
        "loses heat meanwhile.",
        "That is one reason why a tested batch is not doubled. It needs a pot of "
        f"{needed} so as not to boil over: four times the dissolved mix "
        f"({COMMON_PRACTICE}).",
        "Two published ways to reckon the heat that syrup holds differ by "
        f"{100 * abs(1 - by_parts / held):.0f} % here; what the stove really gives "
        "differs more. Heat a weighed pot of water once and give its figures.",
    )


def _figures(batch: _Batch, mine: float, warm: float) -> tuple[Figure, ...]:
    steam_kg_per_s = fire.evaporation_kg_per_s(
        batch.burner_w, batch.share, batch.boils_k, POT_LOSS_W
    )
    found = [
        Figure(label="Back to a full boil", value=mine, unit="min"),
        Figure(label="With the sugar warmed to 80 °C", value=warm, unit="min"),
        Figure(
            label="Share of the heat that arrives", value=100 * batch.share, unit="%"
        ),
        Figure(
            label="Water it then boils off each minute",
            value=float(steam_kg_per_s) * 60.0,
            unit="kg",
        ),
    ]
    if batch.solids < JAM_SOLIDS:
        left = kettle.mass_after_boil_down_kg(
            batch.base_kg + batch.sugar_kg, batch.solids, JAM_SOLIDS
        )
        found.append(
            Figure(label="Left of it at 65 % solids", value=float(left), unit="kg")
        )
    return tuple(found)


def _picture(batch: _Batch, mine: float, curve: curves.Curve) -> Picture:
    limits = (("slow", SLOW_RETURN_MIN), ("too slow", WORST_RETURN_MIN))
    return Picture(
        title="Minutes back to the boil by the size of the batch",
        desc="The minutes rise evenly with the batch; this one, "
        f"{batch.base_kg:.2f} kg, takes {mine:.1f} min. Common practice calls "
        f"{SLOW_RETURN_MIN:g} min slow and {WORST_RETURN_MIN:g} min too slow.",
        x_label="juice or fruit, kg",
        x_also=POUNDS,
        y_label="min",
        lines=(line("back to a full boil", curve.x, curve.y / 60.0),),
        marks=(
            *(
                Mark(
                    text=f"{words} ({COMMON_PRACTICE})",
                    at=minutes,
                    upright=False,
                    published=False,
                )
                for words, minutes in limits
            ),
            Mark(text="this batch", at=batch.base_kg, upright=True, published=False),
        ),
    )


def _table(batch: _Batch) -> Table:
    powers = [share * batch.burner_w for share in (0.5, 1.0, 1.5, 2.0)]
    return Table(
        caption="Minutes back to the boil by batch and burner",
        heads=("juice or fruit", *(f"{watts / 1000:.2g} kW" for watts in powers)),
        rows=tuple(
            (
                kitchen_mass(part * batch.base_kg),
                *(_said(batch.back_min(watts, part=part)) for watts in powers),
            )
            for part in (0.5, 1.0, 1.5, 2.0)
        ),
    )


def _said(minutes: float | None) -> str:
    return "never" if minutes is None else f"{minutes:.1f} min"
