"""
From the shelf and the wants to whole batches, what will not keep first.

A batch is one tested recipe in one pot. Fruit and juice cannot be bought on the day, so
they limit the batches; sugar, pectin, jars and lids can, so they become a shopping
list. What is left over is never made into a trimmed batch.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace

from stillroom.methods.learned import Share
from stillroom.methods.method import Work
from stillroom.planning.day import Day, Purpose, Want
from stillroom.planning.dayplan import MadeBatch, Purchase, Unmet
from stillroom.planning.jars_promised import jars_had
from stillroom.planning.which_batches.choices import Chosen, Place, choose, in_loads
from stillroom.planning.which_batches.counted_jars import (
    at_once,
    jars_of_each,
    over_the_canners,
    part_jars,
    why_short,
)
from stillroom.planning.which_batches.divisions import in_pots_of, stated
from stillroom.planning.which_batches.either_will_do import of_what_is_there
from stillroom.planning.which_batches.lacking import lacking
from stillroom.planning.which_batches.not_counted import not_counted
from stillroom.planning.which_batches.pressed import another_to_press, press_it_first
from stillroom.planning.which_batches.shelf import (
    Shelf,
    amount,
    whole_times,
)
from stillroom.planning.which_batches.shopping import Shopping
from stillroom.planning.which_batches.thawed_packs import when_thawed
from stillroom.refusal import Caution, Refusal

_LATEST = dt.time.max


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Wants for one product in one jar, met by the same batches."""

    chosen: Chosen
    wants: tuple[Want, ...]
    """The earliest due first."""
    stated: int | None = None
    """Jars' worths that the keeper wants in one pot, where a pot may hold any."""

    @property
    def name(self) -> str:
        """What tells it from other groups: "pears, quart"."""
        said = f"{self.chosen.product}, {self.chosen.fitted.jar}"
        return f"{said}, {self.stated} a pot" if self.stated else said

    @property
    def due(self) -> dt.time:
        """When the first of them must be out of the canner."""
        return self.wants[0].by or _LATEST

    @property
    def batches_wanted(self) -> int:
        """Whole batches that would meet all of them."""
        jars = sum(want.jars for want in self.wants)
        each = self.chosen.fitted.expected.likely
        number = max(1, math.floor(jars / each))
        return number if round(each * number) >= jars else number + 1


@dataclass(slots=True)
class Batched:
    """The batches of a day, and what stands in the way of more."""

    groups: tuple[Group, ...] = ()
    batches: list[MadeBatch] = field(default_factory=list)
    chosen: dict[str, Chosen] = field(default_factory=dict)
    """What each batch was made from, by batch id."""
    works: dict[str, Work] = field(default_factory=dict)
    """The steps of each batch, by batch id; filled when the problem is stated."""
    seals: Share | None = None
    """Her own, where they were learned: so many lids are spare."""
    shopping: list[Purchase] = field(default_factory=list)
    unmet: list[Unmet] = field(default_factory=list)
    units: dict[str, int] = field(default_factory=dict)
    """Jars' worths of each group that the pots of the day are divided from, by its
    name; only of recipes for one jar whose pots the keeper has not stated."""


def make_batches(
    day: Day,
    place: Place,
    shelf: Shelf,
    divided: Mapping[str, tuple[int, ...]] | None = None,
) -> Batched:
    """
    Return the batches that shelf and wants lead to, and what is missing.

    ``shelf`` is drawn down by what the batches take. ``divided`` has the jars' worths
    in each pot, by the name of the group, for recipes that are for one jar; a division
    that does not come to what shelf and wants ask for is not taken.
    """
    made = Batched(seals=place.learned.seals)
    groups = _groups(day, place, made)
    groups.sort(
        key=lambda g: (
            shelf.use_by(g.chosen.fitted.base.name),
            min(first_served(want) for want in g.wants),
        )
    )
    made.groups = tuple(groups)
    for group in groups:
        sizes = (divided or {}).get(group.name)
        _make_group(group, shelf, made, place, sizes, day.without)
    made.shopping = _shopping(made, shelf)
    return made


