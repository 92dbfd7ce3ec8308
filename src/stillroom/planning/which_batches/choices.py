"""For one want: the recipe, the process, the pots and the fire that serve it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from stillroom.book.heat import efficiency_of
from stillroom.book.jars import jar_named, may_fill, not_printed_for
from stillroom.book.procedures import Procedure
from stillroom.book.processes import Process, process_for
from stillroom.methods.by_name import method_named
from stillroom.methods.kitchen import Burner, CannerKind, Kitchen, Pot
from stillroom.methods.learned import AS_PUBLISHED, Learned, with_own_yield
from stillroom.methods.method import (
    Checked,
    Kept,
    Material,
    Method,
    Recipe,
    Station,
    Yield,
)
from stillroom.methods.recipes import own_pack, process_name, recipe_named
from stillroom.methods.today import AirToday
from stillroom.planning.day import Want
from stillroom.refusal import Refusal

LEAST_IN_A_JAR = 0.9
"""A jar that is less than so full is not counted as one. [jar]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where it is made, in what air, and the recipes that the keeper adds."""

    kitchen: Kitchen
    air: AirToday
    own: tuple[Procedure, ...] = ()
    learned: Learned = AS_PUBLISHED


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """A recipe at its multiple, in the pots and on the fire that hold it."""

    asked: str
    """What the want called it."""
    product: str
    jar: str
    method: Method
    recipe: Recipe
    expected: Yield
    station: Station
    """The smallest pot that holds it, on the fire it was checked for."""
    checked: Checked
    pots: tuple[Pot, ...]
    """Every pot that holds it, smallest first."""
    too_small: tuple[Refusal, ...] = ()
    """Why the other pots do not."""

    @property
    def base(self) -> Material:
        """The fruit or juice of one batch, as it lies on the shelf."""
        return self.method.materials(self.recipe, self.jar, 0)[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """How one want can be met: a recipe that fits, and its published process."""

    fitted: Fitted
    process: Process | None
    """`None` where the goods need no canner."""

    @property
    def product(self) -> str:
        """The product by its name in the book."""
        return self.fitted.product

    @property
    def kept(self) -> Kept:
        """Where the goods keep."""
        kept = self.fitted.method.KEPT
        if kept is Kept.SHELF and self.process is None:
            return Kept.COLD
        return kept


def choose(want: Want, place: Place) -> Chosen | Refusal:
    """Return how a want can be met in this kitchen, or the first reason why not."""
    fitted = fit(want.product, want.jar, want.multiple or 1, place)
    if isinstance(fitted, Refusal):
        return _one_at_a_time(want, fitted, place)
    own_and_cold = fitted.recipe.procedure.keeping == "cold"
    if fitted.method.KEPT is not Kept.SHELF or own_and_cold:
        return Chosen(fitted=fitted, process=None)
    process = process_in_kitchen(fitted, place.kitchen, place.air)
    if isinstance(process, Refusal):
        return process
    return Chosen(fitted=fitted, process=process)


def _one_at_a_time(want: Want, no: Refusal, place: Place) -> Refusal:
    """The same refusal; where one tested batch is held, that is what to do instead."""
    if (want.multiple or 1) == 1:
        return no
    one = fit(want.product, want.jar, 1, place)
    if isinstance(one, Refusal):
        return no
    return replace(
        no,
        instead=f"take `multiple` out of the want: {one.station.pot.name} holds one "
        "tested batch at a time",
    )


def pots_for(procedure: Procedure, place: Place) -> tuple[Pot, ...] | Refusal:
    """Return the pots that hold one whole batch of a recipe here, or why none does."""
    method = method_named(procedure.method)
    if isinstance(method, Refusal):
        return method
    recipe = method.scale(procedure, 1)
    if isinstance(recipe, Refusal):
        return recipe
    holding = _pots_that_hold(method, recipe, place)
    if isinstance(holding, Refusal):
        return holding
    return tuple(station.pot for station, _ in holding[0])


def in_loads(chosen: Chosen, units: int, place: Place) -> list[Chosen]:
    """
    Split so many jars' worth into even batches that a canner and a pot hold.

    For ways of putting up whose recipe is per jar: the largest batch is a full load of
    the largest canner here, or as much as the largest pot holds.
    """
    fitted = chosen.fitted
    most = min(units, _units_in_a_load(chosen, place.kitchen))
    while most > 1 and isinstance(fit(fitted.asked, fitted.jar, most, place), Refusal):
        most -= 1
    number = math.ceil(units / most)
    made = []
    for index in range(number):
        size = units // number + (index < units % number)
        whole = fit(fitted.asked, fitted.jar, size, place)
        if not isinstance(whole, Refusal):
            made.append(Chosen(fitted=whole, process=chosen.process))
    return made


def _units_in_a_load(chosen: Chosen, kitchen: Kitchen) -> int:
    """Jars' worths that fill the largest canner of the process; a dozen without one."""
    if chosen.process is None:
        return 12
    jar = chosen.fitted.jar
    places = max(
        canner.holds(jar)
        for canner in kitchen.canners
        if canner.kind == chosen.process.method
    )
    return max(1, math.floor(places / chosen.fitted.expected.likely + 1e-6))


