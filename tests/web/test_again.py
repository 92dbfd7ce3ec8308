"""Second thoughts on a page: what she says, two plans side by side, one taken over."""

import datetime as dt
import re
from collections.abc import Iterator
from concurrent.futures import Future
from dataclasses import replace
from html import unescape
from pathlib import Path
from types import SimpleNamespace

import pytest
from starlette.testclient import TestClient

from stillroom.planning.day_odds.odds import odds_learned, odds_of
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.problem import Want
from stillroom.planning.second_thoughts.leave_out import Offer
from stillroom.planning.second_thoughts.no_room import NoRoom
from stillroom.planning.spoken_of import says
from stillroom.planning.timetable import Answer
from stillroom.planning.waits.load_names import LoadNames
from stillroom.planning.words.sheet import day_sheet
from stillroom.planning.words.step_words import called
from stillroom.records.days import open_records
from stillroom.running.again import Again, Told, plan_again
from stillroom.running.commands import BeginDay
from stillroom.running.handle import handle, state_of
from stillroom.running.hands import hands
from stillroom.running.kept_plan import kept
from stillroom.running.loads import loads_of
from stillroom.web import odds_kept
from stillroom.web.again_kept import AgainKept
from stillroom.web.app import build_app
from stillroom.web.odds_kept import OddsKept
from stillroom.web.routes import again as again_routes
from stillroom.web.shop import Shop
from tests.web.forms import begin_the_day


class SetClock:
    """A clock that stands until it is set."""

    def __init__(self, at: dt.datetime) -> None:
        self.at = at

    def now(self) -> dt.datetime:
        return self.at


@pytest.fixture
def plan(demo_plan: object) -> DayPlan:
    """The demo day, which is invented."""
    assert isinstance(demo_plan, DayPlan)
    assert isinstance(demo_plan.answer, Answer)
    return demo_plan


@pytest.fixture
def kitchen(tmp_path: Path, plan: DayPlan, demo_shop: Shop) -> Iterator:
    """The demo day, begun at its first minute."""
    zone = dt.timezone(dt.timedelta(hours=2))
    begins = dt.datetime.combine(plan.day.date, plan.day.starts, zone)
    with open_records(tmp_path / "stillroom.db") as records:
        app = build_app(demo_shop, records=records)
        app.state.clock = SetClock(begins)
        with TestClient(app, base_url="http://127.0.0.1") as client:
            yield SimpleNamespace(
                client=client,
                app=app,
                records=records,
                clock=app.state.clock,
                begins=begins,
                run=f"run/{plan.day.date}",
            )


class Busy:
    """Takes what it is asked and never comes to it."""

    def submit(self, fn, /, *args, **kwargs) -> Future:
        return Future()


def at_minute(kitchen, minute: float) -> None:
    kitchen.clock.at = kitchen.begins + dt.timedelta(minutes=minute)


def begun(kitchen) -> None:
    begin_the_day(kitchen.client)


def it_is(kitchen) -> str:
    page = plain(kitchen.client.get("/again").text)
    return page[page.index("It is ") : page.index("Say what is otherwise")]


def state(kitchen):
    return state_of(kitchen.run, ledger=kitchen.records.ledger)


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def busy_from(plan: DayPlan, minute: int) -> int:
    """The first minute from there on in the midst of a step, whatever the plan is."""
    steps = plan.answer.timetable.steps
    return next(
        now
        for now in range(minute, plan.answer.finish_min)
        if any(s.start_min < now < s.end_min for s in steps)
    )


def running(plan: DayPlan, minute: int):
    """A step with hands on it that runs at a minute, and has some way to go."""
    return max(
        (s for s in plan.answer.timetable.steps if s.start_min < minute < s.end_min),
        key=lambda s: s.end_min,
    )


def test_a_day_that_has_not_begun_has_nothing_to_plan_again(kitchen):
    page = kitchen.client.get("/again")
    assert "Begin the day at the stove" in page.text
    assert "Plan the rest again" not in kitchen.client.get("/day").text


def test_a_day_that_was_begun_before_plans_were_kept_goes_on_by_the_one_shown(
    kitchen, plan
):
    """It was begun, and to begin it again is no way on."""
    old = BeginDay(loads=loads_of(plan), at=kitchen.clock.at)
    handle(old, kitchen.run, ledger=kitchen.records.ledger)
    page = plain(kitchen.client.get("/again").text)
    assert "This day was begun before plans were kept with it" in page
    assert "Begin the day at the stove" not in page


