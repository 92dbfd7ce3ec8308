"""Why then, where what holds a thing leads round to it again."""

from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Link, Window
from stillroom.planning.timetable import PlacedStep, Timetable
from stillroom.planning.waits.why import why
from tests.planning.small_days import day, step, work


def in_turn(begins, *steps, links, **more):
    """A batch whose steps one person does one after another, and its plan."""
    placed, at = [], begins
    for one in steps:
        end = at + one.duration_min
        placed.append(
            PlacedStep(
                batch="b",
                step=one.id,
                start_min=at,
                end_min=end,
                person="p1",
                quarters=4,
            )
        )
        at = end
    problem = day(work("b", *steps, links=links, **more))
    plan = Timetable(steps=tuple(placed), loads=(), breaks=())
    assert not violations(problem, plan)
    return problem, plan


def test_a_way_that_leads_round_is_given_up_for_one_that_leads_out():
    """
    The pan waits for its lid, the lid for the rinse, the rinse for the pan.

    Each holds the next to the minute, and none of them holds the three: they wait for
    what is poured over at 10:00. The rinse was said to be held by nothing.
    """
    problem, plan = in_turn(
        100,
        step("pan", 10, 4),
        step("rinse", 5, 4),
        step("lid", 5, 4),
        step("pour", 5, 4),
        links=(
            Link(before="pan", after="rinse"),
            Link(before="pan", after="lid", at_most_min=5, why="hot"),
            Link(before="rinse", after="pour", at_most_min=5, why="wet"),
        ),
        windows=(Window(step="pour", earliest_min=120, why="syrup is ready"),),
    )
    for name in ("pan", "rinse", "lid", "pour"):
        found = why(problem, plan, f"b/{name}").chain
        assert (found[-1].what, found[-1].held_by) == ("pour (b)", "ready"), name
        assert not any("nothing holds it" in because.sentence for because in found)


def test_what_begins_with_the_day_is_held_by_the_day():
    """Nothing begins before it, whatever else would hold it there too."""
    problem, plan = in_turn(
        0,
        step("dip", 10, 4),
        step("rinse", 5, 4),
        step("skin", 10, 4),
        links=(
            Link(before="dip", after="rinse"),
            Link(before="dip", after="skin", at_most_min=5, why="warm"),
        ),
    )
    (only,) = why(problem, plan, "b/dip").chain
    assert (only.held_by, only.sentence) == ("day", "the day begins")