def keep_only(made: Batched, kept: Collection[str], shelf: Shelf) -> Batched:
    """
    Return the batches with some of them left out; their fruit stays on the shelf.

    ``shelf`` is a full one, and is drawn down by what the others take.
    """
    fewer = Batched(
        groups=made.groups,
        unmet=list(made.unmet),
        seals=made.seals,
        units=dict(made.units),
    )
    for batch in made.batches:
        if batch.id not in kept:
            continue
        draws, _ = shelf.draw(made.chosen[batch.id].fitted.base)
        fewer.batches.append(replace(batch, draws=tuple(draws)))
        fewer.chosen[batch.id] = made.chosen[batch.id]
        if batch.id in made.works:
            fewer.works[batch.id] = made.works[batch.id]
    fewer.unmet = _planned_now(fewer)
    fewer.shopping = _shopping(fewer, shelf)
    return fewer


def _planned_now(made: Batched) -> list[Unmet]:
    """What is unmet, each with the jars that the batches which are left still give."""
    asked: dict[Want, int] = {}
    for group in made.groups:
        for want in group.wants:
            asked[want] = asked.get(want, 0) + want.jars
    had = jars_had(asked, [(batch.jars, batch.serves) for batch in made.batches])
    said = []
    for one in made.unmet:
        key = (one.product, one.jar, one.wanted)
        now = [had[w] for w in asked if (w.product, w.jar, w.jars) == key]
        said.append(replace(one, planned=min(one.planned, sum(now))) if now else one)
    return said


def _groups(day: Day, place: Place, made: Batched) -> list[Group]:
    """Put wants for the same thing together; say which have no recipe or process."""
    found: dict[tuple[str, str, int], tuple[Chosen, list[Want]]] = {}
    stated_of: dict[tuple[str, str, int], int | None] = {}
    for want in day.wants:
        chosen = choose(want, place)
        if isinstance(chosen, Refusal):
            made.unmet.append(
                Unmet(
                    product=want.product,
                    jar=want.jar,
                    wanted=want.jars,
                    planned=0,
                    reason=f"{chosen.reason} (source: {chosen.source})",
                    instead=chosen.instead,
                )
            )
            continue
        fitted = chosen.fitted
        key = (chosen.product, fitted.jar, fitted.recipe.multiple)
        if fitted.method.PER_JAR and want.multiple is not None:
            key = (chosen.product, fitted.jar, -want.multiple)
            stated_of[key] = want.multiple
            one = choose(replace(want, multiple=None), place)
            chosen = chosen if isinstance(one, Refusal) else one
        found.setdefault(key, (chosen, []))[1].append(want)
    return [
        Group(
            chosen=chosen,
            wants=tuple(sorted(wants, key=first_served)),
            stated=stated_of.get(key),
        )
        for key, (chosen, wants) in found.items()
    ]


def first_served(want: Want) -> tuple[dt.time, int, bool]:
    """The earliest due first, then what matters most, then what sells."""
    return want.by or _LATEST, -want.matters, want.purpose is not Purpose.STAND


def _make_group(
    group: Group,
    shelf: Shelf,
    made: Batched,
    place: Place,
    sizes: tuple[int, ...] | None,
    without: Collection[str],
) -> None:
    """Draw the base of as many batches as wants ask for and the shelf allows."""
    fitted = group.chosen.fitted
    base = fitted.base
    there = shelf.on_hand(base)
    possible = whole_times(there, amount(base))
    number = min(group.batches_wanted, possible)
    each = fitted.expected.likely
    if round(each * number) == 0:
        number = 0  # less than a jar: its fruit is for something else
    most = at_once(group.chosen, place)
    pots = [group.chosen] * number
    if fitted.method.PER_JAR and number:
        pots = _divided(group, number, place, sizes)
        if group.stated is None:
            made.units[group.name] = number
    product = group.chosen.product
    same = sum(batch.product == product for batch in made.batches)
    counted = jars_of_each(group.chosen, pots, most)
    jars = {f"{product} {n}": count for n, count in enumerate(counted, start=same + 1)}
    serves = _serves(group, jars, without)
    over = over_the_canners(most, each) if most < round(each * number) else ()
    for chosen, name in zip(pots, jars, strict=True):
        said = (*over, *part_jars(group.chosen, name, jars[name]))
        _add_batch(chosen, name, jars[name], serves[name], said, shelf, made)
    if number < group.batches_wanted:
        reason = f"{fitted.base.name}: {lacking(fitted, number, there)}"
        instead = f"want fewer, or add {fitted.base.name}"
        if not fitted.method.PER_JAR:
            instead += ": a tested batch is not trimmed"
        made_of = fitted.recipe.procedure
        pressed = press_it_first(made_of, fitted.base, shelf)
        found = None
        if there <= 0:
            wanted, canned = group.batches_wanted, group.chosen.process is not None
            found = not_counted(fitted.base, shelf, wanted, canned=canned)
        if found is not None and not pressed:
            reason, instead = f"{fitted.base.name}: {found[0]}", found[1]
        if not pressed and number == 0:
            pressed = another_to_press(made_of, shelf)
        instead = pressed or instead
        _say_short(group, sum(jars.values()), reason, instead, made)
    elif sum(jars.values()) < sum(want.jars for want in group.wants):
        reason, instead = why_short(each, number, most)
        _say_short(group, sum(jars.values()), reason, instead, made)


