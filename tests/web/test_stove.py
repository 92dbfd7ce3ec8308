"""At the stove: clocks that stay in sight, keys that do what they say, and no less."""

import datetime as dt
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest
from starlette.testclient import TestClient

from stillroom.learning.days import steps_took
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.timetable import Answer, NoPlan, PlanIf
from stillroom.records.days import Records, open_records
from stillroom.refusal import Refusal
from stillroom.running.batches import batches_of
from stillroom.running.codec import from_entry
from stillroom.running.commands import FinishStep
from stillroom.running.handle import handle, state_of
from stillroom.running.loads import loads_of
from stillroom.web.app import build_app
from stillroom.web.which_run import plan_of
from tests.simulation.forms import forms_of
from tests.web.forms import begin_the_day, forms, send, words

START = dt.datetime(2026, 9, 12, 9, 30, tzinfo=dt.timezone(dt.timedelta(hours=-7)))


@pytest.fixture
def plan(demo_plan: object) -> DayPlan:
    """The demo day, which is invented."""
    assert isinstance(demo_plan, DayPlan)
    assert isinstance(demo_plan.answer, Answer)
    return demo_plan


class Shop:
    def __init__(self, plan: object) -> None:
        self.answer = plan

    def day_text(self) -> str:
        return "a day"

    def plan(self) -> object:
        return self.answer

    def plan_within(self, patience_s: float) -> object:
        return self.answer


class SetClock:
    """A clock that stands until it is set."""

    def __init__(self) -> None:
        self.at = START

    def now(self) -> dt.datetime:
        return self.at

    def go(self, **by: float) -> None:
        self.at += dt.timedelta(**by)


@pytest.fixture
def kitchen(tmp_path: Path, plan: DayPlan) -> Iterator[SimpleNamespace]:
    """The pages over records of their own, and a clock to set."""
    with open_records(tmp_path / "stillroom.db") as records:
        app = build_app(Shop(plan), records=records)
        app.state.clock = SetClock()
        with TestClient(app, base_url="http://127.0.0.1") as client:
            yield SimpleNamespace(
                client=client,
                records=records,
                clock=app.state.clock,
                shop=app.state.shop,
                first=loads_of(plan)[0],
                run=f"run/{plan.day.date}",
            )


def begun(kitchen: SimpleNamespace) -> None:
    begin_the_day(kitchen.client)


def tap(
    kitchen: SimpleNamespace,
    key: str,
    seen: int,
    load: str | None = None,
    sure: str = "yes",
):
    return kitchen.client.post(
        f"/stove/{key}",
        data={
            "run": kitchen.run,
            "load": kitchen.first.id if load is None else load,
            "seen": str(seen),
            "sure": sure,
        },
    )


def last(records: Records, run: str) -> int:
    return records.ledger.last(run)


def test_a_load_names_the_process_of_what_is_in_it(plan: DayPlan):
    made = {batch.id: batch for batch in plan.batches}
    loads = loads_of(plan)
    assert [load.name for load in loads] == [f"load {n + 1}" for n in range(len(loads))]
    for load in loads:
        for batch, _ in load.jars:
            assert made[batch].process.source in load.source
            assert made[batch].process.total_min <= load.process_min
            assert made[batch].jar == load.jar


def test_a_day_without_a_timetable_has_no_loads(plan: DayPlan):
    assert loads_of(replace(plan, answer=None)) == ()


def test_before_the_day_begins_the_page_shows_the_planned_loads(kitchen):
    page = kitchen.client.get("/stove")
    assert page.status_code == 200
    assert "The day has not been begun." in page.text
    assert "Begin the day" in page.text
    assert f"full boil about {kitchen.first.planned_boil}" in page.text
    assert last(kitchen.records, kitchen.run) == 0


def test_the_clock_runs_from_the_full_boil_to_the_second(kitchen):
    begun(kitchen)
    kitchen.clock.go(minutes=10, seconds=7)
    answer = tap(kitchen, "full-boil", 1)
    assert answer.history[0].status_code == 303
    kitchen.clock.go(minutes=2, seconds=18)
    page = kitchen.client.get("/stove").text
    deadline = START + dt.timedelta(minutes=10 + kitchen.first.process_min, seconds=7)
    left = deadline - kitchen.clock.at
    minutes, seconds = divmod(int(left.total_seconds()), 60)
    assert f">{minutes}:{seconds:02d}</p>" in page
    assert f'data-until-ms="{int(deadline.timestamp() * 1000)}"' in page
    assert f"until {deadline:%-H:%M:%S}" in page
    assert "It lost the boil" in page


