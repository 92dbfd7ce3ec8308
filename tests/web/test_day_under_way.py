"""A day that was begun stays at the stove, whatever is saved in Kitchen meanwhile."""

import datetime as dt
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest
from starlette.testclient import TestClient

from stillroom.paper.sheets import day_sheet_pdf
from stillroom.planning.day_file.dayfile import new_day_text, read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.timetable import Answer
from stillroom.records.days import open_records
from stillroom.running.handle import state_of
from stillroom.running.kept_plan import plan_now
from stillroom.running.loads import loads_of
from stillroom.web.app import build_app
from stillroom.web.shop import Shop
from tests.web.conftest import remembered
from tests.web.forms import begin_the_day, forms, send, words
from tests.web.test_stove import START, SetClock, kitchen, last, plan, tap

__all__ = ["kitchen", "plan"]


@pytest.fixture
def next_day(plan: DayPlan) -> DayPlan:
    """The same day a day later, as it is saved in Kitchen while this one goes on."""
    date = plan.day.date + dt.timedelta(days=1)
    return replace(plan, day=replace(plan.day, date=date))


def said(date: dt.date) -> str:
    return f"{date:%A} {date.day} {date:%B} {date.year}"


def run_of(plan: DayPlan) -> str:
    return f"run/{plan.day.date}"


def first_load_out(kitchen: SimpleNamespace) -> None:
    begin_the_day(kitchen.client)
    tap(kitchen, "full-boil", 1)
    kitchen.clock.go(minutes=kitchen.first.process_min + 10)
    tap(kitchen, "lifted", 2)


def test_loads_to_come_stay_when_another_day_is_saved(
    kitchen: SimpleNamespace, plan: DayPlan, next_day: DayPlan
):
    """As it was met: load 1 out, load 2 to come, the desk plans the next day."""
    first_load_out(kitchen)
    kitchen.shop.answer = next_day
    page = kitchen.client.get("/stove").text
    second = loads_of(plan)[1]
    assert "has not been begun" not in words(page)
    assert f'name="load" value="{second.id}"' in page
    assert 'id="plan-again"' in page
    assert f"Kitchen has the plan of {said(next_day.day.date)}" in words(page)
    tap(kitchen, "full-boil", 3, load=second.id)
    state = state_of(kitchen.run, ledger=kitchen.records.ledger)
    assert state.load(second.id).boiling_since == kitchen.clock.at
    assert kitchen.client.get("/again").text.count("has not been begun") == 0


def test_the_day_that_is_shown_is_not_named_beside_itself(
    kitchen: SimpleNamespace, next_day: DayPlan
):
    """Its own board led to itself as to another day, under way or left."""
    first_load_out(kitchen)
    page = kitchen.client.get("/stove").text
    assert 'class="note beside-day"' not in page
    board = f"/stove?day={kitchen.run.removeprefix('run/')}"
    assert 'class="note beside-day"' not in kitchen.client.get(board).text
    kitchen.shop.answer = next_day
    kitchen.clock.go(hours=30)
    assert 'class="note beside-day"' in kitchen.client.get("/stove").text
    assert 'class="note beside-day"' not in kitchen.client.get(board).text


def test_the_next_morning_before_a_load_is_on_its_clock_it_is_still_there(
    kitchen: SimpleNamespace, next_day: DayPlan
):
    first_load_out(kitchen)
    kitchen.shop.answer = next_day
    kitchen.clock.go(hours=22)
    page = words(kitchen.client.get("/stove").text)
    assert "Still to come" in page
    assert "has not been begun" not in page
    assert f"; today is {said(kitchen.clock.at.date())}" in page


def test_beginning_another_day_while_one_is_under_way_asks_first(
    kitchen: SimpleNamespace, next_day: DayPlan
):
    first_load_out(kitchen)
    kitchen.shop.answer = next_day
    (shown,) = forms(kitchen.client.get("/stove").text, "/stove/begin")
    asked = send(kitchen.client, "/stove/begin", shown)
    tomorrow, run = said(next_day.day.date), run_of(next_day)
    assert f"Begin {tomorrow} while another day is under way?" in words(asked.text)
    assert "still to come" in words(asked.text).split("No, go on")[0]
    assert last(kitchen.records, run) == 0
    (yes,) = forms(asked.text, "/stove/begin")
    assert ("sure", "yes") in yes
    page = send(kitchen.client, "/stove/begin", yes)
    assert last(kitchen.records, run) == 1
    assert "Another day is under way" in words(page.text)
    assert f'href="/stove?day={kitchen.run.removeprefix("run/")}"' in page.text


