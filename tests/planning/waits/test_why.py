"""Why then: on the smallest days the reason is known beforehand."""

import re
from dataclasses import replace

import pytest

from stillroom.methods.step import Link
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Counter, Window
from stillroom.planning.timetable import Answer
from stillroom.planning.waits.precedence import Part
from stillroom.planning.waits.why import (
    Because,
    Why,
    limit_of_the_day,
    why,
    why_so_long,
)
from stillroom.planning.waits.why_walk import Walk
from stillroom.refusal import Unreadable
from tests.planning.small_days import (
    Break,
    butter,
    canner,
    day,
    jelly,
    one_fire,
    person,
    step,
    work,
)


def planned(problem):
    answer = plan_day(problem, seconds=2)
    assert isinstance(answer, Answer)
    return answer.timetable


def kinds(chain):
    return {link.held_by for link in chain.chain}


def test_the_second_batch_waits_for_the_only_pot():
    """Three people, one big pot: nothing but the pot keeps the second batch back."""
    problem = day(jelly("jelly-1"), jelly("jelly-2"), people=3)
    plan = planned(problem)
    second = max(("jelly-1", "jelly-2"), key=lambda b: start(plan, b, "boil"))
    found = why(problem, plan, f"{second}/boil")
    first = found.chain[0]
    assert (first.held_by, first.resource) == ("pot", "big-1")
    assert re.fullmatch(
        r"big-1 holds jelly-\d until \d+:\d\d: wash_pot", first.sentence
    )
    assert found.chain[-1].held_by == "day"


def test_the_pot_is_the_limit_where_one_load_takes_both():
    """34 + 32 + 35: the second batch waits for the pot, the load for the second."""
    wait = {"closed_wait_at_most_min": 40}
    problem = day(jelly("jelly-1", **wait), jelly("jelly-2", **wait), people=3)
    steps = tuple(replace(s, burner_w=0.0) for s in jelly().steps)
    apart = tuple(replace(b, steps=steps) for b in problem.batches)
    plan = planned(replace(problem, batches=apart))  # no fire to wait for
    assert plan.finish_min == 101
    said = limit_of_the_day(replace(problem, batches=apart), plan)
    assert said.startswith("In this plan the pots hold")


def test_one_person_with_two_pots_is_the_limit():
    """With a pot for each, only the one pair of hands is left to wait for."""
    problem = day(jelly("jelly-1"), jelly("jelly-2"), jelly("jelly-3"), big_pots=3)
    plan = planned(problem)
    assert ("person", "p1") in why_so_long(problem, plan).minutes_by_resource()
    assert limit_of_the_day(problem, plan).startswith("In this plan hands hold")
    assert "not the pots" in limit_of_the_day(problem, plan)


def test_a_full_canner_is_the_limit():
    """A canner of eight and three batches of eight: each load waits for the last."""
    small = canner(places={"half_pint": 8}, load_min=4, come_up_min=60)
    problem = day(
        jelly("jelly-1", closed_wait_at_most_min=400),
        jelly("jelly-2", closed_wait_at_most_min=400),
        jelly("jelly-3", closed_wait_at_most_min=400),
        people=3,
        big_pots=3,
        canners=(small,),
    )
    plan = planned(problem)
    last = max(plan.loads, key=lambda load: load.lower_min)
    assert ("canner", "canner") in why(problem, plan, last.id).minutes_by_resource()
    assert limit_of_the_day(problem, plan).startswith("In this plan the canners hold")


def test_a_pot_waits_until_the_jars_are_out_of_the_canner_on_its_fire():
    """Not until the process has ended: nobody carries a canner full of jars."""
    problem = one_fire()
    first = why(problem, planned(problem), "b/cook").chain[0]
    assert (first.held_by, first.resource) == ("burner", "strong-1")
    assert "until 9:05 by: lift load 1 out of the canner" in first.sentence


