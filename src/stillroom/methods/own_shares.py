"""
How a keeper's own recipe shares out its weight, beside tested recipes of its class.

Sugar to pectin, sugar and water to fruit, soluble solids, added acid, and its size.
"""

from __future__ import annotations

from stillroom.book.limits import (
    BUTTER,
    JAM,
    JELLY,
    Known,
    Span,
    class_rule,
    fruit_parts,
    recipes_spanning,
)
from stillroom.book.procedures import Procedure
from stillroom.book.produce import soluble_solids
from stillroom.measures import kitchen_mass
from stillroom.methods import butter
from stillroom.methods.boiled_down import SOLIDS_SPREAD
from stillroom.methods.own_evidence import Findings
from stillroom.methods.own_recipe import Measured, MeasuredIngredient, OwnRecipe
from stillroom.methods.scaling import DO_NOT_DOUBLE, at_multiple
from stillroom.methods.solids import mix_solids
from stillroom.refusal import Caution, Refusal, Source

TIMED = ("with_pectin", "liquid_pectin")
"""Methods whose boil is timed, so that the solids are those of the mix."""
_NO_FRUIT = 0.12
"""Soluble solids of a fruit that has no figure of its own, as for yields. [1]"""


def fruits_in(ingredient: MeasuredIngredient) -> tuple[Known, ...]:
    """Return the fruits of an ingredient, each by itself."""
    known = ingredient.known
    if isinstance(known, Refusal):
        return ()
    return tuple(
        Known(fruit.name, "fruit", (fruit,), None, "", fruit.source)
        for fruit in known.fruits
    )


def sugar_to_pectin(
    own: OwnRecipe, measured: Measured, span: Span | None, found: Findings
) -> None:
    """Sugar to the packet or pouch as in tested recipes: neither more nor less."""
    pectin = measured.mass_kg("pectin")
    if own.method not in TIMED or not pectin:
        return
    if span is None:
        reason = f"no tested {own.kind} of the book gives its sugar to pectin"
        found.refused(
            "sugar to pectin", Refusal(reason, "keep it cold", "the book's procedures")
        )
        return
    ratio = measured.mass_kg("sugar") / pectin
    each = next(
        i.known for i in measured.of_role("pectin") if not isinstance(i.known, Refusal)
    )
    per = each.each_kg or 0.0
    text = (
        f"{kitchen_mass(ratio * per, metric=True)} of sugar to a {each.each} of pectin;"
        f" tested: {kitchen_mass(span.low * per, metric=True)} ({span.lowest}) to "
        f"{kitchen_mass(span.high * per, metric=True)} ({span.highest})"
    )
    if span.holds(ratio):
        found.held("sugar to pectin", text, Source(span.source, "looked_up"))
        return
    less = ratio < span.low
    found.refused(
        "sugar to pectin",
        Refusal(
            text,
            instead="take the sugar of a tested recipe"
            + (": less gives syrup, and lets yeast and mould grow" if less else ""),
            source=f"{span.source}; Univ. of Missouri Extension GH1461",
        ),
    )


def sugar_to_fruit(
    own: OwnRecipe, measured: Measured, span: Span, found: Findings
) -> None:
    """Less sugar to the fruit than any tested recipe is refused; more is shown."""
    fruit, sugar = measured.mass_kg("fruit"), measured.mass_kg("sugar")
    ratio = sugar / fruit
    tested = (
        f"{kitchen_mass(ratio, metric=True)} of sugar to 1 kg of fruit or juice; "
        f"tested: {kitchen_mass(span.low, metric=True)} ({span.lowest}) to "
        f"{kitchen_mass(span.high, metric=True)} ({span.highest})"
    )
    if ratio < span.low * 0.999:
        no = Refusal(
            tested,
            instead="take the sugar of a tested recipe: no process is published for "
            "less sugar, and none is inferred",
            source=f"{span.source}; Univ. of Missouri Extension GH1461; Michigan "
            "State Univ. Extension leaflet 01600960",
        )
        found.refused("sugar to fruit", no)
    else:
        found.held("sugar to fruit", tested, Source(span.source, "looked_up"))
        if not span.holds(ratio):
            found.cautions.append(
                Caution(
                    "More sugar to the fruit than any tested recipe here: it may "
                    "crystallise or set badly.",
                    span.source,
                )
            )
    names = [known.name for i in measured.of_role("fruit") for known in fruits_in(i)]
    rules = [fruit_parts(own.kind, name) for name in names]
    rule = max(rules, key=lambda each: each.value)
    parts = 55 * fruit / sugar
    called = "fruit butter" if own.kind == BUTTER else own.kind
    text = (
        f"{parts:.0f} parts of fruit to 55 of sugar; what is sold as {called} has "
        f"{rule.value:g} or more"
    )
    found.shown("standard for sale", text, rule.source)
    if parts < rule.value * 0.995:
        found.cautions.append(
            Caution(
                f"Too little fruit to be sold under the name of {called}: {text}.",
                str(rule.source),
            )
        )


