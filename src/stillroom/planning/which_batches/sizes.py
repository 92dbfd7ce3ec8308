"""
How large the pots of a pack should be: each sensible division, tried on the day.

The plain rule (as few even pots as a canner load holds) is one division of several. The
others are screened by a bound and by the plan that a careful person makes. Those that
end clearly sooner by hand, or fit where the rule does not, or fill as few loads from
more pots at once, are searched beside the rule, each for as long, and the best is
planned. The rule stands where none is better by more than the noise of a search, and on
a large day that it fits: docs/decisions/0084 has where that is. A plan that is at hand
stands like the rule, and is never given up for less.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from stillroom.planning.bounding.bounds import least_loads, lower_bound_min
from stillroom.planning.cpsat.solve import Search, find_timetable, is_small
from stillroom.planning.dayplan import Divided
from stillroom.planning.hand.by_hand import better_start, by_hand
from stillroom.planning.how_good.lateness import score
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.which_batches.batches import Batched
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.day_divided import Sizes, Trials, Way
from stillroom.planning.which_batches.division_told import divisions_told
from stillroom.planning.which_batches.divisions import Division, divisions

SHARE_OF_SCREENING = 0.1
"""Of the time, for the plans by hand of all divisions together."""
SHARE_OF_TRYING = 0.36
"""Of the time, for a search of the rule and of what is better by hand, each as long."""
CONTENDERS = 2
"""So many divisions are searched beside the plain rule."""
LEAST_GAIN_MIN = 15
"""A smaller gain is the noise of a plan by hand or of a short search: two such of one
day differ by as much from seed to seed. The plain rule stands then. [min]"""
LEAST_PROVEN_GAIN_MIN = 5
"""Where both are searched to a proof: one more pot to wash is worth it. [min]"""
WORSE_BY_HAND = 1.25
"""How much later a division may end by hand that fills as few loads from more pots: by
hand they follow one another, and the search cooks them side by side."""
SHUFFLES, MOVES = 4, 16
"""Orders tried by hand where no simple one fits, and moves to a better one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sized:
    """The division that is best, and what was found for it and the others."""

    sizes: Sizes
    """Empty where the plain rule stands."""
    plan: Timetable | None
    """The best plan so far of the day that is divided like that."""
    told: tuple[Divided, ...]
    """What to say of each product that may be divided."""
    spent: float
    """Share of the time that it took, where work is counted."""
    bounds: tuple[tuple[Sizes, int], ...]
    """What was proven of divisions that were searched: finish with points."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AtHand:
    """A plan of the day that is known to hold, and how it divides the packs."""

    sizes: Sizes
    plan: Timetable


def better_sizes(
    made: Batched,
    place: Place,
    state: Callable[[Sizes], Problem | None],
    search: Search,
    at_hand: AtHand | None = None,
) -> Sized | None:
    """
    Return the division of a day's packs that ends it first, as far as it is found.

    Parameters
    ----------
    made : Batched
        The batches by the plain rule.
    place : Place
        The kitchen.
    state : callable
        The problem of the day with its packs divided otherwise; `None` where it cannot
        be made so.
    search : Search
        All the time that the day may take, its workers and seed.
    at_hand : AtHand, optional
        A plan of the whole day that is there already. Its division stands unless
        another is as much better as it would have to be than the rule.

    Returns
    -------
    Sized or None
        `None` where nothing on the day may be divided in more than one way, or the day
        is large and fits by the rule, or beside a plan at hand nothing is late and no
        other division could gain more than a little.
    """
    ways = sensible_divisions(made, place)
    if not any(len(of_group) > 1 for of_group in ways.values()):
        return None
    plain = state({})
    if plain is None:
        return None
    by_the_rule = Way({}, plain)
    standing = _standing(by_the_rule, at_hand, state)
    if standing is None:
        return None
    if at_hand is not None:
        if not is_small(plain):
            return None
        if not at_hand.sizes and not _may_gain(standing, ways, state):
            return None
    by_the_rule.plan = _by_hand(plain, search)
    if by_the_rule.plan is not None and not is_small(plain):
        return None  # no short search tells them apart, and the day needs the time
    trials = Trials(by_the_rule, standing)
    if standing is not by_the_rule:
        standing.plan = _by_hand(standing.problem, search)
        trials.others.append(standing)
    _screen(trials, ways, state, search)
    tried = _try(trials, search)
    best = trials.best
    certain = standing.proven and best.proven
    least = LEAST_PROVEN_GAIN_MIN if certain else LEAST_GAIN_MIN
    if not tried or standing.ends - best.ends < least:
        best = standing
    told = tuple(divisions_told(made, ways, trials, best, searched=tried))
    standing.take_at_hand()
    return Sized(
        sizes=best.sizes,
        plan=best.plan,
        told=told,
        spent=SHARE_OF_SCREENING + (SHARE_OF_TRYING if tried else 0.0),
        bounds=tuple((w.sizes, w.bound) for w in (trials.plain, *trials.others)),
    )


def _standing(
    plain: Way,
    at_hand: AtHand | None,
    state: Callable[[Sizes], Problem | None],
) -> Way | None:
    """The plain rule, or the division of a plan at hand; `None` if it is none here."""
    if at_hand is None:
        return plain
    if not at_hand.sizes:
        plain.at_hand = at_hand.plan
        return plain
    problem = state(at_hand.sizes)
    if problem is None:
        return None
    return Way(at_hand.sizes, problem, at_hand=at_hand.plan)


def _may_gain(
    standing: Way,
    ways: Mapping[str, Sequence[Division]],
    state: Callable[[Sizes], Problem | None],
) -> bool:
    """Whether more than a little could be gained, or something is late."""
    assert standing.at_hand is not None
    ends = score(standing.problem, standing.at_hand)
    if ends > standing.at_hand.finish_min:
        return True
    for name, of_group in ways.items():
        for division in of_group[1:]:
            other = state({name: division.sizes})
            if other and lower_bound_min(other) <= ends - LEAST_GAIN_MIN:
                return True
    return False


def sensible_divisions(made: Batched, place: Place) -> dict[str, tuple[Division, ...]]:
    """Ways to divide each pack of a day into pots, the plain rule first, by group."""
    chosen = {group.name: group.chosen for group in made.groups}
    return {
        name: divisions(chosen[name], units, place)
        for name, units in made.units.items()
    }


def _screen(
    trials: Trials,
    ways: Mapping[str, Sequence[Division]],
    state: Callable[[Sizes], Problem | None],
    search: Search,
) -> None:
    """A plan by hand of each; one product at a time, then the best of each at once."""
    until = time.monotonic() + SHARE_OF_SCREENING * search.seconds
    gains: dict[str, Way] = {}
    for name, of_group in ways.items():
        for division in of_group[1:]:
            if {name: division.sizes} == trials.standing.sizes:
                continue
            if not search.deterministic and time.monotonic() > until:
                return
            way = _screened(trials, {name: division.sizes}, state)
            if way is None:
                continue
            way.plan = _by_hand(way.problem, search)
            trials.others.append(way)
            before = gains.get(name, trials.plain)
            if way.worth < before.worth:
                gains[name] = way
    sizes = {name: size for way in gains.values() for name, size in way.sizes.items()}
    if len(gains) > 1 and sizes != trials.standing.sizes:
        both = _screened(trials, sizes, state)
        if both is not None:
            both.plan = _by_hand(both.problem, search)
            trials.others.append(both)


def _screened(
    trials: Trials,
    sizes: Sizes,
    state: Callable[[Sizes], Problem | None],
) -> Way | None:
    """A division, unless a bound says that it ends no sooner than what is known."""
    problem = state(sizes)
    if problem is None:
        return None
    least = lower_bound_min(problem)
    if least > problem.horizon_min or least >= trials.best.ends:
        trials.ruled_out.append(sizes)
        return None
    return Way(sizes, problem)


def _by_hand(problem: Problem, search: Search) -> Timetable | None:
    if search.deterministic:
        first = by_hand(problem, seconds=1e9, shuffles=SHUFFLES)
    else:
        first = by_hand(problem, seconds=0.05, shuffle_seconds=0.15)
    if first is None:
        return None
    return better_start(problem, first, seconds=1e9, tries=MOVES)


def _try(trials: Trials, search: Search) -> bool:
    """Search the plain rule and what is better by hand, each for as long."""
    few = _contenders(trials)
    if not few:
        return False
    if trials.standing is not trials.plain:
        few.insert(0, trials.standing)
    share = SHARE_OF_TRYING * search.seconds / (1 + len(few))
    trials.standing.take_at_hand()
    for way in (trials.plain, *few):
        found = find_timetable(
            way.problem,
            way.plan,
            replace(search, until=time.monotonic() + share, seconds=share),
            least=lower_bound_min(way.problem),
        )
        way.plan = found.timetable or way.plan
        way.bound = found.bound
    trials.others = few
    return True


def _contenders(trials: Trials) -> list[Way]:
    """
    What is clearly better by hand first; then as few loads, filled from more pots.

    The second also where the rule has no plan by hand: they may be all that fits.
    """
    plain = trials.plain
    others = [way for way in trials.others if way is not trials.standing]
    ordered = sorted(others, key=lambda way: way.worth)
    better = [way for way in ordered if way.ends <= plain.ends - LEAST_GAIN_MIN]
    loads, pots = least_loads(plain.problem), len(plain.problem.batches)
    more_at_once = [
        way
        for way in ordered
        if way not in better
        and way.ends <= WORSE_BY_HAND * plain.ends
        and least_loads(way.problem) <= loads
        and len(way.problem.batches) > pots
    ]
    return [*better, *more_at_once][:CONTENDERS]
