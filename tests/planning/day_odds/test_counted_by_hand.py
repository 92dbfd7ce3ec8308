"""What varies from day to day and what is counted, on days written out by hand."""

from __future__ import annotations

import numpy as np
import pytest
from planning.small_days import Break, canner, day, person, step
from planning.written_out import LID, at, batch, closed, labour, load

from stillroom.methods.step import Spread
from stillroom.planning.day_odds import one_more
from stillroom.planning.day_odds.broken_limits import _over_asked, broken_limits
from stillroom.planning.day_odds.forward import Days, Pass, planned_minutes, spreads_of
from stillroom.planning.day_odds.odds import odds_of
from stillroom.planning.day_odds.odds_words import rests_on
from stillroom.planning.problem import Burner, ComeUp
from stillroom.planning.timetable import PlacedBreak, Timetable
from stillroom.planning.waits.precedence import Part, precedence_of


def test_of_a_load_only_its_way_to_the_boil_varies() -> None:
    """Its process takes its published minutes on every day, and so does its rest."""
    problem = day(closed("a"), canners=(canner(come_up_spread=Spread(8, 12, 20)),))
    plan = Timetable(steps=(LID,), loads=(load(30),), breaks=())
    net = precedence_of(problem, plan)
    spreads = spreads_of(net, problem, plan)
    varies = {n.part for n, s in zip(net.nodes, spreads, strict=True) if s is not None}
    assert varies == {Part.COME_UP}


def test_a_raw_load_varies_as_raw_loads_do_and_the_other_as_ever() -> None:
    usual, raw = Spread(8, 12, 20), Spread(20, 32, 50)
    up = {"pint-10": ComeUp(minutes=32, spread=raw)}
    problem = day(
        closed("a"),
        closed("b", process="pint-10"),
        canners=(canner(come_up_spread=usual, come_up_of=up),),
    )
    loads = (load(30), load(80, id="L2", process="pint-10", jars=(("b", 5),)))
    plan = Timetable(steps=(LID, at("b", "lid", 5, 10)), loads=loads, breaks=())
    net = precedence_of(problem, plan)
    spreads = spreads_of(net, problem, plan)
    of = {
        n.of: s
        for n, s in zip(net.nodes, spreads, strict=True)
        if n.part is Part.COME_UP
    }
    assert of == {"L1": usual, "L2": raw}
    assert rests_on(problem, plan, "L1", str(Part.COME_UP)).endswith("8 to 20 min")
    assert rests_on(problem, plan, "L2", str(Part.COME_UP)).endswith("20 to 50 min")


@pytest.mark.parametrize(("quarters", "minutes"), [(3, 20.0), (4, 0.0)])
def test_who_minds_a_baby_is_asked_for_too_much_sooner(
    quarters: int, minutes: float
) -> None:
    """Twice two quarters at once, for twenty minutes."""
    problem = day(
        *(batch(name, labour(20, quarters=2)) for name in "ab"),
        people=(person("p1", quarters=quarters),),
    )
    both = tuple(at(name, "do", 0, 20, "p1", quarters=2) for name in "ab")
    net = precedence_of(problem, Timetable(steps=both, loads=(), breaks=()))
    days = Days(np.zeros((2, 1)), np.full((2, 1), 20.0), np.full(1, 20.0))
    assert _over_asked(net, problem, days) == minutes


