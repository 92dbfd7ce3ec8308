"""Lots of the day, a broken jar, a wrong process: keys that book once."""

import datetime as dt
import html
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from stillroom.planning.day_file.dayfile import demo_day_text
from stillroom.records.days import Records, open_records
from stillroom.running.commands import BeginDay, FinishStep, LiftLoad, MarkFullBoil
from stillroom.running.handle import handle, state_of
from stillroom.running.her_measure import is_metric
from stillroom.stock.commands import Receive
from stillroom.stock.events import Way
from stillroom.stock.handle import KeptStock, stock_of
from stillroom.stock.lotcode import printed
from stillroom.stock.making import holds
from stillroom.web.app import build_app
from tests.running.a_run import LOADS, RUN, START, Kitchen, batch, load
from tests.stock.kitchen import thing
from tests.web.conftest import ADDRESS
from tests.web.forms import forms, send, words
from tests.web.test_stock import Clock, Shop


@pytest.fixture
def records(tmp_path: Path) -> Iterator[Records]:
    with open_records(tmp_path / "stillroom.db") as opened:
        yield opened


@pytest.fixture
def client(records: Records) -> TestClient:
    app = build_app(Shop(), port=8765, records=records)  # type: ignore[arg-type]
    app.state.clock = Clock()
    app.state.clock.at = START + dt.timedelta(hours=1)
    return TestClient(app, base_url=ADDRESS)


@pytest.fixture
def kitchen(records: Records) -> Kitchen:
    return Kitchen(records.ledger).begin().fill("plum jelly 1").can("canner/1")


def stock(records: Records):
    return stock_of(records.ledger)


def jars(records: Records) -> dict[str, int]:
    now = stock(records)
    return {
        now.made(code).batch.run_batch: now.balance(code)
        for code in now.lots
        if now.made(code)
    }


def test_without_any_run_the_page_says_so(client):
    assert "No day was run at the stove yet" in client.get("/stock/made").text
    assert client.get("/stock/after").status_code == 200


def test_of_a_day_that_nobody_began_there_is_nothing_to_book(client, kitchen):
    """No other day stands in for it; that none was ever run was said, and untrue."""
    page = client.get("/stock/made?run=2031-01-01").text
    assert forms(page, "/stock/made/book") == []
    said = words(page)
    assert "begun at the stove by the plan of Wednesday 1 January 2031" in said
    assert "No day was run" not in said
    assert 'href="/stock/made">Lots of the day that was begun last' in page
    for other in ("/stove/broke", "/stove/wrong"):
        answer = client.get(f"{other}?run=2031-01-01")
        assert answer.status_code == 200
        assert "load 1" not in words(answer.text).lower()
    for address in (f"/stock/made?run={RUN.removeprefix('run/')}", "/stock/made"):
        assert "2 lots are ready" in words(client.get(address).text)


def test_one_key_books_the_days_lots_and_a_double_tap_once(client, records, kitchen):
    page = client.get("/stock/made").text
    assert "2 lots are ready to be booked" in words(page)
    fields = forms(page, "/stock/made/book")[0]
    for _ in range(3):
        assert send(client, "/stock/made/book", fields).status_code == 200
    assert jars(records) == {"plum jelly 1": 8, "plum jelly 2": 1}
    again = forms(client.get("/stock/made").text, "/stock/made/book")
    assert all(("never", "1") in form for form in again)  # nothing is ready any more


def test_too_few_is_not_called_none(client, records, kitchen):
    """There stood "the stock has none of 5 lids", of a stock that has 3 lids."""
    kept = KeptStock(records.ledger)
    kept.handle(Receive(things=(thing("3 lids, pantry"),), at=START, token="lids"))
    said = words(client.get("/stock/made").text)
    assert "The stock lacks 5 cups of plum juice" in said
    assert "; 5 lids. It is booked all the same" in said
    assert "none of" not in said