def test_steps_without_a_wait_follow_at_once():
    problem = day(jelly())
    plan = planned(problem)
    found = why(problem, plan, "jelly-1/skim")
    assert found.chain[0].sentence == "it follows hard_boil (jelly-1) at once"
    assert found.chain[1].what == "hard_boil (jelly-1)"


@pytest.mark.parametrize(
    "problem",
    [
        day(jelly()),
        day(jelly("jelly-1"), jelly("jelly-2"), butter(), people=2),
        day(jelly(), people=(person("Ada", arrives_min=45),)),
        day(jelly("jelly-1"), jelly("jelly-2"), jelly("jelly-3"), big_pots=3),
    ],
)
def test_the_minutes_of_the_chain_are_those_of_the_plan(problem):
    """None is counted twice, and the last lift is one of them."""
    plan = planned(problem)
    assert sum(why_so_long(problem, plan).minutes_by_resource().values()) == (
        plan.finish_min
    )
    assert f" the {plan.finish_min} min " in limit_of_the_day(problem, plan)


def test_what_drips_until_an_hour_is_no_matter_of_hands():
    """Juice that is ready at 10:00 holds the day for two hours, and nobody else."""
    drips = Window(step="wash_jars", earliest_min=120, why="plum juice is ready")
    problem = day(jelly(windows=(drips,)))
    plan = planned(problem)
    chain = why_so_long(problem, plan)
    assert chain.minutes_by_resource()["ready", ""] == 120
    said = limit_of_the_day(problem, plan)
    assert said.startswith(
        "In this plan what is not ready sooner holds the end of the day, not the pots "
        f"or the canners: 120 of the {plan.finish_min} min"
    )
    late = day(jelly(), people=(person("Ada", arrives_min=45),))
    assert (
        why_so_long(late, planned(late)).minutes_by_resource()["arrival", "Ada"] == 45
    )


def test_a_chain_that_steps_forward_counts_no_minute_twice():
    """Back to 44, forward to 50, back to 3: from 44 on they are Tilda's."""

    def link(start, held_by, resource=""):
        return Because(
            what="", batch="", start_min=start, held_by=held_by, resource=resource,
            sentence="", spare_min=0,
        )  # fmt: skip

    chain = (
        link(54, "pot", "enamel pot"),
        link(44, "limit"),
        link(50, "person", "Tilda"),
        link(3, "day"),
    )
    found = Why(asked="", start_min=54, end_min=58, chain=chain)
    assert found.minutes_by_resource() == {
        ("link", ""): 4,
        ("pot", "enamel pot"): 10,
        ("person", "Tilda"): 44,
    }


def test_a_late_comer_is_named():
    problem = day(jelly(), people=(person("Ada", arrives_min=45),))
    plan = planned(problem)
    last = why_so_long(problem, plan).chain[-1]
    assert last.held_by == "arrival"
    assert "Ada arrives" in last.sentence


def test_a_break_is_named():
    rest = Break(duration_min=60, earliest_min=0, latest_start_min=0)
    problem = day(jelly(), people=(person("Ada", breaks=(rest,)),))
    plan = planned(problem)
    found = why(problem, plan, "jelly-1/wash_jars")
    assert found.chain[0].held_by == "break"
    assert "Ada rests until" in found.chain[0].sentence


def test_jars_are_heated_no_earlier_than_they_may_stand():
    """45 minutes after heating at most: what fills them holds the heating back."""
    rest = Break(duration_min=120, earliest_min=9, latest_start_min=9)
    problem = day(jelly(), people=(person("Ada", breaks=(rest,)),))
    plan = planned(problem)
    found = why(problem, plan, "jelly-1/heat_jars")
    assert "break" in kinds(found) or "limit" in kinds(found)


