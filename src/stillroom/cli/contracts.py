"""What the commands print with ``--json``: contracts, documented in docs/cli.md."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from stillroom.methods.method import Part, Yield
from stillroom.planning.dayplan import DayPlan, LeftOut, MadeBatch, Task
from stillroom.planning.hot_jars import LABOUR_QUARTERS
from stillroom.planning.how_good.goals import goals_told
from stillroom.planning.problem import Problem
from stillroom.planning.rinses import as_worked
from stillroom.planning.timetable import (
    Answer,
    NoPlan,
    PlacedLoad,
    PlacedStep,
    PlanIf,
    Timetable,
)
from stillroom.planning.waits.load_names import LoadNames
from stillroom.planning.which_batches.not_made import (
    not_made_sentence,
    promised_and_not_made,
)
from stillroom.planning.words.division_words import division_words
from stillroom.planning.words.learned_words import own_figures
from stillroom.refusal import Caution, Refusal

Json = dict[str, Any]


def parts_as_json(parts: Iterable[Part]) -> list[Json]:
    """Ingredients of one batch; of what goes in by the jar, the quantity to each."""
    return [
        {
            "name": part.name,
            "quantity": round(part.quantity, 4),
            "unit": part.unit,
            "per": part.per or None,
            "mass_g": None if part.mass_kg is None else round(part.mass_kg * 1000, 1),
        }
        for part in parts
    ]


def expected_as_json(expected: Yield, jars: int) -> Json:
    """Jars that a batch is expected to fill, beside the printed yield."""
    return {
        "jars": jars,
        "likely": round(expected.likely, 2),
        "low": round(expected.low, 2),
        "high": round(expected.high, 2),
        "printed": expected.printed,
        "basis": expected.basis,
    }


def cautions_as_json(cautions: Iterable[Caution]) -> list[Json]:
    """Cautions with who says so."""
    return [{"text": c.text, "source": c.source} for c in cautions]


def goals_as_json(plan: DayPlan, problem: Problem, table: Timetable) -> list[Json]:
    """How the plan stands to each goal, in the keeper's order."""
    return [
        {
            "goal": str(met.goal),
            "met": met.met,
            "sentence": met.sentence,
            "figures": dict(met.figures),
        }
        for met in goals_told(problem, table, not_made=not_made_sentence(plan))
    ]


def plan_as_json(plan: DayPlan, problem: Problem, answer: Answer) -> Json:
    """Return the contract of ``plan --json``."""
    table = answer.timetable
    return {
        "day": plan.day.name,
        "starts_at": problem.starts_at,
        "goals": goals_as_json(plan, problem, table),
        "makespan_min": answer.finish_min,
        "lower_bound_min": answer.lower_bound_min,
        "lower_bound_why": answer.lower_bound_why,
        "lower_bound_of": plan.bound_of,
        "gap": round(answer.gap, 4),
        "proven": answer.proven,
        "by_hand_min": answer.by_hand_min,
        "by_hand": None
        if answer.by_hand is None
        else timetable_as_json(problem, answer.by_hand),
        "lateness": answer.lateness,
        "solve_s": round(answer.solve_s, 2),
        "made_by": answer.made_by,
        "remarks": list(answer.remarks),
        "batches": [_batch(batch, answer) for batch in plan.batches],
        **timetable_as_json(problem, table),
        "learned": [
            {
                "product": figure.product or None,
                "step": figure.step or None,
                "what": figure.what,
                "own": figure.own,
                "book": figure.book,
                "unit": figure.unit,
                "rests_on": figure.words,
            }
            for figure in own_figures(plan)
        ],
        **missing_as_json(plan),
    }


def timetable_as_json(problem: Problem, table: Timetable) -> Json:
    """Steps, loads and breaks of a timetable."""
    worked, names = as_worked(problem, table), LoadNames(problem, table)
    return {
        "steps": [_step(step, worked) for step in table.steps],
        "loads": [_load(load, problem, names) for load in table.loads],
        "breaks": [
            {"person": b.person, "start_min": b.start_min, "end_min": b.end_min}
            for b in table.breaks
        ],
    }


def not_made_as_json(plan: DayPlan) -> list[Json]:
    """What was promised by an hour and is not in the plan."""
    return [
        {
            "product": one.product,
            "jar": one.jar,
            "jars": one.jars,
            "by": f"{one.by:%H:%M}",
            "stands": one.stands or None,
        }
        for one in promised_and_not_made(plan)
    ]


def missing_as_json(plan: DayPlan) -> Json:
    """What is to be bought, not met, or left over, and the cautions of the day."""
    return {
        "shopping": [
            {"name": p.name, "need": p.need, "have": p.have, "buy": p.buy, "why": p.why}
            for p in plan.shopping
        ],
        "unmet": [
            {
                "product": u.product,
                "jar": u.jar,
                "wanted": u.wanted,
                "planned": u.planned,
                "reason": u.reason,
                "instead": u.instead,
            }
            for u in plan.unmet
        ],
        "left_out": [left_out_as_json(out) for out in plan.left_out],
        "promised_and_not_made": not_made_as_json(plan),
        "too_much": too_much_as_json(plan.too_much),
        "divided": [
            {
                "product": d.product,
                "jar": d.jar,
                "counted_in": d.one_is or d.jar,
                "by_the_rule": list(d.plain),
                "other": None if d.other is None else list(d.other),
                "taken": d.taken,
                "why": division_words(d, f"{plan.day.starts:%H:%M}"),
                "by_the_rule_min": d.plain_ends_min,
                "other_min": d.other_ends_min,
            }
            for d in plan.divided
        ],
        "leftovers": [
            {"lot": rest.lot, "text": rest.text, "choices": list(rest.choices)}
            for rest in plan.leftovers
        ],
        "evening_before": list(plan.evening_before),
        "afterwards": [
            {
                "after_h": after.later.after_h,
                "text": after.later.text,
                "batches": list(after.batches),
                "source": after.later.source,
            }
            for after in plan.afterwards
        ],
        "evening_tasks": _tasks(plan.evening_tasks),
        "after_tasks": _tasks(plan.after_tasks),
        "cautions": cautions_as_json(plan.cautions),
    }


