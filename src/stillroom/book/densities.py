"""What a cup weighs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.reader import read_rows, table
from stillroom.book.words import plain
from stillroom.measures.words import CUP_M3
from stillroom.refusal import Refusal, Source


@dataclass(frozen=True, slots=True)
class CupWeight:
    """Mass of a US cup of an ingredient."""

    ingredient: str
    aliases: tuple[str, ...]
    kg_per_cup: float
    source: Source

    @property
    def density_kg_m3(self) -> float:
        """Bulk density, as it lies in the cup. [kg/m³]"""
        return self.kg_per_cup / float(CUP_M3)


def read_cup_weights(path: Traversable) -> Mapping[str, CupWeight]:
    """Return the weights of a table by every name of the ingredient, made plain."""
    columns = ["ingredient", "density_g_per_cup", "aliases", "source", "how_known"]
    weights: dict[str, CupWeight] = {}
    for row in read_rows(path, columns):
        weight = CupWeight(
            row.text("ingredient"),
            row.words("aliases"),
            row.number("density_g_per_cup", 20, 400) / 1000,
            row.source,
        )
        for name in (weight.ingredient, *weight.aliases):
            if plain(name) in weights:
                raise row.wrong("aliases", f"{name!r} stands there twice")
            weights[plain(name)] = weight
    return weights


@cache
def _cup_weights() -> Mapping[str, CupWeight]:
    return read_cup_weights(table("densities"))


def cup_weight(ingredient: str) -> CupWeight | Refusal:
    """
    Return what a US cup of an ingredient weighs.

    Examples
    --------
    >>> cup_weight("sugar").kg_per_cup
    0.2
    >>> cup_weight("quince juice").ingredient  # no figure of its own
    'fruit juice'
    """
    name = plain(ingredient)
    weights = _cup_weights()
    found = weights.get(name)
    if found is None and name.endswith((" juice", " pulp")):
        found = weights["fruit juice" if name.endswith(" juice") else "sieved pulp"]
    if found is None:
        return Refusal(
            f"what a cup of {ingredient!r} weighs is not in the book",
            instead="weigh a cup of it and enter the weight",
            source="the book's table of densities",
        )
    return found


def density_kg_m3(ingredient: str) -> float | None:
    """
    Return the bulk density of an ingredient, as it lies in a cup. [kg/m³]

    `None` where the book does not know what a cup of it weighs; `cup_weight` says why.

    Examples
    --------
    >>> print(f"{density_kg_m3('sugar'):.0f}")
    845
    """
    found = cup_weight(ingredient)
    return None if isinstance(found, Refusal) else found.density_kg_m3
