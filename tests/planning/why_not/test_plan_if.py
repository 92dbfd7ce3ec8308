"""Where no plan fits, the plan of a day like it is shown, and never as one of this."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest
from kitchens import day, juice, kitchen, person, stores
from planning.small_days import butter, canner, jelly, step, work
from planning.small_days import day as small_day
from planning.small_days import person as small_person
from planning.test_bad_input import circular, with_long_boil
from planning.told_why import planned_or_told_why

from stillroom.methods.kitchen import Burner, Canner, CannerKind, Pot
from stillroom.methods.step import Skill
from stillroom.planning.day import Day, Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.how_good.lateness import batches_done_min
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Batch, Counter, Problem
from stillroom.planning.problem import Want as PromisedBy
from stillroom.planning.timetable import Answer, NoneFound, NoPlan, PlanIf
from stillroom.planning.way_changes import Change, Kind, changed
from stillroom.planning.whole_day import plan_the_day
from stillroom.planning.why_not import kitchen_if
from stillroom.planning.why_not.plan_if import (
    NOT_AS_IT_STANDS,
    as_a_way_out,
    if_it_ran_on,
    in_its_stead,
    plan_if,
)
from stillroom.planning.why_not.unworkable import unworkable, without_these
from stillroom.planning.words.hour_words import comes_at, is_away, leaves_at

NO_LIFT = frozenset({Skill.COLD, Skill.KNIFE, Skill.PAN})


lifting = step("lift", 5, 3, skill=Skill.LIFT)


def holds(like: PlanIf | None) -> PlanIf:
    """A plan breaks no rule of the day that it names, and says that it is no plan."""
    assert like is not None
    assert violations(like.problem, like.timetable) == ()
    assert NOT_AS_IT_STANDS in like.sentence
    return like


def planned(today: Day, seconds: float = 1.0) -> DayPlan:
    plan = plan_the_day(today, seconds=seconds)
    assert isinstance(plan, DayPlan)
    return plan


def told(problem: Problem, seconds: float = 1.0) -> NoPlan:
    none = planned_or_told_why(problem, seconds)
    assert isinstance(none, NoPlan)
    return none


def lifts(like: PlanIf) -> set[str]:
    plan = like.timetable
    return {who for load in plan.loads for who in (load.lowered_by, load.lifted_by)}


# --- nobody lifts -----------------------------------------------------------------


def test_with_nobody_to_lift_the_plan_names_when_somebody_would_have_to() -> None:
    plan = planned(day(people=(person(can=NO_LIFT),)))
    assert isinstance(plan.answer, NoPlan)
    assert plan.answer.clashes == ("nobody that day lifts hot jars",)
    assert plan.answer.nothing_can_be_made
    like = holds(plan.answer.plan_if)
    assert lifts(like) == {"another grown-up"}
    first = min(load.lower_min for load in like.timetable.loads)
    last = max(load.out_min for load in like.timetable.loads)
    assert like.says == (
        "if another grown-up came who lifts hot jars, there "
        f"{8 + first // 60}:{first % 60:02} to {8 + last // 60}:{last % 60:02}"
    )
    # by hand it fits: 16 jars in two batches are over long before eight in the evening
    assert "after the day's end" not in like.ends


@pytest.mark.parametrize("hours", [{"goes": dt.time(9)}, {"comes": dt.time(19, 30)}])
def test_one_lifter_who_is_gone_is_named_with_what_nobody_else_does(
    hours: dict[str, dt.time],
) -> None:
    others = (person(can=NO_LIFT), person("Bo", **hours))
    none = planned(day(people=others), seconds=3.0).answer
    assert isinstance(none, NoPlan)
    said = "; ".join(none.clashes)
    assert "and nobody else lifts hot jars" in said, none.clashes
    like = holds(none.plan_if)
    assert "Ada" not in lifts(like)


def test_hours_say_what_nobody_else_does_then() -> None:
    ada = small_person("Ada", skills=NO_LIFT)
    bo = small_person("Bo", arrives_min=30, leaves_min=200, away=((60, 90),))
    problem = small_day(jelly(), people=(ada, bo))
    assert leaves_at(problem, bo) == (
        "Bo leaves at 11:20, and nobody else lifts hot jars after that"
    )
    assert comes_at(problem, bo) == (
        "Bo comes at 8:30, and nobody else lifts hot jars before that"
    )
    assert is_away(problem, bo, 60, 90) == (
        "Bo is away 9:00 to 9:30, and nobody else lifts hot jars then"
    )


def test_hours_say_no_more_where_somebody_else_does_it_or_nobody_is_there() -> None:
    bo = small_person("Bo", leaves_min=200)
    alone = small_day(jelly(), people=(bo,))
    assert leaves_at(alone, bo) == "Bo leaves at 11:20"
    two = small_day(jelly(), people=(bo, small_person("Cy")))
    assert leaves_at(two, bo) == "Bo leaves at 11:20"


def test_what_no_one_person_does_is_said_beside_what_nobody_does() -> None:
    """A lifter who comes does not help where the pan asks for both of two people."""
    both = work(
        "pan",
        step("cut", 10, 3, skill=Skill.KNIFE, same_hands="a"),
        step("stir", 10, 3, skill=Skill.PAN, same_hands="a"),
    )
    ada = small_person("Ada", skills=frozenset({Skill.KNIFE, Skill.COLD}))
    bo = small_person("Bo", skills=frozenset({Skill.PAN, Skill.COLD}))
    problem = small_day(both, work("out", lifting), people=(ada, bo))
    none = without_these(problem, unworkable(problem))
    assert none.clashes == (
        "nobody that day lifts hot jars",
        'pan: "cut" and 1 more step need one person who cuts fruit and turns the mill '
        "and stirs the hot pan and pours; nobody in the day does",
    )


def test_a_name_that_holds_the_word_hides_no_reason() -> None:
    """The word is the name of the step; the reason is another one."""
    oven = step("nobody stirs", 10, 0, burner_w=9000.0)
    today = small_day(
        work("a", oven),
        work("b", lifting),
        people=(small_person("Ada", skills=frozenset({Skill.COLD})),),
    )
    none = without_these(today, unworkable(today))
    assert none.clashes[0] == "nobody that day lifts hot jars"
    assert '"nobody stirs" needs a burner of 9000 W' in none.clashes[1]


# --- the end of the day -----------------------------------------------------------


def test_a_plan_that_overruns_says_by_how_much() -> None:
    # one batch takes 76 min: it ends at 9:16, and the day at 9:00
    problem = replace(small_day(jelly()), horizon_min=60)
    none = told(problem)
    like = holds(none.plan_if)
    assert like.says == "if the day could run on until 9:16"
    assert like.ends == "it ends at 9:16, 16 min after the day's end"
    assert like.problem.horizon_min == 76


@pytest.mark.parametrize("seconds", [0.0, float("nan")])
def test_it_is_there_without_time_for_a_search(seconds: float) -> None:
    holds(told(replace(small_day(jelly()), horizon_min=60), seconds).plan_if)


def test_a_plan_that_fits_is_no_plan_of_a_longer_day() -> None:
    problem = small_day(jelly())
    answer = plan_day(problem, seconds=0.5)
    assert isinstance(answer, Answer)
    assert if_it_ran_on(problem, answer.timetable, "the best plan found") is None


def test_a_step_longer_than_the_day_is_shown_on_a_longer_one() -> None:
    problem = small_day(with_long_boil())  # 1000 min; the day has 480
    none = without_these(problem, unworkable(problem))
    assert '"boil" takes 1000 min; the day has 480' in none.clashes[0]
    like = holds(none.plan_if)
    assert like.timetable.finish_min > 1000


def test_circular_links_have_no_plan_on_any_day() -> None:
    problem = small_day(circular())
    none = without_these(problem, unworkable(problem))
    assert "go in a circle or contradict each other" in none.clashes[0]
    assert none.plan_if is None
    assert none.would_help == ()


def test_beside_circular_links_the_rest_is_shown_and_the_circle_named() -> None:
    problem = small_day(circular("a"), with_long_boil("b"))
    like = holds(plan_if(problem))
    assert like.ends.endswith("; a cannot be made even so")


# --- zero capacity ----------------------------------------------------------------


def test_a_counter_without_a_place_is_shown_with_room() -> None:
    problem = small_day(jelly(), counter=Counter(places=0, cooling_min=1440))
    none = told(problem)
    assert none.clashes == (
        "8 jars are to cool for 24 h; the counter has room for none",
    )  # fmt: skip
    like = holds(none.plan_if)
    assert like.says == "if there were room for 8 more jars to cool"


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"canners": ()}, "if there were a boiling-water canner on a fire of its own"),
        (  # there is one, and it takes no half-pints
            {"canners": (replace(kitchen().canners[0], places={"quart": 7}),)},
            "if there were another boiling-water canner on a fire of its own",
        ),
        (
            {"pots": (Pot(name="small", volume_m3=0.001),)},
            "if there were a pot of 10 qt",  # 8.7 qt are needed
        ),
        (
            {"burners": (Burner(name="front right", power_w=300.0),)},
            "if there were burners of 3.5 kW",
        ),
        (  # two are lacking: the canner may stay, and 10 qt do
            {
                "burners": (Burner(name="front right", power_w=2000.0),),
                "pots": (Pot(name="small", volume_m3=0.0076),),
            },
            "if there were burners of 3.5 kW and a pot of 10 qt",
        ),
    ],
)
def test_a_kitchen_that_makes_nothing_is_shown_with_what_it_lacks(
    changes: dict[str, object], says: str
) -> None:
    plan = planned(day(kitchen=kitchen(**changes)))
    assert plan.answer is None
    assert plan.unmet
    assert holds(plan.kitchen_if).says == says


SMALL = {"pots": (Pot(name="small", volume_m3=0.001),)}


def test_what_no_pot_makes_either_is_said_with_the_plan_of_another_kitchen() -> None:
    """A pot of 10 qt makes the jelly; for the jam there is no fruit."""
    wants = (
        Want(product="plum jelly", jars=7, jar="half-pint"),
        Want(product="peach jam", jars=7, jar="half-pint"),
    )
    like = holds(planned(day(*wants, kitchen=kitchen(**SMALL))).kitchen_if)
    assert like.says == "if there were a pot of 10 qt"
    assert like.ends.endswith("; peach jam cannot be made even so")


def test_nobody_has_to_come_where_a_thing_more_is_enough(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """It asked for two things and for who lifts, though three need nobody else."""
    by_hand, asked = kitchen_if._by_hand, []

    def not_before_the_third(problem: Problem, says: str) -> PlanIf | None:
        asked.append(says)
        return by_hand(problem, says) if len(asked) == 3 else None

    monkeypatch.setattr(kitchen_if, "_by_hand", not_before_the_third)
    like = holds(planned(day(kitchen=kitchen(**SMALL))).kitchen_if)
    assert like.says == f"if {asked[2]}"
    assert "came who" not in like.says


def test_where_the_shelf_is_what_lacks_no_kitchen_helps() -> None:
    want = Want(product="plum jelly", jars=7, jar="half-pint")
    plan = planned(day(want, shelf=(juice("apple juice"), *stores())))
    assert plan.answer is None
    assert plan.kitchen_if is None


# --- no time ----------------------------------------------------------------------


@pytest.mark.parametrize("seconds", [0.0, 0.01, -3.0, float("nan"), float("-inf")])
def test_without_time_for_a_search_the_plan_by_hand_is_marked_as_such(
    seconds: float,
) -> None:
    problem: Problem = small_day(jelly("a"), jelly("b"))
    answer = plan_day(problem, seconds=seconds)
    assert isinstance(answer, Answer)
    assert answer.made_by == "by hand"
    assert violations(problem, answer.timetable) == ()
    assert f"{seconds:g} s is no time for a search: this is the plan by hand" in (
        answer.remarks
    )


def test_what_breaks_a_rule_of_its_own_day_is_never_shown(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    problem = small_day(jelly(), people=(small_person("Ada", skills=NO_LIFT),))
    like = plan_if(problem)
    assert like is not None
    lacks = replace(like.timetable, steps=like.timetable.steps[1:])  # one step
    monkeypatch.setattr(
        "stillroom.planning.why_not.plan_if.by_hand", lambda *_, **__: lacks
    )
    assert plan_if(problem) is None


def test_who_has_too_little_attention_is_told_who_would_have_to_come() -> None:
    problem = small_day(jelly(), people=(small_person("Me", quarters=3),))
    none = without_these(problem, unworkable(problem))
    (clash,) = none.clashes
    assert "Me has 3 of 4 quarters" in clash
    (help_,) = none.would_help
    assert "another grown-up who does the cold work and stirs the hot pan" in help_
    assert "with all 4 quarters of attention" in help_
    assert "a day on which Me has more" in help_
    assert "such as a feed, is an absence (`away`)" in help_
    assert none.plan_if is not None
    assert "another grown-up came who does the cold work and" in none.plan_if.says
    assert not violations(none.plan_if.problem, none.plan_if.timetable)


def test_a_canner_too_small_for_any_batch_is_shown_with_a_larger_one() -> None:
    small = Canner(
        name="canner",
        kind=CannerKind.BOILING_WATER,
        stands_on=("front right",),
        places={"half-pint": 3, "pint": 3},
    )
    plan = planned(day(kitchen=kitchen(canners=(small,))), seconds=0.5)
    none = plan.answer
    assert isinstance(none, NoPlan)
    assert none.helps == (
        "use a canner that takes 8 half-pint jars at once; more time does not help",
    )
    assert none.plan_if is not None
    assert "a canner of 8 half-pint jars in place of yours" in none.plan_if.says
    assert not violations(none.plan_if.problem, none.plan_if.timetable)
    (larger,) = none.plan_if.problem.canners
    assert larger.places["half-pint"] == 8


def canner_of(places: int) -> Canner:
    return Canner(
        name="canner a",
        kind=CannerKind.BOILING_WATER,
        stands_on=("fire a",),
        places={"half-pint": places},
    )


def never(*_: object, **__: object) -> None:
    raise AssertionError("there is nothing to search for")


def test_canners_that_take_no_batch_in_time_are_said_without_a_search(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # a canner of five takes less than two thirds of 8 jars; two of them take 10
    for search in (
        "asked.plan_day",
        "too_small.what_fits",
        "why_not.explain.ways_out",
    ):
        monkeypatch.setattr(f"stillroom.planning.{search}", never)
    fire = Burner(name="fire a", power_w=3000.0)
    here = kitchen(burners=(*kitchen().burners, fire), canners=(canner_of(5),))
    none = planned(day(kitchen=here), seconds=60.0).answer
    assert isinstance(none, NoPlan)
    assert none.nothing_can_be_made
    assert "canners take 5 at once and the others would wait" in none.clashes[0]
    assert none.helps == (
        "use a canner that takes 8 half-pint jars at once, or one more like canner a, "
        "on a fire of its own; more time does not help",
    )
    like = holds(none.plan_if)
    assert "a canner of 8 half-pint jars in place of yours" in like.says


def test_one_batch_too_large_for_the_canners_does_not_stop_the_others() -> None:
    problem = small_day(jelly("small", jars=16), jelly("large", jars=20))
    assert unworkable(problem) == {
        "large": (
            "fills 20 half_pint jars; the canners take 16 at once and the others "
            "would wait 35 min closed, at most 20 are allowed",
        )
    }


def test_a_grown_up_more_is_no_help_where_all_that_can_be_made_fits() -> None:
    """One batch is too large for the canners: nobody who comes makes it smaller."""
    problem = small_day(jelly("small", jars=16), jelly("large", jars=20))
    assert plan_if(problem) is None
    none = without_these(problem, unworkable(problem))
    assert none.clashes
    assert none.plan_if is None
    short = replace(problem, horizon_min=60)
    assert "the day could run on until" in holds(plan_if(short)).says


def test_no_search_is_made_where_jars_would_wait_too_long(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for search in ("start.by_hand", "start.start_of", "searched.find_timetable"):
        monkeypatch.setattr(f"stillroom.planning.{search}", never)
    none = plan_day(small_day(jelly(jars=20)), seconds=60.0)
    assert isinstance(none, NoneFound)
    assert none.impossible


def test_a_mill_that_lacks_is_said_once_and_what_to_do_about_it() -> None:
    today = small_day(butter(), mills=0)
    found = without_these(today, unworkable(today))
    assert len(found.clashes) == 1
    assert "needs a food mill or a sieve" in found.clashes[0]
    assert any("a sieve will do" in said for said in found.helps)
    assert "if there were a food mill or a sieve" in holds(found.plan_if).says


def test_a_kitchen_with_a_mill_is_not_told_to_borrow_one() -> None:
    nobody = (small_person("Keeper", skills=frozenset({Skill.COLD})),)
    today = small_day(butter(), people=nobody)
    found = without_these(today, unworkable(today))
    assert "borrow" not in " ".join(found.helps)


# --- where nothing of that helps, a way out does ----------------------------------


def too_many_for_the_canner(*others: Batch) -> Problem:
    """Nine jars of jelly, five places, and jelly that gels while the rest would wait.

    Neither a longer day nor another grown-up nor room to cool brings a plan by hand.
    """
    small = canner(places={"half_pint": 5, "pint": 9})
    return small_day(jelly(jars=9), *others, people=2, canners=(small,))


def test_where_no_plan_by_hand_helps_the_cheapest_way_out_is_shown() -> None:
    problem = too_many_for_the_canner(butter())
    assert plan_if(problem) is None
    none = told(problem)
    like, cheapest = holds(none.plan_if), none.ways_out[0]
    assert like.timetable == cheapest.timetable
    assert like.problem == changed(problem, cheapest.changes)
    assert cheapest.says.startswith(f"it fits {like.says}")
    assert like.made_by == "the best plan found"
    assert like.ends == f"it ends at {cheapest.done_by}"


def test_the_only_one_who_cooks_leaves_too_soon_and_a_way_out_is_shown() -> None:
    """No longer day helps, and another grown-up is asked to lift, not to cook."""
    bo = person("Bo", can=frozenset({Skill.COLD, Skill.KNIFE, Skill.LIFT}))
    people = (person(goes=dt.time(8, 20)), bo)
    none = planned(day(people=people), seconds=2.0).answer
    assert isinstance(none, NoPlan)
    like, cheapest = holds(none.plan_if), none.ways_out[0]
    assert like.timetable.finish_min == cheapest.finish_min
    assert cheapest.says.startswith(f"it fits {like.says}")


def test_a_way_out_that_breaks_a_promise_says_so() -> None:
    problem = too_many_for_the_canner(butter())
    none = told(problem)
    promised = replace(problem, wants=(PromisedBy(product="butter", by_min=60),))
    like = holds(as_a_way_out(promised, none))
    late = like.timetable.finish_min - 60
    done = batches_done_min(like.problem, like.timetable)["butter-1"] - 60
    assert 0 < done <= late
    assert like.ends.endswith(f"; but butter comes {said_minutes(done)} late")


def test_the_plan_that_is_shown_is_not_shown_again_as_one_of_another_day() -> None:
    problem = too_many_for_the_canner(butter())
    none = told(problem)
    shown = replace(none.ways_out[0], is_shown=True)
    assert as_a_way_out(problem, replace(none, ways_out=(shown,))) is None
    as_it_is = replace(none.ways_out[0], changes=())
    assert as_a_way_out(problem, replace(none, ways_out=(as_it_is,))) is None
    both = replace(none, ways_out=(shown, none.ways_out[1]))
    like = holds(as_a_way_out(problem, both))
    assert like.says == "with one more canner like canner, on a fire of its own"


def test_a_larger_canner_is_shown_before_a_way_out_and_behind_all_else() -> None:
    problem = too_many_for_the_canner(butter())
    none = told(problem)
    way_out = holds(as_a_way_out(problem, none))
    larger = replace(way_out, says="if there were a canner of 12 pints")
    assert in_its_stead(problem, none, None) == way_out
    assert in_its_stead(problem, none, None, lambda: larger) == larger
    late = small_day(jelly(), horizon_min=60)
    by_hand_or_late = in_its_stead(late, replace(none, ways_out=()), None)
    found = in_its_stead(late, replace(none, ways_out=()), None, lambda: larger)
    assert found == holds(by_hand_or_late)


def test_a_way_out_that_breaks_a_rule_of_its_day_is_not_shown() -> None:
    problem = too_many_for_the_canner(butter())
    none = told(problem)
    longer = Change(kind=Kind.ENDS, amount=60)
    wrong = replace(none.ways_out[0], changes=(longer,))
    assert as_a_way_out(problem, replace(none, ways_out=(wrong,))) is None


def test_what_else_a_day_in_another_kitchen_asks_for_is_said_with_it() -> None:
    """It has an hour, and the jelly takes more, whatever stands in the kitchen."""
    found = kitchen_if._planned(small_day(jelly(), horizon_min=60), "there were a pot")
    assert found is not None
    until = clock_time("08:00", found.timetable.finish_min)
    assert found.says == f"if there were a pot and the day could run on until {until}"


@pytest.mark.parametrize(("there", "then"), [(1, 2), (2, 2), (3, 3)])
def test_stronger_burners_are_no_more_than_there_are_but_two(
    there: int, then: int
) -> None:
    weak = tuple(Burner(name=f"b{n}", power_w=900.0) for n in range(there))
    found = kitchen_if._with_strong_burners(kitchen(burners=weak)).burners
    assert [b.power_w for b in found] == [kitchen_if.POWER_W] * then
