"""How sure the day is, and why then: pages over the demo day, without a browser."""

import re
from concurrent.futures import Executor, Future
from dataclasses import replace
from html import unescape
from types import SimpleNamespace

import pytest
from starlette.testclient import TestClient

from stillroom.methods.learned import AS_PUBLISHED, Factor, Learned
from stillroom.planning.day_file.dayfile import new_day_text
from stillroom.planning.day_odds.broken_limits import BrokenLimit
from stillroom.planning.day_odds.odds import odds_learned, odds_of
from stillroom.planning.day_odds.odds_words import rests_on
from stillroom.planning.day_odds.one_more import OneMore
from stillroom.planning.dayplan import DayPlan, LeftOut
from stillroom.planning.daytime import clock_time
from stillroom.planning.other_days.brought_back import BroughtBack
from stillroom.planning.problem import Want
from stillroom.planning.timetable import Answer, NoPlan
from stillroom.web import odds_kept
from stillroom.web.app import build_app
from stillroom.web.odds_drawing import BAR_LONG_PX, draw_odds
from stillroom.web.odds_kept import KEPT, OddsKept, OneMoreKept
from stillroom.web.planner import Planned
from stillroom.web.shop import Shop
from tests.web.conftest import ADDRESS, MemoryStore, remembered


@pytest.fixture
def pages(demo_shop: Shop) -> TestClient:
    return TestClient(build_app(demo_shop), base_url="http://localhost")


@pytest.fixture
def plan(demo_plan: Planned) -> DayPlan:
    assert isinstance(demo_plan, DayPlan)
    return demo_plan


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def test_the_day_names_two_times_to_tell_people(pages: TestClient, plan: DayPlan):
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    odds = odds_of(plan.problem, plan.answer.timetable)
    text = plain(pages.get("/day").text)
    starts = plan.problem.starts_at
    likely, sure = (
        clock_time(starts, odds.likely_min),
        clock_time(starts, odds.sure_min),
    )
    assert f"Four such days in five by {likely}" in text
    assert f"Nineteen in twenty by {sure}" in text


def test_the_odds_page_draws_and_tables_the_same_figures(pages: TestClient):
    html = pages.get("/odds").text
    drawn = re.findall(r'class="of"[^>]*>(\d+)<', html)
    rows = re.findall(r'class="clock">([0-9:]+)</th>', html)
    assert len(drawn) == len(rows) >= 3
    assert list(map(int, drawn)) == sorted(map(int, drawn))
    assert "<title id=" in html
    assert "<desc id=" in html
    assert " style=" not in html
    assert "<script" not in html
    for words in (
        "What decides it",
        "First what moves the end most",
        "jars and as many lids",
        "common practice",
    ):
        assert words in plain(html)


@pytest.mark.parametrize(
    ("past", "said"), [(1, True), (0, False), (24 * 60, False), (None, False)]
)
def test_her_own_hour_is_told_where_it_has_a_bar_that_is_no_half_hours(
    plan: DayPlan, past: int | None, said: bool
):
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    starts, table = plan.problem.starts_at, plan.answer.timetable
    assert starts.endswith(("00", "30"))
    half_hour = odds_of(plan.problem, table).likely_min // 30 * 30
    hour = None if past is None else half_hour + past
    asked = replace(plan.problem, done_by_min=hour)
    drawing = draw_odds(odds_of(asked, table), starts)
    own = clock_time(starts, half_hour + 1) if said else ""
    assert drawing.own == own
    begins = "Chance to be done by each half hour"
    assert drawing.title == (f"{begins}, and by {own}" if said else begins)


def test_a_figure_of_the_odds_page_stands_in_its_own_words(pages: TestClient):
    """There stood "common practice, no source (common practice, no source)"."""
    text = plain(pages.get("/odds").text)
    assert "Simulated: 10,000 days" in text
    assert "practice, no source (common practice" not in text


def test_one_spare_jar_takes_one_lid():
    shop = Shop(
        MemoryStore(new_day_text().replace("jars = 14", "jars = 7")),
        seconds=0.5,
        planner=remembered,
    )
    text = plain(TestClient(build_app(shop), base_url=ADDRESS).get("/odds").text)
    assert "1 jar and a lid beyond the 8" in text


def test_every_step_of_a_batch_page_says_why_then(pages: TestClient, plan: DayPlan):
    batch = plan.batches[0]
    html = pages.get(f"/batch/{batch.id}").text
    links = re.findall(r'href="(/then\?[^"]+)"', html)
    assert isinstance(plan.answer, Answer)
    mine = [s for s in plan.answer.timetable.steps if s.batch == batch.id]
    assert len(links) == len(mine)
    for link in links:
        answer = pages.get(unescape(link))
        assert answer.status_code == 200
        assert "begins at" in plain(answer.text)
        assert " style=" not in answer.text


