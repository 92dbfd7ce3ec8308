"""
The class of a keeper's own recipe, and the process that is published for that class.

The recipe itself is untested. It gets the process of its class only where all that is
in it is known, its fruit is reliably acid, and its sugar, pectin and solids lie within
what tested recipes of that class span. Everywhere else it is stored cold, with every
reason. A reading of her own can take a process away; it never gives one.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from stillroom.book.jars import jar_named
from stillroom.book.limits import class_rule, recipes_spanning
from stillroom.book.of_which_fruit import by_its_table
from stillroom.book.procedures import Ingredient, Procedure
from stillroom.book.processes import Process, process_for
from stillroom.book.words import tokens
from stillroom.measures import depth
from stillroom.methods.own_evidence import Evidence, Findings
from stillroom.methods.own_recipe import (
    KEEPER,
    Measured,
    MeasuredIngredient,
    OwnRecipe,
    Question,
    measure,
)
from stillroom.methods.own_rules import known_ingredients, proportions, readings
from stillroom.methods.own_shares import TIMED, fruits_in
from stillroom.refusal import Caution, Refusal, Source

UNTESTED = Caution(
    "This recipe is the keeper's own and untested: the process is the one published "
    "for its class, given because the recipe lies within what tested recipes span. "
    "Do not change its proportions.",
    "class rules of the book; the recipe: the keeper",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Classed:
    """A recipe that may borrow the process of its class."""

    own: OwnRecipe
    product: str
    """Its name in the book: "plum jam", or "jam" where acid fruits are mixed."""
    evidence: tuple[Evidence, ...]
    process: Process | None
    """The published process; `None` where no elevation was given."""
    headspace_in: float
    jars: tuple[str, ...]
    """Jars in which a process is published."""
    cautions: tuple[Caution, ...]
    measured: Measured


@dataclass(frozen=True, slots=True, kw_only=True)
class ColdOnly:
    """A recipe that no published process covers: refrigerator or freezer."""

    own: OwnRecipe
    reasons: tuple[Refusal, ...]
    """Every reason; empty where there are only questions."""
    questions: tuple[Question, ...]
    evidence: tuple[Evidence, ...]
    storage: Caution
    """How it is kept, and who says so."""
    measured: Measured


def classed(own: OwnRecipe, *, elevation_ft: float | None = None) -> Classed | ColdOnly:
    """
    Return the class of a recipe and its published process, or that it is stored cold.

    Parameters
    ----------
    own : OwnRecipe
        As the keeper wrote it.
    elevation_ft : float, optional
        Elevation of the kitchen; without it no process is looked up. [ft]

    Returns
    -------
    Classed or ColdOnly
        With every line of evidence and its source. While a question is open the
        answer is `ColdOnly`: what is not known is not taken for harmless.
    """
    measured = measure(own)
    found = Findings()
    readings(own, found)
    known_ingredients(measured, found)
    if own.method == "cold":
        reason = "the keeper wrote it as a recipe that is kept cold"
        found.refused("method", Refusal(reason, "keep it cold", KEEPER))
    if not measured.questions and own.method != "cold":
        proportions(own, measured, found)
    product = product_of(own, measured)
    process: Process | None = None
    if not measured.questions and not found.reasons:
        answer = process_for(
            by_its_table(product), jar=own.jar, elevation_ft=elevation_ft or 0.0
        )
        if isinstance(answer, Refusal):
            found.refused("jar and elevation", answer)
        else:
            text = f"{answer.jar} jars, {depth(answer.headspace_in)} headspace"
            found.held(
                "jar and headspace", text, Source(answer.source, answer.how_known)
            )
            process = answer if elevation_ft is not None else None
    if found.reasons or measured.questions:
        return ColdOnly(
            own=own,
            reasons=tuple(found.reasons),
            questions=measured.questions,
            evidence=tuple(found.evidence),
            storage=_storage(),
            measured=measured,
        )
    return Classed(
        own=own,
        product=product,
        evidence=tuple(found.evidence),
        process=process,
        headspace_in=class_rule(own.kind, "headspace").value,
        jars=_jars(product),
        cautions=(
            UNTESTED,
            *found.cautions,
            *(process.cautions if process is not None else ()),
        ),
        measured=measured,
    )


def as_procedure(own: OwnRecipe, *, or_cold: bool = False) -> Procedure | Refusal:
    """
    Return the recipe as a procedure that methods and planning can use.

    Its source says that it is the keeper's own, and ``how_known`` is ``keeper``.

    Parameters
    ----------
    own : OwnRecipe
        The recipe.
    or_cold : bool
        Where no published process covers it, give it as one that is kept cold, with
        the reason as its first caution.

    Returns
    -------
    Procedure or Refusal
        A refusal with the first reason where it can only be stored cold, or with the
        first question where something has to be asked.
    """
    answer = classed(own)
    if isinstance(answer, Classed):
        return _procedure(own, answer.measured, answer.product, answer.cautions)
    if or_cold and not answer.questions and recipes_spanning(own.kind, own.method):
        product = product_of(own, answer.measured)
        why = Caution(answer.reasons[0].reason, answer.reasons[0].source)
        kept = _procedure(own, answer.measured, product, (answer.storage, why))
        return replace(kept, keeping="cold", jars=())
    if answer.questions:
        first = answer.questions[0]
        return Refusal(
            f"{own.title or 'the recipe'} cannot be measured yet: {first}",
            instead="answer what is asked; until then keep it in the refrigerator",
            source=KEEPER,
        )
    first_no = answer.reasons[0]
    return Refusal(
        f"no published process covers {own.title or 'this recipe'}: {first_no.reason}",
        instead=f"{first_no.instead}. {answer.storage.text}",
        source=first_no.source,
    )


def product_of(own: OwnRecipe, measured: Measured) -> str:
    """Return the product whose process it may borrow, by the book's name."""
    names = {fruit.name for i in measured.of_role("fruit") for fruit in fruits_in(i)}
    return f"{names.pop()} {own.kind}" if len(names) == 1 else own.kind


