"""
The balance of masses of a lot that was made: what went in is what came out, and losses.

Masses are whole milligrams. What the record has by weight is taken as it is, what it
has by volume with the book's density, boxes and pouches at their printed weight. What
came out is jars times what one holds. The rest was driven off as water or stayed in the
pot: it is named, and never below nothing without being said.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.book.densities import density_kg_m3
from stillroom.book.jars import jar_volume_m3
from stillroom.book.limits import ingredient_named
from stillroom.book.produce import soluble_solids
from stillroom.measures import kitchen_mass
from stillroom.methods.butter import LIKELY_SOLIDS as BUTTER_SOLIDS
from stillroom.methods.solids import JAM_SOLIDS, ROOM_K, UNKNOWN_SOLIDS
from stillroom.methods.spread import HELD_BACK
from stillroom.refusal import Refusal
from stillroom.science import syrup
from stillroom.stock.amounts import Measure, Unit
from stillroom.stock.events import Kind, Lot, Made
from stillroom.stock.fold import Stock
from stillroom.stock.making import SETS, product_kind

GAINED_MOST = 0.02
"""Cups and scales agree so far. Common practice, no source. [1]"""
PART_JAR = 0.5
"""Jars are counted as full; the last one seldom is. More than so much of one, and more
than cups and scales explain, above what went in is said. [1]"""
SOLIDS_LOST_MOST = 0.2
"""Sugar does not boil away: where more of the solids is missing, it is said. [1]"""
WHOLE_FRUIT = 0.6
"""
So much of whole fruit comes into the pot at least; the rest is skins, cores and stones.

