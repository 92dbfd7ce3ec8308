"""The same day with one helper, one grown-up, one burner or one canner more."""

from __future__ import annotations

from dataclasses import replace

from stillroom.methods.step import Skill
from stillroom.planning.problem import Burner, Canner, Person, Problem


def with_one_more(problem: Problem) -> tuple[tuple[str, Problem], ...]:
    """
    Return the day with one more helper, with one more burner, with one more canner.

    The helper comes for the whole day and does cold work and the knife; the burner is
    as strong as the strongest; the canner is like the first and brings fires of its
    own, so that its worth is not the worth of a burner.
    """
    found = [
        (
            "one more helper, all day, for cold work and the knife",
            _with_hands(problem, "one more helper", (Skill.COLD, Skill.KNIFE)),
        )
    ]
    names = [b.id for b in problem.burners]
    if problem.burners:
        power = max(b.power_w for b in problem.burners)
        burner = Burner(id=_fresh("one more burner", names), power_w=power)
        said = f"one more burner of {power / 1000:.3g} kW"
        found.append((said, replace(problem, burners=(*problem.burners, burner))))
    if problem.canners:
        first = problem.canners[0]
        power_of = {b.id: b.power_w for b in problem.burners}
        fires = tuple(
            Burner(
                id=_fresh(f"fire {n} of one more canner", names),
                power_w=power_of[name],
            )
            for n, name in enumerate(first.burners, 1)
        )
        canner: Canner = replace(
            first,
            id=_fresh("one more canner", [c.id for c in problem.canners]),
            burners=tuple(f.id for f in fires),
        )
        said = f"one more canner like {first.id}, on a fire of its own"
        more = replace(
            problem,
            burners=(*problem.burners, *fires),
            canners=(*problem.canners, canner),
        )
        found.append((said, more))
    return tuple(found)


def with_one_more_grown_up(problem: Problem) -> tuple[str, Problem]:
    """
    Return the day with somebody more who can do all, the hot pan and lifting too.

    Harder to find than a helper for the knife; and where hot work waits for one pair of
    hands, the only helper who is worth it.
    """
    return (
        "one more grown-up, all day, who cooks and lifts too",
        _with_hands(problem, "one more grown-up", tuple(Skill)),
    )


def _with_hands(problem: Problem, name: str, can: tuple[Skill, ...]) -> Problem:
    person = Person(
        id=_fresh(name, [p.id for p in problem.people]),
        skills=frozenset(str(skill) for skill in can),
        arrives_min=0,
        leaves_min=problem.horizon_min,
    )
    return replace(problem, people=(*problem.people, person))


def _fresh(name: str, taken: list[str]) -> str:
    while name in taken:
        name += " too"
    return name