def test_the_page_looks_again_without_a_script(kitchen):
    begun(kitchen)
    page = kitchen.client.get("/stove").text
    day = kitchen.run.removeprefix("run/")
    refresh = f'<meta http-equiv="refresh" content="10;url=/stove?while={day}">'
    assert f"<noscript>{refresh}</noscript>" in page
    assert "style=" not in page  # the gate allows none


def test_lifting_too_soon_is_refused_with_the_clocks_still_in_sight(kitchen):
    begun(kitchen)
    tap(kitchen, "full-boil", 1)
    kitchen.clock.go(minutes=1)
    answer = tap(kitchen, "lifted", 2)
    assert answer.status_code == 422
    assert "has had 1 min 00 s of" in answer.text
    assert "Who says so" in answer.text
    assert "data-until-ms" in answer.text
    assert last(kitchen.records, kitchen.run) == 2


def test_a_whole_load_from_boil_to_table(kitchen):
    begun(kitchen)
    tap(kitchen, "full-boil", 1)
    kitchen.clock.go(minutes=3)
    assert "the whole" in tap(kitchen, "boil-lost", 2).text
    tap(kitchen, "full-boil", 3)
    kitchen.clock.go(minutes=kitchen.first.process_min)
    assert "Fire off, lid off" in kitchen.client.get("/stove").text
    kitchen.clock.go(minutes=5)
    assert "may come out now" in kitchen.client.get("/stove").text
    page = tap(kitchen, "lifted", 4).text
    assert "Out of the canner" in page
    assert "boil lost 1 ×" in page
    state = state_of(kitchen.run, ledger=kitchen.records.ledger)
    assert state.loads[0].lifted_at == kitchen.clock.at


def first_step(kitchen: SimpleNamespace) -> tuple[str, str]:
    page = kitchen.client.get("/stove").text
    found = re.search(
        r'name="batch" value="([^"]+)">\s*<input type="hidden" name="step" '
        r'value="([^"]+)"',
        page,
    )
    assert found
    return found[1], found[2]


def test_a_step_said_done_makes_way_for_the_next(kitchen):
    begun(kitchen)
    batch, step = first_step(kitchen)
    given = {"run": kitchen.run, "batch": batch, "step": step, "seen": "1"}
    for _ in range(2):  # a second tap is harmless
        assert kitchen.client.post("/stove/done", data=given).status_code == 200
    state = state_of(kitchen.run, ledger=kitchen.records.ledger)
    assert state.steps_done == {(batch, step)}
    assert state.sequence == 2
    assert first_step(kitchen) != (batch, step)


def test_a_step_said_begun_can_then_only_be_done(kitchen):
    begun(kitchen)
    batch, step = first_step(kitchen)
    assert "/stove/begun" in kitchen.client.get("/stove").text
    given = {"run": kitchen.run, "batch": batch, "step": step, "seen": "1"}
    for _ in range(2):  # a second tap is harmless
        assert kitchen.client.post("/stove/begun", data=given).status_code == 200
    events = kitchen.records.ledger.read(kitchen.run)
    assert [entry.kind for entry in events] == ["day-begun", "step-begun"]
    page = kitchen.client.get("/stove").text
    mine = re.search(rf'value="{batch}">\s*<input[^>]*value="{step}">', page)
    assert mine
    assert "/stove/done" in page[mine.start() - 200 : mine.start()]
    kitchen.clock.go(minutes=9)
    kitchen.client.post("/stove/done", data=given)
    took = steps_took(
        [[from_entry(e) for e in kitchen.records.ledger.read(kitchen.run)]]
    )
    assert [t.minutes for t in took if t.step == step] == [9.0]