Common practice, no source. [1]
"""

KEPT_BACK, BROKE = "kept in pot and foam", "broken"
BOILED_AWAY = "boiled away"
OR_SKINS = "boiled away, or left as skins, cores and stones"
OVER = "more than went in: jars are counted as full"
WHO = (
    "balance of masses: densities of the book, 65 % soluble solids of a jelly or jam "
    f"(21 CFR 150), {HELD_BACK:.0%} kept in pot and foam (common practice, no source)"
)

LEAST_SAID_MG = 50_000
"""Less than this is nothing where a tenth of a kilogram is the last figure."""
_NOT_FOOD = (Kind.JARS, Kind.LIDS)


@dataclass(frozen=True, slots=True)
class Weighed:
    """Some of a lot, or a loss, with its mass."""

    name: str
    mass_mg: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Balance:
    """Inputs and what became of them; ``sum(inputs) == out + sum(losses)``. [mg]"""

    inputs: tuple[Weighed, ...]
    not_weighed: tuple[str, ...]
    """Inputs whose mass nobody knows; the sum is short by them."""
    out: Weighed
    losses: tuple[Weighed, ...]
    """The one named `OVER` alone is below zero."""
    remark: str
    """What cannot be, or is unusual; empty where nothing is."""

    @property
    def in_mg(self) -> int:
        """What went in, as far as it is known. [mg]"""
        return sum(each.mass_mg for each in self.inputs)

    @property
    def sentence(self) -> str:
        """
        The balance in one sentence.

        >>> away = Weighed("boiled away", 500_000)
        >>> Balance(inputs=(Weighed("sugar", 2_000_000),), not_weighed=(),
        ...     out=Weighed("jars", 1_500_000), losses=(away,), remark="").sentence
        '2.0 kg in, 1.5 kg out; 0.5 kg boiled away'
        >>> over = Weighed("more than went in", -40_000)
        >>> Balance(inputs=(Weighed("sugar", 1_830_000),), not_weighed=(),
        ...     out=Weighed("jars", 1_870_000), losses=(over,), remark="").sentence
        '1.83 kg in, 1.87 kg out; 0.04 kg more than went in'
        """
        least = min((abs(loss.mass_mg) for loss in self.losses), default=LEAST_SAID_MG)
        digits = 1 if least >= LEAST_SAID_MG else 2  # of "0.0 kg" nobody is told
        said = f"{_kg(self.in_mg, digits)} in, {_kg(self.out.mass_mg, digits)} out"
        lost = [f"{_kg(abs(loss.mass_mg), digits)} {loss.name}" for loss in self.losses]
        if lost:
            said += "; " + ", ".join(lost)
        if self.not_weighed:
            said += "; not weighed: " + ", ".join(self.not_weighed)
        return said


def _kg(mass_mg: int, digits: int = 1) -> str:
    return f"{mass_mg / 1e6:.{digits}f} kg"


def balance_of(stock: Stock, code: str) -> Balance | Refusal:
    """Return the balance of a lot that was made here, or why there is none."""
    made = stock.made(code)
    if made is None:
        return _none("it was not made here, so nothing went into it")
    inputs: list[Weighed] = []
    unknown: list[str] = []
    solids_mg, whole_fruit = 0.0, False
    for part in made.inputs:
        lot = stock.lots[part.lot]
        if lot.kind in _NOT_FOOD:
            continue
        mass = mass_mg(lot.what, lot.measure, part.number)
        if mass is None:
            unknown.append(f"{lot.measure.words(part.number)} {lot.what}")
        else:
            inputs.append(Weighed(lot.what, mass))
            whole = _is_whole_fruit(lot)
            whole_fruit |= whole
            solids_mg += mass * _solids(lot) * (WHOLE_FRUIT if whole else 1.0)
    if made.batch.unbooked:
        unknown.append(made.batch.unbooked)
    if not inputs:
        return _none("nothing that went into it was booked by weight or volume")
    each = _each_mg(made)
    if each is None:
        return _none(
            f"what {made.lot.measure.words(1)} of it weighs is not in the book"
        )
    out = each * made.number
    broken = each * made.batch.broken
    lost = sum(i.mass_mg for i in inputs) - out - broken
    kept_mg = (out + broken) * _end_solids(made)
    return Balance(
        inputs=tuple(inputs),
        not_weighed=tuple(unknown),
        out=Weighed(made.lot.measure.words(made.number), out),
        losses=_losses(lost, broken, sum(i.mass_mg for i in inputs), whole_fruit),
        remark=_gained(-lost, each, out, bool(unknown)) or _missing(solids_mg, kept_mg),
    )


def mass_mg(what: str, measure: Measure, number: int) -> int | None:
    """
    Return the mass of so much of a thing; `None` where nobody knows it. [mg]

    >>> mass_mg("sugar", Measure(unit=Unit.UL), 236_588)  # a cup of it
    200000
    >>> mass_mg("regular powdered pectin", Measure(unit=Unit.PIECES, part="box"), 2)
    99200
    """
    if measure.unit is Unit.MG:
        return number
    if measure.unit is Unit.UL:
        density = density_kg_m3(what)
        return None if density is None else round(number * density / 1000)
    known = ingredient_named(what)
    if isinstance(known, Refusal) or known.each_kg is None:
        return None
    return round(number * known.each_kg * 1e6)


def _each_mg(made: Made) -> int | None:
    """What one unit of what was made weighs: a jar, a microlitre, a milligram."""
    measure = made.lot.measure
    if measure.unit is not Unit.PIECES:
        whole = mass_mg(made.lot.what, measure, 10**9)
        return None if whole is None else max(1, round(whole / 10**9))
    volume = jar_volume_m3(measure.part) if measure.part else None
    solids = _end_solids(made)
    if volume is None or isinstance(volume, Refusal):
        return None
    if solids:
        density = float(syrup.density_kg_m3(solids, ROOM_K))
    else:
        found = density_kg_m3(made.lot.what)
        if found is None:
            return None
        density = found
    return round(volume * density * 1e6)


def _end_solids(made: Made) -> float:
    """Soluble solids of what is in the jars; 0 where they are not known. [1]"""
    food = made.batch.food or product_kind(made.lot.what)
    if food in SETS:
        return JAM_SOLIDS
    return BUTTER_SOLIDS if food == "butter" else 0.0


def _solids(lot: Lot) -> float:
    """Soluble solids of an input. [1]"""
    if lot.what == "water":
        return 0.0
    known = ingredient_named(lot.what)
    if not isinstance(known, Refusal) and known.role in ("sugar", "pectin"):
        return 1.0
    fruit = lot.what.removesuffix(" juice").removesuffix(" pulp")
    found = soluble_solids(fruit)
    return UNKNOWN_SOLIDS if isinstance(found, Refusal) else found.likely


def _is_whole_fruit(lot: Lot) -> bool:
    """Whether it is fruit by weight, as it was picked."""
    if lot.measure.unit is not Unit.MG or lot.what.endswith((" juice", " pulp")):
        return False
    known = ingredient_named(lot.what)
    return not isinstance(known, Refusal) and known.role == "fruit"


def _losses(
    lost: int, broken: int, in_mg: int, whole_fruit: bool
) -> tuple[Weighed, ...]:
    """Name what is missing; the names add up to it, to the milligram."""
    if lost < 0:
        named = [Weighed(BROKE, broken), Weighed(OVER, lost)]
    else:
        kept_back = min(round(HELD_BACK * in_mg), lost)
        rest = OR_SKINS if whole_fruit else BOILED_AWAY
        named = [
            Weighed(BROKE, broken),
            Weighed(KEPT_BACK, kept_back),
            Weighed(rest, lost - kept_back),
        ]
    return tuple(loss for loss in named if loss.mass_mg)


def _gained(over: int, each_mg: int, out_mg: int, short: bool) -> str:
    """Say where more came out than cups, scales and a part jar explain."""
    if short or over <= max(PART_JAR * each_mg, GAINED_MOST * out_mg):
        return ""
    return (
        f"more came out than went in, by {kitchen_mass(over / 1e6)}: was something "
        "that went in not booked, or a jar counted twice?"
    )


def _missing(solids_mg: float, kept_mg: float) -> str:
    """Say where solids are missing, which do not boil away."""
    if not kept_mg or kept_mg >= solids_mg * (1 - SOLIDS_LOST_MOST):
        return ""
    return (
        f"{1 - kept_mg / solids_mg:.0%} of the solids of sugar and fruit are in no "
        "jar, and they do not boil away: was a jar not counted, or something spilt?"
    )


def _none(why: str) -> Refusal:
    return Refusal(
        f"there is no balance of masses: {why}",
        instead="book what goes into a batch with its weight or its volume",
        source=WHO,
    )