def test_who_is_not_there_until_an_hour_has_nothing_to_do_before_it(kitchen, plan):
    begun(kitchen)
    at_minute(kitchen, 60)
    page = kitchen.client.get("/again").text
    who = plan.problem.people[0].id
    assert f"{who} is not here until" in plain(page)
    back = kitchen.clock.at + dt.timedelta(minutes=90)
    said = {f"comes|{who}": f"{back:%-H:%M}"}
    shown = kitchen.client.post("/again", data=said)
    assert "Go by this plan" in shown.text, plain(shown.text)
    name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
    kitchen.client.post(f"/again/{name}/take")
    taken = state(kitchen).taken[-1].plan
    mine = [s for s in taken.timetable.steps if s.person == who and s.quarters]
    held = [s.end_min for s in mine if s.start_min < 60 < s.end_min]
    gone = max([60, *held])
    assert [s for s in mine if gone <= s.start_min < 150] == []
    assert [s for s in mine if s.start_min >= 150]


def test_an_hour_of_coming_that_cannot_be_is_said_beside_its_field(kitchen, plan):
    begun(kitchen)
    at_minute(kitchen, 60)
    who = plan.problem.people[0].id
    no = kitchen.client.post("/again", data={f"comes|{who}": "soonish"})
    assert "is no clock time" in plain(no.text)
    assert 'id="fault-comes-1"' in no.text
    no = kitchen.client.post("/again", data={f"comes|{who}": f"{kitchen.begins:%H:%M}"})
    assert f"{who} cannot come at" in plain(no.text)


def test_what_was_typed_beside_a_slip_stands_there_still(kitchen, plan):
    """One hour cannot be read: the other, and what is left out, are typed once."""
    begun(kitchen)
    at_minute(kitchen, 60)
    first, second, *_ = (person.id for person in plan.problem.people)
    goes = f"{kitchen.begins + dt.timedelta(hours=6):%H:%M}"
    page = kitchen.client.get("/again").text
    drop = re.search(r'name="drop" value="([^"]+)"', page)[1]
    said = {f"comes|{first}": "soonish", f"leaves|{second}": goes, "drop": drop}
    no = kitchen.client.post("/again", data=said)
    assert no.status_code == 400
    assert f'value="{goes}"' in no.text
    assert 'value="soonish"' in no.text
    # the field is below the first screen of a phone: it is named over the form
    over = no.text.split("<form")[0]
    assert "1 thing has to be mended. The rest was not planned again" in plain(over)
    (field,) = re.findall(r'<a href="#([^"]+)">\W*soonish', unescape(over))
    assert re.search(rf'<input id="{field}"[^>]* value="soonish"', no.text)
    assert re.search(rf'name="drop" value="{drop}"[^>]* checked', no.text)
    assert f'value="{goes}"' not in page


def test_what_was_said_to_come_to_a_plan_stands_there_to_be_said_otherwise(
    kitchen, plan
):
    """Of all that was typed one hour was wrong: the form came back empty."""
    begun(kitchen)
    at_minute(kitchen, 60)
    page = kitchen.client.get("/again").text
    drop = re.search(r'name="drop" value="([^"]+)"', page)[1]
    last = [person.id for person in plan.problem.people][-1]
    goes = f"{kitchen.begins + dt.timedelta(hours=6):%H:%M}"
    said = {f"leaves|{last}": goes, "drop": drop}
    shown = kitchen.client.post("/again", data=said)
    assert shown.status_code == 200
    at_minute(kitchen, 63)
    way = re.search(r'href="([^"]+)">Say it otherwise', shown.text)[1]
    form = kitchen.client.get(unescape(way)).text
    assert f'name="leaves|{last}"' in form
    assert f'value="{goes}"' in form
    assert re.search(rf'name="drop" value="{drop}"[^>]* checked', form)
    told = f"What you said at {kitchen.begins + dt.timedelta(hours=1):%-H:%M} stands"
    assert told in plain(form)
    # from the stove one begins with an empty one, and so after nothing was said
    assert f'value="{goes}"' not in kitchen.client.get("/again").text
    nothing = kitchen.client.post("/again", data={f"leaves|{last}": ""}).text
    way = re.search(r'href="([^"]+)">Say it otherwise', nothing)[1]
    assert "What you said at" not in plain(kitchen.client.get(unescape(way)).text)
    assert kitchen.client.get("/again?said=nothing").status_code == 200


def test_what_was_typed_is_forgotten_with_its_plan() -> None:
    kept = AgainKept()
    names = [kept.keep("run/x", object(), {"drop": [f"{n}"]}) for n in range(30)]
    assert kept.typed(names[-1]) == {"drop": ["29"]}
    assert kept.typed(f"{names[-1]}_1") == {"drop": ["29"]}  # of one that it offers
    assert kept.typed(names[0]) == {}


def test_who_cannot_go_as_what_is_in_hand_runs_on_is_told_so(kitchen, plan):
    begun(kitchen)
    (who,) = (person for person in plan.problem.people if person.away)
    ((gone, back),) = who.away
    mine = [
        s
        for s in plan.answer.timetable.steps
        if s.person == who.id and s.start_min < s.end_min <= gone
    ]
    last = max(mine, key=lambda s: s.end_min)
    now = last.start_min + 1
    at_minute(kitchen, now)
    said = {f"more|{last.batch}|{last.step}": f"{back + 5 - now} min"}
    shown = plain(kitchen.client.post("/again", data=said).text)
    hours = [
        f"{kitchen.begins + dt.timedelta(minutes=minute):%-H:%M}"
        for minute in (gone, back, back + 5)
    ]
    assert f"{who.id} is not away {hours[0]} to {hours[1]}: " in shown
    assert f" is in hand until {hours[2]}. If {who.id} has still to go" in shown


