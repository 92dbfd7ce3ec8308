"""
The judge on fires and the canners on them, on the smallest day where each rule bites.

Each case is a day that holds, and the one minute, jar or name that does not, with the
whole answer: one sentence, and no other rule speaks.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import canner as a_canner
from planning.small_days import day
from planning.small_days import step as a_step
from planning.written_out import LID, at, batch, closed, fire, load, said

from stillroom.planning.problem import (
    Burner,
)

# --- 9 fires ---


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
    least = day(fire("a", 1.0), fire("b", 1.0))  # a watt is a fire, and holds a burner
    both = [at(name, "burn", 0, 10, burner="weak-1") for name in "ab"]
    assert said(least, both) == ("burner weak-1 holds burn of a and burn of b at once",)


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


def test_a_burner_for_small_pots_bears_what_is_in_no_pot() -> None:
    little = Burner(id="little", power_w=1000.0, takes=frozenset({"small"}))
    problem = day(fire("a", 1000.0), burners=(little,))
    assert said(problem, [at("a", "burn", 0, 10, burner="little")]) == ()


def test_a_burner_bears_one_thing_at_a_time() -> None:
    problem = day(fire("a", 1000.0), fire("b", 1000.0))
    first = at("a", "burn", 0, 10, burner="weak-1")
    assert said(problem, [first, at("b", "burn", 10, 20, burner="weak-1")]) == ()
    assert said(problem, [first, at("b", "burn", 9, 19, burner="weak-1")]) == (
        "burner weak-1 holds burn of a and burn of b at once",
    )
    later = at("a", "burn", 10, 20, burner="weak-1")  # listed first, burns last
    assert said(problem, [later, at("b", "burn", 0, 10, burner="weak-1")]) == ()


def test_pots_of_two_batches_are_two_things() -> None:
    boil = a_step("boil", 10, 0, burner_w=1000.0, in_pot=True)
    problem = day(*(batch(name, boil, pots=("big",)) for name in "ab"), big_pots=2)

    def beside(burner: str) -> tuple[str, ...]:
        first = at("a", "boil", 0, 10, pot="big-1", burner="weak-1")
        return said(
            problem, [first, at("b", "boil", 0, 10, pot="big-2", burner=burner)]
        )

    assert beside("weak-2") == ()
    assert beside("weak-1") == ("burner weak-1 holds boil of a and boil of b at once",)


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


@pytest.mark.parametrize(
    ("start", "holds"), [(0, False), (46, False), (56, False), (64, False), (65, True)]
)
def test_a_canner_holds_its_fires_from_heating_until_its_jars_are_out(
    start: int, holds: bool
) -> None:
    # heated from minute 0, its process ends at 30 + 4 + 12 + 10 = 56, the last jar is
    # out at 56 + 5 + 4 = 65: nobody carries it full of jars
    problem = day(closed(), fire("b", 3000.0))
    steps = [LID, at("b", "burn", start, start + 10, burner="strong-1")]
    answer = "burner strong-1 holds burn of b while canner canner is on it for load L1"
    assert said(problem, steps, [load()]) == (() if holds else (answer,))


def test_a_canner_over_two_burners_holds_both_and_no_third() -> None:
    wide = a_canner(burners=("strong-1", "weak-1"))
    problem = day(closed(), fire("b", 1000.0), canners=(wide,))

    def beside(burner: str) -> tuple[str, ...]:
        return said(problem, [LID, at("b", "burn", 0, 10, burner=burner)], [load()])

    assert beside("weak-2") == ()
    for burner in ("strong-1", "weak-1"):
        assert beside(burner) == (
            f"burner {burner} holds burn of b while canner canner is on it for load L1",
        )


def test_each_canner_holds_its_own_fires() -> None:
    canners = (a_canner(), a_canner("canner-2", burners=("middle-1",)))
    problem = day(closed(), fire("b", 1000.0), canners=canners)

    def beside(burner: str) -> tuple[str, ...]:
        steps = [LID, at("b", "burn", 0, 10, burner=burner)]
        return said(problem, steps, [load(canner="canner-2")])

    assert beside("strong-1") == ()
    assert beside("middle-1") == (
        "burner middle-1 holds burn of b while canner canner-2 is on it for load L1",
    )


def test_two_canners_on_one_burner_take_turns() -> None:
    other = a_canner("canner-2")
    problem = day(closed("a"), closed("b"), canners=(a_canner(), other))
    # the jars of the first are out at 65: the second may be heated from then, for 30
    steps = [LID, at("b", "lid", 75, 80)]
    second = load(95, id="L2", canner="canner-2", jars=(("b", 5),))
    assert said(problem, steps, [load(), second]) == ()
    early = load(94, id="L2", canner="canner-2", jars=(("b", 5),))
    assert said(problem, steps, [load(), early]) == (
        "canners canner and canner-2 stand on burner strong-1 at once",
    )


def test_a_canner_whose_fire_a_pot_took_is_heated_from_cold() -> None:
    # out at 65; a pot on its fire from 66 to 76: it was taken off and emptied
    problem = day(closed("a"), closed("c"), fire("b", 3000.0))
    steps = [
        LID,
        at("c", "lid", 90, 95),
        at("b", "burn", 66, 76, burner="strong-1"),
    ]

    def again(lower: int, heated: int) -> tuple[str, ...]:
        second = load(lower, id="L2", jars=(("c", 5),), heat_min=lower - heated)
        return said(problem, steps, [load(), second])

    assert again(106, 30) == ()
    assert again(106, 20) == (
        "load L2 is lowered after 20 min of heating; its water needs 30, for a pot was "
        "on its fire since load L1",
    )
    steps[-1] = at("b", "burn", 145, 155, burner="strong-1")
    assert again(106, 20) == ()  # a pot after it is no reason


def test_a_canner_whose_fire_another_canner_took_is_heated_from_cold() -> None:
    # the first is out at 65, the second on the same fire from 65 to 130: L3, in the
    # first canner again, is heated from 130 for 30 min, as if it were new
    canners = (a_canner(), a_canner("canner-2"))
    problem = day(closed("a"), closed("b"), closed("c"), canners=canners)
    second = load(95, id="L2", canner="canner-2", jars=(("b", 5),))
    steps = [LID, at("b", "lid", 75, 80), at("c", "lid", 145, 150)]

    def again(lower: int) -> tuple[str, ...]:
        third = load(lower, id="L3", jars=(("c", 5),), heat_min=130)
        return said(problem, steps, [load(), second, third])

    assert again(160) == ()
    assert again(150) == (
        "load L3 is lowered after 20 min of heating; its water needs 30, for a pot was "
        "on its fire since load L1",
    )
    # on a fire of its own the second is no reason: 20 will do
    other = a_canner("canner-2", burners=("middle-1",))
    apart = replace(problem, canners=(a_canner(), other))
    third = load(150, id="L3", jars=(("c", 5),), heat_min=130)
    assert said(apart, steps, [load(), second, third]) == ()


def test_a_pot_before_or_beside_the_load_before_takes_no_canner_off_its_fire() -> None:
    # L1 is heated from 40 and out at 105; L2 is heated for 20, from 105 on
    problem = day(closed("a"), closed("c"), fire("b", 3000.0, 5))
    steps = [at("a", "lid", 65, 70), at("c", "lid", 120, 125)]
    loads = [load(70), load(125, id="L2", jars=(("c", 5),), heat_min=105)]

    def with_pot(start: int) -> tuple[str, ...]:
        pot = at("b", "burn", start, start + 5, burner="strong-1")
        return said(problem, [*steps, pot], loads)

    assert with_pot(10) == ()
    # while a canner stands there it is another fault: nobody has moved the canner
    both = "burner strong-1 holds burn of b while canner canner is on it for load "
    assert with_pot(100) == (f"{both}L1",)
    assert with_pot(105) == (f"{both}L2",)
    # nor does a pot on a fire of its own, between the two
    apart = a_canner(first_heat_min=30, burners=("middle-1",))
    later = [loads[0], load(136, id="L2", jars=(("c", 5),), heat_min=116)]
    on = [steps[0], at("c", "lid", 131, 136), at("b", "burn", 108, 113)]
    on[-1] = replace(on[-1], burner="strong-1")
    assert said(replace(problem, canners=(apart,)), on, later) == ()


def test_another_canner_before_or_after_takes_no_canner_off_its_fire() -> None:
    # canner-2 is out at 65, canner from 65 to 130, again from 130 (20 of heating) to
    # 185, and canner-2 after it: nothing stood there between the two of canner
    canners = (a_canner(), a_canner("canner-2"))
    problem = day(*(closed(name) for name in "abcd"), canners=canners)
    steps = [
        LID,
        at("b", "lid", 90, 95),
        at("c", "lid", 145, 150),
        at("d", "lid", 210, 215),
    ]
    loads = [
        load(canner="canner-2"),
        load(95, id="L2", jars=(("b", 5),)),
        load(150, id="L3", jars=(("c", 5),), heat_min=130),
        load(215, id="L4", canner="canner-2", jars=(("d", 5),)),
    ]
    assert said(problem, steps, loads) == ()
    # canner-2 was off its fire meanwhile: 20 min are too few for it
    cold = [*loads[:3], replace(loads[3], heat_min=195)]
    assert said(problem, steps, cold) == (
        "load L4 is lowered after 20 min of heating; its water needs 30, for a pot was "
        "on its fire since load L1",
    )


def test_a_canner_that_stood_beside_it_on_one_fire_did_not_take_it() -> None:
    """
    L2 is out at 130 and heated again from 130 on, for 20 min: enough if it stayed.

    Another canner that is put there at 130, or is out at 130, was not there between;
    one that is out a minute later was, and the first is heated from cold.
    """
    canners = (a_canner(), a_canner("canner-2"))
    problem = day(*(closed(name) for name in "abc"), canners=canners, people=2)
    at_once = "canners canner and canner-2 stand on burner strong-1 at once"
    cold = (
        "load L3 is lowered after 20 min of heating; its water needs 30, for a pot was "
        "on its fire since load L2"
    )
    for lower, answers in (
        (160, (at_once,)),
        (95, (at_once,)),
        (96, (at_once, at_once, cold)),
    ):
        steps = [
            at("a", "lid", lower - 5, lower),
            at("b", "lid", 90, 95),
            at("c", "lid", 145, 150),
        ]
        loads = [
            load(lower, canner="canner-2", lowered_by="p2", lifted_by="p2"),
            load(95, id="L2", jars=(("b", 5),)),
            load(150, id="L3", jars=(("c", 5),), heat_min=130),
        ]
        assert said(problem, steps, loads) == answers


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
    first = load(canner="canner-2")  # its jars are out at 65
    second = load(95, id="L2", jars=(("b", 5),))
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
