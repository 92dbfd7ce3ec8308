"""The demo smallholding has a year of history, through the real commands."""

import json
import os
from collections import Counter
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from stillroom.learning.record import learned_from
from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.records.checking import check_records
from stillroom.records.days import Records, open_records
from stillroom.refusal import Refused
from stillroom.running.codec import from_entry
from stillroom.running.events import BoilLost, JarBroke
from stillroom.running.handle import PREFIX, state_of
from stillroom.smallholding.calendar import COOKING, FIRST, LAST, RECALLED
from stillroom.smallholding.invented import is_invented
from stillroom.smallholding.stove_day import PACE
from stillroom.smallholding.year import write_year
from stillroom.stock.events import Checked, Counted, Made, Recalled, Received, Taken
from stillroom.stock.fold import Stock
from stillroom.stock.handle import stock_of
from stillroom.stock.making import holds
from stillroom.stock.tracing import trace
from stillroom.web.app import build_app
from tests.cli.running import run
from tests.conftest import empty_database
from tests.records.postgres_server import missing


@pytest.fixture
def stock(year: Records) -> Stock:
    return stock_of(year.ledger)


def of(stock: Stock, kind: type) -> list:
    return [event for event in stock.events if isinstance(event, kind)]


def test_it_goes_through_a_whole_year_and_says_that_it_is_invented(year, stock):
    days = {event.occurred_at.date() for event in stock.events}
    assert (LAST - FIRST).days == 364
    assert len(days) > 120
    assert max(days) <= LAST
    assert is_invented(year.ledger)
    assert year.days.current() == demo_day_text()
    assert read_day(year.days.current()).invented
    assert all(event.lot.note == "invented" for event in of(stock, Received))
    assert all(event.lot.note == "invented" for event in of(stock, Made))


def test_it_has_a_dozen_days_at_the_stove_each_with_its_lots_and_checks(year, stock):
    runs = year.ledger.streams(PREFIX)
    assert len(runs) == len(COOKING) == 13
    made = Counter(event.batch.run for event in of(stock, Made))
    assert set(made) == set(runs)
    assert all(2 <= lots <= 8 for lots in made.values())
    looked_at = {event.lot for event in of(stock, Checked)}
    never = {e.lot.code for e in of(stock, Made)} - looked_at
    assert len(never) == 1  # the one batch that was never processed


def test_things_come_and_go_every_way(stock):
    ways = Counter(event.way.value for event in of(stock, Taken))
    assert {"eaten", "sold", "given", "spoiled"} <= set(ways)
    assert sum(ways.values()) > 150
    assert len(of(stock, Counted)) > 30
    assert any(event.number < event.book for event in of(stock, Counted))
    assert all(number > 0 for c in stock.lots for number in stock.places(c).values())


def test_a_recall_reaches_all_that_was_made_of_it(stock):
    (event,) = of(stock, Recalled)
    (begun,) = [code for code in event.lots if stock.lots[code].what == RECALLED]
    made = {link.lot.code for link in trace(stock, begun).forward}
    assert made
    assert made == set(event.lots) - {begun}
    assert not any(stock.balance(code) for code in event.lots)


def test_one_load_was_never_processed_and_never_sold(year, stock):
    states = [state_of(run, ledger=year.ledger) for run in year.ledger.streams(PREFIX)]
    left = [run for state in states for run in state.loads if run.lifted_at is None]
    assert len(left) == 1
    (code,) = [
        event.lot.code
        for event in of(stock, Made)
        if event.batch.canned and not event.batch.process_min
    ]
    assert "it had no process: sealed is not processed" in holds(stock, code)
    assert {out.event.way.value for out in stock.outs(code)} <= {"eaten", "spoiled"}


def test_a_jelly_stayed_soft_a_boil_was_lost_and_a_jar_broke(year, stock):
    soft = [e for e in of(stock, Checked) if e.seen is not None and e.seen == "soft"]
    assert len(soft) == 1
    events = [
        from_entry(entry)
        for run in year.ledger.streams(PREFIX)
        for entry in year.ledger.read(run)
    ]
    assert sum(isinstance(event, BoilLost) for event in events) == 1
    assert sum(isinstance(event, JarBroke) for event in events) == 1


def test_what_it_teaches_is_the_pace_that_it_was_given(year):
    known = learned_from(year.ledger, kitchen="Hollow Larch").any_product
    for step in ("fill", "wash_jars", "sugar_in", "measure_sugar", "wipe_and_lid"):
        found = known[step]
        assert found.runs > 20
        assert found.middle == pytest.approx(PACE[step], rel=0.1), step
    assert learned_from(year.ledger).seals is not None


