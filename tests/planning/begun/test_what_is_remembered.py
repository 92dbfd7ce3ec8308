"""What the rest of a day takes over of what has begun: pots, fires, hands, limits."""

from __future__ import annotations

import pytest
from planning.small_days import day, person, step, work
from planning.written_out import at, closed, load

from stillroom.planning.begun.residual import NOW, Residual, residual_of
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Break, Link, Problem
from stillroom.planning.timetable import PlacedBreak, PlacedLoad, PlacedStep

PAN = {"in_pot": True, "burner_w": 900.0}


def left(
    problem: Problem, now: int, *placed: PlacedStep | PlacedLoad, **more: object
) -> Residual:
    happened = Happened(
        now_min=now,
        steps=tuple(one for one in placed if isinstance(one, PlacedStep)),
        loads=tuple(one for one in placed if isinstance(one, PlacedLoad)),
    )
    return residual_of(problem, happened, **more)  # type: ignore[arg-type]


COOKS = work(
    "a", step("boil", 20, 0, **PAN), step("simmer", 10, 0, **PAN), pots=("small",)
)


def test_a_pot_on_its_fire_stays_there_and_one_that_ends_now_is_still_on_it() -> None:
    boil = at("a", "boil", 0, 20, pot="small-1", burner="weak-2")
    runs = left(day(COOKS), 10, boil)
    assert runs.pot == {"a": "small-1"}
    assert runs.running == {("a", "boil")}
    assert runs.burner == {("a", "boil"): "weak-2"}
    assert runs.on_fire == {}
    ends = left(day(COOKS), 20, boil)
    assert ends.pot == {"a": "small-1"}
    assert (ends.running, ends.burner) == (set(), {})
    assert ends.on_fire == {"a": "weak-2"}
    off = left(day(COOKS), 21, boil)
    assert (off.pot, off.on_fire) == ({"a": "small-1"}, {})


def test_a_pot_and_a_mill_that_are_done_with_hold_nothing() -> None:
    milled = work("a", step("mill", 10, 0, on_mill=True), step("chill", 30, 0))
    done = at("a", "mill", 0, 10, mill=1)
    assert left(day(milled), 20, done).mill == {}
    washed = work("a", *(step(n, 10, 0, on_mill=True) for n in ("mill", "wash")))
    assert left(day(washed), 20, done).mill == {"a": 1}
    pot = at("a", "boil", 0, 10, pot="small-1")
    cooled = work("a", step("boil", 10, 0, in_pot=True), step("chill", 30, 0))
    assert left(day(cooled), 20, pot).pot == {}


def test_who_has_begun_something_ends_it_and_what_is_in_the_same_hands() -> None:
    one = {"same_hands": "pan"}
    made = work(
        "a",
        step("stir", 10, 2, **one),
        step("set", 5, 0, **one),
        step("pour", 5, 3, **one),
        step("label", 5, 1),
    )
    problem = day(made, people=2)
    stir = at("a", "stir", 0, 10, "p2", quarters=2)
    assert left(problem, 5, stir).fixed_hands == {
        ("a", "stir"): "p2", ("a", "pour"): "p2",
    }  # fmt: skip
    assert left(problem, 10, stir).fixed_hands == {
        ("a", "stir"): "p2", ("a", "pour"): "p2",
    }  # fmt: skip
    label = at("a", "label", 0, 5, "p1", quarters=1)
    assert left(problem, 3, label).fixed_hands == {("a", "label"): "p1"}
    assert left(problem, 5, label).fixed_hands == {}


def test_closed_jars_wait_since_they_were_closed_and_not_since_now() -> None:
    jars = closed("a", ready_after="lid")
    lid = at("a", "lid", 25, 30)
    waits = left(day(jars), 40, lid)
    assert waits.closed_min == {"a": 30}
    assert waits.closed_wait_min == {"a": 20}
    (batch,) = waits.problem.batches
    assert (batch.ready_after, batch.jars, batch.process) == (NOW, 5, "half-pint-10")
    assert batch.closed_wait_at_most_min == 2 * 480  # what is left of it costs points
    runs = left(day(jars), 27, lid)
    assert runs.closed_min == {"a": 30}
    (batch,) = runs.problem.batches
    assert batch.ready_after == "lid"
    assert {s.id: s.duration_min for s in batch.steps} == {NOW: 0, "lid": 3}


