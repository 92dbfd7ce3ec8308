"""What nobody said to have begun had a pot, a mill and a fire to begin with."""

from __future__ import annotations

import json
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

from planning.small_days import day, step, work
from planning.written_out import at, load

from stillroom.methods.step import Link
from stillroom.planning.begun.as_known import Said, as_known
from stillroom.planning.begun.happened_file import read_happened
from stillroom.planning.begun.not_free import AHEAD_MIN, as_free
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import PlacedLoad, PlacedStep, Timetable

Key = tuple[str, str]


def potful(name: str) -> Batch:
    """Cut, cooked in a pot and filled from it; the pot is washed, a label written."""
    steps = (
        step("cut", 5, 0),
        step("cook", 20, 0, in_pot=True, burner_w=900.0),
        step("fill", 5, 0, in_pot=True),
        step("wash", 6, 0, in_pot=True, rinse_min=2),
        step("write", 5, 0),
    )
    names = [s.id for s in steps]
    links = tuple(Link(before=before, after=after) for before, after in pairwise(names))
    steps += (step("stones", 5, 0),)  # cracked beside it, once the fruit is cut
    links += (Link(before="cut", after="stones"),)
    return work(name, *steps, links=links, pots=("big",))


def placed(
    batch: str, start: int, pot: str = "big-1", fire: str = "middle-1"
) -> dict[Key, PlacedStep]:
    """Cut, then cooked from that minute on, and so on; the stones long after."""
    return {
        (batch, "cut"): at(batch, "cut", start - 5, start),
        (batch, "cook"): at(batch, "cook", start, start + 20, pot=pot, burner=fire),
        (batch, "fill"): at(batch, "fill", start + 20, start + 25, pot=pot),
        (batch, "wash"): at(batch, "wash", start + 25, start + 31, pot=pot),
        (batch, "write"): at(batch, "write", start + 31, start + 36),
        (batch, "stones"): at(batch, "stones", start + 90, start + 95),
    }


KITCHEN = day(potful("a"), potful("b"), big_pots=2)


def out(
    begun: dict[Key, PlacedStep],
    said: set[Key],
    now: int,
    problem: Problem = KITCHEN,
    loads: tuple[PlacedLoad, ...] = (),
) -> set[Key]:
    """What is taken not to have begun."""
    there = {key: s for key, s in begun.items() if s.start_min < now}
    found = as_free(problem, there, now, said, loads)
    assert set(found) <= set(there)
    return set(there) - set(found)


def test_what_is_in_a_pot_by_the_plan_has_not_begun_where_another_is_said_in_it() -> (
    None
):
    """By the plan a cooks since 8:10; said was that b does. Cut fruit stays cut."""
    begun = {**placed("a", 10), **placed("b", 12, fire="middle-2")}
    assert out(begun, {("b", "cook")}, 15) == {("a", "cook")}
    # and what comes after it has not begun either, by whatever plan
    begun["a", "fill"] = at("a", "fill", 11, 16, pot="big-1")
    begun["a", "write"] = at("a", "write", 12, 14)
    begun["a", "stones"] = at("a", "stones", 12, 14)
    assert out(begun, {("b", "cook")}, 15) == {
        ("a", "cook"),
        ("a", "fill"),
        ("a", "write"),
    }


def test_what_was_said_of_both_stands_for_both() -> None:
    begun = {**placed("a", 10), **placed("b", 12, fire="middle-2")}
    both = {("a", "cook"), ("b", "cook")}
    assert out(begun, both, 15) == set()


def test_what_comes_before_what_was_said_has_begun() -> None:
    """b is being filled, so it was cooked; a is not in its pot."""
    begun = {**placed("a", 30), **placed("b", 8, fire="middle-2")}
    assert out(begun, {("b", "fill")}, 32) == {("a", "cook")}


def test_a_fire_that_was_left_is_free_for_what_comes_by_the_plan() -> None:
    """b was said to cook until 8:28, and a is on its fire since 8:30."""
    begun = {**placed("a", 30), **placed("b", 8, pot="big-2")}
    assert out(begun, {("b", "cook")}, 33) == set()


def test_two_of_one_pot_on_one_fire_have_both_begun() -> None:
    begun = placed("b", 8)
    begun["b", "fill"] = at("b", "fill", 10, 20, pot="big-1", burner="middle-1")
    assert out(begun, {("b", "cook")}, 15) == set()


def test_what_nobody_said_of_either_goes_by_the_plan() -> None:
    begun = {**placed("a", 10), **placed("b", 12)}
    assert out(begun, set(), 15) == set()


def test_each_in_a_pot_of_its_own_has_begun() -> None:
    begun = {**placed("a", 10), **placed("b", 12, pot="big-2", fire="middle-2")}
    assert out(begun, {("b", "cook")}, 15) == set()


def test_a_pot_that_is_emptied_by_the_plan_was_free() -> None:
    """a is filled at 8:35 and unwashed: b is in its pot, and a is in its jars."""
    begun = {**placed("a", 10), **placed("b", 36, fire="middle-2")}
    del begun["a", "wash"], begun["a", "write"]
    assert out(begun, {("b", "cook")}, 40) == set()


