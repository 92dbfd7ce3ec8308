"""
What no plan can beat, window by window: more work than hands, fires or pots can bear.

Suppose that the day ended at some minute. Then each piece of work has an earliest start
and a latest end, and some of it lies in a window of the day wherever it is put. Where
that is more than there is of hands, of fires strong enough, of pots or mills, no plan
ends so early (energetic reasoning; the least minute without such a window is found by
halving).
"""

from __future__ import annotations

from collections import Counter as Tally
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from stillroom.planning.bounding.bounds import (
    WHOLE_HANDS,
    able_people,
    after_closing_min,
    canners_for,
    closed_min,
    hands_by,
    least_cycle_min,
    least_loads,
)
from stillroom.planning.hot_jars import LABOUR_QUARTERS
from stillroom.planning.network import UNTIED, network_of
from stillroom.planning.problem import Batch, Burner, Person, Problem
from stillroom.planning.rinses import least_asked

QUARTERS = {0: 0, 1: 1, 2: 2, 3: 3, 4: 4}
MEASURES = ((WHOLE_HANDS, 2), (QUARTERS, 4))
"""How quarters are counted, and how many a person has by that count."""


@dataclass(frozen=True, slots=True)
class Piece:
    """Work that cannot start before a minute, nor end in the last minutes of a day."""

    minutes: int
    demand: int
    """Quarters of a person; or how many fires, pots or mills."""
    able: frozenset[str]
    """Who or what can bear it."""
    earliest: int
    tail: int
    """Least time from its end to the end of the day. [min]"""
    on_fire: bool = False


def pieces_of(problem: Problem) -> list[Piece]:
    """All that takes hands in a day, with the fewest loads."""
    found = [
        Piece(minutes, step.attention_quarters, able, earliest, tail)
        for batch in problem.batches
        for i, (minutes, earliest, tail) in enumerate(_times(problem, batch))
        if (step := batch.steps[i]).attention_quarters
        and (able := able_people(problem, batch, i))
    ]
    return found + list(_of_loads(problem))


def _times(problem: Problem, batch: Batch) -> Iterator[tuple[int, int, int]]:
    """Of each step: minutes, earliest start, least time from its end to the day's."""
    network = network_of(batch)
    canned = after_closing_min(problem, batch)
    closing = [
        i
        for i, s in enumerate(batch.steps)
        if batch.process is not None and batch.ready_after in ("", s.id)
    ]
    for i, step in enumerate(batch.steps):
        after = network.tail[i]
        for c in closing:
            if network.lag[i][c] != UNTIED:
                out = network.lag[i][c] + batch.steps[c].duration_min + canned
                after = max(after, out)
        tail = max(0, after - step.duration_min)
        yield step.duration_min, network.earliest[i], tail


def _of_loads(problem: Problem, *, on_fire: bool = False) -> Iterator[Piece]:
    """
    Lowering and lifting of as few loads as hold the jars, the quickest of each.

    ``on_fire``: instead, how long each keeps its fire, from lowering until its jars are
    out. Where canners differ, of a lowering the first minutes are meant, of a
    lifting the last.
    """
    canned = [b for b in problem.batches if b.process is not None]
    loads = least_loads(problem)
    process_of = {p.id: p for p in problem.processes}
    useful = [
        (canner, process_of[name])
        for name in {k for b in canned for k in process_of[str(b.process)].may_ride_in}
        if name in process_of
        for canner in canners_for(problem, process_of[name].jar)
    ]
    if not useful:
        return
    first = min(closed_min(b) for b in canned)
    first = max(first, min(c.first_heat_min for c, _ in useful))
    lower = min(c.load_min for c, _ in useful)
    lift = min(c.unload_min for c, _ in useful)
    cycle = min(least_cycle_min(c, p) for c, p in useful)
    able = frozenset(p.id for p in problem.people if "lift" in p.skills)
    canners = len(problem.canners)
    for n in range(loads):
        # of the loads in order, so many go before this one in some canner, at least
        before, behind = n // canners * cycle, (loads - 1 - n) // canners * cycle
        early, late = first + before, cycle + behind
        if on_fire:
            yield Piece(cycle, 1, able, early, behind)
            continue
        yield Piece(lower, LABOUR_QUARTERS, able, early, late - lower)
        yield Piece(lift, LABOUR_QUARTERS, able, early + cycle - lift, behind)


def window_bound_min(problem: Problem, at_least: int) -> int:
    """
    First minute at which a day can end for all that windows say. [min]

    Parameters
    ----------
    problem : Problem
        The day.
    at_least : int
        A bound that is known already. [min]

    Returns
    -------
    int
        ``at_least`` or later; one past the day's end where even that is too early.
    """
    questions = list(_questions(least_asked(problem)))
    low, high = at_least, problem.horizon_min + 1

    def too_early(end: int) -> bool:
        return any(_overfull(*question, end) for question in questions)

    if low >= high or not questions:
        return at_least
    reach = 8
    while low < high and too_early(min(low + reach - 1, problem.horizon_min)):
        low = min(low + reach, high)
        reach *= 2
    high = min(high, low + reach - 1)
    while low < high:
        middle = (low + high) // 2
        if too_early(middle):
            low = middle + 1
        else:
            high = middle
    return low


_Box = tuple[int, int, int, int]
"""Minutes, weight, earliest start, tail."""
_Given = Callable[[int, int], int]
"""How much there is between two minutes."""


