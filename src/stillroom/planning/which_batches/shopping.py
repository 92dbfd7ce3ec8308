"""What a day needs more of than the shelf has, and how far the shelf goes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from stillroom.in_a_list import all_of, any_of
from stillroom.jar_count import jars_said
from stillroom.methods.jars import to_spare
from stillroom.methods.learned import Share
from stillroom.methods.method import Material
from stillroom.planning.dayplan import Draw, Purchase
from stillroom.planning.which_batches.names_on_shelf import VINEGAR
from stillroom.planning.which_batches.shelf import (
    Shelf,
    amount,
    to_fetch,
    words_for,
)

LIDS = "lids"
_COUNT = "count"


@dataclass(slots=True)
class Need:
    """One material over the whole day, in the one measure that it is asked for in."""

    material: Material
    need: float = 0.0
    missing: float = 0.0
    users: int = 0
    """Batches that take some of it."""
    served: int = 0
    """Batches that what there is suffices for, what keeps least first."""
    unmeasured: tuple[str, ...] = ()
    """Lots of it that are kept in another measure than it is asked for."""
    unclear: tuple[str, ...] = ()
    """Names on the shelf that may mean it, or another thing."""


class Shopping:
    """Draws batch after batch from the shelf, and keeps what was not there."""

    def __init__(self, shelf: Shelf, seals: Share | None = None) -> None:
        self._shelf = shelf
        self._seals = seals
        self._needs: dict[tuple[str, str], Need] = {}
        """By name and measure: two onions and 8 cups of sliced ones are no sum."""

    def draw(self, materials: Iterable[Material]) -> list[Draw]:
        """Draw what one batch takes besides its base."""
        draws: list[Draw] = []
        for material in materials:
            key = (material.name, _measure(material))
            need = self._needs.setdefault(key, Need(material))
            drawn, lacking = self._shelf.draw(material)
            draws += drawn
            need.need += amount(material)
            need.missing += lacking
            need.users += 1
            other = self._shelf.in_other_measures(material)
            need.unmeasured = tuple(held.lot.name for held in other)
            unclear = self._shelf.unclear(material)
            need.unclear = tuple(dict.fromkeys(held.lot.what for held in unclear))
            if not need.missing:
                need.served += 1
        return draws

    def list(self) -> list[Purchase]:
        """Return what is to be bought; lids to spare are counted for the whole day."""
        self._spare_lids()
        return [
            _purchase(need, self._seals, metric=self._shelf.metric)
            for need in self._needs.values()
            if need.missing or (need.material.said and not need.unmeasured)
        ]

    def _spare_lids(self) -> None:
        """
        One lid in twenty does not seal: set out so many more.

        Where her own seals were learned: enough on nineteen days in twenty.
        """
        lids = self._needs.get((LIDS, _COUNT))
        if lids is None:
            return
        jars = round(lids.need)
        spare = to_spare(jars, self._seals)
        _, lacking = self._shelf.draw(Material(name=LIDS, count=spare))
        lids.need += spare
        lids.missing += lacking


def _measure(material: Material) -> str:
    """Name the measure that a material is asked for in."""
    if material.said:
        return "said"
    if material.volume_m3 is not None:
        return "volume"
    return "mass" if material.mass_kg is not None else _COUNT


def _purchase(need: Need, seals: Share | None, *, metric: bool) -> Purchase:
    material = need.material
    if material.said:
        return Purchase(
            name=material.name,
            need="some",
            have="none",
            buy="some",
            why=f"{material.said}; no amount for a jar is printed",
        )
    needed = words_for(material, need.need, metric=metric)
    have = words_for(material, need.need - need.missing, metric=metric)
    if have == needed:
        have = f"just under {have}"  # what lacks is less than a spoon can say
    if need.need <= need.missing:
        have = "some" if need.unmeasured else "none"
    return Purchase(
        name=material.name,
        need=needed,
        have=have,
        buy=to_fetch(material, need.missing, metric=metric),
        why=_how_far(need) + _or_else(material)
        if seals is None or material.name != LIDS
        else f"with spare ones by your own seals of {jars_said(seals.jars)}",
    )


def _or_else(material: Material) -> str:
    """
    Name what will do in place of a thing that is short.

    >>> _or_else(Material(name="bottled lemon juice", instead=("citric acid",)))
    '; citric acid will do in its place'
    """
    return f"; {any_of(material.instead)} will do in its place" * bool(material.instead)


def _how_far(need: Need) -> str:
    """
    Say how many batches what there is serves: she may make fewer instead of buying.

    >>> _how_far(Need(Material(name="sugar", mass_kg=1.0), users=5, served=4))
    'there is enough for 4 of the 5 batches that take it'
    >>> _how_far(Need(Material(name="nutmeg", count=1), unmeasured=("nutmeg, 50 g",)))
    'nutmeg, 50 g: on the shelf in another measure, so see whether it is enough'
    """
    meant = all_of(f'"{name}"' for name in need.unclear)
    if need.unclear and VINEGAR in need.material.name:
        return (
            f"{meant} on the shelf may be weaker: read its label, and of 5 % write "
            f'it as "{need.unclear[0]} 5%"'
        )
    if need.unclear:
        return (
            f"{meant} on the shelf may be powdered, liquid or low-methoxyl pectin: "
            f'write which it is; as "{need.material.name}" it counts'
        )
    if need.unmeasured:
        return (
            f"{all_of(need.unmeasured)}: on the shelf in another measure, so see "
            "whether it is enough"
        )
    if need.served == need.users:
        return "one in twenty to spare"
    batches = "batch" if need.users == 1 else "batches"
    if need.served == 0 and need.users == 1:
        return "not enough for the batch that takes it"
    if need.served == 0:
        return f"not enough for any of the {need.users} {batches} that take it"
    return (
        f"there is enough for {need.served} of the {need.users} {batches} that take it"
    )