def test_a_page_of_before_the_other_was_begun_asks_too(
    kitchen: SimpleNamespace, plan: DayPlan, next_day: DayPlan
):
    """Drawn when nothing was begun; a phone then begins the day of the plan before."""
    kitchen.shop.answer = next_day
    (shown,) = forms(kitchen.client.get("/stove").text, "/stove/begin")
    kitchen.shop.answer = plan
    begin_the_day(kitchen.client)
    kitchen.shop.answer = next_day
    asked = send(kitchen.client, "/stove/begin", shown)
    assert "while another day is under way?" in words(asked.text)
    assert last(kitchen.records, run_of(next_day)) == 0


def test_both_boards_are_within_reach_and_a_tap_comes_back_to_its_own(
    kitchen: SimpleNamespace, plan: DayPlan, next_day: DayPlan
):
    first_load_out(kitchen)
    kitchen.shop.answer = next_day
    (shown,) = forms(kitchen.client.get("/stove").text, "/stove/begin")
    send(kitchen.client, "/stove/begin", [*shown, ("sure", "yes")])
    day = kitchen.run.removeprefix("run/")
    board = kitchen.client.get(f"/stove?day={day}").text
    assert f'name="run" value="{kitchen.run}"' in board
    assert "Another day is under way" in words(board)
    step = forms(board, "/stove/done")[0]
    assert ("run", kitchen.run) in step
    after = send(kitchen.client, "/stove/done", step)
    assert after.history[0].headers["location"].endswith(f"/stove?day={day}")
    assert f'name="run" value="{kitchen.run}"' in after.text


def both_begun(kitchen: SimpleNamespace, next_day: DayPlan) -> str:
    """One day with a load out, another begun beside it; the address of the first."""
    first_load_out(kitchen)
    kitchen.shop.answer = next_day
    (shown,) = forms(kitchen.client.get("/stove").text, "/stove/begin")
    send(kitchen.client, "/stove/begin", [*shown, ("sure", "yes")])
    return f"/stove?day={kitchen.run.removeprefix('run/')}"


def test_what_is_asked_of_a_load_is_asked_on_its_own_board_and_starts_its_clock(
    kitchen: SimpleNamespace, plan: DayPlan, next_day: DayPlan
):
    """Both days have a load 2: the clock of the other one was started by the yes."""
    board = both_begun(kitchen, next_day)
    second = loads_of(plan)[1]
    page = kitchen.client.get(board).text
    assert f'data-of-day="{board.removeprefix("/stove")}"' in page
    (form,) = (
        form for form in forms(page, "/stove/full-boil") if ("load", second.id) in form
    )
    asked = send(kitchen.client, "/stove/full-boil", form)
    assert f'href="{board}">No, leave it' in asked.text
    assert f'data-of-day="{board.removeprefix("/stove")}"' in asked.text
    (yes,) = (
        form
        for form in forms(asked.text, "/stove/full-boil")
        if ("sure", "yes") in form
    )
    assert ("run", kitchen.run) in yes
    send(kitchen.client, "/stove/full-boil", yes)
    ledger = kitchen.records.ledger
    assert state_of(kitchen.run, ledger=ledger).load(second.id).boiling_since
    assert not state_of(run_of(next_day), ledger=ledger).on_the_fire


def test_a_refusal_comes_with_the_clocks_of_the_day_that_was_tapped(
    kitchen: SimpleNamespace, plan: DayPlan, next_day: DayPlan
):
    board = both_begun(kitchen, next_day)
    first = loads_of(plan)[0].id
    said = {"run": kitchen.run, "load": first, "seen": "3", "sure": "yes"}
    no = kitchen.client.post("/stove/full-boil", data=said)
    assert no.status_code == 422
    assert f'data-of-day="{board.removeprefix("/stove")}"' in no.text
    step = {"run": kitchen.run, "batch": "plum jelly 1", "step": "sing", "seen": "3"}
    no = kitchen.client.post("/stove/done", data=step)
    assert no.status_code == 422
    assert f'data-of-day="{board.removeprefix("/stove")}"' in no.text


def test_a_day_that_was_never_begun_has_no_board_of_its_own(
    kitchen: SimpleNamespace, next_day: DayPlan
):
    begin_the_day(kitchen.client)
    page = kitchen.client.get(f"/stove?day={next_day.day.date}").text
    assert f'name="run" value="{kitchen.run}"' in page


