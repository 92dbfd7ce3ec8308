"""Which divisions of a day are tried, and which of them is planned in the end."""

from __future__ import annotations

from collections.abc import Mapping
from types import SimpleNamespace

import pytest

from stillroom.planning.cpsat.solve import Search, SearchResult
from stillroom.planning.which_batches import day_divided, sizes
from stillroom.planning.which_batches.day_divided import Sizes, Trials, Way
from stillroom.planning.which_batches.divisions import Division
from stillroom.planning.which_batches.sizes import (
    AtHand,
    Sized,
    _contenders,
    _may_gain,
    _screen,
    _screened,
    _try,
    better_sizes,
)

PLAIN, MORE, FULL = (7, 7), (5, 5, 4), (9, 5)
PEARS = tuple(Division(sizes=s, why=str(s)) for s in (PLAIN, MORE, FULL))
COUNTED = Search(0.0, 2, 1, True, 100.0)


def plan(ends: int, loads: int = 2) -> SimpleNamespace:
    return SimpleNamespace(finish_min=ends, loads="x" * loads)


def problem(pots: int = 2, loads: int = 2, least: int = 0) -> SimpleNamespace:
    """A day of so many pots, with what no plan of it can do without."""
    return SimpleNamespace(
        batches="x" * pots, loads=loads, least=least, horizon_min=720, late=0
    )


def way(of: Sizes, ends: int | None, **day: int) -> Way:
    made = None if ends is None else plan(ends)
    return Way(of, problem(**day), plan=made)  # type: ignore[arg-type]


@pytest.fixture(autouse=True)
def stated_bounds(monkeypatch: pytest.MonkeyPatch) -> None:
    """Plans and bounds as they are stated above; a point of lateness is stated too."""

    def score(day: SimpleNamespace, plan: SimpleNamespace) -> int:
        return plan.finish_min + day.late

    for module in (sizes, day_divided):
        monkeypatch.setattr(module, "score", score)
    monkeypatch.setattr(sizes, "lower_bound_min", lambda day: day.least)
    monkeypatch.setattr(sizes, "least_loads", lambda day: day.loads)
    monkeypatch.setattr(sizes, "is_small", lambda _: True)
    monkeypatch.setattr(sizes, "divisions_told", lambda *_, **__: ())


# --- which are searched --------------------------------------------------------------


@pytest.mark.parametrize(
    ("other", "searched"),
    [
        # a quarter of an hour by hand is no noise, a minute less is
        (way({"p": MORE}, 385), True),
        (way({"p": FULL}, 386), False),
        # more pots that fill as few loads may cook side by side, up to a quarter later
        (way({"p": MORE}, 500, pots=3), True),
        (way({"p": MORE}, 501, pots=3), False),
        (way({"p": MORE}, 450, pots=3, loads=3), False),
        (way({"p": MORE}, 450, pots=2), False),
        (way({"p": MORE}, 450, pots=1), False),
    ],
)
def test_what_is_clearly_better_by_hand_or_may_cook_at_once_is_searched(
    other: Way, searched: bool
):
    rule = way({}, 400)
    found = _contenders(Trials(rule, rule, [other]))
    assert found == ([other] if searched else [])


def test_what_is_clearly_better_comes_first_and_two_are_enough():
    rule = way({}, 400)
    at_once, better = way({"a": MORE}, 390, pots=3), way({"b": MORE}, 380)
    best, another = way({"c": MORE}, 370), way({"d": MORE}, 391, pots=3)
    tried = Trials(rule, rule, [another, at_once, better])
    assert _contenders(tried) == [better, at_once]
    assert _contenders(Trials(rule, rule, [*tried.others, best])) == [best, better]


def test_each_is_searched_for_as_long_also_what_a_plan_at_hand_has(monkeypatch):
    """Thirty-six of a hundred seconds for the rule, the plan at hand and the other."""
    rule, at_hand, other = way({}, 400), way({"p": FULL}, 395), way({"p": MORE}, 380)
    searched = []

    def find(day: object, first: object, search: Search, *, least: int) -> SearchResult:
        searched.append((day, search.seconds))
        return SearchResult(bound=370)

    monkeypatch.setattr(sizes, "find_timetable", find)
    trials = Trials(rule, at_hand, [at_hand, other])
    assert _try(trials, COUNTED)
    assert searched == [
        (w.problem, pytest.approx(12.0)) for w in (rule, at_hand, other)
    ]
    assert trials.others == [at_hand, other]
    assert {w.bound for w in (rule, at_hand, other)} == {370}
    assert not _try(Trials(rule, rule, []), COUNTED)


# --- which are tried by hand ---------------------------------------------------------


@pytest.mark.parametrize(
    ("least", "known", "tried"),
    [(399, 400, True), (400, 400, False), (720, None, True), (721, None, False)],
)
def test_what_cannot_end_sooner_or_within_the_day_is_not_tried(least, known, tried):
    rule = way({}, known)
    trials = Trials(rule, rule)
    found = _screened(trials, {"p": MORE}, lambda _: problem(least=least))  # type: ignore[arg-type,return-value]
    assert (found is not None) == tried
    assert trials.ruled_out == ([] if tried else [{"p": MORE}])


