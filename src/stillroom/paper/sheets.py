"""The day sheet on paper: what one pins to the refrigerator and ticks with a pencil."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any, Literal

from stillroom.book.procedures import Procedure
from stillroom.capital import capital
from stillroom.in_a_list import all_of
from stillroom.jar_count import counted, jars_said
from stillroom.measures import depth, height
from stillroom.measures.write import minutes_said
from stillroom.methods.by_name import method_named
from stillroom.methods.canner_water import OPEN_MIN
from stillroom.methods.own_shares import TIMED
from stillroom.methods.portions import quantity_words, weighs_beside
from stillroom.paper.press import press
from stillroom.planning.dayplan import DayPlan, MadeBatch, Task
from stillroom.planning.daytime import day_said
from stillroom.planning.sentence import bound_sentence, what_is_missed
from stillroom.planning.timetable import Answer, NoPlan, PlacedLoad
from stillroom.planning.words.entries import Entry, Ink
from stillroom.planning.words.nothing_made import nothing_made
from stillroom.planning.words.sheet import Sheet, day_sheet
from stillroom.refusal import Refusal, Refused
from stillroom.running.events import RunLoad
from stillroom.running.loads import loads_of
from stillroom.running.rules import ClockRules, rules_for

Page = Literal["us-letter", "a4"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Again:
    """When the rest of a day was planned again."""

    minute: int
    """Of the plan: what was over by then has no box to tick any more."""
    at: str
    """The hour, as the board at the stove says it."""


def day_sheet_pdf(
    plan: DayPlan, *, page: Page = "us-letter", again: Again | None = None
) -> bytes:
    """
    Return the sheet of a planned day as a PDF, black on white.

    First sentence, a list by the clock for each person, canner loads with their
    process and source, recipes in kitchen measures, what to buy, what to do the
    evening before, cautions.

    Parameters
    ----------
    plan : DayPlan
        With a timetable.
    page : {"us-letter", "a4"}
        Size of the paper.
    again : Again, optional
        Where the rest of the day was planned again.

    Raises
    ------
    Refused
        If the day has no timetable, with why and what would help.
    """
    return press("day.typ", day_sheet_rows(plan, page=page, again=again))


def day_sheet_rows(
    plan: DayPlan, *, page: Page = "us-letter", again: Again | None = None
) -> dict[str, Any]:
    """Return all that the sheet says, as plain values."""
    if plan.problem is None or not isinstance(plan.answer, Answer):
        raise Refused(_no_timetable(plan))
    sheet = day_sheet(plan.problem, plan.answer.timetable)
    day, since, before = plan.day, "", plan.evening_tasks
    if again is not None:
        left = tuple(e for e in sheet.entries if e.end_min > again.minute)
        sheet, before = replace(sheet, entries=left), ()
        since = (
            f"Planned again at {again.at}: what was over by then is not on this sheet."
        )
    return {
        "page": page,
        "title": day.name.strip() or "The day",
        "date": f"{day.date:%A} {day.date.day} {day.date:%B %Y}",
        "invented": day.invented,
        "sentence": _sentence(plan, plan.answer, sheet),
        "since": since,
        "people": [
            {
                "name": person.id,
                "lines": [_line(e, sheet) for e in sheet.entries if e.who == person.id],
            }
            for person in plan.problem.people
        ],
        "alone": [
            _line(e, sheet)
            for e in sheet.entries
            if not (e.who or e.near) and e.ink is not Ink.PROCESS
        ],
        "pressed": any(e.ink is Ink.NEAR for e in sheet.entries),
        "near": [
            _line(e, sheet)
            for e in sheet.entries
            if e.near or (e.ink is Ink.PROCESS and not e.who)
        ],
        **_loads(plan, plan.answer, sheet, again),
        "elevation": height(plan.air.elevation_ft),
        "recipes": _recipes(plan.batches),
        "shopping": [
            {"what": p.name, "buy": p.buy, "why": f"needs {p.need}, has {p.have}"}
            for p in plan.shopping
        ],
        "before_is_called": plan.before_is_called,
        "evening_before": [
            f"{task.when:%-H:%M} {task.who}: {task.what}"
            + (f" ({task.source})" if task.source else "")
            for task in before
        ],
        "afterwards": [
            f"{_due(task, day.date)} {task.who}: {task.what}"
            for task in plan.after_tasks
        ],
        "unmet": [
            f"{u.product}: {u.planned} of {jars_said(u.wanted, u.jar)}. "
            f"{_stop(u.reason)} "
            f"Instead: {_stop(u.instead)}"
            for u in plan.unmet
        ]
        + [
            f"{all_of(out.batches)}: {jars_said(out.jars, out.jar)}. "
            f"{_stop(out.why)} Instead: {_stop(out.fruit)}"
            for out in plan.left_out
        ],
        "cautions": [{"text": _stop(c.text), "by": c.source} for c in plan.cautions],
    }


def _clock_rules(loads: Iterable[RunLoad]) -> list[str]:
    """How the clock goes, once for each kind of canner."""
    said = []
    for load in loads:
        rules = rules_for(load)
        said.append(
            f"{_stop(rules.bring)} The clock starts there, not before. If the "
            f"{rules.lost} is lost, {rules.again} and start the whole time again. "
            f"At the end: {rules.rest}, {_rests(load, rules)}({_by(rules)})"
        )
    return list(dict.fromkeys(said))


def _rests(load: RunLoad, rules: ClockRules) -> str:
    """How long a load rests; the minutes of its open vent are told by themselves."""
    if not rules.lid:
        return f"{load.rest_min} min before the first jar is lifted. "
    return f"{load.rest_min - OPEN_MIN} min by the plan. {_stop(rules.lid)} "


def _due(task: Task, day: dt.date) -> str:
    """When something is done after the day, and the latest hour where it has one."""
    hour = f"{day_said(task.when, day)}, {task.when:%-H:%M}"
    if task.until is None:
        return hour
    return f"{hour}, by {day_said(task.until, day)}, {task.until:%-H:%M} at the latest,"


def _by(rules: ClockRules) -> str:
    sources = (rules.starts, rules.restarts, rules.rests, rules.opens)
    return "; ".join(dict.fromkeys(str(source) for source in sources if source))


def _no_timetable(plan: DayPlan) -> Refusal:
    if isinstance(plan.answer, NoPlan):
        return Refusal(
            "the day does not fit: " + "; ".join(plan.answer.clashes),
            instead="; ".join(plan.answer.would_help)
            or "change the day and plan again",
            source="computed from the day file",
        )
    nothing = nothing_made(plan)
    return Refusal(
        f"there is no batch to print a sheet for: {nothing.reason}",
        instead=nothing.instead or "say in the day file what is wanted",
        source="computed from the day file",
    )


def _sentence(plan: DayPlan, answer: Answer, sheet: Sheet) -> str:
    jars = sum(batch.jars for batch in plan.batches)
    loads = len(answer.timetable.loads)
    said = (
        f"{jars_said(jars)} in {counted(loads, 'canner load')}, "
        f"done by {sheet.clock(answer.finish_min)}.",
        what_is_missed(plan),
        bound_sentence(plan, answer, whys=False),
    )
    return " ".join(one for one in said if one)


def _line(entry: Entry, sheet: Sheet) -> dict[str, Any]:
    return {
        "from": sheet.clock(entry.start_min),
        "to": sheet.clock(entry.end_min),
        "what": entry.what,
        "batch": entry.batch if entry.batch not in entry.detail else "",
        "detail": entry.detail,
        "until": entry.end_sign,
        "where": entry.where,
        "caution": entry.caution,
        "held": entry.ink is Ink.HELD,
        "rest": entry.ink is Ink.REST,
        "hand": entry.ink.value,
    }


def _loads(
    plan: DayPlan, answer: Answer, sheet: Sheet, again: Again | None
) -> dict[str, Any]:
    """Loads by the clock, and their sources numbered as they come."""
    placed: dict[str, PlacedLoad] = {load.id: load for load in answer.timetable.loads}
    sources: dict[str, int] = {}
    rows = []
    loads = [
        load
        for load in loads_of(plan)
        if again is None or placed[load.id].out_min > again.minute
        if not placed[load.id].is_cut_short
    ]
    for load in loads:
        at = placed[load.id]
        psi = f" at {load.pressure_psi:g} psi" if load.pressure_psi else ""
        process = (
            f"{load.process_min} min{psi}, published for {load.band}: {load.source}"
        )
        rows.append(
            {
                "name": load.name,
                "canner": load.canner,
                "contents": load.contents,
                "lower": sheet.clock(at.lower_min),
                "boil": sheet.clock(at.boil_min),
                "minutes": load.process_min,
                "pressed": psi,
                "lift": sheet.clock(at.lift_min),
                "mark": sources.setdefault(process, len(sources) + 1),
            }
        )
    return {
        "loads": rows,
        "processes": list(sources),
        "clock_rules": _clock_rules(loads),
    }


def _recipes(batches: Iterable[MadeBatch]) -> list[dict[str, Any]]:
    """One recipe for all batches that are made alike, of the same things."""
    alike: dict[tuple[str, int, tuple[str, ...]], list[MadeBatch]] = {}
    for batch in batches:
        things = tuple(part.name for part in batch.parts)
        key = batch.procedure.id, batch.multiple, things
        alike.setdefault(key, []).append(batch)
    return [_recipe(group) for group in alike.values()]


def _recipe(group: list[MadeBatch]) -> dict[str, Any]:
    first = group[0]
    procedure = first.procedure
    return {
        "title": procedure.title,
        "made": _made(first),
        "batches": [
            {
                "id": batch.id,
                "jars": jars_said(batch.jars, batch.jar.removesuffix(" jar")),
                "from": "; ".join(
                    f"{draw.text} {draw.lot}" for draw in batch.draws if not draw.count
                ),
            }
            for batch in group
        ],
        "parts": [
            {
                "quantity": quantity_words(part),
                "name": part.name,
                "weighs": weighs_beside(part),
                "prep": ", ".join(
                    filter(None, (part.prep, "if wanted" if part.optional else ""))
                ),
            }
            for part in first.parts
        ],
        "how": [
            line
            for line in (
                _stop(procedure.order_of_adding),
                _stop(_until(procedure)),
                f"Leave {depth(procedure.headspace_in)} of headspace.",
            )
            if line
        ],
        "source": procedure.source,
        "memory": procedure.how_known == "memory",
    }


def _made(batch: MadeBatch) -> str:
    """How much of a recipe is in the pot; empty for one tested batch."""
    if batch.is_by_the_jar:
        return _at_once(batch)
    return batch.times if batch.multiple > 1 else ""


def _at_once(batch: MadeBatch) -> str:
    """A recipe by the pound is for no jar: 12 lb of apples are two jars when dry."""
    one_is = getattr(method_named(batch.procedure.method), "ONE_IS", "")
    if not one_is:
        return f"{jars_said(batch.multiple, batch.jar)} in a pot"
    return f"{batch.multiple} lb" if one_is == "lb" else counted(batch.multiple, one_is)


def _until(procedure: Procedure) -> str:
    """The end sign with its minutes; a hard boil by the clock is for pectin alone."""
    if not procedure.boil_min:
        return procedure.boil_sign
    minutes = minutes_said(procedure.boil_min)
    if procedure.method in TIMED:
        return f"boil hard {minutes}: {procedure.boil_sign}"
    if re.search(r"\d min", procedure.boil_sign):
        return procedure.boil_sign
    return f"{minutes}: {procedure.boil_sign}"


def _stop(text: str) -> str:
    """
    End a sentence, and begin it with a capital.

    >>> _stop("stir often"), _stop("Stop!"), _stop("")
    ('Stir often.', 'Stop!', '')
    """
    if not text:
        return ""
    return capital(text) + ("" if text[-1] in ".!?" else ".")