@pytest.mark.parametrize("page", ["/stove?day", "/stove?while", "/again?day"])
def test_an_address_that_names_no_day_leads_to_the_stove(
    kitchen: SimpleNamespace, page: str
):
    """It was a fault of the day file, and led to mending the form of the kitchen."""
    begin_the_day(kitchen.client)
    no = kitchen.client.get(f"{page}=garb%3Cage")
    assert no.status_code == 404
    assert "No such day is under way" in no.text
    assert "'garb&lt;age' is no day" in no.text.replace("&#39;", "'")
    assert '<a class="key" href="/stove">' in no.text
    assert "/kitchen/file" not in no.text


def test_a_tap_that_names_no_day_leads_back_to_the_stove(kitchen: SimpleNamespace):
    sent = {"run": "garbage", "load": kitchen.first.id, "seen": "1"}
    no = kitchen.client.post("/stove/full-boil", data=sent)
    assert no.status_code == 400
    assert "go back to the stove and tap there" in no.text
    assert '<a class="key" href="/stove">' in no.text
    assert "/kitchen/file" not in no.text


def test_a_day_left_with_loads_to_come_is_named_for_some_days(
    kitchen: SimpleNamespace, plan: DayPlan, next_day: DayPlan
):
    first_load_out(kitchen)
    kitchen.shop.answer = next_day
    kitchen.clock.go(hours=30)
    page = kitchen.client.get("/stove").text
    assert "The day has not been begun" in words(page)
    by_plan = f"{said(START.date())}, by the plan of {said(plan.day.date)}"
    to_come = len(plan.answer.timetable.loads) - 1
    assert f"{by_plan} was left: {to_come} loads are still to come" in words(page)
    assert f'href="/stove?day={plan.day.date}"' in page
    kitchen.clock.go(days=3)
    assert "was left:" not in words(kitchen.client.get("/stove").text)


def test_day_and_kitchen_say_that_a_day_is_under_way(tmp_path: Path):
    """At the desk, where the next day is planned while the phone is at the stove."""
    text = new_day_text()
    with open_records(tmp_path / "farm.db") as records:
        records.days.save(text, "typed in")
        shop = Shop(records.days, seconds=0.5, planner=remembered)
        app = build_app(shop, records=records)
        app.state.clock = SetClock()
        with TestClient(app, base_url="http://127.0.0.1") as desk:
            shop.plan_within(60)
            pages = ("/day", "/kitchen", "/kitchen/file")
            for address in pages:
                assert "A day is under way" not in words(desk.get(address).text)
            begin_the_day(desk)
            for address in pages:
                page = words(desk.get(address).text)
                assert "A day is under way at the stove: Saturday 12 September" in page
                assert "begun 9:30; " in page
                assert "still to come" in page
            assert "another plan" not in words(desk.get("/day").text)
            date = read_day(text).date
            later = text.replace(f"{date}", f"{date + dt.timedelta(days=1)}")
            shop.save_day(later, "kitchen form", over=text)
            shop.plan_within(60)
            page = words(desk.get("/day").text)
            assert "What stands here is another plan; that day goes on" in page
            page = words(desk.get("/kitchen").text)
            assert "What you save here changes nothing of it" in page


def test_the_sheet_that_is_printed_in_the_day_is_of_the_plan_it_goes_by(
    kitchen: SimpleNamespace, plan: DayPlan
):
    """The morning's hours on paper, and others at the stove, would be two plans."""
    assert isinstance(plan.answer, Answer)
    assert plan.answer.by_hand is not None
    paper = kitchen.client.get("/day/sheet.pdf").content
    assert paper == day_sheet_pdf(plan)
    hers = replace(plan.answer, timetable=plan.answer.by_hand)
    kitchen.shop.answer = replace(plan, answer=hers)
    begin_the_day(kitchen.client)
    kitchen.shop.answer = plan  # as it is planned anew after a restart
    state = state_of(kitchen.run, ledger=kitchen.records.ledger)
    gone_by = plan_now(plan, state, kitchen.shop.day_text())
    assert kitchen.client.get("/day/sheet.pdf").content == day_sheet_pdf(gone_by)
    assert day_sheet_pdf(gone_by) != paper


def test_when_all_jars_are_out_and_all_is_done_the_next_day_has_the_stove(
    kitchen: SimpleNamespace, plan: DayPlan, next_day: DayPlan
):
    begin_the_day(kitchen.client)
    for load in loads_of(plan):
        seen = last(kitchen.records, kitchen.run)
        tap(kitchen, "full-boil", seen, load=load.id)
        kitchen.clock.go(minutes=load.process_min + 10)
        tap(kitchen, "lifted", seen + 1, load=load.id)
    assert isinstance(plan.answer, Answer)
    for step in plan.answer.timetable.steps:
        seen = last(kitchen.records, kitchen.run)
        named = {"run": kitchen.run, "batch": step.batch, "step": step.step}
        kitchen.client.post("/stove/done", data={**named, "seen": str(seen)})
    kitchen.shop.answer = next_day
    page = words(kitchen.client.get("/stove").text)
    assert "The day has not been begun" in page
    assert "under way" not in page


