"""Loads as the kitchen calls them: numbered through the day, each with its canner."""

from __future__ import annotations

import re
from itertools import count

from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.precedence import Part

OWN_ARTICLE = re.compile(r"(the|a|an|my|our|his|her|their)\b|[A-Z]")
"""Begins a canner's name that takes no "the" before it."""


class LoadNames:
    """
    The loads of a plan by number, in the order in which they come to the boil.

    It is the order of the day sheet and of the board at the stove. What has a number
    already keeps it.
    """

    def __init__(self, problem: Problem, plan: Timetable) -> None:
        psi = {p.id: p.pressure_psi for p in problem.processes}
        loads = sorted(plan.loads, key=lambda load: load.boil_min)
        called = {load.number for load in loads}
        free = (n for n in count(1) if n not in called)
        self.number = {
            load.id: next(free) if load.number is None else load.number
            for load in loads
        }
        self.canner = {load.id: with_article(load.canner) for load in loads}
        self.pressed = {load.id for load in loads if psi.get(load.process) is not None}

    def short(self, load: str) -> str:
        """Name a load where its canner is said already: "load 6"."""
        return f"load {self.number[load]}"

    def name(self, load: str) -> str:
        """Name a load: "load 6 in the speckled canner"."""
        return f"{self.short(load)} in {self.canner[load]}"

    def part(self, load: str, part: str) -> str:
        """Say what is done with a load, or what it does, as a step is said."""
        match part:
            case Part.HEAT:
                return f"warm the water for {self.name(load)}"
            case Part.LOWER:
                return f"lower {self.short(load)} into {self.canner[load]}"
            case Part.COME_UP:
                return f"bring {self.name(load)} {self._up(load)}"
            case Part.PROCESS:
                return f"the process of {self.name(load)}"
            case Part.REST:
                return f"the rest of {self.name(load)}"
            case Part.LIFT:
                return f"lift {self.short(load)} out of {self.canner[load]}"
            case _:
                raise ValueError(f"a load has no part {part!r}")

    def comes_up(self, load: str) -> str:
        """Say that its clock starts: "load 6 in the canner comes to a full boil"."""
        return f"{self.name(load)} comes {self._up(load)}"

    def _up(self, load: str) -> str:
        return "up to pressure" if load in self.pressed else "to a full boil"

    def id_of(self, said: str) -> str | None:
        """
        Find a load by its id or by what it is called; None if there is none.

        Capital letters make no difference.
        """
        name = said.casefold()
        for load in self.number:
            called = (load, self.short(load), self.name(load))
            if name in (one.casefold() for one in called):
                return load
        return None


def with_article(canner: str) -> str:
    """
    Say a canner in a sentence.

    >>> [with_article(c) for c in ("deep canner", "Grandma's canner", "the old one")]
    ['the deep canner', "Grandma's canner", 'the old one']
    """
    return canner if OWN_ARTICLE.match(canner) else f"the {canner}"
