"""
Each rule of the judge on the smallest day where it bites: just within, and just over.

The timetables are written out by hand, so nothing of the planner is asked. Each case
gives a day that holds and the one minute, jar or name that does not, with the whole
answer: one sentence, and no other rule speaks.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from planning.small_days import ALL_SKILLS, HALF_PINT, PINT, day, person
from planning.small_days import canner as a_canner
from planning.small_days import step as a_step

from stillroom.methods.step import Link, Skill, Step
from stillroom.planning.check import misstatements, violations
from stillroom.planning.problem import (
    Batch,
    Break,
    Burner,
    Counter,
    Problem,
    Want,
    Window,
)
from stillroom.planning.timetable import (
    Answer,
    PlacedBreak,
    PlacedLoad,
    PlacedStep,
    Timetable,
)


def batch(name: str, *steps: Step, **changes: object) -> Batch:
    """Steps without a link, a pot, a jar."""
    given: dict[str, object] = {
        "id": name,
        "product": name,
        "jars": 0,
        "process": None,
        "pots": (),
        "ready_after": "",
        "closed_wait_at_most_min": 20,
        "steps": steps,
        "links": (),
    }
    return Batch(**{**given, **changes})  # type: ignore[arg-type]


def at(
    batch: str, step: str, start: int, end: int, who: str | None = None, **more: object
) -> PlacedStep:
    """A step that somebody labours at, or one without hands."""
    given: dict[str, object] = {"quarters": 0 if who is None else 3}
    return PlacedStep(
        batch=batch,
        step=step,
        start_min=start,
        end_min=end,
        person=who,
        **{**given, **more},  # type: ignore[arg-type]
    )


def load(lower: int = 30, **changes: object) -> PlacedLoad:
    """
    A load of the small canner as it should be: ten minutes' process, cold water.

    30 of heating, 4 of lowering, 12 to the boil, 10, a rest of 5, 4 of lifting: 35 from
    the first jar down to the last one out. Five half-pints of batch "a".
    """
    done = lower + 4 + 12 + 10
    given: dict[str, object] = {
        "id": "L1",
        "canner": "canner",
        "process": "half-pint-10",
        "process_min": 10,
        "jars": (("a", 5),),
        "hot": False,
        "heat_min": lower - 30,
        "lower_min": lower,
        "lowered_min": lower + 4,
        "boil_min": lower + 16,
        "done_min": done,
        "lift_min": done + 5,
        "out_min": done + 9,
        "fire_free_min": done,
        "lowered_by": "p1",
        "lifted_by": "p1",
    }
    return PlacedLoad(**{**given, **changes})  # type: ignore[arg-type]


def said(
    problem: Problem,
    steps: Sequence[PlacedStep] = (),
    loads: Sequence[PlacedLoad] = (),
    breaks: Sequence[PlacedBreak] = (),
) -> tuple[str, ...]:
    """What the judge says."""
    plan = Timetable(steps=tuple(steps), loads=tuple(loads), breaks=tuple(breaks))
    return violations(problem, plan)


def labour(minutes: int = 10, quarters: int = 3, **more: object) -> Step:
    return a_step("do", minutes, quarters, **more)


# --- 1 minutes ---


def test_a_step_fills_the_day_and_no_more() -> None:
    whole = day(batch("a", labour(480)))  # the day has 480 minutes
    assert said(whole, [at("a", "do", 0, 480, "p1")]) == ()
    assert said(whole, [at("a", "do", 1, 481, "p1")]) == (
        "do of a ends 1 min after the day",
    )
    nobody = day(batch("a", labour(480, quarters=0)))
    assert said(nobody, [at("a", "do", -1, 479)]) == (
        "do of a starts 1 min before the day",
    )


def test_a_step_takes_its_minutes() -> None:
    ten = day(batch("a", labour(10)))
    assert said(ten, [at("a", "do", 0, 9, "p1")]) == (
        "do of a lasts 9 min; it takes 10",
    )
    assert said(ten, [at("a", "do", 0, 11, "p1")]) == (
        "do of a lasts 11 min; it takes 10",
    )


# --- 2, 3 hands ---


def test_a_step_that_takes_hands_has_somebody() -> None:
    problem = day(batch("a", labour()))
    assert said(problem, [at("a", "do", 0, 10, None, quarters=3)]) == (
        "do of a has nobody to do it",
    )


def test_a_step_that_needs_nobody_has_nobody() -> None:
    problem = day(batch("a", labour(quarters=0)))
    assert said(problem, [at("a", "do", 0, 10)]) == ()
    assert said(problem, [at("a", "do", 0, 10, "p1", quarters=0)]) == (
        "do of a needs nobody but is given to p1",
    )


def test_who_does_a_step_has_its_skill() -> None:
    child = person("p1", skills=frozenset({Skill.COLD}))
    cold = day(batch("a", labour(skill=Skill.COLD)), people=(child,))
    hot = day(batch("a", labour(skill=Skill.PAN)), people=(child,))
    assert said(cold, [at("a", "do", 0, 10, "p1")]) == ()
    assert said(hot, [at("a", "do", 0, 10, "p1")]) == (
        "do of a needs pan, which p1 does not do alone",
    )


def test_a_step_is_planned_with_its_own_attention() -> None:
    problem = day(batch("a", labour(quarters=4)))
    assert said(problem, [at("a", "do", 0, 10, "p1", quarters=3)]) == (
        "do of a is planned with 3 quarters of attention; it takes 4",
    )


def test_same_hands_are_one_persons() -> None:
    one = a_step("stir", 5, 3, same_hands="pan")
    two = a_step("pour", 5, 3, same_hands="pan")
    problem = day(batch("a", one, two), people=2)
    kept = [at("a", "stir", 0, 5, "p2"), at("a", "pour", 5, 10, "p2")]
    assert said(problem, kept) == ()
    changed = [at("a", "stir", 0, 5, "p2"), at("a", "pour", 5, 10, "p1")]
    assert said(problem, changed) == ("pan of a goes from p2 to p1: one person",)


def test_the_same_word_in_two_batches_may_be_two_peoples() -> None:
    stir = a_step("stir", 5, 3, same_hands="pan")
    problem = day(batch("a", stir), batch("b", stir), people=2)
    steps = [at("a", "stir", 0, 5, "p1"), at("b", "stir", 0, 5, "p2")]
    assert said(problem, steps) == ()


def test_without_a_word_each_step_may_be_anothers() -> None:
    problem = day(batch("a", a_step("one", 5, 3), a_step("two", 5, 3)), people=2)
    steps = [at("a", "one", 0, 5, "p1"), at("a", "two", 5, 10, "p2")]
    assert said(problem, steps) == ()


# --- 4 links ---


@pytest.mark.parametrize(
    ("start", "answer"),
    [
        (12, "b of a starts 2 min after a; at least 3 (it must cool)"),
        (13, None),  # 10 of the first + at least 3
        (15, None),  # 10 of the first + at most 5
        (16, "b of a starts 6 min after a; at most 5 (it must cool)"),
    ],
)
def test_a_link_holds_from_its_least_to_its_most(
    start: int, answer: str | None
) -> None:
    link = Link(
        before="a", after="b", at_least_min=3, at_most_min=5, why="it must cool"
    )
    steps = (a_step("a", 10, 0), a_step("b", 4, 0))
    problem = day(batch("a", *steps, links=(link,)))
    placed = [at("a", "a", 0, 10), at("a", "b", start, start + 4)]
    assert said(problem, placed) == (() if answer is None else (answer,))


@pytest.mark.parametrize(
    ("start", "answer"),
    [
        (29, "do of a starts at minute 29; not before 30 (it drips)"),
        (30, None),
        (60, None),
        (61, "do of a starts at minute 61; at the latest 60 (it drips)"),
    ],
)
def test_what_is_ready_by_the_clock_is_begun_in_its_window(
    start: int, answer: str | None
) -> None:
    window = Window(step="do", earliest_min=30, latest_min=60, why="it drips")
    problem = day(batch("a", labour(10, quarters=0), windows=(window,)))
    found = said(problem, [at("a", "do", start, start + 10)])
    assert found == (() if answer is None else (answer,))
    open_end = day(
        batch("a", labour(10, quarters=0), windows=(replace(window, latest_min=None),))
    )
    assert said(open_end, [at("a", "do", 400, 410)]) == ()


# --- 5 attention ---


@pytest.mark.parametrize(
    ("first", "second", "over"), [(3, 1, 0), (2, 2, 0), (3, 2, 5), (4, 1, 5)]
)
def test_a_person_has_four_quarters(first: int, second: int, over: int) -> None:
    problem = day(batch("a", labour(10, first)), batch("b", labour(10, second)))
    steps = [
        at("a", "do", 0, 10, "p1", quarters=first),
        at("b", "do", 5, 15, "p1", quarters=second),
    ]
    answer = (
        f"p1 gives {first + second} quarters at minute 5 (5 min in all); a person has 4"
    )
    assert said(problem, steps) == ((answer,) if over else ())


@pytest.mark.parametrize(("quarters", "over"), [(2, 0), (3, 5)])
def test_who_has_three_quarters_gives_three(quarters: int, over: int) -> None:
    minder = person("p1", quarters=3)
    problem = day(
        batch("a", labour(10, 1)), batch("b", labour(10, quarters)), people=(minder,)
    )
    steps = [
        at("a", "do", 0, 10, "p1", quarters=1),
        at("b", "do", 5, 15, "p1", quarters=quarters),
    ]
    answer = "p1 gives 4 quarters at minute 5 (5 min in all); p1 has 3 to give"
    assert said(problem, steps) == ((answer,) if over else ())


def test_a_rest_takes_all_that_a_person_has_and_no_more() -> None:
    rest = Break(duration_min=15, earliest_min=0, latest_start_min=0)
    problem = day(people=(person("p1", quarters=3, breaks=(rest,)),))
    placed = PlacedBreak(person="p1", start_min=0, end_min=15)
    assert said(problem, breaks=[placed]) == ()


def test_one_labour_begins_when_the_other_ends() -> None:
    problem = day(batch("a", labour(10)), batch("b", labour(10)))
    touching = [at("a", "do", 0, 10, "p1"), at("b", "do", 10, 20, "p1")]
    assert said(problem, touching) == ()


@pytest.mark.parametrize(("when", "what"), [(30, "lowered"), (61, "lifted")])
def test_lowering_and_lifting_take_three_quarters(when: int, what: str) -> None:
    # a load lowered at 30 is lifted at 30 + 4 + 12 + 10 + 5 = 61; beside it one may
    # look in on a pot (1), not watch it closely (2)
    lid, watch = a_step("lid", 5, 0), a_step("watch", 4, 1)
    for quarters, answer in (
        (1, ()),
        (2, (f"p1 gives 5 quarters at minute {when} (4 min in all); a person has 4",)),
    ):
        problem = day(
            batch("a", lid, jars=5, process="half-pint-10"),
            batch("b", replace(watch, attention_quarters=quarters)),
        )
        steps = [
            at("a", "lid", 25, 30),
            at("b", "watch", when, when + 4, "p1", quarters=quarters),
        ]
        assert said(problem, steps, [load()]) == answer, what


# --- 6 coming, leaving, away, breaks ---


@pytest.mark.parametrize(
    ("start", "answer"),
    [
        (19, "do of a starts 1 min before p1 arrives"),
        (20, None),
        (40, None),  # away from 50 to 60
        (41, "do of a falls while p1 is away, minute 50 to 60"),
        (59, "do of a falls while p1 is away, minute 50 to 60"),
        (60, None),
        (90, None),  # leaves at 100
        (91, "do of a ends 1 min after p1 leaves"),
    ],
)
def test_people_work_while_they_are_there(start: int, answer: str | None) -> None:
    someone = person("p1", arrives_min=20, leaves_min=100, away=((50, 60),))
    problem = day(batch("a", labour(10)), people=(someone,))
    found = said(problem, [at("a", "do", start, start + 10, "p1")])
    assert found == (() if answer is None else (answer,))


@pytest.mark.parametrize(
    ("start", "holds"), [(99, False), (100, True), (120, True), (121, False)]
)
def test_a_break_begins_within_its_window(start: int, holds: bool) -> None:
    rest = Break(duration_min=15, earliest_min=100, latest_start_min=120)
    problem = day(people=(person("p1", breaks=(rest,)),))
    placed = PlacedBreak(person="p1", start_min=start, end_min=start + 15)
    answer = "a break of p1 lies outside its window: 15 min starting 100 to 120"
    assert said(problem, breaks=[placed]) == (() if holds else (answer,))


def test_a_break_lasts_as_long_as_it_does() -> None:
    rest = Break(duration_min=15, earliest_min=100, latest_start_min=120)
    problem = day(people=(person("p1", breaks=(rest,)),))
    short = PlacedBreak(person="p1", start_min=100, end_min=114)
    assert len(said(problem, breaks=[short])) == 1
    assert said(problem) == ("p1 has 0 breaks planned and 1 asked for",)


def test_breaks_go_with_windows_in_whatever_order() -> None:
    # 110 fits both windows, 130 only the second: 110 must go with the first
    first = Break(duration_min=5, earliest_min=100, latest_start_min=115)
    second = Break(duration_min=5, earliest_min=105, latest_start_min=140)
    for asked in ((first, second), (second, first)):
        problem = day(people=(person("p1", breaks=asked),))
        rests = [
            PlacedBreak(person="p1", start_min=n, end_min=n + 5) for n in (110, 130)
        ]
        assert said(problem, breaks=rests) == ()
        late = [
            PlacedBreak(person="p1", start_min=n, end_min=n + 5) for n in (120, 130)
        ]
        assert len(said(problem, breaks=late)) == 1


def test_nobody_works_in_a_break() -> None:
    rest = Break(duration_min=15, earliest_min=100, latest_start_min=120)
    problem = day(
        batch("a", labour(10, quarters=1)), people=(person("p1", breaks=(rest,)),)
    )
    placed = PlacedBreak(person="p1", start_min=100, end_min=115)

    def answers(start: int) -> tuple[str, ...]:
        steps = [at("a", "do", start, start + 10, "p1", quarters=1)]
        return said(problem, steps, breaks=[placed])

    assert answers(90) == answers(115) == ()
    assert answers(91) == (
        "p1 gives 5 quarters at minute 100 (1 min in all); a person has 4",
    )


def test_a_break_lies_in_the_time_that_its_person_is_there() -> None:
    rest = Break(duration_min=15, earliest_min=100, latest_start_min=120)
    leaving = person("p1", breaks=(rest,), leaves_min=130)
    problem = day(people=(leaving,))

    def answers(start: int) -> tuple[str, ...]:
        placed = PlacedBreak(person="p1", start_min=start, end_min=start + 15)
        return said(problem, breaks=[placed])

    assert answers(115) == ()
    assert answers(116) == ("a break ends 1 min after p1 leaves",)


# --- 7, 8 pots and mills ---


def pot_batch(name: str, sizes: tuple[str, ...] = ("big",)) -> Batch:
    """Boil, something else meanwhile, wash: the pot is held from first to last."""
    boil, wash = a_step("boil", 10, 0, in_pot=True), a_step("wash", 5, 0, in_pot=True)
    return batch(name, boil, wash, pots=sizes)


def in_pot(name: str, start: int, wash: int, pot: str | None) -> list[PlacedStep]:
    return [
        at(name, "boil", start, start + 10, pot=pot),
        at(name, "wash", wash, wash + 5, pot=pot),
    ]


def test_a_pot_is_held_until_it_is_washed() -> None:
    problem = day(pot_batch("a"), pot_batch("b"))
    # a boils 0-10 and is washed 20-25; the pot is not free between
    held = in_pot("a", 0, 20, "big-1")
    assert said(problem, [*held, *in_pot("b", 25, 35, "big-1")]) == ()
    assert said(problem, [*held, *in_pot("b", 24, 35, "big-1")]) == (
        "pot big-1 holds a and b at minute 24",
    )
    assert said(problem, [*held, *in_pot("b", 10, 40, "big-1")]) == (
        "pot big-1 holds a and b at minute 10",
    )


def test_who_is_listed_first_may_have_the_pot_last() -> None:
    problem = day(pot_batch("a"), pot_batch("b"))
    first = in_pot("b", 0, 20, "big-1")
    assert said(problem, [*in_pot("a", 25, 35, "big-1"), *first]) == ()
    assert said(problem, [*in_pot("a", 24, 35, "big-1"), *first]) == (
        "pot big-1 holds a and b at minute 24",
    )


def test_two_pots_hold_two_batches() -> None:
    problem = day(pot_batch("a"), pot_batch("b"), big_pots=2)
    steps = [*in_pot("a", 0, 10, "big-1"), *in_pot("b", 0, 10, "big-2")]
    assert said(problem, steps) == ()


def test_a_pot_is_of_an_allowed_size_and_the_same_throughout() -> None:
    problem = day(pot_batch("a"))
    assert said(problem, in_pot("a", 0, 10, "small-1")) == (
        "a is in pot small-1 (small); allowed are big",
    )
    assert said(problem, in_pot("a", 0, 10, None)) == (
        "a has no pot for all of its steps",
    )
    either = day(pot_batch("a", ("big", "small")))
    moved = [*in_pot("a", 0, 10, "big-1")[:1], *in_pot("a", 0, 10, "small-1")[1:]]
    assert said(either, moved) == ("a changes pots: big-1, small-1",)


def test_a_pot_goes_to_what_needs_one() -> None:
    dry = day(batch("a", labour()))
    assert said(dry, [at("a", "do", 0, 10, "p1", pot="big-1")]) == (
        "do of a is put into pot big-1; it needs none",
    )
    without = day(pot_batch("a", ()))  # in some vessel that the kitchen does not count
    assert said(without, in_pot("a", 0, 10, None)) == ()
    assert len(said(without, in_pot("a", 0, 10, "big-1"))) == 2  # once for each step


def mill_batch(name: str) -> Batch:
    steps = a_step("mill", 10, 0, on_mill=True), a_step("wash", 5, 0, on_mill=True)
    return batch(name, *steps)


def on_mill(name: str, start: int, wash: int, mill: int | None = 1) -> list[PlacedStep]:
    return [
        at(name, "mill", start, start + 10, mill=mill),
        at(name, "wash", wash, wash + 5, mill=mill),
    ]


def test_the_mill_is_held_until_it_is_washed() -> None:
    problem = day(mill_batch("a"), mill_batch("b"))
    held = on_mill("a", 0, 20)
    assert said(problem, [*held, *on_mill("b", 25, 35)]) == ()
    assert said(problem, [*held, *on_mill("b", 24, 35)]) == (
        "mill 1 holds a and b at minute 24",
    )
    two = replace(problem, mills=2)
    assert said(two, [*held, *on_mill("b", 0, 35, 2)]) == ()


def test_milling_and_its_wash_are_on_one_mill() -> None:
    problem = day(mill_batch("a"), mills=2)
    answer = ("a has not one mill for all of its milling and washing",)
    apart = [*on_mill("a", 0, 20, 1)[:1], *on_mill("a", 0, 20, 2)[1:]]
    assert said(problem, apart) == answer
    assert said(problem, on_mill("a", 0, 20, None)) == answer


# --- 9 fires ---


def fire(name: str, watts: float, minutes: int = 10, **more: object) -> Batch:
    return batch(name, a_step("burn", minutes, 0, burner_w=watts, **more))


def test_a_fire_is_strong_enough_and_there_where_it_is_asked_for() -> None:
    problem = day(fire("a", 2000.0))
    assert said(problem, [at("a", "burn", 0, 10, burner="middle-1")]) == ()
    assert said(problem, [at("a", "burn", 0, 10, burner="weak-1")]) == (
        "burn of a is on burner weak-1 of 1000 W; it needs 2000 W",
    )
    assert said(problem, [at("a", "burn", 0, 10)]) == (
        "burn of a needs a burner and has none",
    )
    cold = day(fire("a", 0.0))
    assert said(cold, [at("a", "burn", 0, 10, burner="weak-1")]) == (
        "burn of a needs no fire but is on burner weak-1",
    )


def test_a_burner_bears_pots_of_its_sizes() -> None:
    boil = a_step("boil", 10, 0, burner_w=1000.0, in_pot=True)
    problem = day(batch("a", boil, pots=("big", "small")))
    little = Burner(id="little", power_w=1000.0, takes=frozenset({"small"}))
    problem = replace(problem, burners=(little,))
    for pot, answer in (
        ("small-1", ()),
        (
            "big-1",
            (
                "boil of a is in pot big-1 on burner little, which does not bear a "
                "pot of big",
            ),
        ),
    ):
        assert said(problem, [at("a", "boil", 0, 10, pot=pot, burner="little")]) == (
            answer
        )


def test_a_burner_bears_one_thing_at_a_time() -> None:
    problem = day(fire("a", 1000.0), fire("b", 1000.0))
    first = at("a", "burn", 0, 10, burner="weak-1")
    assert said(problem, [first, at("b", "burn", 10, 20, burner="weak-1")]) == ()
    assert said(problem, [first, at("b", "burn", 9, 19, burner="weak-1")]) == (
        "burner weak-1 holds burn of a and burn of b at once",
    )
    later = at("a", "burn", 10, 20, burner="weak-1")  # listed first, burns last
    assert said(problem, [later, at("b", "burn", 0, 10, burner="weak-1")]) == ()


def test_what_is_on_no_burner_or_needs_none_is_not_said_to_hold_one() -> None:
    two = day(fire("a", 1000.0), fire("b", 1000.0))
    assert said(two, [at("a", "burn", 0, 10), at("b", "burn", 0, 10)]) == (
        "burn of a needs a burner and has none",
        "burn of b needs a burner and has none",
    )
    cold = day(fire("a", 0.0), fire("b", 1000.0))
    both = [
        at("a", "burn", 0, 10, burner="weak-1"),
        at("b", "burn", 0, 10, burner="weak-1"),
    ]
    assert said(cold, both) == ("burn of a needs no fire but is on burner weak-1",)


def test_two_fires_of_one_batch_outside_its_pot_are_two_things() -> None:
    steps = (
        a_step("jars", 10, 0, burner_w=1000.0),
        a_step("lids", 10, 0, burner_w=1000.0),
    )
    problem = day(batch("a", *steps))
    both = [
        at("a", "jars", 0, 10, burner="weak-1"),
        at("a", "lids", 5, 15, burner="weak-1"),
    ]
    assert len(said(problem, both)) == 1


def test_a_batch_may_heat_its_jars_beside_its_pot_but_not_under_it() -> None:
    steps = (
        a_step("boil", 10, 0, burner_w=1000.0, in_pot=True),
        a_step("jars", 10, 0, burner_w=1000.0),
    )
    for listed in (steps, steps[::-1]):
        problem = day(batch("a", *listed))
        boil = at("a", "boil", 0, 10, burner="weak-1")
        for burner, spoken in (("weak-1", 1), ("weak-2", 0)):
            jars = at("a", "jars", 5, 15, burner=burner)
            assert len(said(problem, [boil, jars])) == spoken
            assert len(said(problem, [jars, boil])) == spoken


def test_a_pot_stays_on_its_burner_while_it_burns() -> None:
    steps = (
        a_step("boil", 10, 0, burner_w=2000.0, in_pot=True),
        a_step("simmer", 10, 0, burner_w=1000.0, in_pot=True),
    )
    problem = day(batch("a", *steps))

    def answers(start: int, burner: str) -> tuple[str, ...]:
        boil = at("a", "boil", 0, 10, burner="middle-1")
        simmer = at("a", "simmer", start, start + 10, burner=burner)
        found = said(problem, [boil, simmer])
        # whichever is listed first, it is said once; the later of the list is named
        assert len(said(problem, [simmer, boil])) == len(found)
        return found

    assert answers(10, "middle-1") == ()
    assert answers(10, "weak-1") == (
        "simmer of a is on burner weak-1, boil without gap on middle-1: "
        "a pot on the fire stays on its burner",
    )
    assert answers(11, "weak-1") == ()  # a minute to lift it over


def closed(name: str = "a", jars: int = 5, **changes: object) -> Batch:
    """Jars of ten minutes' process that are closed after a step without hands."""
    given: dict[str, object] = {"jars": jars, "process": "half-pint-10"}
    return batch(name, a_step("lid", 5, 0), **{**given, **changes})