def test_who_leaves_and_who_rests_is_counted_by_their_own_hours() -> None:
    """Ada goes at 25 and works until 30; Ben rests by 40, and does at 50."""
    rest = Break(duration_min=10, earliest_min=30, latest_start_min=40)
    problem = day(
        *(batch(name, labour(20)) for name in "ab"),
        people=(person("Ada", leaves_min=25), person("Ben", breaks=(rest,))),
    )
    plan = Timetable(
        steps=(at("a", "do", 0, 20, "Ada"), at("b", "do", 0, 20, "Ben")),
        loads=(),
        breaks=(PlacedBreak(person="Ben", start_min=30, end_min=40),),
    )
    net = precedence_of(problem, plan)
    where = {(n.person, n.part): at for at, n in enumerate(net.nodes)}
    end = np.array([[float(n.end_min)] for n in net.nodes])
    start = np.array([[float(n.start_min)] for n in net.nodes])
    end[where["Ada", Part.STEP]] = 30.0
    start[where["Ben", Part.BREAK]] = 50.0
    found, over_asked = broken_limits(net, problem, plan, Days(start, end, end.max(0)))
    assert {(one.kind, one.over_min) for one in found} == {
        ("Ada leaves in time", 5.0),
        ("the hour by which Ben rests", 10.0),
    }
    assert over_asked == 0.0
    rest, _ = broken_limits(
        net, problem, plan, Days(start, end, end.max(0)), since_min=25
    )
    assert [one.kind for one in rest] == ["the hour by which Ben rests"]


def test_a_pot_that_boils_on_into_an_hour_of_others_is_counted() -> None:
    """Planned until 20, boils until 27, and the burner is somebody else's from 22."""
    supper = Burner(id="left", power_w=1000.0, taken=((22, 40),))
    boils = batch("a", step("boil", 20, 0, burner_w=900.0))
    problem = day(boils, burners=(supper,))
    boil = at("a", "boil", 0, 20, burner="left")
    plan = Timetable(steps=(boil,), loads=(), breaks=())
    net = precedence_of(problem, plan)
    (n,) = (n for n, node in enumerate(net.nodes) if node.part is Part.STEP)
    minutes = planned_minutes(net)
    on_time = Pass(net).forward(minutes)
    assert broken_limits(net, problem, plan, on_time) == ((), 0.0)
    assert on_time.finish == [20.0]  # the hour of others is no work of ours
    minutes[n] = 27.0
    (found,), _ = broken_limits(net, problem, plan, Pass(net).forward(minutes))
    assert found.kind == "the hour from which the burner left is taken"
    assert (found.over_min, found.share_of_days) == (5.0, 1.0)


def test_what_comes_after_an_hour_of_others_does_not_come_before_it() -> None:
    """On the burner at 40, when it is ours again, however soon the one before ends."""
    supper = Burner(id="left", power_w=1000.0, taken=((22, 40),))
    boils = (batch(name, step("boil", 20, 0, burner_w=900.0)) for name in "ab")
    problem = day(*boils, burners=(supper,))
    two = (at(n, "boil", m, m + 20, burner="left") for n, m in (("a", 0), ("b", 40)))
    net = precedence_of(problem, Timetable(steps=tuple(two), loads=(), breaks=()))
    minutes = planned_minutes(net)
    minutes[net.number["a", "boil"]] = 5.0
    assert Pass(net).forward(minutes).start[net.number["b", "boil"]] == [40.0]
    minutes[net.number["a", "boil"]] = 30.0  # supper is put off by 8, and so is b
    assert Pass(net).forward(minutes).start[net.number["b", "boil"]] == [48.0]


def test_a_wait_that_is_past_when_the_rest_is_planned_again_is_told_no_more() -> None:
    """Jars that stood too long before they went in were "on 100 of 100 days" ahead."""
    plan = Timetable(steps=(LID,), loads=(load(LID.end_min + 30),), breaks=())
    problem = day(closed("a"))
    waits = "closed jars wait at most 20 min"
    for since, told in ((LID.end_min + 30, [waits]), (LID.end_min + 31, [])):
        found = odds_of(problem, plan, days=200, since_min=since).broken
        assert [one.kind for one in found if "wait" in one.kind] == told


def test_what_mere_searching_gains_is_no_gain_of_one_thing_more(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Each search ends the day ten minutes sooner than what it begins with."""
    monkeypatch.setattr(one_more, "_searched", lambda _, start, *__: start.moved(-10))
    plan = Timetable(steps=(at("a", "do", 80, 100, "p1"),), loads=(), breaks=())
    found = one_more.worth_of_one_more(day(batch("a", labour(20))), plan, seconds=0.0)
    assert {(m.finish_min, m.earlier_min, m.against_min) for m in found} == {
        (80, 10, 90)
    }
