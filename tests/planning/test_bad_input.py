"""Each bad day gets the best plan there is, marked as such, and the reason."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest
from kitchens import day, juice, kitchen, person, stores
from planning.small_days import butter, canner, full_day, jelly
from planning.small_days import day as small_day
from planning.small_days import person as small_person
from planning.told_why import planned_or_told_why

from stillroom.methods.kitchen import Canner, CannerKind
from stillroom.methods.step import Link, Skill
from stillroom.planning import searched, start
from stillroom.planning.bounding.bounds import Bound
from stillroom.planning.cpsat.search import Search
from stillroom.planning.day import Day, Lot, Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.how_good.goals import goals_sentence
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Batch, Counter, Problem
from stillroom.planning.problem import Want as DueWant
from stillroom.planning.start import Start
from stillroom.planning.timetable import Answer, NoneFound, NoPlan
from stillroom.planning.ways.held_plan import only
from stillroom.planning.what_fits import what_fits
from stillroom.planning.whole_day import plan_the_day
from stillroom.planning.why_not.unworkable import for_a_short_day, unworkable


def planned(today: Day, seconds: float = 1.0) -> DayPlan:
    plan = plan_the_day(today, seconds=seconds)
    assert isinstance(plan, DayPlan)
    return plan


def circular(name: str = "a") -> Batch:
    plain = jelly(name)
    back = Link(before="wash_pot", after="wash_jars")
    return replace(plain, links=(*plain.links, back))


def with_long_boil(name: str = "a") -> Batch:
    plain = jelly(name)
    steps = tuple(
        replace(s, duration_min=1000) if s.id == "boil" else s for s in plain.steps
    )
    return replace(plain, steps=steps)


# --- one batch that cannot be made does not stop the others ----------------------


@pytest.mark.parametrize(
    ("problem", "words"),
    [
        (small_day(circular(), butter()), "go in a circle or contradict each other"),
        (
            small_day(with_long_boil(), butter()),
            '"boil" takes 1000 min; the day has 480',
        ),
        (
            small_day(jelly("a", process="quart-10"), butter()),
            "has process 'quart-10', which is not in the day",
        ),
        (
            small_day(jelly("a"), butter(), canners=(canner(places={"pint": 9}),)),
            "fills half_pint jars, which no canner takes",
        ),
        (small_day(jelly("a", jars=0), butter()), "fills 0 jars; 1 or more"),
    ],
)
def test_the_others_are_planned_and_the_reason_is_said(
    problem: Problem, words: str
) -> None:
    cannot = unworkable(problem)
    assert list(cannot) == ["a"]
    assert any(words in reason for reason in cannot["a"]), cannot
    rest = only(problem, ["butter-1"])
    answer = plan_day(rest, seconds=1.0)
    assert isinstance(answer, Answer)
    assert violations(rest, answer.timetable) == ()


def frozen_and_canned(*people: object) -> Day:
    """Juice for jelly, which is canned, and berries, which are frozen."""
    berries = Lot(name="berries", what="blueberries", mass_kg=2.0)
    return day(
        Want(product="plum jelly", jars=7, jar="half-pint"),
        Want(product="frozen blueberries", jars=2, jar="pint"),
        shelf=(juice("plum juice"), berries, *stores()),
        people=people or (person(),),
    )


def test_with_nobody_to_lift_a_jar_the_freezer_is_filled_all_the_same() -> None:
    nobody_lifts = person(can=frozenset({Skill.COLD, Skill.KNIFE, Skill.PAN}))
    plan = planned(frozen_and_canned(nobody_lifts))
    assert isinstance(plan.answer, Answer)
    assert {batch.product for batch in plan.batches}
    assert all(batch.process is None for batch in plan.batches)
    (out,) = plan.left_out
    assert out.product == "plum jelly"
    assert "needs someone who lifts hot jars" in out.why
    assert "leave frozen plum juice in the freezer" in out.fruit
    assert plan.too_much is not None
    assert any("lifts hot jars" in clash for clash in plan.too_much.clashes)


def test_only_a_day_too_short_for_a_step_is_said_to_be_too_short() -> None:
    both = replace(with_long_boil("both"), links=circular().links)
    problem = small_day(with_long_boil("long"), circular("circle"), both, butter())
    cannot = unworkable(problem)
    assert for_a_short_day(problem, cannot) == {"long"}
    assert for_a_short_day(only(problem, ["butter-1"]), cannot) == set()


def test_what_a_longer_day_would_make_is_not_said_to_need_more_than_hours() -> None:
    # cooking pears soft takes 34 min and the day has 30; nothing else is amiss
    pears = Lot(name="pears", what="pears", mass_kg=7.0)
    half_past = dt.time(8, 30)
    today = day(
        Want(product="frozen blueberries", jars=2, jar="pint"),
        Want(product="pear butter", jars=4, jar="pint"),
        shelf=(Lot(name="berries", what="blueberries", mass_kg=2.0), pears, *stores()),
        people=(person(goes=half_past),),
        ends=half_past,
    )
    (out,) = planned(today).left_out
    assert "the day has 30" in out.why
    assert out.room == "it cannot be made in so short a day"
    nobody_lifts = person(can=frozenset({Skill.COLD, Skill.KNIFE, Skill.PAN}))
    (out,) = planned(frozen_and_canned(nobody_lifts)).left_out
    assert out.room.endswith("as the day stands, however long the day is")


def test_a_canner_of_another_kind_leaves_what_it_cannot_process() -> None:
    # no boiling-water canner takes pints here: the want is not met, with the reason
    small = Canner(
        name="canner",
        kind=CannerKind.BOILING_WATER,
        stands_on=("front right",),
        places={"half-pint": 9},
    )
    today = day(
        Want(product="plum jelly", jars=7, jar="half-pint"),
        Want(product="plum jelly", jars=4, jar="pint"),
        kitchen=kitchen(canners=(small,)),
    )
    plan = planned(today)
    assert isinstance(plan.answer, Answer)
    assert any("pint" in unmet.reason for unmet in plan.unmet)


# --- zero capacity; demands that cannot be met -------------------------------------


def test_with_no_place_on_the_counter_only_what_needs_none_is_made() -> None:
    cold = jelly("cold", process=None, jars=0)
    problem = small_day(jelly("a"), cold, counter=Counter(places=0, cooling_min=1440))
    assert isinstance(plan_day(problem, seconds=1.0), NoneFound)
    fits = what_fits(problem, ["a", "cold"], seconds=2.0)
    assert fits is not None
    assert fits.left_out == ("a",)


def test_a_promise_that_cannot_be_kept_is_late_and_said() -> None:
    # one batch of jelly takes 76 minutes by one person: promised after 60, 16 late;
    # with as many hands as it asks for it takes 67, which no plan can beat
    problem = small_day(jelly(), wants=(DueWant(product="jelly", by_min=60),))
    answer = plan_day(problem, seconds=2.0)
    assert isinstance(answer, Answer)
    assert answer.lateness == 16
    said = goals_sentence(problem, answer.timetable)
    assert said.startswith(
        "Late: jelly is 16 min late, wanted by 9:00 (no plan has it before 9:07: a "
        "batch takes that long by itself)."
    )


def test_more_is_wanted_than_the_shelf_has() -> None:
    plan = planned(day(Want(product="plum jelly", jars=70, jar="half-pint")))
    assert isinstance(plan.answer, Answer)
    (unmet,) = plan.unmet
    assert (unmet.wanted, unmet.planned) == (70, sum(b.jars for b in plan.batches))


# --- a search that finds nothing in its time ----------------------------------------


def test_a_search_that_finds_nothing_leaves_the_plan_by_hand(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def nothing(problem: Problem, start: object, *_: object, **__: object) -> object:
        return searched.SearchResult(timetable=start, bound=1)  # type: ignore[arg-type]

    monkeypatch.setattr(searched, "find_timetable", nothing)
    monkeypatch.setattr(
        start, "start_of", lambda problem, first, **_: Start(first, by_hand=True)
    )
    answer = plan_day(full_day(), seconds=1.0)
    assert isinstance(answer, Answer)
    assert answer.made_by == "by hand"
    assert answer.timetable == answer.by_hand
    assert any("nothing better" in remark for remark in answer.remarks)


def test_where_neither_finds_a_plan_it_is_not_called_impossible(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(
        searched, "find_timetable", lambda *_, **__: searched.SearchResult()
    )
    monkeypatch.setattr(start, "by_hand", lambda *_, **__: None)
    problem = small_day(jelly(), people=(small_person("p1"),))
    answer = planned_or_told_why(problem, seconds=0.5)
    assert isinstance(answer, NoPlan)
    assert any("not proven" in clash for clash in answer.clashes)
    assert any("allow more than" in way for way in answer.would_help)


@pytest.mark.parametrize(("cut", "said"), [(True, ["this computer"]), (False, [])])
def test_a_search_that_the_clock_cut_short_says_so_where_it_found_nothing(
    monkeypatch: pytest.MonkeyPatch, cut: bool, said: list[str]
) -> None:
    def nothing(_: object, __: object, known: Bound, ___: object, search: Search):
        search.cut.happened = cut
        return searched.SearchResult(), known, None

    monkeypatch.setattr(start, "by_hand", lambda *_, **__: None)
    monkeypatch.setattr("stillroom.planning.plan.searched", nothing)
    none = plan_day(small_day(jelly()), seconds=0.5)
    assert isinstance(none, NoneFound)
    assert [remark[: len("this computer")] for remark in none.remarks] == said


def test_a_whole_day_too_short_for_any_batch_says_why() -> None:
    today = day(ends=dt.time(8, 40), people=(person(goes=dt.time(8, 40)),))
    plan = planned(today)
    assert isinstance(plan.answer, NoPlan)
    assert any("each, even alone" in clash for clash in plan.answer.clashes)
    assert plan.left_out == ()