def test_a_metric_kitchen_is_told_in_litres_what_went_in(client, records, kitchen):
    """It was answered in pounds first, and of vinegar in no litres at all."""
    kept = KeptStock(records.ledger)
    shelf = (thing("1 lb sugar, pantry"), thing("3 cups plum juice, freezer"))
    kept.handle(Receive(things=shelf, at=START, token="shelf"))
    said = words(client.get("/stock/made").text)
    assert "; 1 lb (454 g) of sugar L" in said
    assert "The stock lacks 2 cups of plum juice; 2 lb 1 oz (946 g) of sugar" in said
    text = demo_day_text().replace('"2,150 ft"', '"655 m"')
    assert is_metric(text)
    client.app.state.shop.day_text = lambda: text
    said = words(client.get("/stock/made").text)
    assert "Out of 710 mL (3 cups) of plum juice L" in said
    assert "; 454 g (1 lb) of sugar L" in said
    assert "lacks 473 mL (2 cups) of plum juice; 946 g (2 lb 1 oz) of sugar" in said


def test_a_number_and_a_place_may_be_mended_before(client, records, kitchen):
    fields = forms(client.get("/stock/made").text, "/stock/made/book")[0]
    numbers = iter(("7", "0"))
    changed = [
        (k, next(numbers) if k == "number" else "shelf B" if k == "place" else v)
        for k, v in fields
    ]
    send(client, "/stock/made/book", changed)
    assert jars(records) == {"plum jelly 1": 7}
    now = stock(records)
    assert now.places(next(iter(now.lots))) == {"shelf B": 7}


@pytest.fixture
def under_pressure(records: Records) -> Kitchen:
    """The first load at 12 psi, which is invented for its food, the second boiled."""
    loads = (replace(LOADS[0], method="dial-gauge", pressure_psi=12.0), LOADS[1])
    kitchen = Kitchen(records.ledger).begin(loads=loads)
    return kitchen.fill("plum jelly 1").can("canner/1")


@pytest.mark.parametrize(
    ("read", "kept", "why"),
    [
        ("", None, ""),
        ("12 psi", 12.0, ""),
        ("11 psi", 11.0, "10 min at 11 psi, and 12 psi is published for it"),
    ],
)
def test_what_the_gauge_of_a_load_read_is_booked_with_its_lots(
    client, records, under_pressure, read, kept, why
):
    page = client.get("/stock/made").text
    assert words(page).count("What its gauge read") == 2  # two lots of the first load
    fields = forms(page, "/stock/made/book")[0]
    send(
        client,
        "/stock/made/book",
        [(k, read if k == "gauge" else v) for k, v in fields],
    )
    now = stock(records)
    assert len(now.lots) == 2
    for code in now.lots:
        batch = now.made(code).batch
        assert (batch.gauge_psi, batch.due_psi) == (kept, 12.0)
        held = " ".join(holds(now, code))
        assert why in held
        assert ("psi" in held) is bool(why)


def test_a_gauge_that_cannot_be_read_books_no_lot_and_stands_there_still(
    client, records, under_pressure
):
    fields = forms(client.get("/stock/made").text, "/stock/made/book")[0]
    typed = [(k, "rocking" if k == "gauge" else v) for k, v in fields]
    no = send(client, "/stock/made/book", typed)
    assert no.status_code == 400
    assert "no gauge reading" in words(no.text)
    assert no.text.count('value="rocking"') == 2
    assert not stock(records).lots


def test_in_boiling_water_no_gauge_is_asked_for(client, kitchen):
    assert "gauge" not in words(client.get("/stock/made").text)


