"""What one more brings: known beforehand on the smallest days."""

from stillroom.planning.day_odds.odds_words import against_words
from stillroom.planning.day_odds.one_more import (
    OneMore,
    with_one_more,
    worth_of_one_more,
)
from stillroom.planning.judge.check import violations
from stillroom.planning.one_thing_more import one_more_grown_up
from stillroom.planning.plan import plan_day
from stillroom.planning.timetable import Answer
from tests.planning.small_days import canner, day, jelly, person


def worth(problem, plan):
    found = worth_of_one_more(problem, plan, seconds=1.5)
    return {m.what.split(",")[0].split(" of ")[0].split(" like ")[0]: m for m in found}


def planned(problem):
    answer = plan_day(problem, seconds=2)
    assert isinstance(answer, Answer)
    return answer


def test_a_helper_saves_what_one_person_does_before_the_boil():
    """One batch: 76 alone, 67 with a helper who washes and measures beside the boil."""
    problem = day(jelly())
    answer = planned(problem)
    assert answer.finish_min == 76
    found = worth(problem, answer.timetable)
    assert found["one more helper"].finish_min == 67
    assert found["one more helper"].earlier_min == 9
    assert found["one more burner"].earlier_min == 0
    assert found["one more canner"].earlier_min == 0


def test_where_the_day_waits_for_who_lifts_only_another_who_lifts_saves():
    """
    One batch: 67 with two people, but the second comes at 100 and she alone lifts.

    The jars wait for her: lowered at 100, out 35 min later. Hands for the knife bring
    nothing; somebody who lifts is there from the first minute.
    """
    cook = person("p1", skills=frozenset({"cold", "knife", "pan"}))
    late = person("p2", arrives_min=100)
    problem = day(jelly(), people=(cook, late))
    answer = planned(problem)
    assert answer.finish_min == 100 + 35
    found = worth(problem, answer.timetable)
    assert found["one more helper"].earlier_min == 0
    assert found["one more grown-up"].finish_min == 67


def test_a_canner_saves_where_the_canner_is_full():
    slow = canner(places={"half_pint": 8}, come_up_min=60)
    wait = {"closed_wait_at_most_min": 400}
    problem = day(
        jelly("jelly-1", **wait),
        jelly("jelly-2", **wait),
        people=3,
        big_pots=2,
        canners=(slow,),
    )
    answer = planned(problem)
    found = worth(problem, answer.timetable)
    assert found["one more canner"].earlier_min > 40
    assert found["one more burner"].earlier_min == 0
    assert max(found.values(), key=lambda m: m.earlier_min).what.startswith(
        "one more canner"
    )


def test_each_plan_holds_in_its_own_kitchen_and_none_is_later():
    problem = day(jelly("jelly-1"), jelly("jelly-2"))
    answer = planned(problem)
    kitchens = dict((*with_one_more(problem), one_more_grown_up(problem)))
    for more in worth_of_one_more(problem, answer.timetable, seconds=0.7):
        assert violations(kitchens[more.what], more.timetable) == ()
        assert more.finish_min <= answer.finish_min
        assert more.likely_min >= more.finish_min - 1


def test_the_gain_counts_from_the_day_as_it_is_searched_on_and_that_is_said():
    problem = day(jelly())
    plan = planned(problem).timetable

    def more(finish_min, earlier_min):
        return OneMore(
            what="one more burner",
            finish_min=finish_min,
            earlier_min=earlier_min,
            likely_min=finish_min,
            timetable=plan,
        )

    assert plan.finish_min == 76
    begins = "Measured against the day as it is, searched on for as long as each of"
    assert against_words([more(60, 16)], problem, plan) == (
        f"{begins} these: it stays done by 9:16"
    )
    assert against_words([more(60, 10)], problem, plan) == (
        f"{begins} these: done by 9:10, where the plan above ends at 9:16"
    )
