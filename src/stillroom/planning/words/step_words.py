"""Steps as their keeper calls them: by what is done, not by their names in the plan."""

from __future__ import annotations

import re
from collections.abc import Iterable

from stillroom.capital import capital
from stillroom.methods.in_halves import HALF, begun_later, whole_again, whole_step
from stillroom.methods.step import Step
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import PlacedStep, Timetable
from stillroom.refusal import Fault, Unreadable

_FIGURE = r"\d[\d.,/]*(?: \d+/\d+)?(?: to \d[\d./]*(?: \d+/\d+)?)?"
_COUNTS = re.compile(
    rf"(?:\bfor )?(?<![\w-])(?>{_FIGURE})(?!-| ?(?:s\b|inch|°|%))"
    r"(?: (?:min|h|tbsp|tsp|times|gallons? of)\b(?: \(\d+ s\))?)? ?"
)
"""Jars, spoons and minutes. Sizes, seconds and degrees say how it is done, and stay."""


def called(batch: Batch, step_id: str) -> str:
    """A step of a batch in quotes, without the figures that differ from day to day."""
    step = next((s for s in batch.steps if s.id == step_id), None)
    return f'"{step_id}"' if step is None else f'"{without_counts(step.verb)}"'


def named(batch: Batch, said: str) -> str | None:
    """
    Find the step of a batch that somebody names, by its name or as the plan prints it.

    The words may stop early ("fill"), and their counts may be left out; where they fit
    none, there is no answer.

    Raises
    ------
    Unreadable
        If they fit several steps: which is not guessed.
    """
    found = _fitting(batch, said)
    if len(found) > 1:
        which = f"several steps of {batch.id}; name one: {', '.join(found)}"
        raise Unreadable(Fault(f'"{said[:80]}" fits {which}'))
    return found[0] if found else None


def named_in(
    plan: Timetable, batch: Batch, said: str, by_min: int | None = None
) -> str | None:
    """
    Find the step that somebody names, of two halves the one that is meant in a plan.

    Halves that a plan prints as one line are one piece of work: it begins with the
    first of them, and how late it is by a minute lies in the one begun last by then.

    Parameters
    ----------
    plan : Timetable
        The plan that was printed.
    batch : Batch
        Whose step it is.
    said : str
        Its name, or words of the plan.
    by_min : int, optional
        Minute at which the work is said to be late. Two lines that are named as one are
        then not guessed between. [min]

    Raises
    ------
    Unreadable
        If it fits several steps that are no such halves.
    """
    found = _fitting(batch, said)
    placed = {s.step: s for s in plan.steps if s.batch == batch.id and s.step in found}
    if len(found) != 2 or len(placed) != 2 or len(set(map(whole_step, found))) != 1:
        return named(batch, said)
    first, then = sorted(placed.values(), key=lambda s: (s.start_min, s.step))
    if said.casefold() == begun_later(_step_of(batch, then.step)).verb.casefold():
        return then.step
    if by_min is None or said.casefold().endswith(HALF):
        return first.step
    if not one_piece(first, then):
        return named(batch, said)
    return then.step if then.start_min <= by_min else first.step


def one_piece(first: PlacedStep, then: PlacedStep) -> bool:
    """Whether two halves are one piece: by the same hands, without a pause between."""
    return first.person == then.person and first.end_min == then.start_min


def _step_of(batch: Batch, step_id: str) -> Step:
    return next(step for step in batch.steps if step.id == step_id)


def _fitting(batch: Batch, said: str) -> list[str]:
    """Steps that words fit: one by its name, or all whose printed words they are."""
    words = said.casefold()
    ids = {step.id.casefold(): step.id for step in batch.steps}
    for exact in (words, words.replace(" ", "_")):
        if exact in ids:
            return [ids[exact]]
    for fits in (str.__eq__, str.startswith):
        found = [
            step.id
            for step in batch.steps
            if words and any(fits(verb.casefold(), words) for verb in _printed(step))
        ]
        if found:
            return found
    return []