def test_jars_of_the_day_before_are_named_where_their_places_are_waited_for():
    """Room for two batches, one of them taken until minute 200."""
    plain = day(jelly("jelly-1"), jelly("jelly-2"))
    each = plain.batches[0].jars
    full = Counter(places=2 * each, cooling_min=1440, taken=((each, 200),))
    problem = replace(plain, counter=full)
    plan = planned(problem)
    last = max(plan.loads, key=lambda load: load.out_min)
    assert last.out_min == 200
    (waits,) = (b for b in why_so_long(problem, plan).chain if b.held_by == "counter")
    assert waits.sentence.startswith("the jars of the day before leave the counter at ")
    assert limit_of_the_day(problem, plan).startswith("In this plan the counter holds")


def test_each_step_of_a_plan_has_a_chain_that_ends():
    problem = day(jelly("jelly-1"), jelly("jelly-2"), butter(), people=2)
    plan = planned(problem)
    for s in plan.steps:
        found = why(problem, plan, f"{s.batch}/{s.step}")
        assert found.start_min == s.start_min
        assert found.chain[-1].held_by in ("day", "arrival")
        minutes = [link.start_min for link in found.chain]
        for link, before in zip(found.chain, minutes[1:], strict=False):
            # only a longest wait, or a step that follows at once, holds from behind
            assert (
                before <= link.start_min
                or link.held_by == "limit"
                or "without a wait" in link.sentence
            )
    for load in plan.loads:
        assert why(problem, plan, load.id).chain


def test_what_waits_for_another_begins_earlier_only_with_it():
    """A day that nobody begins in its first ten minutes; all of it could be sooner."""
    problem = day(jelly())
    plan = planned(problem).moved(10)
    heated = why(problem, plan, "jelly-1/heat_jars").chain[0]
    washed = next(s for s in plan.steps if s.step == "wash_jars")
    apart = heated.start_min - washed.end_min
    together = washed.start_min + apart

    def said(later: int) -> str:
        steps = tuple(
            replace(s, start_min=s.start_min + later, end_min=s.end_min + later)
            if s is washed
            else s
            for s in plan.steps
        )
        found = why(problem, replace(plan, steps=steps), "jelly-1/heat_jars").chain[0]
        assert found.spare_min == together
        return found.sentence.partition("; ")[2]

    moved = "with all that it waits for moved up too"
    assert said(apart) == f"{moved}, it could begin {together} min earlier"
    one = said(apart - 1)
    assert one == f"it could begin 1 min earlier, and {together} {moved}"
    assert said(-washed.start_min) == f"it could begin {together} min earlier"


def earlier(plan, keys, by):
    """The same plan with some steps begun so many minutes earlier."""
    moved = (
        replace(s, start_min=s.start_min - by, end_min=s.end_min - by)
        if (s.batch, s.step) in keys
        else s
        for s in plan.steps
    )
    return replace(plan, steps=tuple(moved))


def test_whoever_has_a_quarter_to_give_holds_nothing_that_takes_one():
    """Washing jars takes three quarters of p1; the sugar one, and is begun after it."""
    one = jelly()
    steps = tuple(
        replace(s, attention_quarters=1) if s.id == "measure_sugar" else s
        for s in one.steps
    )
    problem = day(replace(one, steps=steps))
    plan = planned(problem).moved(5)
    washed = next(s for s in plan.steps if s.step == "wash_jars")
    sugar = next(s for s in plan.steps if s.step == "measure_sugar")
    after = earlier(plan, {("jelly-1", "measure_sugar")}, sugar.start_min - 10)
    after = earlier(after, {("jelly-1", "wash_jars")}, washed.start_min - 5)
    assert violations(problem, after) == ()
    found = why(problem, after, "jelly-1/measure_sugar").chain[0]
    assert (found.start_min, found.held_by) == (10, "day")
    assert found.spare_min == 10
    sooner = earlier(after, {("jelly-1", "measure_sugar")}, found.spare_min)
    assert violations(problem, sooner) == ()
    # with two quarters she has none to give, and the washing is what holds it
    steps = tuple(
        replace(s, attention_quarters=2) if s.id == "measure_sugar" else s
        for s in one.steps
    )
    held = why(
        day(replace(one, steps=steps)), two_quarters(after), "jelly-1/measure_sugar"
    )
    assert (held.chain[0].held_by, held.chain[0].resource) == ("person", "p1")


