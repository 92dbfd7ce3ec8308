"""The chance of her hour and of each promise, against days worked one by one."""

import datetime as dt
from dataclasses import replace

import pytest

from benchmarks.event_by_event import run_one_day
from stillroom.planning.day_odds.broken_limits import BrokenLimit, still_at_work
from stillroom.planning.day_odds.odds import DoneBy, minutes_of_days, odds_of
from stillroom.planning.day_odds.odds_promises import PromiseOdds
from stillroom.planning.day_odds.odds_words import (
    chance_words,
    odds_sentence,
    promise_words,
)
from stillroom.planning.how_good.lateness import batches_done_min
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Want
from stillroom.planning.timetable import Answer
from stillroom.planning.waits.precedence import precedence_of
from stillroom.planning.which_batches.not_made import NotMade
from tests.planning.day_odds.test_odds import unsure
from tests.planning.small_days import butter, day, jelly

DAYS, SEED = 80, 4


@pytest.fixture(scope="module")
def planned():
    plain = unsure(jelly("cold-1", product="cold", process=None))
    problem = day(
        *(unsure(jelly(f"jelly-{n}")) for n in (1, 2)), unsure(butter()), plain
    )
    answer = plan_day(problem, seconds=2)
    assert isinstance(answer, Answer)
    return problem, answer.timetable


def there_each_day(problem, plan, product):
    """Minute at which the last goods of a product are there, day by day, in loops."""
    net = precedence_of(problem, plan)
    minutes = minutes_of_days(net, problem, plan, days=DAYS, seed=SEED)
    found = []
    for k in range(DAYS):
        start, _ = run_one_day(net, minutes[:, k].tolist())
        ends = {
            (node.of, node.step): start[n] + minutes[n, k]
            for n, node in enumerate(net.nodes)
        }
        last = 0.0
        for batch in problem.batches:
            if batch.product != product:
                continue
            for load in plan.loads:
                if batch.process and batch.id in [name for name, _ in load.jars]:
                    last = max(last, ends[load.id, "lift"])
            if batch.process is None:
                last = max(last, ends[batch.id, batch.ready_after])
        found.append(last)
    return found


