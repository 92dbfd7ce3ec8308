"""What if: the same day with changes, each planned, beside the day as it is."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import Executor, ThreadPoolExecutor
from dataclasses import dataclass

from stillroom.methods.learned import AS_PUBLISHED, Learned
from stillroom.planning.day_changes import changed_day_text
from stillroom.planning.dayfile import read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.timetable import Answer, NoPlan
from stillroom.planning.whole_day import plan_the_day
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

    @property
    def ends_clock_min(self) -> int:
        """Minute of the clock at its end: days may begin at other hours."""
        hours, minutes = self.starts_at.split(":")
        return int(hours) * 60 + int(minutes) + (self.finish_min or 0)

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
) -> Outcome:
    """
    Plan one day file and sum it up.

    It takes and gives plain values and is found by its name, so that it can be run in
    another thread, process or machine.
    """
    day = read_day(text)
    plan = plan_the_day(day, seconds=seconds, workers=workers, learned=learned)
    starts = f"{day.starts:%H:%M}"
    if isinstance(plan, Refusal):
        return _without(change, starts, None, str(plan))
    if isinstance(plan.answer, NoPlan):
        return _without(change, starts, plan, "; ".join(plan.answer.clashes))
    if plan.answer is None:
        return _without(change, starts, plan, "no batch can be made")
    return _with(change, starts, plan, plan.answer)


def _with(change: str, starts: str, plan: DayPlan, answer: Answer) -> Outcome:
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

    Raises
    ------
    Unreadable
        If the day file or a change cannot be read. Nothing was planned then.
    """
    texts = [(AS_IT_IS, day_text)]
    texts += [(change, changed_day_text(day_text, change)) for change in changes]
    if executor is not None:
        return _all(texts, seconds, workers, learned, executor)
    with ThreadPoolExecutor(max_workers=1) as one:
        return _all(texts, seconds, workers, learned, one)


def _all(
    texts: list[tuple[str, str]],
    seconds: float,
    workers: int,
    learned: Learned,
    executor: Executor,
) -> tuple[Outcome, ...]:
    asked = [
        executor.submit(outcome, change, text, seconds, workers, learned)
        for change, text in texts
    ]
    return tuple(future.result() for future in asked)
