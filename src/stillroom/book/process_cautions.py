"""What is said along with a published process: acid, jars, canner, recipe."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.canner_rules import canner_rules
from stillroom.book.jars import (
    needs_sterile_jars,
    sterilise_jars_min,
    sterilise_rule,
)
from stillroom.book.names import UNSTERILISED_TABLE, ProductName
from stillroom.book.procedure_table import Ingredient, Procedure
from stillroom.book.procedures import procedures_named
from stillroom.book.process_table import Process, processes
from stillroom.book.produce import NEEDS_ACID, fruits
from stillroom.book.reader import read_rows, table
from stillroom.book.words import tokens
from stillroom.capital import capital
from stillroom.in_a_list import all_of, any_of
from stillroom.measures import mixed_number
from stillroom.refusal import Caution

_BUTTER_TABLE = "apple butter"


def read_product_cautions(path: Traversable) -> Mapping[str, tuple[Caution, ...]]:
    """Return the cautions of a table by the product of the published rows."""
    found: dict[str, tuple[Caution, ...]] = {}
    for row in read_rows(path, ["process_table", "text", "source", "how_known"]):
        product = row.text("process_table")
        if all(process.published_as != product for process in processes()):
            raise row.wrong("process_table", f"no row is published as {product!r}")
        said = Caution(row.text("text"), row.text("source"))
        found[product] = (*found.get(product, ()), said)
    return found


@cache
def product_cautions() -> Mapping[str, tuple[Caution, ...]]:
    """Return what is always said of a product, by its published rows."""
    return read_product_cautions(table("product_cautions"))


def by_leaflet(name: ProductName) -> bool:
    """Tell whether a product is a butter that borrows the apple butter table."""
    return name.process_table == _BUTTER_TABLE and name.fruit != "apple"


def source_of(name: ProductName, row: Process) -> str:
    """Return who published a row, and who says that it holds for this product."""
    return f"{row.source}; {name.source}" if by_leaflet(name) else row.source


def cautions_for(
    name: ProductName,
    row: Process,
    others: tuple[Process, ...],
    jar: str,
    elevation_ft: float,
    margin_min: int,
) -> tuple[Caution, ...]:
    """Return all that goes along with a row; ``others`` are its other pressures."""
    rules = canner_rules()
    said: list[Caution] = []
    if by_leaflet(name):
        said.append(rules["butter-by-leaflet"].caution)
    if row.acid is not None:
        said.append(row.acid.caution)
        if jar == "half-pint" and row.acid.doses:
            said.append(rules["half-pint-acid"].caution)
    said += product_cautions().get(row.published_as, ())
    if others:
        said.append(_other_pressures(row, others))
    if jar != row.jar:
        said.append(rules["half-pint-as-pint"].caution)
    if needs_sterile_jars(row.minutes, row.pressure_psi):
        said.append(_sterilise(row, jar, elevation_ft))
    fruit = fruits().get(name.fruit)
    if fruit is not None and fruit.note and not is_said(fruit.note, said):
        said.append(Caution(f"{capital(fruit.note)}.", str(fruit.source)))
    if elevation_ft < 0:
        said.append(rules["below-sea-level"].caution)
    if row.product_class in ("jelly", "jam"):
        if name.fruit and not procedures_named(name.name):
            said.append(rules["tested-recipe-only"].caution)
        said += acid_of_its_recipe(name)
        said.append(rules["proportions-fixed"].caution)
    for rule, words in rules.items():
        if row.method in words.canners:
            said.append(rules[_in_place_of(rule, row)].caution)
    if margin_min:
        said.append(
            Caution(
                f"{margin_min} min are the keeper's own margin; {row.minutes} min are "
                "published.",
                "the keeper",
            )
        )
    return tuple(said)


def is_said(note: str, said: Iterable[Caution], *, most: float = 0.5) -> bool:
    """Whether a caution says most of a note already: yellow-fleshed peaches only."""
    words = set(tokens(note))
    return any(len(words & set(tokens(one.text))) > most * len(words) for one in said)


def acid_of_its_recipe(name: ProductName) -> tuple[Caution, ...]:
    """Say of a spread of a fruit that is not acid what makes it so; none of others."""
    fruit = fruits().get(name.fruit)
    if fruit is None or fruit.acid_class != NEEDS_ACID:
        return ()
    return tuple(map(_with_its_acid, procedures_named(name.name)))


def _with_its_acid(recipe: Procedure) -> Caution:
    """Say how much acid the tested recipe of a fruit that is not acid has in it."""
    acids = all_of(
        f"{_measure(i)} of {'bottled ' * ('bottled' in i.prep)}{i.name}"
        for i in recipe.of_role("acid")
    )
    return Caution(
        f"The minutes are for the tested recipe with its acid ({recipe.title}): "
        f"{acids} to {_measure(recipe.base)} of {recipe.base.name}, none of it left "
        "out.",
        recipe.source,
    )


def _measure(one: Ingredient) -> str:
    unit = one.unit if one.quantity <= 1 else f"{one.unit}s"
    return f"{mixed_number(float(one.quantity))} {unit}"


def _in_place_of(rule: str, row: Process) -> str:
    """Name the rule that holds for this row where one is for hot packs or short."""
    if rule == "preheat" and row.pack == "raw":
        return "preheat-raw"
    if rule == "water-over-lids" and row.minutes > 30:
        return "deep-water-over-lids"
    return rule


def _other_pressures(row: Process, others: tuple[Process, ...]) -> Caution:
    """Say which further pressures are printed here, each with its own time."""
    printed = any_of(f"{o.minutes} min at {o.pressure_psi:g} psi" for o in others)
    return Caution(
        f"Here {row.minutes} min at {row.pressure_psi:g} psi are meant; {printed} is "
        "printed too. A time belongs to its own pressure.",
        row.source,
    )


def _sterilise(row: Process, jar: str, elevation_ft: float) -> Caution:
    """Say that jars of a short process are sterilised, and what else is published."""
    boil = sterilise_jars_min(elevation_ft)
    text = (
        f"A process under {sterilise_rule().needed_below_min} min needs sterilised "
        f"jars: boil them empty {boil} min here (10 min, and 1 min more for each "
        "1,000 ft above 1,000 ft)."
    )
    source = str(sterilise_rule().source)
    spreads = processes() if row.product_class in ("jelly", "jam") else ()
    for other in spreads:
        if other.published_as == UNSTERILISED_TABLE and other.jar == jar:
            text += (
                f" Or process {other.minutes} min with jars that are only clean and "
                f"hot: published for {other.band_ft}."
            )
            source += f"; {other.source}"
    return Caution(text, source)
