"""
What a keeper's own recipe is held against, one function for each rule of its class.

Every rule leaves a line of evidence: what was found, what tested recipes have, and who
says so. Where it does not hold there is a reason with it, and no process.
"""

from __future__ import annotations

from stillroom.book.limits import (
    BUTTER,
    JELLY,
    Known,
    Span,
    class_rule,
    fruit_parts,
    recipes_spanning,
    spans_of,
)
from stillroom.book.produce import soluble_solids
from stillroom.book.words import tokens
from stillroom.measures import TEASPOON_M3, kitchen_mass
from stillroom.methods import butter
from stillroom.methods.boiled_down import SOLIDS_SPREAD
from stillroom.methods.own_evidence import Found
from stillroom.methods.own_recipe import Measured, MeasuredIngredient, OwnRecipe
from stillroom.methods.scaling import DO_NOT_DOUBLE, at_multiple
from stillroom.methods.solids import mix_solids
from stillroom.refusal import Caution, Refusal, Source

TIMED = ("with_pectin", "liquid_pectin")
"""Methods whose boil is timed, so that the solids are those of the mix."""
_PECTIN_OF = {"with_pectin": "box", "liquid_pectin": "pouch"}
_NO_FRUIT = 0.12
"""Soluble solids of a fruit that has no figure of its own, as for yields. [1]"""
_SPOON_KG = 0.002
"""A teaspoon of spice that was weighed: common practice, no source. [kg]"""


def fruits_in(ingredient: MeasuredIngredient) -> tuple[Known, ...]:
    """Return the fruits of an ingredient, each by itself."""
    known = ingredient.known
    if isinstance(known, Refusal):
        return ()
    return tuple(
        Known(fruit.name, "fruit", (fruit,), None, "", fruit.source)
        for fruit in known.fruits
    )


def readings(own: OwnRecipe, found: Found) -> None:
    """Show what she measured herself; a reading can only take a process away."""
    line = class_rule("any", "acid_line")
    if own.measured_ph is not None:
        text = f"pH {own.measured_ph:g}, the keeper's own reading; it gives no process"
        if own.measured_ph > line.value:
            reason = (
                f"the keeper read pH {own.measured_ph:g}, above {line.value:g}, where "
                "food is low in acid"
            )
            found.refused(
                "measured pH",
                Refusal(reason, "keep it cold; read it again", str(line.source)),
            )
        else:
            found.shown("measured pH", text, Source("the keeper", "keeper"))
    if own.measured_brix is not None:
        text = (
            f"{own.measured_brix:g} °Brix, the keeper's own reading; it gives no "
            "process"
        )
        found.shown("measured solids", text, Source("the keeper", "keeper"))


def known_ingredients(measured: Measured, found: Found) -> None:
    """Refuse what the class rules refuse; say how acid each fruit is."""
    for ingredient in measured.ingredients:
        if isinstance(ingredient.known, Refusal):
            found.refused("ingredient", ingredient.known)
            continue
        for known in fruits_in(ingredient):
            fruit = known.fruits[0]
            ph = ""
            if fruit.ph is not None:
                low, high = fruit.ph
                ph = f", pH {low:g} to {high:g}" if low != high else f", pH {low:g}"
            text = f"{fruit.name}: an acid fruit{ph}"
            found.held("acid", text, fruit.source)
            if fruit.note:
                note = fruit.note[:1].upper() + fruit.note[1:]
                found.cautions.append(Caution(f"{note}.", str(fruit.source)))
            line = class_rule("any", "acid_line").value
            if fruit.ph is not None and fruit.ph[1] > line:
                found.cautions.append(
                    Caution(
                        f"Ripe {fruit.name} is printed up to pH {fruit.ph[1]:g}: take "
                        "just ripe fruit, none of it overripe.",
                        str(fruit.source),
                    )
                )


def proportions(own: OwnRecipe, measured: Measured, found: Found) -> None:
    """Hold the whole recipe against its class."""
    if not measured.of_role("fruit") or not measured.of_role("sugar"):
        missing = "fruit" if not measured.of_role("fruit") else "sugar"
        reason = f"there is no {missing} in it, so it is no {own.kind}"
        source = str(class_rule(own.kind, "solids_at_end").source)
        found.refused("class", Refusal(reason, "keep it cold", source))
        return
    for no in (_made_of(own, measured), _set_by(own, measured), _headspace(own)):
        if no is not None:
            found.refused("class", no)
    _foam_and_spice(own, measured, found)
    spans = spans_of(own.kind, own.method)
    if isinstance(spans, Refusal):
        found.refused("class", spans)
        return
    to_pectin, to_fruit, _ = spans
    _sugar_to_pectin(own, measured, to_pectin, found)
    _sugar_to_fruit(own, measured, to_fruit, found)
    _solids(own, measured, found)
    _added_acid(own, measured, found)
    if all(isinstance(i.known, Known) for i in measured.ingredients):
        _thickness(own, found)
    _batch(own, measured, found)


