"""A day too small for all of it: what is planned, what goes back, and why, as told."""

from __future__ import annotations

import time
from dataclasses import replace
from types import SimpleNamespace

import pytest

from stillroom.methods.learned import AS_PUBLISHED, Learned, Share
from stillroom.methods.today import air_in
from stillroom.planning import too_small, whole_day
from stillroom.planning.asked import Asked
from stillroom.planning.cpsat.search import TOO_SLOW
from stillroom.planning.day import Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.problem import Want as PromisedBy
from stillroom.planning.stated import Stated, state
from stillroom.planning.timetable import Answer, NoneFound, NoPlan, PlanIf, WayOut
from stillroom.planning.way_changes import leave_out
from stillroom.planning.ways.held_plan import KnownPlan, only
from stillroom.planning.what_fits import Fits
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.why_not import plan_if
from stillroom.refusal import granted
from tests.kitchens import day, juice, stores

NAMES = ("plum jelly 1", "plum jelly 2", "plum jelly 3")
NONE = NoPlan(clashes=(), minimal=False, would_help=())
NOWHERE = NoneFound(impossible=False, bound_min=0, bound_why="", reached=None)


def asked(
    *, explain: bool = False, lids: int = 80, learned: Learned = AS_PUBLISHED
) -> Asked:
    """Three batches of eight half-pints each, from a bag of five cups each."""
    today = day(
        Want(product="plum jelly", jars=23, jar="half-pint"),
        shelf=(juice(bags=3), *stores(lids=lids)),
    )
    air = granted(air_in(today.kitchen))
    return Asked(
        day=today,
        place=Place(kitchen=today.kitchen, air=air, learned=learned),
        begin=None,
        seconds=8.0,
        workers=2,
        deterministic=True,
        explain=explain,
        began=time.monotonic(),
    )


def stated(of: Asked) -> Stated:
    found = state(of, (), may_size=False)
    assert isinstance(found, Stated)
    assert found.order == NAMES
    return found


def answer(problem: Problem) -> Answer:
    found = plan_day(problem, seconds=0.0)
    assert isinstance(found, Answer)
    return found


def fits_of(day: Stated, *kept: str, no_more: frozenset[str] = frozenset()) -> Fits:
    problem = only(day.problem, kept)
    out = tuple(name for name in day.order if name not in kept)
    return Fits(problem=problem, answer=answer(problem), left_out=out, no_more=no_more)


def only_the_first(
    monkeypatch: pytest.MonkeyPatch, of: Asked, none: NoneFound = NOWHERE
) -> DayPlan:
    """The day as if the search had found room for one batch of the three."""
    mine = stated(of)
    fits = fits_of(mine, NAMES[0], no_more=frozenset({NAMES[2]}))
    monkeypatch.setattr(too_small, "what_fits", lambda *_, **__: fits)
    plan = too_small.as_much_as_fits(of, mine, none)
    assert [batch.id for batch in plan.batches] == [NAMES[0]]
    return plan


# --- what goes back on the shelf ------------------------------------------------------


def test_the_bags_of_what_has_no_room_stay_frozen(monkeypatch):
    """One of three bags is moved the evening before, and ten cups are left."""
    plan = only_the_first(monkeypatch, asked())
    (line,) = (x for x in plan.evening_before if x.startswith("Move"))
    assert line.startswith("Move 1 of 3 bags of frozen plum juice")
    (left,) = plan.leftovers
    assert left.text.startswith("10 cups")
    assert "2 whole bags stay frozen" in left.choices


SEALS = Share(a=80.0, b=20.0, low=0.72, high=0.87, lots=9, jars=100, seen=20, book=0.05)
"""Invented: one lid in five of hers does not seal."""