def process_in_kitchen(
    fitted: Fitted, kitchen: Kitchen, air: AirToday
) -> Process | Refusal:
    """
    Return the published process that a canner here can give, boiling water first.

    A low-acid food is refused boiling water by the book; a pressure canner is tried
    then. Where no canner here serves, the first no is the reason.
    """
    first: Refusal | None = None
    for kind in CannerKind:
        answer = process_for(
            process_name(fitted.recipe.procedure),
            jar=fitted.jar,
            elevation_ft=air.elevation_ft,
            pack=fitted.method.PACK or own_pack(fitted.recipe.procedure),
            canner=kind.value,
        )
        if not isinstance(answer, Refusal):
            answer = _canner_for(kitchen, kind, fitted.jar) or answer
        if not isinstance(answer, Refusal):
            return answer
        first = first or answer
    assert first is not None
    return first


def fit(product: str, jar: str, multiple: int, place: Place) -> Fitted | Refusal:
    """Return the recipe of a product in the pots here, smallest first."""
    size = jar_named(jar)
    if isinstance(size, Refusal):
        return size
    procedure = recipe_named(product, jar=size.name, own=place.own)
    if isinstance(procedure, Refusal):
        return procedure
    if procedure.jars and not may_fill(size.name, procedure.jars):
        return not_printed_for(
            size.name, procedure.name, procedure.jars, source=procedure.source
        )
    method = method_named(procedure.method)
    if isinstance(method, Refusal):
        return method
    her_own = procedure.how_known == "keeper"
    if procedure.keeping == "cold" and method.KEPT is Kept.SHELF and not her_own:
        return Refusal(
            f"{procedure.name} has no published process, and is not kept on the shelf",
            instead="freeze or refrigerate it, as its recipe says",
            source=procedure.source,
        )
    recipe = method.scale(procedure, multiple)
    if isinstance(recipe, Refusal):
        return recipe
    recipe = recipe.said_metric(place.kitchen.metric)
    expected = method.expected_yield(recipe, size.name)
    if isinstance(expected, Refusal):
        return expected
    if not method.PER_JAR:
        expected = with_own_yield(expected, procedure.name, place.learned)
        if expected.likely < LEAST_IN_A_JAR:
            return _no_full_jar(procedure, expected, multiple)
    holding = _pots_that_hold(method, recipe, place)
    if isinstance(holding, Refusal):
        return holding
    fits, too_small = holding
    station, checked = fits[0]
    return Fitted(
        asked=product,
        product=procedure.title if her_own else procedure.name,
        jar=size.name,
        method=method,
        recipe=recipe,
        expected=expected,
        station=station,
        checked=checked,
        pots=tuple(station.pot for station, _ in fits),
        too_small=tuple(too_small),
    )


def _no_full_jar(procedure: Procedure, expected: Yield, multiple: int) -> Refusal:
    """Refuse jars that a batch leaves half empty: each would be promised as full."""
    more = multiple * math.ceil(LEAST_IN_A_JAR / expected.likely)
    return Refusal(
        f"one pot of {procedure.name} fills {expected.likely:.1f} of a "
        f"{expected.jar} jar",
        instead=f"fill smaller jars, or put `multiple` = {more} in the want: so many "
        "times the recipe in one pot are your own choice",
        source=expected.source.text,
    )


