"""Days so small that the best finish is a sum anyone can follow."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import (
    HALF_PINT,
    PINT,
    butter,
    canner,
    day,
    jelly,
    person,
    step,
)
from planning.written_out import closed

from stillroom.methods.step import Link, Skill
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import (
    Batch,
    Break,
    Burner,
    ComeUp,
    Counter,
    Person,
    Problem,
    Want,
)
from stillroom.planning.timetable import Answer


def best(problem: Problem, seconds: float = 10.0) -> Answer:
    answer = plan_day(problem, seconds=seconds)
    assert isinstance(answer, Answer), answer
    assert answer.proven
    assert answer.lower_bound_min == answer.finish_min
    assert answer.remarks == ()
    return answer


def test_one_person_one_batch() -> None:
    # jars 5 + sugar 4 (3 quarters beside a pan of 2 are too many) + boiling, skimming
    # 12 + 7 + 1 + 3 + filling 5 + lids 4 + load 4 + 12 + 10 + 5 + 4
    assert best(day(jelly())).finish_min == 5 + 4 + 23 + 5 + 4 + 35 == 76


def test_a_second_person_gets_jars_and_sugar_ready() -> None:
    assert best(day(jelly(), people=2)).finish_min == 23 + 5 + 4 + 35 == 67


def test_two_batches_in_one_pot_whose_jars_wait_twenty_minutes() -> None:
    # the second is closed 34 min after the first (pot held 28, washed 6): two loads,
    # the second in water still hot
    answer = best(day(jelly("a"), jelly("b"), people=3))
    assert answer.finish_min == 67 + 35 == 102
    assert len(answer.timetable.loads) == 2
    assert answer.timetable.loads[1].hot


def test_two_batches_in_one_pot_whose_jars_wait_forty_minutes() -> None:
    # pot held and washed 34, second closed after 32 more: one load
    patient = [jelly(name, closed_wait_at_most_min=40) for name in "ab"]
    answer = best(day(*patient, people=3))
    assert answer.finish_min == 34 + 32 + 35 == 101
    assert len(answer.timetable.loads) == 1


def test_jars_wait_to_the_last_minute_that_they_may_and_no_longer() -> None:
    # the first is closed 34 min before the second, 32 where its lids go on 2 min late
    # as they may: with a wait of 32 both ride in one load, with 31 they cannot
    for longest, finish, loads in ((32, 101, 1), (31, 102, 2)):
        batches = [jelly(name, closed_wait_at_most_min=longest) for name in "ab"]
        answer = best(day(*batches, people=3))
        assert answer.finish_min == finish
        assert len(answer.timetable.loads) == loads


def test_two_pots_and_one_burner_left_for_jars() -> None:
    # both pans and the canner hold their burners, so the jars are heated one batch
    # after the other: wash 5 + heat 15 + heat 15 + fill 5 + lids 4 + load 35
    burners = (
        Burner(id="weak-1", power_w=1000.0),
        Burner(id="middle-1", power_w=2000.0),
        Burner(id="middle-2", power_w=2000.0),
        Burner(id="strong-1", power_w=3000.0),
    )
    answer = best(day(jelly("a"), jelly("b"), people=3, big_pots=2, burners=burners))
    assert answer.finish_min == 5 + 15 + 15 + 5 + 4 + 35 == 79
    assert len(answer.timetable.loads) == 1


def test_goods_that_need_no_canner() -> None:
    problem = day(
        jelly(process=None),
        people=2,
        canners=(),
        wants=(Want(product="jelly", by_min=25),),
    )
    answer = best(problem)
    assert answer.timetable.loads == ()
    # closed after boiling 23, filling 5, lids 4; the pot is washed meanwhile or after
    assert answer.lateness == 32 - 25
    assert answer.finish_min == 34


def test_late_minutes_count_by_their_weight() -> None:
    # one pot: the first batch is out 35 min before the second; the heavier want first
    wants = (
        Want(product="red", by_min=67, weight=1),
        Want(product="black", by_min=67, weight=3),
    )
    batches = (jelly("a", product="red"), jelly("b", product="black"))
    answer = best(day(*batches, people=3, wants=wants))
    assert answer.lateness == 102 - 67
    first = min(answer.timetable.loads, key=lambda load: load.lower_min)
    assert first.jars == (("b", 8),)


def test_a_want_that_can_be_met_is_met() -> None:
    wants = (Want(product="butter", by_min=205),)
    answer = best(day(jelly(), butter(), people=2, wants=wants))
    assert answer.lateness == 0


def test_a_person_who_is_away_does_nothing_then() -> None:
    away = person("p1", away=((5, 60),))
    answer = best(day(jelly(), people=(away,)))
    # jars are washed before; all else follows the return: sugar 4 + 23 + 5 + 4 + 35
    assert answer.finish_min == 60 + 4 + 23 + 5 + 4 + 35


def test_a_break_of_forced_time() -> None:
    rest = Break(duration_min=10, earliest_min=9, latest_start_min=9)
    answer = best(day(jelly(), people=(person("p1", breaks=(rest,)),)))
    assert answer.finish_min == 76 + 10


@pytest.mark.parametrize(("raw", "ends"), [("", 100), ("pint-10", 120), ("both", 140)])
def test_only_the_load_that_is_packed_raw_comes_up_slowly(raw: str, ends: int) -> None:
    # two loads of one canner, lids on at 5; water hot at 30, and hot still for the
    # second: twice 4 + 12 + 10 + 5 + 4 = 35 min, raw ones 20 min more
    names = ("half-pint-10", "pint-10") if raw == "both" else (raw,) if raw else ()
    up = dict.fromkeys(names, ComeUp(minutes=32))
    both = (closed("a"), closed("b", process="pint-10"))
    problem = day(
        *(replace(b, closed_wait_at_most_min=120, ready_after="lid") for b in both),
        people=2,
        canners=(canner(come_up_of=up),),
        processes=(HALF_PINT, PINT),
    )
    assert best(problem).finish_min == ends


def test_a_canner_over_two_burners_holds_both() -> None:
    # the pan can only be on a burner under the canner: boil first, then heat water 30
    burners = (
        Burner(id="strong-1", power_w=3000.0),
        Burner(id="strong-2", power_w=3000.0),
        Burner(id="weak-1", power_w=1000.0),
    )
    wide = canner(burners=("strong-1", "strong-2"))
    patient = jelly(closed_wait_at_most_min=60)
    answer = best(day(patient, people=2, burners=burners, canners=(wide,)))
    assert answer.finish_min == 20 + 30 + 35 == 85
    narrow = canner(burners=("strong-1",))
    answer = best(day(patient, people=2, burners=burners, canners=(narrow,)))
    assert answer.finish_min == 67


def test_a_pot_stays_on_its_burner_or_leaves_it_a_minute() -> None:
    # soften needs the strong fire, which the other batch waits for; the slow cooking
    # may go on the weak one, but only after the pot was off the fire
    def pot(name: str, strong: int, weak: int) -> Batch:
        steps = [step("strong", strong, 0, burner_w=3000.0, in_pot=True)]
        links: list[Link] = []
        if weak:
            steps.append(step("weak", weak, 0, burner_w=1000.0, in_pot=True))
            links.append(Link(before="strong", after="weak", at_most_min=30))
        return Batch(
            id=name,
            product=name,
            jars=0,
            process=None,
            pots=(),
            ready_after="",
            closed_wait_at_most_min=0,
            steps=tuple(steps),
            links=tuple(links),
        )

    burners = (
        Burner(id="weak", power_w=1000.0),
        Burner(id="strong", power_w=3000.0),
    )
    both = day(pot("a", 10, 20), pot("b", 10, 0), burners=burners, canners=())
    # a: 0-10 on strong, 11-31 on weak; b: 10-20 on strong. Without the minute: 30
    assert best(both).finish_min == 31


def test_counter_places_come_free_when_jars_are_cold() -> None:
    # two loads of 8, 35 min apart; with room for 8 the second comes out when the first,
    # out at 67, has cooled 60 min
    batches = (jelly("a"), jelly("b"))
    cooling = Counter(places=8, cooling_min=60)
    answer = best(day(*batches, people=3, counter=cooling))
    assert answer.finish_min == 67 + 60


def test_jars_of_a_shorter_process_may_ride_in_a_longer_one() -> None:
    short = jelly("short", process="pint-10", jars=4, closed_wait_at_most_min=40)
    long = jelly("long", process="pint-15", jars=4, closed_wait_at_most_min=40)
    answer = best(day(short, long, people=3))
    (load,) = answer.timetable.loads
    assert load.process == "pint-15"
    assert load.process_min == 15
    assert sorted(load.jars) == [("long", 4), ("short", 4)]


def test_a_child_lifts_nothing() -> None:
    child = person("child", skills=frozenset({Skill.COLD}))
    answer = best(day(jelly(), people=(child, person("grown"))))
    load = answer.timetable.loads[0]
    assert (load.lowered_by, load.lifted_by) == ("grown", "grown")


@pytest.mark.parametrize(
    "more",
    [
        person("helper", skills=frozenset({Skill.COLD})),
        person("helper", arrives_min=30),
        person("helper", leaves_min=60),
    ],
    ids=["does little", "comes later", "leaves early"],
)
def test_one_more_helper_never_makes_the_best_finish_later(more: Person) -> None:
    alone = day(jelly("a"), jelly("b", product="other"))
    before = best(alone).finish_min
    after = best(replace(alone, people=(*alone.people, more))).finish_min
    assert after <= before


def test_one_more_pot_or_burner_never_makes_the_best_finish_later() -> None:
    alone = day(jelly("a"), jelly("b"), people=2)
    before = best(alone).finish_min
    more_pots = day(jelly("a"), jelly("b"), people=2, big_pots=2)
    assert best(more_pots).finish_min <= before
    burners = (*alone.burners, Burner(id="more", power_w=3000.0))
    assert best(replace(alone, burners=burners)).finish_min <= before


def test_a_tighter_wait_never_makes_the_best_finish_earlier() -> None:
    finishes = [
        best(
            day(*(jelly(n, closed_wait_at_most_min=wait) for n in "ab"), people=3)
        ).finish_min
        for wait in (5, 20, 40)
    ]
    assert finishes == sorted(finishes, reverse=True)