def test_a_step_said_done_by_mistake_is_taken_back_on_the_board(kitchen):
    begun(kitchen)
    batch, step = first_step(kitchen)
    assert "Take it back" not in kitchen.client.get("/stove").text
    given = {"run": kitchen.run, "batch": batch, "step": step, "seen": "1"}
    page = kitchen.client.post("/stove/done", data=given).text
    form = next(f for f in forms_of(page) if f.action == "/stove/take-back")
    assert (form.hidden["batch"], form.hidden["step"]) == (batch, step)
    for _ in range(2):  # a second tap is harmless
        page = kitchen.client.post("/stove/take-back", data=form.hidden).text
    assert first_step(kitchen) == (batch, step)
    assert "Take it back" not in page
    events = kitchen.records.ledger.read(kitchen.run)
    assert [e.kind for e in events] == ["day-begun", "step-done", "step-taken-back"]
    kitchen.client.post("/stove/done", data=given)
    kitchen.clock.go(minutes=15)
    assert "Take it back" not in kitchen.client.get("/stove").text


def test_a_step_said_begun_by_mistake_is_taken_back_on_the_board(kitchen):
    """Its minutes would be learned from a tap on the wrong line."""
    begun(kitchen)
    batch, step = first_step(kitchen)
    given = {"run": kitchen.run, "batch": batch, "step": step, "seen": "1"}
    page = kitchen.client.post("/stove/begun", data=given).text
    form = next(f for f in forms_of(page) if f.action == "/stove/take-back")
    kitchen.client.post("/stove/take-back", data=form.hidden)
    events = kitchen.records.ledger.read(kitchen.run)
    assert [e.kind for e in events] == ["day-begun", "step-begun", "step-taken-back"]
    state = state_of(kitchen.run, ledger=kitchen.records.ledger)
    assert state.steps_begun == frozenset()


def test_the_clock_that_a_device_draws_is_that_of_the_kitchen(kitchen):
    """A phone that thinks it is elsewhere draws half past nine, and not its own."""
    page = kitchen.client.get("/stove").text
    assert 'data-zone-min="-420"' in page
    assert '<b class="wall">9:30</b>' in page


@pytest.mark.parametrize("said_at", ["soon", "2026-08-22T09:00"])
def test_a_step_is_taken_back_by_no_moment_that_is_none(kitchen, said_at: str):
    begun(kitchen)
    batch, step = first_step(kitchen)
    given = {"run": kitchen.run, "batch": batch, "step": step, "seen": "1"}
    kitchen.client.post("/stove/done", data=given)
    no = {**given, "was": "done", "said_at": said_at}
    answer = kitchen.client.post("/stove/take-back", data=no)
    assert answer.status_code == 400
    assert "is no moment" in answer.text
    assert last(kitchen.records, kitchen.run) == 2


def test_a_step_that_the_plan_does_not_have_is_refused(kitchen):
    begun(kitchen)
    given = {"run": kitchen.run, "batch": "plum jelly 1", "step": "sing", "seen": "1"}
    answer = kitchen.client.post("/stove/done", data=given)
    assert answer.status_code == 422
    assert "has no such step" in answer.text
    assert last(kitchen.records, kitchen.run) == 1


def test_two_taps_write_one_event(kitchen):
    (page,) = forms(kitchen.client.get("/stove").text, "/stove/begin")
    for _ in range(2):
        assert send(kitchen.client, "/stove/begin", page).status_code == 200
    assert tap(kitchen, "full-boil", 1).status_code == 200
    kitchen.clock.go(seconds=1)
    assert tap(kitchen, "full-boil", 1).status_code == 200
    assert last(kitchen.records, kitchen.run) == 2


@pytest.mark.parametrize(
    "now", [None, Refusal("no elevation", "give one", "every table")]
)
def test_the_clock_stays_while_the_day_file_is_being_changed(kitchen, now):
    begun(kitchen)
    tap(kitchen, "full-boil", 1)
    kitchen.shop.answer = now
    assert "data-until-ms" in kitchen.client.get("/stove").text
    assert tap(kitchen, "boil-lost", 2).status_code == 200


def test_without_a_plan_and_a_run_the_page_says_so(kitchen):
    kitchen.shop.answer = None
    assert "being worked out" in kitchen.client.get("/stove").text
    kitchen.shop.answer = Refusal("no elevation", "give one", "every table")
    assert kitchen.client.get("/stove").status_code == 200
    answer = kitchen.client.post("/stove/begin", data={"seen": "0"})
    assert answer.status_code == 422
    assert "there is no plan to begin with" in answer.text


