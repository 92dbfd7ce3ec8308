"""
Which of two days that make the same is better: goal by goal, in the keeper's order.

The order is that of the search, and so is what it may give: with the hour that she
names far off, a day may end a little later for what comes before ending early.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import takewhile

from stillroom.planning.daytime import said_minutes
from stillroom.planning.goal_order import MAY_END_LATER_MIN, Goal, in_order
from stillroom.planning.other_days.what_if import Outcome

_BUT_CALM = tuple(goal for goal in Goal if goal is not Goal.CALM)
_OF_THE_END = (Goal.ON_TIME, Goal.BY_THE_HOUR, Goal.EARLY)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """What days are judged by."""

    order: tuple[Goal, ...]
    hour_min: int | None
    """Minute of the clock by which she would like to be done."""
    latest_min: int
    """Nothing is held against a day that ends by then, but for ending early."""
    same_people: bool
    """Free time is compared only where the same people are there."""


def wishes_of(one: Outcome, among: Sequence[Outcome]) -> Wishes:
    """What one day asks for, where several that make the same are compared."""
    order = in_order(one.first)
    hour = one.hour_min
    soonest = min((o.ends_clock_min for o in among), default=0)
    latest = soonest if hour is None else hour
    before = takewhile(lambda goal: goal is not Goal.BY_THE_HOUR, order)
    if hour is not None and all(goal in _OF_THE_END for goal in before):
        latest = max(soonest, min(hour, soonest + MAY_END_LATER_MIN))
    there = [o.plan.day.people for o in among if o.plan is not None]
    return Wishes(
        order=order,
        hour_min=hour,
        latest_min=latest,
        same_people=all(people == there[0] for people in there),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A figure of one goal: the smaller the better, unless it is said otherwise."""

    goal: Goal
    name: str
    """As it is said behind "fewer" or "more"."""
    value: int
    is_gain: bool = False
    """The larger the better."""

    @property
    def cost(self) -> int:
        """The smaller the better."""
        return -self.value if self.is_gain else self.value


def costs(one: Outcome, wishes: Wishes) -> tuple[int, ...]:
    """One day's costs, what counts most first: the smaller the better."""
    return tuple(cost for _, cost in _costs(one, wishes))


def _costs(one: Outcome, wishes: Wishes) -> Iterator[tuple[Goal, int]]:
    for goal in wishes.order:
        if goal is Goal.BY_THE_HOUR:
            yield goal, max(0, one.ends_clock_min - wishes.latest_min)
        elif goal is Goal.EARLY:
            yield goal, one.ends_clock_min
        else:
            for figure in _figures(one, goal, wishes):
                yield goal, figure.cost


def _figures(one: Outcome, goal: Goal, wishes: Wishes) -> Iterator[Figure]:
    """The figures of a goal that are said beside the hour at which all is done."""
    match goal:
        case Goal.ON_TIME:
            wants = () if one.plan is None else one.plan.day.wants
            by_weight = any(want.weight != 1 for want in wants)
            name = f"minutes late{' by their weight' if by_weight else ''}"
            yield Figure(goal=goal, name=name, value=one.lateness)
        case Goal.BY_THE_HOUR if wishes.hour_min is not None:
            hours, minutes = divmod(wishes.hour_min, 60)
            over = max(0, one.ends_clock_min - wishes.hour_min)
            name = f"minutes past {hours}:{minutes:02d}"
            yield Figure(goal=goal, name=name, value=over)
        case Goal.ONE_MOMENT:
            name = "hurried moments close behind another"
            yield Figure(goal=goal, name=name, value=one.too_near)
        case Goal.FEW_RUNS:
            yield Figure(goal=goal, name="canner runs", value=one.loads)
            yield Figure(goal=goal, name="washes", value=one.washes)
        case Goal.CALM if wishes.same_people:
            yield Figure(
                goal=goal,
                name="free minutes in one piece",
                value=one.free_in_one_piece_min,
                is_gain=True,
            )
        case _:
            return


def is_better(one: Outcome, other: Outcome) -> bool:
    """Whether one day is better than another that makes the same, by its wishes."""
    wishes = wishes_of(other, (one, other))
    return costs(one, wishes) < costs(other, wishes)


def figures_words(one: Outcome, base: Outcome, wishes: Wishes) -> str:
    """
    Say in which figures a day is otherwise, but for its end: "fewer canner runs: 6 for
    9"; empty where there are none.
    """
    return "; ".join(
        f"{'more' if mine.value > its.value else 'fewer'} {mine.name}: {mine.value} "
        f"for {its.value}"
        for mine, its in _otherwise(one, base, wishes)
    )


def _otherwise(
    one: Outcome, base: Outcome, wishes: Wishes
) -> list[tuple[Figure, Figure]]:
    """Figures that differ; free time, which moves with anything, where it decides."""
    decides = _decides(one, base, wishes)
    return [
        (mine, its)
        for goal in wishes.order
        for mine, its in zip(
            _figures(one, goal, wishes), _figures(base, goal, wishes), strict=True
        )
        if mine.value != its.value
        and goal in (decides, *_BUT_CALM)
        # both past the hour: by how much is the difference of their ends, said before
        and not (goal is Goal.BY_THE_HOUR and mine.value and its.value)
    ]


def _decides(one: Outcome, base: Outcome, wishes: Wishes) -> Goal | None:
    """The first goal in which two days differ; `None` where they are as good."""
    pairs = zip(_costs(one, wishes), _costs(base, wishes), strict=True)
    return next((goal for (goal, a), (_, b) in pairs if a != b), None)


def counts_before_words(one: Outcome, base: Outcome, wishes: Wishes) -> str:
    """Say what decides where the hour says one thing and the figures another."""
    by = one.ends_clock_min - base.ends_clock_min
    decides = _decides(one, base, wishes)
    if by == 0 or decides is None or not _is_split(one, base, wishes):
        return ""
    if decides is Goal.EARLY or (decides, wishes.hour_min) == (Goal.BY_THE_HOUR, None):
        return "Ending early counts before that."
    if decides is Goal.BY_THE_HOUR and wishes.hour_min is not None:
        ends = (one.ends_clock_min, base.ends_clock_min)
        if min(ends) > wishes.hour_min:
            return "Being done by the hour counts before that."
        if max(ends) > wishes.hour_min:
            return "The first of these counts most."
        given = said_minutes(MAY_END_LATER_MIN)
        return f"No more than {given} are given for that."
    several = len(_otherwise(one, base, wishes)) > 1
    return f"{'The first of these' if several else 'That'} counts before ending early."


def _is_split(one: Outcome, base: Outcome, wishes: Wishes) -> bool:
    """Whether the hour is better and a figure worse, or the other way round."""
    sooner = one.ends_clock_min < base.ends_clock_min
    return any(
        (mine.cost > its.cost) == sooner for mine, its in _otherwise(one, base, wishes)
    )
