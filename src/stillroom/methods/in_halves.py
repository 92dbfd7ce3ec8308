"""
Long plain work in two halves: two people at once, or one after the other.

Cutting a bushel or washing forty jars is done in half the time by two pairs of hands.
Stated as two halves, the planner may give both to one person, one behind the other, or
each to another, side by side; which of them is better is its to find.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from stillroom.methods.method import Work
from stillroom.methods.step import Skill, Spread, Step

WORTH_HALVING_MIN = 10
"""Shorter work is done before the other has an apron on. A choice of ours. [min]"""
HALF, THE_OTHER = ": half of it", ": the other half"
IN_ALL = "in all "
HANDS_ON = 3
"""Quarters of work that hands do at their own pace."""


def can_be_halved(work: Work, step: Step) -> bool:
    """Whether two may do it: plain and cold, long, and with no one pot or mill."""
    return (
        step.duration_min >= WORTH_HALVING_MIN
        and step.attention_quarters == HANDS_ON
        and step.skill in (Skill.COLD, Skill.KNIFE)
        and not (step.burner_w or step.in_pot or step.on_mill or step.critical)
        and not step.same_hands
        and step.id != work.ready_after
    )


def in_halves(work: Work, two_can: Callable[[Step], bool]) -> Work:
    """
    Return the work with what two may share in two halves.

    Parameters
    ----------
    work : Work
        Steps and links of a batch.
    two_can : callable
        Whether there are two people that day who do a step.
    """
    halved = {
        s.id: other_half(s.id)
        for s in work.steps
        if can_be_halved(work, s) and two_can(s)
    }
    steps = [
        half for s in work.steps for half in (_halves(s) if s.id in halved else (s,))
    ]
    links = [
        replace(link, before=before, after=after)
        for link in work.links
        for before in _ids(link.before, halved)
        for after in _ids(link.after, halved)
    ]
    return replace(work, steps=tuple(steps), links=tuple(links))


def other_half(step_id: str) -> str:
    """
    Name the second half of a step.

    >>> other_half("cut")
    'cut_other_half'
    """
    return f"{step_id}_other_half"


def whole_step(step_id: str) -> str:
    """
    Name the step that a half is of; any other step by its own name.

    >>> whole_step("cut_other_half"), whole_step("cut")
    ('cut', 'cut')
    """
    return step_id.removesuffix(other_half(""))


def whole_again(half: Step) -> Step:
    """
    A half as it is told where both come to one piece of work.

    >>> half = Step(id="cut", verb="Cut: half of it", duration_min=6, note="in all 7")
    >>> whole_again(half).verb, whole_again(half).note
    ('Cut', '7')
    """
    verb, note = half.verb.removesuffix(HALF), half.note.removeprefix(IN_ALL)
    return replace(half, verb=verb, note=note)


def begun_later(half: Step) -> Step:
    """A half as it is told where the other was begun before it."""
    return replace(half, verb=f"{half.verb.removesuffix(HALF)}{THE_OTHER}")


def _ids(step_id: str, halved: dict[str, str]) -> tuple[str, ...]:
    return (step_id, halved[step_id]) if step_id in halved else (step_id,)


def _halves(step: Step) -> tuple[Step, Step]:
    # Both read the same: which of them comes first is the planner's to choose.
    first = math.ceil(step.duration_min / 2)
    second = step.duration_min - first
    return (
        _part(step, step.id, f"{step.verb}{HALF}", first),
        _part(step, other_half(step.id), f"{step.verb}{HALF}", second),
    )


def _part(step: Step, step_id: str, verb: str, minutes: int) -> Step:
    share = minutes / step.duration_min
    spread = step.spread and Spread(
        low=max(1, math.floor(step.spread.low * share)),
        likely=minutes,
        high=math.ceil(step.spread.high * share),
    )
    note = f"{IN_ALL}{step.note}" if step.note[:1].isdigit() else step.note
    book = None if step.book_min is None else max(1, round(step.book_min * share))
    return replace(
        step,
        id=step_id,
        verb=verb,
        duration_min=minutes,
        spread=spread,
        note=note,
        book_min=book,
    )