@pytest.mark.parametrize(
    ("key", "given", "status", "said"),
    [
        ("full-boil", {"seen": "1"}, 400, "is no day"),
        ("full-boil", {"run": "run/<b>", "seen": "1"}, 400, "is no day"),
        ("full-boil", {"run": "run/2026-09-12", "seen": "many"}, 400, "is no number"),
        ("full-boil", {"run": "run/2026-09-12", "seen": "9" * 30}, 400, "is no number"),
        ("full-boil", {"run": "run/2026-09-12", "seen": "-1"}, 400, "is no number"),
        ("stir", {"run": "run/2026-09-12", "seen": "1"}, 404, "no such page"),
    ],
)
def test_nonsense_in_a_form_is_named_and_changes_nothing(
    kitchen, key: str, given: dict[str, str], status: int, said: str
):
    begun(kitchen)
    answer = kitchen.client.post(f"/stove/{key}", data={"load": "x", **given})
    assert answer.status_code == status
    assert said in answer.text
    assert last(kitchen.records, kitchen.run) == 1


def test_a_load_that_is_not_there_is_refused(kitchen):
    begun(kitchen)
    answer = tap(kitchen, "full-boil", 1, load="<i>x</i>")
    assert answer.status_code == 422
    assert "there is no load" in answer.text
    assert "<i>" not in answer.text


def test_a_day_without_a_plan_has_nothing_to_begin(tmp_path, plan):
    """The plan of a day like it is no plan to begin: its loads are not shown."""
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    like = PlanIf(
        says="if the day could run on", ends="it ends late", mark="no plan of this day",
        made_by="a plan by hand", problem=plan.problem, timetable=plan.answer.timetable,
    )  # fmt: skip
    none = NoPlan(clashes=("x",), minimal=False, would_help=(), plan_if=like)
    with open_records(tmp_path / "stillroom.db") as records:
        app = build_app(Shop(replace(plan, answer=none)), records=records)
        app.state.clock = SetClock()
        with TestClient(app, base_url="http://127.0.0.1") as client:
            text = client.get("/stove").text
    assert "There is nothing to begin with: the day has no plan yet." in text
    assert 'id="begin"' not in text
    assert "full boil about" not in text


def test_a_plan_of_another_date_is_named_at_the_key_and_over_the_clocks(kitchen, plan):
    of = f"{plan.day.date:%A} {plan.day.date.day} {plan.day.date:%B %Y}"
    before = kitchen.client.get("/stove").text
    assert f"The plan is of {of}; today is Saturday 12 September 2026." in before
    begun(kitchen)
    kitchen.clock.go(days=1)  # jars may still be in when the night is over
    assert (
        "At the stove · Saturday 12 September 2026; today is Sunday 13 September 2026 "
        f"· by the plan of {of}" in kitchen.client.get("/stove").text
    )


def test_a_plan_of_today_is_not_asked_about(kitchen, plan):
    kitchen.clock.at = dt.datetime.combine(plan.day.date, START.timetz())
    assert "today is" not in kitchen.client.get("/stove").text
    assert "by the plan of" not in kitchen.client.get("/stove").text


def test_a_day_that_was_begun_is_not_offered_to_be_begun_beside_itself(kitchen, plan):
    begun(kitchen)
    page = kitchen.client.get("/stove").text
    assert "Kitchen has" not in words(page)
    assert forms(page, "/stove/begin") == []


def test_the_plan_of_a_day_file_is_that_of_its_own_day_alone(plan):
    """A run of before plans were kept with it goes by no plan of another day."""
    assert plan_of(f"run/{plan.day.date}", plan) is plan
    assert plan_of(f"run/{plan.day.date + dt.timedelta(days=1)}", plan) is None
    assert plan_of(f"run/{plan.day.date}", None) is None