def _pots_that_hold(
    method: Method, recipe: Recipe, place: Place
) -> tuple[list[tuple[Station, Checked]], list[Refusal]] | Refusal:
    """Try the strongest fire; where it bears no pot that is large enough, the next."""
    fires = cooking_fires(place.kitchen)
    if isinstance(fires, Refusal):
        return fires
    answers = (_pots_on(fire, method, recipe, place) for fire in fires)
    first = next(answers)
    if not isinstance(first, Refusal):
        return first
    return next((found for found in answers if not isinstance(found, Refusal)), first)


def _pots_on(
    burner: Burner, method: Method, recipe: Recipe, place: Place
) -> tuple[list[tuple[Station, Checked]], list[Refusal]] | Refusal:
    """Try the pots, smallest first; if none holds it, the last no is the reason."""
    holding: list[tuple[Station, Checked]] = []
    refused: list[Refusal] = []
    last = Refusal(
        "the kitchen has no pot",
        instead="name its pots with their volumes",
        source="the day file",
    )
    for pot in sorted(place.kitchen.pots, key=lambda pot: pot.volume_m3):
        if burner.largest_pot_m3 and pot.volume_m3 > burner.largest_pot_m3 + 1e-9:
            last = Refusal(
                f"{pot.name} is too large for {burner.name}",
                instead="use a smaller pot, or a larger burner",
                source="largest pot of the burner, as given for the kitchen",
            )
            continue
        station = station_at(pot, burner, place.kitchen, place.air)
        if isinstance(station, Refusal):
            return station
        checked = method.checks(recipe, station)
        if isinstance(checked, Refusal):
            last = checked
            refused.append(checked)
        else:
            holding.append((station, checked))
    return (holding, refused) if holding else last


def station_at(
    pot: Pot, burner: Burner, kitchen: Kitchen, air: AirToday
) -> Station | Refusal:
    """A pot on a fire in this kitchen's air."""
    efficiency = efficiency_of(kitchen.heat.value)
    if isinstance(efficiency, Refusal):
        return efficiency
    return Station(
        pot=pot,
        burner=burner,
        heat=kitchen.heat,
        efficiency=efficiency.share,
        air=air,
        sieve=kitchen.sieves > 0 and kitchen.mills == 0,
    )


def cooking_fires(kitchen: Kitchen) -> tuple[Burner, ...] | Refusal:
    """
    Fires that durations are computed for, of those that no canner covers.

    The strongest first, then each that bears larger pots than all before it. A batch
    may also go on any fire at least as strong.
    """
    covered = {name for canner in kitchen.canners for name in canner.stands_on}
    free = [burner for burner in kitchen.burners if burner.name not in covered]
    found: list[Burner] = []
    for burner in sorted(
        free or kitchen.burners, key=lambda b: (-b.power_w, -_bears_m3(b))
    ):
        if not found or _bears_m3(burner) > _bears_m3(found[-1]):
            found.append(burner)
    if found:
        return tuple(found)
    return Refusal(
        "the kitchen has no burner",
        instead="name its burners with their power",
        source="the day file",
    )


def stronger_than(station: Station, kitchen: Kitchen) -> Burner | None:
    """The strongest fire that bears a pot and is stronger than the one it stands on."""
    stronger = [
        burner
        for burner in kitchen.burners
        if burner.power_w > station.burner.power_w
        and _bears_m3(burner) >= station.pot.volume_m3 - 1e-9
    ]
    return max(stronger, key=lambda burner: burner.power_w, default=None)


def _bears_m3(burner: Burner) -> float:
    """Largest pot that a burner bears. [m3]"""
    return burner.largest_pot_m3 or math.inf


def _canner_for(kitchen: Kitchen, kind: CannerKind, jar: str) -> Refusal | None:
    """Why no canner of a kind here takes a jar; nothing where one does."""
    same = [canner for canner in kitchen.canners if canner.kind is kind]
    if any(canner.holds(jar) for canner in same):
        return None
    if not same:
        return Refusal(
            f"the kitchen has no {kind.value} canner, and without one no jar keeps",
            instead="name one, or freeze it; jars are never sealed without a process",
            source="Kansas State Univ. Extension on open-kettle canning",
        )
    return Refusal(
        f"no {kind.value} canner here takes {jar} jars",
        instead="say how many it holds, or use another jar size",
        source="the day file",
    )
