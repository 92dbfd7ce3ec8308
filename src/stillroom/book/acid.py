"""Acid that is part of a process: how much of which, in each jar."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.reader import read_rows, table
from stillroom.refusal import Caution

_JARS = ("pint", "quart")
_UNITS = ("tbsp", "tsp")


@dataclass(frozen=True, slots=True)
class AcidDose:
    """One acid in one jar; where a jar has several doses, any one of them will do."""

    jar: str
    """``pint`` or ``quart``; a half-pint has no printed dose of its own."""
    acid: str
    quantity: Fraction
    unit: str
    """``tbsp`` or ``tsp``."""
    source: str


@dataclass(frozen=True, slots=True)
class AcidRule:
    """How a product comes by its acid."""

    name: str
    caution: Caution
    doses: tuple[AcidDose, ...]
    """By jar; none where the acid is an ingredient of the recipe."""

    def in_jar(self, jar: str) -> tuple[AcidDose, ...]:
        """
        Return the doses of a jar, of which one is taken.

        No dose of a half-pint is printed: it takes the pint's whole one, as it takes
        the pint's time. That is more acid to the food, never less.

        Examples
        --------
        >>> [str(d.quantity) for d in acid_rules()["tomato"].in_jar("pint")]
        ['1', '1/4']
        >>> [d.jar for d in acid_rules()["fig"].in_jar("half-pint")]
        ['pint', 'pint']
        """
        printed = "pint" if jar == "half-pint" else jar
        return tuple(dose for dose in self.doses if dose.jar == printed)


def read_acid_doses(path: Traversable) -> Mapping[str, tuple[AcidDose, ...]]:
    """Return the doses of a table by the name of their rule."""
    columns = ["rule", "jar", "acid", "quantity", "unit", "source", "how_known"]
    found: dict[str, tuple[AcidDose, ...]] = {}
    for row in read_rows(path, columns):
        row.one_of("how_known", ("looked_up",))
        dose = AcidDose(
            row.one_of("jar", _JARS),
            row.text("acid"),
            row.fraction("quantity", 0, 8),
            row.one_of("unit", _UNITS),
            row.text("source"),
        )
        found[row.text("rule")] = (*found.get(row.text("rule"), ()), dose)
    return found


def read_acid_rules(
    path: Traversable, doses: Mapping[str, tuple[AcidDose, ...]]
) -> Mapping[str, AcidRule]:
    """Return the rules of a table by name, with their doses."""
    rules: dict[str, AcidRule] = {}
    for row in read_rows(path, ["rule", "in_jar", "text", "source", "how_known"]):
        name = row.text("rule")
        if (row.one_of("in_jar", ("yes", "no")) == "yes") != (name in doses):
            raise row.wrong("in_jar", "does not agree with the table of doses")
        caution = Caution(row.text("text"), row.text("source"))
        rules[name] = AcidRule(name, caution, doses.get(name, ()))
    return rules


@cache
def acid_rules() -> Mapping[str, AcidRule]:
    """Return every rule of acid by its name."""
    return read_acid_rules(table("acid_rules"), read_acid_doses(table("acid_doses")))