@pytest.mark.parametrize("number", ["-3", "<b>8</b>", "999"])
def test_numbers_and_places_stand_there_still_after_a_no(client, kitchen, number: str):
    fields = forms(client.get("/stock/made").text, "/stock/made/book")[0]
    numbers = iter(("7", number))
    typed = [
        (k, next(numbers) if k == "number" else "shelf B" if k == "place" else v)
        for k, v in fields
    ]
    no = send(client, "/stock/made/book", typed)
    assert no.status_code in (400, 422)
    again = forms(no.text, "/stock/made/book")[0]
    assert [pair for pair in again if pair[0] != "token"] == [
        pair for pair in typed if pair[0] != "token"
    ]


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("number", "-3", "no number of jars"),
        ("number", "eight", "no number of jars"),
        ("number", "٣", "no number of jars"),
        ("number", "9999", "0 to 200"),
        ("number", "8" * 100_000, "no number of jars"),
        ("place", "", "Place of plum jelly 1, load 1: nothing is written there"),
        ("place", "=HYPERLINK(1)", "as a formula does"),
        ("place", "pan\u202etry", "cannot be read on a label"),
        ("place", "set aside", "the place of jars whose seal failed"),
        ("token", "mine", "was not confirmed here"),
        ("run", "run/the-day", "is no day"),
        ("run", "run/2031-01-01", "was not confirmed here"),
    ],
)
def test_what_cannot_be_read_books_nothing(
    client, records, kitchen, field, value, said
):
    fields = forms(client.get("/stock/made").text, "/stock/made/book")[0]
    before = records.ledger.last("stock")
    changed = [(k, value if k == field else v) for k, v in fields]
    no = send(client, "/stock/made/book", changed)
    assert no.status_code in (400, 422)
    assert said in words(no.text)
    assert records.ledger.last("stock") == before


def test_a_slip_is_told_where_it_is_seen_and_heard(client, kitchen):
    """It stood as a line of a list, like any other, above the same form."""
    fields = forms(client.get("/stock/made").text, "/stock/made/book")[0]
    slip = [(k, "eight" if k == "number" else v) for k, v in fields]
    page = send(client, "/stock/made/book", slip).text
    told = re.search(
        r'<div class="caution"[^>]* role="alert">.*?</div>', page, re.DOTALL
    )
    assert told
    assert "Nothing was booked yet. What you typed stands here." in words(told[0])
    assert "no number of jars" in words(told[0])


def test_all_that_is_wrong_is_told_at_once_and_at_its_field(
    client, records, under_pressure
):
    """The place was named, and the number under it when the place was mended."""
    fields = forms(client.get("/stock/made").text, "/stock/made/book")[0]
    slips = {
        "number": iter(("eight", "999")),
        "place": iter(("", "icebox")),
        "gauge": iter(("rocking", "12")),
    }
    typed = [(k, next(slips[k]) if k in slips else v) for k, v in fields]
    no = send(client, "/stock/made/book", typed)
    assert no.status_code == 400
    assert not stock(records).lots
    told = re.search(r'<ul class="faults">.*?</ul>', no.text, re.DOTALL)
    assert told
    links = re.findall(r'<a href="#([^"]+)">([^<]+)</a>', told[0])
    assert [at for at, _ in links] == [
        *("number-1", "place-1", "gauge-1"),
        *("number-2", "place-2"),
    ]
    said = [words(html.unescape(what)) for _, what in links]
    assert said[0].startswith("Jars of ")
    assert "'eight' is no number of jars" in said[0]
    assert "nothing is written there" in said[1]
    assert "no gauge reading" in said[2]
    assert "0 to 200" in said[3]
    assert "may be a refrigerator, a freezer or neither. Instead: " in said[4]
    for at, what in links:
        field = re.search(rf'<input id="{at}"[^>]*>', no.text)
        assert field
        assert 'aria-invalid="true"' in field[0]
        shown = re.search(rf'<p class="fault" id="fault-{at}">([^<]+)</p>', no.text)
        assert shown
        assert shown[1].casefold() in what.casefold()
    assert no.text.count("aria-invalid") == len(links)
    again = forms(no.text, "/stock/made/book")[0]
    assert [pair for pair in again if pair[0] != "token"] == [
        pair for pair in typed if pair[0] != "token"
    ]


def test_lines_of_one_batch_in_two_loads_are_told_apart(client, records):
    """Two loads of one batch: "jars of plum jelly 2" would be either."""
    kitchen = Kitchen(records.ledger).begin().fill("plum jelly 1").fill("plum jelly 2")
    kitchen.can("canner/1").can("canner/2")
    fields = forms(client.get("/stock/made").text, "/stock/made/book")[0]
    slip = [(k, "eight" if k == "number" else v) for k, v in fields]
    no = send(client, "/stock/made/book", slip).text
    told = re.findall(r">Jars of ([^<]+?): ", no)
    assert told[:3] == [
        *("plum jelly 1, load 1", "plum jelly 2, load 1", "plum jelly 2, load 2"),
    ]


