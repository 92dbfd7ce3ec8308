"""``stillroom odds``: how likely the day is over by when, and what decides it."""

from __future__ import annotations

from pathlib import Path

import click

from stillroom.cli.contracts import not_made_as_json
from stillroom.cli.options import as_json, print_json
from stillroom.cli.paragraphs import bullet, columns, heading, say
from stillroom.cli.plan_text import print_remarks
from stillroom.cli.planned import day_file as day_file_argument
from stillroom.cli.planned import own_days, planned_day
from stillroom.cli.planned import seconds as seconds_option
from stillroom.cli.waiting import waiting
from stillroom.jar_count import jars_said
from stillroom.planning.day_odds.odds import LESS_MIN, Odds, odds_learned
from stillroom.planning.day_odds.odds_words import (
    A_FEW_MINUTES,
    MATTERS_IN_ORDER,
    against_words,
    chance_words,
    odds_sentence,
    promise_words,
    rests_on,
    step_words,
)
from stillroom.planning.day_odds.one_more import OneMore, worth_of_one_more
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.other_days.brought_back import BroughtBack, brought_back
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.which_batches.not_made import (
    not_made_sentence,
    promised_and_not_made,
)
from stillroom.planning.words.how_long import one_more_s
from stillroom.planning.words.sheet import clock

ALL_BUT_SURE = 0.995
OFTEN_A_DAY = 0.05
"""Limits that give way less often are only in the JSON."""


@click.command(name="odds")
@day_file_argument
@click.option(
    "--days",
    type=click.IntRange(100, 200_000),
    default=10_000,
    show_default=True,
    help="How many days are simulated.",
)
@seconds_option
@click.option(
    "--one-more/--no-one-more",
    default=True,
    show_default=True,
    help="Whether the day is planned again with one more helper, burner or canner.",
)
@own_days
@as_json
def command(
    day_file: Path,
    days: int,
    seconds: float,
    one_more: bool,
    db: str | None,
    as_published: bool,
    json_: bool,
) -> None:
    """Say how likely a day is over by when, and what decides it."""
    plan, problem, answer = planned_day(day_file, seconds, db, as_published)
    odds = odds_learned(problem, answer.timetable, plan.learned, days=days)
    more: tuple[OneMore, ...] = ()
    back: tuple[BroughtBack, ...] = ()
    if one_more:
        each_s = max(0.5, seconds / 3)
        all_s = one_more_s(each_s, left_out=bool(plan.left_out))
        with waiting(
            f"Planning with one helper, burner, canner more: about {all_s:.0f} s"
        ):
            more = worth_of_one_more(problem, answer.timetable, seconds=each_s)
            back = brought_back(plan, seconds=each_s)
    if json_:
        not_made = not_made_as_json(plan)
        said = _as_json(odds, more, back, problem, answer.timetable)
        print_json({**said, "promised_and_not_made": not_made})
        return
    _print(odds, plan, problem, answer.timetable)
    print_remarks(plan)
    if more:
        _print_more(more, plan, problem, answer.timetable)
    if back:
        _print_back(back, plan, problem)


def _print(odds: Odds, day: DayPlan, problem: Problem, plan: Timetable) -> None:
    own = day.learned.seals is not None

    def at(minute: int) -> str:
        return clock(problem.starts_at, minute)

    say(odds_sentence(odds, problem.starts_at))
    if lacking := not_made_sentence(day):
        say(lacking)
    not_made = promised_and_not_made(day)
    for promise in odds.promises:
        bullet(promise_words(promise, problem.starts_at, not_made))
    heading("Done by")
    sure = next((d.minute for d in odds.done_by if d.chance > ALL_BUT_SURE), 0)
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
    heading("To set out beside what is filled")
    say(
        f"{jars_said(odds.spare.spare)} and as many lids, beyond {odds.spare.jars}: "
        f"enough on 19 days of 20 ({odds.spare.source}"
        + ("" if own else ": one jar in 20 to 30 is lost")
        + ")."
        + ("" if own else " The evening list has one in twenty, enough on most days.")
    )


def _print_more(
    more: tuple[OneMore, ...], plan: DayPlan, problem: Problem, planned: Timetable
) -> None:
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
                    clock(problem.starts_at, m.finish_min),
                    clock(problem.starts_at, m.likely_min),
                )
                for m in more
            ),
        ]
    )


def _print_back(back: tuple[BroughtBack, ...], plan: DayPlan, problem: Problem) -> None:
    out = sum(left.jars for left in plan.left_out)
    heading(f"What one more would bring back of the {jars_said(out)} left out")
    columns(
        [
            ("with", "brings back", "done by", "which"),
            *(
                (
                    b.what,
                    jars_said(b.jars) if b.batches else "none found",
                    clock(problem.starts_at, b.finish_min),
                    ", ".join(name for name, _ in b.batches),
                )
                for b in back
            ),
        ]
    )


def _as_json(
    odds: Odds,
    more: tuple[OneMore, ...],
    back: tuple[BroughtBack, ...],
    problem: Problem,
    plan: Timetable,
) -> dict[str, object]:
    return {
        "starts_at": problem.starts_at,
        "days": odds.days,
        "rho": odds.rho,
        "planned_min": odds.planned_min,
        "chance_as_planned": round(odds.chance_as_planned, 4),
        "done_by": [
            {
                "minute": d.minute,
                "clock": clock(problem.starts_at, d.minute),
                "chance": round(d.chance, 4),
            }
            for d in odds.done_by
        ],
        "wanted": None
        if odds.wanted is None
        else {
            "minute": odds.wanted.minute,
            "clock": clock(problem.starts_at, odds.wanted.minute),
            "chance": round(odds.wanted.chance, 4),
        },
        "promises": [
            {
                "product": p.product,
                "minute": p.minute,
                "clock": clock(problem.starts_at, p.minute),
                "chance": round(p.chance, 4),
            }
            for p in odds.promises
        ],
        "half_by_min": odds.even_min,
        "four_in_five_by_min": odds.likely_min,
        "nineteen_in_twenty_by_min": odds.sure_min,
        "mean_min": round(odds.mean_min, 1),
        "sd_min": round(odds.sd_min, 1),
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
        "spare": {
            "jars": odds.spare.jars,
            "spare": odds.spare.spare,
            "source": odds.spare.source,
        },
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
