"""
How so many jars' worth may be divided into pots, where the recipe is for one jar.

A tested batch is never doubled or trimmed, so it has one division: whole batches. A
pack of pears or a pot of applesauce is so many pounds to a quart, and any whole number
of jars is a batch: fewer large pots, more small ones, a canner load each, a pot full.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from stillroom.planning.which_batches.choices import Chosen, Place, fit, in_loads
from stillroom.refusal import Refusal

MORE_POTS = 2
"""So many pots more than the fewest are looked at; each is a wash and a start more."""
SMALLEST = 2
"""Fewer jars than this in a pot of its own is nobody's batch: a choice of ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Division:
    """One way to divide the jars of a product into pots."""

    sizes: tuple[int, ...]
    """Jars' worths in each pot, in the order in which they are listed."""
    why: str
    """What stands behind it, in a few words."""


def divisions(chosen: Chosen, units: int, place: Place) -> tuple[Division, ...]:
    """
    Return the sensible ways to divide so many jars' worth, the plain rule first.

    Parameters
    ----------
    chosen : Chosen
        The recipe for one jar's worth, with its process.
    units : int
        Jars' worths in all.
    place : Place
        The kitchen: its pots and canners.

    Returns
    -------
    tuple of Division
        One where the recipe is a tested batch; for those the units are batches.
    """
    if not chosen.fitted.method.PER_JAR or units < 1:
        return (Division(sizes=(1,) * units, why="whole tested batches"),)
    plain = tuple(c.fitted.recipe.multiple for c in in_loads(chosen, units, place))
    found = [Division(sizes=plain, why="the fewest even pots that a load holds")]
    most = largest_pot(chosen, units, place)
    fewest = math.ceil(units / most)
    # no pot stays empty
    for number in range(fewest, min(units, len(plain) + MORE_POTS) + 1):
        even = _even(units, number)
        why = "fewer, larger pots" if number < len(plain) else "more, smaller pots"
        found.append(Division(sizes=even, why=why))
    for load in _loads(chosen, place):
        whole = min(load, most)
        why = "a canner load each" if whole == load else "the pot full each time"
        found.append(Division(sizes=_full(units, whole), why=why))
    found.append(Division(sizes=_full(units, most), why="the pot full each time"))
    kept: dict[tuple[int, ...], Division] = {}
    for one in found:
        small = min(one.sizes) < SMALLEST <= units
        if one.sizes == plain or (not small and max(one.sizes) <= most):
            kept.setdefault(tuple(sorted(one.sizes)), one)
    return tuple(kept.values())


def in_pots_of(
    chosen: Chosen, sizes: tuple[int, ...], place: Place
) -> list[Chosen] | Refusal:
    """Return a recipe for one jar's worth at each size, or why a pot cannot be so."""
    made: list[Chosen] = []
    for size in sizes:
        whole = fit(chosen.fitted.asked, chosen.fitted.jar, size, place)
        if isinstance(whole, Refusal):
            return whole
        made.append(Chosen(fitted=whole, process=chosen.process))
    return made


def stated(units: int, size: int) -> tuple[int, ...]:
    """
    Divide as the keeper stated: pots of her size, and the rest in one more.

    >>> stated(14, 5), stated(10, 5), stated(3, 5)
    ((5, 5, 4), (5, 5), (3,))
    """
    return _full(units, size)


def largest_pot(chosen: Chosen, units: int, place: Place) -> int:
    """Return how many jars' worth of these the largest pot holds; 1 at least."""
    fitted = chosen.fitted
    most, too_many = 1, units + 1
    while too_many - most > 1:  # a pot that holds some holds fewer
        middle = (most + too_many) // 2
        if isinstance(fit(fitted.asked, fitted.jar, middle, place), Refusal):
            too_many = middle
        else:
            most = middle
    return most


def _loads(chosen: Chosen, place: Place) -> list[int]:
    """Jars' worths that fill each canner of the process, each figure once."""
    if chosen.process is None:
        return []
    each, jar = chosen.fitted.expected.likely, chosen.fitted.jar
    places = {
        canner.holds(jar)
        for canner in place.kitchen.canners
        if canner.kind == chosen.process.method
    }
    whole = (math.floor(held / each + 1e-6) for held in places)
    return sorted({size for size in whole if size > 0}, reverse=True)


def _even(units: int, number: int) -> tuple[int, ...]:
    return tuple(units // number + (n < units % number) for n in range(number))


def _full(units: int, size: int) -> tuple[int, ...]:
    rest = units % size
    return (size,) * (units // size) + ((rest,) if rest else ())
