"""
Slow stirring beside a pan: how often somebody has the time for both.

Where every stirring comes out of slow cooking in the same hands without a gap, and
every pan boils up into work that takes all of somebody, more can be said than by
lengths alone (see `pans`). Whoever has a pan beside the end of a stirring has cooked
and stirred since long before, and in all that time boiled up no other pan. All pans,
and these stirrings with their cooking but for the end, lie one behind the other in
somebody's hands.

Notes
-----
Said of one person, with no cooking shorter than any stirring or pan. When a pan boils
nothing else goes on: a stirring beside it has ended by then. So no stirring has two
pans beside it, for the first would boil within it. Nor has a pan two stirrings: beside
the pan and the one the other could not even be cooking, and its cooking is too long to
lie between them within the pan. Two stirrings, each with a pan at its end, do not
overlap, nor does the cooking before them: where the first pan boils neither goes on,
and the second, which has a minute after that, begins after it. And no other pan lies
beside such a stirring or its cooking: it would have to outlast it, so that two pans
would be watched at its end.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from stillroom.planning.bounding.bounds import able_people, after_closing_min, hands_by
from stillroom.planning.bounding.pans import HALF_OF_ONE, boil_of, pans
from stillroom.planning.network import UNTIED, network_of
from stillroom.planning.problem import Batch, Problem

ALL_QUARTERS = 4


@dataclass(frozen=True, slots=True)
class Stirring:
    """A step of two quarters that is no pan."""

    cooked: int
    """Minutes of one quarter in the same hands that end as it begins."""
    minutes: int


def stirrings(problem: Problem, people: frozenset[str]) -> list[Stirring]:
    """All stirrings that nobody else can do."""
    return [
        Stirring(_cooked_before(batch, i), batch.steps[i].duration_min)
        for batch, i in _done_by(problem, people, _stirred)
    ]


def longest_pan_min(problem: Problem, people: frozenset[str]) -> int:
    """The longest pan that nobody else can watch. [min]"""
    watched = _done_by(problem, people, pans)
    return max((batch.steps[i].duration_min for batch, i in watched), default=0)


def after_long_cooking(problem: Problem) -> bool:
    """Whether each stirring follows cooking as long as any, and pans take all hands."""
    everyone = frozenset(p.id for p in problem.people)
    mine = stirrings(problem, everyone)
    longest = max((s.minutes for s in mine), default=0)
    longest = max(longest, longest_pan_min(problem, everyone))
    return all(s.cooked >= longest for s in mine) and all(
        batch.steps[boil].attention_quarters == ALL_QUARTERS
        for batch in problem.batches
        for boil in boil_of(batch).values()
    )


@dataclass(frozen=True, slots=True)
class Beside:
    """How often a stirring has a pan at its end, and for how long, at most."""

    many: int
    minutes: int
    """In all, summed over all people. [min]"""


def beside_pans(problem: Problem, people: frozenset[str], end: int) -> Beside:
    """
    How much of a day somebody can have a stirring and a pan at once.

    Parameters
    ----------
    problem : Problem
        A day for which `after_long_cooking` holds.
    people : frozenset of str
        Only what nobody else can do is looked at.
    end : int
        Of the day. [min]

    Returns
    -------
    Beside
        At most.
    """
    watched = list(_done_by(problem, people, pans))
    stirred = list(_done_by(problem, people, _stirred))
    if not watched or not stirred:
        return Beside(0, 0)
    longest = longest_pan_min(problem, people)
    lengths, spans, beside = [], [], []
    for batch, i in watched:
        lengths.append(_boiled_until(batch, i))
        spans.append(_span(problem, batch, i, 0, lengths[-1]))
    for batch, i in stirred:
        cooked, minutes = _cooked_before(batch, i), batch.steps[i].duration_min
        spans.append(_span(problem, batch, i, -cooked, minutes))
        beside.append((max(0, cooked + minutes - longest), min(longest, minutes)))
    hands = {who for batch, i in watched for who in able_people(problem, batch, i)}
    since, until = min(s for s, _ in spans), end - min(t for _, t in spans)
    room = -sum(lengths) + sum(
        hands_by(p, since, until) for p in problem.people if p.id in hands
    )
    many = 0
    for length, _ in sorted(beside):
        room -= length
        many += room >= 0
    by_stirring = sorted((most for _, most in beside), reverse=True)[:many]
    by_pan = sorted((b.steps[i].duration_min for b, i in watched), reverse=True)[:many]
    return Beside(min(many, len(watched)), min(sum(by_stirring), sum(by_pan)))


def _done_by(
    problem: Problem,
    people: frozenset[str],
    which: Callable[[Batch], Iterable[int]],
) -> Iterator[tuple[Batch, int]]:
    """Steps that some people can do and nobody else."""
    for batch in problem.batches:
        for i in which(batch):
            able = able_people(problem, batch, i)
            if able and able <= people:
                yield batch, i


def _stirred(batch: Batch) -> list[int]:
    return [
        i
        for i, step in enumerate(batch.steps)
        if step.attention_quarters == HALF_OF_ONE
        and step.duration_min > 0
        and i not in pans(batch)
    ]


def _span(
    problem: Problem, batch: Batch, step: int, since: int, until: int
) -> tuple[int, int]:
    """
    Earliest start of a stretch around a step, and least time from its end to the day's.

    ``since`` and ``until`` are minutes from the step's start.
    """
    network = network_of(batch)
    tail = network.tail[step]
    if batch.process is not None:
        for j, closing in enumerate(batch.steps):
            if batch.ready_after in ("", closing.id) and network.lag[step][j] != UNTIED:
                closed = network.lag[step][j] + closing.duration_min
                tail = max(tail, closed + after_closing_min(problem, batch))
    return max(0, network.earliest[step] + since), max(0, tail - until)


def _boiled_until(batch: Batch, pan: int) -> int:
    """From a pan's start to the end of what follows and takes all of the same hands."""
    network, steps = network_of(batch), batch.steps
    begin, step = network.offset[pan], boil_of(batch)[pan]
    end = network.offset[step] + steps[step].duration_min
    while (after := _next(batch, step, end, ALL_QUARTERS)) is not None:
        step, end = after, end + steps[after].duration_min
    return end - begin


def _next(batch: Batch, step: int, minute: int, quarters: int) -> int | None:
    """A step of so many quarters in the same hands that begins at a minute."""
    network, one = network_of(batch), batch.steps[step]
    for j, other in enumerate(batch.steps):
        if (
            other.same_hands == one.same_hands
            and other.attention_quarters == quarters
            and other.duration_min > 0
            and network.chain_of[j] == network.chain_of[step]
            and network.offset[j] == minute
        ):
            return j
    return None


def _cooked_before(batch: Batch, step: int) -> int:
    """Minutes of one quarter in the same hands that end as a step begins."""
    network, steps = network_of(batch), batch.steps
    word, begin = steps[step].same_hands, network.offset[step]
    going = bool(word)
    while going:
        going = False
        for j, earlier in enumerate(steps):
            if (
                earlier.same_hands == word
                and earlier.attention_quarters == 1
                and earlier.duration_min > 0
                and network.chain_of[j] == network.chain_of[step]
                and network.offset[j] + earlier.duration_min == begin
            ):
                begin = network.offset[j]
                going = True
                break
    return network.offset[step] - begin