def test_a_begun_day_links_to_it_from_the_stove_and_from_the_day(kitchen):
    begun(kitchen)
    for address, day in (("/stove", ""), ("/day", f"?day={kitchen.run[4:]}")):
        assert f'href="/again{day}"' in kitchen.client.get(address).text


def test_what_runs_is_asked_about_and_what_is_said_is_kept(kitchen, plan):
    begun(kitchen)
    now = busy_from(plan, 60)
    at_minute(kitchen, now)
    page = kitchen.client.get("/again")
    step = running(plan, now)
    assert f'name="more|{step.batch}|{step.step}"' in page.text
    answer = kitchen.client.post(
        "/again", data={f"more|{step.batch}|{step.step}": "soon"}
    )
    assert answer.status_code == 400
    assert "soon" in answer.text
    assert 'class="fault"' in answer.text


def test_one_step_that_nobody_said_is_one(kitchen, plan):
    begun(kitchen)
    starts = sorted(s.start_min for s in plan.answer.timetable.steps)
    assert starts[1] > starts[0]
    at_minute(kitchen, starts[0] + 1)
    assert "1 step was not said done; it is taken" in plain(
        kitchen.client.get("/again").text
    )
    shown = plain(kitchen.client.post("/again", data={}).text)
    assert "1 step of the past was not said done; it is taken" in shown


def test_jars_that_are_lowered_by_the_plan_are_no_step_that_nobody_said(kitchen, plan):
    begun(kitchen)
    load = min(plan.answer.timetable.loads, key=lambda load: load.lower_min)
    at_minute(kitchen, load.boil_min)
    page = plain(kitchen.client.get("/again").text)
    steps = re.search(r"(\d+) of \d+ steps have begun", page)[1]
    assert f"{steps} steps were not said done" in page


def test_a_day_that_was_over_by_the_plan_is_said_to_be(kitchen, plan):
    begun(kitchen)
    finish = plan.answer.finish_min
    at_minute(kitchen, finish - 1)
    assert "the day ends at" in plain(kitchen.client.get("/again").text)
    at_minute(kitchen, finish)
    assert "the day was over at" in plain(kitchen.client.get("/again").text)
    assert " on " not in it_is(kitchen)
    at_minute(kitchen, finish + 2 * 24 * 60)
    later, first = kitchen.clock.at, kitchen.begins
    assert f" on {later:%a} {later.day} {later:%B}: " in it_is(kitchen)
    assert f" on the day of {first.day} {first:%B %Y}." in it_is(kitchen)


def test_an_evening_at_the_stove_is_of_one_day_by_the_clock_of_the_kitchen(kitchen):
    """By the ledger's it was begun tomorrow: in UTC it is three in the night."""
    here = dt.timezone(dt.timedelta(hours=-7))
    kitchen.clock.at = kitchen.begins.replace(hour=20, minute=0, tzinfo=here)
    begun(kitchen)
    kitchen.clock.at += dt.timedelta(minutes=10)
    assert it_is(kitchen).startswith("It is 20:10:")
    assert " on " not in it_is(kitchen)


def test_where_everybody_has_gone_nobody_is_asked_when_she_goes(kitchen, plan):
    begun(kitchen)
    at_minute(kitchen, 60)
    assert "Who goes or comes at another hour" in kitchen.client.get("/again").text
    at_minute(kitchen, 16 * 60)
    assert "Who goes or comes at another hour" not in kitchen.client.get("/again").text


def test_old_and_new_stand_side_by_side_and_the_new_one_is_taken_over(kitchen, plan):
    begun(kitchen)
    minute = busy_from(plan, 60)
    at_minute(kitchen, minute)
    step = running(plan, minute)
    shown = kitchen.client.post("/again", data={f"more|{step.batch}|{step.step}": "90"})
    assert shown.status_code == 200
    text = plain(shown.text)
    assert text.index("Done at") < text.index("Done by")
    assert not re.search(r"canner/\d", text)  # no load is called as in a file
    people = [p.id for p in plan.problem.people]
    for person in people:
        assert f"<h3>{person}, was</h3>" in shown.text
        assert f"<h3>{person}, is</h3>" in shown.text
    assert state(kitchen).taken == ()

    name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
    taken = kitchen.client.post(f"/again/{name}/take")
    assert taken.url.path == "/stove"
    assert "Planned again at" in taken.text
    now = state(kitchen)
    assert len(now.taken) == 1
    kept = {(s.batch, s.step): s for s in now.plan.timetable.steps}
    assert kept[step.batch, step.step].end_min == minute + 90
    past = {
        (s.batch, s.step) for s in plan.answer.timetable.steps if s.end_min <= 60
    } - {(step.batch, step.step)}
    assert past <= now.steps_done  # nobody is asked for them any more
    day = kitchen.client.get("/day").text
    assert now.taken[0].sentence in plain(day)
    assert 'id="again"' in day
    # the plan by hand is of the morning, and would seem to end before this one
    assert "Planned by hand" not in day
    assert "One batch after another" not in day
    at = kitchen.begins + dt.timedelta(minutes=minute)  # the kitchen's clock
    assert f"Planned again at {at.hour}:{at:%M}" in plain(day)
    # it stood whole at the head of the phone until the evening
    assert '<details class="entry small" id="again" open>' in taken.text
    at_minute(kitchen, minute + 16)
    later = kitchen.client.get("/stove").text
    assert '<details class="entry small" id="again"><summary>Planned again' in later
    assert '<details class="entry small" id="again"><summary>Planned again' in day

    # the key was hit twice: nothing more is written
    assert kitchen.client.post(f"/again/{name}/take").status_code == 200
    assert state(kitchen) == now


