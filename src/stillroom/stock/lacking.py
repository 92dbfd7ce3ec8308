"""
What was not said of jars when they were booked, so that no book can tell what is due.

The height, the pack, the size of the jar, which of several products of one name, the
gauge: each may be added later. What was said stays, and is taken back if it was wrong.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import product as every

from stillroom.book.acid_foods import may_mean
from stillroom.book.jars import jar_volume_m3
from stillroom.book.names import canner_named
from stillroom.book.never import never_ways
from stillroom.book.process_table import JARS
from stillroom.book.processes import METHODS, process_for
from stillroom.book.words import holds, tokens
from stillroom.in_a_list import all_of
from stillroom.refusal import Refusal
from stillroom.stock.amounts import Measure, Unit
from stillroom.stock.due import PACKS, due_process, is_jar
from stillroom.stock.events import Kind, Made
from stillroom.stock.fold import Stock
from stillroom.stock.lacks import canner_of
from stillroom.stock.lotcode import printed

_HAIR = 1e-4
"""Of 1: what millilitres that were rounded may differ by."""
_OPEN = frozenset(
    {"water", "waterbath", "bath", "boiling", "boil", "hot", "pot", "stockpot"}
    | {"kettle", "pan", "enamel", "granite", "wb", "bwb", "steam"}
)
"""Words of what holds no pressure."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lacking:
    """What may still be said of a lot; what was said is empty here."""

    height: bool
    packs: tuple[str, ...]
    jars: tuple[str, ...]
    names: tuple[str, ...]
    """Products of the book that its name may mean."""
    canners: tuple[str, ...]

    @property
    def words(self) -> str:
        """In a list: "its height above the sea and its pack"."""
        said = (
            ("its height above the sea", self.height),
            ("which of them it is", self.names),
            ("its jar", self.jars),
            ("its canner and gauge", self.canners),
            ("its pack", self.packs),
        )
        return all_of(words for words, lacks in said if lacks)

    @property
    def options(self) -> str:
        """How it is said at the command line."""
        said = (
            ("--elevation HEIGHT", self.height),
            ("--which NAME", self.names),
            ("--jar SIZE", self.jars),
            ("--canner CANNER", self.canners),
            ("--pack PACK", self.packs),
        )
        return " ".join(option for option, lacks in said if lacks)


def lacking(stock: Stock, code: str) -> Lacking | None:
    """
    Return what was not said of a lot whose due process is not known for that.

    `None` where the process that is due is known, and where nothing that could be
    added leads to a published one.
    """
    made, lot = stock.made(code), stock.lots[code]
    if made is None or lot.kind is not Kind.FILLED or not made.batch.canned:
        return None
    if made.batch.due_min is not None:
        return None
    found = lacking_of(stock, code, made)
    names = found.names or (lot.what,)
    jars = found.jars or (lot.measure.part,)
    canners = found.canners or (canner_of(stock, code) or METHODS[0],)
    packs = found.packs or (made.batch.pack,)
    if not _any_published(names, jars, canners, packs, made.batch.elevation_ft):
        return None
    if len(_packs_asked(names, jars, canners)) < 2:
        return _without_packs(found)
    return found


def what_to_say(stock: Stock, code: str) -> str:
    """Say how what was not said of a lot is added; empty where that helps nothing."""
    found = lacking(stock, code)
    if found is None:
        return ""
    return f"; add {found.words} with stillroom stock complete {printed(code)}"


def how_it_is_said(stock: Stock, code: str) -> str:
    """Say what makes the due process of a lot known, in an imperative."""
    found = lacking(stock, code)
    if found is None:
        return (
            "take its entry back with stillroom stock mend, and book it anew under "
            "its name in the book, with its canner and gauge"
        )
    return (
        f"add {found.words}: stillroom stock complete {printed(code)} {found.options}"
    )


def lacking_of(stock: Stock, code: str, made: Made) -> Lacking:
    """Return what was not said of a lot, whether or not it is asked for."""
    batch, lot = made.batch, stock.lots[code]
    return Lacking(
        height=batch.elevation_ft is None,
        packs=() if batch.pack else PACKS,
        jars=_jars_meant(lot.measure),
        names=may_mean(lot.what),
        canners=() if batch.run else _canners_meant(canner_of(stock, code)),
    )


def _jars_meant(measure: Measure) -> tuple[str, ...]:
    """
    Return the jars that may be meant: none where the size was said, or it is no jar.

    What each holds was said too: no smaller jar holds that.
    """
    if is_jar(measure.part) or measure.part not in ("", "jar"):
        return ()
    if measure.unit is not Unit.UL or not measure.each:
        return JARS
    each_m3 = measure.each * 1e-9 * (1 - _HAIR)
    sizes = {jar: jar_volume_m3(jar) for jar in JARS}
    return tuple(
        jar
        for jar, holds_m3 in sizes.items()
        if not isinstance(holds_m3, Refusal) and holds_m3 >= each_m3
    )


def _without_packs(found: Lacking) -> Lacking | None:
    """Return the same without the pack; `None` where nothing else lacks."""
    rest = Lacking(
        height=found.height,
        packs=(),
        jars=found.jars,
        names=found.names,
        canners=found.canners,
    )
    return rest if rest.options else None


def _canners_meant(canner: str) -> tuple[str, ...]:
    """
    Return the canners of the book that a name of the keeper's own may mean.

    None where it is one of them, and where it is no canner at all.
    """
    if not isinstance(canner_named(canner or METHODS[0]), Refusal):
        return ()
    words = tokens(canner)
    if any(holds(words, p) for never in never_ways() for p in never.phrases):
        return ()
    if "pressure" in words:
        return METHODS[1:]
    # Who said that it was water, or a pot, did not say that it was under pressure.
    return METHODS[:1] if _OPEN & set(words) else METHODS


@lru_cache(maxsize=256)
def _any_published(
    names: tuple[str, ...],
    jars: tuple[str, ...],
    canners: tuple[str, ...],
    packs: tuple[str, ...],
    elevation_ft: int | None,
) -> bool:
    height = 0.0 if elevation_ft is None else float(elevation_ft)
    return any(
        due_process(
            name, jar, elevation_ft=height, canner=canner, pack=pack or None
        ).minutes
        is not None
        for name, jar, canner, pack in every(names, jars, canners, (*packs, ""))
    )


@lru_cache(maxsize=256)
def _packs_asked(
    names: tuple[str, ...], jars: tuple[str, ...], canners: tuple[str, ...]
) -> frozenset[str]:
    """Return the packs that the book has a process for, in any of these ways."""
    return frozenset(
        pack
        for name, jar, canner, pack in every(names, jars, canners, PACKS)
        if not isinstance(
            process_for(name, jar=jar, elevation_ft=0.0, canner=canner, pack=pack),
            Refusal,
        )
    )