LID = at("a", "lid", 25, 30)


@pytest.mark.parametrize(
    ("start", "holds"), [(0, False), (46, False), (55, False), (56, True)]
)
def test_a_canner_holds_its_fires_from_heating_to_the_process_end(
    start: int, holds: bool
) -> None:
    # heated from minute 0, its process ends at 30 + 4 + 12 + 10 = 56
    problem = day(closed(), fire("b", 3000.0))
    steps = [LID, at("b", "burn", start, start + 10, burner="strong-1")]
    answer = "burner strong-1 holds burn of b while canner canner is on it for load L1"
    assert said(problem, steps, [load()]) == (() if holds else (answer,))


def test_a_canner_over_two_burners_holds_both() -> None:
    wide = a_canner(burners=("strong-1", "weak-1"))
    problem = day(closed(), fire("b", 1000.0), canners=(wide,))
    on = [LID, at("b", "burn", 0, 10, burner="weak-1")]
    assert said(problem, on, [load()]) == (
        "burner weak-1 holds burn of b while canner canner is on it for load L1",
    )


def test_two_canners_on_one_burner_take_turns() -> None:
    other = a_canner("canner-2")
    problem = day(closed("a"), closed("b"), canners=(a_canner(), other))
    # the first gives its fire back at 56: the second may be heated from then, for 30
    steps = [LID, at("b", "lid", 75, 80)]
    second = load(86, id="L2", canner="canner-2", jars=(("b", 5),))
    assert said(problem, steps, [load(), second]) == ()
    early = load(85, id="L2", canner="canner-2", jars=(("b", 5),))
    assert said(problem, steps, [load(), early]) == (
        "canners canner and canner-2 stand on burner strong-1 at once",
    )


