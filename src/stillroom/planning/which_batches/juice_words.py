"""Fruit to juice as it is said, at the terminal and on the page."""

from __future__ import annotations

from stillroom import measures
from stillroom.book.procedure_table import Ingredient
from stillroom.book.procedures import procedure_for, procedures_using
from stillroom.book.produce import fruit_named
from stillroom.book.words import plain
from stillroom.in_a_list import all_of
from stillroom.methods.getting_juice import JuiceAsked
from stillroom.methods.portions import volume_words
from stillroom.planning.which_batches.shelf import mass_words
from stillroom.refusal import Refusal

NEVER_TRIMMED = "Sugar and pectin of a fixed batch are never trimmed to fit."


def juice_for(product: str, *, fruit: str) -> float | Refusal:
    """Return the juice of this fruit that a product is measured by. [m3]"""
    procedure = procedure_for(product)
    if isinstance(procedure, Refusal):
        return procedure
    base = procedure.base
    measure = _measure(base)
    if "juice" not in base.name:
        return Refusal(
            f"{procedure.title} is not made of juice: it takes {measure} {base.name}",
            instead="name a product that is made of juice, or give the juice needed",
            source=procedure.source,
        )
    if "bottled" in base.prep:
        others = all_of(
            f"{other.title} ({_measure(other.base)})"
            for other in procedures_using(base.name)
            if "bottled" not in other.base.prep and other.base.name == base.name
        )
        return Refusal(
            f"{procedure.title} is tested with {measure} of bottled {base.name}, and "
            "none that is pressed at home",
            instead="buy that juice; juice of one's own is for other recipes: "
            + others,
            source=procedure.source,
        )
    if fruit and _fruit(fruit) != _fruit(base.name):
        return Refusal(
            f"{procedure.title} is made of {base.name}, and the fruit named is "
            f"{fruit!r}",
            instead=f"name the fruit that {base.name} is pressed from, or a product "
            f"of {fruit}",
            source=procedure.source,
        )
    return measures.read_volume_m3(f"{base.quantity} {base.unit}")


def _measure(base: Ingredient) -> str:
    several = "s" if base.unit == "cup" and base.quantity > 1 else ""
    return f"{measures.mixed_number(base.quantity)} {base.unit}{several}"


def _fruit(name: str) -> str:
    """Return the book's name of a fruit or its juice; of one not known, its words."""
    found = fruit_named(name)
    if isinstance(found, Refusal):
        return plain(name).removesuffix(" juice")
    return found.name


def cups_a_pound(m3_per_kg: float) -> float:
    """Juice yield as a kitchen says it."""
    return m3_per_kg * float(measures.POUND_KG) / float(measures.CUP_M3)


def short_words(answer: JuiceAsked) -> str:
    """Say whether it is enough; empty where nothing was pressed yet."""
    need = volume_words(answer.need_m3, metric=answer.metric)
    if answer.short_m3 <= 0:
        return f"Enough: {need} are asked for."
    if answer.got_m3 is None:
        return ""
    return (
        f"{volume_words(answer.got_m3, metric=answer.metric)}, "
        f"{volume_words(answer.short_m3, metric=answer.metric)} short of {need}."
    )


def more_words(answer: JuiceAsked) -> str:
    """Say how much more fruit that is, at whose yield; empty where none is needed."""
    if not answer.more_kg or not answer.total_kg:
        return ""
    rate = answer.own_m3_per_kg or answer.printed_m3_per_kg
    assert rate is not None  # else nobody knows how much more it is
    whose = "your" if answer.own_m3_per_kg else "the printed"
    in_all = mass_words(answer.total_kg, metric=answer.metric, at_least=True)
    fruit = f"{in_all} of fruit"
    if answer.total_kg > answer.more_kg or answer.got_m3 is not None:
        more = mass_words(answer.more_kg, metric=answer.metric, at_least=True)
        fruit = f"{more} more fruit"
    if answer.total_kg > answer.more_kg:
        fruit += f", {in_all} in all"
    printed = f"Printed: {answer.printed_as}."
    if answer.recipe_printed_as:
        printed = f"Printed: {answer.printed_as}; and {answer.recipe_printed_as}."
        if not answer.own_m3_per_kg:
            printed += " The smaller yield is reckoned with, so that it is enough."
    if answer.printed_m3_per_kg is None:
        printed = "No yield of juice is printed for it here."
    return (
        f"At {whose} {cups_a_pound(rate):.2f} cups a pound that is {fruit}. {printed}"
    )
