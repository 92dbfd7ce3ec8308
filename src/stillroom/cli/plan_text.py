"""A day's plan as people read it in a terminal."""

from __future__ import annotations

import datetime as dt
import shlex

import click

from stillroom.capital import capital
from stillroom.cli.clock_lines import print_clock_lines
from stillroom.cli.paragraphs import bullet, columns, heading, say
from stillroom.cli.plan_if_text import print_plan_if
from stillroom.jar_count import jars_said
from stillroom.measures import both
from stillroom.planning.answering import NOTHING_BETTER
from stillroom.planning.dayplan import DayPlan, MadeBatch, Task
from stillroom.planning.daytime import day_said
from stillroom.planning.problem import Problem
from stillroom.planning.sentence import (
    by_hand_sentence,
    first_sentence,
    how_good,
    made_and_beside,
)
from stillroom.planning.timetable import Answer, NoPlan, PlacedLoad
from stillroom.planning.which_batches.batch_words import reckoned_words
from stillroom.planning.words.division_words import division_words
from stillroom.planning.words.learned_words import apart, own_figures
from stillroom.planning.words.load_words import load_words
from stillroom.planning.words.sheet import Sheet, day_sheet
from stillroom.running.clock import HERE
from stillroom.running.events import PlanTaken


def _print_by_hand(problem: Problem, answer: Answer) -> None:
    heading("By hand, one batch after another")
    if answer.by_hand is None:
        say("It does not fit the day.")
        return
    say("Only to compare with: the plan is the one above.")
    print_clock_lines(day_sheet(problem, answer.by_hand))


def print_plan_in_short(plan: DayPlan, *, again: PlanTaken | None = None) -> None:
    """
    Print whose day it is, and the sentence that matters first.

    ``again`` is the plan that was taken over last, where ``plan`` is that one: what was
    proven, was proven of the day as it was to be.
    """
    heading(
        f"{plan.day.name}, {plan.day.date:%A} {plan.day.date.day} {plan.day.date:%B %Y}"
    )
    if plan.day.invented:
        say("An invented day: people, stock and prices are made up.")
    if again is None:
        say(first_sentence(plan))
        return
    said, beside = made_and_beside(plan)
    say(f"{said} {beside}" if plan.left_out else said)
    at = again.occurred_at.astimezone(HERE)
    say(f"Planned again at {at:%-H:%M}: {again.sentence}")


def print_plan(plan: DayPlan, *, run_on: bool = False, by_hand: bool = False) -> None:
    """
    Print what matters first, then what is missing, then the day by the clock.

    With ``run_on`` the plan of a longer day too, where not all of it fits; with
    ``by_hand`` the plan by hand, step by step.
    """
    print_plan_in_short(plan)
    if good := how_good(plan):
        say(good)
    if more := by_hand_sentence(plan):
        say(more)
    print_remarks(plan, said=more)
    say(
        f"Water boils at {both(plan.air.water_boils_k)} here today; jelly without "
        f"added pectin is done at {both(plan.air.jelly_point_k)}."
    )
    if own := plan.air.thermometer:
        say(
            f"On your thermometer that is {both(own.stop_reading_k)}; ask the sheet "
            f"test from {both(own.sheet_test_from_k, 0)}."
        )
    if isinstance(plan.answer, NoPlan):
        print_no_plan(plan.answer)
    _print_missing(plan)
    _print_batches(plan)
    _print_divisions(plan)
    _print_learned(plan)
    if isinstance(plan.answer, Answer) and plan.problem is not None:
        sheet = day_sheet(plan.problem, plan.answer.timetable)
        _print_loads(plan, sheet)
        heading("By the clock")
        print_clock_lines(sheet)
        if by_hand:
            _print_by_hand(plan.problem, plan.answer)
        if plan.too_much is not None:
            print_plan_if(plan.too_much.plan_if, whole=run_on)
    elif isinstance(plan.answer, NoPlan):
        print_plan_if(plan.answer.plan_if, whole=True)
    else:
        print_plan_if(plan.kitchen_if, whole=True)
    if plan.after_tasks:
        heading("Afterwards")
        for task in plan.after_tasks:
            bullet(_task_line(task, plan.day.date))
    elif plan.afterwards:
        heading("Afterwards")
        for after in plan.afterwards:
            bullet(f"After {_span(after.later.after_h)}: {after.later.text}")
    if plan.cautions:
        heading("Cautions")
        for caution in plan.cautions:
            bullet(f"{caution.text} ({caution.source})")


def print_remarks(plan: DayPlan, said: str = "") -> None:
    """
    Print what is to be known of how the plan was found: that it may differ, say.

    What is in ``said`` was printed already.
    """
    if isinstance(plan.answer, Answer):
        for remark in plan.answer.remarks:
            sentence = f"{capital(remark)}."
            if remark != NOTHING_BETTER and sentence not in said:
                say(sentence)  # the by-hand sentence says that nothing is better


def _task_line(task: Task, day: dt.date) -> str:
    """A day, an hour, who, and what."""
    at = f"{day_said(task.when, day)}, {task.when:%-H:%M}"
    if task.until is not None:
        at += f" (by {task.until:%A} {task.until:%-H:%M})"
    return f"{at}, {task.who}, {task.minutes} min: {task.what}"


def print_no_plan(none: NoPlan, why: str = "Why no timetable fits") -> None:
    """Print why no timetable fits, and the ways out with what each comes to."""
    heading(why)
    for clash in none.clashes:
        bullet(clash)
    if none.minimal and len(none.clashes) > 1:
        say("Without any one of these it would fit.")
    _print_helps(none)