def test_a_fire_may_burn_out_before_the_canner_is_heated_there() -> None:
    problem = day(closed(), fire("b", 3000.0))
    steps = [
        at("a", "lid", 35, 40),
        at("b", "burn", 0, 10, burner="strong-1"),
    ]
    assert said(problem, steps, [load(40)]) == ()  # heated from 10
    assert len(said(problem, steps, [load(39, lowered_by="p1")])) == 2  # and not closed


def test_whichever_canner_is_first_the_other_waits_for_its_fire() -> None:
    problem = day(closed("a"), closed("b"), canners=(a_canner(), a_canner("canner-2")))
    steps = [LID, at("b", "lid", 75, 80)]
    first = load(canner="canner-2")  # gives its fire back at 56
    second = load(86, id="L2", jars=(("b", 5),))
    assert said(problem, steps, [first, second]) == ()


def test_canners_on_fires_of_their_own_burn_at_once() -> None:
    other = a_canner("canner-2", burners=("middle-1",))
    problem = day(closed("a"), closed("b"), people=2, canners=(a_canner(), other))
    steps = [LID, at("b", "lid", 25, 30)]
    beside = load(
        id="L2", canner="canner-2", jars=(("b", 5),), lowered_by="p2", lifted_by="p2"
    )
    assert said(problem, steps, [load(), beside]) == ()