def test_jars_to_lower_name_their_key_and_the_step_behind_them_has_its_own(
    kitchen, plan
):
    begun(kitchen)
    table = plan.answer.timetable
    load = min(table.loads, key=lambda load: load.lower_min)
    mine = [s for s in table.steps if s.person == load.lowered_by]
    for step in mine:
        if step.start_min < load.lower_min:
            said = FinishStep(batch=step.batch, step=step.step, at=kitchen.clock.at)
            handle(said, kitchen.run, ledger=kitchen.records.ledger)
    after = min(
        (s for s in mine if s.start_min >= load.lower_min), key=lambda s: s.start_min
    )
    page = kitchen.client.get("/stove").text
    hand = page.split(f'aria-label="{load.lowered_by}"')[1].split("</section>")[0]
    assert f"Lower {load.count} jars" in hand
    assert (
        "When it is at a full boil, tap "
        '<a href="#load-1">Full boil now at load 1</a>.' in hand
    )
    assert 'id="load-1"' in page
    assert f'name="step" value="{after.step}"' in hand
    data = {"run": kitchen.run, "batch": after.batch, "step": after.step, "seen": "1"}
    kitchen.client.post("/stove/done", data=data)
    done = state_of(kitchen.run, ledger=kitchen.records.ledger).steps_done
    assert (after.batch, after.step) in done


def test_a_tap_on_a_load_that_nobody_said_is_filled_asks_before_its_clock_starts(
    kitchen, plan
):
    begun(kitchen)
    wrong = loads_of(plan)[-1]
    asked = tap(kitchen, "full-boil", 1, load=wrong.id, sure="")
    assert asked.status_code == 200
    assert f"Is it {wrong.name} that is at a full boil?" in asked.text
    assert last(kitchen.records, kitchen.run) == 1
    # no load is in that canner's way, and a yes starts the clock
    page = asked.text.split('id="asked"')[1].split("</form>")[0]
    fields = dict(re.findall(r'name="(\w+)" value="([^"]*)"', page))
    assert fields["load"] == wrong.id
    kitchen.client.post("/stove/full-boil", data=fields)
    state = state_of(kitchen.run, ledger=kitchen.records.ledger)
    assert state.load(wrong.id).boiling_since == kitchen.clock.at


def test_a_load_that_was_said_to_be_filled_starts_at_one_tap_and_so_does_a_lost_one(
    kitchen, plan
):
    begun(kitchen)
    first = loads_of(plan)[0]
    batch = next(b for b in batches_of(plan) if b.id == first.jars[0][0])
    said = FinishStep(batch=batch.id, step=batch.closes, at=kitchen.clock.at)
    handle(said, kitchen.run, ledger=kitchen.records.ledger)
    tap(kitchen, "full-boil", 2, sure="")
    assert last(kitchen.records, kitchen.run) == 3
    other = next(x for x in loads_of(plan) if x.canner != first.canner)
    tap(kitchen, "full-boil", 3, load=other.id)
    tap(kitchen, "boil-lost", 4, load=other.id)
    tap(kitchen, "full-boil", 5, load=other.id, sure="")
    assert last(kitchen.records, kitchen.run) == 6


def test_a_tap_that_is_refused_anyway_is_not_asked_about_first(kitchen, plan):
    begun(kitchen)
    tap(kitchen, "full-boil", 1)
    same = next(
        load for load in loads_of(plan)[1:] if load.canner == kitchen.first.canner
    )
    no = tap(kitchen, "full-boil", 2, load=same.id, sure="")
    assert no.status_code == 422
    assert 'id="asked"' not in no.text


def test_a_canner_is_lit_by_the_board_too(kitchen: SimpleNamespace, plan: DayPlan):
    """The plan gives it to nobody's hands, and it was on nobody's card."""
    lit = min(plan.answer.timetable.loads, key=lambda load: load.heat_min)
    day = START.replace(hour=plan.day.starts.hour, minute=plan.day.starts.minute)
    kitchen.clock.at = day
    begun(kitchen)
    kitchen.clock.go(minutes=lit.heat_min)
    page = kitchen.client.get("/stove").text
    card = re.search(r'<section id="going".*?</section>', page, re.DOTALL)
    assert card
    assert "Light the canner, warm the water" in card[0]
    assert lit.canner in card[0]
    assert '<a href="#going"><b>To set going</b>' in page


def only_load(plan: DayPlan) -> DayPlan:
    """The same day with its first load alone."""
    assert isinstance(plan.answer, Answer)
    timetable = plan.answer.timetable
    first = min(timetable.loads, key=lambda load: load.boil_min)
    short = replace(timetable, loads=(first,), steps=(), breaks=())
    return replace(plan, answer=replace(plan.answer, timetable=short))