def test_the_sheet_of_a_rest_has_no_box_for_what_was_over(kitchen, plan, monkeypatch):
    """It had all of the morning to tick, and that no plan can end before it began."""
    begun(kitchen)
    minute = busy_from(plan, 200)
    at_minute(kitchen, minute - 0.5)
    shown = kitchen.client.post("/again")
    name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
    kitchen.client.post(f"/again/{name}/take")
    told = {}
    monkeypatch.setattr(
        "stillroom.paper.sheets.press", lambda _, rows: told.update(rows) or b"%PDF"
    )
    kitchen.client.get("/day/sheet.pdf")
    now = state(kitchen).plan
    printed = [line for p in told["people"] for line in p["lines"]]
    printed += told["alone"] + told["near"]
    sheet = day_sheet(now.problem, now.timetable)
    lines = sheet.entries
    to_come = [entry for entry in lines if entry.end_min > minute]
    assert 5 < len(to_come) < len(lines) - 5
    assert sorted((line["what"], line["to"]) for line in printed) == sorted(
        (entry.what, sheet.clock(entry.end_min)) for entry in to_come
    )
    at = kitchen.begins + dt.timedelta(minutes=minute - 0.5)
    said = f"Planned again at {at.hour}:{at:%M}: "
    assert told["since"].startswith(said)
    for address in ("/odds", "/day", "/stove"):
        assert said in plain(kitchen.client.get(address).text), address
    assert "can end before" not in told["sentence"]
    assert told["evening_before"] == []


def test_a_load_that_should_boil_and_does_not_is_told_by_its_clock(kitchen, plan):
    begun(kitchen)
    load = min(plan.answer.timetable.loads, key=lambda load: load.boil_min)
    at_minute(kitchen, load.boil_min + 1)
    shown = kitchen.client.post("/again", data={})
    text = plain(shown.text)
    moves = text[text.index("What moves") :]
    assert re.search(r"Load 1 in the [\w ]+ comes to a full boil", moves)
    kept = kitchen.app.state.again
    _, again = kept.of(re.search(r'action="/again/(\w+)/take"', shown.text)[1])
    (later,) = [x for x in again.found.new.loads if x.id == load.id]
    assert later.boil_min > load.boil_min
    assert later.lift_min >= later.done_min
    # where it was to stand a while after its process, that takes up the slip; it may
    # be lifted at its minute by somebody else, and that is a move as well
    was, now = ((x.lift_min, x.lifted_by) for x in (load, later))
    assert ("Lift load 1 out of the" in moves) == (now != was)


def test_a_broken_promise_and_what_gives_way_are_said_in_hours(kitchen, plan):
    begun(kitchen)
    load = min(plan.answer.timetable.loads, key=lambda load: load.boil_min)
    at_minute(kitchen, load.boil_min + 1)
    shown = kitchen.client.post("/again", data={})
    kept = kitchen.app.state.again
    run, again = kept.of(re.search(r'action="/again/(\w+)/take"', shown.text)[1])
    found = again.found
    slow = tuple(replace(x, out_min=x.out_min + 60) for x in found.new.loads)
    new = replace(found.new, loads=slow)
    boiled = [b for b in found.problem.batches if b.id == load.jars[0][0]]
    wanted = boiled[0].product
    late = replace(
        found,
        problem=replace(
            found.problem,
            horizon_min=new.finish_min - 70,
            wants=(Want(product=wanted, by_min=0),),
        ),
        new=new,
        moves=tuple(replace(m, is_min=m.was_min + 499) for m in found.moves),
        broken=((says("closed jars wait"), 284),),
        longer_min={"Ada": 564},
    )
    without = Offer(
        batch=boiled[0].id,
        jars=8,
        found=replace(found, broken=(), longer_min={}, more_places=0),
        promises_said=("that is not made",),
    )
    name = kept.keep(run, replace(again, found=late, offers=(without,)))
    text = plain(kitchen.client.get(f"/again/{name}").text)
    said = boiled[0].contents or wanted  # "sour cherry jelly by 15:00" is a want
    assert f"{said}, wanted by" in text[: text.index("Done by")]
    given = text[text.index("What gives way") :]
    assert given.startswith(
        "What gives way The day ends in time: 1 h 10 min over Closed jars wait: "
        "4 h 44 min over Ada stays 9 h 24 min longer: is that possible?"
    )
    assert "8 jars fewer That is not made no limit gives way" in text
    assert "8 h 19 min later" in text
    assert "499" not in text


