"""The odd bag: what is left of fruit and juice, and what it may become."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from stillroom.book.canner_rules import canners_in_words
from stillroom.book.never import spoils_uncooled
from stillroom.book.packs import Pack, pack_for, pack_procedure, packs
from stillroom.book.procedures import Procedure, procedures_using
from stillroom.book.processes import process_for
from stillroom.in_a_list import any_of
from stillroom.jar_count import jars_said
from stillroom.methods import butter
from stillroom.methods.by_name import method_named
from stillroom.methods.kitchen import CannerKind
from stillroom.methods.method import Kept, Material, Method
from stillroom.methods.portions import HAIR
from stillroom.methods.recipes import own_pack, process_name
from stillroom.planning.dayplan import Leftover
from stillroom.planning.which_batches.batches import Batched
from stillroom.planning.which_batches.choices import Fitted, Place, pots_for
from stillroom.planning.which_batches.missed_most import SOON_D
from stillroom.planning.which_batches.names_on_shelf import (
    PECTIN,
    is_kind_of,
    same_thing,
)
from stillroom.planning.which_batches.not_counted import may_be_meant
from stillroom.planning.which_batches.out_of_the_freezer import (
    still_frozen,
)
from stillroom.planning.which_batches.pressed import base_of, fruit_for, is_to_press
from stillroom.planning.which_batches.shelf import (
    LotLeft,
    Shelf,
    amount,
    in_measure_of,
    mass_words,
    measured,
    whole_times,
    words_for,
)
from stillroom.refusal import Refusal

MOST_PACKS = 3
"""So many packs of one food are named."""
_LITTLE_M3, _LITTLE_KG = 6e-5, 0.06
"""A quarter of a cup is a taste, not a leftover. [m3], [kg]"""


NOT_TO_FREEZE = {
    "vinegar": "keep it closed, in a cupboard",
    "cucumber": "keep it cool; frozen, it goes limp",
    "cucumbers": "keep them cool; frozen, they go limp",
}
"""What becomes of a rest that nobody freezes. Common practice, no source."""


def leftovers(
    made: Batched,
    shelf: Shelf,
    place: Place | None = None,
    on: dt.date | None = None,
) -> list[Leftover]:
    """
    Say what is left of every fruit or juice that the day drew on or could have.

    What it may become is held against the pots, the fire and the canners of ``place``.
    What has to be used soon after the day, ``on``, is named whatever it may become.
    """
    left: list[Leftover] = []
    for held in shelf.held:
        little = _LITTLE_KG if held.lot.mass_kg is not None else _LITTLE_M3
        if held.left <= little or (_is_by_the_piece(held) and not _spoils(held, on)):
            continue
        what = held.lot.what
        fitted = [g.chosen.fitted for g in made.groups]
        drawn_by = [f for f in fitted if same_thing(f.base.name, what)]
        by_the_jar = _by_the_jar(held, shelf, place)
        if drawn_by or by_the_jar or _uses(held) or _spoils(held, on):
            first = drawn_by[0] if drawn_by else None
            rest = leftover_of(held, first, by_the_jar, place)
            left.append(replace(rest, text=rest.text + _use_by(held, on)))
    return left


def leftover_of(
    held: LotLeft,
    fitted: Fitted | None,
    by_the_jar: tuple[str, ...] = (),
    place: Place | None = None,
    in_cups: Material | None = None,
) -> Leftover:
    """
    Say what is left of a lot, what it lacks of a batch, and what it may become.

    ``in_cups`` is what a batch takes of fruit that is prepared already.
    """
    text = measured(held, held.left)
    recipes, again = _uses(held), ""
    if fitted is not None:
        base = in_cups or fitted.base
        here = in_measure_of(base, held)
        short = amount(base) - here
        if short > amount(base) * HAIR and here > 0:
            lacks = words_for(base, short, metric=held.metric)
            text += f", {lacks} short of another batch"
        elif here > 0:
            again = f"{fitted.product}: enough for another batch, as it is made today"
    choices = [
        f"{procedure.name} ({procedure.title}): enough for a whole tested batch"
        f"{_when_pressed(procedure, held)}{_if_it_is(procedure, held)}"
        f"{_but(procedure, place)}"
        for procedure in recipes
    ]
    choices += by_the_jar or ([again] if again and not recipes else [])
    no_use = not choices
    choices.append(_kept(held))
    if no_use and _is_measured_otherwise(held):
        choices.append("a recipe takes it by another measure: measure some to see")
    elif no_use:
        taken = fitted is not None or procedures_using(held.lot.what)
        none = "is so small" if taken else "takes it"
        use = (
            "cook with it" if held.lot.volume_m3 is None else "drink it or cook with it"
        )
        choices.append(f"{use}: no published recipe here {none}")
    return Leftover(lot=held.lot.name, text=text, choices=tuple(choices))


def _use_by(held: LotLeft, on: dt.date | None) -> str:
    """Say by when it has to be used, where that is soon, or past."""
    until = held.lot.use_by
    if on is None or until is None or not _spoils(held, on):
        return ""
    past = ", which is past: look and smell, and discard what is doubtful"
    return f", to be used by {until:%-d %B}{past if until < on else ''}"


def _spoils(held: LotLeft, on: dt.date | None) -> bool:
    """Whether it has to be used within the week after the day."""
    until = held.lot.use_by
    if on is None or until is None or PECTIN in held.lot.what:
        return False
    return (until - on).days <= SOON_D


def _is_by_the_piece(held: LotLeft) -> bool:
    """Whether it is jars, boxes, or fruit that nobody weighed."""
    return held.lot.count is not None


def _when_pressed(procedure: Procedure, held: LotLeft) -> str:
    """Say how much of a fruit gives the juice of one batch; empty for juice itself."""
    base = base_of(procedure)
    if base is None or not is_to_press(base, held):
        return ""
    needed = fruit_for(procedure, base, held.lot.what)
    assert needed is not None  # without a yield it is no use of the fruit
    give = words_for(base, amount(base), metric=held.metric)
    fruit = mass_words(needed, metric=held.metric, at_least=True)
    return f", when {fruit} are pressed for its {give}"


def _if_it_is(procedure: Procedure, held: LotLeft) -> str:
    """Name the kind that a recipe asks for, where a lot does not say that it is."""
    base = base_of(procedure)
    if base is None or not may_be_meant(base, held):
        return ""
    return f", of {base.name}"


def _but(procedure: Procedure, place: Place | None) -> str:
    """What stands in the way of it in the kitchen; empty where nothing does."""
    if place is None:
        return ""
    if isinstance(pots_for(procedure, place), Refusal):
        return ", but not in these pots on this fire"
    tools = place.kitchen.mills + place.kitchen.sieves
    if procedure.method == butter.NAME and not tools:
        return ", but it goes through a food mill or a sieve, and there is none here"
    return ""


def _kept(held: LotLeft) -> str:
    lot = held.lot
    if lot.frozen:
        return still_frozen(held)
    what = lot.what.casefold()  # "cider vinegar", and not "peppers in vinegar"
    told = (
        said
        for word, said in NOT_TO_FREEZE.items()
        if what.endswith(word) and " in " not in what
    )
    if (other := next(told, None)) is not None:
        return other
    if spoils_uncooled(lot.what):
        return "into the refrigerator, or freeze it"
    if lot.volume_m3 is not None:
        return "freeze it, measured and dated"
    if "dried" in what.split():
        return "keep it dry and dark"
    return "keep it cool, or freeze it"


def _by_the_jar(held: LotLeft, shelf: Shelf, place: Place | None) -> tuple[str, ...]:
    """
    How many jars it fills as it is, beside the empty jars that are left.

    Where no canner here gives the published process, that is said with it.
    """
    if held.lot.mass_kg is None:
        return ()
    found = (_in_jars(pack, held, shelf, place) for pack in _packs_of(held.lot.what))
    return tuple(said for said in found if said)


def _packs_of(what: str) -> tuple[Pack, ...]:
    """Packs of one food: its own, or the first hot ones where it has several."""
    pack = pack_for(what)
    if not isinstance(pack, Refusal):
        return (pack,)
    hot = [p for p in packs() if p.pack == "hot" and same_thing(p.food, what)]
    return tuple(hot[:MOST_PACKS])


def _in_jars(pack: Pack, held: LotLeft, shelf: Shelf, place: Place | None) -> str:
    said: dict[str, str] = {}
    for jar in ("quart", "pint"):
        procedure = pack_procedure(pack, jar=jar)
        if isinstance(procedure, Refusal):
            continue
        method = method_named(procedure.method)
        recipe = method if isinstance(method, Refusal) else method.scale(procedure, 1)
        if isinstance(method, Refusal) or isinstance(recipe, Refusal):
            continue
        base = method.materials(recipe, jar, 0)[0]
        jars = whole_times(in_measure_of(base, held), amount(base))
        empty = round(shelf.on_hand(Material(name=f"{jar} jars", count=1)))
        missing = _canner_missing(method, procedure, jar, place)
        if jars and missing is not None:
            said[f"{jars_said(jars, jar)} ({empty} empty on the shelf"] = missing
    if len({*said.values()}) == 1:  # said once, of both sizes
        but = "".join(f", but {missing}" for missing in {*said.values()} if missing)
        words = [f"{jars})" for jars in said]
    else:
        but = ""
        words = [f"{'; '.join(filter(None, each))})" for each in said.items()]
    return f"{procedure_title(pack)}: {any_of(words)}{but}" if said else ""


def _canner_missing(
    method: Method, procedure: Procedure, jar: str, place: Place | None
) -> str | None:
    """What canner it would take; empty where one here does, `None` where none does."""
    if place is None or method.KEPT is not Kept.SHELF:
        return ""
    kinds = [
        kind
        for kind in CannerKind
        if not isinstance(
            process_for(
                process_name(procedure),
                jar=jar,
                elevation_ft=place.air.elevation_ft,
                pack=method.PACK or own_pack(procedure),
                canner=kind.value,
            ),
            Refusal,
        )
    ]
    if any(c.kind in kinds and c.holds(jar) for c in place.kitchen.canners):
        return ""
    if not kinds:
        return None
    if any(c.kind in kinds for c in place.kitchen.canners):
        return "no canner here holds them"
    return f"only in {canners_in_words(kind.value for kind in kinds)}"


def procedure_title(pack: Pack) -> str:
    """
    Name a pack as a choice: "pears, packed hot".

    >>> procedure_title(pack_for("pears"))
    'pears, packed hot'
    """
    return f"{pack.product.name}, packed {pack.pack}"


def _uses(held: LotLeft) -> list[Procedure]:
    """Published recipes of which one whole batch fits in what is left."""
    return [
        procedure
        for procedure in procedures_using(held.lot.what)
        if (base := base_of(procedure)) is not None
        and _is_enough(procedure, base, held)
    ]


def _is_measured_otherwise(held: LotLeft) -> bool:
    """Whether recipes take it by a measure in which what is left cannot be told."""
    if _is_by_the_piece(held) and _packs_of(held.lot.what):
        return True
    bases = [base_of(procedure) for procedure in procedures_using(held.lot.what)]
    return any(
        base is not None
        and same_thing(base.name, held.lot.what)
        and not in_measure_of(base, held)
        for base in bases
    )


def _is_enough(procedure: Procedure, base: Material, held: LotLeft) -> bool:
    """Whether what is left gives one batch; fruit by the juice pressed from it."""
    if is_to_press(base, held):
        needed = fruit_for(procedure, base, held.lot.what)
        return needed is not None and whole_times(held.left, needed) >= 1
    what = held.lot.what
    is_it = same_thing(base.name, what) or is_kind_of(what, base.name)
    if not is_it and not may_be_meant(base, held):
        return False  # oranges go into a marmalade that cranberries are weighed for
    return whole_times(in_measure_of(base, held), amount(base)) >= 1
