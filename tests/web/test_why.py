"""The pages of "why", and a log looked back on: words, picture, table, refusals."""

import re

import pytest

from stillroom.explaining.explanation import Explanation
from stillroom.explaining.topics import TOPICS, explain
from stillroom.web.chart import HIGH, WIDE, chart, nice
from tests.explaining.logs import log_of
from tests.web.test_pages import plain

OURS = {"Origin": "http://127.0.0.1:8765"}


def test_the_book_leads_to_each_why(client):
    assert 'href="/why"' in client.get("/book").text
    html = client.get("/why").text
    for name in TOPICS:
        assert f'href="/why/{name}"' in html
    assert 'href="/log"' in html


@pytest.mark.parametrize("name", TOPICS)
def test_each_picture_is_described_and_stands_beside_its_figures(client, name):
    answer = client.get(f"/why/{name}")
    assert answer.status_code == 200
    html = answer.text
    (svg,) = re.findall(r'<svg role="img".*?</svg>', html, re.DOTALL)
    (named,) = re.findall(r'aria-labelledby="([^"]+)"', svg)
    for one in named.split():
        assert f'id="{one}"' in svg
    assert len(re.findall(r"<desc [^>]*>(.+?)</desc>", svg, re.DOTALL)[0]) > 60
    assert "style=" not in html
    assert html.count("<table") == 1
    assert "<caption>" in html
    assert f'action="/why/{name}"' in html


UNITS = {"°F": "°C", "ft": "m", "kg": "lb", "cm": "in", "inHg": "kPa"}
"""A unit of an axis that some keepers do not measure in, and theirs."""


@pytest.mark.parametrize("name", TOPICS)
def test_each_axis_has_the_numbers_of_both_units(name):
    told = explain(name, {})
    assert isinstance(told, Explanation)
    picture = told.picture
    assert picture is not None
    drawn = chart(picture)
    for label, ticks in (
        (picture.x_label, drawn.x_ticks),
        (picture.y_label, drawn.y_ticks),
    ):
        words = label.replace(",", " ").split()
        other = next((UNITS[word] for word in words if word in UNITS), "")
        other = "" if "tenfolds" in words else other
        assert all(tick.also.endswith(f" {other}") == bool(other) for tick in ticks)
        numbers = [tick.also for tick in ticks if tick.also]
        assert len(set(numbers)) == len(numbers)  # as fine as the steps are


def test_the_numbers_beside_each_other_are_the_same_height():
    told = explain("boil", {})
    assert isinstance(told, Explanation)
    assert told.picture is not None
    drawn = chart(told.picture)
    degrees = {tick.text: tick.also for tick in drawn.y_ticks}
    assert degrees["212" if "212" in degrees else "210"] in ("100 °C", "99 °C")
    assert {"0": "0 m", "10,000": "3,048 m"}.items() <= {
        tick.text: tick.also for tick in drawn.x_ticks
    }.items()


@pytest.mark.parametrize("name", TOPICS)
def test_a_picture_is_described_in_both_scales(name):
    told = explain(name, {})
    assert isinstance(told, Explanation)
    assert told.picture is not None
    assert not re.findall(r"°F(?! \()", told.picture.desc)


@pytest.mark.parametrize("name", TOPICS)
def test_lines_differ_without_colour_and_stay_in_the_drawing(client, name):
    html = client.get(f"/why/{name}").text
    lines = re.findall(r'<polyline class="line line-(\d)" points="([^"]+)"', html)
    assert [int(number) for number, _ in lines] == list(range(len(lines)))
    for _, points in lines:
        for point in points.split():
            x, y = map(float, point.split(","))
            assert -1 <= x <= WIDE + 1
            assert -1 <= y <= HIGH + 1
    css = client.get("/static/why.css").text
    dashes = re.findall(r"\.line-\d \{ stroke-dasharray: ([^;]+);", css)
    assert len(set(dashes)) == len(dashes) == 2  # and the first is whole


def test_the_published_limit_is_a_line_with_its_words(client):
    html = client.get("/why/jar", params={"product": "plum butter"}).text
    assert "published-line" in html
    assert "published 10 min are over" in html  # half of the band 1,001 to 6,000 ft


def test_what_is_asked_is_what_is_drawn(client):
    text = plain(client.get("/why/boil", params={"elevation": "8000 ft"}).text)
    assert "197.3 °F" in text.replace("\xa0", " ")


@pytest.mark.parametrize(
    ("path", "params", "status", "match"),
    [
        ("/why/gravity", {}, 404, "Nothing is explained here"),
        ("/why/set", {"ph": "9"}, 400, "9 is outside 2.6 to 4"),
        ("/why/set", {"ph": "<script>" * 40}, 400, "give a number"),
        ("/why/boil", {"elevation": "2150"}, 400, "needs its unit"),
        ("/why/pot", {"stove": "wood"}, 400, "Give one of gas"[1:]),
        ("/why/jar", {"product": "pumpkin butter"}, 422, "Instead:"),
        ("/why/canner", {"burner": "0.4 kW", "water": "20 L"}, 422, "full boil"),
    ],
)
def test_nonsense_is_kept_in_its_field(client, path, params, status, match):
    answer = client.get(path, params=params)
    assert answer.status_code == status
    assert match in plain(answer.text)
    assert "<script>" not in answer.text