def test_a_plan_taken_over_survives_a_restart(kitchen, plan, tmp_path):
    begun(kitchen)
    now = busy_from(plan, 75)
    at_minute(kitchen, now)
    step = running(plan, now)
    shown = kitchen.client.post(
        "/again", data={f"more|{step.batch}|{step.step}": "20 min"}
    )
    name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
    kitchen.client.post(f"/again/{name}/take")
    before = plain(kitchen.client.get("/stove").text)
    with open_records(tmp_path / "stillroom.db") as again:
        app = build_app(kitchen.app.state.shop, records=again)
        app.state.clock = kitchen.clock
        with TestClient(app, base_url="http://127.0.0.1") as client:
            assert plain(client.get("/stove").text) == before
            assert client.get(f"/again/{name}").status_code == 404


def test_a_plan_that_does_not_know_what_happened_since_is_not_taken(kitchen, plan):
    begun(kitchen)
    now = busy_from(plan, 60)
    at_minute(kitchen, now)
    shown = kitchen.client.post("/again", data={})
    name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
    step = running(plan, now)
    kitchen.client.post(
        "/stove/done",
        data={
            "run": kitchen.run, "batch": step.batch, "step": step.step, "seen": "1",
        },
    )  # fmt: skip
    answer = kitchen.client.post(f"/again/{name}/take")
    assert answer.status_code == 422
    assert "something has happened at the stove" in answer.text
    assert state(kitchen).taken == ()


def test_a_batch_that_is_left_out_is_named_with_what_is_kept_of_it(kitchen, plan):
    begun(kitchen)
    at_minute(kitchen, 5)
    page = kitchen.client.get("/again").text
    drops = re.findall(r'name="drop" value="([^"]+)"', page)
    assert drops
    shown = kitchen.client.post("/again", data={"drop": drops[-1]})
    lot = plan.batch(drops[-1]).draws[0].lot
    text = plain(shown.text)
    assert f"Left out: {drops[-1]}" in text
    assert lot in text
    name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
    kitchen.client.post(f"/again/{name}/take")
    left = state(kitchen).taken[0].left_out[0]
    assert left.batch == drops[-1]
    assert any(lot in kept for kept in left.keeps)
    day = kitchen.client.get("/day")
    assert day.status_code == 200
    assert f'href="/batch/{drops[-1]}"' not in day.text


def test_a_promise_that_is_left_out_is_named_until_the_day_is_over(kitchen, plan):
    promise = next(p for p in plan.promised if p.product == "sour cherry jelly")
    mine = [b for b in plan.batches if promise.want in b.serves]
    batch = mine[-1]
    begun(kitchen)
    at_minute(kitchen, 1)
    assert "Promised and not made" not in kitchen.client.get("/day").text
    shown = kitchen.client.post("/again", data={"drop": batch.id})
    name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
    kitchen.client.post(f"/again/{name}/take")
    lacking = promise.want.jars - sum(b.jars for b in mine[:-1])
    said = f"Promised and not made: {lacking} half-pint jars of sour cherry jelly by"
    assert said in plain(kitchen.client.get("/day").text)
    assert said in plain(kitchen.client.get("/odds").text)
    # and it is told again when the rest is planned again, with other things in hand
    at_minute(kitchen, 3)
    again = kitchen.client.post("/again", data={}).text
    hour = f"{promise.want.by:%-H:%M}"
    said = f"{lacking} jars of sour cherry jelly, wanted by {hour}, are not made"
    assert said in again
    # not where it is taken in after all
    text = kitchen.client.post("/again", data={"take-in": batch.id}).text
    assert "is not made" not in text


def test_behind_midnight_the_day_goes_on(kitchen, plan):
    begun(kitchen)
    at_minute(kitchen, 17 * 60)
    assert kitchen.clock.at.date() > plan.day.date
    asked = kitchen.client.get("/again").text
    assert f"{len(plan.answer.timetable.steps)} of" in asked
    shown = kitchen.client.post("/again", data={})
    assert "Nothing is put before" not in plain(shown.text)


def test_a_batch_in_its_pot_cannot_be_left_out(kitchen, plan):
    begun(kitchen)
    pot = min(
        (s for s in plan.answer.timetable.steps if s.pot), key=lambda s: s.start_min
    )
    at_minute(kitchen, pot.start_min + 2)
    assert f'name="drop" value="{pot.batch}"' not in kitchen.client.get("/again").text
    answer = kitchen.client.post("/again", data={"drop": pot.batch})
    assert answer.status_code == 422
    assert "Instead:" in answer.text