def test_the_end_of_the_day_counts_no_broken_jar_and_leads_on(
    kitchen: SimpleNamespace, plan: DayPlan
):
    kitchen.shop.answer = only_load(plan)
    begun(kitchen)
    (load,) = loads_of(kitchen.shop.answer)
    tap(kitchen, "full-boil", 1, load.id)
    kitchen.client.post(
        "/stove/broke/book",
        data={
            "run": kitchen.run,
            "load": load.id,
            "batch": load.jars[0][0],
            "crack": "ring",
            "token": "0" * 32,
        },
    )
    kitchen.clock.go(minutes=30)
    tap(kitchen, "lifted", 3, load.id)
    page = kitchen.client.get("/stove").text
    assert f"All {load.count - 1} jars are out; 1 jar broke." in page
    assert "<b>1 broke</b>" in page
    assert 'href="/stock/after"' in page
    assert 'id="plan-again"' not in page
    done = words(kitchen.client.get("/again").text)
    assert "every jar of it is out" in done
    assert "nothing is left to plan again" in done


def test_a_load_of_which_every_jar_broke_is_cleared_out_and_said(
    kitchen: SimpleNamespace, plan: DayPlan
):
    kitchen.shop.answer = only_load(plan)
    begun(kitchen)
    (load,) = loads_of(kitchen.shop.answer)
    tap(kitchen, "full-boil", 1, load.id)
    broken = [batch for batch, jars in load.jars for _ in range(jars)]
    for n, batch in enumerate(broken):
        said = {
            "run": kitchen.run,
            "load": load.id,
            "batch": batch,
            "crack": "ring",
            "token": f"{n:032x}",
        }
        kitchen.client.post("/stove/broke/book", data=said)
    page = words(kitchen.client.get("/stove").text)
    assert "every jar of it is booked as broken" in page
    assert "The glass is out" in page
    assert "0 left" in words(kitchen.client.get("/stove/broke").text)
    tap(kitchen, "lifted", 1 + len(broken) + 1, load.id)
    page = words(kitchen.client.get("/stove").text)
    assert f"No jar is left; {len(broken)} jars broke." in page
    assert kitchen.client.get("/stock/made").status_code == 200


def test_the_morning_after_says_of_which_day_the_board_is(
    kitchen: SimpleNamespace, plan: DayPlan
):
    kitchen.shop.answer = only_load(plan)
    begun(kitchen)
    (load,) = loads_of(kitchen.shop.answer)
    tap(kitchen, "full-boil", 1, load.id)
    kitchen.clock.go(minutes=30)
    tap(kitchen, "lifted", 2, load.id)
    assert "today is" not in kitchen.client.get("/stove").text
    kitchen.clock.go(hours=24)
    page = kitchen.client.get("/stove").text
    assert "Saturday 12 September 2026; today is Sunday 13 September 2026" in page
    assert 'id="plan-again"' not in page


def test_a_step_that_was_said_begun_says_since_when(
    kitchen: SimpleNamespace, plan: DayPlan
):
    """The one answer to Begin was that its key was gone."""
    begun(kitchen)
    page = kitchen.client.get("/stove").text
    form = re.search(r'action="/stove/begun".*?</form>', page, re.DOTALL)
    sent = dict(
        re.findall(r'name="(run|batch|step|seen|once)" value="([^"]*)"', form[0])
    )
    assert "<b>begun" not in page
    kitchen.clock.go(minutes=4)
    kitchen.client.post("/stove/begun", data=sent)
    kitchen.clock.go(minutes=3)
    assert kitchen.client.get("/stove").text.count("<b>begun 9:34</b>") == 1


def test_what_cannot_be_planned_again_yet_leads_back_to_the_stove(
    kitchen: SimpleNamespace,
):
    page = kitchen.client.get("/again").text
    assert "Nothing to plan again yet" in page
    assert '<a class="key" href="/stove">' in page
    assert '<a class="key" href="/day">' in kitchen.client.get("/no-such-page").text


def test_a_day_that_slips_says_by_how_much_beside_the_key(
    kitchen: SimpleNamespace, plan: DayPlan
):
    who = plan.problem.people[0].id
    hers = [s for s in plan.answer.timetable.steps if s.person == who]
    first, second, *_ = sorted(hers, key=lambda s: s.end_min)
    starts = plan.day.starts
    kitchen.clock.at = START.replace(hour=starts.hour, minute=starts.minute)
    begun(kitchen)
    said = {"run": kitchen.run, "batch": first.batch, "step": first.step, "seen": "1"}
    kitchen.client.post("/stove/done", data=said)
    assert 'id="behind"' not in kitchen.client.get("/stove").text
    kitchen.clock.go(minutes=second.end_min + 25)
    page = kitchen.client.get("/stove").text
    assert f"By what was tapped, {who} is <b>25 min behind the plan</b>" in page


