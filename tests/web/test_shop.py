"""The shop plans each text once, in the background, and stays quick meanwhile."""

import pickle
import subprocess
import sys
import threading
import time

import pytest

from stillroom.planning.day_file.dayfile import check_day, demo_day_text, new_day_text
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.timetable import NoPlan
from stillroom.refusal import Refusal, Unreadable
from stillroom.web.planner import Planned, PlanningProcess, plan_text
from stillroom.web.shop import KEPT_PLANS, Shop


class Store:
    def __init__(self, text: str | None) -> None:
        self.text = text

    def current(self) -> str | None:
        return self.text

    def save(self, text: str, why: str, **more: object) -> None:
        self.text = text


def test_a_page_is_told_to_come_again_while_the_plan_is_worked_out() -> None:
    let_go = threading.Event()
    answer = Refusal("no", "yes", "me")

    def planner(text: str, *, seconds: float) -> Planned:
        assert let_go.wait(10)
        return answer

    shop = Shop(Store("a day\n"), planner=planner)
    assert shop.plan() is None
    let_go.set()
    assert shop.plan_within(10) is answer
    assert shop.plan() is answer


def test_one_text_is_planned_once_and_the_seconds_are_handed_on() -> None:
    asked = []

    def planner(text: str, *, seconds: float) -> Planned:
        asked.append((text, seconds))
        return Refusal(text, "yes", "me")

    store = Store("one\n")
    shop = Shop(store, seconds=3.5, planner=planner)
    for text in ("two\n", "one\n", "two\n"):
        shop.save_day(text, "test", over=shop.day_text())
        planned = shop.plan_within(10)
        assert isinstance(planned, Refusal)
        assert planned.reason == text
    assert sorted(asked) == [("one\n", 3.5), ("two\n", 3.5)]


def test_only_so_many_plans_are_kept() -> None:
    asked = []

    def planner(text: str, *, seconds: float) -> Planned:
        asked.append(text)
        return Refusal(text, "yes", "me")

    shop = Shop(Store("0"), planner=planner)
    texts = [str(number) for number in range(KEPT_PLANS + 1)]
    for text in [*texts, "0"]:
        shop.save_day(text, "test", over=shop.day_text())
        assert shop.plan_within(10) is not None
    assert asked == [*texts, "0"]  # the oldest was let go of, and planned anew


def test_a_mistake_of_the_planner_reaches_the_page_and_not_the_thread() -> None:
    def planner(text: str, *, seconds: float) -> Planned:
        if text == "bad":
            raise ZeroDivisionError("on purpose")
        return Refusal("no", "yes", "me")

    shop = Shop(Store("bad"), planner=planner)
    with pytest.raises(ZeroDivisionError, match="on purpose"):
        shop.plan_within(10)
    shop.save_day("good", "test", over=shop.day_text())
    assert isinstance(shop.plan_within(10), Refusal)


def test_a_day_whose_planning_failed_once_is_planned_again_when_asked() -> None:
    asked: list[str] = []

    def planner(text: str, *, seconds: float) -> Planned:
        asked.append(text)
        if len(asked) == 1:
            raise OSError("the machine was out of memory")
        return Refusal("no", "yes", "me")

    shop = Shop(Store("a day"), planner=planner)
    with pytest.raises(OSError, match="out of memory"):
        shop.plan_within(10)
    assert isinstance(shop.plan_within(10), Refusal)
    assert asked == ["a day", "a day"]


def test_a_real_day_file_is_planned_and_a_faulty_one_is_a_value() -> None:
    shop = Shop(Store(new_day_text()), seconds=0.3, planner=plan_text)
    assert isinstance(shop.plan_within(60), DayPlan)
    shop.save_day("nonsense = \n", "test", over=shop.day_text())
    assert isinstance(shop.plan_within(10), Unreadable)


def test_a_text_on_one_line_never_opens_a_file() -> None:
    shop = Shop(Store("/etc/passwd"), seconds=0.1, planner=plan_text)
    planned = shop.plan_within(10)
    assert isinstance(planned, Unreadable)
    assert "not TOML" in str(planned)


def test_no_day_is_no_text() -> None:
    assert Shop(Store(None)).day_text() == ""


def test_the_process_beside_plans_as_this_one_does() -> None:
    process = PlanningProcess()
    try:
        planned = process(new_day_text(), seconds=0.2)
        assert isinstance(planned, DayPlan)
        here = plan_text(new_day_text(), seconds=0.2)
        assert isinstance(here, DayPlan)
        assert planned.batches == here.batches
        faulty = process("nonsense", seconds=0.2)
        assert isinstance(faulty, Unreadable)
        assert faulty.faults == check_day("nonsense")
    finally:
        process.close()


def test_a_process_that_was_killed_is_started_anew() -> None:
    process = PlanningProcess()
    try:
        assert isinstance(process("nonsense", seconds=0.2), Unreadable)
        assert process._process is not None
        process._process.kill()
        assert isinstance(process("nonsense", seconds=0.2), Unreadable)
    finally:
        process.close()


def test_closing_breaks_a_search_off() -> None:
    shop = Shop(Store(demo_day_text()), seconds=60)
    assert shop.plan_within(1.0) is None
    begun = time.monotonic()
    shop.close()
    with pytest.raises(RuntimeError, match=r"closed|ended"):
        shop.plan_within(10)
    assert time.monotonic() - begun < 30  # half of what the search had


def test_a_day_that_nobody_in_it_can_work_is_a_value() -> None:
    alone = new_day_text().replace('["cold", "knife", "pan", "lift"]', '["cold"]')
    assert alone != new_day_text()
    planned = plan_text(alone, seconds=0.2)
    assert isinstance(planned, DayPlan)
    assert isinstance(planned.answer, NoPlan)
    assert "nobody that day lifts hot jars" in planned.answer.clashes


def test_a_planner_whose_pages_have_gone_ends_without_a_word() -> None:
    beside = subprocess.Popen(
        [sys.executable, "-m", "stillroom.web.planner"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert beside.stdin is not None
    assert beside.stdout is not None
    assert beside.stderr is not None
    beside.stdout.close()  # nobody reads what it answers
    with beside.stdin as to:
        pickle.dump((plan_text, ("nonsense",), {"seconds": 0.2}), to)
    assert beside.stderr.read() == b""
    beside.stderr.close()
    assert beside.wait(30) == 0