def test_of_two_burners_that_canners_share_the_first_is_named() -> None:
    wide = ("strong-1", "middle-1")
    both = (a_canner(burners=wide), a_canner("canner-2", burners=wide))
    problem = day(closed("a"), closed("b"), people=2, canners=both)
    steps = [LID, at("b", "lid", 25, 30)]
    beside = load(
        id="L2", canner="canner-2", jars=(("b", 5),), lowered_by="p2", lifted_by="p2"
    )
    assert said(problem, steps, [load(), beside]) == (
        "canners canner and canner-2 stand on burner middle-1 at once",
    )


# --- 10 to 13 jars ---


def test_all_jars_of_a_batch_ride_and_no_others() -> None:
    for aboard, holds in ((4, False), (5, True), (6, False)):
        answer = f"a has {aboard} jars in loads; 5 belong there"
        found = said(day(closed()), [LID], [load(jars=(("a", aboard),))])
        assert found == (() if holds else (answer,))


def test_jars_that_go_through_no_canner_are_in_no_load() -> None:
    problem = day(closed(), closed("b", process=None))
    steps = [LID, at("b", "lid", 25, 30)]
    assert said(problem, steps, [load()]) == ()
    found = said(problem, steps, [load(jars=(("a", 5), ("b", 5)))])
    assert found == (
        "b has 5 jars in loads; 0 belong there",
        "jars of b (None) may not ride in a load of half-pint-10",
    )