def test_a_log_is_pasted(client):
    form = {"log": log_of(lost=(5, 8)), "elevation": "2150 ft"}
    answer = client.post("/log", data=form, headers=OURS)
    assert answer.status_code == 200
    text = plain(answer.text)
    assert "the boil was lost once" in text
    assert "never shortens a process" in text.replace("\n", " ")
    assert '<svg role="img"' in answer.text


def test_a_log_is_sent_as_a_file(client):
    answer = client.post(
        "/log",
        data={"elevation": "2150 ft", "product": "plum butter", "jar": "half-pint"},
        files={"file": ("log.csv", log_of().encode(), "text/csv")},
        headers=OURS,
    )
    assert answer.status_code == 200
    assert "beside the published 10 min" in plain(answer.text)


@pytest.mark.parametrize(
    ("log", "match"),
    [
        ("", "Paste a log"),
        ("time_min,jar_f\n0,170\n1,171\n20,172\n21,173\n", "Line 4"),
        ("\x00\x01<b>", "column"),
    ],
)
def test_a_bad_log_is_answered_beside_it(client, log, match):
    answer = client.post("/log", data={"log": log, "elevation": "1 ft"}, headers=OURS)
    assert answer.status_code == 400
    assert match in plain(answer.text)
    assert "<b>" not in answer.text.split("<textarea")[1].split("</textarea>")[0]


def test_a_log_without_the_air_asks_for_it(client):
    answer = client.post("/log", data={"log": log_of()}, headers=OURS)
    assert answer.status_code == 400
    assert "height of the kitchen" in plain(answer.text)


def test_a_log_from_a_foreign_page_is_turned_away(client):
    foreign = {"Origin": "http://elsewhere.example"}
    assert client.post("/log", data={"log": "x"}, headers=foreign).status_code == 403


def test_a_process_leads_to_its_jar(client):
    asked = {"product": "plum jelly", "jar": "half-pint", "elevation": "2150 ft"}
    html = client.get("/book/process", params=asked).text
    (link,) = re.findall(r'href="(/why/jar\?[^"]+)"', html)
    assert client.get(link.replace("&amp;", "&")).status_code == 200


def test_round_numbers_frame_what_is_drawn():
    for low, high in ((0.0, 1.0), (193.7, 220.0), (-3.0, 1e6), (5.0, 5.0)):
        ticks = nice(low, high)
        assert ticks[0] <= low
        assert ticks[-1] >= high
        assert len(ticks) <= 9


def test_no_two_marks_lie_on_each_other():
    from stillroom.explaining.topics import explain

    for name in TOPICS:
        drawn = chart(explain(name, {}).picture)
        flat = [mark.label_y for mark in drawn.marks if not mark.upright]
        upright = [mark.label_y for mark in drawn.marks if mark.upright]
        for levels in (flat, upright):
            for i, level in enumerate(levels):
                assert all(abs(level - other) > 10 for other in levels[:i]), name


def test_words_keep_away_from_the_lines():
    from stillroom.explaining.topics import explain

    (rise,) = [
        mark
        for mark in chart(explain("jelly-rise", {}).picture).marks
        if not mark.upright
    ]
    assert rise.anchor == "start"  # on the right both lines cross the words


def test_batch_and_load_lead_to_their_whys(demo_plan, demo_shop):
    from starlette.testclient import TestClient

    from stillroom.web.app import build_app

    client = TestClient(build_app(demo_shop), base_url="http://localhost")
    asked = [f"/batch/{batch.id}" for batch in demo_plan.batches]
    asked += [f"/load/{one.id}" for one in demo_plan.answer.timetable.loads]
    links = set()
    for page in asked:
        links |= set(re.findall(r'href="(/why/[^"]+)"', client.get(page).text))
    assert {link.split("?")[0] for link in links} >= {
        "/why/pot", "/why/jar", "/why/canner", "/why/set",
    }  # fmt: skip
    for link in links:
        assert client.get(link.replace("&amp;", "&")).status_code == 200, link


def test_the_batch_and_its_why_say_the_same_minutes(demo_plan, demo_shop):
    """Both reckon by one equation; the why takes 12 % solids for every juice."""
    from starlette.testclient import TestClient

    from stillroom.web.app import build_app

    client = TestClient(build_app(demo_shop), base_url="http://localhost")
    compared = 0
    for batch in demo_plan.batches:
        back = batch.checked.back_to_boil_min
        html = client.get(f"/batch/{batch.id}").text
        links = re.findall(r'href="(/why/pot[^"]+)"', html)
        assert bool(links) == (back is not None)
        if links and "burner" in links[0]:
            told = plain(client.get(links[0].replace("&amp;", "&")).text)
            minutes = float(re.search(r"it takes ([\d.]+) min back", told)[1])
            compared += 1
            assert minutes == pytest.approx(back, abs=0.15)
    assert compared


@pytest.mark.parametrize("width", [390, 1280])
def test_pictures_fit_a_phone_and_a_desk(site, open_page, width):
    page = open_page(width=width)
    for name in ("jar", "pot", "thermometer"):
        page.goto(f"{site}/why/{name}")
        box = page.locator("svg[role=img]").bounding_box()
        assert 0 <= box["x"] <= box["x"] + box["width"] <= width
        assert box["height"] > 150
        wide = page.evaluate("document.documentElement.scrollWidth")
        assert wide <= width


def test_a_log_is_looked_back_on_in_a_browser(site, open_page):
    page = open_page()
    page.goto(f"{site}/log")
    page.fill("#log", log_of(lost=(5, 8)))
    page.click("button.key")
    page.wait_for_selector("svg[role=img]")
    assert "lost once" in page.inner_text("#answer")