def test_what_burns_by_the_plan_has_not_begun_where_another_is_on_its_fire() -> None:
    """In other pots, on one fire: what was said is there."""
    begun = {**placed("a", 10), **placed("b", 12, pot="big-2")}
    assert out(begun, {("b", "cook")}, 15) == {("a", "cook")}
    # by 8:30 a is off it, and b came there after it
    later = {**placed("a", 10), **placed("b", 30, pot="big-2")}
    assert out(later, {("b", "cook")}, 33) == set()


def test_the_first_batch_has_not_begun_where_the_second_was_put_on_instead(
    tmp_path: Path,
) -> None:
    """Told at the stove or in a file: the plan has a at 8:10 and b at 8:41, one pot."""
    steps = {**placed("a", 10), **placed("b", 41)}
    plan = Timetable(steps=tuple(steps.values()), loads=(), breaks=())
    said = Said(began_min={("b", "cook"): 8})
    known = as_known(KITCHEN, plan, 15, said).happened.begun
    assert set(known) == {("a", "cut"), ("b", "cut"), ("b", "cook")}
    row = {"batch": "b", "step": "cook", "started": "8:08", "expected": "8:28"}
    file = tmp_path / "so_far.json"
    file.write_text(json.dumps({"steps": [row]}), encoding="utf-8")
    told = read_happened(file, KITCHEN, plan, 15).begun
    assert set(told) == set(known)


def over_by(
    began: int, now: int, loads: tuple[PlacedLoad, ...] = ()
) -> dict[str, int] | None:
    """Ends of a, cooked 8:10 to 8:30 by the plan, with b said begun in its pot."""
    begun = {**placed("a", 10), **placed("b", began, fire="middle-2")}
    there = {key: s for key, s in begun.items() if s.start_min < now}
    found = as_free(KITCHEN, there, now, {("b", "cook")}, loads)
    return {key[1]: s.end_min for key, s in found.items() if key[0] == "a"}


def test_who_is_a_little_ahead_has_not_undone_what_was_cooked() -> None:
    """b was put into the pot while by the plan a was filled, or washed out of it."""
    assert over_by(38, 39) == {"cut": 10, "cook": 30, "fill": 35, "wash": 38}
    assert over_by(32, 34) == {"cut": 10, "cook": 30, "fill": 32}
    # a few minutes before the end of its cooking: it is off the fire by then
    assert over_by(30 - AHEAD_MIN, 27) == {"cut": 10, "cook": 30 - AHEAD_MIN}
    # sooner than that it was never on
    assert over_by(30 - AHEAD_MIN - 1, 27) == {"cut": 10}


def test_jars_in_the_canner_have_been_cooked() -> None:
    """By the plan a is cooked until 8:30; its jars are lowered already."""
    lowered = (load(15, jars=(("a", 4),)),)
    assert over_by(16, 20, lowered) == {"cut": 10, "cook": 16}
    assert over_by(16, 20) == {"cut": 10}


def test_a_fire_that_was_left_a_little_sooner_is_free() -> None:
    """On one fire in two pots: a had two minutes to go when b was put there."""
    begun = {**placed("a", 10), **placed("b", 28, pot="big-2")}
    there = {key: s for key, s in begun.items() if s.start_min < 29}
    found = as_free(KITCHEN, there, 29, {("b", "cook")}, ())
    assert found["a", "cook"].end_min == 28


def test_what_is_stirred_on_is_not_undone_by_a_pan_on_its_fire() -> None:
    """a was put on and tapped; what follows in its pot goes on, and b is elsewhere."""
    begun = {**placed("a", 10), **placed("b", 36, pot="big-2")}
    begun["a", "fill"] = at("a", "fill", 30, 50, pot="big-1", burner="middle-1")
    for said in ({("b", "cook")}, {("a", "cook"), ("b", "cook")}):
        assert out(begun, said, 40) == set()


def test_what_has_more_cooking_to_come_by_the_plan_was_never_in_the_pot() -> None:
    """By the plan a is heated from 8:10, and to boil then: b is there since 8:11."""
    pan = {"in_pot": True, "burner_w": 900.0}
    steps = (step("heat", 4, 0, **pan), step("boil", 10, 0, **pan))
    two = day(*(work(name, *steps, pots=("big",)) for name in "ab"))
    begun = {
        ("a", "heat"): at("a", "heat", 10, 14, pot="big-1", burner="middle-1"),
        ("b", "heat"): at("b", "heat", 11, 15, pot="big-1", burner="middle-1"),
    }
    assert out(begun, {("b", "heat")}, 13, two) == {("a", "heat")}
    elsewhere = {**begun, ("b", "heat"): replace(begun["b", "heat"], pot="big-2")}
    assert out(elsewhere, {("b", "heat")}, 13, two) == {("a", "heat")}


def test_a_mill_that_was_left_a_little_sooner_is_free() -> None:
    """a had four minutes to go at the mill, or fourteen, when b was said there."""
    mill = step("mill", 20, 0, on_mill=True)
    two = day(work("a", mill), work("b", mill))
    for began, back in ((26, set()), (16, {("a", "mill")})):
        begun = {
            ("a", "mill"): at("a", "mill", 10, 30, mill=1),
            ("b", "mill"): at("b", "mill", began, began + 20, mill=1),
        }
        assert out(begun, {("b", "mill")}, 29, two) == back