def _storage() -> Caution:
    freezer = class_rule("any", "freezer_weeks")
    cold = class_rule("any", "refrigerator_weeks")
    return Caution(
        "Refrigerate or freeze it: no published process covers it, so it does not "
        "stand on a pantry shelf. Spreads made for the freezer are printed to keep "
        f"{freezer.value:g} weeks there and {cold.value:g} weeks in the refrigerator.",
        str(freezer.source),
    )


def _jars(product: str) -> tuple[str, ...]:
    return tuple(
        jar
        for jar in ("half-pint", "pint", "quart")
        if isinstance(
            process_for(by_its_table(product), jar=jar, elevation_ft=0.0), Process
        )
    )


def _procedure(
    own: OwnRecipe, measured: Measured, product: str, cautions: tuple[Caution, ...]
) -> Procedure:
    tested = recipes_spanning(own.kind, own.method)
    like = next((p for p in tested if p.kind == own.kind), tested[0])
    of_method = [
        caution
        for caution in like.cautions
        if all(caution in other.cautions for other in tested)
    ]
    timed = own.method in TIMED
    main = max(measured.of_role("fruit"), key=lambda i: i.mass_kg or 0.0)
    jar = jar_named(own.jar)
    jars = _jars(product)
    first = "" if isinstance(jar, Refusal) else jar.name
    return Procedure(
        id=f"own-{_slug(own.title)}",
        name=product,
        title=own.title,
        kind=own.kind,
        method=own.method,
        fruit=fruits_in(main)[0].name,
        ingredients=tuple(_ingredient(i) for i in measured.ingredients),
        printed_yield_low=None,
        printed_yield_high=None,
        yield_unit="",
        boil_min=class_rule(own.kind, "timed_boil").value if timed else None,
        boil_sign=like.boil_sign,
        headspace_in=class_rule(own.kind, "headspace").value,
        jars=tuple(sorted(jars, key=lambda name: name != first)),
        process_product=like.process_product,
        base_prep="",
        order_of_adding=like.order_of_adding,
        largest_batch_cups=None,
        source=KEEPER,
        how_known="keeper",
        notes="\n".join(own.steps),
        cautions=(*cautions, *of_method),
    )


def _ingredient(measured: MeasuredIngredient) -> Ingredient:
    known = measured.known
    name = measured.given.name
    if not isinstance(known, Refusal):
        words = tokens(f"{name} {measured.given.prep}")
        if known.role in ("sugar", "pectin"):
            name = known.name
        elif known.role == "fruit" and "juice" in words and len(known.fruits) == 1:
            name = f"{known.name} juice"
    role = "spice" if measured.role == "foam" else measured.role
    return Ingredient(
        name=name,
        quantity=Fraction(measured.quantity),
        unit=measured.unit,
        mass_kg=measured.mass_kg,
        mass_known="" if measured.source is None else measured.source.how_known,
        prep=measured.given.prep,
        role=role,
        optional=measured.role == "foam",
        note="",
        how_known="keeper",
    )


def _slug(title: str) -> str:
    return "-".join(re.findall(r"[a-z0-9]+", " ".join(tokens(title))))[:60] or "recipe"
