"""The answer: steps, loads and breaks with their minutes, and who does them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import count

from stillroom.planning.problem import Problem
from stillroom.planning.way_changes import Changes

BY_HAND = "this is the plan by hand"
"""How a remark ends where there was no time for a search."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedStep:
    """A step with its minutes, its hands and its tools."""

    batch: str
    step: str
    start_min: int
    end_min: int
    person: str | None
    """`None` where the step needs nobody."""
    quarters: int
    pot: str | None = None
    burner: str | None = None
    mill: int | None = None
    rinsed: bool = False
    """A wash that is only a rinse: the same product goes in next."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedLoad:
    """
    The jars that share one canner run.

    Heating from ``heat_min`` (first load, or after the water has cooled), lowering from
    ``lower_min`` to ``lowered_min``, full boil at ``boil_min``: the clock starts.
    ``done_min`` is its end, lifting out goes from ``lift_min`` to ``out_min``.
    The fire is held from ``heat_min`` to ``fire_free_min``; nothing else can stand
    there before the jars are out, though the fire is off.
    """

    id: str
    canner: str
    process: str
    process_min: int
    jars: tuple[tuple[str, int], ...]
    """(batch, count) pairs."""
    hot: bool
    """It started in water still hot from the load before."""
    heat_min: int
    lower_min: int
    lowered_min: int
    boil_min: int
    done_min: int
    lift_min: int
    out_min: int
    fire_free_min: int
    lowered_by: str
    lifted_by: str
    number: int | None = None
    """What a day under way has called it; `None` where it goes by the order of the
    boil."""

    @property
    def stands_until_min(self) -> int:
        """Its burners are covered until then: nobody carries a canner full of jars."""
        return max(self.fire_free_min, self.out_min)

    @property
    def count(self) -> int:
        """Jars aboard."""
        return sum(count for _, count in self.jars)

    @property
    def is_cut_short(self) -> bool:
        """Whether it came out without its whole process: no jar of it is to be had."""
        return self.done_min - self.boil_min < self.process_min


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedBreak:
    """A person's rest."""

    person: str
    start_min: int
    end_min: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Timetable:
    """A whole day, placed."""

    steps: tuple[PlacedStep, ...]
    loads: tuple[PlacedLoad, ...]
    breaks: tuple[PlacedBreak, ...]

    @property
    def finish_min(self) -> int:
        """Last minute of work: steps (washing-up counts) and lifting out."""
        return max(
            [s.end_min for s in self.steps] + [load.out_min for load in self.loads],
            default=0,
        )

    def moved(self, by: int) -> Timetable:
        """The same, all of it so many minutes later."""
        if by == 0:
            return self
        return Timetable(
            steps=tuple(
                replace(s, start_min=s.start_min + by, end_min=s.end_min + by)
                for s in self.steps
            ),
            loads=tuple(
                replace(
                    x,
                    heat_min=x.heat_min + by,
                    lower_min=x.lower_min + by,
                    lowered_min=x.lowered_min + by,
                    boil_min=x.boil_min + by,
                    done_min=x.done_min + by,
                    lift_min=x.lift_min + by,
                    out_min=x.out_min + by,
                    fire_free_min=x.fire_free_min + by,
                )
                for x in self.loads
            ),
            breaks=tuple(
                replace(r, start_min=r.start_min + by, end_min=r.end_min + by)
                for r in self.breaks
            ),
        )


