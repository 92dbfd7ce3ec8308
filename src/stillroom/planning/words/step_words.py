"""Steps as their keeper calls them: by what is done, not by their names in the plan."""

from __future__ import annotations

import re
from collections.abc import Iterable

from stillroom.capital import capital
from stillroom.methods.in_halves import HALF, begun_later
from stillroom.methods.step import Step
from stillroom.planning.problem import Batch, Problem
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
    words = said.casefold()
    ids = {step.id.casefold(): step.id for step in batch.steps}
    for exact in (words, words.replace(" ", "_")):
        if exact in ids:
            return ids[exact]
    for fits in (str.__eq__, str.startswith):
        found = [
            step.id
            for step in batch.steps
            if words and any(fits(verb.casefold(), words) for verb in _printed(step))
        ]
        if len(found) > 1:
            which = f"several steps of {batch.id}; name one: {', '.join(found)}"
            raise Unreadable(Fault(f'"{said[:80]}" fits {which}'))
        if found:
            return found[0]
    return None


def _printed(step: Step) -> tuple[str, ...]:
    """What a plan may print of it: a rinse where the same goes in next, which half."""
    verbs = [step.verb]
    if step.rinse_min is not None:
        verbs.append(step.verb.replace("Wash", "Rinse", 1))
    if step.verb.endswith(HALF):  # either of the two may be the one begun later
        verbs.append(begun_later(step).verb)
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
