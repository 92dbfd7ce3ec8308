"""The two passes forward, and the arcs that they need not look at: (node, group)."""

from __future__ import annotations

import numpy as np
import pytest

from benchmarks.event_by_event import Happenings
from stillroom.methods.step import Spread
from stillroom.planning.day_odds.draws import TICKS_A_MINUTE, Draws
from stillroom.planning.day_odds.finishing import DAYS_AT_ONCE, Finishing
from stillroom.planning.day_odds.forward import Pass, spreads_of
from stillroom.planning.day_odds.implied import arcs_that_matter, floors_that_matter
from stillroom.planning.plan import plan_day
from stillroom.planning.timetable import Answer, Timetable
from stillroom.planning.waits.precedence import Arc, Node, Part, Precedence, Tie
from stillroom.planning.waits.precedence import precedence_of as network_of_plan
from tests.planning.day_odds.test_odds import unsure
from tests.planning.small_days import butter, day, jelly


def a_network(
    minutes: list[int], arcs: list[tuple[int, int, int]], groups: list[list[int]]
) -> Precedence:
    """Nodes by their minutes, arcs (before, after, lag), groups that move together."""
    net = Precedence()
    for n, planned in enumerate(minutes):
        net.nodes.append(
            Node(part=Part.STEP, of="b", step=str(n), start_min=0, end_min=planned)
        )
        (group,) = (g for g, members in enumerate(groups) if n in members)
        first = min(groups[group])
        net.group_of.append(group)
        net.offset.append(sum(minutes[first:n]))
    net.members = groups
    net.order = list(range(len(groups)))
    for before, after, lag in arcs:
        arc = Arc(before=before, after=after, lag_min=lag, tie=Tie.LINK, what="")
        same = net.group_of[before] == net.group_of[after]
        (net.inner if same else net.arcs).append(arc)
    return net


def test_an_arc_that_a_way_round_implies_is_left_out() -> None:
    net = a_network([5, 5, 5], [(0, 1, 0), (1, 2, 0), (0, 2, 0)], [[0], [1], [2]])
    assert arcs_that_matter(net) == {(0, 1): 0, (1, 2): 0}


def test_an_arc_that_asks_for_more_than_the_way_round_stays() -> None:
    # by way of 1 the wait is surely only 0, for 1 may take no time at all
    net = a_network([5, 5, 5], [(0, 1, 0), (1, 2, 0), (0, 2, 1)], [[0], [1], [2]])
    assert arcs_that_matter(net) == {(0, 1): 0, (1, 2): 0, (0, 2): 1}


def test_what_waits_for_the_middle_of_a_group_waits_for_its_end_first() -> None:
    # 1 and 2 follow each other without a wait; 3 waits for both: the later is enough
    arcs = [(0, 1, 0), (1, 2, 0), (1, 3, 0), (2, 3, 0)]
    net = a_network([5, 5, 5, 5], arcs, [[0], [1, 2], [3]])
    assert arcs_that_matter(net) == {(0, 1): 0, (2, 2): 0}


def test_a_group_is_held_back_for_its_later_member_by_the_planned_offset() -> None:
    # 2 begins 5 after its group: what it waits for may end 5 after the group begins
    arcs = [(0, 2, 0), (1, 2, 0)]
    net = a_network([5, 5, 5], arcs, [[0], [1, 2]])
    assert arcs_that_matter(net) == {(0, 1): -5}
    days = Pass(net).forward(np.array([[9.0], [5.0], [5.0]]))
    assert days.start[:, 0].tolist() == [0.0, 4.0, 9.0]


def test_an_hour_that_what_is_waited_for_implies_is_left_out() -> None:
    # all in the hands of who comes at minute 60; 2 also waits for the store at 90
    net = a_network([5, 5, 5], [(0, 1, 0), (1, 2, 0)], [[0], [1], [2]])
    waits = Pass(net).waits
    assert floors_that_matter(net, waits, [60.0, 60.0, 90.0]) == [60.0, None, 90.0]