def test_a_canner_takes_so_many_of_a_jar_size() -> None:
    # 16 half-pints, 9 pints: counted by the size of the load's own process
    for jars, process, size, places in (
        (16, HALF_PINT, "half_pint", 16),
        (9, PINT, "pint", 9),
    ):
        one_more = jars + 1
        for count in (jars, one_more):
            problem = day(closed(jars=count, process=process.id))
            found = said(
                problem, [LID], [load(process=process.id, jars=(("a", count),))]
            )
            answer = f"load L1 has {count} jars; canner canner takes {places} of {size}"
            assert found == (() if count == jars else (answer,))


def test_a_canner_without_places_for_a_size_takes_none_of_it() -> None:
    small = a_canner(places={"pint": 9})
    found = said(day(closed(), canners=(small,)), [LID], [load()])
    assert found == ("load L1 has 5 jars; canner canner takes 0 of half_pint",)


def test_jars_ride_in_their_own_process_or_a_longer_one_that_is_allowed() -> None:
    # pint-10 may ride in pint-15, and not the other way round
    long = load(
        process="pint-15", process_min=15, done_min=61, fire_free_min=61,
        lift_min=66, out_min=70,
    )  # fmt: skip
    assert said(day(closed(process="pint-10")), [LID], [long]) == ()
    short = load(process="pint-10")
    assert said(day(closed(process="pint-15")), [LID], [short]) == (
        "jars of a (pint-15) may not ride in a load of pint-10",
    )


