"""One batch, with its recipe in kitchen measures; one load, with its process."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.book.processes import Process
from stillroom.explaining.asking import JARS as DRAWN_JARS
from stillroom.planning.dayplan import DayPlan, MadeBatch
from stillroom.planning.rinses import as_worked
from stillroom.planning.timetable import Answer, PlacedLoad, PlacedStep
from stillroom.planning.which_batches.batch_words import until_words
from stillroom.planning.words.load_words import (
    LoadWords,
    is_again,
    water_check,
    words_of,
)
from stillroom.planning.words.sheet import Sheet, day_sheet
from stillroom.running.loads import names_of
from stillroom.stand.cost import cost_per_jar
from stillroom.web.gone_by import plan_gone_by
from stillroom.web.pages import page
from stillroom.web.routes.odds import address_of

SETS = ("with_pectin", "liquid_pectin", "boiled_down", "remade")
"""Methods whose jars set by pectin, sugar and acid as they cool."""


def batch_page(request: Request) -> Response:
    """Page of one batch."""
    plan = plan_gone_by(request)
    if plan is None:
        return RedirectResponse("/day", status_code=303)
    wanted = request.path_params["batch"]
    batch = next((b for b in plan.batches if b.id == wanted), None)
    if batch is None:
        raise HTTPException(404, f"Today's plan has no batch called {wanted!r}.")
    sheet, answer = _timed(plan)
    placed = [s for s in answer.timetable.steps if s.batch == wanted] if answer else []
    pot = next((s.pot for s in placed if s.pot), batch.pot)
    return page(
        request,
        "batch.html",
        here="day",
        plan=plan,
        batch=batch,
        until=until_words(batch.procedure),
        sheet=sheet,
        load_names=names_of(plan),
        entries=[e for e in sheet.entries if e.batch == wanted] if sheet else [],
        loads=[
            load
            for load in (answer.timetable.loads if answer else ())
            if any(made == wanted for made, _ in load.jars)
        ],
        said=_said(plan),
        cost=cost_per_jar(batch, plan.day.shelf),
        pot=pot,
        pot_m3=_holds_m3(plan, pot) or batch.checked.pot_given_m3,
        why_then=_why_then(plan, placed),
        why_set=urlencode({"jar": batch.jar})
        if batch.procedure.method in SETS and batch.jar in DRAWN_JARS
        else "",
        why_pot=_why_pot(
            plan, batch, next((s.burner for s in placed if s.burner), None)
        ),
    )


def load_page(request: Request) -> Response:
    """Page of one canner load."""
    plan = plan_gone_by(request)
    if plan is None:
        return RedirectResponse("/day", status_code=303)
    wanted = request.path_params["load"]
    sheet, answer = _timed(plan)
    load = next(
        (one for one in (answer.timetable.loads if answer else ()) if one.id == wanted),
        None,
    )
    if load is None or sheet is None or answer is None:
        raise HTTPException(404, f"Today's plan has no load called {wanted!r}.")
    processes = _processes(plan, load)
    assert plan.problem is not None
    said = words_of(plan.problem, load)
    return page(
        request,
        "load.html",
        here="day",
        plan=plan,
        load=load,
        load_name=names_of(plan)[load.id],
        sheet=sheet,
        processes=processes,
        jar=plan.batch(load.jars[0][0]).jar,
        cautions=tuple({c.text: c for p in processes for c in p.cautions}.values()),
        timeline=_timeline(load, said, again=is_again(load, answer.timetable.loads)),
        why_then=address_of(load.id),
        said=said,
        **_why_load(plan, load),
    )


def _why_then(
    plan: DayPlan, placed: list[PlacedStep]
) -> dict[tuple[int, int, str], str]:
    """Address that says why each step begins when it does, by times and verb."""
    assert plan.problem is not None or not placed
    worked = None
    if plan.problem is not None:
        worked = as_worked(plan.problem, placed)
    verbs = {
        (b.id, s.id): s.verb
        for b in (worked.batches if worked else ())
        for s in b.steps
    }
    return {
        (s.start_min, s.end_min, verbs[s.batch, s.step]): address_of(
            f"{s.batch}/{s.step}"
        )
        for s in placed
    }


def _holds_m3(plan: DayPlan, pot: str) -> float | None:
    """What the pot holds that it is planned in: not always the one it was sized in."""
    return next((p.volume_m3 for p in plan.day.kitchen.pots if p.name == pot), None)


def _why_pot(plan: DayPlan, batch: MadeBatch, burner: str | None) -> str:
    """Question of the page that draws this batch's return to the boil."""
    sugar = sum(p.mass_kg or 0.0 for p in batch.parts if p.role == "sugar")
    base = sum(p.mass_kg or 0.0 for p in batch.parts) - sugar
    kitchen = plan.day.kitchen
    power = next((b.power_w for b in kitchen.burners if b.name == burner), None)
    asked = {
        "base": f"{base:.3f} kg",
        "sugar": f"{sugar:.3f} kg",
        "pot": "0 kg",
        "stove": kitchen.heat.value,
    }
    if power is not None:
        asked["burner"] = f"{power:.0f} W"
    return urlencode(asked)


