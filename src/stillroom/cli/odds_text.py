"""The odds of a day, for the terminal and for a program."""

from __future__ import annotations

from stillroom.cli.contracts import Json
from stillroom.cli.paragraphs import bullet, columns, heading, say
from stillroom.cli.plan_text import print_remarks
from stillroom.jar_count import jars_said
from stillroom.planning.day_odds.odds import LESS_MIN, DoneBy, Odds
from stillroom.planning.day_odds.odds_promises import PromiseOdds
from stillroom.planning.day_odds.odds_words import (
    A_FEW_MINUTES,
    MATTERS_IN_ORDER,
    NEARLY_ALWAYS,
    OFTEN_A_DAY,
    against_words,
    chance_words,
    odds_sentence,
    promise_words,
    rests_on,
    step_words,
)
from stillroom.planning.day_odds.one_more import OneMore
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import clock_time
from stillroom.planning.other_days.brought_back import BroughtBack
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.which_batches.not_made import (
    not_made_sentence,
    promised_and_not_made,
)


def print_odds(odds: Odds, day: DayPlan, problem: Problem, plan: Timetable) -> None:
    """Print how likely the day is over by when, and what decides it."""
    own = day.learned.seals is not None

    def at(minute: int) -> str:
        return clock_time(problem.starts_at, minute)

    say(odds_sentence(odds, problem.starts_at))
    if lacking := not_made_sentence(day):
        say(lacking)
    print_remarks(day)
    not_made = promised_and_not_made(day)
    for promise in odds.promises:
        bullet(promise_words(promise, problem.starts_at, not_made))
    heading("Done by")
    sure = next((d.minute for d in odds.done_by if d.chance > NEARLY_ALWAYS), 0)
    columns(
        [
            (at(d.minute), chance_words(d.chance))
            for d in odds.done_by
            if d.minute <= sure
        ]
    )
    if odds.matters:
        heading("What decides it")
        say(MATTERS_IN_ORDER)
        for m in odds.matters:
            basis = rests_on(problem, plan, m.of, m.step)
            bullet(
                f"{step_words(problem, plan, m.of, m.step)}: on the longest chain "
                f"{chance_words(m.on_path)}; {LESS_MIN:.0f} min less here is "
                f"{m.earlier_min:.0f} min earlier"
                + (f". Its minutes: {basis}" if basis else "")
            )
    often = [b for b in odds.broken if b.times_a_day >= OFTEN_A_DAY]
    if often:
        heading("Limits that give way")
        for b in often:
            bullet(
                f"{b.kind}: {b.times_a_day:.1f} times a day, by {b.over_min:.0f} min "
                f"on average, on {b.share_of_days * 100:.0f} of 100 days"
            )
    if odds.over_asked_min >= 0.5:
        say(
            f"Somebody is asked for more than four quarters {odds.over_asked_min:.0f} "
            "min a day: a pan is not left for the washing-up."
        )
    if not odds.spare.jars:  # nothing of the day is sealed
        return
    heading("To set out beside what is filled")
    lids = "a lid" if odds.spare.spare == 1 else "as many lids"
    say(
        f"{jars_said(odds.spare.spare)} and {lids}, beyond {odds.spare.jars}: "
        f"enough on 19 days of 20 ({odds.spare.source}"
        + ("" if own else ": one jar in 20 to 30 is lost")
        + ")."
        + ("" if own else " The evening list has one in twenty, enough on most days.")
    )


def print_one_more(
    more: tuple[OneMore, ...], plan: DayPlan, problem: Problem, planned: Timetable
) -> None:
    """Print what one more helper, burner or canner would bring."""
    heading("What one more would bring")
    say(f"{against_words(more, problem, planned)}; {A_FEW_MINUTES}.")
    if plan.left_out:
        say("To the day as it is planned, without what is left out:")
    columns(
        [
            ("with", "earlier", "done by", "four days in five by"),
            *(
                (
                    m.what,
                    f"{m.earlier_min} min" if m.earlier_min else "no gain found",
                    clock_time(problem.starts_at, m.finish_min),
                    clock_time(problem.starts_at, m.likely_min),
                )
                for m in more
            ),
        ]
    )