def test_jars_that_are_in_a_canner_are_no_more_to_be_canned() -> None:
    jars = closed("a", ready_after="lid")
    lid = at("a", "lid", 25, 30)
    three = left(day(jars), 40, lid, load(35, jars=(("a", 3),)))
    (batch,) = three.problem.batches
    assert batch.jars == 2
    assert left(day(jars), 40, lid, load(35)).problem.batches == ()
    washed = closed("a", ready_after="lid", steps=(*jars.steps, step("wash", 9, 0)))
    (batch,) = left(day(washed), 40, lid, load(35)).problem.batches
    assert (batch.jars, batch.process) == (0, None)
    assert [s.id for s in batch.steps] == [NOW, "wash"]


@pytest.mark.parametrize(
    ("unkept", "softly", "waits"),
    [
        ([], {}, []),
        ([("a", "fill")], {}, [("a", "fill", "lid", 5)]),
        ([("a", "lid")], {"a": "lid"}, []),
        ([("b", "fill"), ("b", "lid")], {}, []),
    ],
)
def test_a_wait_that_cannot_be_kept_costs_points_where_it_is_named(
    unkept: list[tuple[str, str]], softly: dict[str, str], waits: list[tuple]
) -> None:
    made = closed(
        "a",
        ready_after="lid",
        steps=(step("fill", 5, 0), step("lid", 5, 0)),
        links=(Link(before="fill", after="lid", at_most_min=5),),
    )
    rest = left(day(made), 10, unkept=unkept)
    assert rest.closed_softly == softly
    assert [(s.batch, s.before, s.after, s.by_min) for s in rest.soft] == waits
    (batch,) = rest.problem.batches
    assert [k.at_most_min for k in batch.links] == [None if waits else 5]
    assert batch.closed_wait_at_most_min == (2 * 480 if softly else 20)


def test_only_a_longest_wait_costs_points_and_only_after_one_closing_step() -> None:
    links = (
        Link(before="fill", after="lid", at_most_min=5),
        Link(before="fill", after="wash"),
    )
    steps = tuple(step(name, 5, 0) for name in ("fill", "lid", "wash"))
    made = closed("a", steps=steps, links=links, ready_after="lid")
    rest = left(day(made), 10, unkept=[("a", "fill")])
    assert [s.after for s in rest.soft] == ["lid"]
    all_close = closed("a", steps=steps, links=links)  # closed by the last of three
    assert left(day(all_close), 10, unkept=[("a", "fill")]).closed_softly == {}


def test_a_wait_between_two_that_have_begun_is_past() -> None:
    """Filled six minutes after the boil, where five are the most: nobody mends that."""
    links = (Link(before="boil", after="fill", at_least_min=2, at_most_min=5),)
    made = work("a", step("boil", 10, 0), step("fill", 20, 0), links=links)
    boil, fill = at("a", "boil", 0, 10), at("a", "fill", 16, 36)
    rest = left(day(made), 20, boil, fill)
    assert rest.soft == []
    (batch,) = rest.problem.batches
    assert batch.links == (Link(before=NOW, after="fill", at_most_min=0),)
    assert left(day(made), 14, boil).soft[0].by_min == 15
    (batch,) = left(day(made), 11, boil).problem.batches
    assert batch.links == (
        Link(before=NOW, after="fill"),
        Link(before=NOW, after="fill", at_least_min=1),
    )


def test_goods_of_no_canner_are_done_with_their_last_step() -> None:
    made = work("a", step("press", 10, 0), jars=8)
    assert left(day(made), 20, at("a", "press", 0, 10)).problem.batches == ()


def test_rests_to_come_may_come_later_and_are_known_by_their_hour() -> None:
    """She goes at 300: a rest of 15 begins by 285, though it was meant by 120."""
    early = Break(duration_min=15, earliest_min=90, latest_start_min=120)
    late = Break(duration_min=30, earliest_min=200, latest_start_min=250)
    ada = person("Ada", leaves_min=300, breaks=(early, late))

    def rests(now: int, *had: PlacedBreak) -> tuple[list, list]:
        happened = Happened(now_min=now, steps=(), loads=(), breaks=had)
        rest = residual_of(day(people=(ada,)), happened)
        (there,) = rest.problem.people
        spans = [(b.earliest_min, b.latest_start_min) for b in there.breaks]
        return spans, rest.rest_by["Ada"]

    assert rests(100) == ([(100, 285), (200, 270)], [120, 250])
    had = PlacedBreak(person="Ada", start_min=95, end_min=110)
    assert rests(130, had) == ([(200, 270)], [250])
    assert rests(271, had) == ([], [])  # all of it no longer fits before she goes
    assert rests(270, had) == ([(270, 270)], [250])