def test_with_nothing_inline(kitchen):
    begun(kitchen)
    at_minute(kitchen, 30)
    shown = kitchen.client.post("/again", data={})
    for page in (kitchen.client.get("/again"), shown):
        assert not re.search(r"<script(?![^>]*src=)", page.text)
        assert " style=" not in page.text


def test_the_odds_of_a_day_planned_again_are_those_of_its_rest(kitchen, plan):
    begun(kitchen)
    now = busy_from(plan, 200)
    at_minute(kitchen, now)
    step = running(plan, now)
    shown = kitchen.client.post("/again", data={f"more|{step.batch}|{step.step}": "40"})
    name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
    kitchen.client.post(f"/again/{name}/take")
    for address in ("/odds", "/then", "/day", f"/then?of={step.batch}/{step.step}"):
        assert kitchen.client.get(address).status_code == 200
    page = plain(kitchen.client.get("/odds").text)
    assert "the odds are those of the rest" in page
    problem, table = state(kitchen).plan.problem, state(kitchen).plan.timetable
    rest = odds_of(problem, table, days=500, since_min=now)
    assert rest.sd_min < odds_of(plan.problem, plan.answer.timetable, days=500).sd_min
    assert rest.even_min >= table.finish_min - 60


def test_the_odds_of_a_plan_taken_over_are_reckoned_once(kitchen, plan, monkeypatch):
    begun(kitchen)
    at_minute(kitchen, busy_from(plan, 40))
    shown = kitchen.client.post("/again", data={})
    name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
    kitchen.client.post(f"/again/{name}/take")
    reckoned = []

    def counted(*asked, **more):
        reckoned.append(more["since_min"])
        return odds_learned(*asked, **more)

    monkeypatch.setattr(odds_kept, "odds_learned", counted)
    monkeypatch.setattr("stillroom.web.routes.day.ODDS", kept := OddsKept())
    monkeypatch.setattr("stillroom.web.routes.odds.ODDS", kept)
    for address in ("/day", "/day", "/odds", "/odds", "/day"):
        assert kitchen.client.get(address).status_code == 200
    assert len(reckoned) == 1
    assert reckoned[0] is not None


def planned_at(kitchen, plan: DayPlan, minute: int) -> str:
    """The name of the page on which the rest is shown."""
    begun(kitchen)
    at_minute(kitchen, busy_from(plan, minute))
    shown = kitchen.client.post("/again", data={})
    return re.search(r'action="/again/(\w+)/take"', shown.text)[1]


@pytest.mark.parametrize("better", [True, False])
def test_a_longer_search_says_what_it_came_to(kitchen, plan, monkeypatch, better):
    name = planned_at(kitchen, plan, 60)
    run, first = kitchen.app.state.again.of(name)
    unproven = replace(first, found=replace(first.found, proven=False))
    name = kitchen.app.state.again.keep(run, unproven)
    text = kitchen.client.get(f"/again/{name}").text
    assert "Search a little longer for a better one" in text
    assert "12 seconds or so" in plain(text)
    monkeypatch.setattr(
        again_routes,
        "look_longer",
        lambda shown, state: replace(shown, better=better),
    )
    shown = kitchen.client.post(f"/again/{name}/longer")
    assert shown.status_code == 200
    assert shown.url.path not in ("/again", f"/again/{name}")
    said = plain(shown.text)
    assert ("A longer search found this one." in said) == better
    assert ("A longer search found no better one." in said) != better
    # what was not better is not searched for once more
    assert ("Search a little longer" in said) == better
    taken = kitchen.client.post(f"{shown.url.path}/take")
    assert "Planned again at" in taken.text


def test_what_is_proven_is_not_searched_for_any_longer(kitchen, plan):
    name = planned_at(kitchen, plan, 60)
    run, first = kitchen.app.state.again.of(name)
    proven = replace(first, found=replace(first.found, proven=True))
    name = kitchen.app.state.again.keep(run, proven)
    assert "Search a little longer" not in kitchen.client.get(f"/again/{name}").text


def test_a_plan_of_a_minute_that_is_long_gone_is_not_searched_for_longer(kitchen, plan):
    """Made for nine, and looked at again at twenty past."""
    name = planned_at(kitchen, plan, 60)
    made = kitchen.clock.at
    for minutes, old in ((10, False), (20, True)):
        kitchen.clock.at = made + dt.timedelta(minutes=minutes)
        said = plain(kitchen.client.get(f"/again/{name}").text)
        assert (f"This plan was made for {made:%-H:%M}, 20 min ago" in said) == old
    no = kitchen.client.post(f"/again/{name}/longer")
    assert no.status_code == 422
    assert "plan the rest again from how it stands now" in plain(no.text).casefold()


