"""Any valid day gives a plan that the checker passes, or a refusal in words."""

import datetime as dt
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from stillroom.methods.step import Skill
from stillroom.planning.day import Day, Lot, Rest, Want
from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.judge.check import violations
from stillroom.planning.sentence import first_sentence
from stillroom.planning.timetable import Answer, NoPlan
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import Refusal, granted
from tests.kitchens import ALL_SKILLS, day, juice, kitchen, person, stores


@st.composite
def small_days(draw: st.DrawFn) -> Day:
    """Days of up to four batches, one or two people, one canner."""
    second = draw(st.booleans())
    comes = draw(st.integers(8, 11))
    goes = draw(st.integers(12, 20))
    rest = draw(st.booleans())
    people = [
        person(
            "Ada",
            comes=dt.time(comes),
            goes=dt.time(goes),
            breaks=(Rest(minutes=30, earliest=dt.time(11), latest=dt.time(13)),)
            if rest and comes <= 11 and goes >= 14
            else (),
        )
    ]
    if second:
        away = ((dt.time(10), dt.time(10, 20)),) if draw(st.booleans()) else ()
        skills = ALL_SKILLS if draw(st.booleans()) else frozenset({Skill.COLD})
        people.append(person("Bo", can=skills, away=away))
    wants = [
        Want(
            product=draw(st.sampled_from(["plum jelly", "sour cherry jelly"])),
            jars=draw(st.integers(1, 16)),
            jar="half-pint",
            by=draw(st.sampled_from([None, dt.time(15)])),
        )
    ]
    if draw(st.booleans()):
        wants.append(Want(product="pear butter", jars=4, jar="pint"))
    shelf = (
        juice("plum juice", bags=draw(st.integers(1, 3))),
        juice("sour cherry juice", bags=draw(st.integers(1, 3)), bag_cups=3.5),
        Lot(name="pears", what="pears", mass_kg=draw(st.floats(0.5, 8.0))),
        *stores(),
    )
    counter = draw(st.sampled_from([6, 80]))
    return day(
        *wants,
        shelf=shelf,
        people=tuple(people),
        kitchen=kitchen(counter_places=counter),
    )


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(small_days())
def test_a_valid_day_gives_a_plan_that_holds_or_a_reason(today):
    plan = plan_the_day(today, seconds=0.6)
    assert isinstance(plan, DayPlan), plan
    if plan.answer is None:
        assert plan.unmet
        assert all(u.reason and u.instead for u in plan.unmet)
        return
    if isinstance(plan.answer, NoPlan):
        assert plan.answer.clashes
        return
    _holds(plan)


def _holds(plan: DayPlan) -> None:
    assert isinstance(plan.answer, Answer)
    assert plan.problem is not None
    table = plan.answer.timetable
    assert violations(plan.problem, table) == ()
    made = Counter({b.id: b.jars for b in plan.batches})
    canned: Counter[str] = Counter()
    processes = {b.id: b.process.total_min for b in plan.batches}
    jars = {b.id: b.jar for b in plan.batches}
    for load in table.loads:
        aboard = [batch for batch, _ in load.jars]
        assert {processes[b] for b in aboard} == {load.process_min}
        assert len({jars[b] for b in aboard}) == 1
        for batch, count in load.jars:
            canned[batch] += count
    assert canned == made  # jars in, jars out
    start = plan.day.starts
    for helper in plan.day.people:
        away = [(_minute(a, start), _minute(b, start)) for a, b in helper.away]
        for step in table.steps:
            if step.person == helper.name:
                assert step.start_min >= _minute(helper.comes, start)
                assert step.end_min <= _minute(helper.goes, start)
                for gone, back in away:
                    assert step.end_min <= gone or step.start_min >= back


def _minute(clock: dt.time, start: dt.time) -> int:
    return (clock.hour - start.hour) * 60 + clock.minute - start.minute


def test_the_demo_day_is_planned():
    """The day that ``make run`` shows."""
    plan = granted(plan_the_day(read_day(demo_day_text()), seconds=6.0))
    _holds(plan)
    assert isinstance(plan.answer, Answer)
    assert plan.answer.by_hand_min is not None
    assert plan.answer.finish_min <= plan.answer.by_hand_min
    assert plan.answer.lower_bound_min <= plan.answer.finish_min
    assert sum(b.jars for b in plan.batches) >= 60
    assert plan.shopping
    assert plan.leftovers


def test_without_air_nothing_is_said():
    today = day(kitchen=kitchen(elevation_m=None))
    answer = plan_the_day(today, seconds=0.5)
    assert isinstance(answer, Refusal)
    assert "elevation" in answer.instead


def test_a_barometer_alone_is_warned_of():
    today = day(kitchen=kitchen(elevation_m=None, pressure_pa=93_500.0))
    plan = granted(plan_the_day(today, seconds=0.5))
    assert "highest place" in plan.cautions[0].text


