"""Which batch to leave out where a promise would be broken, and which breaks one."""

from dataclasses import replace

import pytest

from stillroom.cli.replan_text import offers_as_json, print_offers
from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.changes import Changes, with_changes
from stillroom.planning.daytime import said_minutes
from stillroom.planning.happened import Happened
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Want
from stillroom.planning.second_thoughts import leave_out
from stillroom.planning.second_thoughts.leave_out import offers
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.second_thoughts.replan_changed import replan_changed
from stillroom.planning.second_thoughts.take_in import has_room
from stillroom.planning.timetable import Answer, Timetable
from tests.planning.judged_again import judged
from tests.planning.small_days import day, jelly, person, step, work
from tests.planning.written_out import at


def small(name, product):
    return jelly(name, product=product)


BEGINS = {
    "plum 1": (14, 4, 18, 18, 30, 37, 38, 41, 46, 59),
    "quince 1": (55, 9, 48, 69, 81, 88, 89, 92, 97, 105),
    "rose 1": (0, 50, 85, 115, 127, 134, 135, 138, 143, 155),
}
IN_TURN = "measure_sugar wash_jars heat_jars boil full_boil hard_boil skim fill lid"
STEPS = (*IN_TURN.split(), "wash_pot")
LOADS = {  # heated, lowered, lifted, fire free
    "plum 1": (35, 65, 101, 111),
    "quince 1": (111, 111, 147, 151),
    "rose 1": (151, 151, 182, 177),
}


def one_after_another(problem):
    """The first pot is washed at 59. Of plans that end at once a search finds any."""
    answer = plan_day(problem, seconds=1, deterministic=True)
    assert isinstance(answer, Answer)
    begins = {
        (batch, step): start
        for batch, starts in BEGINS.items()
        for step, start in zip(STEPS, starts, strict=True)
    }
    steps = [
        replace(s, start_min=start, end_min=start + s.end_min - s.start_min)
        for s in answer.timetable.steps
        for start in (begins[s.batch, s.step],)
    ]
    loads = [
        replace(
            load,
            jars=((batch, 8),),
            heat_min=heat,
            lower_min=lower,
            lowered_min=lower + 4,
            boil_min=lower + 16,
            done_min=lower + 26,
            lift_min=lift,
            out_min=lift + 4,
            fire_free_min=fire_free,
        )
        for load, (batch, (heat, lower, lift, fire_free)) in zip(
            answer.timetable.loads, LOADS.items(), strict=True
        )
    ]
    plan = replace(
        answer.timetable,
        steps=tuple(sorted(steps, key=lambda s: s.start_min)),
        loads=tuple(loads),
    )
    assert violations(problem, plan) == ()
    assert plan.finish_min == answer.timetable.finish_min
    return plan


@pytest.fixture(scope="module")
def slipped():
    """Three jellies in one pot by one pair of hands; the last one is promised."""
    problem = day(
        small("plum 1", "plum"), small("quince 1", "quince"), small("rose 1", "rose")
    )
    plan = one_after_another(problem)
    out = {b: load.out_min for load in plan.loads for b, _ in load.jars}
    last = max(out, key=lambda name: (out[name], name))
    product = next(b.product for b in problem.batches if b.id == last)
    wanted = (Want(product=product, by_min=plan.finish_min + 10),)
    return replace(problem, wants=wanted), plan, last, product


@pytest.fixture(scope="module")
def again(slipped):
    """The first one takes half an hour longer, and 10 minutes are to spare."""
    problem, plan, _, _ = slipped
    running = next(s for s in plan.steps if s.start_min <= 59 < s.end_min and s.person)
    slow = {(running.batch, running.step): 30}
    happened = as_planned(problem, plan, 60, late_min=slow)
    found = replan(problem, plan, happened, seconds=1.5)
    tried = offers(problem, plan, happened, found, Changes(), seconds=6.0)
    return happened, found, tried


def test_an_offer_that_lets_a_promise_be_kept_comes_first_and_says_so(slipped, again):
    *_, last, product = slipped
    _, found, tried = again
    assert any(p.is_later for p in found.promises)
    first = tried[0]
    assert first.batch != last
    assert any(
        said.startswith(f"{product} is there by ") for said in first.promises_said
    )
    (promise,) = first.found.promises
    assert promise.is_late_min == 0
    assert judged(first.found) == ()