def _questions(problem: Problem) -> Iterator[tuple[_Given, list[_Box]]]:
    """What there is of something, and all that can be borne by nothing else."""
    everyone = frozenset(p.id for p in problem.people)
    pieces = pieces_of(problem)
    for group in {p.able for p in pieces} | {everyone}:
        people = [p for p in problem.people if p.id in group]
        for measure, capacity in MEASURES:
            yield (
                _hands_of(people, capacity),
                [
                    (p.minutes, measure[p.demand], p.earliest, p.tail)
                    for p in pieces
                    if p.able <= group
                ],
            )
    for held in (_fires(problem), _pots(problem), _mills(problem)):
        for things in {p.able for p in held}:
            borne = [p for p in held if p.able <= things]
            if held and held[0].on_fire:  # each load once, by what it needs of these
                borne += _loads_on(problem, things)
            yield (
                _as_many(things, problem.burners),
                [(p.minutes, p.demand, p.earliest, p.tail) for p in borne],
            )


def _hands_of(people: list[Person], capacity: int) -> _Given:
    @cache
    def given(since: int, until: int) -> int:
        return capacity * sum(hands_by(p, since, until) for p in people)

    return given


def _as_many(things: frozenset[str], burners: Iterable[Burner]) -> _Given:
    """All of some things all the time, but for burners while they are not ours."""
    many = len(things)
    taken = [span for b in burners if b.id in things for span in b.taken_apart]

    def given(since: int, until: int) -> int:
        gone = sum(max(0, min(b, until) - max(a, since)) for a, b in taken)
        return many * (until - since) - gone

    return given


def _fires(problem: Problem) -> list[Piece]:
    """Steps on a fire, by the fires that are strong enough."""
    found = []
    strong = {
        power: frozenset(b.id for b in problem.burners if b.power_w >= power)
        for power in {s.burner_w for b in problem.batches for s in b.steps}
    }
    for batch in problem.batches:
        times = list(_times(problem, batch))
        lag = network_of(batch).lag
        under_the_pot: list[int] = []
        for i, step in enumerate(batch.steps):
            if step.burner_w <= 0:
                continue
            minutes, earliest, tail = times[i]
            if step.in_pot:  # what lies beside it on the one pot shares its burner
                if not all(
                    lag[i][j] >= minutes or lag[j][i] >= times[j][0]
                    for j in under_the_pot
                ):
                    continue
                under_the_pot.append(i)
            able = strong[step.burner_w]
            found.append(Piece(minutes, 1, able, earliest, tail, on_fire=True))
    return found


def _loads_on(problem: Problem, fires: frozenset[str]) -> list[Piece]:
    """Canner loads, where every canner needs some of these fires; else none."""
    least = min((len(fires & set(c.burners)) for c in problem.canners), default=0)
    if not least:
        return []
    return [
        Piece(p.minutes, least, fires, p.earliest, p.tail)
        for p in _of_loads(problem, on_fire=True)
    ]


def _pots(problem: Problem) -> list[Piece]:
    found = []
    for batch in problem.batches:
        pots = frozenset(p.id for p in problem.pots if p.size in batch.pots)
        in_pot = [i for i, step in enumerate(batch.steps) if step.in_pot]
        if pots and in_pot:
            found.append(_held(problem, batch, in_pot, pots))
    return found


def _mills(problem: Problem) -> list[Piece]:
    mills = frozenset(str(n) for n in range(problem.mills))
    found = []
    for batch in problem.batches:
        on_mill = [i for i, step in enumerate(batch.steps) if step.on_mill]
        if mills and on_mill:
            found.append(_held(problem, batch, on_mill, mills))
    return found


def _held(
    problem: Problem, batch: Batch, on_it: list[int], things: frozenset[str]
) -> Piece:
    """
    One pot or mill, held by a batch from its first step on it to the end of its last.

    Steps of one batch may lie beside one another on it, so that their minutes do not
    add up; what is sure is the longest way from one to another.
    """
    lag = network_of(batch).lag
    times = list(_times(problem, batch))
    ways = [times[i][0] for i in on_it]
    ways += [
        lag[i][j] + times[j][0] for i in on_it for j in on_it if lag[i][j] != UNTIED
    ]
    return Piece(
        max(ways),
        1,
        things,
        min(times[i][1] for i in on_it),
        min(times[i][2] for i in on_it),
    )


def _overfull(given: _Given, boxes: list[_Box], end: int) -> bool:
    """Whether some window holds more than there is, did the day end at ``end``."""
    alike = Tally(box for box in boxes if box[0] and box[1])
    laid = [
        (minutes, weight * many, early, end - tail)
        for (minutes, weight, early, tail), many in alike.items()
    ]
    if any(late - early < minutes for minutes, _, early, late in laid):
        return True
    starts = sorted({early for _, _, early, _ in laid})
    ends = sorted({late for _, _, _, late in laid})
    for since in starts:
        right = [
            (minutes, weight, early + minutes - since, late)
            for minutes, weight, early, late in laid
            if early + minutes > since
        ]
        for until in ends:
            if until <= since:
                continue
            needed = 0
            for minutes, weight, pushed_left, late in right:
                pushed_right = until - late + minutes
                if pushed_right > 0:
                    within = min(minutes, until - since, pushed_left, pushed_right)
                    needed += weight * within
            if needed > given(since, until):
                return True
    return False
