"""How the steps of a pack follow one another: raw, hot, and through the mill."""

from __future__ import annotations

from dataclasses import replace

from stillroom.book.packs import Pack
from stillroom.methods import handling as hand
from stillroom.methods import jars as jar_work
from stillroom.methods import pack_steps, per_jar
from stillroom.methods.method import Filling, Recipe, Station, Work
from stillroom.methods.step import Link, Step
from stillroom.refusal import Refusal


def raw_work(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps of a raw pack: nothing is cooked, and no pot is held."""
    pack = per_jar.the_pack(recipe)
    stop = _may_not(recipe, pack, station, filling)
    if stop is not None:
        return stop
    made, links = _cut(recipe, pack, station)
    links.append(
        Link(
            before="cut",
            after="fill",
            at_most_min=pack_steps.RAW_BROWNS_MIN,
            why="packed soon after cutting, before it browns",
        )
    )
    if pack.liquid.water_cups:
        made.append(pack_steps.boil_liquid(recipe, pack, station, in_pot=False))
        links.append(_poured_hot())
    return _closed(made, links, recipe, station, filling, cooked="")


def hot_work(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps of a hot pack, with what the pot does before the jars."""
    pack = per_jar.the_pack(recipe)
    stop = _may_not(recipe, pack, station, filling)
    if stop is not None:
        return stop
    made, links = _to_the_fire(recipe, pack, station)
    cooking = pack.cooking
    if cooking.verb:
        made.append(pack_steps.cook(recipe, pack, station))
        if cooking.stand_min:
            made.append(pack_steps.stand(pack))
            links.append(
                Link(before="cook", after="stand", at_most_min=0, why="stands covered")
            )
        if pack.trim_after == "cook":
            made.append(pack_steps.trim(recipe, pack))
            links.append(
                Link(
                    before="cook",
                    after="trim",
                    at_most_min=30,
                    why="skins slip while it is warm",
                )
            )
    last = made[-1].id
    if pack.liquid.fresh:
        made.append(pack_steps.boil_liquid(recipe, pack, station, in_pot=False))
        links.append(_poured_hot())
    links.append(pack_steps.into_hot_jars(last))
    return _closed(made, links, recipe, station, filling, cooked=last)


def milled_work(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps of what is cooked soft, milled, and boiled again."""
    pack = per_jar.the_pack(recipe)
    stop = _may_not(recipe, pack, station, filling)
    if stop is not None:
        return stop
    made = [
        pack_steps.cut(recipe, pack),
        pack_steps.cook(recipe, pack, station),
        *pack_steps.mill(recipe, station),
        pack_steps.reheat(recipe, pack, station),
    ]
    links = [
        _before_it_browns("cut", "cook"),
        Link(before="cook", after="mill", at_most_min=30, why="milled while warm"),
        Link(before="mill", after="wash_mill"),
        Link(before="mill", after="reheat", at_most_min=30, why="it would cool"),
        pack_steps.into_hot_jars("reheat"),
    ]
    return _closed(made, links, recipe, station, filling, cooked="reheat")


def _may_not(
    recipe: Recipe, pack: Pack, station: Station, filling: Filling
) -> Refusal | None:
    stop = per_jar.process_fits(pack, filling)
    if stop is not None:
        return stop
    weak = per_jar.boils(recipe, station)
    return weak if isinstance(weak, Refusal) else None


def _cut(recipe: Recipe, pack: Pack, station: Station) -> tuple[list[Step], list[Link]]:
    """Cut it; what is skinned is dipped in boiling water before."""
    cut = pack_steps.cut(recipe, pack)
    if pack.hands != "skin":
        return [cut], []
    slips = Link(before="dip", after="cut", at_most_min=30, why="skins slip while warm")
    return [pack_steps.dip(recipe, pack, station), cut], [slips]


def _to_the_fire(
    recipe: Recipe, pack: Pack, station: Station
) -> tuple[list[Step], list[Link]]:
    """Cut it; blanch it where that is printed; bring its liquid to the boil."""
    made, links = _cut(recipe, pack, station)
    previous = "cut"
    if pack.cooking.blanch_min:
        made.append(pack_steps.blanch(recipe, pack, station))
        links.append(_before_it_browns("cut", "blanch"))
        previous = "blanch"
    if pack.trim_after == "blanch":
        made.append(pack_steps.trim(recipe, pack))
        links.append(
            Link(before="blanch", after="trim", at_most_min=30, why="cut while warm")
        )
        previous = "trim"
    if pack.cooking.verb:
        browns = _before_it_browns(previous, "cook")
        is_juice = pack.method == "juice"  # poured off, and not cut
        links.append(replace(browns, why="juice sours") if is_juice else browns)
    if pack.liquid.water_cups and not pack.liquid.fresh:
        made.append(pack_steps.boil_liquid(recipe, pack, station, in_pot=True))
        if pack.cooking.blanch_min:
            links.append(Link(before="blanch", after="boil_liquid"))
        links.append(
            Link(
                before="boil_liquid", after="cook", at_most_min=15, why="it boils away"
            )
        )
    return made, links


def _before_it_browns(before: str, after: str) -> Link:
    return Link(
        before=before,
        after=after,
        at_most_min=pack_steps.BROWNS_MIN,
        why="cut food browns and dries",
    )


def _poured_hot() -> Link:
    return Link(
        before="boil_liquid",
        after="fill",
        at_most_min=pack_steps.LIQUID_KEEPS_MIN,
        why="poured boiling",
    )


def _closed(
    made: list[Step],
    links: list[Link],
    recipe: Recipe,
    station: Station,
    filling: Filling,
    *,
    cooked: str,
) -> Work:
    """
    Add jars, acid, filling, closing and the wash, and return the whole work.

    ``cooked`` is the last step in the pot; empty for a raw pack, which holds none. The
    acid goes in once the food is hot: jars that wait with it would cool.
    """
    pack = per_jar.the_pack(recipe)
    jars = jar_work.before_filling(filling, station.air)
    acid = [pack_steps.measure_acid(recipe, pack, filling)] if pack.acid else []
    if acid:
        links += [
            Link(before="heat_jars", after="measure_acid"),
            Link(
                before="measure_acid",
                after="fill",
                at_most_min=pack_steps.ACID_KEEPS_HOT_MIN,
                why="jars out of the hot water are filled before they cool",
            ),
        ]
        links += [Link(before=cooked, after="measure_acid")] if cooked else []
    done = [pack_steps.fill(pack, filling), pack_steps.close(pack, filling)]
    if cooked:
        done.append(jar_work.wash_pot())
    known = {step.id for step in (*jars, *made, *acid, *done)}
    links += [
        link for link in jar_work.jar_links() if {link.before, link.after} <= known
    ]
    return Work(
        steps=(*jars, *made, *acid, *done),
        links=tuple(links),
        ready_after="wipe_and_lid",
        closed_wait_at_most_min=hand.CLOSED_WAIT_MIN,
    )