def _divided(
    group: Group, number: int, place: Place, sizes: tuple[int, ...] | None
) -> list[Chosen]:
    """In pots as she stated, as asked for, or by the plain rule."""
    if group.stated is not None:
        sizes = stated(number, group.stated)
    if sizes is not None and sum(sizes) == number:
        pots = in_pots_of(group.chosen, sizes, place)
        if not isinstance(pots, Refusal):
            return pots
    return in_loads(group.chosen, number, place)


def _add_batch(
    chosen: Chosen,
    name: str,
    jars: int,
    serves: tuple[Want, ...],
    said: tuple[Caution, ...],
    shelf: Shelf,
    made: Batched,
) -> None:
    fitted = chosen.fitted
    draws, _ = shelf.draw(fitted.base)
    batch = MadeBatch(
        id=name,
        product=chosen.product,
        procedure=fitted.recipe.procedure,
        multiple=fitted.recipe.multiple,
        parts=fitted.recipe.parts,
        draws=tuple(draws),
        pot=fitted.station.pot.name,
        pots=tuple(pot.name for pot in fitted.pots),
        jar=fitted.jar,
        jars=jars,
        expected=fitted.expected,
        process=chosen.process,
        kept=chosen.kept,
        checked=fitted.checked,
        purpose=serves[0].purpose,
        serves=serves,
        cautions=(*fitted.checked.cautions, *said, *when_thawed(fitted, draws, shelf)),
    )
    made.batches.append(batch)
    made.chosen[batch.id] = chosen


def _serves(
    group: Group, jars: Mapping[str, int], without: Collection[str]
) -> dict[str, tuple[Want, ...]]:
    """The wants that each batch serves; those come last that are left out by name."""
    serves, before = {}, 0
    for name in sorted(jars, key=lambda name: name in without):
        after, reached, mine = before + jars[name], 0, []
        for want in group.wants:
            if before < reached + want.jars and reached < after:
                mine.append(want)
            reached += want.jars
        serves[name] = tuple(mine) or group.wants[-1:]
        before = after
    return serves


def _say_short(
    group: Group, counted: int, reason: str, instead: str, made: Batched
) -> None:
    """Name the wants that the jars do not reach, the last due first."""
    left = counted
    for want in group.wants:
        got = min(want.jars, left)
        left -= got
        if got == want.jars:
            continue
        made.unmet.append(
            Unmet(
                product=want.product,
                jar=want.jar,
                wanted=want.jars,
                planned=got,
                reason=reason,
                instead=instead,
            )
        )


def _shopping(made: Batched, shelf: Shelf) -> list[Purchase]:
    """Draw all but the base for each batch; what is not there is to be bought."""
    shopping = Shopping(shelf, made.seals)
    for place, batch in enumerate(made.batches):
        chosen = made.chosen[batch.id]
        recipe = of_what_is_there(chosen.fitted.recipe, shelf)
        fitted = replace(chosen.fitted, recipe=recipe)
        made.chosen[batch.id] = replace(chosen, fitted=fitted)
        rest = fitted.method.materials(recipe, batch.jar, batch.jars)[1:]
        draws = (*batch.draws, *shopping.draw(rest))
        made.batches[place] = replace(batch, parts=recipe.parts, draws=draws)
    return shopping.list()
