"""Where a pot takes the fire of a canner between two loads, and how long it stands."""

from __future__ import annotations

import pytest

from stillroom.planning.problem import Burner, Problem
from stillroom.planning.timetable import PlacedLoad, PlacedStep, Timetable
from stillroom.planning.words.canner_moved import loads_after_a_move, stays_from
from tests.planning.small_days import canner, day, placed_load

FIRE, OTHER = "strong-1", "strong-2"


def kitchen(*second: str) -> Problem:
    """A canner on one fire; with names, another canner on those."""
    more = (canner("second", burners=second),) if second else ()
    return day(
        burners=tuple(Burner(id=name, power_w=3000.0) for name in (FIRE, OTHER)),
        canners=(canner(burners=(FIRE,)), *more),
    )


def load(number: int, heat: int, lower: int, of: str = "canner") -> PlacedLoad:
    """Forty minutes from lowering on; its fire is free after thirty."""
    return placed_load(f"{of}/{number}", lower, heat_min=heat, fire_free_min=lower + 30)


FIRST, SECOND = load(1, heat=0, lower=30), load(2, heat=100, lower=120)
"""Out at 70, and lit again at 100."""


def plan(*steps: tuple[str, int, int], loads: tuple[PlacedLoad, ...] = ()) -> Timetable:
    placed = tuple(
        PlacedStep(
            batch="butter-1",
            step=f"cook {n}",
            start_min=start,
            end_min=end,
            person=None,
            quarters=0,
            burner=burner,
        )
        for n, (burner, start, end) in enumerate(steps)
    )
    return Timetable(steps=placed, loads=(SECOND, FIRST, *loads), breaks=())


@pytest.mark.parametrize(
    ("cooks", "moved"),
    [
        ((FIRE, 70, 100), True),
        ((FIRE, 99, 130), True),
        # nothing but the fire itself matters, and between the loads alone
        ((OTHER, 70, 100), False),
        ((FIRE, 50, 70), False),
        ((FIRE, 100, 110), False),
    ],
)
def test_a_pot_on_its_fire_between_two_loads_moves_a_canner(cooks, moved):
    """Then its water is cold: it stands there for the second from its heating on."""
    found = plan(cooks)
    assert loads_after_a_move(kitchen(), found) == ({SECOND.id} if moved else set())
    assert stays_from(kitchen(), found, SECOND) == (100 if moved else 70)
    assert stays_from(kitchen(), found, FIRST) == 0


@pytest.mark.parametrize(
    ("fires", "heat", "moved"),
    [
        ((FIRE, OTHER), 60, True),
        ((OTHER,), 60, False),
        ((FIRE, OTHER), 100, False),  # it is lit as the other is again
    ],
)
def test_so_does_another_canner_that_covers_it(fires, heat, moved):
    """From its heating until its jars are out, of which the fire is only a part."""
    other = load(1, heat=heat, lower=heat + 5, of="second")
    found = loads_after_a_move(kitchen(*fires), plan(loads=(other,)))
    assert (SECOND.id in found) == moved
    lifted_late = load(1, heat=20, lower=31, of="second")  # fire free at 61, out at 71
    found = loads_after_a_move(kitchen(FIRE), plan(loads=(lifted_late,)))
    assert SECOND.id in found
