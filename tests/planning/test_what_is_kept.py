"""Which batches are kept of a day that is too small, step by step."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from types import SimpleNamespace

import pytest

from stillroom.planning import what_fits
from stillroom.planning.answering import BrokenPlan
from stillroom.planning.cpsat.search import TOO_SLOW
from stillroom.planning.cpsat.solve import Search
from stillroom.planning.cpsat.which_batches import Which
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Counter, Problem
from stillroom.planning.timetable import Answer, Timetable
from stillroom.planning.ways.held_plan import KnownPlan, PlanOfSome, only
from tests.planning.small_days import butter, day, jelly

# jars of jelly come in eights, of butter in sevens
DAY = day(jelly("jelly-1"), jelly("jelly-2"), butter(), people=2)
ORDER = ["butter-1", "jelly-1", "jelly-2"]
SEARCH = Search(0.0, 2, 1, True, 1.0)


def hand(*names: str, of: Problem = DAY) -> Timetable:
    plan = by_hand(only(of, names))
    assert plan is not None
    return plan


def held(*names: str) -> PlanOfSome:
    return PlanOfSome(kept=names, plan=hand(*names))


def broken(plan: Timetable) -> Timetable:
    """It ends sooner: nothing is canned."""
    return replace(plan, loads=())


# --- a set to begin with -----------------------------------------------------------


def test_a_set_is_taken_for_what_is_missed_more_but_not_with_fewer_jars():
    second, first = held("jelly-2"), held("jelly-1")
    assert what_fits._best(DAY, second, [first], ORDER, 8) == first
    assert what_fits._best(DAY, second, [held("butter-1")], ORDER, 8) == second
    assert what_fits._best(DAY, None, [second, held("butter-1")], ORDER, 0) == held(
        "butter-1"
    )


def test_what_does_not_fit_by_hand_is_passed_over_and_the_next_is_tried():
    """The counter has room for sixteen jars: a jelly and a butter are fifteen."""
    small = replace(DAY, counter=Counter(places=16, cooling_min=1440))
    order = ["jelly-1", "butter-1", "jelly-2"]
    kept, plan = what_fits._by_hand(small, order, deterministic=True)
    assert kept == ["jelly-1", "butter-1"]
    assert plan is not None
    assert violations(only(small, kept), plan) == ()
    fewer = replace(DAY, counter=Counter(places=15, cooling_min=1440))
    order = ["jelly-1", "jelly-2", "butter-1"]
    kept, _ = what_fits._by_hand(fewer, order, deterministic=True)
    assert kept == ["jelly-1", "butter-1"]


@pytest.mark.parametrize("fitting", [0, 1, 2, 3, 5, 6])
def test_the_first_so_many_that_fit_are_found_by_halves(monkeypatch, fitting):
    """Of seven; what is placed and breaks a rule does not fit."""
    order = [f"jelly-{n}" for n in range(7)]
    large = day(*(jelly(name) for name in order), people=4, horizon_min=960)
    tried: list[int] = []

    def how_soon(problem: Problem, *_: object) -> SimpleNamespace:
        tried.append(len(problem.batches))
        plan = hand(*(b.id for b in problem.batches), of=large)
        fits = len(problem.batches) <= fitting
        return SimpleNamespace(plan=plan if fits else broken(plan))

    monkeypatch.setattr(what_fits, "how_soon", how_soon)
    at = SimpleNamespace(is_over=lambda: False)
    found = what_fits._first_so_many(large, order, hand("jelly-1"), at)  # type: ignore[arg-type]
    assert ([] if found is None else [*found.kept]) == order[:fitting]
    assert len(tried) <= 3


def test_what_is_put_into_a_plan_and_breaks_a_rule_is_not_in_it(monkeypatch):
    begun = held("butter-1")
    monkeypatch.setattr(
        what_fits,
        "with_the_others",
        lambda day, plan, names: (
            broken(hand("butter-1", *names))
            if names == ["jelly-1"]
            else hand("butter-1", *names)
        ),
    )
    found = what_fits._with_more(DAY, begun, ORDER)
    assert found.kept == ("butter-1", "jelly-2")
    assert violations(only(DAY, found.kept), found.plan) == ()


# --- the choice --------------------------------------------------------------------


def test_of_one_set_that_plan_is_gone_on_from_which_ends_sooner():
    start = held("jelly-1")
    slower = Which(
        kept=start.kept, timetable=start.plan.moved(1), proven_out=frozenset()
    )
    assert what_fits._or_begun_with(DAY, slower, start, ORDER).timetable == start.plan
    sooner = replace(slower, timetable=start.plan)
    late = replace(start, plan=start.plan.moved(1))
    assert what_fits._or_begun_with(DAY, sooner, late, ORDER) == sooner
    # a set that is missed more is not given up for the sooner end of another
    more = Which(kept=("butter-1",), timetable=hand("butter-1"), proven_out=frozenset())
    assert what_fits._or_begun_with(DAY, more, start, ORDER) == more


def test_a_set_whose_plan_breaks_a_rule_is_a_mistake_of_ours():
    bad = Which(
        kept=("jelly-1",), timetable=broken(hand("jelly-1")), proven_out=frozenset()
    )
    with pytest.raises(BrokenPlan):
        what_fits._judged(DAY, bad)


# --- what has no room -----------------------------------------------------------------


def no_room(monkeypatch, which: Which, *, least: int, smeared: bool = False):
    monkeypatch.setattr(what_fits, "lower_bound_min", lambda _: 0)
    monkeypatch.setattr(what_fits, "window_bound_min", lambda *_: least)
    looked: list[str] = []

    def bound(trial: Problem) -> SimpleNamespace:
        looked.extend(b.id for b in trial.batches if b.id not in which.kept)
        return SimpleNamespace(cannot_end_by=lambda *_, **__: smeared)

    monkeypatch.setattr(what_fits, "smeared", bound)
    return what_fits._no_room(DAY, ORDER, which, SEARCH), looked


def test_what_could_end_with_the_day_is_not_proven_to_have_no_room(monkeypatch):
    which = Which(
        kept=("butter-1",), timetable=hand("butter-1"), proven_out=frozenset()
    )
    found, looked = no_room(monkeypatch, which, least=DAY.horizon_min)
    assert found == frozenset()
    assert looked == ["jelly-1", "jelly-2"]
    found, looked = no_room(monkeypatch, which, least=DAY.horizon_min + 1)
    assert found == {"jelly-1", "jelly-2"}
    assert looked == []


def test_a_batch_like_one_without_room_has_none_and_another_is_looked_at(monkeypatch):
    which = Which(kept=(), timetable=hand("jelly-1"), proven_out=frozenset({"jelly-2"}))
    found, looked = no_room(monkeypatch, which, least=0)
    assert found == {"jelly-1", "jelly-2"}
    assert looked == ["butter-1"]


def test_what_is_kept_after_all_is_not_said_to_have_no_room(monkeypatch):
    """A better set was known: what the solver ruled out for another one is in it."""
    which = Which(
        kept=("jelly-1",),
        timetable=hand("jelly-1"),
        proven_out=frozenset({"jelly-1", "butter-1"}),
    )
    found, _ = no_room(monkeypatch, which, least=0)
    assert found == {"butter-1"}


# --- one more ------------------------------------------------------------------------


def test_one_more_may_end_after_the_hour_she_would_be_done_by(monkeypatch):
    """Put behind the others it does; the search then has to move it up."""
    early = replace(DAY, done_by_min=60)
    opened: list[Problem] = []

    def behind(day: Problem, plan: Timetable, names: list[str]) -> None:
        opened.append(day)

    monkeypatch.setattr(what_fits, "with_the_others", behind)
    found = what_fits._one_more(early, hand("jelly-1"), "jelly-2", None, 1.0)  # type: ignore[arg-type]
    assert found is None
    assert opened[0].done_by_min is None
    assert opened[0].wants == ()
    assert opened[0].horizon_min > early.horizon_min


def test_one_more_that_is_not_moved_up_in_time_is_not_taken(monkeypatch):
    two = only(DAY, ("jelly-1", "jelly-2"))
    bad = broken(hand("jelly-1", "jelly-2"))
    monkeypatch.setattr(what_fits, "with_the_others", lambda *_: bad)
    shares: list[float] = []

    def planned(day: Problem, plan: Timetable, share: float) -> SimpleNamespace:
        shares.append(share)
        return SimpleNamespace(timetable=bad)

    assert what_fits._one_more(two, hand("jelly-1"), "jelly-2", planned, 1.0) is None  # type: ignore[arg-type]
    assert shares == [what_fits.SHARE_OF_OPEN_END]


def test_more_is_tried_on_a_large_day_alone(monkeypatch):
    """A small one is searched as a whole: that nothing more fits is known."""
    tried: list[str] = []

    def one_more(day: Problem, plan: Timetable, name: str, *_: object) -> None:
        tried.append(name)

    monkeypatch.setattr(what_fits, "_one_more", one_more)
    answer = SimpleNamespace(timetable=hand("butter-1"))
    for small, names in ((True, []), (False, ["jelly-1"])):
        tried.clear()
        monkeypatch.setattr(what_fits, "is_small", lambda _, small=small: small)
        kept, _ = what_fits._with_one_more(
            DAY,
            ORDER,
            ("butter-1",),
            answer,  # type: ignore[arg-type]
            ["jelly-1", "jelly-2"],
            None,  # type: ignore[arg-type]
        )
        assert kept == ("butter-1",)
        assert tried == names


# --- all of it ----------------------------------------------------------------------


@dataclass
class Went:
    """What was asked of each part."""

    at_least: list[int] = field(default_factory=list)
    started: list[str] = field(default_factory=list)
    out: list[str] = field(default_factory=list)


@pytest.fixture
def went(monkeypatch: pytest.MonkeyPatch) -> Went:
    """The set is the butter; the second jelly is proven to have no room."""
    found = Went()

    def starts(*_: object) -> list[PlanOfSome]:
        found.started.append("by hand")
        return []

    def which(*_: object, at_least_jars: int, **__: object) -> Which:
        found.at_least.append(at_least_jars)
        return Which(
            kept=("butter-1",), timetable=hand("butter-1"), proven_out=frozenset()
        )

    def one_more(
        problem: Problem,
        order: list[str],
        kept: tuple[str, ...],
        answer: Answer,
        out: list[str],
        _: object,
    ) -> tuple[tuple[str, ...], Answer]:
        found.out += out
        return kept, answer

    monkeypatch.setattr(what_fits, "_starts", starts)
    monkeypatch.setattr(what_fits, "which_batches", which)
    monkeypatch.setattr(what_fits, "_no_room", lambda *_: frozenset({"jelly-2"}))
    monkeypatch.setattr(what_fits, "_with_one_more", one_more)
    return found


def test_what_is_left_out_is_told_as_it_is_missed_and_the_proven_not_tried(went):
    order = ["jelly-2", "butter-1", "jelly-1"]
    fits = what_fits.what_fits(DAY, order, seconds=1.0)
    assert fits is not None
    assert fits.left_out == ("jelly-2", "jelly-1")
    assert went.out == ["jelly-1"]
    assert fits.answer.remarks == ()  # nothing was cut short


def test_no_set_has_fewer_jars_than_the_plan_at_hand(went):
    """And what that leaves out is looked for by hand as well."""
    known = KnownPlan(starts_at=DAY.starts_at, plan=hand("jelly-1", "jelly-2"))
    what_fits.what_fits(DAY, ORDER, seconds=1.0, begin_with=[known])
    assert went.at_least == [16]
    assert went.started == ["by hand"]
    what_fits.what_fits(DAY, ORDER, seconds=1.0)
    assert went.at_least == [16, 0]


def test_where_a_slow_computer_cut_the_choice_that_is_said_with_all_else(
    went, monkeypatch
):
    def no_room(problem: Problem, order: object, which: object, search: Search):
        search.cut.happened = True
        return frozenset()

    monkeypatch.setattr(what_fits, "_no_room", no_room)

    def planned(day: Problem, **how: object) -> Answer:
        answer = plan_day(day, **how)  # type: ignore[arg-type]
        assert isinstance(answer, Answer)
        return replace(answer, remarks=("said before",))

    monkeypatch.setattr(what_fits, "plan_day", planned)
    fits = what_fits.what_fits(DAY, ORDER, seconds=1.0)
    assert fits is not None
    assert fits.answer.remarks == ("said before", TOO_SLOW)