def test_an_offer_is_told_against_the_end_that_was_said_in_the_morning(slipped, again):
    _, plan, *_ = slipped
    _, found, tried = again
    assert found.later_min > 0
    for offer in tried:
        assert offer.found.later_min == offer.finish_min - plan.finish_min


def test_an_offer_tells_of_no_old_order(again):
    """What it begins with was found, and is nobody's order of the morning."""
    _, found, tried = again
    assert found.old_order is not None
    assert all(offer.found.old_order is None for offer in tried)


def test_the_terminal_and_a_program_are_told_the_same(again, capsys):
    tried = again[-1]
    print_offers(tried, "08:00")
    told = " ".join(capsys.readouterr().out.split())
    for offer, said in zip(tried, offers_as_json(tried), strict=True):
        assert said["promises"] == list(offer.promises_said)
        assert offer.promises_said[0] in told


def test_leaving_out_what_was_promised_comes_last_and_says_that_it_is_not_made(
    slipped, again
):
    *_, last, product = slipped
    tried = again[-1]
    assert [offer.batch for offer in tried][-1] == last
    (said,) = tried[-1].promises_said
    assert said.startswith(f"{product}, wanted by ")
    assert said.endswith(" is not made")


def test_what_was_promised_comes_last_also_where_it_would_save_the_most(
    slipped, again, monkeypatch
):
    problem, plan, last, _ = slipped
    happened, found, _ = again

    def worth(one):
        return (90 if one is found else 0 if one.not_made else 1), 0

    monkeypatch.setattr(leave_out, "_worth", worth)
    tried = offers(problem, plan, happened, found, Changes(), seconds=3.0)
    assert len(tried) > 1
    assert [offer.batch for offer in tried].index(last) == len(tried) - 1


@pytest.mark.parametrize(("brings", "offered"), [(29, False), (30, True)])
def test_what_was_promised_is_not_offered_for_a_few_minutes(
    slipped, again, monkeypatch, brings, offered
):
    problem, plan, last, _ = slipped
    happened, found, _ = again

    def worth(one):
        return (90 if one is found else 90 - brings), 0

    monkeypatch.setattr(leave_out, "_worth", worth)
    tried = offers(problem, plan, happened, found, Changes(), seconds=3.0)
    assert (last in [offer.batch for offer in tried]) == offered
    assert len(tried) == 1 + offered


def test_where_no_hour_is_lost_only_a_promise_is_a_reason(slipped):
    """A day that goes by its plan, of which a promise was late from the first."""
    problem, plan, last, product = slipped
    for by_min in (plan.finish_min - 5, 5):
        wanted = replace(problem, wants=(Want(product=product, by_min=by_min),))
        happened = as_planned(wanted, plan, 2)
        calm = replace(replan(wanted, plan, happened, seconds=1.0), new=plan)
        assert calm.later_min == 0
        for offer in offers(wanted, plan, happened, calm, Changes(), seconds=3.0):
            (promise,) = offer.found.promises
            assert promise.is_late_min < calm.promises[0].is_late_min
            assert offer.batch != last


def test_a_promised_batch_that_is_left_out_is_said_in_the_first_sentence(slipped):
    problem, plan, last, product = slipped
    happened = as_planned(problem, plan, 2)
    for dropped in {b.id for b in problem.batches} - {last}:
        changed = with_changes(problem, plan, happened, Changes(dropped=(dropped,)))
        assert changed.not_made == ()
    changed = with_changes(problem, plan, happened, Changes(dropped=(last,)))
    found = replan_changed(changed, happened, seconds=1.0, promised_min=plan.finish_min)
    assert f"; {product}, wanted by " in found.sentence
    assert " is not made; " in found.sentence