def test_a_process_is_never_a_minute_shorter_or_longer() -> None:
    for minutes in (9, 11):
        shift = minutes - 10
        wrong = load(
            process_min=minutes, done_min=56 + shift, fire_free_min=56 + shift,
            lift_min=61 + shift, out_min=65 + shift,
        )  # fmt: skip
        assert said(day(closed()), [LID], [wrong]) == (
            f"load L1 is processed {minutes} min; half-pint-10 takes 10",
        )


@pytest.mark.parametrize(
    ("closed_at", "answer"),
    [
        (31, "load L1 starts 1 min before a is closed"),
        (30, None),
        (10, None),  # lowered at 30, at most 20 closed
        (9, "jars of a wait closed 21 min for load L1; at most 20"),
    ],
)
def test_closed_jars_wait_so_long(closed_at: int, answer: str | None) -> None:
    steps = [at("a", "lid", closed_at - 5, closed_at)]
    assert said(day(closed()), steps, [load()]) == (() if answer is None else (answer,))


def test_without_a_closing_step_the_last_one_closes() -> None:
    two = (a_step("lid", 5, 0), a_step("wipe", 5, 0))
    problem = day(batch("a", *two, jars=5, process="half-pint-10"))
    steps = [at("a", "lid", 0, 5), at("a", "wipe", 26, 31)]
    assert said(problem, steps, [load()]) == (
        "load L1 starts 1 min before a is closed",
    )
    named = day(batch("a", *two, jars=5, process="half-pint-10", ready_after="lid"))
    assert said(named, steps, [load()]) == (
        "jars of a wait closed 25 min for load L1; at most 20",
    )


# --- 14 to 17 a load ---


@pytest.mark.parametrize(
    ("changes", "answer"),
    [
        ({"lowered_min": 33}, "lowering lasts 3 min; it takes 4"),
        ({"boil_min": 45}, "coming to a boil lasts 11 min; it takes 12"),
        ({"out_min": 64}, "lifting out lasts 3 min; it takes 4"),
    ],
)
def test_each_part_of_a_load_takes_its_minutes(
    changes: dict[str, int], answer: str
) -> None:
    found = said(day(closed()), [LID], [load(**changes)])
    assert f"load L1: {answer}" in found


def test_the_process_runs_its_whole_time_from_the_full_boil() -> None:
    early = load(done_min=55, fire_free_min=56)
    assert said(day(closed()), [LID], [early]) == (
        "load L1: processing lasts 9 min; it takes 10",
    )


@pytest.mark.parametrize(("rested", "holds"), [(4, 0), (5, 1), (15, 1), (16, 0)])
def test_jars_rest_and_are_lifted_within_ten_minutes(rested: int, holds: int) -> None:
    found = said(
        day(closed()), [LID], [load(lift_min=56 + rested, out_min=60 + rested)]
    )
    answer = (
        f"load L1 is lifted {rested} min after its process ends; 5 to 15 are allowed"
    )
    assert found == (() if holds else (answer,))