def test_two_packs_that_each_gain_are_divided_at_once_as_well(monkeypatch):
    """The best of each: one of the pears' ends later than the rule."""
    ends = {MORE: 390, FULL: 410, (3, 3): 395}
    made: list[Sizes] = []

    def state(of: Sizes) -> SimpleNamespace:
        made.append(of)
        return problem()

    def by_hand(day: object, search: Search) -> SimpleNamespace:
        return plan(max(ends[size] for size in made[-1].values()))

    monkeypatch.setattr(sizes, "_by_hand", by_hand)
    ways = {"pears": PEARS, "sauce": (PEARS[0], Division(sizes=(3, 3), why=""))}
    rule = way({}, 400)
    trials = Trials(rule, rule)
    _screen(trials, ways, state, COUNTED)  # type: ignore[arg-type]
    assert [w.sizes for w in trials.others] == [
        {"pears": MORE},
        {"pears": FULL},
        {"sauce": (3, 3)},
        {"pears": MORE, "sauce": (3, 3)},
    ]


# --- which is planned ------------------------------------------------------------


def chosen(
    monkeypatch: pytest.MonkeyPatch,
    *,
    rule: int | None = 400,
    other: int = 380,
    bounds: tuple[int, int] = (0, 0),
    tried: bool = True,
    small: bool = True,
    at_hand: AtHand | None = None,
) -> Sized | None:
    """What comes of a day whose rule and other division come to these ends."""

    def search(trials: Trials, _: Search) -> bool:
        ours = Way({"pears": MORE}, problem(), plan=plan(other), bound=bounds[1])  # type: ignore[arg-type]
        trials.others = [ours]
        trials.plain.bound = bounds[0]
        return tried

    by_hand = None if rule is None else plan(rule)
    monkeypatch.setattr(sizes, "is_small", lambda _: small)
    monkeypatch.setattr(sizes, "sensible_divisions", lambda *_: {"pears": PEARS})
    monkeypatch.setattr(sizes, "_by_hand", lambda *_: by_hand)
    monkeypatch.setattr(sizes, "_screen", lambda *_: None)
    monkeypatch.setattr(sizes, "_try", search)

    def state(_: Mapping[str, tuple[int, ...]]) -> SimpleNamespace:
        return problem()

    return better_sizes(None, None, state, COUNTED, at_hand)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("other", "bounds", "taken"),
    [
        (385, (0, 0), True),  # more than the noise of two searches
        (386, (0, 0), False),
        (386, (400, 0), False),  # one proof alone leaves the noise of the other
        (395, (400, 395), True),  # both proven: one more pot to wash is worth it
        (396, (400, 396), False),
    ],
)
def test_the_rule_stands_for_less_than_noise_and_for_little_where_all_is_proven(
    monkeypatch, other, bounds, taken
):
    found = chosen(monkeypatch, other=other, bounds=bounds)
    assert found is not None
    assert found.sizes == ({"pears": MORE} if taken else {})
    assert found.bounds == (({}, bounds[0]), ({"pears": MORE}, bounds[1]))


def test_what_was_not_searched_took_less_of_the_time_and_leaves_the_rule(monkeypatch):
    searched, screened = chosen(monkeypatch), chosen(monkeypatch, tried=False)
    assert searched is not None
    assert screened is not None
    assert (searched.spent, screened.spent) == (pytest.approx(0.46), 0.1)
    assert screened.sizes == {}


def test_a_large_day_that_the_rule_fits_is_left_to_it(monkeypatch):
    """No short search tells divisions apart there; where it fits not, they may fit."""
    assert chosen(monkeypatch, small=False) is None
    found = chosen(monkeypatch, rule=None, small=False)
    assert found is not None
    assert found.sizes == {"pears": MORE}


def test_a_plan_at_hand_in_other_pots_is_looked_at_though_little_can_be_gained(
    monkeypatch,
):
    """By the rule nothing is tried for a little; hers is searched beside it."""
    rule = AtHand(sizes={}, plan=plan(400))  # type: ignore[arg-type]
    hers = AtHand(sizes={"pears": FULL}, plan=plan(390))  # type: ignore[arg-type]
    monkeypatch.setattr(sizes, "_may_gain", lambda *_: False)
    assert chosen(monkeypatch, at_hand=rule) is None
    assert chosen(monkeypatch, at_hand=hers) is not None


@pytest.mark.parametrize(
    ("late", "least", "gains"), [(1, 400, True), (0, 386, False), (0, 385, True)]
)
def test_more_may_be_gained_where_something_is_late(late, least, gains):
    day = problem(least=least)
    day.late = late
    standing = Way({}, day, at_hand=plan(400))  # type: ignore[arg-type]
    assert (
        _may_gain(standing, {"pears": PEARS[:2]}, lambda _: problem(least=least))  # type: ignore[arg-type,return-value]
        == gains
    )