def _printed(step: Step) -> tuple[str, ...]:
    """What a plan may print of it: a rinse where the same goes in next, which half."""
    verbs = [step.verb]
    if step.rinse_min is not None:
        verbs.append(step.verb.replace("Wash", "Rinse", 1))
    if step.verb.endswith(HALF):  # either of the two may be the one begun later
        verbs += [begun_later(step).verb, whole_again(step).verb]
    return (*verbs, *map(without_counts, verbs))


def batch_named(problem: Problem, said: str) -> Batch | None:
    """Find a batch by its name; capital letters make no difference."""
    name = said.casefold()
    return next((b for b in problem.batches if b.id.casefold() == name), None)


def key_named(problem: Problem, key: tuple[str, str]) -> tuple[str, str]:
    """Return batch and step by their names; what is in no batch comes back as it is."""
    batch = batch_named(problem, key[0])
    step = None if batch is None else named(batch, key[1])
    return key if batch is None or step is None else (batch.id, step)


def late_named(
    problem: Problem, plan: Timetable, key: tuple[str, str], now_min: int
) -> tuple[str, str]:
    """As `key_named`, of work that is said to be late at a minute of a plan."""
    batch = batch_named(problem, key[0])
    step = None if batch is None else named_in(plan, batch, key[1], now_min)
    return key if batch is None or step is None else (batch.id, step)


def without_counts(verb: str) -> str:
    """
    Leave the counts and minutes out of what is done, so that like steps are alike.

    >>> without_counts("Fill 8 half-pint jars")
    'Fill half-pint jars'
    >>> without_counts("Boil 9 empty pint jars for 10 min")
    'Boil empty pint jars'
    >>> without_counts("Let it stand 3 h")
    'Let it stand'
    >>> without_counts("2 tbsp bottled lemon juice into each of 4 jars")
    'Bottled lemon juice into each jar'
    >>> without_counts("Everything together, to the boil, 15 min")
    'Everything together, to the boil'
    >>> without_counts("Bring the carrots to the boil, then simmer for 5 min")
    'Bring the carrots to the boil, then simmer'
    >>> without_counts("Boil hard 1 min by the clock")
    'Boil hard by the clock'
    >>> without_counts("Boil hard 1/2 min (30 s) by the clock")
    'Boil hard by the clock'
    >>> without_counts("Wash the tomatoes, dip them 30 to 60 s in boiling water")
    'Wash the tomatoes, dip them 30 to 60 s in boiling water'
    >>> without_counts("Blanch 2 1/2 min, 3 times")
    'Blanch'
    >>> without_counts("Bring 2.4 gallons of water to the boil")
    'Bring water to the boil'
    >>> without_counts("Cut 12 stalks in 1 1/2 inch pieces or 1-inch cubes")
    'Cut stalks in 1 1/2 inch pieces or 1-inch cubes'
    """
    bare = _COUNTS.sub("", verb).replace("each of jars", "each jar")
    bare = re.sub(r"(?: *,)+", ",", bare).strip(" ,")
    if verb[:1].isdigit():  # the count began the sentence
        bare = capital(bare)
    return bare or verb


def no_such_step(key: tuple[str, str], known: Iterable[tuple[str, str]]) -> str:
    """
    Say that a plan has no such step, and what there is.

    >>> no_such_step(("jam 1", "fry"), [("jam 1", "boil"), ("jam 1", "fill")])
    'the plan has no step "jam 1/fry"; of jam 1 it has: boil, fill'
    >>> no_such_step(("jam 3", "boil"), [("jam 1", "boil"), ("jam 2", "boil")])
    'the plan has no batch "jam 3"; it has: jam 1, jam 2'
    """
    batch, step = key
    there = list(known)
    mine = [one for name, one in there if name == batch]
    if mine:
        return f'the plan has no step "{batch}/{step}"; of {batch} it has: ' + (
            ", ".join(mine)
        )
    names = ", ".join(dict.fromkeys(name for name, _ in there))
    return f'the plan has no batch "{batch}"; it has: {names}'
