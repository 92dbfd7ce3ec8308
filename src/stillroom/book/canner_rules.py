"""Rules of the canner, in words: said with every process of that canner."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.reader import read_rows, table
from stillroom.in_a_list import any_of
from stillroom.refusal import Caution

METHODS = ("boiling-water", "dial-gauge", "weighted-gauge")


def canners_in_words(methods: Iterable[str]) -> str:
    """
    Say in which canners something is processed.

    >>> canners_in_words(["dial-gauge", "weighted-gauge"])
    'a pressure canner (dial or weighted gauge)'
    >>> canners_in_words(METHODS)
    'a boiling-water canner or a pressure canner (dial or weighted gauge)'
    """
    there = list(methods)
    gauges = [m.removesuffix("-gauge") for m in there if m.endswith("-gauge")]
    said = ["a boiling-water canner"] if "boiling-water" in there else []
    if gauges:
        said.append(f"a pressure canner ({any_of(gauges)} gauge)")
    return any_of(said)


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule of the canner, in words."""

    canners: tuple[str, ...]
    """Those of which it is always said."""
    caution: Caution
    how_known: str


def read_canner_rules(path: Traversable) -> Mapping[str, Rule]:
    """Return the rules of a table by their short name."""
    columns = ["rule", "canners", "text", "source", "how_known"]
    rules = {}
    for row in read_rows(path, columns):
        canners = row.words("canners")
        if not set(canners) <= set(METHODS):
            raise row.wrong("canners", f"allowed: {', '.join(METHODS)}")
        caution = Caution(row.text("text"), row.text("source"))
        rules[row.text("rule")] = Rule(canners, caution, row.text("how_known"))
    return rules


@cache
def canner_rules() -> Mapping[str, Rule]:
    """Return the rules of the canner by their short name."""
    return read_canner_rules(table("canner_rules"))