def test_ten_megabytes_are_turned_away_at_the_gate(client, records, kitchen):
    no = client.post("/stock/made/book", data={"run": "x" * 10_000_000})
    assert no.status_code == 413
    no = client.post("/stock/late", data={"sentence": "x" * 10_000_000})
    assert no.status_code == 413
    assert records.ledger.last("stock") == 0


def broken(client, page_at: str, crack: str = "ring"):
    fields = forms(client.get(page_at).text, "/stove/broke/book")[0]
    return send(client, "/stove/broke/book", [*fields, ("crack", crack)]), fields


def test_a_broken_jar_is_one_less_in_the_run_with_its_likely_cause(
    client, records, kitchen
):
    done, fields = broken(client, "/stove/broke?load=canner/1")
    assert "Likely cause: heat shock" in words(done.text)
    send(client, "/stove/broke/book", [*fields, ("crack", "ring")])  # the finger again
    state = state_of(RUN, ledger=records.ledger)
    assert state.load("canner/1").broken == (("plum jelly 1", "ring"),)
    assert "8 half-pints" not in words(client.get("/stock/made").text)
    page = client.get("/stock/made").text
    send(client, "/stock/made/book", forms(page, "/stock/made/book")[0])
    assert jars(records)["plum jelly 1"] == 7


def test_a_broken_jar_that_was_tapped_by_mistake_is_counted_again(
    client, records, kitchen
):
    page, _ = broken(client, "/stove/broke?load=canner/1")
    assert "No jar broke: take the last one back" in words(page.text)
    (whole,) = forms(page.text, "/stove/broke/whole")
    for _ in range(2):  # the finger came down twice
        page = send(client, "/stove/broke/whole", whole)
        assert "Taken back: that jar is counted again." in words(page.text)
    assert forms(page.text, "/stove/broke/whole") == []
    assert state_of(RUN, ledger=records.ledger).load("canner/1").broken == ()
    page = client.get("/stock/made").text
    send(client, "/stock/made/book", forms(page, "/stock/made/book")[0])
    assert jars(records)["plum jelly 1"] == 8


def test_once_its_lot_is_booked_a_broken_jar_is_counted_there(client, records, kitchen):
    page, _ = broken(client, "/stove/broke?load=canner/1")
    (whole,) = forms(page.text, "/stove/broke/whole")
    lots = client.get("/stock/made").text
    send(client, "/stock/made/book", forms(lots, "/stock/made/book")[0])
    no = send(client, "/stove/broke/whole", whole)
    assert no.status_code == 422
    assert "was booked since, as L" in no.text
    assert forms(no.text, "/stove/broke/whole") == []
    assert "Its lot is booked: a jar that broke leaves it" in words(no.text)
    assert jars(records)["plum jelly 1"] == 7


def test_a_process_of_the_next_morning_bears_its_day(client, records, kitchen):
    """Filled in the afternoon of the 12th, canned on the 13th: no page hides it."""
    kitchen.fill("plum jelly 2").later(22 * 60).can("canner/2")
    client.app.state.clock.at = kitchen.at + dt.timedelta(minutes=5)
    page = client.get("/stock/made")
    began = re.search(
        r"Process began (\d+:\d\d) of 13 September 2026", words(page.text)
    )
    assert began
    assert re.search(
        r"Out of the canner \d+:\d\d of 13 September 2026", words(page.text)
    )
    send(client, "/stock/made/book", forms(page.text, "/stock/made/book")[0])
    now = stock(records)
    late = next(c for c in now.lots if now.made(c).batch.run_load == "canner/2")
    lot = words(client.get(f"/stock/lot/{printed(late)}").text)
    assert f"from {began[1]} of 13 September 2026" in lot
    after = words(client.get("/stock/after").text)
    assert re.search(r"Out of the canner \d+:\d\d of 13 September 2026", after)
    first = next(c for c in now.lots if now.made(c).batch.run_load == "canner/1")
    assert (
        "of 12 September"
        not in words(client.get(f"/stock/lot/{printed(first)}").text)
        .split("Process ")[1]
        .split("due")[0]
    )


