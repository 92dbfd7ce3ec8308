"""Why then, on days written out by hand: the right thing is named, and its minute."""

from __future__ import annotations

import pytest
from planning.small_days import Counter, day, person, step, work
from planning.written_out import LID, at, batch, closed, labour, load

from stillroom.methods.step import Link
from stillroom.planning.day_odds.forward import Pass, planned_minutes
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.precedence import precedence_of
from stillroom.planning.waits.why import Because, why


def first(problem: Problem, plan: Timetable, asked: str) -> Because:
    return why(problem, plan, asked).chain[0]


def test_a_canner_is_held_by_the_load_before_and_not_by_the_one_that_waits() -> None:
    """The second begins in its hot water, the minute at which the first is out."""
    second = load(65, id="L2", jars=(("c", 5),), hot=True, heat_min=65)
    plan = Timetable(
        steps=(LID, at("c", "lid", 40, 45)),
        loads=(load(30, fire_free_min=65), second),
        breaks=(),
    )
    found = first(day(closed("a"), closed("c")), plan, "L2")
    assert (found.held_by, found.resource) == ("canner", "canner")
    assert found.sentence.startswith("the canner holds load 1 until 9:05")


@pytest.mark.parametrize(("until", "held"), [(70, True), (71, False), (69, False)])
def test_a_lift_waits_for_places_that_are_free_at_its_very_minute(
    until: int, held: bool
) -> None:
    """Rested at 61 and lifted at 66; the last jar is on the counter at 70."""
    one = load(30, lift_min=66, out_min=70)
    counter = Counter(places=6, cooling_min=1440, taken=((5, until),))
    problem = day(closed("a"), counter=counter)
    found = first(problem, Timetable(steps=(LID,), loads=(one,), breaks=()), "L1/lift")
    assert (found.held_by == "counter") == held
    if held:
        assert found.sentence.startswith("the jars of the day before leave the counter")


@pytest.mark.parametrize(("quarters", "held"), [(3, True), (4, False)])
def test_who_has_less_to_give_is_busy_sooner(quarters: int, held: bool) -> None:
    """Two quarters beside two are too much for three, and not for four."""
    problem = day(
        batch("a", labour(20, quarters=2)),
        batch("b", labour(20, quarters=2)),
        people=(person("p1", quarters=quarters),),
    )
    steps = (at(n, "do", m, m + 20, "p1", quarters=2) for n, m in (("a", 0), ("b", 20)))
    plan = Timetable(steps=tuple(steps), loads=(), breaks=())
    found = first(problem, plan, "b/do")
    assert (found.held_by == "person") == held
    if held:
        assert found.sentence == "p1 is busy until 8:20 with: do (a)"


def test_who_does_two_steps_in_one_go_is_not_in_her_own_way_between_them() -> None:
    """The pan goes on 7 min after its jars are washed, and could at once."""
    pan = batch(
        "a",
        step("wash", 5, 3),
        step("boil", 10, 4),
        step("fill", 5, 4),
        links=(
            Link(before="wash", after="boil"),
            Link(before="boil", after="fill", at_most_min=0),
        ),
    )
    times = (("wash", 0, 5, 3), ("boil", 12, 22, 4), ("fill", 22, 27, 4))
    steps = (at("a", name, b, e, "p1", quarters=q) for name, b, e, q in times)
    plan = Timetable(steps=tuple(steps), loads=(), breaks=())
    said = "wash (a) has to be done first; it could begin 7 min earlier"
    assert first(day(pan), plan, "a/boil").sentence == said


def test_what_begins_as_another_ends_is_not_in_the_hands_with_it() -> None:
    """Two quarters until 8:10, two others from then on: two are free all day."""
    problem = day(*(batch(n, labour(10, quarters=2)) for n in "abc"))
    minutes = (("a", 0), ("b", 10), ("c", 15))
    steps = (at(n, "do", m, m + 10, "p1", quarters=2) for n, m in minutes)
    plan = Timetable(steps=tuple(steps), loads=(), breaks=())
    found = first(problem, plan, "c/do")
    assert found.sentence == "nothing holds it"
    assert found.spare_min == 15


def test_a_pot_that_goes_on_another_fire_is_off_the_one_before_for_a_minute() -> None:
    pan = {"in_pot": True, "burner_w": 900.0}
    cooks = work("a", step("boil", 20, 0, **pan), step("simmer", 10, 0, **pan))
    boil = at("a", "boil", 0, 20, pot="small-1", burner="weak-1")
    for fire, minute in (("weak-2", 21), ("weak-1", 0)):
        simmer = at("a", "simmer", 25, 35, pot="small-1", burner=fire)
        plan = Timetable(steps=(boil, simmer), loads=(), breaks=())
        net = precedence_of(day(cooks), plan)
        days = Pass(net).forward(planned_minutes(net))
        assert days.start[net.number["a", "simmer"], 0] == minute


def test_a_wait_that_is_longer_than_it_may_be_holds_nothing() -> None:
    """
    In a day planned again it gives way: the jars stood 30 min, and 20 are allowed.

    The lids were said to go on so early since the load is lowered so late.
    """
    late = load(LID.end_min + 30)
    plan = Timetable(steps=(LID,), loads=(late,), breaks=())
    assert first(day(closed("a")), plan, "a/lid").held_by == "day"
    kept = Timetable(steps=(LID,), loads=(load(LID.end_min + 20),), breaks=())
    assert first(day(closed("a")), kept, "a/lid").held_by == "limit"