def test_there_is_no_room_where_a_promise_comes_later(slipped):
    problem, plan, _, product = slipped
    happened = as_planned(problem, plan, 2)
    found = replan(problem, plan, happened, seconds=1.0)
    assert has_room(found)
    slow = replace(found, old=plan, new=found.new.moved(20))
    assert [p.is_late_min for p in slow.promises] == [10]
    assert not has_room(slow)
    # of what is taken in itself late is better than not at all
    (batch,) = [b for b in problem.batches if b.product == product]
    assert has_room(slow, [type("Taken", (), {"batch": batch})])


def test_an_offer_is_measured_as_the_day_is_where_somebody_goes_too_early(slipped):
    """She goes at once and nobody else can lift: with and without, she is asked."""
    problem, plan, _, _ = slipped
    (person,) = problem.people
    happened = as_planned(problem, plan, 60)
    changes = Changes(leaves_min={person.id: 61})
    changed = with_changes(problem, plan, happened, changes)
    found = replan_changed(changed, happened, seconds=1.5, promised_min=plan.finish_min)
    assert found.longer_min[person.id] > 0
    tried = offers(problem, plan, happened, found, changes, seconds=6.0)
    assert tried
    for offer in tried:
        stays = offer.found.longer_min[person.id]
        assert 0 < stays < found.longer_min[person.id]
        assert len(offer.found.limits) <= len(found.limits)
        assert offer.limits_said.endswith(
            f", and {person.id} stays {said_minutes(stays)} longer"
        )


def test_an_absence_that_comes_to_where_another_was_is_not_moved_twice():
    """At 2:00 goes to 2:30, where another was that goes to 3:00: offers as before."""
    keeper = person("p1", away=((120, 130), (150, 160)))
    jellies = (small("plum 1", "plum"), small("quince 1", "quince"))
    problem = day(*jellies, small("rose 1", "rose"), people=(keeper,))
    answer = plan_day(problem, seconds=1, deterministic=True)
    plan = answer.timetable
    running = next(s for s in plan.steps if s.start_min <= 59 < s.end_min and s.person)
    slow = {(running.batch, running.step): 30}
    happened = as_planned(problem, plan, 60, late_min=slow)
    changes = Changes(moved_min={("p1", 120): 150, ("p1", 150): 180})
    changed = with_changes(problem, plan, happened, changes)
    found = replan_changed(changed, happened, seconds=1.5, promised_min=plan.finish_min)
    tried = offers(problem, plan, happened, found, changes, seconds=6.0)
    assert tried
    for offer in tried:
        (there,) = offer.found.problem.people
        assert there.away == ((150, 160), (180, 190))


def test_a_day_without_a_batch_begins_with_the_day_that_was_found(slipped, monkeypatch):
    """So it is never worse than that one, less the batch."""
    problem, plan, last, _ = slipped
    happened = as_planned(problem, plan, 60)
    found = replan(problem, plan, happened, seconds=1.5)
    given = []

    def seen(changed, happened, **more):
        given.append(more["begin"])
        return replan_changed(changed, happened, **more)

    monkeypatch.setattr(leave_out, "replan_changed", seen)
    monkeypatch.setattr(leave_out, "_to_be_tried", lambda *_: [last])
    offers(problem, plan, happened, found, Changes(), seconds=2.0)
    (begin,) = given
    begun = happened.begun
    assert begin.steps == tuple(
        s for s in found.new.steps if s.batch != last or (s.batch, s.step) in begun
    )


def test_the_last_is_tried_that_is_begun_before_all_late_goods_are_there():
    """The first are there at 10, all of them at 90; what begins at 100 is no help."""
    begins = {"late 1": 0, "tea 1": 30, "tea 2": 60, "late 2": 80, "tea 3": 100}
    made = [work(b, step("do", 10, 3), product=b.split()[0]) for b in begins]
    wants = (Want(product="late", by_min=5),)
    problem = replace(day(*made), wants=wants)
    steps = tuple(at(b, "do", m, m + 10, "p1") for b, m in begins.items())
    plan = Timetable(steps=steps, loads=(), breaks=())
    happened = Happened(now_min=0, steps=(), loads=())
    found = replace(replan(problem, plan, happened, seconds=0.5), new=plan)
    assert [p.is_late_min for p in found.promises] == [85]
    tried = leave_out._to_be_tried(problem, plan, happened, Changes(), found, wants)
    assert tried == ["tea 2", "late 2"]
