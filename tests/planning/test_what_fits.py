"""Which batches at all, where the day is too small for every one of them."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from itertools import combinations

import pytest
from kitchens import CUP, day, juice, kitchen, person, stores
from planning.small_days import butter, jelly
from planning.small_days import day as small_day

from stillroom.planning.day import Day, Lot, Purpose, Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Counter, Problem
from stillroom.planning.sentence import first_sentence, how_good
from stillroom.planning.timetable import Answer, Timetable
from stillroom.planning.ways.held_plan import only
from stillroom.planning.what_fits import _first_of_each, _one_more, what_fits
from stillroom.planning.which_batches.batches import keep_only, make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.missed_most import (
    _becomes,
    left_out_of,
    most_missed_first,
)
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.planning.whole_day import plan_the_day


def fits(problem: Problem) -> bool:
    return isinstance(plan_day(problem, seconds=1.0), Answer)


def best_of_all(problem: Problem, order: list[str]) -> tuple[str, ...]:
    """The set that fits and has the most missed batches: every subset is tried."""
    found = [
        tuple(name for name in order if name in names)
        for number in range(1, len(order) + 1)
        for names in combinations(order, number)
        if fits(only(problem, names))
    ]
    return max(found, key=lambda names: [name in names for name in order])


@pytest.mark.parametrize("places", [8, 15, 16, 23])
def test_what_fits_is_what_would_be_missed_most(places: int) -> None:
    # jars of jelly come in eights, of butter in sevens; the counter has room for so
    # many. 8: jelly-1 alone; 15: it and the butter, because two jellies are sixteen;
    # 16: two jellies, which are missed more; 23: those and the butter
    problem = small_day(
        jelly("jelly-1"),
        jelly("jelly-2"),
        butter(),
        people=2,
        counter=Counter(places=places, cooling_min=1440),
    )
    order = ["jelly-1", "jelly-2", "butter-1"]
    got = what_fits(problem, order, seconds=2.0)
    if places == 23:
        assert fits(problem)
    assert got is not None
    assert tuple(n for n in order if n not in got.left_out) == best_of_all(
        problem, order
    )
    assert violations(got.problem, got.answer.timetable) == ()


def test_the_order_says_which_of_two_is_left_out() -> None:
    problem = small_day(
        jelly("jelly-1"), butter(), counter=Counter(places=8, cooling_min=1440)
    )
    for order in (["jelly-1", "butter-1"], ["butter-1", "jelly-1"]):
        got = what_fits(problem, order, seconds=3.0)
        assert got is not None
        assert got.left_out == (order[1],)


@pytest.mark.parametrize(("ends", "fits_too"), [(101, False), (102, True), (109, True)])
def test_one_more_is_put_behind_the_others_and_moved_up(
    ends: int, fits_too: bool
) -> None:
    # one batch is over at 67; the other put behind it by hand at 109, both at best 102
    problem = small_day(jelly("jelly-1"), jelly("jelly-2"), people=2, horizon_min=ends)
    one = plan_day(only(problem, ("jelly-1",)), seconds=1.0)
    assert isinstance(one, Answer)
    assert one.finish_min == 67

    def planned(day: Problem, plan: Timetable, share: float) -> Answer | None:
        answer = plan_day(day, seconds=share, begin_with=plan)
        return answer if isinstance(answer, Answer) else None

    both = _one_more(problem, one.timetable, "jelly-2", planned, 3.0)
    assert (both is not None) == fits_too
    if both is not None:
        assert both.finish_min == 102
        assert not violations(problem, both.timetable)


def test_nothing_fits_where_not_one_batch_does() -> None:
    problem = small_day(jelly(), horizon_min=60)
    assert what_fits(problem, ["jelly-1"], seconds=2.0) is None


# --- which would be missed most ------------------------------------------------


def berries(use_by: dt.date | None) -> Lot:
    return Lot(
        name="berry juice", what="blackberry juice", volume_m3=4 * CUP, use_by=use_by
    )


def two_products(date: dt.date, berry_date: dt.date | None, **of_plum: object) -> Day:
    return day(
        Want(product="plum jelly", jars=7, jar="half-pint", **of_plum),  # type: ignore[arg-type]
        Want(product="blackberry jelly", jars=5, jar="half-pint"),
        shelf=(juice("plum juice", bags=2), berries(berry_date), *stores()),
        date=date,
    )


DATE = dt.date(2026, 8, 22)


@pytest.mark.parametrize(
    ("berry_date", "plum", "first"),
    [
        (dt.date(2026, 8, 24), {"matters": 5}, "blackberry jelly"),  # will not keep
        (dt.date(2026, 12, 1), {"matters": 4}, "plum jelly"),  # both keep: 4 before 3
        (dt.date(2026, 12, 1), {"purpose": Purpose.STAND}, "plum jelly"),  # it sells
        (dt.date(2026, 12, 1), {"matters": 1}, "blackberry jelly"),
    ],
)
def test_what_spoils_then_what_matters_then_what_sells(
    berry_date: dt.date, plum: dict[str, object], first: str
) -> None:
    today = two_products(DATE, berry_date, **plum)
    made = _made(today)
    assert most_missed_first(today, made)[0] == f"{first} 1"


def _made(today: Day):  # type: ignore[no-untyped-def]
    from stillroom.methods.today import air_in
    from stillroom.refusal import granted

    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    return make_batches(today, place, Shelf(today.shelf))


def test_the_fruit_of_what_is_left_out_stays_on_the_shelf() -> None:
    today = two_products(DATE, dt.date(2026, 8, 24))
    made = _made(today)
    shelf = Shelf(today.shelf)
    kept = keep_only(made, ["plum jelly 1"], shelf)
    assert [b.id for b in kept.batches] == ["plum jelly 1"]
    (held,) = shelf.of("blackberry juice")
    assert held.left == held.whole
    (out,) = left_out_of(today, made, ("blackberry jelly 1",))
    assert out.spoils
    assert "freeze berry juice today" in out.fruit
    assert "not proven" in out.room
    (out,) = left_out_of(
        today, made, ("blackberry jelly 1",), proven=("blackberry jelly 1",)
    )
    assert out.room.startswith("proven: no plan has room")


def test_what_is_left_out_says_by_which_hours_it_is_promised() -> None:
    today = two_products(DATE, dt.date(2026, 8, 24))
    plum = next(w for w in today.wants if w.product == "plum jelly")
    soon, later = replace(plum, jars=3, by=dt.time(11)), replace(plum, jars=11)
    shelf = tuple(
        replace(lot, volume_m3=3 * lot.volume_m3) if lot.volume_m3 else lot
        for lot in today.shelf
    )
    twice = replace(
        today, wants=(soon, replace(later, by=dt.time(15, 30))), shelf=shelf
    )
    made = _made(twice)
    first, second = (batch.id for batch in made.batches)
    jars = {batch.id: batch.jars for batch in made.batches}
    (one,) = left_out_of(twice, made, (second,))
    assert (one.jars, one.batches) == (jars[second], (second,))
    assert one.why.endswith("it is promised by 15:30")
    one, _ = left_out_of(twice, made, (first, second))
    assert one.batches == (first,)
    assert one.why.endswith("it is promised by 11:00 and 15:30")


def test_fruit_of_more_than_one_is_said_without_it() -> None:
    # "keep pears cold; use it by ..." is no sentence
    today = two_products(DATE, dt.date(2026, 9, 12))
    pears = Lot(name="pears", what="pears", mass_kg=7.0, use_by=dt.date(2026, 9, 12))
    kept = _becomes(today, pears)
    assert kept == "keep pears cold and use by 12 September, or freeze"


def test_a_day_too_small_is_planned_as_far_as_it_goes_and_says_the_rest() -> None:
    # eight batches of jelly do not fit two hours and a half of one person
    today = day(
        Want(product="plum jelly", jars=62, jar="half-pint"),
        shelf=(juice("plum juice", bags=8), *stores()),
        people=(person(goes=dt.time(10, 0)),),
    )
    plan = plan_the_day(today, seconds=2.0)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    assert plan.problem is not None
    assert violations(plan.problem, plan.answer.timetable) == ()
    assert plan.too_much is not None
    assert plan.too_much.clashes
    (out,) = plan.left_out
    assert len(out.batches) + len(plan.batches) == 8
    assert "in the freezer" in out.fruit
    assert f"({out.jars} jars) are left out" in first_sentence(plan)
    bags = next(held for held in plan.leftovers if "plum juice" in held.lot)
    assert "bags stay frozen" in " ".join(bags.choices)


def test_fruit_that_will_not_keep_and_has_no_room_is_said_first() -> None:
    # blackberries by Sunday, plums by Monday, and hours for one batch at most
    today = two_products(DATE, dt.date(2026, 8, 23))
    fresh = Lot(
        name="plums pressed",
        what="plum juice",
        volume_m3=5 * CUP,
        use_by=dt.date(2026, 8, 24),
    )
    shelf = (fresh, *(lot for lot in today.shelf if lot.what != "plum juice"))
    nine = dt.time(9, 35)
    plan = plan_the_day(
        replace(today, shelf=shelf, ends=nine, people=(person(goes=nine),)),
        seconds=1.5,
    )
    assert isinstance(plan, DayPlan)
    (out,) = plan.left_out
    assert out.spoils
    assert how_good(plan).startswith(f"What {out.product} would be made of will not")


def test_layers_count_only_where_the_canner_says_so() -> None:
    # nine half-pints in one layer; two layers only if they are named, and pints by
    # their own figure
    def places(**layers: int) -> dict[str, int]:
        (plain,) = kitchen().canners
        today = day(
            Want(product="plum jelly", jars=7, jar="half-pint"),
            Want(product="pear butter", jars=4, jar="pint"),
            shelf=(juice(), Lot(name="pears", what="pears", mass_kg=9.0), *stores()),
            kitchen=kitchen(canners=(replace(plain, layers=layers),)),
        )
        plan = plan_the_day(today, seconds=0.5)
        assert isinstance(plan, DayPlan)
        assert plan.problem is not None
        return dict(plan.problem.canners[0].places)

    assert places() == {"half-pint": 9, "pint": 9}
    assert places(**{"half-pint": 2}) == {"half-pint": 18, "pint": 9}


def test_of_what_is_left_out_one_of_each_product_is_tried() -> None:
    plums = [replace(jelly(f"plum {n}"), product="plum jelly") for n in (1, 2, 3)]
    pears = [replace(jelly(f"pear {n}"), product="pear jelly") for n in (1, 2)]
    kinds = [replace(jelly(name), product=name) for name in ("quince", "crab")]
    problem = small_day(*plums, *pears, *kinds)
    out = ("plum 2", "plum 3", "pear 1", "pear 2", "quince", "crab")
    assert _first_of_each(problem, out) == ["plum 2", "pear 1", "quince"]
    assert _first_of_each(problem, ()) == []
