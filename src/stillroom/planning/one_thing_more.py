"""The same day with one helper, grown-up, burner, canner or pot more."""

from __future__ import annotations

from collections import Counter as Tally
from collections.abc import Callable, Collection
from dataclasses import replace

from stillroom.methods.step import Skill
from stillroom.planning.problem import Burner, Canner, Person, Pot, Problem

More = tuple[str, Problem]
"""What there is more, in words, and the day with it."""


def one_more_helper(problem: Problem) -> More:
    """Somebody comes for the whole day and does cold work and the knife."""
    return (
        "one more helper, all day, for cold work and the knife",
        _with_hands(problem, "one more helper", (Skill.COLD, Skill.KNIFE)),
    )


def one_more_grown_up(problem: Problem) -> More:
    """
    Somebody comes who can do all, the hot pan and lifting too.

    Harder to find than a helper for the knife; and where hot work waits for one pair of
    hands, the only helper who is worth it.
    """
    return (
        "one more grown-up, all day, who cooks and lifts too",
        _with_hands(problem, "one more grown-up", tuple(Skill)),
    )


def one_more_burner(problem: Problem) -> More | None:
    """A burner as strong as the strongest; `None` where there is none."""
    if not problem.burners:
        return None
    power = max(b.power_w for b in problem.burners)
    name = fresh("one more burner", [b.id for b in problem.burners])
    burner = Burner(id=name, power_w=power)
    said = f"one more burner of {power / 1000:.3g} kW"
    return said, replace(problem, burners=(*problem.burners, burner))


def one_more_canner(problem: Problem) -> More | None:
    """
    A canner like the first; `None` where there is none.

    It brings fires of its own, so that its worth is not the worth of a burner.
    """
    if not problem.canners:
        return None
    first = problem.canners[0]
    names = [b.id for b in problem.burners]
    power_of = {b.id: b.power_w for b in problem.burners}
    fires = tuple(
        Burner(
            id=fresh(f"fire {n} of one more canner", names),
            power_w=power_of[name],
        )
        for n, name in enumerate(first.burners, 1)
    )
    canner: Canner = replace(
        first,
        id=fresh("one more canner", [c.id for c in problem.canners]),
        burners=tuple(f.id for f in fires),
    )
    more = replace(
        problem,
        burners=(*problem.burners, *fires),
        canners=(*problem.canners, canner),
    )
    return f"one more canner like {first.id}, on a fire of its own", more


def one_more_pot(problem: Problem) -> More | None:
    """A pot like the one that most batches can be made in; `None` where none is."""
    sizes = Tally(size for batch in problem.batches for size in batch.pots)
    there = [pot for pot in problem.pots if sizes[pot.size]]
    if not there:
        return None
    like = max(there, key=lambda pot: sizes[pot.size])
    name = fresh("one more pot", [pot.id for pot in problem.pots])
    pots = (*problem.pots, Pot(id=name, size=like.size))
    return f"one more pot like {like.id}", replace(problem, pots=pots)


ONE_MORE: tuple[Callable[[Problem], More | None], ...] = (
    one_more_helper,
    one_more_burner,
    one_more_canner,
)
"""What a day is tried with as a matter of course."""


def with_one_more(problem: Problem) -> tuple[More, ...]:
    """Return the day with each of `ONE_MORE` that there can be."""
    found = (one_more(problem) for one_more in ONE_MORE)
    return tuple(more for more in found if more is not None)


def _with_hands(problem: Problem, name: str, can: tuple[Skill, ...]) -> Problem:
    person = Person(
        id=fresh(name, [p.id for p in problem.people]),
        skills=frozenset(str(skill) for skill in can),
        arrives_min=0,
        leaves_min=problem.horizon_min,
    )
    return replace(problem, people=(*problem.people, person))


def fresh(name: str, taken: Collection[str]) -> str:
    """
    Return a name that nothing has yet.

    >>> fresh("one more pot", ["one more pot"])
    'one more pot too'
    """
    while name in taken:
        name += " too"
    return name
