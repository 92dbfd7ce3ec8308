"""
A batch written out once for the many plans that are made by turns: the words for it.

People, burners, pots and processes go by their position in the day. Chains are those of
`network`, and between them the lags closed under their longest paths.
"""

from __future__ import annotations

from dataclasses import dataclass

POT, MILL = KINDS = (0, 1)
FAR = 10**6
"""More minutes than any day has."""


@dataclass(frozen=True, slots=True)
class Work:
    """Steps of a chain that one person does: one step, or those of the same hands."""

    people: tuple[int, ...]
    """Who can; those with the fewest skills first."""
    word: str
    """Steps of other chains with the same word go to the same person; or empty."""
    spans: tuple[tuple[int, int, int], ...]
    """(offset from the chain's start, minutes, quarters), touching ones together."""
    steps: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Burning:
    """Steps of a chain on one fire."""

    start: int
    end: int
    in_pot: bool
    burners: tuple[int, ...]
    """Strong enough; those that no canner covers first, the weakest of them first."""
    steps: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Link:
    """What a chain keeps from another: start - start is ``least`` to ``most``."""

    other: int
    least: int
    most: int


@dataclass(frozen=True, slots=True)
class Piece:
    """A chain of a batch."""

    length: int
    works: tuple[Work, ...]
    fires: tuple[Burning, ...]
    low: int
    high: int
    """Earliest and latest start by the links and windows alone."""
    held: tuple[tuple[int, int] | None, ...]
    """For pot and mill, offsets of its first minute in it and its last."""
    links: tuple[Link, ...]
    """To every chain that it is tied to."""
    idle: bool
    """It takes no hands, pot or mill, and something waits for it: as late as fits."""


@dataclass(frozen=True, slots=True)
class Part:
    """Chains of a batch that are placed together."""

    order: tuple[int, ...]
    """In the order in which they are placed: the pot's longest first."""
    branches: tuple[tuple[int, int, int, int], ...]
    """(chain, the one it hangs on, least, most), leaves first."""
    held: tuple[tuple[tuple[int, int, int], ...], ...]
    """For pot and mill, chains there: (chain, first minute in it, least to last)."""


@dataclass(frozen=True, slots=True)
class Made:
    """How a batch is made."""

    pieces: tuple[Piece, ...]
    whole: Part
    """All but the washes."""
    cuts: tuple[tuple[Part, Part], ...]
    """What of it may be begun long before the rest, and that rest, in all ways."""
    tools: tuple[tuple[int, ...], ...]
    """Pots it may be made in, its first size first, and mills; empty: it needs none."""
    wash: tuple[int | None, ...]
    """For both, the chain that is its wash and nothing else, which may come later."""
    rinse: tuple[int | None, ...]
    """How long a rinse takes in place of the wash. [min]"""
    closes: tuple[tuple[int, int], ...]
    """(chain, offset) of the ends of the steps after which its goods are closed."""
    process: int | None
    jars: int
    wait: int
    contents: str