def _why_load(plan: DayPlan, load: PlacedLoad) -> dict[str, Any]:
    """Questions of the pages that draw this load; empty where none does."""
    made = plan.batch(load.jars[0][0])
    process = made.process
    if (
        process is None
        or process.pressure_psi is not None
        or made.jar not in DRAWN_JARS
    ):
        return {"why_jar": "", "why_canner": ""}
    return {
        "why_jar": urlencode(
            {"product": process.product, "jar": made.jar, "pack": process.pack}
        ),
        "why_canner": urlencode(
            {
                "jars": str(load.count),
                "jar": made.jar,
                "stove": plan.day.kitchen.heat.value,
            }
        ),
    }


def _timeline(
    load: PlacedLoad, said: LoadWords, *, again: bool
) -> tuple[tuple[int, str], ...]:
    """Return what happens to a load, minute by minute of the plan."""
    water = water_check(said, again=again)
    return (
        (load.heat_min, "fire on" if load.hot else "fire on: the water warms"),
        (
            load.lower_min,
            f"{load.lowered_by} lowers the first jar{': ' if water else ''}{water}",
        ),
        (load.lowered_min, f"all jars are in: {said.lower_until}"),
        (load.boil_min, f"{said.starts}: the process clock starts, never earlier"),
        (load.done_min, f"the process time is over: {said.over}"),
        (load.lift_min, f"{load.lifted_by} lifts the first jar out: {said.lift_after}"),
        (load.out_min, "all jars stand on wood or a towel"),
    )


def _said(plan: DayPlan) -> dict[str, LoadWords]:
    """The words of each load, by its id."""
    if plan.problem is None or not isinstance(plan.answer, Answer):
        return {}
    return {
        load.id: words_of(plan.problem, load) for load in plan.answer.timetable.loads
    }


def _timed(plan: DayPlan) -> tuple[Sheet | None, Answer | None]:
    if plan.problem is None or not isinstance(plan.answer, Answer):
        return None, None
    return day_sheet(plan.problem, plan.answer.timetable), plan.answer


def _processes(plan: DayPlan, load: PlacedLoad) -> list[Process]:
    """Published processes of the batches aboard, the one the load is run by first."""
    found: dict[tuple[str, int, str], Process] = {}
    for made, _ in load.jars:
        process = plan.batch(made).process
        if process is None:
            continue
        found[process.product, process.total_min, process.source] = process
    return sorted(found.values(), key=lambda p: -p.total_min)


ROUTES = [
    Route("/batch/{batch:path}", batch_page),
    Route("/load/{load:path}", load_page),
]