def left_out_as_json(out: LeftOut) -> Json:
    """Batches that have no room, and why these."""
    return {
        "batches": list(out.batches),
        "product": out.product,
        "jar": out.jar,
        "jars": out.jars,
        "why": out.why,
        "instead": out.fruit,
        "spoils": out.spoils,
        "proven": out.proven,
    }


def too_much_as_json(none: NoPlan | None) -> Json | None:
    """Why not all fits; what was solved apart from what is only advised."""
    if none is None:
        return None
    return {
        "clashes": list(none.clashes),
        "minimal": none.minimal,
        "ways_out": [
            {
                "says": way.says,
                "cost_min": way.cost_min,
                "makespan_min": way.finish_min,
                "done_by": way.done_by,
                "with": way.typed,
                "why_no_with": way.why_not_typed,
                "or_sooner": way.may_be_sooner,
                "shown": way.is_shown,
            }
            for way in none.ways_out
        ],
        "why_fewer": none.why_fewer,
        "advice": list(none.advice),
        "plan_if": plan_if_as_json(none.plan_if),
    }


def _tasks(tasks: Iterable[Task]) -> list[Json]:
    return [
        {
            "when": task.when.isoformat(timespec="minutes"),
            "until": None
            if task.until is None
            else task.until.isoformat(timespec="minutes"),
            "who": task.who,
            "minutes": task.minutes,
            "what": task.what,
            "batches": list(task.batches),
            "source": task.source,
        }
        for task in tasks
    ]


def _batch(batch: MadeBatch, answer: Answer) -> Json:
    placed = next(
        (s.pot for s in answer.timetable.steps if s.batch == batch.id and s.pot), None
    )
    return {
        "id": batch.id,
        "product": batch.product,
        "multiple": batch.multiple,
        "pot": placed or batch.pot,
        "inputs": [{"lot": draw.lot, "quantity": draw.text} for draw in batch.draws],
        "ingredients": parts_as_json(batch.parts),
        "expected": expected_as_json(batch.expected, batch.jars),
        "keeping": batch.keeping,
        "source": batch.procedure.source,
    }


def _step(placed: PlacedStep, problem: Problem) -> Json:
    verb = next(
        step.verb
        for batch in problem.batches
        if batch.id == placed.batch
        for step in batch.steps
        if step.id == placed.step
    )
    hands = (
        [{"person": placed.person, "quarters": placed.quarters}]
        if placed.person is not None
        else []
    )
    mill = f"mill {placed.mill}" if placed.mill is not None else None
    return {
        "id": f"{placed.batch}/{placed.step}",
        "batch": placed.batch,
        "verb": verb,
        "start_min": placed.start_min,
        "end_min": placed.end_min,
        "hands": hands,
        "tools": [tool for tool in (placed.pot, placed.burner, mill) if tool],
    }


def _load(load: PlacedLoad, problem: Problem, names: LoadNames) -> Json:
    process = next(p for p in problem.processes if p.id == load.process)
    return {
        "id": load.id,
        "name": names.short(load.id),
        "canner": load.canner,
        "jar": process.jar_size,
        "process_min": load.process_min,
        "pressure_psi": process.pressure_psi,
        "source": process.source,
        "hands": [
            {
                "person": person,
                "quarters": LABOUR_QUARTERS,
                "start_min": start,
                "end_min": end,
            }
            for person, start, end in (
                (load.lowered_by, load.lower_min, load.lowered_min),
                (load.lifted_by, load.lift_min, load.out_min),
            )
        ],
        "loaded_min": load.lowered_min,
        "boil_min": load.boil_min,
        "out_min": load.out_min,
        "jars": [{"batch": batch, "count": count} for batch, count in load.jars],
    }


def no_plan_as_json(
    none: NoPlan | None, refusal: Refusal, like: PlanIf | None = None
) -> Json:
    """What ``--json`` prints of a day without a plan: the no, and what helps."""
    return {
        "refusal": {
            "reason": refusal.reason,
            "instead": refusal.instead,
            "source": refusal.source,
        },
        "too_much": too_much_as_json(none),
        "plan_if": plan_if_as_json(like if none is None else none.plan_if),
    }


def plan_if_as_json(like: PlanIf | None) -> Json | None:
    """A plan of another day, which says on its face that it is one."""
    if like is None:
        return None
    return {
        "fits_this_day": False,
        "says": like.says,
        "ends": like.ends,
        "mark": like.mark,
        "made_by": like.made_by,
        "makespan_min": like.timetable.finish_min,
        **timetable_as_json(like.problem, like.timetable),
    }