@pytest.mark.parametrize("what", ["lowered", "lifted"])
def test_hot_jars_are_moved_by_who_may(what: str) -> None:
    child = person("child", skills=ALL_SKILLS - {Skill.LIFT})
    problem = day(closed(), people=(person("p1"), child))
    found = said(problem, [LID], [load(**{f"{what}_by": "child"})])
    assert found == (f"load L1 is {what} by child, who does not lift hot jars",)


def test_the_fire_burns_until_the_process_ends_and_the_load_is_within_the_day() -> None:
    problem = day(closed())
    assert said(problem, [LID], [load(fire_free_min=55)]) == (
        "load L1 loses its fire before its process ends",
    )
    # lowered at 445 it is out at 480, where the day ends
    last = [at("a", "lid", 440, 445)]
    assert said(problem, last, [load(445)]) == ()
    late = [at("a", "lid", 440, 445)]
    assert said(problem, late, [load(446)]) == ("load L1 ends after the day",)
    # heating takes 30: lowered at 29 it would have begun the evening before
    early = [at("a", "lid", 20, 25)]
    assert said(problem, early, [load(29)]) == (
        "load L1 is heated 1 min before the day",
    )


def test_a_load_may_be_one_jar() -> None:
    assert said(day(closed(jars=1)), [LID], [load(jars=(("a", 1),))]) == ()


def test_a_load_has_jars_and_a_name_of_its_own() -> None:
    problem = day(closed())
    empty = load(100, id="L2", jars=(), heat_min=80)
    assert said(problem, [LID], [load(), empty]) == (
        "load L2 is empty, or has no jars of a batch it names",
    )
    none_of_it = load(100, id="L2", jars=(("a", 0),), heat_min=80)
    assert said(problem, [LID], [load(), none_of_it])[0] == (
        "load L2 is empty, or has no jars of a batch it names"
    )
    both = day(closed(), closed("b"))
    steps = [LID, at("b", "lid", 90, 95)]
    same = load(100, jars=(("b", 5),), heat_min=80)
    assert said(both, steps, [load(), same]) == ("two loads are named L1",)


# --- 15, 16 water ---


def two_loads(second: PlacedLoad, first: PlacedLoad | None = None) -> tuple[str, ...]:
    """Two batches; the first load is out at 65, the second batch is closed in time."""
    problem = day(closed("a"), closed("b"), people=2)
    closes = second.lower_min
    steps = [LID, at("b", "lid", closes - 5, closes)]
    return said(problem, steps, [first or load(), second])


def later(lower: int, **changes: object) -> PlacedLoad:
    return load(lower, id="L2", jars=(("b", 5),), **changes)


def test_one_load_after_the_other_in_one_canner() -> None:
    # hot: the flame stays on to the next lowering
    hot = later(65, hot=True, heat_min=65)
    assert two_loads(hot, load(fire_free_min=65)) == ()
    early = later(64, hot=True, heat_min=64, lowered_by="p2")
    assert two_loads(early, load(fire_free_min=64)) == (
        "loads L1 and L2 are in canner canner at once",
    )


def test_the_first_water_of_a_canner_is_cold() -> None:
    problem = day(closed())
    assert said(problem, [LID], [load(hot=True, heat_min=30)]) == (
        "load L1 is the first of canner canner: its water is cold",
    )
    for heated in (29, 31):
        first = load(31, heat_min=31 - heated)
        assert said(problem, [LID], [first]) == (
            f"load L1 is lowered after {heated} min of heating; its water needs 30",
        )


def test_water_stays_hot_so_long_while_the_fire_burns() -> None:
    # out at 65, stays hot 25: lowered by 90
    assert two_loads(later(90, hot=True, heat_min=90), load(fire_free_min=90)) == ()
    assert two_loads(later(91, hot=True, heat_min=91), load(fire_free_min=91)) == (
        "load L2 comes 26 min after L1 is out; the water stays hot 25",
    )
    assert two_loads(later(90, hot=True, heat_min=90), load(fire_free_min=89)) == (
        "load L2 is called hot, but the fire was off since L1",
    )
    assert two_loads(later(90, hot=True, heat_min=89), load(fire_free_min=90)) == (
        "load L2 is called hot and heated all the same",
    )


def test_water_that_cooled_is_reheated_when_the_load_before_is_out() -> None:
    # out at 65, reheated for 20: lowered from 85 on
    assert two_loads(later(85, heat_min=65)) == ()
    assert two_loads(later(84, heat_min=64)) == ("load L2 is heated before L1 is out",)
    assert two_loads(later(85, heat_min=66)) == (
        "load L2 is lowered after 19 min of heating; its water needs 20",
    )
    assert two_loads(later(85, heat_min=65), load(fire_free_min=65)) == ()
    assert two_loads(later(85, heat_min=65), load(fire_free_min=66)) == (
        "load L2 is heated on the fire that L1 holds",
    )


# --- 18 the counter ---


def test_jars_keep_their_place_until_they_are_cold() -> None:
    # five out at 65, five at 120 with 55 between: a jar that cools in 55 makes room
    def counted(places: int, cooling: int) -> tuple[str, ...]:
        problem = day(
            closed("a"),
            closed("b"),
            counter=Counter(places=places, cooling_min=cooling),
        )
        steps = [LID, at("b", "lid", 80, 85)]
        return said(problem, steps, [load(), later(85, heat_min=65)])

    assert counted(10, 56) == ()
    assert counted(9, 56) == (
        "10 jars cool on the counter at minute 120; it has room for 9",
    )
    assert counted(5, 55) == ()
    assert counted(4, 55) == (
        "5 jars cool on the counter at minute 65; it has room for 4",
    )