def test_an_hour_is_not_implied_by_what_may_end_before_it() -> None:
    # 1 begins 30 before the end of 0 at the soonest: 60 is not known from 80 - 30
    net = a_network([5, 5], [(0, 1, -30)], [[0], [1]])
    waits = Pass(net).waits
    assert floors_that_matter(net, waits, [80.0, 60.0]) == [80.0, 60.0]
    # nor from what a member of a group takes as planned: it may take no time at all
    net = a_network([50, 5], [(0, 1, 0)], [[0], [1]])
    assert floors_that_matter(net, Pass(net).waits, [20.0, 60.0]) == [20.0, 60.0]


def test_what_ends_a_little_before_the_day_does_is_on_no_longest_path() -> None:
    # 0 then 2 take 10 + 5; 1 takes 14, a minute less; they are as long on the third day
    net = a_network([10, 14, 5], [(0, 2, 0)], [[0], [1], [2]])
    minutes = np.array([[10.0, 8.0, 10.0], [14.0, 14.0, 15.0], [5.0, 5.0, 5.0]])
    ready = Pass(net)
    held = ready.on_longest_path(ready.forward(minutes))
    assert held.tolist() == [
        [True, False, True],
        [False, True, True],
        [True, False, True],
    ]


@pytest.fixture(scope="module")
def plans() -> tuple[tuple[Precedence, Draws], ...]:
    problem = day(
        unsure(jelly("jelly-1")), unsure(jelly("jelly-2")), unsure(butter()), people=2
    )
    answer = plan_day(problem, seconds=3)
    assert isinstance(answer, Answer)

    def ready(plan: Timetable) -> tuple[Precedence, Draws]:
        net = network_of_plan(problem, plan)
        planned = [node.planned_min for node in net.nodes]
        return net, Draws(planned, spreads_of(net, problem, plan), days=300, seed=4)

    assert answer.by_hand is not None
    return ready(answer.timetable), ready(answer.by_hand)


def test_arcs_are_left_out_and_no_minute_changes(
    plans: tuple[tuple[Precedence, Draws], ...],
) -> None:
    for net, drawn in plans:
        assert len(arcs_that_matter(net)) < len(net.arcs) / 2
        minutes = drawn.all_rows()
        days = Pass(net).forward(minutes)
        events = Happenings(net)  # it looks at every arc
        for k in range(100):
            start, finish = events.run_one_day(minutes[:, k].tolist())
            assert days.start[:, k].tolist() == start
            assert days.finish[k] == finish


def test_on_the_longest_path_is_what_makes_the_day_later_by_all_of_its_own_delay(
    plans: tuple[tuple[Precedence, Draws], ...],
) -> None:
    # the share that is shown counts these days: a tick more of a step, and a tick later
    for net, drawn in plans:
        ready, minutes = Pass(net), drawn.all_rows()
        days = ready.forward(minutes)
        held = ready.on_longest_path(days)
        assert 0.0 < held.mean() < 1.0
        for n in range(len(net.nodes)):
            longer = minutes.copy()
            longer[n] += 1.0 / TICKS_A_MINUTE
            later = ready.forward(longer).finish > days.finish
            assert np.array_equal(held[n], later), net.nodes[n]


def test_the_pass_that_only_finishes_ends_at_the_same_minute(
    plans: tuple[tuple[Precedence, Draws], ...],
) -> None:
    for net, drawn in plans:
        ready, minutes = Pass(net), drawn.all_rows()
        kept = minutes.copy()
        whole = ready.forward(minutes).finish
        finishing = Finishing(ready)
        assert finishing.rooms < len(net.nodes) / 2
        assert np.array_equal(finishing.finishes(minutes), whole)
        assert np.array_equal(finishing.finishes(drawn), whole)
        assert np.array_equal(minutes, kept)


def test_more_days_than_go_at_once_are_passed_in_parts() -> None:
    net = a_network([30, 30], [(0, 1, 0)], [[0], [1]])
    days = 2 * DAYS_AT_ONCE + 7
    drawn = Draws([30, 30], [Spread(20, 30, 50), Spread(10, 30, 40)], days=days)
    minutes = drawn.all_rows()
    finishing = Finishing(Pass(net))
    assert np.array_equal(finishing.finishes(minutes), minutes[0] + minutes[1])
    assert np.array_equal(finishing.finishes(drawn), minutes[0] + minutes[1])


def test_a_day_without_work_is_over_at_once() -> None:
    net = a_network([], [], [])
    assert Finishing(Pass(net)).finishes(np.zeros((0, 3))).tolist() == [0.0] * 3