def test_a_jar_that_broke_after_booking_leaves_its_lot_with_its_cause(
    client, records, kitchen
):
    page = client.get("/stock/made").text
    send(client, "/stock/made/book", forms(page, "/stock/made/book")[0])
    done, _ = broken(client, "/stove/broke?load=canner/1", "star")
    assert "Likely cause: a knock" in words(done.text)
    assert jars(records)["plum jelly 1"] == 7
    now = stock(records)
    (out,) = [o for code in now.lots for o in now.outs(code)]
    assert (out.event.way, out.event.why) == (Way.BROKEN, "a knock")


def test_more_jars_than_there_are_do_not_break(client, records, kitchen):
    now = None
    for _ in range(2):
        page = client.get("/stove/broke?load=canner/1").text
        fields = forms(page, "/stove/broke/book")[1]  # batch 2 has one jar there
        now = send(client, "/stove/broke/book", [*fields, ("crack", "forked")])
    assert now.status_code == 422
    assert "1 jar of plum jelly 2, booked as broken" in words(now.text)


def doubt(client, said: str):
    fields = forms(client.get("/stove/wrong").text, "/stove/doubt")[0]
    return send(client, "/stove/doubt", [*fields, ("doubt", said)])


@pytest.mark.parametrize("said", ["wrong time", "water below the lids"])
def test_a_wrong_process_holds_the_load_with_the_hours_left_of_two(
    client, records, kitchen, said
):
    """Out at 9:41 by the run; it is 10:00."""
    text = words(doubt(client, said).text)
    assert f"on hold: {said}" in text
    assert "1 h 41 min left" in text
    page = client.get("/stock/made").text
    send(client, "/stock/made/book", forms(page, "/stock/made/book")[0])
    now = stock(records)
    for code in now.lots:
        sold = {"deed": "sold", "lot": printed(code), "quantity": "1", "to": "stand"}
        no = client.get("/stock/ask", params=sold)
        assert no.status_code == 422
        assert "on hold" in words(no.text)
        label = {"deed": "label", "lot": printed(code), "hand": "written"}
        assert client.get("/stock/ask", params=label).status_code == 422


def test_after_two_hours_a_wrong_process_has_no_second_one(client, records, kitchen):
    client.app.state.clock.at += dt.timedelta(hours=3)
    text = words(doubt(client, "water below the lids").text)
    assert "Discard low-acid and doubtful food untasted" in text
    assert "Reprocess." not in text


def test_the_stove_leads_to_all_of_it(client, kitchen):
    page = client.get("/stove").text
    for link in ("/stock/made?run=", "/stove/wrong?run=", "/stove/broke?run="):
        assert f'href="{link}' in page
    assert "/stock/after" in client.get("/stock").text
    for link in ("/stock/count", "/stock/first", "/stock/cover", "/stock/made"):
        assert f'href="{link}"' in client.get("/stock").text


def test_the_whole_way_from_the_stove_to_the_label(client, records, kitchen):
    page = client.get("/stock/made").text
    send(client, "/stock/made/book", forms(page, "/stock/made/book")[0])
    client.app.state.clock.at += dt.timedelta(hours=25)
    for _ in range(2):
        after = client.get("/stock/after").text
        check = next(f for f in forms(after, "/stock/book") if ("deed", "check") in f)
        assert ("seals", "8 good") in check or ("seals", "1 good") in check
        send(client, "/stock/book", check)
    after = client.get("/stock/after").text
    labels = [f for f in forms(after, "/stock/book") if ("deed", "label") in f]
    assert len(labels) == 2
    for fields in labels:
        send(client, "/stock/book", [*fields, ("hand", "printed")])
    after = words(client.get("/stock/after").text)
    assert "Load 2 (plum jelly 2): its process was not started" in after
    assert "Nothing is open" not in after  # not while a load has no lot yet
    assert "Every lot that is booked has its checks and its label." in after
    now = stock(records)
    code = printed(next(iter(now.lots)))
    sold = {"deed": "sold", "lot": code, "quantity": "1", "to": "stand"}
    assert client.get("/stock/ask", params=sold).status_code == 200
    assert "printed" in words(client.get(f"/stock/lot/{code}").text)