def numbered_beside(
    loads: Iterable[PlacedLoad], taken: Iterable[str]
) -> list[PlacedLoad]:
    """
    Return loads that are new to a plan, each by the first free number of its canner.

    Those of the plan keep their ids, ``taken``: what has happened is told of by them.
    """
    names, named = set(taken), []
    for load in sorted(loads, key=lambda load: load.lower_min):
        numbered = (f"{load.canner}/{n}" for n in count(1))
        name = next(name for name in numbered if name not in names)
        names.add(name)
        named.append(replace(load, id=name))
    return named


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What the planner found, and how good it is known to be."""

    timetable: Timetable
    by_hand: Timetable | None
    """The plan a careful person would write; `None` where hers does not fit the day."""
    made_by: str
    """``solver`` or ``by hand``."""
    finish_min: int
    lateness: int
    """Weighted minutes by which wants are missed."""
    lower_bound_min: int
    """No plan that is no later on the wants can end before this minute."""
    lower_bound_why: str = ""
    """What is short until then, in words."""
    bound_unless_later: bool = False
    """A plan that is later on the wants may end before it: the search weighs both."""
    proven: bool
    """The finish is proven to be the earliest."""
    solve_s: float
    first_plan_s: float
    trace: tuple[tuple[float, int, int], ...] = ()
    """(seconds, best finish + lateness so far, bound so far)."""
    remarks: tuple[str, ...] = ()

    @property
    def gap(self) -> float:
        """How far at most the finish is above the earliest possible, as a share."""
        if self.finish_min == 0:
            return 0.0
        return max(0.0, (self.finish_min - self.lower_bound_min) / self.finish_min)

    @property
    def by_hand_min(self) -> int | None:
        """Finish of the by-hand plan. [min]"""
        return self.by_hand.finish_min if self.by_hand else None


LESS_DOES_NOT_DO = ": less does not do"
"""Said of a change whose minutes are proven to be the fewest."""
LESS_BREAKS_A_PROMISE = ": with less it does not fit, or something promised comes late"
"""Said where they are the fewest with which nothing promised comes late: proven."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WayOut:
    """A change with which a day fits, and the plan that shows it."""

    says: str
    """"it fits if Tilda stays 29 min longer, until 17:29"."""
    cost_min: int
    """What it takes, weighed in minutes of somebody's time; see `ways_out`. [min]"""
    finish_min: int
    done_by: str
    """The same as a clock shows it."""
    timetable: Timetable
    """Breaks no rule of the day with these changes."""
    changes: Changes = ()
    """What is changed, as values; see `way_changes`."""
    typed: str = ""
    """The same as a change of the day file is typed; empty where there is no file."""
    why_not_typed: str = ""
    """Why it cannot be typed, in words; empty where it can, or there is no file."""
    may_be_sooner: bool = True
    """A longer search may end the day sooner: that it cannot is not proven."""
    is_shown: bool = False
    """It is the plan that is shown: the batches that are left out already."""

    @property
    def done(self) -> str:
        """When the day is done with it: "14:45 or sooner"."""
        return f"{self.done_by} or sooner" if self.may_be_sooner else self.done_by

    @property
    def sentence(self) -> str:
        """The change, and when the day is done with it."""
        shown = " (the plan shown)" if self.is_shown else ""
        least = LESS_DOES_NOT_DO in self.says or LESS_BREAKS_A_PROMISE in self.says
        told = least or not self.may_be_sooner
        if told and self.done_by in self.says:
            return f"{self.says}{shown}"
        return f"{self.says}{shown}; done by {self.done}"


@dataclass(frozen=True, slots=True, kw_only=True)
class NoneFound:
    """How far a search came that found no plan."""

    impossible: bool
    """It is proven that there is none."""
    bound_min: int
    """The day could not end before, whatever its hours: proven. [min]"""
    bound_why: str
    reached: Timetable | None
    """The best plan with the day's end left open."""
    remarks: tuple[str, ...] = ()
    """What is to be known of the search."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanIf:
    """A plan of a day like one that has none: no plan of that day."""

    says: str
    """
    Under what condition: "if the day could run on until 23:40"; or "with one more
    canner like the large one, on a fire of its own".
    """
    ends: str
    """When it ends, and by how much that is too late."""
    mark: str
    """What is said wherever it is shown."""
    made_by: str
    """"a plan by hand", or "the best plan found"."""
    problem: Problem
    """The day on which it breaks no rule."""
    timetable: Timetable

    @property
    def sentence(self) -> str:
        """What it is, when it ends, and that it is no plan of this day."""
        return f"{self.made_by} {self.says}: {self.ends}; {self.mark}"


@dataclass(frozen=True, slots=True, kw_only=True)
class NoPlan:
    """Why nothing fits, in words, and what would help."""

    clashes: tuple[str, ...]
    """The rules that cannot hold together."""
    minimal: bool
    """Without any one of them it would fit."""
    would_help: tuple[str, ...]
    ways_out: tuple[WayOut, ...] = ()
    """The cheapest, each of them solved."""
    why_fewer: str = ""
    """Why there are fewer than three; empty where there are three."""
    plan_if: PlanIf | None = None
    """The best plan of a day like it; `None` where none of that helps."""
    source: str = "the limits in the day file, tried by the solver"
    """What the reasons rest on."""
    nothing_can_be_made: bool = False
    """Not one batch can be made as the day stands, however long it is."""

    def with_ways(self, ways: tuple[WayOut, ...], why_fewer: str) -> NoPlan:
        """The same with other ways out."""
        tried = {way.says for way in self.ways_out}
        others = (said for said in self.would_help if said not in tried)
        would_help = (*(way.says for way in ways), *others)
        return replace(self, ways_out=ways, would_help=would_help, why_fewer=why_fewer)

    @property
    def helps(self) -> tuple[str, ...]:
        """The ways out with their ends, and what else would help."""
        return (*(way.sentence for way in self.ways_out), *self.other_helps)

    @property
    def other_helps(self) -> tuple[str, ...]:
        """What else would help, and why there are fewer than three ways out."""
        fewer = (self.why_fewer,) if self.why_fewer else ()
        return (*fewer, *self.advice)

    @property
    def advice(self) -> tuple[str, ...]:
        """What may help and was not tried."""
        tried = {way.says for way in self.ways_out}
        return tuple(said for said in self.would_help if said not in tried)
