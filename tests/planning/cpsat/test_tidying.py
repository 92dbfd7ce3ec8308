"""The goals after the first: no more work than is kept back for all of them."""

from __future__ import annotations

import time
from dataclasses import replace
from typing import Any

import pytest
from ortools.sat.python import cp_model
from planning.cpsat.test_improve import large_day

from stillroom.planning.cpsat import large_day as large
from stillroom.planning.cpsat import solve
from stillroom.planning.cpsat.improve import Effort
from stillroom.planning.cpsat.large_day import LEAST_AIMED_S, SHARE_AIMED
from stillroom.planning.cpsat.solve import Search, find_timetable, kept_back
from stillroom.planning.cpsat.stages import Stage
from stillroom.planning.cpsat.variables import DayModel, Expr
from stillroom.planning.goal_order import Goal
from stillroom.planning.hand.by_hand import by_hand


@pytest.mark.parametrize("floor_is_far", [True, False])
def test_all_of_them_have_what_is_kept_back_and_no_more(
    monkeypatch: pytest.MonkeyPatch, floor_is_far: bool
) -> None:
    problem = large_day()
    start = by_hand(problem)
    assert start is not None
    given: list[tuple[float, bool]] = []

    def nothing_better(
        day: DayModel,
        goal: Expr,
        known: cp_model.CpSolver,
        effort: Effort,
        *,
        floor: int | None = None,
        **_: object,
    ) -> cp_model.CpSolver:
        assert effort.work_s is not None
        idle = floor is not None and known.value(goal) <= floor
        given.append((effort.work_s, idle))
        return known

    aimed: list[float] = []

    def none_ends_sooner(
        _day: DayModel,
        _goal: Expr,
        known: cp_model.CpSolver,
        _floor: int,
        _search: Search,
        seconds: float,
        _told: object,
    ) -> cp_model.CpSolver:
        aimed.append(seconds)
        return known

    monkeypatch.setattr(large, "improve", nothing_better)  # the parts
    monkeypatch.setattr(solve, "improve", nothing_better)  # the goals after them
    monkeypatch.setattr(large, "search_aimed", none_ends_sooner)
    if floor_is_far:
        stages = solve.stages_after

        def never_there(day: DayModel, held: tuple[Goal, ...]) -> list[Stage]:
            return [replace(s, floor=lambda _: -1) for s in stages(day, held)]

        monkeypatch.setattr(solve, "stages_after", never_there)
    search = Search(time.monotonic() + 60, 2, 1, deterministic=True, seconds=8.0)
    find_timetable(problem, start, search)
    (first, _), *later = given
    kept = kept_back(8.0)
    assert aimed == [pytest.approx(SHARE_AIMED * (8.0 - kept))]
    assert first == pytest.approx(8.0 - kept - aimed[0])
    assert len(later) >= 2
    spent = [work for work, idle in later if not idle]
    assert sum(spent) <= kept + 1e-9
    # the last has all that is left
    assert later[-1][0] == pytest.approx(
        kept - sum(w for w, idle in later[:-1] if not idle)
    )


@pytest.mark.parametrize("enough", [True, False])
def test_a_whole_day_is_asked_for_only_where_there_is_time(
    monkeypatch: pytest.MonkeyPatch, enough: bool
) -> None:
    problem = large_day()
    aimed: list[float] = []

    def heard(*given: Any) -> cp_model.CpSolver:
        aimed.append(given[5])
        known: cp_model.CpSolver = given[2]
        return known

    monkeypatch.setattr(large, "search_aimed", heard)
    monkeypatch.setattr(large, "improve", lambda _d, _g, known, *_, **__: known)
    least = 2 * LEAST_AIMED_S / SHARE_AIMED  # half is kept back of so little
    seconds = least + 0.1 if enough else least - 0.1
    search = Search(time.monotonic() + 60, 2, 1, deterministic=True, seconds=seconds)
    find_timetable(problem, by_hand(problem), search)
    assert len(aimed) == enough
