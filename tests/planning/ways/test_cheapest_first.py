"""The ways out as they are told: the cheapest first, by the plans that came of them."""

from __future__ import annotations

import time
from types import SimpleNamespace

import pytest

from stillroom.planning.cpsat.solve import Search
from stillroom.planning.timetable import Timetable, WayOut
from stillroom.planning.ways import ways_out as module
from stillroom.planning.ways.ways_out import ways_out
from tests.planning.small_days import day

NOTHING = Timetable(steps=(), loads=(), breaks=())


def told(
    monkeypatch: pytest.MonkeyPatch, *found: tuple[str, int], late: bool = False
) -> list[str]:
    """These are found in this order; each with what its plan comes to cost."""
    ways = [SimpleNamespace(name=name, cost=cost, late=late) for name, cost in found]

    def finder(*_: object) -> SimpleNamespace:
        return SimpleNamespace(
            begin=lambda: None,
            look=lambda: None,
            look_at_both_ends=lambda: None,
            fits_after_all=None,
            best=lambda many=3: ways[:many],
            shown=None,
            exhausted=True,
            put_by=(),
        )

    def said(_: object, way: SimpleNamespace, *__: object) -> WayOut:
        return WayOut(
            says=way.name,
            cost_min=way.cost,
            finish_min=0,
            done_by="",
            timetable=NOTHING,
        )

    monkeypatch.setattr(module, "Finder", finder)
    monkeypatch.setattr(module, "Costs", lambda _: None)
    monkeypatch.setattr(module, "share_minutes", lambda _: None)
    monkeypatch.setattr(module, "make_cheaper", lambda _: None)
    monkeypatch.setattr(module, "begun_sooner", lambda *_: None)
    monkeypatch.setattr(module, "_better", lambda *_: (NOTHING, False))
    monkeypatch.setattr(module, "_said", said)
    search = Search(time.monotonic() + 1.0, 1, 1, False)
    return [way.says for way in ways_out(day(), search).ways]


def test_what_its_plan_made_cheaper_is_told_before_what_was_cheaper_when_found(
    monkeypatch,
):
    """Searched on, a plan may come less late than the one that showed the way."""
    found = (("an hour longer", 60), ("a helper more", 90), ("without plums", 45))
    assert told(monkeypatch, *found) == [
        "without plums",
        "an hour longer",
        "a helper more",
    ]


def test_where_a_promise_comes_late_five_are_searched_on_and_the_cheapest_three_told(
    monkeypatch,
):
    found = (("a", 60), ("b", 90), ("c", 70), ("d", 45), ("e", 80))
    assert told(monkeypatch, *found, late=True) == ["d", "a", "c"]
    assert told(monkeypatch, *found) == ["a", "c", "b"]
