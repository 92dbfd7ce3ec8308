"""
What a batch used up, drawn from the stock; pure.

The lot that the plan named goes first, and then first expired, first out.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from stillroom.book.densities import density_kg_m3
from stillroom.book.limits import ingredient_named
from stillroom.methods.portions import HAIR
from stillroom.planning.which_batches.names_on_shelf import same_thing
from stillroom.refusal import Refusal
from stillroom.stock.amounts import Measure, Unit
from stillroom.stock.commands import Need
from stillroom.stock.events import SET_ASIDE, Kind, Part
from stillroom.stock.fold import Stock
from stillroom.stock.on_hand import OnHand, on_hand
from stillroom.stock.unknown_process import is_process_unknown


@dataclass(slots=True)
class Drawing:
    """Draws batch after batch on the same stock, so that nothing is drawn twice."""

    stock: Stock
    _rows: tuple[OnHand, ...] = ()
    _left: dict[tuple[str, str], int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Look once at what is there."""
        stock = self.stock
        codes = [
            code
            for code in stock.on_hand()
            if stock.lots[code].kind is not Kind.FILLED
            and not is_process_unknown(stock, code)
        ]
        self._rows = tuple(
            row for row in on_hand(stock, codes) if row.place != SET_ASIDE
        )
        self._left = {(r.lot.code, r.place): max(0, r.number) for r in self._rows}

    def draw(self, needs: Iterable[Need]) -> tuple[tuple[Part, ...], tuple[Need, ...]]:
        """
        Return what is taken for the needs of one batch, and what was not there.

        A need in another measure than the lot is converted by the book's density of
        the thing; where it has none, the lot is left alone.
        """
        parts: list[Part] = []
        lacking: dict[tuple[str, Unit], Need] = {}
        for need in needs:
            missing = need.number
            for row in sorted(self._rows, key=lambda row: row.lot.code != need.lot):
                if self._is_out_of_reach(row, need):
                    continue
                if missing and same_thing(row.lot.what, need.name):
                    taken, served = self._take(row, need, missing)
                    if taken:
                        parts.append(
                            Part(lot=row.lot.code, place=row.place, number=taken)
                        )
                        missing -= served
            hair = 0 if need.unit is Unit.PIECES else HAIR * need.number
            if missing > hair:  # a measure that was rounded lacks nothing
                key = (need.name, need.unit)
                before = lacking[key].number if key in lacking else 0
                lacking[key] = Need(
                    name=need.name, unit=need.unit, number=before + missing
                )
        return _together(parts), tuple(lacking.values())

    def _is_out_of_reach(self, row: OnHand, need: Need) -> bool:
        """Whether it was recalled; what was named had gone in before that was known."""
        return row.lot.code != need.lot and self.stock.recall(row.lot.code) is not None

    def _take(self, row: OnHand, need: Need, missing: int) -> tuple[int, int]:
        """Take from one lot: (in its own unit, in that of the need)."""
        key, measure = (row.lot.code, row.place), row.lot.measure
        there = self._left[key]
        each = per_unit(need.name, measure.unit, need.unit)
        if not there or each is None:
            return 0, 0
        wanted = min(there, max(1, round(missing / each)))
        if measure.is_crumb(there - wanted, of=wanted):
            wanted = there
        self._left[key] = there - wanted
        served = missing if wanted < there else min(missing, round(wanted * each))
        return wanted, served


def per_unit(name: str, lot: Unit, need: Unit) -> float | None:
    """
    Return how much of a need one unit of a lot serves; `None` where that is not known.

    >>> per_unit("sugar", Unit.MG, Unit.MG)
    1.0

    A bag of pectin serves as boxes of their printed weight.

    >>> round(99_200 * per_unit("regular powdered pectin", Unit.MG, Unit.PIECES), 6)
    2.0
    """
    if lot is need:
        return 1.0
    if need is Unit.PIECES and lot is Unit.MG:
        known = ingredient_named(name)
        each_kg = None if isinstance(known, Refusal) else known.each_kg
        return None if each_kg is None else 1 / (each_kg * 1e6)
    if Unit.PIECES in (lot, need):
        return None
    density = density_kg_m3(name)
    if density is None:
        return None
    # 1 ul of water is 1 mg: a density of 1000 kg/m3 makes one of the other.
    return density / 1000 if lot is Unit.UL else 1000 / density


def needed_words(need: Need) -> str:
    """
    Say a need: "3 lb 5 oz (1.5 kg) of sugar".

    >>> needed_words(Need(name="lids", unit=Unit.PIECES, number=8))
    '8 lids'
    >>> needed_words(Need(name="regular powdered pectin", unit=Unit.PIECES, number=1))
    '1 package of regular powdered pectin'
    """
    part = "package" if need.unit is Unit.PIECES and "pectin" in need.name else ""
    return Measure(unit=need.unit, part=part).of(need.number, need.name)


def _together(parts: list[Part]) -> tuple[Part, ...]:
    """One part for each lot and place."""
    sums: dict[tuple[str, str], int] = {}
    for part in parts:
        key = (part.lot, part.place)
        sums[key] = sums.get(key, 0) + part.number
    return tuple(Part(lot=c, place=p, number=n) for (c, p), n in sums.items())
