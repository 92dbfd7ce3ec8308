"""Loads are called as the day sheet and the board at the stove call them."""

import json
import re
from dataclasses import replace

import pytest

from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.happened_file import read_happened
from stillroom.planning.begun.limits_said import lifted_too_late
from stillroom.planning.daytime import clock_time
from stillroom.planning.plan import plan_day
from stillroom.planning.second_thoughts.moves import moved_words
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.waits.load_names import LoadNames
from stillroom.planning.waits.why import why, why_so_long
from stillroom.refusal import Unreadable
from tests.planning.small_days import canner, day, jelly

AN_ID = re.compile(r"canner/\d")


@pytest.fixture(scope="module")
def planned():
    """One small canner and three batches: three loads, one after another."""
    small = canner(places={"half_pint": 8, "pint": 9})
    problem = day(
        jelly("jelly-1"), jelly("jelly-2"), jelly("jelly-3"),
        people=2, canners=(small,), big_pots=2,
    )  # fmt: skip
    return problem, plan_day(problem, seconds=2).timetable


def test_loads_are_numbered_as_they_come_to_the_boil(planned):
    problem, plan = planned
    names = LoadNames(problem, replace(plan, loads=plan.loads[::-1]))
    by_boil = sorted(plan.loads, key=lambda load: load.boil_min)
    assert [names.number[load.id] for load in by_boil] == [1, 2, 3]
    assert names.name(by_boil[0].id) == "load 1 in the canner"


def test_what_has_a_number_keeps_it_and_the_others_are_counted_on(planned):
    problem, plan = planned
    first, second, third = sorted(plan.loads, key=lambda load: load.boil_min)
    swapped = (replace(first, number=2), second, third)
    names = LoadNames(problem, replace(plan, loads=swapped))
    assert [names.number[load.id] for load in swapped] == [2, 1, 3]


def test_a_load_under_pressure_is_brought_to_pressure(planned):
    problem, plan = planned
    load = plan.loads[0].id
    assert LoadNames(problem, plan).part(load, "come up").endswith("to a full boil")
    pressed = tuple(replace(p, pressure_psi=11.0) for p in problem.processes)
    names = LoadNames(replace(problem, processes=pressed), plan)
    assert names.part(load, "come up").endswith("up to pressure")


def test_no_reason_names_an_id(planned):
    problem, plan = planned
    asked = [why_so_long(problem, plan)]
    asked += [why(problem, plan, load.id) for load in plan.loads]
    asked += [why(problem, plan, f"{s.batch}/{s.step}") for s in plan.steps]
    for found in asked:
        for because in found.chain:
            assert not AN_ID.search(f"{because.what}: {because.sentence}")


def test_a_load_is_found_by_what_it_is_called(planned):
    problem, plan = planned
    second = sorted(plan.loads, key=lambda load: load.boil_min)[1]
    for asked in ("load 2", "load 2 in the canner", second.id):
        found = why(problem, plan, asked)
        assert found.start_min == second.lower_min
        assert found.chain[0].what == "lower load 2 into the canner"


def test_what_moves_and_what_gives_way_names_no_id(planned):
    problem, plan = planned
    load = min(plan.loads, key=lambda load: load.boil_min)
    late = replace(
        load,
        boil_min=load.boil_min + 40,
        done_min=load.done_min + 40,
        lift_min=load.lift_min + 60,
        out_min=load.out_min + 60,
        fire_free_min=load.done_min + 40,
    )
    happened = replace(as_planned(problem, plan, load.boil_min + 1), loads=(late,))
    found = replan(problem, plan, happened)
    said = [" ".join(moved_words(problem, plan, move)) for move in found.moves]
    assert any("load 2" in words for words in said)
    told = replace(found, broken=((lifted_too_late(load.id), 10),))
    said += [what for what, _ in told.gives_way] + [told.sentence]
    assert said[-2] == "load 1 in the canner is lifted out too late"
    assert not any(AN_ID.search(words) for words in said)


def _told(planned, tmp_path, *loads):
    problem, plan = planned
    file = tmp_path / "happened.json"
    file.write_text(json.dumps({"loads": loads}), encoding="utf-8")
    first = min(plan.loads, key=lambda load: load.boil_min)
    return read_happened(file, problem, plan, first.boil_min + 1)


def test_what_has_happened_names_a_load_as_the_plan_prints_it(planned, tmp_path):
    problem, plan = planned
    first = min(plan.loads, key=lambda load: load.boil_min)
    boil = clock_time(problem.starts_at, first.boil_min - 1)
    for asked in ("load 1", "load 1 in the canner", first.id):
        told = _told(planned, tmp_path, {"load": asked, "boil": boil})
        (load,) = told.loads
        assert (load.id, load.boil_min) == (first.id, first.boil_min - 1)


def test_no_refusal_of_what_has_happened_names_an_id(planned, tmp_path):
    problem, plan = planned
    first = min(plan.loads, key=lambda load: load.boil_min)
    late = clock_time(problem.starts_at, first.lower_min - 1)
    for loads, says in (
        ([{"load": "load 9"}], "name a load of the plan: load 1 in the canner, load 2"),
        ([{"load": ["load 1"]}], "name a load of the plan"),
        ([{"load": "load 1", "boil": late}], "the times of load 1 in the canner"),
        ([{"load": "load 1"}, {"load": first.id}], "each load once"),
    ):
        with pytest.raises(Unreadable, match=says) as refused:
            _told(planned, tmp_path, *loads)
        assert not AN_ID.search(str(refused.value))


def test_a_canner_that_holds_a_load_back_has_its_article(planned):
    """There stood "The water of canner is hot at 8:35"."""
    problem, plan = planned
    said = [
        link.sentence
        for load in plan.loads
        for link in why(problem, plan, f"{load.id}/lower").chain
    ]
    of_a_canner = [one for one in said if "canner" in one]
    assert of_a_canner
    bare = [one for one in of_a_canner if re.search(r"(?<!the )\bcanner", one.lower())]
    assert bare == []