@pytest.mark.parametrize("product", ["jelly", "butter", "cold"])
def test_a_promise_is_kept_as_often_as_on_days_worked_one_by_one(planned, product):
    problem, plan = planned
    there = there_each_day(problem, plan, product)
    for hour in (min(there), sorted(there)[DAYS // 2], max(there)):
        promised = replace(problem, wants=(Want(product=product, by_min=int(hour)),))
        (promise,) = odds_of(promised, plan, days=DAYS, seed=SEED).promises
        assert promise.product == product
        assert promise.chance == sum(t <= int(hour) for t in there) / DAYS


def test_as_planned_the_goods_are_there_when_the_plan_says(planned):
    problem, plan = planned
    sure = replace(
        problem,
        batches=tuple(
            replace(b, steps=tuple(replace(s, spread=None) for s in b.steps))
            for b in problem.batches
        ),
        canners=tuple(replace(c, come_up_spread=None) for c in problem.canners),
    )
    done = batches_done_min(sure, plan)
    out = max(done["jelly-1"], done["jelly-2"])
    for minute, chance in ((out, 1.0), (0, 0.0)):
        asked = replace(sure, wants=(Want(product="jelly", by_min=minute),))
        (promise,) = odds_of(asked, plan, days=5).promises
        assert promise.chance == chance


def test_her_own_hour_is_answered_first_and_stands_among_the_half_hours(planned):
    problem, plan = planned
    plain = odds_of(problem, plan, days=400)
    assert plain.wanted is None
    assert "as you wanted" not in odds_sentence(plain, problem.starts_at)
    hour = plain.even_min if plain.even_min % 30 else plain.even_min + 1
    asked = odds_of(replace(problem, done_by_min=hour), plan, days=400)
    assert asked.wanted is not None
    assert asked.wanted.chance == pytest.approx(0.5, abs=0.1)
    said = odds_sentence(asked, problem.starts_at)
    assert said.startswith("Done by ")
    assert "as you wanted, on " in said
    minutes = [d.minute for d in asked.done_by]
    assert minutes == sorted({*(d.minute for d in plain.done_by), hour})
    chances = [d.chance for d in asked.done_by]
    assert chances == sorted(chances)


def test_an_hour_of_no_doubt_adds_no_row(planned):
    problem, plan = planned
    plain = odds_of(problem, plan, days=100)
    late = odds_of(replace(problem, done_by_min=10_000), plan, days=100)
    assert late.done_by == plain.done_by
    assert late.wanted is not None
    assert late.wanted.chance == 1.0


def test_a_promise_is_said_with_its_hour(planned):
    problem, plan = planned
    asked = replace(problem, wants=(Want(product="jelly by 9:00", by_min=60),))
    assert odds_of(asked, plan, days=5).promises == ()  # no batch is called so
    named = replace(problem, wants=(Want(product="jelly", by_min=60),))
    (promise,) = odds_of(named, plan, days=50).promises
    said = promise_words(replace(promise, chance=0.76), "08:00")
    assert said == "jelly there by 9:00, as promised: on 76 of 100 such days"


def test_a_promise_of_which_not_all_is_made_says_so():
    jelly = PromiseOdds(product="plum jelly", minute=60, chance=0.76)
    out = NotMade(product="plum jelly", jar="pint", jars=8, by=dt.time(9))
    for jars, words in ((8, "the 8 jars that are"), (1, "the 1 jar that is")):
        lacking = replace(out, jars=jars)
        said = promise_words(jelly, "08:00", [lacking])
        assert said.startswith(
            f"plum jelly there by 9:00, as promised but for {words} not made: on 76 "
        )
    for other in (replace(out, product="jam"), replace(out, by=dt.time(10))):
        assert "but for" not in promise_words(jelly, "08:00", [other])


def test_a_product_with_by_in_its_name_keeps_its_name(planned):
    problem, plan = planned
    for label in ("plums by hand", "plums by hand by 9:00"):
        batches = tuple(replace(b, product=label) for b in problem.batches)
        wants = (Want(product=label, by_min=60),)
        asked = replace(problem, batches=batches, wants=wants)
        (promise,) = odds_of(asked, plan, days=5).promises
        assert promise.product == "plums by hand"


def test_goods_that_are_there_already_are_there_on_every_day(planned):
    """The day is under way: what is out of the canner is out, on time or too late."""
    problem, plan = planned
    there = batches_done_min(problem, plan)["butter-1"]
    for by, chance in ((there, 1.0), (there - 1, 0.0)):
        asked = replace(problem, wants=(Want(product="butter", by_min=by),))
        (before,) = odds_of(asked, plan, days=200).promises
        assert 0.0 < before.chance < 1.0
        (after,) = odds_of(asked, plan, days=200, since_min=there).promises
        assert after.chance == chance


def test_what_is_told_other_people_is_the_hour_of_four_in_five(planned):
    """Five hours that differ, from which each of the sentence can be told."""
    problem, plan = planned
    odds = replace(
        odds_of(problem, plan, days=10),
        days=2_000,
        planned_min=60,
        chance_as_planned=0.25,
        even_min=70,
        likely_min=80,
        sure_min=90,
    )
    assert odds_sentence(odds, "08:00") == (
        "The plan ends at 9:00; of 2,000 such days 25 in 100 are over by then, half "
        "by 9:10, four in five by 9:20 and nineteen in twenty by 9:30. Tell people "
        "9:20; keep the plan."
    )
    hour = replace(odds, wanted=DoneBy(minute=100, chance=0.999))
    assert odds_sentence(hour, "08:00").startswith(
        "Done by 9:40, as you wanted, nearly always. The plan ends at 9:00"
    )


@pytest.mark.parametrize(
    ("share", "said"),
    [
        (0.005, "hardly ever"),
        (0.0051, "on 1 of 100 such days"),
        (0.9949, "on 99 of 100 such days"),
        (0.995, "nearly always"),
    ],
)
def test_a_chance_is_a_number_where_a_number_says_something(share, said):
    assert chance_words(share) == said


def test_a_day_that_is_too_full_is_not_one_to_keep(planned):
    """One promise and one hour to leave, each just kept often enough and just not."""
    problem, plan = planned
    odds = replace(odds_of(problem, plan, days=10), likely_min=80, broken=())
    leaves = BrokenLimit(
        kind="Anna leaves in time", times_a_day=0.5, over_min=9, share_of_days=0.5
    )
    pears = PromiseOdds(product="pears", minute=180, chance=0.5)
    kept = replace(odds, promises=(pears,), broken=(leaves,))
    assert odds_sentence(kept, "08:00").endswith("Tell people 9:20; keep the plan.")
    missed = replace(kept, promises=(replace(pears, chance=0.49),))
    assert odds_sentence(missed, "08:00").endswith(
        "Tell people 9:20; but this day is too full: more often than not the promise "
        "of pears by 11:00 is missed. Leave a batch out, let somebody stay longer, or "
        "promise a later hour; What if shows what each brings."
    )
    late = replace(missed, broken=(replace(leaves, share_of_days=0.51),))
    assert (
        "the promise of pears by 11:00 is missed and Anna is still at work past the "
        "hour to leave. Leave"
    ) in odds_sentence(late, "08:00")


def test_who_leaves_too_late_is_told_by_the_simulation_itself(planned):
    problem, plan = planned
    people = tuple(replace(p, leaves_min=plan.finish_min - 20) for p in problem.people)
    early = odds_of(replace(problem, people=people), plan, days=200)
    who = still_at_work(early.broken, 0.5)
    assert who
    assert set(who) <= {p.id for p in problem.people}
    assert still_at_work(early.broken, 1.0) == ()