def _print_helps(none: NoPlan) -> None:
    if none.ways_out:
        heading("The cheapest ways out, each tried")
        for way in none.ways_out:
            bullet(way.sentence)
            if way.typed:
                # on one line, so that it can be copied
                given = shlex.quote(way.typed)
                click.echo(f"  stillroom what-if DAY.toml --with {given}")
            elif way.why_not_typed:
                say(f"{capital(way.why_not_typed)}.")
        if none.why_fewer:
            say(f"{capital(none.why_fewer)}.")
        if any(way.typed for way in none.ways_out):
            say("With --save NEW.toml behind it, the day is written so, as a day file.")
        if none.advice:
            say(f"Not tried, and may help: {'; '.join(none.advice)}.")
    elif none.other_helps:
        heading("What may help")
        for other in none.other_helps:
            bullet(other)


def _span(hours: float) -> str:
    return f"{hours / 24:.0f} days" if hours > 48 else f"{hours:.0f} h"


def _print_missing(plan: DayPlan) -> None:
    if plan.left_out:
        heading("Left out")
        for out in plan.left_out:
            bullet(out.sentence)
    if plan.too_much is not None:
        if plan.too_much.clashes:
            heading("Why not all of it fits")
        for clash in plan.too_much.clashes:
            bullet(clash)
        _print_helps(plan.too_much)
    if plan.evening_before:
        first = plan.evening_tasks[0].when
        heading(f"{plan.before_is_called}, {day_said(first, plan.day.date)}")
        for task in plan.evening_tasks:
            by = f" ({task.source})" if task.source else ""
            bullet(f"{task.when:%-H:%M} {task.who}: {task.what}{by}")
    if plan.shopping:
        heading("To buy")
        columns(
            [
                (p.name, f"buy {p.buy}", f"need {p.need}, have {p.have}; {p.why}")
                for p in plan.shopping
            ]
        )
    if plan.unmet:
        heading("Wanted and not planned")
        for u in plan.unmet:
            bullet(
                f"{u.product}, {u.jar}: {u.planned} of {jars_said(u.wanted)}. "
                f"{u.reason}. Instead: {u.instead}."
            )
    if plan.leftovers:
        is_made = isinstance(plan.answer, Answer) or not plan.batches
        if_made = "What would be left over if all of it were made"
        heading("Left over" if is_made else if_made)
        for rest in plan.leftovers:
            choices = capital("; or ".join(rest.choices))
            bullet(f"{rest.lot}: {rest.text}. {choices}.")


def _print_batches(plan: DayPlan) -> None:
    if not plan.batches:
        return
    heading("Batches" if isinstance(plan.answer, Answer) else "What was to be made")
    alike: dict[tuple[str, str, int], list[MadeBatch]] = {}
    for batch in plan.batches:
        key = (batch.product, batch.jar, batch.multiple)
        alike.setdefault(key, []).append(batch)
    columns(
        [
            (
                f"{len(batches)} × {product}",
                f"{sum(b.jars for b in batches)} {jar}",
                _batch_line(batches[0]),
            )
            for (product, jar, _), batches in alike.items()
        ]
    )


def _print_divisions(plan: DayPlan) -> None:
    """Say of packs how they were divided into pots, and what another way comes to."""
    if not plan.divided:
        return
    pots = any(divided.in_pots for divided in plan.divided)
    heading(f"How large the {'pots' if pots else 'batches'} are")
    for divided in plan.divided:
        sentence = division_words(divided, f"{plan.day.starts:%H:%M}")
        bullet(f"{capital(sentence)}.")


def _batch_line(batch: MadeBatch) -> str:
    expected = batch.expected
    printed = expected.printed
    return (
        f"each {reckoned_words(expected.low, expected.high)}, "
        + ("" if printed == "not printed" else "printed ")
        + f"{printed}; {batch.checked.outlook}"
    )


def _print_learned(plan: DayPlan) -> None:
    figures = own_figures(plan)
    if not figures:
        return
    heading("Learned from your past days")
    other, agree = apart(figures)
    for figure in other:
        bullet(figure.sentence)
    if agree:
        say(agree)
    say("With --as-published the plan goes by the book's figures alone.")


def _given(load: PlacedLoad, pressed_at: str) -> str:
    if load.is_cut_short:
        return "no whole process: "
    return f"{load.process_min} min{pressed_at}: "


def _print_loads(plan: DayPlan, sheet: Sheet) -> None:
    """Print the canner runs; of one under pressure, what its gauge has to show."""
    assert isinstance(plan.answer, Answer)
    assert plan.problem is not None
    words = {p.id: load_words(p.pressure_psi) for p in plan.problem.processes}
    begins = {
        process: said.starts if said.pressed_at else "boil"
        for process, said in words.items()
    }
    if not plan.answer.timetable.loads:
        return  # nothing is canned
    heading("Canner loads")
    columns(
        [
            (
                f"load {number}",
                load.canner,
                f"in {sheet.clock(load.lower_min)}",
                f"{begins[load.process]} {sheet.clock(load.boil_min)}",
                f"out by {sheet.clock(load.out_min)}",
                _given(load, words[load.process].pressed_at)
                + ", ".join(f"{count} {batch}" for batch, count in load.jars),
            )
            for number, load in enumerate(
                sorted(plan.answer.timetable.loads, key=lambda load: load.boil_min), 1
            )
        ]
    )
    for source in dict.fromkeys(
        f"{b.process.minutes} min{load_words(b.process.pressure_psi).pressed_at} "
        f"for {b.jar} jars of {b.process.product}: "
        f"{b.process.source} ({b.process.how_known.replace('_', ' ')})"
        for b in plan.batches
        if b.process
    ):
        bullet(source)
