"""A chain of reasons: what a thing waited for, and what that waited for in turn."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Because:
    """One thing, and what it waits for."""

    what: str
    """The thing in words: "fill the jars (plum jelly 2)"."""
    batch: str
    """Batch or load that it is part of; empty for a break, or a burner taken."""
    start_min: int
    held_by: str
    """``link``, ``person``, ``pot``, ``mill``, ``burner``, ``canner``, ``jars``,
    ``break``, ``limit``, ``counter``, ``arrival``, ``ready``,
    ``day``."""
    resource: str
    """Its name; empty for a link."""
    sentence: str
    spare_min: int
    """Minutes that it could have begun earlier, all that it waits for moved up too."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Why:
    """A chain of reasons, from the asked thing back to the morning."""

    asked: str
    start_min: int
    end_min: int
    """When what was asked for is done. [min]"""
    chain: tuple[Because, ...]

    def minutes_by_resource(self) -> dict[tuple[str, str], int]:
        """
        Minutes to the end of the chain, by kind and name of what they are waited for.

        Each minute counts once: a chain may step forward in time, to what holds a
        thing from behind, and what it then walks back over was counted before.
        All minutes of a batch that keeps a pot or a person from the next thing belong
        to that pot or person; those that nothing else waits for are the batch's own.
        """
        held: dict[tuple[str, str], int] = {}
        key = ("link", "")
        reached_min = self.chain[0].start_min if self.chain else self.end_min
        held[key] = self.end_min - reached_min
        begins = [link.start_min for link in self.chain[1:]] + [0]
        for link, before_min in zip(self.chain, begins, strict=False):
            if link.held_by == "jars":
                key = ("link", "")
            elif link.held_by not in ("link", "limit", "day"):
                key = (link.held_by, link.resource)
            minutes = max(0, reached_min - before_min)
            held[key] = held.get(key, 0) + minutes
            reached_min -= minutes
        return held

    @property
    def told(self) -> tuple[Because, ...]:
        """The chain without the steps that merely follow their own batch."""
        return self.chain[:1] + tuple(b for b in self.chain[1:] if b.held_by != "link")


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """One thing that a node may have waited for."""

    minute: int
    """Earliest start of the node's group that this allows. [min]"""
    rank: int
    node: int | None
    kind: str
    resource: str
    sentence: str
    after: int | None = None
    """The node that it holds, where that is another of the same group."""
    only_order: bool = False
    """An order of work alone: whoever does both had hands enough for them at once."""