def test_every_published_process_was_given_whole(year):
    for name in year.ledger.streams(PREFIX):
        for load in state_of(name, ledger=year.ledger).loads:
            if load.lifted_at is not None:
                assert load.boiling_since is not None
                boiled = (load.lifted_at - load.boiling_since).total_seconds() / 60
                assert boiled >= load.load.process_min + load.load.rest_min


def test_the_record_is_whole(year_file):
    assert check_records(year_file).whole


def events_of(records: Records) -> list[tuple[object, ...]]:
    return [
        (stream, e.sequence, e.kind, e.body, e.occurred_at, e.recorded_at, e.hash)
        for stream in records.ledger.streams("")
        for e in records.ledger.read(stream)
    ]


@pytest.mark.parametrize("kind", ["file", "server"])
def test_the_same_seed_is_the_same_year_to_the_last_hash(
    year, tmp_path, kind, request: pytest.FixtureRequest
):
    """On a server where there is one, else in a file: twice is enough."""
    if kind == "file" and not missing():
        pytest.skip("the year on a server is held against that in a file")
    where = str(tmp_path / "again.db")
    if kind == "server":
        where = empty_database(request.getfixturevalue("address"))
    write_year(where)
    with open_records(where) as again:
        assert events_of(again) == events_of(year)
    with pytest.raises(Refused, match="holds a record already"):
        write_year(where)


def test_a_record_that_somebody_keeps_is_left_as_it_is(tmp_path: Path):
    file = tmp_path / "stillroom.db"
    with open_records(file) as records:
        records.days.save(demo_day_text(), "a keeper's own")
    before = file.read_bytes()
    with pytest.raises(Refused, match="never comes into a record that somebody keeps"):
        write_year(file)
    assert file.read_bytes() == before


def test_a_year_that_was_broken_off_leaves_no_half_record(tmp_path, monkeypatch):
    def power_cut(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("stillroom.smallholding.year.cook", power_cut)
    file = tmp_path / "demo.db"
    with pytest.raises(KeyboardInterrupt):
        write_year(file)
    assert not file.exists()
    monkeypatch.undo()
    assert os.listdir(tmp_path)  # what it had begun is there, under another name
    monkeypatch.setattr("stillroom.smallholding.year.COOKING", ())
    write_year(file)
    assert sorted(os.listdir(tmp_path)) == ["demo.db"]


def test_its_mark_says_so_in_words(year):
    (mark,) = year.ledger.read("invented")
    assert "An invented smallholding" in json.loads(mark.body)["words"]


def test_commands_say_that_it_is_invented_and_show_it(year_file):
    where = ("--db", str(year_file))
    for command in ("stock", "learned"):
        assert run(command, *where).out.startswith("An invented smallholding")
    (lot,) = [
        row["lot"]
        for row in run("stock", *where, "--json").json["on_hand"]
        if row["what"] == "plum jelly" and row["place"] == "pantry"
    ][:1]
    told = run("stock", "trace", lot, *where)
    assert "By weight: " in told.out
    assert "plum juice" in told.out
    mass = run("stock", "trace", lot, *where, "--json").json["mass"]
    losses = sum(loss["mass_mg"] for loss in mass["losses"])
    assert mass["in_mg"] == mass["out_mg"] + losses


def test_pages_say_that_it_is_invented_and_show_it(year):
    class Shop:
        def day_text(self) -> str:
            return ""

    with TestClient(build_app(Shop(), records=year), base_url="http://127.0.0.1") as to:
        for address in ("/stock", "/learned", "/book", "/kitchen"):
            page = to.get(address)
            assert page.status_code == 200
            assert "<b>Invented.</b>" in page.text, address
        assert "14 batches" in to.get("/learned").text
        made = of(stock_of(year.ledger), Made)
        lot = to.get(f"/stock/lot/{made[0].lot.code}").text
        assert "<b>By weight:</b>" in lot


def test_a_record_of_ones_own_says_nothing_of_the_kind(tmp_path):
    with open_records(tmp_path / "mine.db") as records:
        assert not is_invented(records.ledger)
        with TestClient(
            build_app(None, records=records), base_url="http://127.0.0.1"
        ) as to:
            assert "Invented" not in to.get("/stock").text