def test_jars_and_lids_to_spare_are_those_of_what_has_room(monkeypatch):
    """Eight jars, and as many lids more as her own seals ask for eight of them."""
    spare = SEALS.enough(8)
    assert SEALS.enough(23) > spare > 1
    plan = only_the_first(monkeypatch, asked(lids=8, learned=Learned(seals=SEALS)))
    said = "\n".join(plan.evening_before)
    assert f"{8 + spare} lids (8 and {spare} to spare)" in said
    assert f"Count out 8 half-pint jars and {spare} to spare" in said
    (lids,) = plan.shopping
    assert (lids.name, lids.have) == ("lids", "8")
    assert lids.need == f"{8 + spare}"


def test_what_is_proven_to_have_no_room_is_told_apart(monkeypatch):
    plan = only_the_first(monkeypatch, asked())
    rooms = {left.batches: left.proven for left in plan.left_out}
    assert rooms == {(NAMES[1],): False, (NAMES[2],): True}
    assert [spare.made.id for spare in plan.spare] == [NAMES[1], NAMES[2]]


# --- what is promised comes first -----------------------------------------------------


def late_by(of: Fits, minutes: int) -> Fits:
    """The same with its first jelly wanted so many minutes before it is there."""
    product = of.problem.batches[0].product
    by = max(x.out_min for x in of.answer.timetable.loads) - minutes
    problem = replace(of.problem, wants=(PromisedBy(product=product, by_min=by),))
    return replace(of, problem=problem, answer=answer(problem))


@pytest.mark.parametrize("minutes", [0, 600])
def test_a_plan_of_what_fits_that_is_late_is_searched_once_more(monkeypatch, minutes):
    """As long as a day that is not too small, and from the plan that there is."""
    of = asked()
    mine = stated(of)
    fits = late_by(fits_of(mine, NAMES[0]), minutes)
    assert bool(fits.answer.lateness) == bool(minutes)
    monkeypatch.setattr(too_small, "what_fits", lambda *_, **__: fits)
    searched: list[tuple[object, float]] = []

    def planned(
        _: Asked,
        problem: Problem,
        order: object,
        known: list[KnownPlan],
        seconds: float,
    ) -> Answer:
        searched.append((known[0].plan, seconds))
        return replace(fits.answer, remarks=("searched again",))

    monkeypatch.setattr(Asked, "planned", planned)
    plan = too_small.as_much_as_fits(of, mine, NOWHERE)
    again = [(fits.answer.timetable, pytest.approx(8.0))] if minutes else []
    assert searched == again
    assert "searched again" not in plan.answer.remarks  # no better: the first stands


# --- the time, and what is known ------------------------------------------------------


@pytest.mark.parametrize(("explain", "seconds"), [(False, 8.0), (True, 4.0)])
def test_half_of_the_time_is_kept_where_it_is_asked_why(monkeypatch, explain, seconds):
    of = asked(explain=explain)
    reached = answer(stated(of).problem).timetable
    known = (KnownPlan(starts_at="08:00", plan=reached),)
    mine = replace(stated(of), known=known)
    told: list[dict[str, object]] = []

    def what_fits(*_: object, **how: object) -> Fits:
        told.append(how)
        return fits_of(mine, *NAMES)

    monkeypatch.setattr(too_small, "what_fits", what_fits)
    so_far = NoneFound(impossible=False, bound_min=0, bound_why="", reached=reached)
    too_small.as_much_as_fits(of, mine, so_far)
    (how,) = told
    assert how["seconds"] == pytest.approx(seconds)
    assert (how["begin_with"], how["reached"]) == (known, reached)


def test_where_room_for_all_of_it_comes_up_nothing_is_left_out_or_explained(
    monkeypatch,
):
    of = asked(explain=True)
    mine = stated(of)
    fits = fits_of(mine, *NAMES)
    monkeypatch.setattr(too_small, "what_fits", lambda *_, **__: fits)
    monkeypatch.delattr(too_small, "no_plan")
    plan = too_small.as_much_as_fits(of, mine, NOWHERE)
    assert plan.answer == fits.answer
    assert (plan.left_out, plan.too_much) == ((), None)