def two_quarters(plan):
    return replace(
        plan,
        steps=tuple(
            replace(s, quarters=2) if s.step == "measure_sugar" else s
            for s in plan.steps
        ),
    )


def test_what_could_begin_earlier_alone_breaks_no_rule_there():
    problem = day(jelly("jelly-1"), jelly("jelly-2"), butter(), people=2)
    plan = planned(problem).moved(7)
    walk, found = Walk(problem, plan), 0
    for group, members in enumerate(walk.net.members):
        nodes = [walk.net.nodes[m] for m in members]
        by = walk.alone_min(group)
        if by and all(node.part is Part.STEP for node in nodes):
            keys = {(node.of, node.step) for node in nodes}
            assert violations(problem, earlier(plan, keys, by)) == ()
            found += 1
    assert found


def test_what_is_not_in_the_plan_is_refused_with_the_nearest_name():
    problem = day(jelly())
    plan = planned(problem)
    with pytest.raises(Unreadable, match=r'did you mean "jelly-1/skim"'):
        why(problem, plan, "jelly-1/skimm")
    with pytest.raises(Unreadable, match="nothing called"):
        why(problem, plan, "")


def test_capital_letters_make_no_difference_to_what_is_asked():
    problem = day(jelly("plum jelly 1"))
    plan = planned(problem)
    for asked, like in (
        ("PLUM JELLY 1/SKIM", "plum jelly 1/skim"),
        ("Plum jelly 1", "plum jelly 1"),
        ("Load 1", "load 1"),
    ):
        said, plainly = why(problem, plan, asked), why(problem, plan, like)
        assert said.chain == plainly.chain


def test_of_a_batch_that_there_is_its_own_steps_are_named():
    problem = day(jelly(), butter())
    plan = planned(problem)
    with pytest.raises(Unreadable) as fault:
        why(problem, plan, "jelly-1/zz")
    said = str(fault.value)
    assert 'jelly-1 has no step "zz". Say it as the plan prints it, or by its ' in said
    assert "name. Its steps, in their order: " in said
    named = said.partition("order: ")[2].split(", ")
    assert set(named) == {s.id for s in problem.batches[0].steps}
    begins = [start(plan, "jelly-1", step) for step in named]
    assert begins == sorted(begins)
    assert "butter" not in said


def test_a_step_is_asked_for_by_the_words_that_the_plan_prints():
    batch = jelly()
    verbs = {"fill": "Fill 8 half-pint jars", "lid": "Wipe 8 rims, lids on"}
    steps = tuple(replace(s, verb=verbs.get(s.id, s.verb)) for s in batch.steps)
    problem = day(replace(batch, steps=steps))
    plan = planned(problem)
    for name, said in (("fill", "Fill 8 half-pint jars"), ("lid", "wipe rims")):
        assert (
            why(problem, plan, f"jelly-1/{said}").chain
            == why(problem, plan, f"jelly-1/{name}").chain
        )


def start(plan, batch, step):
    return next(s.start_min for s in plan.steps if (s.batch, s.step) == (batch, step))


def test_a_little_that_is_waited_for_does_not_hold_a_day_of_own_steps():
    """Three hours in salt and 5 min until Ada came: hands were said to hold the day."""
    salted = work("a", step("salt", 5, 3), step("stand", 180, 0))
    stands = replace(salted, links=(Link(before="salt", after="stand"),))
    problem = day(stands, people=(person("Ada", arrives_min=5),))
    said = limit_of_the_day(problem, planned(problem))
    assert said == (
        "In this plan 185 of the 190 min on its longest chain are the last batches' "
        "own steps; beside them hands hold the end of the day, not the pots or the "
        "canners: 5 min (Ada 5); the canners 0, the fires 0, the pots 0."
    )