def test_a_longer_search_pressed_twice_is_one() -> None:
    kept = AgainKept()
    begun: list[Future] = []

    def begin() -> Future:
        begun.append(Future())
        return begun[-1]

    first = kept.once("a", begin)
    assert kept.once("a", begin) is first
    assert kept.once("b", begin) is not first
    first.set_result(None)
    assert kept.once("a", begin) is not first
    assert len(begun) == 3


def test_a_longer_search_that_another_press_gave_up_is_not_there_yet(
    kitchen, plan, monkeypatch
) -> None:
    name = planned_at(kitchen, plan, 60)
    given_up: Future = Future()
    given_up.cancel()
    monkeypatch.setattr(kitchen.app.state.again, "once", lambda *_: given_up)
    answer = kitchen.client.post(f"/again/{name}/longer")
    assert answer.status_code == 503
    assert "go on by the plan at the stove" in answer.text.casefold()


def test_a_longer_search_knows_what_has_happened_since(kitchen, plan):
    name = planned_at(kitchen, plan, 60)
    step = running(plan, busy_from(plan, 60))
    kitchen.client.post(
        "/stove/done",
        data={
            "run": kitchen.run, "batch": step.batch, "step": step.step, "seen": "1",
        },
    )  # fmt: skip
    answer = kitchen.client.post(f"/again/{name}/longer")
    assert answer.status_code == 422
    assert "something has happened at the stove" in answer.text
    assert kitchen.client.post("/again/none/longer").status_code == 404


def test_where_the_machine_is_still_planning_she_goes_on_by_the_plan(
    kitchen, monkeypatch
) -> None:
    at_minute(kitchen, 60)
    begin_the_day(kitchen.client)
    monkeypatch.setattr(kitchen.app.state, "beside", Busy())
    monkeypatch.setattr(again_routes, "PATIENCE_S", 0.01)
    answer = kitchen.client.post("/again", data={})
    assert answer.status_code == 503
    assert "go on by the plan at the stove" in answer.text.casefold()


def test_where_the_machine_is_still_planning_the_shown_plan_is_kept(
    kitchen, plan, monkeypatch
) -> None:
    name = planned_at(kitchen, plan, 60)
    monkeypatch.setattr(kitchen.app.state, "beside", Busy())
    monkeypatch.setattr(again_routes, "PATIENCE_S", 0.01)
    monkeypatch.setattr(again_routes, "takes_s", lambda _: 0.0)
    answer = kitchen.client.post(f"/again/{name}/longer")
    assert answer.status_code == 503
    assert kitchen.client.get(f"/again/{name}").status_code == 200


def test_jars_lowered_before_do_not_hide_the_next_step_once_planned_again(
    kitchen, plan
):
    """Their old hour stood there, without a key, in front of all that was next."""
    load = min(plan.answer.timetable.loads, key=lambda load: load.lower_min)
    begun(kitchen)
    minute = load.lowered_min + 240
    at_minute(kitchen, minute)
    shown = kitchen.client.post("/again", data={})
    name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
    kitchen.client.post(f"/again/{name}/take")
    now = state(kitchen)
    assert (load.id, "lower") in now.taken[-1].over
    new = next(x for x in now.plan.timetable.loads if x.id == load.id)
    for one in hands(plan, now):
        for todo in (one.now, *one.jars, one.step, one.then):
            old = todo is not None and not todo.step and todo.start_min < minute
            assert not old
        steps = [s for s in now.plan.timetable.steps if s.person == one.person]
        if any((s.batch, s.step) not in now.steps_done for s in steps):
            assert one.now.step or one.step
    assert new.boil_min >= minute


def test_a_break_and_the_feed_at_ten_are_put_at_other_hours(kitchen, plan):
    """It could only be said that somebody is not here until an hour."""
    begun(kitchen)
    at_minute(kitchen, 60)
    who = next(p for p in plan.problem.people if p.away)
    ((gone, back),) = who.away
    rest = next(
        r
        for r in plan.answer.timetable.breaks
        if r.person != who.id and r.start_min > 60
    )

    def at(minute: int) -> str:
        return f"{kitchen.begins + dt.timedelta(minutes=minute):%-H:%M}"

    page = plain(kitchen.client.get("/again").text)
    assert f"{who.id} is away {at(gone)} to {at(back)}: begins at" in page
    rests = f"{rest.person} rests {at(rest.start_min)} to {at(rest.end_min)}"
    assert f"{rests}: begins at" in page
    said = {
        f"moves|{who.id}|{gone}": at(gone + 40),
        f"moves|{rest.person}|{rest.start_min}": at(rest.start_min + 25),
    }
    shown = kitchen.client.post("/again", data=said)
    assert "Go by this plan" in shown.text, plain(shown.text)
    name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
    kitchen.client.post(f"/again/{name}/take")
    taken = state(kitchen).taken[-1].plan
    now = next(p for p in taken.problem.people if p.id == who.id)
    ((new, until),) = now.away
    assert until - new == back - gone
    assert new >= gone + 40
    assert not [
        s
        for s in taken.timetable.steps
        if s.person == who.id and s.quarters and s.start_min < until and s.end_min > new
    ]
    moved = [r.start_min for r in taken.timetable.breaks if r.person == rest.person]
    assert max(moved) >= rest.start_min + 25
    # what was shown as it was stood where it was
    assert f"{who.id} is away {at(new)} to" in plain(kitchen.client.get("/again").text)


