"""
The judge of second thoughts on what has begun, on a day written out by hand.

What has begun stays as it was, to the minute and the name; only a lift that is still
to come may move. The smallest day shows each, at the minute before and after.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.judged_again import replan_said
from planning.small_days import Break, day, person
from planning.written_out import LID, Part, at, batch, closed, labour, load, said_again

from stillroom.planning.happened import Happened
from stillroom.planning.timetable import PlacedBreak, PlacedLoad, Timetable

REST = PlacedBreak(person="p1", start_min=35, end_min=55)
PROBLEM = day(
    closed(),
    people=(
        person(
            "p1",
            breaks=(Break(duration_min=20, earliest_min=0, latest_start_min=200),),
        ),
    ),
)
# lids on until 30, lowered 30 to 34, at the boil 46 to 56, lifted 61 to 65
PLAN = Timetable(steps=(LID,), loads=(load(),), breaks=(REST,))
AT_40 = Happened(now_min=40, steps=(LID,), loads=(load(),), breaks=(REST,))


def said(new: Timetable, happened: Happened = AT_40) -> tuple[str, ...]:
    return replan_said(PROBLEM, happened, new)


def test_the_plan_that_it_went_by_so_far_changes_nothing_of_the_past() -> None:
    assert said(PLAN) == ()


# --- steps ---


@pytest.mark.parametrize(
    "changes",
    [{"start_min": 24}, {"end_min": 31}, {"person": "p1"}, {"burner": "weak-1"}],
)
def test_a_step_that_has_begun_stays_as_it_was(changes: dict[str, object]) -> None:
    other = replace(LID, **changes)  # type: ignore[arg-type]
    assert said(replace(PLAN, steps=(other,))) == (
        "lid of a has begun and is told otherwise",
    )


def test_a_step_that_has_begun_is_not_left_out() -> None:
    assert said(replace(PLAN, steps=())) == (
        "lid of a has begun and is told otherwise",
    )


def test_a_step_that_has_not_begun_begins_from_now_on() -> None:
    problem = day(batch("a", labour(10)))

    def starts(minute: int) -> tuple[str, ...]:
        steps = [at("a", "do", minute, minute + 10, "p1")]
        return said_again(problem, 40, later=Part(steps=steps))

    assert starts(40) == ()
    assert starts(39) == ("do of a is to begin 1 min ago",)


KNIFE = frozenset({"knife"})


@pytest.mark.parametrize(
    "name",
    [
        "Ada, who gives 4 quarters at minute 0",
        "Ada, whose 9 jars cool on the counter at minute 7",
        "Ada",
    ],
)
def test_a_name_that_reads_like_a_rule_hides_no_breach(name: str) -> None:
    problem = day(
        batch("a", labour(10, skill="pan")), people=(person(name, skills=KNIFE),)
    )
    step = at("a", "do", 50, 60, name)
    assert said_again(problem, 40, later=Part(steps=[step])) == (
        f"do of a needs pan, which {name} does not do alone",
    )


# --- loads ---


def lifted(at_min: int) -> PlacedLoad:
    return replace(load(), lift_min=at_min, out_min=at_min + 4)


def test_a_load_that_is_in_is_not_lifted_before_its_process_ends() -> None:
    answer = "load L1 is lifted before its process ends"
    for lift, answers in ((55, (answer,)), (61, ())):
        assert said(replace(PLAN, loads=(lifted(lift),))) == answers
    # at the minute itself another rule speaks: the jars rest for 5 min
    assert said(replace(PLAN, loads=(lifted(56),))) == (
        "load L1 is lifted 0 min after its process ends; 5 to 15 are allowed",
    )


def test_a_load_that_she_lifts_too_soon_at_this_minute_is_lifted_too_soon() -> None:
    now_50 = replace(AT_40, now_min=50)
    assert said(replace(PLAN, loads=(lifted(50),)), now_50) == (
        "load L1 is lifted before its process ends",
    )


def test_a_load_that_was_lifted_too_soon_is_the_past() -> None:
    early = lifted(50)
    happened = replace(AT_40, now_min=60, loads=(early,))
    assert said(replace(PLAN, loads=(early,)), happened) == ()


def test_a_load_that_has_not_begun_is_judged_by_its_rest() -> None:
    early = replace(load(40), lift_min=64, out_min=68)  # its process ends at 66
    new = replace(PLAN, loads=(early,))
    assert said(new, replace(AT_40, loads=())) == (
        "load L1 is lifted -2 min after its process ends; 5 to 15 are allowed",
        "p1 gives 7 quarters at minute 40 (4 min in all); p1 has 4",  # she rests to 55
    )


def test_a_load_that_has_not_begun_is_lowered_from_now_on() -> None:
    not_in = replace(AT_40, loads=())
    assert said(PLAN, not_in) == ("load L1 is to be lowered 10 min ago",)
    problem = day(closed())

    def lowered(minute: int) -> tuple[str, ...]:
        return said_again(problem, 40, Part(steps=[LID]), Part(loads=[load(minute)]))

    assert lowered(40) == ()
    assert lowered(39) == ("load L1 is to be lowered 1 min ago",)


def test_a_load_that_has_begun_is_not_left_out() -> None:
    assert said(replace(PLAN, loads=())) == ("load L1 has begun and is told otherwise",)


@pytest.mark.parametrize(
    "changes",
    [
        {"canner": "canner-2"},
        {"process": "pint-10"},
        {"process_min": 9},
        {"jars": (("a", 4),)},
        {"hot": True},
        {"heat_min": 1},
        {"lower_min": 31},
        {"lowered_min": 35},
        {"boil_min": 45},
        {"done_min": 55},
        {"lowered_by": "p2"},
    ],
)
def test_a_running_clock_is_not_touched(changes: dict[str, object]) -> None:
    """Not by a minute: what is in the canner, since when, and until when it boils."""
    other = replace(load(), **changes)  # type: ignore[arg-type]
    assert said(replace(PLAN, loads=(other,))) == (
        "load L1 has begun and is told otherwise",
    )


def test_a_lift_may_move_until_it_has_begun() -> None:
    """To another minute and into other hands; from the minute after, to none."""
    problem = day(closed(), people=2)
    other = replace(load(), lift_min=64, out_min=68, lifted_by="p2")
    new = Timetable(steps=(LID,), loads=(other,), breaks=())

    def now(minute: int) -> tuple[str, ...]:
        happened = Happened(now_min=minute, steps=(LID,), loads=(load(),))
        return replan_said(problem, happened, new)

    answer = ("load L1 has begun and is told otherwise",)
    assert now(61) == ()  # it is to be lifted at 61
    assert now(62) == answer
    # and what is still in the water was not lifted three minutes ago
    was_in = Happened(now_min=64, steps=(LID,), loads=(lifted(64),))
    assert replan_said(problem, was_in, replace(new, loads=(load(),))) == answer


@pytest.mark.parametrize(
    "changes", [{"lift_min": 60}, {"out_min": 66}, {"lifted_by": "p2"}]
)
def test_a_lift_that_has_begun_stays_as_it_was(changes: dict[str, object]) -> None:
    other = replace(load(), **changes)  # type: ignore[arg-type]
    at_70 = replace(AT_40, now_min=70)
    assert said(replace(PLAN, loads=(other,)), at_70) == (
        "load L1 has begun and is told otherwise",
    )


def test_a_fire_that_is_off_was_not_kept_on() -> None:
    """Else water that stood without a fire would be called hot."""
    on = replace(load(), fire_free_min=70)
    new = replace(PLAN, loads=(on,))
    answer = ("the fire under load L1 is off and is told otherwise",)
    # off at 56, when the process ended: at that minute it may still be left on
    assert said(new, replace(AT_40, now_min=56)) == ()
    assert said(new, replace(AT_40, now_min=57)) == answer


# --- rests ---


def test_a_rest_that_has_begun_stays_and_no_other_begins_in_the_past() -> None:
    moved = replace(REST, start_min=70, end_min=90)
    new = replace(PLAN, breaks=(moved,))
    assert said(new) == ("a break of p1 has begun and is told otherwise",)
    unrested = replace(AT_40, breaks=())
    assert said(new, unrested) == ()
    assert said(PLAN, unrested) == ("a break of p1 is to begin 5 min ago",)
    at_35 = replace(unrested, now_min=35)
    assert said(PLAN, at_35) == ()


# --- what is not there ---


@pytest.mark.parametrize(
    ("begun", "answer"),
    [
        (
            Part(steps=[at("a", "lid", 25, 30, "p9", quarters=0)]),
            "lid of a is given to p9, who is not in the day",
        ),
        (
            Part(steps=[LID], loads=[load(lifted_by="p9")]),
            "load L1 is given to p9, who is not in the day",
        ),
        (
            Part(
                steps=[LID], breaks=[PlacedBreak(person="p9", start_min=0, end_min=5)]
            ),
            "a break is given to p9, who is not in the day",
        ),
    ],
)
def test_of_the_past_too_nothing_is_judged_that_is_not_in_the_day(
    begun: Part, answer: str
) -> None:
    """Nothing else can be judged then: it is said, and not taken to be past."""
    assert said_again(day(closed()), 100, begun)[0] == answer


def test_a_rest_of_a_stranger_is_said() -> None:
    rest = PlacedBreak(person="p9", start_min=50, end_min=60)
    assert said_again(day(), 40, later=Part(breaks=[rest])) == (
        "a break is given to p9, who is not in the day",
    )


def test_a_step_that_the_new_plan_forgets_is_said() -> None:
    problem = day(batch("a", labour(10)))
    assert said_again(problem, 40) == ("do of a is planned 0 times, not once",)