def test_how_it_tasted_is_written_down_on_the_lots_page(client, records, kitchen):
    page = client.get("/stock/made").text
    send(client, "/stock/made/book", forms(page, "/stock/made/book")[0])
    code = printed(next(iter(stock(records).lots)))
    (fields,) = forms(client.get(f"/stock/lot/{code}").text, "/stock/book")
    said = [(k, v) for k, v in fields if k != "why"]
    for words_, status in (("tart, sets well", 200), ("=1+1", 400), ("", 422)):
        done = send(
            client, "/stock/book", [*said, ("why", words_), ("about", "tasting")]
        )
        # the first is booked; its token then answers the others without booking
        assert done.status_code in (200, status)
    text = words(client.get(f"/stock/lot/{code}").text)
    assert text.count("tasting: tart, sets well") == 1
    assert "1+1" not in text


def test_a_recalled_lot_leads_from_the_day_after_to_its_sheet(client, records, kitchen):
    page = client.get("/stock/made").text
    send(client, "/stock/made/book", forms(page, "/stock/made/book")[0])
    code = printed(next(iter(stock(records).lots)))
    sheet = f"/stock/recall/{code}"
    assert sheet not in client.get("/stock/after").text
    (fields,) = forms(client.get(sheet).text, sheet)
    send(client, sheet, [(k, v) for k, v in fields if k != "why"] + [("why", "lids")])
    after = client.get("/stock/after").text
    assert f'<a href="{sheet}">Recall sheet</a>' in after
    assert "it was recalled: lids" in words(after)


def test_what_was_wrong_under_pressure_is_asked_in_its_own_words(
    client, under_pressure, records
):
    """No water stands over lids under pressure, and there is no full boil to see."""
    client.app.state.clock.at = under_pressure.at
    page = client.get("/stove/wrong").text
    keys = re.findall(r'name="doubt" value="[^"]*">([^<]*)<', page)
    assert keys == ["Wrong time or pressure"]
    send(
        client,
        "/stock/made/book",
        forms(client.get("/stock/made").text, "/stock/made/book")[0],
    )
    after = client.get("/stock/after").text
    assert "Wrong time or pressure" in after
    assert "Water below the lids" not in after


def test_what_was_wrong_in_boiling_water_may_be_its_water(client, kitchen):
    page = client.get("/stove/wrong").text
    keys = re.findall(r'name="doubt" value="[^"]*">([^<]*)<', page)
    assert keys[:2] == ["Wrong time", "Water below the lids"]


def test_a_plan_of_another_date_books_and_holds_under_the_day_it_was_worked_on(
    client, records
):
    stove = Kitchen(records.ledger)
    stove.at = START + dt.timedelta(days=76)
    stove.begin().fill("plum jelly 1").can("canner/1")
    client.app.state.clock.at = stove.at + dt.timedelta(minutes=5)
    page = client.get("/stock/made").text
    assert "Friday 27 November 2026" in words(page)
    assert "on hold: wrong time" in words(doubt(client, "wrong time").text)
    send(client, "/stock/made/book", forms(page, "/stock/made/book")[0])
    now = stock(records)
    assert {now.lots[code].day for code in now.lots} == {"2026-11-27"}
    assert all(now.held(code) for code in now.lots)
    after = words(client.get("/stock/after").text)
    assert "27 November 2026" in after
    assert "Load 1 · 27 November 2026 by the plan of 12 September 2026" in after