def _made_of(own: OwnRecipe, measured: Measured) -> Refusal | None:
    """A jelly is made of juice."""
    juice = all(
        "juice" in tokens(f"{i.given.name} {i.given.prep}")
        for i in measured.of_role("fruit")
    )
    if own.kind != JELLY or juice:
        return None
    return Refusal(
        "a jelly is made of strained juice, and this one has fruit in it",
        instead='press the fruit and write the juice, "5 cups plum juice"; or call it '
        "a jam",
        source=str(class_rule(JELLY, "solids_at_end").source),
    )


def _set_by(own: OwnRecipe, measured: Measured) -> Refusal | None:
    """The pectin in the recipe must be the one that its method sets with."""
    wanted = _PECTIN_OF.get(own.method, "")
    there = {
        i.known.each
        for i in measured.of_role("pectin")
        if not isinstance(i.known, Refusal)
    }
    if there == ({wanted} if wanted else set()):
        return None
    kinds = {"box": "powdered pectin", "pouch": "liquid pectin"}
    has = " and ".join(kinds[each] for each in sorted(there)) or "no pectin"
    said = own.method.replace("_", " ")
    return Refusal(
        f"the recipe has {has} and says that it is made as {said}",
        instead="make the two agree: powder goes into the cold fruit, liquid pectin in "
        "at the boil, and they are not exchanged",
        source="USDA Complete Guide to Home Canning (AIB 539) Guide 7; Penn State "
        "Extension",
    )


def _headspace(own: OwnRecipe) -> Refusal | None:
    rule = class_rule(own.kind, "headspace")
    if own.headspace_in is None or abs(own.headspace_in - rule.value) < 0.01:
        return None
    return Refusal(
        f"the recipe leaves {own.headspace_in:g} in of headspace; the process of a "
        f"{own.kind} is printed with {rule.value:g} in",
        instead=f"leave {rule.value:g} in",
        source=str(rule.source),
    )


def _foam_and_spice(own: OwnRecipe, measured: Measured, found: Found) -> None:
    """A little butter against foam, and no more dry spice than a tested recipe has."""
    rule = class_rule("any", "butter_against_foam")
    foam = sum(_spoons(i) for i in measured.of_role("foam"))
    if foam > rule.value * 1.001:
        reason = (
            f"{foam:g} tsp of butter is more than the {rule.value:g} tsp against foam"
        )
        found.refused("dairy", Refusal(reason, "leave it out", str(rule.source)))
    spice = sum(_spoons(i) for i in measured.of_role("spice") if i.unit != "each")
    if not spice:
        return
    most = _most_spice(own.kind)
    if spice > most.high * 1.001:
        reason = (
            f"{spice:g} tsp of spice and peel is more than any tested {own.kind} here "
            f"has ({most.high:g} tsp, {most.highest})"
        )
        found.refused("spice", Refusal(reason, "take less of it", most.source))
    else:
        text = f"{spice:g} tsp of dry spice or peel; tested: up to {most.high:g} tsp"
        found.held("spice", text, Source(most.source, "looked_up"))


def _most_spice(kind: str) -> Span:
    """Return the spiciest tested recipe of a class, of whatever method."""
    spans = [
        found[2]
        for method in ("with_pectin", "liquid_pectin", "boiled_down", "butter")
        if not isinstance(found := spans_of(kind, method), Refusal)
    ]
    known = [span for span in spans if span is not None]
    none = Span(0.0, 0.0, "", "none has any", 0, "the book's tables of procedures")
    return max(known, key=lambda span: span.high, default=none)


def _spoons(ingredient: MeasuredIngredient) -> float:
    """Teaspoons of a little something; by weight it is taken for a spoon in 2 g."""
    if ingredient.volume_m3 is not None:
        return ingredient.volume_m3 / float(TEASPOON_M3)
    return (ingredient.mass_kg or 0.0) / _SPOON_KG


def _sugar_to_pectin(
    own: OwnRecipe, measured: Measured, span: Span | None, found: Found
) -> None:
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


def _sugar_to_fruit(
    own: OwnRecipe, measured: Measured, span: Span, found: Found
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


def _solids(own: OwnRecipe, measured: Measured, found: Found) -> None:
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


def _added_acid(own: OwnRecipe, measured: Measured, found: Found) -> None:
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


def _thickness(own: OwnRecipe, found: Found) -> None:
    """Nothing thickens it but what the class is known for."""
    thick = {
        "jelly": "a clear jelly: nothing in it but juice, sugar and what sets it",
        "jam": "crushed fruit in sugar: nothing in it thickens but fruit and pectin",
        "butter": "a butter is dense; it has a table of its own for that",
    }[own.kind]
    source = Source("list of ingredients; rules of the book's class tables", "computed")
    found.held("thickness", thick, source)


def _batch(own: OwnRecipe, measured: Measured, found: Found) -> None:
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