def water_to_fruit(own: OwnRecipe, measured: Measured, found: Findings) -> None:
    """
    More water to the fruit than any tested spread with added pectin is refused.

    It is not boiled off there, and thins the acid with the fruit.
    """
    if own.method not in TIMED:
        return
    tested = {
        procedure.title: _water(procedure)
        for kind in (JELLY, JAM)
        for method in TIMED
        for procedure in recipes_spanning(kind, method)
    }
    title = max(tested, key=lambda one: tested[one][0])
    most, source = tested[title]
    ratio = measured.mass_kg("liquid") / measured.mass_kg("fruit")
    if ratio <= most * 1.001:
        return
    text = (
        f"{kitchen_mass(ratio, metric=True)} of water and the like to 1 kg of fruit or "
        f"juice; tested with added pectin: at most {kitchen_mass(most, metric=True)} "
        f"({title})"
    )
    instead = "take less water: what it does to the acid of the jar is not guessed"
    found.refused("water to fruit", Refusal(text, instead, source))


def _water(procedure: Procedure) -> tuple[float, str]:
    """Return the share of water to fruit of a tested recipe, and who publishes it."""
    liquid, fruit = (
        sum(i.mass_kg or 0.0 for i in procedure.of_role(role))
        for role in ("liquid", "fruit")
    )
    return liquid / fruit, procedure.source


def _mix_range(own: OwnRecipe, measured: Measured) -> tuple[float, float, float]:
    """Soluble solids as it goes into the pot: lowest, likely, highest. [1]"""
    total = sum(i.mass_kg or 0.0 for i in measured.ingredients)
    bottom = sum(measured.mass_kg(role) for role in ("sugar", "pectin"))
    bottom += 0.08 * measured.mass_kg("acid")
    low = likely = high = bottom
    for ingredient in measured.of_role("fruit"):
        kg = ingredient.mass_kg or 0.0
        names = [known.name for known in fruits_in(ingredient)]
        ranges = [
            solids
            for name in names
            if not isinstance(solids := soluble_solids(name), Refusal)
        ]
        low += kg * min((r.low for r in ranges), default=0.06)
        likely += kg * (
            sum(r.likely for r in ranges) / len(ranges) if ranges else _NO_FRUIT
        )
        high += kg * max((r.high for r in ranges), default=0.23)
    return low / total, likely / total, high / total


def solids_at_end(own: OwnRecipe, measured: Measured, found: Findings) -> None:
    """Soluble solids at the end, as an estimate with its range."""
    rule = class_rule(own.kind, "solids_at_end")
    low, likely, high = _mix_range(own, measured)
    least = rule.value / 100
    by = Source(f"balance of soluble solids, an estimate; {rule.source}", "computed")
    if own.method == "boiled_down":
        text = (
            f"boiled down from about {likely:.0%} to the jellying point, {least:.0%} "
            f"({least - SOLIDS_SPREAD:.0%} to {least + SOLIDS_SPREAD:.0%}) soluble "
            f"solids; the class has {least:.0%}"
        )
        found.held("solids", text, by)
    elif own.kind == BUTTER:
        first, middle, last = butter.end_solids(likely)
        text = (
            f"cooked down from about {likely:.0%} until it mounds: about {middle:.0%} "
            f"({first:.0%} to {last:.0%}) soluble solids; the class has {least:.0%}"
        )
        found.held("solids", text, by)
    else:
        weakest, title = min(
            (mix_solids(recipe)[1], procedure.title)
            for procedure in recipes_spanning(own.kind, own.method)
            if not isinstance(recipe := at_multiple(procedure, 1), Refusal)
        )
        text = (
            f"{likely:.0%} ({low:.0%} to {high:.0%}) soluble solids as it goes into "
            f"the pot, and little more after the timed boil; tested: from "
            f"{weakest:.0%} ({title}); the class has {least:.0%}"
        )
        if likely < weakest - 0.005:
            no = Refusal(
                text,
                instead="take less water or more sugar, as a tested recipe does",
                source=str(by),
            )
            found.refused("solids", no)
        else:
            found.held("solids", text, by)


def added_acid(own: OwnRecipe, measured: Measured, found: Findings) -> None:
    """Caution where each tested recipe of a fruit adds more acid than this one."""
    fruit, acid = measured.mass_kg("fruit"), measured.mass_kg("acid")
    for name in sorted(
        {k.name for i in measured.of_role("fruit") for k in fruits_in(i)}
    ):
        tested = [p for p in recipes_spanning(own.kind, own.method) if p.fruit == name]
        shares = [
            sum(i.mass_kg or 0.0 for i in p.of_role("acid"))
            / sum(i.mass_kg or 0.0 for i in p.of_role("fruit"))
            for p in tested
        ]
        least = min(shares, default=0.0)
        if acid / fruit < least * 0.999:
            text = (
                f"Every tested {own.kind} of {name} here adds an acid, at least "
                f"{kitchen_mass(least, metric=True)} to 1 kg of fruit or juice; this "
                f"one has {kitchen_mass(acid / fruit, metric=True)}. It may not set."
            )
            source = "; ".join(dict.fromkeys(p.source for p in tested))
            found.cautions.append(Caution(text, source))


def batch_size(own: OwnRecipe, measured: Measured, found: Findings) -> None:
    """Caution where the batch is larger than any tested one."""
    sizes = [
        sum(i.mass_kg or 0.0 for i in procedure.of_role("fruit"))
        for procedure in recipes_spanning(own.kind, own.method)
    ]
    fruit = measured.mass_kg("fruit")
    if fruit > max(sizes) * 1.001:
        text = (
            f"{kitchen_mass(fruit)} of fruit or juice is more than the largest tested "
            f"batch made this way ({kitchen_mass(max(sizes))}): soft sets come from "
            "large batches."
        )
        found.cautions.append(Caution(text, DO_NOT_DOUBLE))