def test_every_load_says_why_then(pages: TestClient, plan: DayPlan):
    assert isinstance(plan.answer, Answer)
    loads = sorted(plan.answer.timetable.loads, key=lambda load: load.boil_min)
    for number, load in enumerate(loads, 1):
        html = pages.get(f"/load/{load.id}").text
        link = re.findall(r'href="(/then\?[^"]+)"', html)
        assert len(link) == 1
        text = plain(pages.get(unescape(link[0])).text)
        assert f"Lower load {number} into the {load.canner} begins at" in text
        assert load.id not in text


def test_the_end_of_the_day_has_a_why_and_its_links_lead_somewhere(pages: TestClient):
    html = pages.get("/then").text
    assert "The day as a whole" in plain(html)
    for link in set(re.findall(r'href="(/(?:batch|load)/[^"]+)"', html)):
        assert pages.get(unescape(link)).status_code == 200


def test_what_is_not_in_the_plan_is_a_page_of_words(pages: TestClient):
    answer = pages.get("/then?of=%3Cscript%3E/sing")
    assert answer.status_code == 404
    assert "The plan has nothing called" in plain(answer.text)
    assert "<script>" not in answer.text


def test_without_a_day_both_pages_lead_to_the_day():
    class Empty:
        def current(self) -> None:
            return None

        def save(self, text: str, why: str, **more: object) -> None: ...

    client = TestClient(build_app(Shop(Empty())), base_url="http://localhost")
    for path in ("/odds", "/then", "/then?of=x"):
        answer = client.get(path, follow_redirects=False)
        assert answer.headers["location"] == "/day"


def test_odds_are_reckoned_once_for_a_plan(plan: DayPlan):
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    kept = OddsKept()
    first = kept.of(plan.problem, plan.answer.timetable)
    assert kept.of(plan.problem, plan.answer.timetable) is first
    same = replace(plan.answer.timetable, steps=(*plan.answer.timetable.steps,))
    assert same is not plan.answer.timetable
    assert kept.of(replace(plan.problem), same) is first


def test_odds_of_the_rest_and_of_another_kitchen_are_their_own(plan: DayPlan):
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    kept, table = OddsKept(), plan.answer.timetable
    whole = kept.of(plan.problem, table)
    rest = kept.of(plan.problem, table, since_min=table.finish_min - 60)
    assert rest is not whole
    assert rest == odds_learned(
        plan.problem, table, AS_PUBLISHED, since_min=table.finish_min - 60
    )
    later = replace(plan.problem, done_by_min=table.finish_min - 10)
    assert kept.of(later, table) != whole
    slow = Factor(
        middle=1.5, low=1.4, high=1.6, surely_above=1.4, surely_below=1.6, runs=7
    )
    name = (plan.batches[0].product, plan.problem.batches[0].steps[0].id)
    own = kept.of(plan.problem, table, Learned(steps={name: slow}))
    assert own is not whole
    assert kept.of(plan.problem, table, Learned(steps={name: slow})) is own
    assert kept.of(plan.problem, table) is whole
    for minute in range(KEPT):  # what is asked for now and then stays before the others
        kept.of(plan.problem, table, since_min=minute)
        assert kept.of(plan.problem, table) is whole


def test_each_step_that_decides_says_what_its_minutes_rest_on(
    pages: TestClient, plan: DayPlan
):
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    odds = odds_of(plan.problem, plan.answer.timetable)
    text = plain(pages.get("/odds").text)
    for one in odds.matters:
        basis = rests_on(plan.problem, plan.answer.timetable, one.of, one.step)
        assert basis
        assert " ".join(basis.split()) in text


class AtOnce(Executor):
    """Calls when asked, and counts."""

    calls = 0

    def submit(self, fn, /, *args, **kwargs):
        self.calls += 1
        done = Future()
        done.set_result(fn(*args, **kwargs))
        return done


def test_one_more_is_planned_when_asked_for_and_once(
    demo_shop: Shop, monkeypatch: pytest.MonkeyPatch
):
    asked = []

    def searched(problem, table, *, seconds):
        asked.append(seconds)
        gain = {"likely_min": 530, "timetable": table}
        base = table.finish_min - 10
        return (
            OneMore(
                what="one more helper",
                earlier_min=31,
                finish_min=base - 31,
                **gain,
            ),
            OneMore(what="one more burner", earlier_min=0, finish_min=base, **gain),
        )

    monkeypatch.setattr(odds_kept, "worth_of_one_more", searched)
    monkeypatch.setattr("stillroom.web.routes.odds.ONE_MORE", OneMoreKept())
    beside = AtOnce()
    pages = TestClient(build_app(demo_shop, beside=beside), base_url="http://localhost")
    before = pages.get("/odds").text
    assert asked == []
    (link,) = re.findall(r'href="(/odds\?more[^"#]*)', before)
    for _ in range(2):
        text = plain(pages.get(link).text)
        assert "One more helper 31 min" in text
        assert "One more burner no gain found" in text
        told = re.search(r"done by (\S+), where the plan above ends at ([\d:]+)", text)
        assert told, text
        assert told[1] != told[2]
        assert re.search(rf"One more burner no gain found {told[1]} ", text)
    assert asked == [odds_kept.ONE_MORE_S]
    assert beside.calls == 1