def test_an_absence_that_has_begun_or_an_hour_that_is_past_is_said(kitchen, plan):
    begun(kitchen)
    who = next(p for p in plan.problem.people if p.away)
    ((gone, back),) = who.away
    at_minute(kitchen, gone - 5)
    field = f"moves|{who.id}|{gone}"
    no = kitchen.client.post("/again", data={field: "whenever"})
    assert "is no clock time" in plain(no.text)
    assert 'id="fault-moves-' in no.text
    past = f"{kitchen.begins:%H:%M}"
    no = kitchen.client.post("/again", data={field: past})
    assert f"{who.id}'s {back - gone} min cannot begin at" in plain(no.text)
    at_minute(kitchen, gone + 5)
    assert field not in kitchen.client.get("/again").text
    no = kitchen.client.post("/again", data={field: "19:00"})
    said = f"{who.id} has no break and no absence to come that begins at"
    assert said in plain(no.text)


def test_two_of_one_person_at_one_hour_are_refused_and_stay_typed(kitchen, plan):
    begun(kitchen)
    who = next(p for p in plan.problem.people if p.away)
    ((gone, _),) = who.away
    rest = next(r for r in plan.answer.timetable.breaks if r.person == who.id)
    at_minute(kitchen, 60)
    hour = f"{kitchen.begins + dt.timedelta(minutes=rest.start_min + 60):%-H:%M}"
    no = kitchen.client.post(
        "/again",
        data={
            f"moves|{who.id}|{gone}": hour,
            f"moves|{who.id}|{rest.start_min}": hour,
        },
    )
    assert no.status_code == 422
    assert f"{who.id} cannot have both at once: the break {hour} to" in plain(no.text)
    assert no.text.count(f'value="{hour}"') == 2


def test_loads_keep_their_numbers_whatever_comes_to_the_boil_first(kitchen, plan):
    """They were counted anew by the clock: "load 3 in the pressure canner", which is 4.

    So it is once a plan is taken over in which a load that begins before another, with
    the higher number, comes to the boil first.
    """
    first, second, *others = loads_of(plan)
    loads = (
        replace(first, name=second.name),
        replace(second, name=first.name),
        *others,
    )
    text = kitchen.app.state.shop.day_text()
    begin = BeginDay(loads=loads, plan=kept(plan, text), at=kitchen.begins)
    handle(begin, kitchen.run, ledger=kitchen.records.ledger)
    at = kitchen.begins + dt.timedelta(minutes=5)
    again = plan_again(state(kitchen), at, Told(), seconds=0.2)
    assert isinstance(again, Again)
    called = LoadNames(again.found.problem, again.found.old)
    assert called.short(first.id) == second.name
    assert called.short(second.id) == first.name


def test_which_steps_are_taken_to_have_gone_by_the_plan_is_said(kitchen, plan):
    begun(kitchen)
    first = min(plan.answer.timetable.steps, key=lambda s: s.start_min)
    at_minute(kitchen, first.start_min + 1)
    batch = next(b for b in plan.problem.batches if b.id == first.batch)
    name = f"gone by the plan: {called(batch, first.step)} of {first.batch}"
    assert name in plain(kitchen.client.get("/again").text)
    assert name in plain(kitchen.client.post("/again", data={}).text)


def test_food_that_stands_is_told_first_and_what_is_left_out_with_its_peels(kitchen):
    begun(kitchen)
    answer = kitchen.client.post("/again", data={})
    again_kept = kitchen.client.app.state.again
    run, again = again_kept.of(str(answer.url).rpartition("/")[2])
    new = again.found.new
    late = max(new.loads, key=lambda load: load.lower_min)
    waits = tuple(
        replace(x, lower_min=x.lower_min + 200) if x is late else x for x in new.loads
    )
    out = NoRoom(
        batch="plum jelly 9", jars=8, because="Ben goes at 9:00", prepared=('"Peel"',)
    )
    found = replace(again.found, new=replace(new, loads=waits), left_out=(out,))
    changes = replace(again.told.changes, dropped=("plum jelly 9",))
    again = replace(again, found=found, told=replace(again.told, changes=changes))
    shown = plain(kitchen.client.get(f"/again/{again_kept.keep(run, again, {})}").text)
    first = shown.index("First: food that would stand too long")
    said = shown.index(
        "Ben goes at 9:00, and not all fits then. Left out: plum jelly 9"
    )
    assert first < shown.index("do not can them so") < said
    assert '"Peel" was begun: what is peeled, cut or scalded goes' in shown
    assert "Go by the rest of this plan" in shown
