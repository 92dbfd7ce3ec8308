"""What if: the same day with changes, each planned, beside the day as it is."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import Executor, ThreadPoolExecutor
from dataclasses import dataclass, field, replace

from stillroom.book.procedures import Procedure
from stillroom.methods.learned import AS_PUBLISHED, Learned
from stillroom.planning.day import Day
from stillroom.planning.day_file.day_changes import changed_day_text
from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import clock_time, minutes_between, since_midnight_min
from stillroom.planning.goal_order import Goal
from stillroom.planning.how_good.goals import goals_of
from stillroom.planning.timetable import Answer, NoPlan
from stillroom.planning.way_changes import Kind
from stillroom.planning.ways.held_plan import KnownPlan, as_far_as_it_holds
from stillroom.planning.whole_day import plan_the_day
from stillroom.planning.why_not.explain import plain_reasons
from stillroom.planning.words.nothing_made import nothing_made
from stillroom.refusal import Refusal

AS_IT_IS = "as it is"


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """One day of those compared; plain values, so that it may come from anywhere."""

    change: str
    starts_at: str
    jars: int
    batches: int
    finish_min: int | None
    """`None` where no timetable fits."""
    lower_bound_min: int | None
    loads: int
    lateness: int
    """Weighted minutes by which wants are missed."""
    unmet: int
    """Wants that are not met in full."""
    why_not: str
    """Why there is no timetable; empty where there is one."""
    left_out: tuple[tuple[str, int], ...] = ()
    """(batch, jars) of those that have no room, what is missed most first."""
    holds_as_it_is: bool = False
    """Whether its plan makes the jars of the day as it is and breaks no rule of it."""
    first: tuple[Goal, ...] = ()
    """Goals that its day file puts before the others."""
    hour_min: int | None = None
    """Minute of the clock by which she would like to be done."""
    too_near: int = 0
    """Hurried moments that come close behind another in the same hands."""
    washes: int = 0
    """Of pots and mills."""
    free_in_one_piece_min: int = 0
    """Of those who help, their longest pieces together."""

    plan: DayPlan | None = field(default=None, compare=False, repr=False)
    """The whole plan, so that what was shown can be kept; `None` where none fits."""

    @property
    def bound_of(self) -> str | None:
        """What its bound is of: "this kitchen", or "these batches" alone."""
        if self.plan is None or self.lower_bound_min is None:
            return None
        return self.plan.bound_of

    @property
    def left_out_jars(self) -> int:
        """Jars that have no room."""
        return sum(jars for _, jars in self.left_out)

    @property
    def ends_clock_min(self) -> int:
        """Minute of the clock at its end: days may begin at other hours."""
        return since_midnight_min(self.starts_at) + (self.finish_min or 0)

    @property
    def ends_soonest(self) -> bool:
        """Whether it is proven that no plan of its batches ends sooner."""
        bound, end = self.lower_bound_min, self.finish_min
        return bound is not None and end is not None and end <= bound

    def later_min(self, base: Outcome) -> int | None:
        """By how much it ends later than another day; `None` where one has no end."""
        if self.finish_min is None or base.finish_min is None:
            return None
        return self.ends_clock_min - base.ends_clock_min


def outcome(
    change: str,
    text: str,
    seconds: float,
    workers: int,
    learned: Learned = AS_PUBLISHED,
    begin_with: Sequence[KnownPlan] = (),
) -> Outcome:
    """
    Plan one day file and sum it up.

    It takes and gives plain values and is found by its name, so that it can be run in
    another thread, process or machine. The search begins with the best of the plans
    that are given, as far as it holds on this day, and never ends with less.
    """
    day = read_day(text)
    plan = plan_the_day(
        day,
        seconds=seconds,
        workers=workers,
        learned=learned,
        begin_with=begin_with,
        explain=False,
    )
    return outcome_of(change, day, plan)


def plans_at_hand(plan: DayPlan | Refusal) -> tuple[KnownPlan, ...]:
    """The plan of a day, and those of its ways out, for days that are like it."""
    if isinstance(plan, Refusal):
        return ()
    starts = f"{plan.day.starts:%H:%M}"
    sizes = tuple(
        (f"{d.product}, {d.jar}", d.other)
        for d in plan.divided
        if d.taken and d.other is not None
    )
    found = []
    if isinstance(plan.answer, Answer):
        found.append(
            KnownPlan(starts_at=starts, plan=plan.answer.timetable, sizes=sizes)
        )
    none = plan.answer if isinstance(plan.answer, NoPlan) else plan.too_much
    for way in () if none is None else none.ways_out:
        sooner = sum(c.amount for c in way.changes if c.kind is Kind.STARTS)
        from_ = clock_time(starts, -sooner)
        found.append(KnownPlan(starts_at=from_, plan=way.timetable, sizes=sizes))
    return tuple(found)


def plan_changed(
    day_text: str,
    change: str,
    *,
    seconds: float = 5.0,
    workers: int = 2,
    deterministic: bool = True,
    own: tuple[Procedure, ...] = (),
    learned: Learned = AS_PUBLISHED,
) -> DayPlan | Refusal:
    """
    Plan a day with changes, as one command that knows nothing of what was shown before.

    The day as it is is planned first, with its ways out, so that the changed day begins
    with what those promised and never comes to less. It takes twice as long for that
    where the day fits, and up to three times as long where it does not. Where work is
    counted the ways are those that were shown; by the clock a busy machine may find
    others.

    Raises
    ------
    Unreadable
        If the day file or the change cannot be read.
    """

    def planned(day: Day, known: Sequence[KnownPlan]) -> DayPlan | Refusal:
        return plan_the_day(
            day,
            seconds=seconds,
            workers=workers,
            deterministic=deterministic,
            own=own,
            learned=learned,
            begin_with=known,
        )

    changed = read_day(changed_day_text(day_text, change))
    return planned(changed, plans_at_hand(planned(read_day(day_text), ())))


def outcome_of(change: str, day: Day, plan: DayPlan | Refusal) -> Outcome:
    """Sum up a plan of a day."""
    hour = None if day.done_by is None else day.done_by.hour * 60 + day.done_by.minute
    return replace(_summed_up(change, day, plan), first=day.first, hour_min=hour)


def _summed_up(change: str, day: Day, plan: DayPlan | Refusal) -> Outcome:
    starts = f"{day.starts:%H:%M}"
    if isinstance(plan, Refusal):
        return _without(change, starts, None, str(plan))
    if isinstance(plan.answer, NoPlan):
        clashes = plan.answer.clashes or _plain(plan)
        return _without(change, starts, plan, "; ".join(clashes))
    if plan.answer is None:
        return _without(change, starts, plan, nothing_made(plan).reason)
    return _with(change, starts, plan, plan.answer)


def _plain(plan: DayPlan) -> tuple[str, ...]:
    """Why nothing fits, where no search has been asked why."""
    reasons = () if plan.problem is None else tuple(plain_reasons(plan.problem))
    return reasons or ("nothing fits that was tried in its time",)


def _with(change: str, starts: str, plan: DayPlan, answer: Answer) -> Outcome:
    assert plan.problem is not None
    met = {m.goal: m.figures for m in goals_of(plan.problem, answer.timetable)}
    runs = met[Goal.FEW_RUNS]
    return Outcome(
        change=change,
        starts_at=starts,
        jars=sum(b.jars for b in plan.batches),
        batches=len(plan.batches),
        finish_min=answer.finish_min,
        lower_bound_min=answer.lower_bound_min,
        loads=len(answer.timetable.loads),
        lateness=answer.lateness,
        unmet=len(plan.unmet),
        why_not="",
        left_out=tuple(pair for out in plan.left_out for pair in out.each),
        too_near=met[Goal.ONE_MOMENT]["too_near"],
        washes=runs["pot_washes"] + runs["mill_washes"],
        free_in_one_piece_min=met[Goal.CALM]["in_one_piece_min"],
        plan=plan,
    )


def _without(change: str, starts: str, plan: DayPlan | None, why: str) -> Outcome:
    return Outcome(
        change=change,
        starts_at=starts,
        jars=sum(b.jars for b in plan.batches) if plan else 0,
        batches=len(plan.batches) if plan else 0,
        finish_min=None,
        lower_bound_min=None,
        loads=0,
        lateness=0,
        unmet=len(plan.unmet) if plan else 0,
        why_not=why,
    )


def what_if(
    day_text: str,
    changes: Sequence[str],
    *,
    seconds: float = 5.0,
    workers: int = 2,
    executor: Executor | None = None,
    learned: Learned = AS_PUBLISHED,
    as_it_is: DayPlan | Refusal | None = None,
) -> tuple[Outcome, ...]:
    """
    Return the day as it is, and then with each of the changes.

    Parameters
    ----------
    day_text : str
        A day file.
    changes : sequence of str
        See `day_changes`; each is one day to be compared, and may change several
        things, with semicolons between them.
    seconds : float
        For each search. [s]
    workers : int
        Search threads of each.
    executor : Executor, optional
        Where the days are planned; one after another in a thread of this process where
        none is given, so that each has the whole machine.
    learned : Learned
        What past days taught, for all of them alike.
    as_it_is : DayPlan or Refusal, optional
        The day's own plan, where there is one: it is not planned again. The others
        begin with it and with its ways out, as far as they hold: a day with one thing
        more has never fewer jars, and a way out keeps what it promised.

    Raises
    ------
    Unreadable
        If the day file or a change cannot be read. Nothing was planned then.
    """
    texts = [(change, changed_day_text(day_text, change)) for change in changes]
    day = read_day(day_text)
    if executor is not None:
        return _all(day, texts, seconds, workers, learned, as_it_is, executor)
    with ThreadPoolExecutor(max_workers=1) as one:
        return _all(day, texts, seconds, workers, learned, as_it_is, one)


def _all(
    day: Day,
    texts: list[tuple[str, str]],
    seconds: float,
    workers: int,
    learned: Learned,
    plan: DayPlan | Refusal | None,
    executor: Executor,
) -> tuple[Outcome, ...]:
    if plan is None:
        plan = executor.submit(
            plan_the_day, day, seconds=seconds, workers=workers, learned=learned
        ).result()
    begin_with = plans_at_hand(plan)
    asked = [
        executor.submit(outcome, change, text, seconds, workers, learned, begin_with)
        for change, text in texts
    ]
    base = outcome_of(AS_IT_IS, day, plan)
    found = (future.result() for future in asked)
    return (base, *(replace(o, holds_as_it_is=_holds(o, base)) for o in found))


def _holds(one: Outcome, base: Outcome) -> bool:
    """Whether the plan of a changed day is a plan of the day as it is, too."""
    mine, other = one.plan, base.plan
    if mine is None or other is None or other.problem is None:
        return False
    if not (isinstance(mine.answer, Answer) and isinstance(other.answer, Answer)):
        return False
    made, asked = ({(b.id, b.jars) for b in p.batches} for p in (mine, other))
    if made != asked:
        return False
    plan = mine.answer.timetable.moved(minutes_between(base.starts_at, one.starts_at))
    return as_far_as_it_holds(other.problem, plan) is not None
