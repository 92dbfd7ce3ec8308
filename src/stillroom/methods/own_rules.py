"""
What a keeper's own recipe is held against, one function for each rule of its class.

Every rule leaves a line of evidence: what was found, what tested recipes have, and who
says so. Where it does not hold there is a reason with it, and no process.
"""

from __future__ import annotations

from stillroom.book.limits import JELLY, Known, Span, class_rule, spans_of
from stillroom.book.words import tokens
from stillroom.capital import capital
from stillroom.in_a_list import all_of
from stillroom.measures import TEASPOON_M3
from stillroom.methods import own_shares as shares
from stillroom.methods.own_evidence import Findings
from stillroom.methods.own_recipe import Measured, MeasuredIngredient, OwnRecipe
from stillroom.refusal import Caution, Refusal, Source

_PECTIN_OF = {"with_pectin": "box", "liquid_pectin": "pouch"}
_SPOON_KG = 0.002
"""A teaspoon of spice that was weighed: common practice, no source. [kg]"""


def readings(own: OwnRecipe, found: Findings) -> None:
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


def known_ingredients(measured: Measured, found: Findings) -> None:
    """Refuse what the class rules refuse; say how acid each fruit is."""
    for ingredient in measured.ingredients:
        if isinstance(ingredient.known, Refusal):
            found.refused("ingredient", ingredient.known)
            continue
        for known in shares.fruits_in(ingredient):
            fruit = known.fruits[0]
            ph = ""
            if fruit.ph is not None:
                low, high = fruit.ph
                ph = f", pH {low:g} to {high:g}" if low != high else f", pH {low:g}"
            text = f"{fruit.name}: an acid fruit{ph}"
            found.held("acid", text, fruit.source)
            if fruit.note:
                note = capital(fruit.note)
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


def proportions(own: OwnRecipe, measured: Measured, found: Findings) -> None:
    """Hold the whole recipe against its class."""
    if not measured.of_role("fruit") or not measured.of_role("sugar"):
        missing = "fruit" if not measured.of_role("fruit") else "sugar"
        refused = any(isinstance(i.known, Refusal) for i in measured.ingredients)
        if missing == "fruit" and refused:
            return  # a fruit that is refused is fruit; its own reason stands already
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
    shares.sugar_to_pectin(own, measured, to_pectin, found)
    shares.sugar_to_fruit(own, measured, to_fruit, found)
    shares.water_to_fruit(own, measured, found)
    shares.solids_at_end(own, measured, found)
    shares.added_acid(own, measured, found)
    if all(isinstance(i.known, Known) for i in measured.ingredients):
        _thickness(own, found)
    shares.batch_size(own, measured, found)


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
    has = all_of(kinds[each] for each in sorted(there)) or "no pectin"
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


def _foam_and_spice(own: OwnRecipe, measured: Measured, found: Findings) -> None:
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


def _thickness(own: OwnRecipe, found: Findings) -> None:
    """Nothing thickens it but what the class is known for."""
    thick = {
        "jelly": "a clear jelly: nothing in it but juice, sugar and what sets it",
        "jam": "crushed fruit in sugar: nothing in it thickens but fruit and pectin",
        "butter": "a butter is dense; it has a table of its own for that",
    }[own.kind]
    source = Source("list of ingredients; rules of the book's class tables", "computed")
    found.held("thickness", thick, source)
