"""A what-if day or a way out becomes the day; how it was before is never lost."""

from __future__ import annotations

import re
import threading
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from html import unescape
from pathlib import Path
from types import SimpleNamespace

import pytest
from starlette.testclient import TestClient

from stillroom.planning.day_file.dayfile import new_day_text, read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.timetable import Answer
from stillroom.records.days import open_records
from stillroom.running.day_mark import mark_of
from stillroom.web.app import build_app
from stillroom.web.planner import plan_text
from stillroom.web.routes import what_if as routes
from stillroom.web.shop import Shop
from stillroom.web.shown_kept import read_shown
from tests.web.forms import begin_the_day
from tests.web.test_pages import changed, form_of

TEXT = new_day_text()
CHANGE = "kitchen.counter=77"


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


@pytest.fixture
def farm(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[SimpleNamespace]:
    """Pages over a record, and every search that they asked for."""
    monkeypatch.setattr(routes, "SECONDS", 0.5)
    asked: list[dict[str, object]] = []

    def planner(text: str, **more: object):
        asked.append({"text": text, **more})
        return plan_text(text, **more)

    with open_records(tmp_path / "farm.db") as records:
        records.days.save(TEXT, "typed in")
        shop = Shop(records.days, seconds=0.5, planner=planner)
        with ThreadPoolExecutor(1) as beside:
            app = build_app(shop, records=records, beside=beside)
            with TestClient(app, base_url="http://127.0.0.1") as client:
                shop.plan_within(60)
                yield SimpleNamespace(
                    client=client, shop=shop, records=records, asked=asked
                )


def take(farm: SimpleNamespace, change: str = CHANGE, of: str | None = None):
    mark = mark_of(farm.shop.day_text()) if of is None else of
    sent = {"change": change, "of": mark}
    return farm.client.post("/what-if/take", data=sent, follow_redirects=False)


def test_what_was_shown_becomes_the_day_and_its_plan_is_where_the_search_begins(farm):
    shown = farm.client.get("/what-if", params={"other-1": CHANGE}).text
    assert shown.count("Plan the day so") == 1  # none for the day as it is
    change = unescape(re.search(r'name="change" value="([^"]*)"', shown)[1])
    of = re.search(r'name="of" value="([^"]*)"', shown)[1]
    assert change == CHANGE
    answer = take(farm, change, of)
    assert (answer.status_code, answer.headers["location"]) == (303, "/day")
    assert read_day(farm.shop.day_text()).kitchen.counter_places == 77
    # the keeper's remarks stay
    assert [x for x in TEXT.splitlines() if "#" in x and "counter" not in x] == [
        x for x in farm.shop.day_text().splitlines() if "#" in x and "counter" not in x
    ]
    plan = farm.shop.plan_within(60)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    begun = farm.asked[-1]["begin_with"][0]
    assert plan.answer.finish_min <= begun.plan.finish_min
    page = plain(farm.client.get("/day").text)
    assert "the counter has room for 77 jars. The day as it was before" in page


def test_the_day_as_it_was_is_kept_and_comes_back(farm):
    take(farm)
    farm.shop.plan_within(60)
    assert 'href="/day/before"' in farm.client.get("/kitchen/file").text
    before = farm.client.get("/day/before").text
    assert "What if: the counter has room for 77 jars" in plain(before)
    assert "typed in" in plain(before)
    number = re.search(r'name="number" value="([^"]*)"', before)[1]
    sent = {"number": number, "of": mark_of(farm.shop.day_text())}
    answer = farm.client.post("/day/before/take", data=sent, follow_redirects=False)
    assert answer.status_code == 303
    assert farm.shop.day_text() == TEXT
    # and what it was in between is kept too
    kept = [r.text for r in farm.records.days.revisions()]
    assert len(kept) == 3
    assert kept[0] == kept[2] == TEXT
    assert read_day(kept[1]).kitchen.counter_places == 77
    assert "Changed" not in plain(farm.client.get("/day").text)


def test_what_was_promised_is_there_after_a_restart(farm):
    farm.client.get("/what-if", params={"other-1": CHANGE})
    take(farm)
    now = farm.shop.plan_within(60)
    kept = read_shown(farm.records.days.newest().shown)
    assert len(kept) == 1
    assert kept[0] == farm.asked[-1]["begin_with"][0]
    again: list[dict[str, object]] = []

    def planner(text: str, **more: object):
        again.append(more)
        return plan_text(text, **more)

    shop = Shop(farm.records.days, seconds=0.5, planner=planner, begin_with=kept)
    plan = shop.plan_within(60)
    assert again[0]["begin_with"] == kept
    assert plan.answer.finish_min <= kept[0].plan.finish_min
    assert {b.id for b in plan.batches} == {b.id for b in now.batches}
    # back to the day as it was: nothing was shown of that one
    farm.shop.save_day(TEXT, "back", over=farm.shop.day_text())
    assert farm.records.days.newest().shown == ""


@pytest.mark.parametrize("kept", ["", "{", "[]", '{"starts_at": 3}', "x" * 99])
def test_what_cannot_be_read_is_a_search_that_begins_anew(kept):
    assert read_shown(kept) == ()


@pytest.mark.parametrize("number", ["", "99", "x" * 50, "-1"])
def test_a_day_that_is_not_kept_is_said(farm, number):
    sent = {"number": number, "of": mark_of(TEXT)}
    answer = farm.client.post("/day/before/take", data=sent)
    assert answer.status_code == 404
    assert "Choose one of those that are listed" in plain(answer.text)


def test_a_second_tap_changes_nothing_and_leads_to_the_day(farm):
    mark = mark_of(TEXT)
    for _ in range(2):
        answer = take(farm, of=mark)
        assert (answer.status_code, answer.headers["location"]) == (303, "/day")
    assert len(farm.records.days.revisions()) == 2
    sent = {"number": "1", "of": mark_of(farm.shop.day_text())}
    for _ in range(2):
        answer = farm.client.post("/day/before/take", data=sent, follow_redirects=False)
        assert (answer.status_code, answer.headers["location"]) == (303, "/day")
    assert len(farm.records.days.revisions()) == 3
    # another change from the page of before is none of those
    assert take(farm, "kitchen.counter=66", of="0" * 64).status_code == 409


def test_nothing_is_saved_where_the_day_was_changed_meanwhile(farm):
    farm.shop.save_day(TEXT + "# hers\n", "by another hand", over=TEXT)
    for answer in (
        take(farm, of="0" * 64),
        farm.client.post("/day/before/take", data={"number": "1", "of": "0" * 64}),
    ):
        assert answer.status_code == 409
        assert "Nothing was saved: the day file is no longer" in plain(answer.text)
    assert farm.shop.day_text() == TEXT + "# hers\n"


def test_nothing_is_saved_once_the_day_has_begun(farm):
    assert begin_the_day(farm.client).status_code == 200
    answer = take(farm)
    assert answer.status_code == 409
    assert "under Plan the rest again" in plain(answer.text)
    assert farm.shop.day_text() == TEXT
    shown = farm.client.get("/what-if", params={"other-1": CHANGE}).text
    assert "Plan the day so" not in shown


@pytest.mark.parametrize(
    "change", ["", "garden.rows=3", "day.ends=whenever", "x" * 3000]
)
def test_a_change_that_cannot_be_read_changes_nothing(farm, change):
    assert take(farm, change).status_code == 400
    assert farm.shop.day_text() == TEXT


def test_every_row_that_cannot_be_read_is_marked(farm):
    asked = {"other-1": "garden.rows=3", "other-2": CHANGE, "other-3": "day.ends=noon"}
    answer = farm.client.get("/what-if", params=asked)
    assert answer.status_code == 400
    assert 'id="fault-1"' in answer.text
    assert 'id="fault-2"' not in answer.text
    assert 'id="fault-3"' in answer.text


def test_a_way_out_can_be_taken_over_from_the_day(farm):
    day = read_day(TEXT)
    people = "; ".join(
        f"people.{p.name}.goes=09:30; people.{p.name}.breaks=nothing"
        for p in day.people
    )
    take(farm, f"day.ends=09:30; day.done_by=nothing; {people}")
    plan = farm.shop.plan_within(60)
    assert isinstance(plan, DayPlan)
    none = plan.too_much or plan.answer
    typed = [way for way in none.ways_out if way.typed]
    assert typed
    page = farm.client.get("/day").text
    for way in typed:
        assert f'value="{way.typed}"' in unescape(page)
    way = typed[-1]
    assert take(farm, way.typed).status_code == 303
    now = farm.shop.plan_within(60)
    assert way.timetable in [known.plan for known in farm.asked[-1]["begin_with"]]
    assert isinstance(now.answer, Answer)
    made = {step.batch for step in way.timetable.steps}
    assert made <= {b.id for b in now.batches}  # what was promised is kept
    if made == {b.id for b in now.batches}:
        assert now.answer.finish_min <= way.finish_min


@pytest.mark.parametrize("way", ["form", "file", "what if", "as before"])
def test_of_two_windows_that_save_at_one_moment_one_is_told_so(farm, monkeypatch, way):
    """Both have looked whether the day is still theirs before either saves."""
    sent = form_of(farm.client.get("/kitchen").text)
    page = farm.client.get("/kitchen/file").text
    (seen,) = set(re.findall(r'name="drawn-from" value="([^"]+)"', page))
    older = TEXT + "# older"
    if way == "as before":
        for text in (older, older + "er", TEXT):
            farm.shop.save_day(text, "again", over=farm.shop.day_text())
    mark = mark_of(TEXT)
    both = threading.Barrier(2)
    save = farm.shop.save_day

    def both_at_once(*args, **more):
        both.wait(timeout=20)
        return save(*args, **more)

    monkeypatch.setattr(farm.shop, "save_day", both_at_once)

    def typed(n: int) -> int:
        name = ("Wren", "Aunt")[n]
        post = farm.client.post
        if way == "form":
            body = changed(sent, do="save", **{"people[1]:name": name})
            return post("/kitchen", data=body, follow_redirects=False).status_code
        if way == "file":
            hers = TEXT.replace('name = "Keeper"', f'name = "{name}"')
            body = {"text": hers, "drawn-from": seen}
            return post("/kitchen/file", data=body, follow_redirects=False).status_code
        if way == "what if":
            return take(farm, f"kitchen.counter={60 + n}", of=mark).status_code
        body = {"number": str(n + 2), "of": mark}
        return post("/day/before/take", data=body, follow_redirects=False).status_code

    before = len(farm.records.days.revisions())
    with ThreadPoolExecutor(2) as pool:
        assert sorted(pool.map(typed, range(2))) == [303, 409]
    assert len(farm.records.days.revisions()) == before + 1
