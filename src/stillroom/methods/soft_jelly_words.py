"""The remake of a soft jelly in words, the same on the page and in the terminal."""

from __future__ import annotations

from stillroom import measures
from stillroom.book.procedures import Procedure
from stillroom.in_a_list import all_of
from stillroom.measures import depth
from stillroom.methods.method import Part
from stillroom.methods.portions import as_it_must_be, volume_words
from stillroom.methods.remade import SOFT_JELLY
from stillroom.methods.scaling import at_multiple
from stillroom.methods.soft_jelly import Remaking
from stillroom.refusal import granted


def remake_words(remaking: Remaking, *, metric: bool = False) -> str:
    """Return the trial and the batches after it, as part of a sentence."""
    trial = _cups(remaking.trial_cups, metric=metric)
    if not remaking.batches:
        return f"{trial} is all there is: the trial is the whole of it"
    many = remaking.batches > 1
    return (
        f"first {trial} as a trial; when that has set, the rest "
        f"in {remaking.batches} {'batches' if many else 'batch'} of "
        f"{_cups(remaking.cups, metric=metric)}"
        + (", never all in one pot" if many else "")
    )


def boil_words(remaking: Remaking) -> str:
    """
    Return how long it boils by the clock, as a sentence.

    Empty where a test ends the boil and no clock does: the order of adding says that.
    """
    minutes = remaking.trial.boil_min
    if not minutes or "by the clock" not in remaking.trial.order_of_adding:
        return ""
    return f"Boil hard {measures.minutes_said(minutes)} by the clock."


def jars_words(remaking: Remaking) -> str:
    """Return the jars and lids for all of it, as a sentence without its end."""
    low, high = remaking.jars_low, remaking.jars_high
    jars = f"{low} to {high}" if high > low else f"{low}"
    lids = "1 new lid" if remaking.lids == 1 else f"{remaking.lids} new lids"
    room = depth(remaking.trial.headspace_in)
    return f"Clean hot half-pint jars: {jars}, with {room} of headspace, and {lids}"


def whole_words(
    remaking: Remaking, spoon_kg: float | None = None, *, metric: bool = False
) -> str:
    """
    Return what the trial and all batches take, to be fetched, as a sentence.

    Pectin stays in level spoons; with ``spoon_kg``, what one of the keeper's own tub
    weighs, it is said in grams too, and never in boxes.
    """
    volumes: dict[str, float] = {}
    sugar_kg = 0.0
    for procedure, times in (
        (remaking.trial, 1),
        (remaking.procedure, remaking.batches),
    ):
        if procedure is None:
            continue
        for part in granted(at_multiple(procedure, 1)).parts:
            if part.name == SOFT_JELLY:
                continue
            volume_m3 = times * (part.volume_m3 or 0.0)
            name = as_it_must_be(part)
            volumes[name] = volumes.get(name, 0.0) + volume_m3
            if part.role == "sugar":
                sugar_kg += times * (part.mass_kg or 0.0)
    said = []
    for name, volume_m3 in volumes.items():
        if name.endswith("powdered pectin"):
            spoons = round(volume_m3 / float(measures.TEASPOON_M3), 2)
            grams = spoons * spoon_kg * 1000 if spoon_kg else 0.0
            own = f" ({grams:.0f} g by your spoon)" if grams else ""
            said.append(f"{measures.mixed_number(spoons)} tsp {name}{own}")
        elif name == "sugar" and sugar_kg:
            mass = measures.kitchen_mass(sugar_kg, metric=True)
            printed = measures.kitchen_volume(volume_m3)
            said.append(
                f"{mass} sugar ({printed})" if metric else f"{printed} sugar ({mass})"
            )
        else:
            is_acid = "lemon juice" in name
            wet = volume_words(volume_m3, metric=metric, at_least=is_acid)
            said.append(f"{wet} {name}")
    return f"In all: {all_of(said)}."


def remade_parts(
    procedure: Procedure, *, metric: bool = False
) -> tuple[tuple[str, str, str], ...]:
    """
    Return what goes in: as it is scooped, in grams or millilitres, and its name.

    Who writes ``metric`` is told grams and millilitres first.
    """
    recipe = granted(at_multiple(procedure, 1))
    return tuple(_row(part, metric=metric) for part in recipe.parts)


def _row(part: Part, *, metric: bool) -> tuple[str, str, str]:
    """A part both ways; what is less than a quarter of a cup is for spoons first."""
    volume_m3, name = part.volume_m3 or 0.0, as_it_must_be(part)
    if not metric or volume_m3 < measures.LEAST_IN_A_JUG_M3:
        return _scooped(part), _metric(part), name
    if part.role == "sugar":
        return _metric(part), _scooped(part), name
    at_least = part.role == "acid"
    jug = measures.kitchen_volume(volume_m3, metric=True, at_least=at_least)
    return jug, _scooped(part), name


def _scooped(part: Part) -> str:
    return measures.kitchen_volume(part.volume_m3 or 0.0)


def _metric(part: Part) -> str:
    """Sugar on the scale; what is poured, and pectin by the spoon, in millilitres."""
    if part.role == "sugar" and part.mass_kg is not None:
        return measures.kitchen_mass(part.mass_kg, metric=True)
    millilitres = (part.volume_m3 or 0.0) * 1e6
    step = 5 if millilitres >= 50 else 1
    return f"{step * round(millilitres / step):,} mL"


def _cups(cups: float, *, metric: bool) -> str:
    """Write cups as they are measured: "1 cup", "4 3/4 cups", "830 mL (3 1/2 cups)"."""
    return volume_words(cups * float(measures.CUP_M3), metric=metric)