def test_yesterdays_jars_keep_their_place_until_they_are_fetched() -> None:
    # ten of yesterday stand until minute 65, when today's five come out
    def counted(until: int) -> tuple[str, ...]:
        taken = Counter(places=14, cooling_min=1440, taken=((10, until),))
        return said(day(closed(), counter=taken), [LID], [load()])

    assert counted(65) == ()
    assert counted(66) == (
        "15 jars cool on the counter at minute 65; it has room for 14",
    )


# --- 19 what is stated ---


def stated(problem: Problem, plan: Timetable, **changes: object) -> tuple[str, ...]:
    given: dict[str, object] = {
        "timetable": plan,
        "by_hand": None,
        "made_by": "solver",
        "finish_min": 65,
        "lateness": 0,
        "lower_bound_min": 65,
        "proven": True,
        "solve_s": 0.0,
        "first_plan_s": 0.0,
    }
    answer = Answer(**{**given, **changes})  # type: ignore[arg-type]
    return misstatements(problem, answer)


def test_the_finish_is_the_last_step_or_jar() -> None:
    jars = Timetable(steps=(LID,), loads=(load(),), breaks=())
    assert stated(day(closed()), jars) == ()
    assert stated(day(closed()), jars, finish_min=66) == (
        "finish is stated as 66; the steps give 65",
    )
    washing = batch("b", labour(10))
    steps = (LID, at("b", "do", 60, 70, "p1"))
    plan = Timetable(steps=steps, loads=(load(),), breaks=())
    assert stated(day(closed(), washing), plan, finish_min=70) == ()


def test_a_rest_after_the_last_work_is_no_part_of_the_finish() -> None:
    rest = PlacedBreak(person="p1", start_min=100, end_min=115)
    jars = Timetable(steps=(LID,), loads=(load(),), breaks=(rest,))
    assert stated(day(closed()), jars) == ()


def test_lateness_is_weighed_and_counts_from_the_last_jar_out() -> None:
    jars = Timetable(steps=(LID,), loads=(load(),), breaks=())
    want = Want(product="a", by_min=60, weight=3)
    late = day(closed(), wants=(want,))
    assert stated(late, jars, lateness=3 * (65 - 60)) == ()
    assert stated(late, jars, lateness=5) == (
        "lateness is stated as 5; the plan gives 15",
    )
    in_time = day(closed(), wants=(replace(want, by_min=65),))
    assert stated(in_time, jars) == ()


def test_goods_without_a_canner_are_there_when_closed() -> None:
    two = batch("a", a_step("lid", 5, 0), a_step("wipe", 5, 0), ready_after="lid")
    steps = (at("a", "lid", 0, 5), at("a", "wipe", 60, 65))
    plan = Timetable(steps=steps, loads=(), breaks=())
    want = Want(product="a", by_min=3)
    assert stated(day(two, wants=(want,)), plan, lateness=5 - 3) == ()
    unnamed = replace(two, ready_after="")
    assert stated(day(unnamed, wants=(want,)), plan, lateness=65 - 3) == ()


def test_no_bound_is_later_than_the_plan() -> None:
    jars = Timetable(steps=(LID,), loads=(load(),), breaks=())
    assert stated(day(closed()), jars, lower_bound_min=66) == (
        "the bound 66 is later than 65",
    )


# --- 20 names ---


@pytest.mark.parametrize(
    ("steps", "answer"),
    [
        ([], "do of a is planned 0 times, not once"),
        ([at("a", "do", 0, 10, "p1")] * 2, "do of a is planned 2 times, not once"),
        (
            [at("a", "do", 0, 10, "p1"), at("a", "sing", 0, 10, "p1")],
            "sing of a is planned; the day has no such step",
        ),
        ([at("a", "do", 0, 10, "p9")], "do of a is given to p9, who is not in the day"),
        (
            [at("a", "do", 0, 10, "p1", pot="tub")],
            "do of a is in pot tub, which is not in the kitchen",
        ),
        (
            [at("a", "do", 0, 10, "p1", burner="sun")],
            "do of a is on burner sun, which is not in the kitchen",
        ),
        (
            [at("a", "do", 0, 10, "p1", mill=2)],
            "do of a is on mill 2; the kitchen has 1",
        ),
        (
            [at("a", "do", 0, 10, "p1", mill=0)],
            "do of a is on mill 0; the kitchen has 1",
        ),
    ],
)
def test_a_plan_names_what_the_day_has(steps: list[PlacedStep], answer: str) -> None:
    assert said(day(batch("a", labour())), steps) == (answer,)


@pytest.mark.parametrize(
    ("changes", "answer"),
    [
        ({"canner": "tub"}, "load L1 is in canner tub, which is not there"),
        ({"process": "p"}, "load L1 has process p, which is not in the day"),
        ({"jars": (("z", 5),)}, "load L1 has jars of z, which is not made"),
        ({"lowered_by": "p9"}, "load L1 is given to p9, who is not in the day"),
        ({"lifted_by": "p9"}, "load L1 is given to p9, who is not in the day"),
    ],
)
def test_a_load_names_what_the_day_has(changes: dict[str, object], answer: str) -> None:
    assert said(day(closed()), [LID], [load(**changes)]) == (answer,)


def test_a_break_is_somebodys() -> None:
    rest = PlacedBreak(person="p9", start_min=0, end_min=5)
    assert said(day(), breaks=[rest]) == (
        "a break is given to p9, who is not in the day",
    )