def test_a_load_whose_jars_stood_for_two_days_is_asked_about_and_started_if_sure(
    kitchen, plan
):
    begun(kitchen)
    batch = next(b for b in batches_of(plan) if b.id == kitchen.first.jars[0][0])
    done = {"run": kitchen.run, "batch": batch.id, "step": batch.closes, "seen": "1"}
    assert kitchen.client.post("/stove/done", data=done).status_code == 200
    kitchen.clock.go(hours=49)
    page = tap(kitchen, "full-boil", 2, sure="").text
    assert f"Were jars of {kitchen.first.name} closed that long ago?" in page
    assert "49 h ago, and 2 h is the limit" in page
    assert "as it stands, no process makes them pantry stock" in page
    assert last(kitchen.records, kitchen.run) == 2
    tap(kitchen, "full-boil", 2, sure="yes")
    assert last(kitchen.records, kitchen.run) == 3


def test_an_end_sign_that_is_a_sentence_ends_once(kitchen: SimpleNamespace, plan):
    """That of the cabbage was "... until its juice covers it.." on the board."""
    batches = tuple(
        replace(b, steps=tuple(replace(s, end_sign=f"{s.end_sign}.") for s in b.steps))
        for b in plan.problem.batches
    )
    problem = replace(plan.problem, batches=batches)
    kitchen.shop.answer = replace(plan, problem=problem)
    begin_the_day(kitchen.client)
    said = words(kitchen.client.get("/stove").text)
    assert "Done when: " in said
    assert ".." not in said


def back_form(page: str):
    return next(f for f in forms_of(page) if f.action == "/stove/load-back")


def test_a_full_boil_of_the_wrong_load_is_taken_back_on_the_board(kitchen):
    """It could only be told as a boil that was lost, and stayed so in the record."""
    begun(kitchen)
    page = tap(kitchen, "full-boil", 1).text
    form = back_form(page)
    assert (form.hidden["load"], form.hidden["was"]) == (kitchen.first.id, "full-boil")
    kitchen.clock.go(minutes=2)
    for _ in range(2):  # a second tap is harmless
        page = kitchen.client.post("/stove/load-back", data=form.hidden).text
    assert "process clock runs" not in page
    assert "lost 1" not in page
    events = kitchen.records.ledger.read(kitchen.run)
    kinds = ["day-begun", "full-boil-reached", "load-taken-back"]
    assert [e.kind for e in events] == kinds
    kitchen.clock.go(minutes=3)
    assert tap(kitchen, "full-boil", 3).status_code == 200
    run = state_of(kitchen.run, ledger=kitchen.records.ledger).load(kitchen.first.id)
    assert run.boiling_since == kitchen.clock.at
    kitchen.clock.go(minutes=16)
    assert "/stove/load-back" not in kitchen.client.get("/stove").text


def test_jars_lifted_out_by_a_wrong_tap_are_back_until_their_lots_are_booked(kitchen):
    begun(kitchen)
    tap(kitchen, "full-boil", 1)
    kitchen.clock.go(minutes=kitchen.first.process_min + 6)
    page = tap(kitchen, "lifted", 2).text
    form = back_form(page)
    assert form.hidden["was"] == "lifted"
    page = kitchen.client.post("/stove/load-back", data=form.hidden).text
    assert "ready to lift out" in page
    made = kitchen.client.get(f"/stock/made?run={kitchen.run}").text
    assert "No lot is ready to be booked" in words(made)
    assert tap(kitchen, "lifted", 4).status_code == 200
    (lots, *_) = forms(kitchen.client.get("/stock/made").text, "/stock/made/book")
    assert send(kitchen.client, "/stock/made/book", lots).status_code == 200
    form = back_form(kitchen.client.get("/stove").text)
    no = kitchen.client.post("/stove/load-back", data=form.hidden)
    assert no.status_code == 422
    assert "is booked as L" in words(no.text)
    assert last(kitchen.records, kitchen.run) == 5