@pytest.mark.parametrize("explain", [False, True])
def test_what_is_to_be_known_of_the_search_is_said_with_what_fits_or_why_nothing_does(
    monkeypatch, explain
):
    of, slow = asked(explain=explain), ("this computer was too slow",)
    none = replace(NOWHERE, remarks=slow)
    fits = fits_of(stated(of), NAMES[0])
    fits = replace(fits, answer=replace(fits.answer, remarks=()))
    for found, said in ((fits, "remarks"), (None, "would_help")):
        monkeypatch.setattr(too_small, "what_fits", lambda *_, f=found, **__: f)
        monkeypatch.setattr(too_small, "no_plan", lambda *_, **__: NONE)
        monkeypatch.setattr(too_small, "with_typed_ways", lambda none, *_: none)
        plan = too_small.as_much_as_fits(of, stated(of), none)
        assert getattr(plan.answer, said) == slow
    all_of_it = fits_of(stated(of), *NAMES)
    all_of_it = replace(all_of_it, answer=replace(all_of_it.answer, remarks=()))
    monkeypatch.setattr(too_small, "what_fits", lambda *_, **__: all_of_it)
    plan = too_small.as_much_as_fits(of, stated(of), none)
    assert (plan.left_out, plan.answer.remarks) == ((), slow)
    shown = replace(fits, answer=replace(fits.answer, remarks=slow))
    monkeypatch.setattr(too_small, "what_fits", lambda *_, **__: shown)
    plan = too_small.as_much_as_fits(of, stated(of), none)
    assert plan.answer.remarks == slow  # said once


@pytest.mark.parametrize("found", ["all of it", "no plan"])
def test_what_the_clock_cut_is_said_once_whatever_it_cut(monkeypatch, found):
    """Sharing out the packs and the search were both cut; or the first alone."""
    of = asked()
    mine = stated(of)
    whole_plan = fits_of(mine, *NAMES)
    fits = fits_of(mine, NAMES[0])
    fits = replace(fits, answer=replace(fits.answer, remarks=()))
    monkeypatch.setattr(too_small, "what_fits", lambda *_, **__: fits)
    monkeypatch.setattr(
        whole_day, "state", lambda *_, **__: replace(mine, remarks=(TOO_SLOW,))
    )

    def answered(_: Problem) -> Answer | NoneFound:
        if found == "no plan":
            return NOWHERE
        return replace(whole_plan.answer, remarks=(TOO_SLOW,))

    plan = whole_day.plan_the_day(of.day, answer_of=answered, explain=False)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    assert plan.answer.remarks == (TOO_SLOW,)


def test_what_needs_no_search_is_said_where_nobody_looked_for_a_reason(monkeypatch):
    monkeypatch.setattr(too_small, "plain_reasons", lambda _: ["four pots, one fire"])
    plan = only_the_first(monkeypatch, asked())
    assert plan.too_much is not None
    assert plan.too_much.clashes == ("four pots, one fire",)


# --- why not, and the ways out -------------------------------------------------------


def why_not(
    monkeypatch: pytest.MonkeyPatch,
    *ways: WayOut,
    kept: tuple[str, ...] = NAMES[:1],
) -> tuple[DayPlan, SimpleNamespace]:
    """The day explained with these ways out; with what was asked for a reason."""
    of = asked(explain=True)
    mine = stated(of)
    fits = fits_of(mine, *kept)
    told = SimpleNamespace(shown=None)

    def no_plan(problem: Problem, **how: object) -> NoPlan:
        told.__dict__.update(how, fits=fits)
        return replace(NONE, clashes=("one fire",), ways_out=ways)

    def shown_with(_: Problem, none: NoPlan, plan: object) -> NoPlan:
        told.beside = plan
        return none

    monkeypatch.setattr(too_small, "what_fits", lambda *_, **__: fits)
    monkeypatch.setattr(too_small, "no_plan", no_plan)
    monkeypatch.setattr(too_small, "shown_with", shown_with)
    monkeypatch.setattr(too_small, "with_typed_ways", lambda none, *_: none)
    monkeypatch.setattr(too_small, "in_its_stead", lambda *_: None)
    so_far = NoneFound(impossible=True, bound_min=77, bound_why="hands", reached=None)
    plan = too_small.as_much_as_fits(of, mine, so_far)
    return plan, told


