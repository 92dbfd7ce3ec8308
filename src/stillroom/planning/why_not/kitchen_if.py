"""
What is shown where the kitchen cannot make one batch: the plan with a thing more in it.

A canner with a fire of its own, a large pot, strong burners, two of them or all three;
the first with which batches come about is planned by hand. It is no plan of the day.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import replace
from functools import partial
from itertools import combinations, product

from stillroom.in_a_list import all_of
from stillroom.jar_count import jars_said
from stillroom.measures import GALLON_M3
from stillroom.methods.kitchen import Burner, Canner, CannerKind, Kitchen, Pot
from stillroom.planning.daytime import clock_time
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.judge.check import violations
from stillroom.planning.one_thing_more import fresh
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlanIf
from stillroom.planning.why_not.plan_if import NOT_AS_IT_STANDS, plan_if

POWER_W = 3500.0
"""Of a strong burner of a domestic stove. Common practice, no source. [W]"""
POTS_QT = (8, 10, 12, 15)
"""Pots that are sold; the smallest that serves is named. Common practice, no source."""
HOLDS = {"half-pint": 9, "pint": 9, "quart": 7}
"""Jars in a common boiling-water canner. Common practice, no source."""

ProblemOf = Callable[[Kitchen], Problem | None]
"""The problem of a kitchen; `None` where it makes no batch."""
_Thing = tuple[str, Callable[[Kitchen], Kitchen]]
"""What there is more, in words, and the kitchen with it."""


def kitchen_if(
    kitchen: Kitchen, problem_of: ProblemOf, wanted: Collection[str] = ()
) -> PlanIf | None:
    """
    The plan by hand of the same day with a thing more; `None` where none helps.

    Parameters
    ----------
    kitchen : Kitchen
        A kitchen that makes no batch.
    problem_of : callable
        The problem of the day in another kitchen.
    wanted : collection of str
        Products that are wanted: of which the plan has none, that is said with it.
    """
    found = _first_with_more(kitchen, problem_of)
    if found is None:
        return None
    there = {batch.product for batch in found.problem.batches}
    out = [product for product in wanted if product not in there]
    even_so = f"; {all_of(out)} cannot be made even so" if out else ""
    return replace(found, ends=found.ends + even_so)


def _first_with_more(kitchen: Kitchen, problem_of: ProblemOf) -> PlanIf | None:
    makes = []
    for says, more in _with_more(kitchen):
        problem = problem_of(more)
        if problem is None:
            continue
        if (found := _by_hand(problem, f"there were {says}")) is not None:
            return found
        makes.append((problem, f"there were {says}"))
    # not before all of them: nobody is asked to come where another thing does
    asks = (_of_a_day_like(problem, says) for problem, says in makes)
    return next(filter(None, asks), None)


def in_larger_canner(
    kitchen: Kitchen, needed: Mapping[str, int], problem_of: ProblemOf
) -> PlanIf | None:
    """
    The plan by hand of the day with a canner that takes its batches at once.

    ``needed`` are places by jar; the largest canner of each jar gets so many. Where no
    plan by hand holds beside the small ones, those are left in the cupboard.
    """
    canners = list(kitchen.canners)
    larger = set()
    for jar, places in needed.items():
        n = max(range(len(canners)), key=lambda n: canners[n].holds(jar))
        of = canners[n]
        canners[n] = replace(of, places={**of.places, jar: places})
        larger.add(n)
    jars = all_of(jars_said(n, jar) for jar, n in sorted(needed.items()))
    for there in (canners, [canners[n] for n in sorted(larger)]):
        problem = problem_of(replace(kitchen, canners=tuple(there)))
        if problem is None:
            continue
        says = f"there were a canner of {jars} in place of yours"
        if (found := _planned(problem, says)) is not None:
            return found
    return None


def _planned(problem: Problem, says: str) -> PlanIf | None:
    """The plan by hand of a day in another kitchen, or of one like it."""
    return _by_hand(problem, says) or _of_a_day_like(problem, says)


def _of_a_day_like(problem: Problem, says: str) -> PlanIf | None:
    """The same where more is asked for than what is in the kitchen."""
    like = plan_if(problem)
    if like is None:
        return None
    return replace(like, says=f"if {says} and {like.says[3:]}")


def _by_hand(problem: Problem, says: str) -> PlanIf | None:
    plan = by_hand(problem, seconds=0.0, shuffles=10)
    if plan is None or violations(problem, plan):
        return None
    return PlanIf(
        says=f"if {says}",
        ends=f"it ends at {clock_time(problem.starts_at, plan.finish_min)}",
        mark=NOT_AS_IT_STANDS,
        made_by="a plan by hand",
        problem=problem,
        timetable=plan,
    )


def _with_more(kitchen: Kitchen) -> Iterator[tuple[str, Kitchen]]:
    """One thing more, then two, then all three; of pots the smallest first."""
    strong: _Thing = (f"burners of {POWER_W / 1000:g} kW", _with_strong_burners)
    pots: list[_Thing] = [
        (f"a pot of {size} qt", partial(_with_pot, size)) for size in POTS_QT
    ]
    has_one = any(c.kind is CannerKind.BOILING_WATER for c in kitchen.canners)
    one = "another" if has_one else "a"
    canner: _Thing = (f"{one} boiling-water canner on a fire of its own", _with_canner)
    for count in (1, 2, 3):
        for kinds in combinations(([strong], pots, [canner]), count):
            for things in product(*kinds):
                there = kitchen
                for _, more in things:
                    there = more(there)
                yield all_of(says for says, _ in things), there


def _with_strong_burners(kitchen: Kitchen) -> Kitchen:
    strong = tuple(
        replace(b, power_w=max(b.power_w, POWER_W), largest_pot_m3=None)
        for b in kitchen.burners
    )
    if len(strong) < 2:
        name = fresh("one more burner", [b.name for b in strong])
        strong = (*strong, Burner(name=name, power_w=POWER_W))
    return replace(kitchen, burners=strong)


def _with_pot(size_qt: int, kitchen: Kitchen) -> Kitchen:
    name = fresh("one more pot", [p.name for p in kitchen.pots])
    pot = Pot(name=name, volume_m3=size_qt * float(GALLON_M3) / 4)
    return replace(kitchen, pots=(*kitchen.pots, pot))


def _with_canner(kitchen: Kitchen) -> Kitchen:
    fire = fresh("fire of the canner", [b.name for b in kitchen.burners])
    canner = Canner(
        name=fresh("one more canner", [c.name for c in kitchen.canners]),
        kind=CannerKind.BOILING_WATER,
        stands_on=(fire,),
        places=HOLDS,
    )
    return replace(
        kitchen,
        burners=(*kitchen.burners, Burner(name=fire, power_w=POWER_W)),
        canners=(*kitchen.canners, canner),
    )
