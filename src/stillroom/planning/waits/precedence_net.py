"""The network of a plan as values: nodes, arcs, floors, and groups of nodes."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

LANES = 4
"""A person has four lanes, one a quarter."""


class Part(StrEnum):
    """What a node is a part of the day as."""

    STEP = "step"
    BREAK = "break"
    AWAY = "away"
    TAKEN = "taken"
    HEAT = "heat"
    LOWER = "lower"
    COME_UP = "come up"
    PROCESS = "process"
    REST = "rest"
    LIFT = "lift"


NO_WORK = (Part.BREAK, Part.AWAY, Part.TAKEN)
"""Of nobody's batch: somebody rests or is away, or a burner is somebody else's."""


class Tie(StrEnum):
    """Why one node waits for another."""

    LINK = "link"
    JARS = "jars"
    PERSON = "person"
    POT = "pot"
    MILL = "mill"
    BURNER = "burner"
    CANNER = "canner"


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """One thing that takes time."""

    part: Part
    of: str
    """Batch, load, person, or burner."""
    step: str
    """Step id; else the same as ``part``."""
    start_min: int
    end_min: int
    person: str | None = None
    quarters: int = 0

    @property
    def planned_min(self) -> int:
        """How long it is planned to take. [min]"""
        return self.end_min - self.start_min

    @property
    def is_work(self) -> bool:
        """Whether the day is over only after it."""
        return self.part not in NO_WORK


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """``after`` starts at least ``lag_min`` after ``before`` ends."""

    before: int
    after: int
    lag_min: int
    tie: Tie
    what: str
    """The resource by its name, or why a link holds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """A node does not start before a minute of the clock."""

    node: int
    minute: int
    what: str
    """Why, in words that a clock time ends."""


@dataclass(slots=True)
class Precedence:
    """The network of a plan. Nodes are numbered; so are groups."""

    nodes: list[Node] = field(default_factory=list)
    group_of: list[int] = field(default_factory=list)
    offset: list[int] = field(default_factory=list)
    """Planned start of a node after the start of its group. [min]"""
    members: list[list[int]] = field(default_factory=list)
    """Nodes of each group, by offset."""
    arcs: list[Arc] = field(default_factory=list)
    """Arcs between groups that the day is run by."""
    inner: list[Arc] = field(default_factory=list)
    """Arcs within groups: the next one follows at once."""
    dropped: list[Arc] = field(default_factory=list)
    """Orders that would make a group wait for itself; where they fail is counted."""
    floors: list[Floor] = field(default_factory=list)
    order: list[int] = field(default_factory=list)
    """Groups, each after all that it waits for."""
    number: dict[tuple[str, str], int] = field(default_factory=dict)
    """(batch, step) or (load, part) to its node."""

    def group_start_min(self, group: int) -> int:
        """Planned start of a group. [min]"""
        return self.nodes[self.members[group][0]].start_min
