"""The rest of a day as solver variables, and what a search makes of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.people import Guards
from stillroom.planning.cpsat.variables import DayModel, Expr
from stillroom.planning.problem import Limit
from stillroom.planning.timetable import PlacedLoad, Timetable

LONGER_DAY_MIN = 240
"""How much longer than planned a slipping day may get."""


@dataclass(frozen=True, slots=True)
class OfOld:
    """A decision, and what it was in the old plan."""

    var: cp_model.IntVar
    put_off: int
    """Its value where the old order is put off."""
    was: int | None = None
    """Its value in the old plan; `None` where nobody minds whether it is kept."""
    at_min: int = 0
    """When what it decides began in the old plan. [min]"""
    is_time: bool = False
    """Whether it is a minute, and no choice."""


@dataclass(slots=True)
class Running:
    """A load that has begun, and who lifts it when."""

    load: PlacedLoad
    lift: Expr | int
    by: dict[str, cp_model.IntVar]
    """Empty where the hands are on it already."""


@dataclass(frozen=True, slots=True)
class Slip:
    """Where an old plan cannot be kept."""

    since_min: int
    """When the first thing began in it that has to be put off. [min]"""
    late_min: int
    """By how much what is running ends later than it said. [min]"""
    away: tuple[tuple[int, int], ...] = ()
    """When somebody is away after that, whom it puts to trouble."""


@dataclass(slots=True)
class RestModel:
    """The model of the rest of a day."""

    day: DayModel
    guards: Guards
    running: list[Running] = field(default_factory=list)
    before: dict[str, PlacedLoad] = field(default_factory=dict)
    """The last load of each canner that has begun."""
    points: list[Expr] = field(default_factory=list)
    overtime: cp_model.IntVar | None = None
    waits: list[tuple[Limit, cp_model.IntVar]] = field(default_factory=list)
    """Longest waits and latest hours that may give way, and by how many minutes."""
    lifts: list[tuple[str, cp_model.IntVar]] = field(default_factory=list)
    """Loads that may be lifted out too late, and by how many minutes."""
    rests: list[tuple[str, cp_model.IntVar]] = field(default_factory=list)
    """People who may rest later than was meant, and by how many minutes."""
    of_old: list[OfOld] = field(default_factory=list)
    """The old order."""
    slip: Slip | None = None
    """Where the old plan cannot be kept; `None` where all of it can."""
    loose: tuple[set[int], ...] = ()
    """
    Indices of decisions that may be left open, in the order in which they are: when
    loads go in and out, who lifts what runs and when, when all else begins.
    """

    def decisions(self) -> list[cp_model.IntVar]:
        """When all begins and in whose hands; all else follows from these."""
        day = self.day
        found = [v for line in day.starts.values() for v in line]
        found += [v for line in day.breaks.values() for v in line]
        for hands in day.hands:
            found += hands.by.values()
        for slot in day.all_slots():
            found += [slot.present, slot.lower, slot.lift, slot.heat]
            found += [slot.hot, slot.stays]
            found += [*slot.jars.values(), *slot.kind.values()]
            found += [*slot.lowered_by.values(), *slot.lifted_by.values()]
        for running in self.running:
            if isinstance(running.lift, cp_model.IntVar):
                found.append(running.lift)
        return found

    @property
    def over(self) -> list[cp_model.IntVar]:
        """Minutes of each limit that may give way, but for the end of the day."""
        waits = [over for _, over in self.waits]
        return [*waits, *(over for _, over in (*self.lifts, *self.rests))]

    @property
    def goal(self) -> Expr:
        """What is made small."""
        return cp_model.LinearExpr.sum(self.points)

    @property
    def gives_way(self) -> Expr:
        """Minutes and places by which anything gives way."""
        assert self.overtime is not None
        assert self.guards.more_places is not None
        stays = self.guards.stays_on.values()
        return cp_model.LinearExpr.sum(
            [*self.over, *stays, self.overtime, self.guards.more_places]
        )


@dataclass(frozen=True, slots=True)
class OldOrder:
    """What the day would come to with its old order put off."""

    finish_min: int
    score: int
    """Finish plus points of lateness."""
    gives_way: int
    """Minutes and places, summed, by which anything gives way."""


@dataclass(frozen=True, slots=True)
class RestPlan:
    """A plan for the rest of the day, in the names of the residual problem."""

    timetable: Timetable
    """Open steps, the running ones from now on, and loads still to come."""
    lifts: dict[str, tuple[int, str | None]]
    """Load that has begun to the minute it is lifted, and by whom if that is open."""
    hot_after: dict[str, int]
    """Load that has begun to the minute until which its fire is kept on."""
    waits: Mapping[Limit, int]
    """Longest waits and latest hours that give way, and by how much. [min]"""
    lifted_late: Mapping[str, int]
    """Loads that are lifted out too late, and by how much. [min]"""
    rests_late: Mapping[str, int]
    """People who rest later than was meant, and by how much. [min]"""
    places: int
    """More places on the counter than there are."""
    proven: bool
    old_order: OldOrder | None
    """`None` where that order cannot be worked at all."""