def print_brought_back(
    back: tuple[BroughtBack, ...], plan: DayPlan, problem: Problem
) -> None:
    """Print what one more would bring back of what is left out."""
    out = sum(left.jars for left in plan.left_out)
    heading(f"What one more would bring back of the {jars_said(out)} left out")
    columns(
        [
            ("with", "brings back", "done by", "which"),
            *(
                (
                    b.what,
                    jars_said(b.jars) if b.batches else "none found",
                    clock_time(problem.starts_at, b.finish_min),
                    ", ".join(name for name, _ in b.batches),
                )
                for b in back
            ),
        ]
    )


def odds_as_json(
    odds: Odds,
    more: tuple[OneMore, ...],
    back: tuple[BroughtBack, ...],
    problem: Problem,
    plan: Timetable,
) -> Json:
    """The same for a program."""
    return {
        **_finish(odds, problem.starts_at),
        **_what_decides(odds, problem, plan),
        "spare": {
            "jars": odds.spare.jars,
            "spare": odds.spare.spare,
            "source": odds.spare.source,
        },
        **_one_more(more, back),
    }


def _finish(odds: Odds, starts_at: str) -> Json:
    """When the day is over, and what is ready by its hour."""
    return {
        "starts_at": starts_at,
        "days": odds.days,
        "rho": odds.rho,
        "planned_min": odds.planned_min,
        "chance_as_planned": round(odds.chance_as_planned, 4),
        "done_by": [_by(starts_at, d) for d in odds.done_by],
        "wanted": None if odds.wanted is None else _by(starts_at, odds.wanted),
        "promises": [
            {"product": p.product, **_by(starts_at, p)} for p in odds.promises
        ],
        "half_by_min": odds.even_min,
        "four_in_five_by_min": odds.likely_min,
        "nineteen_in_twenty_by_min": odds.sure_min,
        "mean_min": round(odds.mean_min, 1),
        "sd_min": round(odds.sd_min, 1),
    }


def _by(starts_at: str, by: DoneBy | PromiseOdds) -> Json:
    return {
        "minute": by.minute,
        "clock": clock_time(starts_at, by.minute),
        "chance": round(by.chance, 4),
    }


def _what_decides(odds: Odds, problem: Problem, plan: Timetable) -> Json:
    """Steps that make the day late, and limits that give way on it."""
    return {
        "matters": [
            {
                "of": m.of,
                "step": m.step,
                "on_path": round(m.on_path, 4),
                "sd_min": round(m.sd_min, 2),
                "ten_less_is_earlier_min": round(m.earlier_min, 2),
                "basis": rests_on(problem, plan, m.of, m.step),
            }
            for m in odds.matters
        ],
        "broken": [
            {
                "limit": b.kind,
                "times_a_day": round(b.times_a_day, 3),
                "over_min": round(b.over_min, 1),
                "share_of_days": round(b.share_of_days, 4),
            }
            for b in odds.broken
        ],
        "over_asked_min": round(odds.over_asked_min, 2),
    }


def _one_more(more: tuple[OneMore, ...], back: tuple[BroughtBack, ...]) -> Json:
    """What one more helper, burner or canner would bring, and bring back."""
    return {
        "one_more_against_min": more[0].against_min if more else None,
        "one_more": [
            {
                "what": m.what,
                "makespan_min": m.finish_min,
                "earlier_min": m.earlier_min,
                "four_in_five_by_min": m.likely_min,
            }
            for m in more
        ],
        "one_more_brings_back": [
            {
                "what": b.what,
                "jars": b.jars,
                "batches": [{"batch": name, "jars": n} for name, n in b.batches],
                "makespan_min": b.finish_min,
            }
            for b in back
        ],
    }