def test_two_runs_of_one_day_are_told_apart_by_their_plans(client, records, kitchen):
    """Each has a load 1; they stood under one heading, and as of one canner load."""
    other = f"run/{START.date() + dt.timedelta(days=1)}"
    later = START + dt.timedelta(minutes=40)
    loads = (load(1, ("plum jelly 3", 8)),)
    commands = (
        BeginDay(loads=loads, batches=(batch(3, 8),), at=later),
        *(
            FinishStep(batch="plum jelly 3", step=step, at=later)
            for step in ("hard_boil", "wipe_and_lid")
        ),
        MarkFullBoil(load="canner/1", at=later),
        LiftLoad(load="canner/1", at=later + dt.timedelta(minutes=16)),
    )
    for command in commands:
        handle(command, other, ledger=records.ledger)
    for run in (RUN, other):
        page = client.get(f"/stock/made?run={run.removeprefix('run/')}").text
        send(client, "/stock/made/book", forms(page, "/stock/made/book")[0])
    by_plan = "by the plan of 13 September 2026"
    assert by_plan in words(client.get("/stock/made").text)
    after = words(client.get("/stock/after").text)
    assert f"Load 1 · 12 September 2026 {by_plan}" in after
    assert after.count("Load 1 · 12 September 2026") == 2
    now = stock(records)
    of = {code: now.made(code).batch.run for code in now.lots if now.made(code)}
    for code in of:
        assert {of[same] for same in now.same_load(code)} == {of[code]}
    mine = next(printed(code) for code, run in of.items() if run == other)
    assert f"Canner load 1, {by_plan}" in words(client.get(f"/stock/lot/{mine}").text)


def test_the_lots_that_were_just_booked_are_taken_back_beside_that(
    client, records, kitchen
):
    page = client.get("/stock/made").text
    fields = forms(page, "/stock/made/book")[0]
    for _ in range(2):  # the key was hit twice
        after = send(client, "/stock/made/book", fields)
        assert "Booked. Made 8 half-pints of plum jelly" in words(after.text)
        back = re.findall(r'href="(/stock/mend/\d+)\?', after.text)
        assert len(back) == 2
    asked = client.get(f"{back[1]}?back=/stock/after")
    taken = [
        (k, "counted wrong" if k == "why" else v)
        for k, v in forms(asked.text, back[1])[0]
    ]
    why = [] if any(k == "why" for k, _ in taken) else [("why", "counted wrong")]
    assert "mended number" in send(client, back[1], [*taken, *why]).text
    assert [n for n in jars(records).values() if n] == [8]
    assert "1 lot is ready to be booked" in words(client.get("/stock/made").text)


def test_jars_that_came_out_a_night_late_are_no_pantry_stock_without_a_word(
    client, records, kitchen
):
    """The book has them refrigerated, and the page proposed the pantry alone."""
    assert "In time?" not in words(client.get("/stock/made").text)
    kitchen.fill("plum jelly 2").later(5)
    kitchen.do(MarkFullBoil(load="canner/2", at=kitchen.at))
    kitchen.later(15)
    ready = f"{kitchen.at:%-H:%M}"
    kitchen.later(20 * 60).do(LiftLoad(load="canner/2", at=kitchen.at))
    page = words(client.get("/stock/made").text)
    assert page.count("In time?") == 1
    assert f"Its jars could come out since {ready} on " in page
    assert "If they stayed in the canner overnight, refrigerate them" in page


def test_more_jars_than_were_lifted_out_are_asked_about_and_booked_apart(
    client, records, kitchen
):
    """Ten for a load of eight: by no tap were two of them in the canner."""
    fields = forms(client.get("/stock/made").text, "/stock/made/book")[0]
    numbers = [at for at, (name, _) in enumerate(fields) if name == "number"]
    fields[numbers[0]] = ("number", "10")
    asked = send(client, "/stock/made/book", fields)
    assert asked.status_code == 400
    assert not stock(records).lots
    said = words(asked.text)
    assert "10 jars came, and 8 half-pint jars were lifted out of load 1" in said
    assert "Filled beyond them, and in no canner" in said
    again = forms(asked.text, "/stock/made/book")[0]
    assert [v for k, v in again if k == "number"] == ["8", "1"]
    assert [v for k, v in again if k == "beyond"] == ["2", ""]
    assert send(client, "/stock/made/book", again).status_code == 200
    now = stock(records)
    made = [now.made(code) for code in now.lots]
    assert sorted((one.number, one.batch.process_min) for one in made) == [
        (1, 10),
        (2, None),
        (8, 10),
    ]