def test_what_one_more_brings_back_is_said_of_a_day_that_is_too_full(
    plan: DayPlan, monkeypatch: pytest.MonkeyPatch
):
    out = LeftOut(
        batches=("pear butter 3",),
        product="pear butter",
        jar="pint",
        jars=4,
        why="it matters least",
        fruit="freeze it",
        spoils=False,
        each=(("pear butter 3", 4),),
    )
    full = replace(
        plan,
        left_out=(out,),
        too_much=NoPlan(clashes=("x",), minimal=False, would_help=()),
    )

    def back(whole, *, seconds):
        assert whole.left_out
        found = {"what": "one more burner", "finish_min": 500}
        return (
            BroughtBack(batches=(("pear butter 3", 4),), **found),
            BroughtBack(batches=(), **found),
        )

    monkeypatch.setattr(odds_kept, "worth_of_one_more", lambda *a, seconds: ())
    monkeypatch.setattr(odds_kept, "brought_back", back)
    monkeypatch.setattr("stillroom.web.routes.odds.ONE_MORE", OneMoreKept())
    shop = Shop(MemoryStore("[day]\n"), planner=lambda text, **_: full)
    shop.plan_within(5)
    app = build_app(shop, beside=AtOnce())
    pages = TestClient(app, base_url="http://localhost")
    why_not = plain(pages.get("/then?of=pear+butter+3").text)
    assert "Left out: pear butter 3 (4 pint): it matters least" in why_not
    assert "Why not all of it fits X" in why_not
    text = plain(pages.get("/odds?more=1").text)
    assert "To the day as it is planned, without what is left out:" in text
    assert "And of the 4 jars left out" in text
    assert "One more burner 4 jars pear butter 3" in text
    assert "One more burner none, in its time" in text


def test_a_search_that_failed_is_tried_again(plan: DayPlan):
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)

    class Fails(Executor):
        def submit(self, fn, /, *args, **kwargs):
            broken = Future()
            broken.set_exception(RuntimeError("the planner was ended"))
            return broken

    kept = OneMoreKept()
    for _ in range(2):
        with pytest.raises(RuntimeError, match="ended"):
            kept.of(plan.problem, plan.answer.timetable, Fails())
    assert kept._kept == {}


def test_a_bar_is_as_long_as_its_chance(plan: DayPlan):
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    odds = odds_of(plan.problem, plan.answer.timetable, days=1000)
    drawing = draw_odds(odds, plan.problem.starts_at)
    for bar in drawing.bars:
        assert bar.width_px == round(bar.share * BAR_LONG_PX)
    assert drawing.bars[-1].share > 0.99


def shown(plan: DayPlan) -> str:
    shop = Shop(MemoryStore("[day]\n"), planner=lambda text, **_: plan)
    shop.plan_within(5)
    client = TestClient(build_app(shop), base_url="http://localhost")
    return client.get("/odds").text


def test_the_page_answers_her_hour_and_each_promise(plan: DayPlan):
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    table = replace(plan.answer.timetable)  # one whose odds nobody has kept
    even = odds_of(plan.problem, table).even_min
    hour = even if even % 30 else even + 1
    wants = (Want(product=plan.problem.batches[0].product, by_min=hour),)
    problem = replace(plan.problem, done_by_min=hour, wants=wants)
    answer = replace(plan.answer, timetable=table)
    html = shown(replace(plan, problem=problem, answer=answer))
    named = clock_time(problem.starts_at, hour)
    assert f'<p class="sentence">Done by {named}, as you wanted, ' in html
    assert f"there by {named}, as promised: " in html
    assert len(re.findall(rf">{named}</text>", html)) == 1  # a bar
    assert len(re.findall(rf">{named}</th>", html)) == 1  # and a row


def test_a_limit_gives_way_as_often_as_the_terminal_says(
    plan: DayPlan, monkeypatch: pytest.MonkeyPatch
):
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    limit = BrokenLimit(kind="x", times_a_day=1.0, over_min=3.0, share_of_days=0.5)
    odds = odds_of(plan.problem, plan.answer.timetable, days=100)
    kept = SimpleNamespace(of=lambda *_: replace(odds, broken=(limit,)))
    monkeypatch.setattr("stillroom.web.routes.odds.ODDS", kept)
    assert '<td data-label="times a day">1.0</td>' in shown(plan)