def test_nobody_who_can_lift_is_said_in_words():
    weak = person(can=frozenset({Skill.COLD, Skill.KNIFE, Skill.PAN}))
    none = granted(plan_the_day(day(people=(weak,)), seconds=0.5)).answer
    assert isinstance(none, NoPlan)
    assert none.clashes == ("nobody that day lifts hot jars",)
    (help_,) = none.would_help
    assert '"lift"' in help_


def test_a_child_alone_is_never_shown_at_the_pan_or_lifting():
    child = person(can=frozenset({Skill.COLD}))
    none = granted(plan_the_day(day(people=(child,)), seconds=0.5)).answer
    assert isinstance(none, NoPlan)
    assert "nobody that day stirs the hot pan and pours" in none.clashes
    assert "nobody that day lifts hot jars" in none.clashes
    like = none.plan_if
    assert like is not None
    plan = like.timetable
    skill = {(b.id, s.id): s.skill for b in like.problem.batches for s in b.steps}
    hers = {skill[s.batch, s.step] for s in plan.steps if s.person == child.name}
    assert hers == {Skill.COLD}
    handled = {who for load in plan.loads for who in (load.lowered_by, load.lifted_by)}
    assert handled == {"another grown-up"}


def test_a_date_that_has_passed_is_said():
    old = replace(juice(), use_by=dt.date(2020, 1, 1))
    plan = granted(plan_the_day(day(shelf=(old, *stores())), seconds=0.5))
    assert any("to be used by 1 January 2020" in c.text for c in plan.cautions)


def test_the_minutes_that_a_plan_gives_nobody_are_said_where_there_is_a_canner():
    """Hands lower and lift; nobody's fill the canner, light it or look for its boil."""
    plan = granted(plan_the_day(day(), seconds=0.5))
    assert isinstance(plan.answer, Answer)
    assert all(
        load.lowered_by and load.lifted_by for load in plan.answer.timetable.loads
    )
    said = "gives nobody minutes for filling a canner and lighting it"
    assert any(said in c.text for c in plan.cautions)
    berries = Lot(name="berries", what="blackberries", mass_kg=4.0)
    want = Want(product="frozen blackberries", jars=2, jar="quart")
    frozen = granted(plan_the_day(day(want, shelf=(berries, *stores())), seconds=0.5))
    assert frozen.batches
    assert not any(said in c.text for c in frozen.cautions)


def test_a_named_hour_that_is_missed_is_said():
    plan = granted(plan_the_day(day(done_by=dt.time(8, 30)), seconds=0.5))
    assert any("the hour you named" in c.text for c in plan.cautions)


@pytest.mark.parametrize("jars", [1, 8])
def test_a_second_pair_of_hands_never_makes_it_later(jars):
    want = Want(product="plum jelly", jars=jars, jar="half-pint")
    alone = granted(plan_the_day(day(want), seconds=4.0))
    helped = granted(
        plan_the_day(day(want, people=(person("Ada"), person("Bo"))), seconds=4.0)
    )
    assert isinstance(alone.answer, Answer)
    assert isinstance(helped.answer, Answer)
    assert alone.answer.proven
    assert helped.answer.finish_min <= alone.answer.finish_min


def test_lots_that_changed_places_make_the_same_batches():
    today = day()
    turned = replace(today, shelf=tuple(reversed(today.shelf)))
    one = granted(plan_the_day(today, seconds=1.0))
    other = granted(plan_the_day(turned, seconds=1.0))
    assert [b.id for b in one.batches] == [b.id for b in other.batches]


@pytest.mark.parametrize(
    "short",
    [
        "the fires and the pots are taken until then",
        "in some stretch of the day there is more to do than hands, fires and pots",
    ],
)
def test_what_no_plan_can_beat_is_said_of_any_plan(short):
    plan = granted(plan_the_day(day(), seconds=1.0))
    assert isinstance(plan.answer, Answer)
    answer = replace(
        plan.answer, proven=False, lower_bound_min=60, lower_bound_why=short
    )
    said = first_sentence(replace(plan, answer=answer))
    assert said.endswith(
        f" No plan for this kitchen can end before 9:00: {short}, whatever the plan."
    )


def test_a_bound_that_only_lateness_would_beat_says_so():
    plan = granted(plan_the_day(day(), seconds=1.0))
    assert isinstance(plan.answer, Answer)
    late = replace(plan.answer, proven=True, lateness=9, bound_unless_later=True)
    said = first_sentence(replace(plan, answer=late))
    kitchen = " No plan for this kitchen can end sooner without more being late."
    assert said.endswith(kitchen)
    pots = replace(plan, answer=late, however_divided=False)
    assert first_sentence(pots).endswith(
        kitchen.replace("for this kitchen", "of these batches")
    )
