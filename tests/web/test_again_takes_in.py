"""A batch that was left out in the morning is taken in at the stove."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator
from dataclasses import replace
from html import unescape
from pathlib import Path
from types import SimpleNamespace

import pytest
from starlette.testclient import TestClient

from stillroom.planning.day_file.dayfile import demo_day_text
from stillroom.planning.dayplan import DayPlan, LeftOut
from stillroom.planning.plan import plan_day
from stillroom.planning.timetable import Answer, NoPlan
from stillroom.planning.ways.held_plan import only
from stillroom.planning.which_batches.spares import Spare
from stillroom.records.days import open_records
from stillroom.running.handle import state_of
from stillroom.web.again_kept import MOST
from stillroom.web.app import build_app
from stillroom.web.shop import Shop
from tests.web.conftest import MemoryStore
from tests.web.forms import begin_the_day

ZONE = dt.timezone(dt.timedelta(hours=2))


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


class SetClock:
    def __init__(self, at: dt.datetime) -> None:
        self.at = at

    def now(self) -> dt.datetime:
        return self.at


@pytest.fixture(scope="module")
def fewer(demo_plan: object) -> DayPlan:
    """The demo day without the batch that it begins last: there is room for it."""
    plan = demo_plan
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    begins: dict[str, int] = {}
    for s in plan.answer.timetable.steps:
        begins.setdefault(s.batch, s.start_min)
    name = max(begins, key=lambda b: begins[b])
    problem = only(plan.problem, [b.id for b in plan.batches if b.id != name])
    answer = plan_day(problem, seconds=2)
    assert isinstance(answer, Answer)
    made = plan.batch(name)
    batch = next(b for b in plan.problem.batches if b.id == name)
    spare = Spare(
        made=made,
        batch=batch,
        processes=tuple(p for p in plan.problem.processes if p.id == batch.process),
        wants=(),
    )
    out = LeftOut(
        batches=(name,), product=made.product, jar=made.jar, jars=made.jars,
        why="it matters least", fruit="freeze it", spoils=False,
        each=((name, made.jars),),
    )  # fmt: skip
    return replace(
        plan,
        batches=tuple(b for b in plan.batches if b.id != name),
        problem=problem,
        answer=answer,
        left_out=(out,),
        too_much=NoPlan(clashes=("x",), minimal=False, would_help=()),
        spare=(spare,),
    )


@pytest.fixture
def farm(tmp_path: Path, fewer: DayPlan) -> Iterator[SimpleNamespace]:
    begins = dt.datetime.combine(fewer.day.date, fewer.day.starts, ZONE)
    shop = Shop(MemoryStore(demo_day_text()), planner=lambda text, **_: fewer)
    shop.plan_within(5)
    with open_records(tmp_path / "farm.db") as records:
        app = build_app(shop, records=records)
        app.state.clock = SetClock(begins)
        with TestClient(app, base_url="http://127.0.0.1") as client:
            begin_the_day(client)
            app.state.clock.at = begins + dt.timedelta(minutes=40)
            yield SimpleNamespace(
                client=client,
                records=records,
                run=f"run/{fewer.day.date}",
                name=fewer.spare[0].batch.id,
                app=app,
            )


def state(farm):
    return state_of(farm.run, ledger=farm.records.ledger)


def test_it_is_asked_for_planned_shown_and_taken_over(farm, fewer):
    assert f'name="take-in" value="{farm.name}"' in farm.client.get("/again").text
    shown = farm.client.post("/again", data={"take-in": farm.name})
    assert shown.status_code == 200
    text = plain(shown.text)
    assert f"Taken in: {farm.name}" in text
    assert "There is no room for it" not in text
    assert state(farm).taken == ()
    name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
    taken = farm.client.post(f"/again/{name}/take")
    assert taken.url.path == "/stove"
    now = state(farm)
    assert farm.name in {b.id for b in now.plan.problem.batches}
    assert farm.name in {b.id for b in now.batches}  # its lots can be booked
    jars = sum(n for run in now.loads for b, n in run.load.jars if b == farm.name)
    assert jars == fewer.spare[0].made.jars
    day = farm.client.get("/day")
    assert fewer.left_out  # and is left out no longer
    assert 'id="left-out"' not in day.text
    assert f"/batch/{farm.name.replace(' ', '%20')}" in day.text
    for address in ("/stove", "/again", f"/batch/{farm.name}", "/odds", "/then"):
        assert farm.client.get(address).status_code == 200, address
    # it is in the day now, and not offered again
    assert 'name="take-in"' not in farm.client.get("/again").text
    # and can be left out again
    assert f'name="drop" value="{farm.name}"' in farm.client.get("/again").text


def test_a_day_that_was_planned_again_says_what_is_left_out_still(farm, fewer):
    jars = fewer.left_out[0].jars
    said = f"1 batch ({jars} jars) is left out: not all that the shelf allows has room."
    assert said in plain(farm.client.get("/day").text)
    for changes, is_out in (({}, True), ({"take-in": farm.name}, False)):
        shown = farm.client.post("/again", data=changes)
        name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
        farm.client.post(f"/again/{name}/take")
        day = plain(farm.client.get("/day").text)
        assert "Planned again at" in day
        assert (said in day) is is_out
        assert "No plan for this kitchen can end" not in day


def test_where_there_is_room_it_is_offered_unasked(farm):
    shown = farm.client.post("/again", data={})
    assert "Or take a batch in" in plain(shown.text)
    link = re.search(r'href="(/again/\w+)"><b>With ', shown.text)[1]
    with_it = farm.client.get(link)
    assert f"Taken in: {farm.name}" in plain(with_it.text)


def test_what_was_taken_in_is_there_after_a_restart(farm, fewer, tmp_path):
    shown = farm.client.post("/again", data={"take-in": farm.name})
    name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
    farm.client.post(f"/again/{name}/take")
    before = plain(farm.client.get("/stove").text)
    with open_records(tmp_path / "farm.db") as again:
        app = build_app(farm.app.state.shop, records=again)
        app.state.clock = farm.app.state.clock
        with TestClient(app, base_url="http://127.0.0.1") as client:
            assert plain(client.get("/stove").text) == before


def test_a_batch_that_nobody_left_out_is_refused(farm):
    answer = farm.client.post("/again", data={"take-in": "moon jelly 1"})
    assert answer.status_code == 422
    text = plain(answer.text)
    assert '"moon jelly 1" is no batch that was left out of this day' in text
    assert farm.name in text


def test_looking_at_a_plan_puts_out_neither_it_nor_what_it_offers(farm):
    """Each look kept its offers anew, until the plan itself was no longer kept."""
    shown = farm.client.post("/again", data={})
    address = shown.url.path
    offered = re.findall(r'href="(/again/\w+)"', shown.text)
    assert offered
    for _ in range(MOST + 1):
        assert farm.client.get(address).status_code == 200
    assert f"Taken in: {farm.name}" in plain(farm.client.get(offered[0]).text)
    assert farm.client.get(f"{offered[0]}0").status_code == 404


def test_the_plan_that_is_looked_at_stays_before_those_that_are_not(farm):
    looked_at = farm.client.post("/again", data={}).url.path.rpartition("/")[2]
    kept = farm.app.state.again
    other = kept.keep(*kept.of(looked_at))
    for _ in range(MOST - 1):
        assert farm.client.get(f"/again/{looked_at}").status_code == 200
        kept.keep(*kept.of(looked_at))
    assert farm.client.get(f"/again/{looked_at}").status_code == 200
    assert farm.client.get(f"/again/{other}").status_code == 404


ANOTHER = demo_day_text().replace("elevation", "# by the map\nelevation", 1)
"""The same day, and yet another day file than the run was begun by."""


def test_from_another_day_file_nothing_is_taken_in(farm):
    shop = farm.app.state.shop
    shop.save_day(ANOTHER, "typed", over=shop.day_text())
    shop.plan_within(5)
    assert 'name="take-in"' not in farm.client.get("/again").text
    no = farm.client.post("/again", data={"take-in": farm.name})
    assert no.status_code == 422
    assert "taken in from the day file that the day was begun by" in plain(no.text)
    assert "plan the rest without it" in plain(no.text).lower()
    assert farm.client.post("/again", data={}).status_code == 200
    shop.save_day(demo_day_text(), "typed", over=shop.day_text())
    shop.plan_within(5)
    assert farm.client.post("/again", data={"take-in": farm.name}).status_code == 200


def test_what_was_shown_taken_in_is_what_it_was_when_it_was_shown(farm, fewer):
    (spare,) = fewer.spare
    shown = farm.client.post("/again", data={"take-in": farm.name})
    name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
    shop = farm.app.state.shop
    shop.save_day(ANOTHER, "typed", over=shop.day_text())
    assert farm.client.post(f"/again/{name}/take").url.path == "/stove"

    def of_it(now):
        (batch,) = (b for b in now.batches if b.id == farm.name)
        return batch, {
            (each.load.process_min, each.load.source, each.load.band, each.load.jar)
            for each in now.loads
            if [b for b, _ in each.load.jars] == [farm.name]
        }

    batch, loads = of_it(state(farm))
    process = spare.made.process
    own = (process.total_min, process.source, process.band_ft, spare.made.jar)
    assert loads <= {own}
    assert (batch.jar, batch.jars) == (spare.made.jar, spare.made.jars)
    # and planned again by a day file that is another one, it is what it was
    shown = farm.client.post("/again", data={})
    name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
    assert farm.client.post(f"/again/{name}/take").url.path == "/stove"
    assert len(state(farm).taken) == 2
    again, loads = of_it(state(farm))
    assert again == batch
    assert loads <= {own}
    assert farm.name in {b for each in state(farm).loads for b, _ in each.load.jars}
