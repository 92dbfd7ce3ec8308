"""
Pots and mills that are only rinsed between two batches of the same product.

Pots are counted, not named. A pot that is rinsed for a batch stays held until that
batch begins in it, so that batches in a row are one long hold: names exist afterwards.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.rinse_parts import Expr, Follow, Kept
from stillroom.planning.cpsat.variables import DayModel
from stillroom.planning.rinses import Tool


@dataclass(frozen=True, slots=True)
class Span:
    """The time for which a batch holds a pot or a mill."""

    start: Expr
    length: Expr
    end: Expr


def kept_for_the_next(
    day: DayModel, tool: Tool, spans: Mapping[str, Span]
) -> dict[str, Span]:
    """
    Return the spans by batch, longer where the pot or mill waits rinsed for the next.

    Adds that whoever follows begins after the rinse, in a pot of the same size, and
    that nobody follows two, nor two one.
    """
    model = day.model
    found = dict(spans)
    follows = [f for f in day.follows if f.tool is tool]
    for (batch, _), rinse in day.rinses.items():
        if rinse.tool is not tool:
            continue
        span = spans[batch]
        until = model.new_int_var(0, day.horizon, f"{tool} of {batch} held until")
        length = model.new_int_var(0, day.horizon, f"{tool} of {batch} held for")
        model.add(until >= span.end)
        model.add(until == span.end).only_enforce_if(~rinse.rinsed)
        for follow in follows:
            if follow.before == batch:
                begins = spans[follow.after].start
                model.add(begins >= span.end).only_enforce_if(follow.holds)
                model.add(until >= begins).only_enforce_if(follow.holds)
        found[batch] = replace(span, length=length, end=until)
    for follow in follows:
        if tool is Tool.POT:
            _same_size(day, follow)
    waited_for = {kept.batch for kept in day.kept if kept.tool is tool}
    for batch in spans:
        into = [f.holds for f in follows if f.after == batch]
        if into:
            model.add(sum(into) <= (0 if batch in waited_for else 1))
    return found


def _same_size(day: DayModel, follow: Follow) -> None:
    """Both are in one pot."""
    before, after = day.pot_size[follow.before], day.pot_size[follow.after]
    for size in sorted(before.keys() | after.keys()):
        if size in before and size in after:
            day.model.add(before[size] == after[size]).only_enforce_if(follow.holds)
        else:
            day.model.add_implication(
                follow.holds,
                ~(before.get(size, after.get(size))),  # type: ignore[operator]
            )


def stand_rinsed(
    day: DayModel, tool: Tool, spans: Mapping[str, Span]
) -> Iterator[tuple[Kept, cp_model.IntervalVar]]:
    """What stands rinsed already is held until the batch begins that it waits for."""
    for kept in day.kept:
        if kept.tool is not tool:
            continue
        begins = spans[kept.batch].start
        name = f"{tool} stands rinsed for {kept.batch}"
        until = day.model.new_int_var(kept.since, day.horizon, f"{name} until")
        length = day.model.new_int_var(0, day.horizon, f"{name} for")
        day.model.add(until == begins)
        if tool is Tool.POT:
            day.model.add(day.pot_size[kept.batch][kept.size] == 1)
        yield kept, day.model.new_interval_var(kept.since, length, until, name)


def washes(day: DayModel) -> Expr | None:
    """
    Uses of pots and mills that end with a wash, as far as that can be chosen.

    `None` where it cannot.
    """
    if not day.rinses:
        return None
    return cp_model.LinearExpr.sum([1 - r.rinsed for r in day.rinses.values()])


def least_washes(day: DayModel) -> int:
    """
    A figure below which `washes` never is.

    Of the batches of one product, the last in each pot or mill is followed by none.
    """
    then: dict[tuple[Tool, str], set[str]] = {}
    for follow in day.follows:
        then.setdefault((follow.tool, follow.before), set()).add(follow.after)
    groups = {(tool, frozenset({name} | later)) for (tool, name), later in then.items()}
    apart = 0
    for tool, group in groups:
        all_are_washed = all((tool, name) in then for name in group)
        touches = any(t is tool and g != group and g & group for t, g in groups)
        apart += all_are_washed and not touches
    return apart