def way_out(mine: Stated, *out: str, is_shown: bool = False) -> WayOut:
    """The way without some batches, and the plan of the others."""
    batches = {batch.id: batch for batch in mine.problem.batches}
    kept = [name for name in NAMES if name not in out]
    plan = answer(only(mine.problem, kept))
    return WayOut(
        says="",
        cost_min=0,
        finish_min=plan.finish_min,
        done_by="",
        timetable=plan.timetable,
        changes=tuple(leave_out(batches[name]) for name in out),
        is_shown=is_shown,
    )


def test_a_reason_is_looked_for_from_what_is_known_beside_the_plan_that_is_shown(
    monkeypatch,
):
    plan, told = why_not(monkeypatch)
    assert plan.too_much is not None
    assert plan.too_much.clashes == ("one fire",)
    assert (told.known.minute, told.known.why) == (77, "hands")
    assert told.impossible
    assert told.missed == NAMES
    assert told.shown.kept == NAMES[:1]
    assert told.beside == told.fits.answer.timetable


def test_what_the_search_for_ways_out_found_room_for_is_in_the_plan(monkeypatch):
    """One batch was kept; a plan of two of the three came up on the way."""
    mine = stated(asked())
    plan, told = why_not(monkeypatch, way_out(mine, NAMES[2], is_shown=True))
    assert [batch.id for batch in plan.batches] == [*NAMES[:2]]
    assert [left.batches for left in plan.left_out] == [(NAMES[2],)]
    assert isinstance(plan.answer, Answer)
    assert told.beside == plan.answer.timetable
    # of the very batches that are kept nothing is planned anew
    same, told = why_not(monkeypatch, way_out(mine, *NAMES[1:], is_shown=True))
    assert same.answer == told.fits.answer


def test_a_day_that_needs_no_way_out_after_all_is_planned_whole(monkeypatch):
    plan, _ = why_not(monkeypatch, way_out(stated(asked())))
    assert [batch.id for batch in plan.batches] == [*NAMES]
    assert isinstance(plan.answer, Answer)
    assert (plan.left_out, plan.too_much) == ((), None)


@pytest.mark.parametrize(
    ("stead", "needed", "larger", "out", "said"),
    [
        # a day in its stead is shown first, then one with a larger canner, at last
        # one of the ways out; and no canner is looked for where all jars have room
        ("stead", 9, "larger", "way", "stead"),
        (None, 9, "larger", "way", "larger"),
        (None, 9, None, "way", "way"),
        (None, 0, "larger", "way", "way"),
        (None, 0, None, None, None),
    ],
)
def test_the_plan_that_is_shown_in_its_stead(
    monkeypatch, stead, needed, larger, out, said
):
    of = asked(explain=True)
    for where, name, found in (
        (too_small, "no_plan", NONE),
        (too_small, "places_needed", needed),
        (too_small, "in_larger_canner", larger),
        (plan_if, "_ran_on", None),
        (plan_if, "plan_if", stead),
        (plan_if, "as_a_way_out", out),
    ):
        monkeypatch.setattr(where, name, lambda *_, found=found, **__: found)
    so_far = NoneFound(impossible=True, bound_min=0, bound_why="", reached=None)
    none = too_small._why_not(of, stated(of), so_far, None, of.search(1.0))
    shown: PlanIf | str | None = none.plan_if
    assert shown == said