def drawn_anew(page: str) -> str:
    """What a board that is open asks for when it draws itself."""
    return "/stove" + page.split('data-of-day="')[1].split('"')[0]


def test_an_open_board_stays_with_its_day_when_another_has_jars_on_the_fire(
    kitchen: SimpleNamespace, plan: DayPlan, next_day: DayPlan
):
    """Both have a load 2: its keys came under the finger that meant the other's."""
    board = both_begun(kitchen, next_day)
    shown = kitchen.client.get("/stove").text
    named = f'name="run" value="{run_of(next_day)}"'
    assert named in shown
    second, seen = loads_of(plan)[1].id, last(kitchen.records, kitchen.run)
    tap(kitchen, "full-boil", seen, load=second, sure="yes")
    assert f'name="run" value="{kitchen.run}"' in kitchen.client.get("/stove").text
    assert named in kitchen.client.get(drawn_anew(shown)).text
    assert drawn_anew(kitchen.client.get(board).text).startswith("/stove?while=")


def test_an_open_board_goes_on_to_the_next_day_when_its_own_is_over(
    kitchen: SimpleNamespace, next_day: DayPlan
):
    begin_the_day(kitchen.client)
    shown = drawn_anew(kitchen.client.get("/stove").text)
    assert shown == f"/stove?while={kitchen.run.removeprefix('run/')}"
    kitchen.shop.answer = next_day
    kitchen.clock.go(hours=30)
    page = kitchen.client.get(shown).text
    assert "The day has not been begun" in words(page)
    assert drawn_anew(page) == "/stove"
    assert kitchen.client.get("/stove?while=soup").status_code == 404


def test_a_clock_in_a_canner_that_holds_jars_of_another_day_is_asked_about(
    kitchen: SimpleNamespace, plan: DayPlan, next_day: DayPlan
):
    """Both days have a load 1 in one canner: jars would have a process unseen."""
    begin_the_day(kitchen.client)
    tap(kitchen, "full-boil", 1)
    kitchen.shop.answer = next_day
    (shown,) = forms(kitchen.client.get("/stove").text, "/stove/begin")
    send(kitchen.client, "/stove/begin", [*shown, ("sure", "yes")])
    first, other = loads_of(plan)[0], run_of(next_day)
    for step in filled(next_day, first.jars[0][0]):
        seen = last(kitchen.records, other)
        named = {"run": other, "batch": first.jars[0][0], "step": step}
        kitchen.client.post("/stove/done", data={**named, "seen": str(seen)})
    said = {"run": other, "load": first.id, "seen": str(last(kitchen.records, other))}
    asked = kitchen.client.post("/stove/full-boil", data=said)
    day = plan.day.date
    assert (
        f"The clock of load 1 of {day.day} {day:%B} {day.year} runs in {first.canner}"
        in words(asked.text)
    )
    now_ms = int(kitchen.clock.at.timestamp() * 1000)
    sent = {**said, "tap": "full-boil", "tapped": str(now_ms), "age": "0"}
    late = kitchen.client.post("/stove/late", data={**sent, "once": "0" * 24})
    assert "the clock of load 1" in late.json()["no"]
    ledger = kitchen.records.ledger
    assert not state_of(other, ledger=ledger).on_the_fire
    kitchen.clock.go(minutes=first.process_min + 10)
    rests = kitchen.client.post("/stove/full-boil", data=said)
    assert (
        f"Load 1 of {day.day} {day:%B} {day.year} was not said to be out of "
        f"{first.canner}" in words(rests.text)
    )
    assert not state_of(other, ledger=ledger).on_the_fire
    mine = str(last(kitchen.records, kitchen.run))
    out = {"run": kitchen.run, "load": first.id, "seen": mine}
    kitchen.client.post("/stove/lifted", data=out)
    kitchen.client.post("/stove/full-boil", data=said)
    assert state_of(other, ledger=ledger).on_the_fire


def filled(plan: DayPlan, batch: str) -> list[str]:
    """The steps of a batch by which its jars are filled and closed."""
    assert plan.problem is not None
    (found,) = (one for one in plan.problem.batches if one.id == batch)
    return [step.id for step in found.steps]
