"""When nothing fits: the reasons, and what would help, in words."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest
from planning.small_days import butter, day, jelly, person, step, work
from planning.told_why import planned_or_told_why

from stillroom.methods.step import Link, Skill
from stillroom.planning.bounding.bounds import Bound, lower_bounds
from stillroom.planning.cpsat.solve import Search
from stillroom.planning.daytime import clock_time
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Break, Burner, Counter, Problem, Window
from stillroom.planning.timetable import Answer, NoneFound, NoPlan, WayOut
from stillroom.planning.way_changes import changed
from stillroom.planning.ways.ways_out import ways_out
from stillroom.planning.why_not import explain
from stillroom.planning.why_not.clash_by_bound import rules_by_bound
from stillroom.planning.why_not.explain import no_plan, plain_reasons
from stillroom.planning.why_not.ready_late import ready_too_late


def reasons(problem: Problem, seconds: float = 4.0) -> NoPlan:
    answer = planned_or_told_why(problem, seconds=seconds)
    assert isinstance(answer, NoPlan), answer
    return answer


def ways(problem: Problem) -> tuple[WayOut, ...]:
    """Ways out with the work counted, so that a busy machine finds the same."""
    until = time.monotonic() + 60
    counted = Search(until, workers=1, seed=1, deterministic=True, seconds=10)
    return ways_out(problem, counted).ways


def test_someone_leaves_too_early() -> None:
    # the smallest day takes 76 min and begins at 8:00
    problem = day(jelly(), people=(person("keeper", leaves_min=70),))
    none = reasons(problem)
    assert none.clashes == ("keeper leaves at 9:10",)
    assert none.minimal
    assert "it fits if keeper stays 6 min longer, until 9:16: less does not do" in [
        way.says for way in ways(problem)
    ]


def test_the_familys_supper_is_in_the_way() -> None:
    # the smallest day takes 76 min, its water 30 of them and 35 from the first jar to
    # the last: with the canner's burner somebody else's from 20 to 60 it is not heated
    # before 60, and 60 + 30 + 35 is 125
    burners = tuple(
        replace(b, taken=((20, 60),)) if b.id == "strong-1" else b
        for b in day().burners
    )
    problem = day(jelly(), burners=burners, horizon_min=124)
    none = reasons(problem)
    assert none.minimal
    rules = {"the burner strong-1 is taken 8:20 to 9:00", "the day ends at 10:04"}
    assert set(none.clashes) == rules
    assert set(rules_by_bound(problem, lambda: False)) <= rules
    answer = plan_day(replace(problem, horizon_min=125), seconds=4.0)
    assert isinstance(answer, Answer)
    assert (answer.finish_min, answer.proven) == (125, True)


def test_a_burner_that_is_never_ours_is_in_the_way() -> None:
    # an hour on the only burner, which is somebody else's until 7 h 10 of 8 h
    cook = work("a", step("cook", 60, 0, burner_w=900.0))
    left = Burner(id="left", power_w=1000.0, taken=((0, 430),))
    none = reasons(day(cook, burners=(left,), canners=()))
    assert set(none.clashes) == {
        "the burner left is taken 8:00 to 15:10",
        "the day ends at 16:00",
    }


def test_two_rules_clash_and_either_would_do() -> None:
    # 76 min of work and 10 of rest in 80: without the rest, or staying on, it fits
    rest = Break(duration_min=10, earliest_min=0, latest_start_min=30)
    none = reasons(
        day(jelly(), people=(person("keeper", leaves_min=80, breaks=(rest,)),))
    )
    assert none.minimal
    assert sorted(none.clashes) == [
        "keeper leaves at 9:20",
        "keeper rests 10 min, beginning 8:00 to 8:30",
    ]
    without = person("keeper", leaves_min=80)
    assert isinstance(plan_day(day(jelly(), people=(without,))), Answer)


def test_an_absence_is_named() -> None:
    gone = person("keeper", leaves_min=100, away=((20, 60),))
    none = reasons(day(jelly(), people=(gone,)))
    assert "keeper is away 8:20 to 9:00" in none.clashes


def test_the_day_is_too_short() -> None:
    problem = day(jelly(), people=2, horizon_min=60)
    none = reasons(problem)
    # 67 min with all the help there is: jelly alone is longer than the day
    assert none.clashes == (
        "jelly-1 alone takes 1 h 7 min; the day has 1 h and ends at 9:00",
    )
    # there is but one batch, so that minutes at both ends are the third way
    assert [way.says for way in ways(problem)] == [
        "it fits if the day ends 7 min later, at 9:07: less does not do",
        "it fits if the day starts 7 min earlier, at 7:53: less does not do",
        "it fits if the day starts 3 min earlier, at 7:57 and the day ends 4 min "
        "later, at 9:04: less does not do",
    ]


def test_batches_longer_than_the_day_are_one_reason() -> None:
    # with all the help there is, butter takes 146 min and then 35 in the canner; jelly
    # 32 and 35, and 7 more where it comes to a full boil in 14 and not in 7
    jellies = [jelly(f"jelly-{n}") for n in (1, 2)]
    steps = (
        replace(s, duration_min=14) if s.id == "full_boil" else s for s in jelly().steps
    )
    longer = jelly("jelly-3", steps=tuple(steps))
    ends = "the day has 1 h and ends at 9:00"
    for batches, says in (
        (jellies, "2 batches of jelly take 1 h 7 min each, even alone"),
        (
            [*jellies, longer],
            "3 batches of jelly take 1 h 7 min to 1 h 14 min each, even alone",
        ),
        (
            [*jellies, butter()],
            "3 batches each take longer than the day, even alone: 1 of butter (3 h 1 "
            "min) and 2 of jelly (1 h 7 min)",
        ),
    ):
        problem = day(*batches, people=9, big_pots=3, horizon_min=60)
        said = [one for one in plain_reasons(problem) if "alone" in one]
        assert said == [f"{says}; {ends}"]


def test_there_is_more_work_than_hands() -> None:
    batches = [jelly(f"jelly-{n}") for n in range(6)]
    problem = day(*batches, people=(person("keeper", leaves_min=200),))
    # by whole hands: boiling 12 at one half, and 7 + 1 + 3 + 5 + 5 + 4 + 4 + 6 whole,
    # which is 41 a batch; at least 3 loads of 8: 6 x 41 + 24 = 270
    none = reasons(problem, seconds=3.0)
    assert none.clashes == (
        "there is more work than hands: 4 h 30 min of work that only keeper can do, "
        "and 3 h 20 min of their time",
    )
    assert none.would_help


def test_no_hands_are_counted_before_there_is_anything_for_them() -> None:
    """An hour of soaking, then 50 min of work, and she goes at 9:40."""
    soaked = work(
        "beans",
        step("soak", 60, 0),
        step("sort", 50, 4),
        links=(Link(before="soak", after="sort"),),
    )
    for leaves, said in ((100, 1), (110, 0)):
        problem = day(soaked, people=(person("keeper", leaves_min=leaves),))
        told = [one for one in plain_reasons(problem) if "work than hands" in one]
        assert told == said * [
            "there is more work than hands: 50 min of work that only keeper can do, "
            "and 40 min of their time"
        ]


def test_there_is_no_room_for_the_jars() -> None:
    small = Counter(places=14, cooling_min=1440)
    none = reasons(day(jelly(), butter(), counter=small))
    assert none.clashes == (
        "15 jars are to cool for 24 h; the counter has room for 14",
    )
    assert "it fits if there is room for 1 more jar to cool: less does not do" in (
        none.would_help
    )
    # butter fills 7 jars and jelly 8: it costs less to leave the butter out
    assert "it fits without one batch of butter" in none.would_help


def test_jars_that_are_cold_within_the_day_are_not_too_many() -> None:
    """15 of them and 14 places: a place is free again an hour after."""
    for cooling_min, said in ((60, 0), (480, 1), (1440, 1)):
        counter = Counter(places=14, cooling_min=cooling_min)
        told = list(plain_reasons(day(jelly(), butter(), counter=counter)))
        assert len(told) == said


def test_more_time_is_advised_only_where_none_is_proven_to_be_in_vain() -> None:
    problem = day(jelly(), people=(person("keeper", leaves_min=70),))
    for impossible in (False, True):
        none = no_plan(
            problem,
            impossible=impossible,
            seconds=2.0,
            search=Search(time.monotonic() + 1.0, workers=1, seed=1, seconds=1.0),
        )
        advised = "allow more than 2 s for the search" in none.would_help
        assert advised != impossible


def test_more_time_is_not_advised_where_a_plain_sum_says_no() -> None:
    """15 jars and 14 places: no search however long finds a fifteenth."""
    problem = day(jelly(), butter(), counter=Counter(places=14, cooling_min=1440))
    none = no_plan(
        problem,
        impossible=False,
        seconds=2.0,
        search=Search(time.monotonic() + 1.0, workers=1, seed=1, seconds=1.0),
    )
    assert none.clashes == tuple(plain_reasons(problem))
    assert not [helps for helps in none.would_help if "for the search" in helps]


def test_a_batch_fills_more_jars_than_can_wait() -> None:
    none = reasons(day(jelly(jars=20)))
    assert none.clashes == (
        "jelly-1 fills 20 half_pint jars; the canners take 16 at once and the others "
        "would wait 35 min closed, at most 20 are allowed",
    )
    larger = (
        "use a canner that takes 20 half_pint jars at once; more time does not help"
    )
    assert larger in none.would_help
    patient = day(jelly(jars=20, closed_wait_at_most_min=40))
    answer = plan_day(patient)
    assert isinstance(answer, Answer)
    assert len(answer.timetable.loads) == 2
    assert sum(load.count for load in answer.timetable.loads) == 20


def test_where_no_second_canner_helps_more_seconds_are_not_asked_for() -> None:
    none = reasons(day(jelly(jars=40)))  # 16 at once, and 32 with a second canner
    assert none.ways_out == ()
    assert none.helps == (
        "use a canner that takes 40 half_pint jars at once; more time does not help",
    )


def test_nothing_that_people_can_change_would_help() -> None:
    # two fires at once on the only strong burner, tied together by a no-wait link
    steps = (
        step("first", 10, 0, burner_w=3000.0),
        step("second", 10, 0, burner_w=3000.0),
        step("both", 5, 0),
    )
    links = (
        Link(before="first", after="both", at_most_min=0),
        Link(before="second", after="both", at_most_min=0),
    )
    batch = jelly(process=None, pots=(), ready_after="", steps=steps, links=links)
    none = reasons(day(batch))
    assert "cannot hold together, however long people stay" in none.clashes[0]


def test_the_bounds_say_why() -> None:
    bounds = lower_bounds(day(jelly("a"), jelly("b"), people=2))
    words = [bound.why for bound in bounds]
    assert "a alone takes that long" in words
    assert any("pots of size big" in why for why in words)
    assert any("loads" in why for why in words)
    assert [b.minute for b in bounds] == sorted(
        (b.minute for b in bounds), reverse=True
    )


def test_a_pot_bound_is_the_sum_of_what_holds_it() -> None:
    # 28 + 6 min a batch, three batches, one pot
    bounds = lower_bounds(day(*(jelly(n) for n in "abc"), people=3))
    pots = next(b for b in bounds if b.why.startswith("pots"))
    assert pots.minute == 3 * (12 + 7 + 1 + 3 + 5 + 6)


def test_help_is_not_promised_where_it_does_not_help() -> None:
    none = reasons(day(jelly(), people=(person("keeper", leaves_min=70),)))
    assert all("without one batch" not in said for said in none.would_help)
    longer = replace(person("keeper"), leaves_min=76)
    answer = plan_day(day(jelly(), people=(longer,)))
    assert isinstance(answer, Answer)
    assert answer.finish_min == 76


def test_three_ways_out_are_solved_and_the_cheapest_comes_first() -> None:
    """
    Alone 76 min of work; the keeper leaves at 70, and her helper comes at 80.

    Six minutes more of her, or the helper sooner, or the day a minute longer. Each
    finish is that of a plan that breaks no rule.
    """
    people = (person("keeper", leaves_min=70), person("helper", arrives_min=80))
    problem = day(jelly(), people=people, horizon_min=83)
    none = reasons(problem)
    assert none.minimal
    assert len(none.clashes) == 3
    # one minute of the day's end, one of the helper's, or six of the keeper, who then
    # needs nobody: minutes before the day's start or minutes after she would leave
    found = ways(problem)
    costs = [(way.cost_min, way.finish_min) for way in found]
    assert sorted(costs) == [(1, 83), (1, 84), (6, 76)]
    assert costs[-1] == (6, 76)
    by_words = {way.says.split(" min")[0]: way for way in found}
    later = by_words["it fits if the day ends 1"]
    sooner = by_words["it fits if helper comes 1"]
    assert "at 9:24" in later.says
    assert "at 9:19" in sooner.says
    assert violations(replace(problem, horizon_min=84), later.timetable) == ()
    early = (people[0], person("helper", arrives_min=79))
    assert violations(replace(problem, people=early), sooner.timetable) == ()
    assert violations(problem, sooner.timetable) != ()


def test_who_comes_sooner_comes_by_no_more_than_is_needed() -> None:
    """One who can lift comes at 60; the jars are closed at 32 with all the help."""
    cook = person("cook", skills=frozenset({"cold", "knife", "pan"}))
    lifter = person("lifter", arrives_min=60)
    problem = day(jelly(), people=(cook, lifter), horizon_min=80)
    way = next(way for way in ways(problem) if "lifter comes" in way.says)
    assert way.says.endswith("less does not do")
    sooner = replace(lifter, arrives_min=60 - way.cost_min)
    assert violations(replace(problem, people=(cook, sooner)), way.timetable) == ()
    later = replace(lifter, arrives_min=61 - way.cost_min)
    assert isinstance(plan_day(replace(problem, people=(cook, later))), NoneFound)


def test_one_more_canner_is_a_way_out_where_the_canner_is_short() -> None:
    """Three batches that each fill the canner, and 100 minutes."""
    batches = tuple(jelly(f"jelly-{n}", jars=16) for n in (1, 2, 3))
    problem = day(*batches, people=4, big_pots=3, horizon_min=100)
    none = reasons(problem, seconds=6.0)
    assert none.ways_out
    for way in none.ways_out:
        assert violations(changed(problem, way.changes), way.timetable) == ()


def test_where_no_rules_are_found_to_clash_it_says_what_is_short(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # two pans, each whole hands for 20 min: 40 in all, and the day has 35. Quarters
    # alone come to 30, so that no plain sum says so.
    fire = {"skill": Skill.PAN, "burner_w": 2000.0, "same_hands": "pan"}
    steps = (step("watch", 10, 2, **fire), step("boil", 10, 4, **fire))
    links = (Link(before="watch", after="boil", at_most_min=0),)
    pans = (
        jelly(n, steps=steps, links=links, process=None, pots=(), ready_after="")
        for n in "ab"
    )
    monkeypatch.setattr(
        "stillroom.planning.why_not.explain.clashing_rules", lambda *_: None
    )
    problem = day(*pans, canners=(), horizon_min=35)
    none = reasons(problem)
    assert none.clashes == (
        "it is proven that not all of it fits by 8:35: the hands of p1 are taken until "
        "then",
    )
    # of one batch it is said by its name; it is only taken to be proven here
    alone = replace(problem, batches=problem.batches[:1])
    none = no_plan(
        alone,
        impossible=True,
        seconds=1.0,
        search=Search(time.monotonic() + 1.0, workers=1, seed=1),
        known=Bound(40, "the fire is taken until then"),
    )
    assert none.clashes == (
        "it is proven that a does not fit by 8:35: the fire is taken until then",
    )


def test_a_way_out_says_its_hour_once() -> None:
    none = reasons(day(jelly(), people=(person("keeper", leaves_min=70),)))
    for way in none.ways_out:
        assert way.sentence.count(way.done_by) == 1
    (later,) = (w for w in none.ways_out if "stays" in w.says)
    assert later.done_by in later.says


def test_a_bound_names_the_rules_that_it_rests_on() -> None:
    # 76 min of one person's work in 80, and ten of them are for her rest; when the
    # other comes, and that he goes at once, changes nothing, since he can only cut
    rest = Break(duration_min=10, earliest_min=0, latest_start_min=30)
    people = (
        person("keeper", leaves_min=80, breaks=(rest,)),
        person("cutter", skills=frozenset({"knife"}), arrives_min=5, leaves_min=20),
    )
    problem = day(jelly(), people=people, horizon_min=80)
    assert rules_by_bound(problem, lambda: False) == (
        "the day ends at 9:20",
        "keeper rests 10 min, beginning 8:00 to 8:30",
    )
    # of a day that fits nothing is claimed
    assert rules_by_bound(day(jelly(), people=2), lambda: False) == ()


def test_only_what_a_bound_has_left_out_is_no_part_of_the_clash() -> None:
    """She goes at 9:10 and it takes until 9:16: her rest and coming have no part."""
    rest = Break(duration_min=10, earliest_min=0, latest_start_min=30)
    keeper = person("keeper", arrives_min=3, leaves_min=70, breaks=(rest,))
    problem = day(jelly(), people=(keeper,), horizon_min=80)
    assert rules_by_bound(problem, lambda: False) == (
        "the day ends at 9:20",
        "keeper leaves at 9:10",
    )
    # where the time is over before they were asked about, all of them stay
    assert rules_by_bound(problem, lambda: True) == (
        "the day ends at 9:20",
        "keeper rests 10 min, beginning 8:00 to 8:30",
        "keeper comes at 8:03",
        "keeper leaves at 9:10",
    )


def ready_at(minute: int) -> Problem:
    """Two jellies of one bag of juice, which is ready late; the day ends at 480."""
    drips = Window(step="boil", earliest_min=minute, why="plum juice is ready")
    both = (jelly("jelly-1", windows=(drips,)), jelly("jelly-2", windows=(drips,)))
    return day(*both)


def test_juice_is_ready_too_late_from_the_very_minute_at_which_no_plan_is_left() -> (
    None
):
    def one(minute: int) -> Problem:
        drips = Window(step="boil", earliest_min=minute, why="plum juice is ready")
        return day(jelly(windows=(drips,)), people=9)

    too_late = next(m for m in range(300, 480) if any(ready_too_late(one(m))))
    assert by_hand(one(too_late), shuffles=5) is None
    assert by_hand(one(too_late - 1), shuffles=5) is not None


def test_a_bound_that_the_day_keeps_is_no_reason() -> None:
    problem = day(jelly())
    for minute, said in ((480, False), (481, True)):
        told = explain._proven(problem, Bound(minute, "hands are short"))
        assert told.startswith("it is proven that jelly-1 does not fit")
        assert ("hands are short" in told) == said


def test_juice_that_is_ready_too_late_for_a_batch_is_the_reason() -> None:
    # from 15:45 each takes an hour or so, and the day ends at 16:00
    none = reasons(ready_at(465))
    assert none.clashes[0].startswith(
        "plum juice is ready at 15:45, and jelly-1 and jelly-2 take "
    )
    assert none.clashes[0].endswith(" from then on each; the day ends at 16:00")


def test_a_batch_that_two_begin_with_is_told_once_and_by_the_longer_way() -> None:
    # the pot and the jars' sugar both wait for it, at 15:45; from the boil on it takes
    # the longer
    late = {"earliest_min": 465, "why": "plum juice is ready"}
    both = (Window(step="boil", **late), Window(step="fill", **late))
    (said,) = ready_too_late(day(jelly(windows=both)))
    (alone,) = ready_too_late(day(jelly(windows=both[:1])))
    assert said == alone
    assert " jelly-1 takes " in said
    assert " each;" not in said


def test_juice_that_is_ready_too_late_for_both_batches_is_one_of_the_rules() -> None:
    whole = day(jelly("jelly-1"), jelly("jelly-2"))
    assert isinstance(plan_day(whole, seconds=1.0), Answer)
    alone = plan_day(day(jelly("jelly-1")), seconds=1.0)
    both = plan_day(whole, seconds=1.0)
    assert isinstance(alone, Answer)
    assert isinstance(both, Answer)
    assert both.finish_min > alone.finish_min
    late = 480 - alone.finish_min  # one fits from then on, and both do not
    none = reasons(ready_at(late))
    ready = clock_time("08:00", late)
    assert f"plum juice is ready at {ready}" in none.clashes
    assert "the day ends at 16:00" in none.clashes


def test_an_hour_that_has_no_part_in_it_is_no_reason() -> None:
    early = Window(step="boil", earliest_min=5, why="plum juice is ready")
    none = reasons(day(jelly(windows=(early,)), horizon_min=60))
    assert not any("is ready" in clash for clash in none.clashes)
