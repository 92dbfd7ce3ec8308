"""A no on a page names the page that does it, and says what is of the terminal."""

import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from stillroom import stock as package
from stillroom.stock.codec import to_entry
from stillroom.stock.handle import stock_of
from stillroom.stock.lotcode import printed
from stillroom.web.where_done import _ON_PAGES, linked
from tests.stock.kitchen import Farm
from tests.stock.test_unsealed import beans
from tests.web.test_stock import JUICE, client, deed, records

__all__ = ["client", "records"]  # fixtures

COMMAND = re.compile(r"stillroom stock ?([\w-]*)")


def refused(client: TestClient, **typed: str) -> str:
    said = client.get("/stock/ask", params=typed)
    assert said.status_code == 422
    return said.text.split("<h1>")[1]


def test_a_draw_beyond_the_book_leads_to_the_count_that_mends_it(client, records):
    deed(client, deed="add", sentence=JUICE)
    (lot,) = stock_of(records.ledger).lots
    no = refused(client, deed="drawn", lot=lot, quantity="15 bags")
    assert "stillroom stock" not in no
    href = re.search(r'book the count first \(<a href="([^"#]+)#count">', no)[1]
    page = client.get(href).text
    form = page.split('id="count"')[1].split("</form>")[0]
    assert 'name="deed" value="count"' in form
    asked = client.get(
        "/stock/ask",
        params={
            **dict(re.findall(r'name="(\w+)" value="([^"]*)"', form)),
            "quantity": "16 bags",
        },
    )
    assert asked.status_code == 200
    assert "Book it so?" in asked.text


def test_an_unknown_lot_leads_to_the_stock(client):
    no = refused(client, deed="drawn", lot="figs", quantity="1 lb")
    assert '<a href="/stock">the stock page</a>, and give its name' in no


def test_jars_that_wait_for_their_checks_lead_to_the_day_after(client, records):
    farm = Farm()
    farm.made("8 half-pints plum jelly, pantry")
    entries = [to_entry(event) for event in farm.stock.events]
    records.ledger.append("stock", entries, after=0)
    no = refused(client, deed="sold", lot=farm.last, quantity="1")
    assert 'href="/stock/after#' in no


def test_own_jars_that_were_taken_in_lead_to_where_jars_are_booked_as_made(
    client, records
):
    """No check ends their hold: nothing is known of their process."""
    deed(client, deed="add", sentence="8 half-pints plum jelly, pantry")
    (lot,) = stock_of(records.ledger).lots
    no = refused(client, deed="sold", lot=lot, quantity="1")
    assert 'href="/stock/after#' not in no
    assert '<a href="/stock/own">the page Jars of your own</a>' in no


def test_jars_in_doubt_lead_to_their_choices(client, records):
    farm = Farm()
    farm.made("8 half-pints plum jelly, pantry", process_min=5)
    entries = [to_entry(event) for event in farm.stock.events]
    records.ledger.append("stock", entries, after=0)
    for way in ("sold", "eaten"):
        no = refused(client, deed=way, lot=farm.last, quantity="1")
        assert 'href="/stock/after"' in no
        assert "stillroom stock" not in no


def test_acid_jars_without_a_process_lead_to_the_form_that_takes_one_in(
    client, records
):
    farm = Farm()
    farm.made(
        "8 quarts peaches, pantry", process_min=None, due_min=25, filled_at="08:00"
    )
    entries = [to_entry(event) for event in farm.stock.events]
    records.ledger.append("stock", entries, after=0)
    no = refused(client, deed="drawn", lot=farm.last, quantity="1")
    assert "stillroom stock" not in no
    assert "--began" not in no
    href = re.search(r'href="([^"]+)">It was processed, and nobody tapped it', no)[1]
    page, _, lot = href.partition("#")
    there = client.get(page).text.split(f'id="{lot}"')[1]
    form = there.split("It was processed, and nobody tapped it</summary>")[1]
    fields = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form.split("</form>")[0]))
    assert fields["deed"] == "process"
    typed = {"who": "Ada", "began": "8:20", "ended": "8:50"}
    assert client.post("/stock/book", data={**fields, **typed}).status_code == 200
    asked = {"deed": "eaten", "lot": farm.last, "quantity": "1"}
    assert client.get("/stock/ask", params=asked).status_code == 200


@pytest.mark.parametrize(
    ("due_psi", "at"), [(12.0, "At pressure at"), (None, "Full boil at")]
)
def test_the_form_of_a_process_asks_for_the_hour_that_its_canner_has(
    client, records, due_psi, at
):
    """A pressure canner never comes to a full boil that anybody sees."""
    farm = Farm()
    none = {"process_min": None, "due_min": 20, "due_psi": due_psi}
    farm.made("7 pints green beans, pantry", filled_at="08:00", **none)
    entries = [to_entry(event) for event in farm.stock.events]
    records.ledger.append("stock", entries, after=0)
    page = client.get("/stock/after").text
    form = page.split("It was processed, and nobody tapped it</summary>")[1]
    assert re.findall(r'<label for="began-[^"]*">([^<]*)<', form) == [at]


def test_jars_whose_process_nobody_knows_lead_to_where_it_is_said(client, records):
    deed(client, deed="add", sentence="6 pint jars green beans, pantry, from Ida")
    (lot,) = stock_of(records.ledger).lots
    no = refused(client, deed="eaten", lot=lot, quantity="1")
    assert "stillroom stock" not in no
    assert "--" not in re.sub(r"<[^>]+>", "", no.split("<form")[0])
    href = re.search(r'href="([^"]+)">How it was put up on', no)[1]
    page = client.get(href).text
    form = page.split('<section id="put-up"')[1].split("</form>")[0]
    fields = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))
    typed = {"how": "by a published process", "who": "Ida", "minutes": "20"}
    typed |= {"canner": "dial-gauge", "pack": "raw", "elevation": "300 ft"}
    short = client.post("/stock/book", data={**fields, **typed, "gauge": "9 psi"})
    assert "counts as none" in short.text
    assert 'name="minutes" value="20"' in short.text  # nothing that was typed is lost
    whole = client.post("/stock/book", data={**fields, **typed, "gauge": "11 psi"})
    assert whole.status_code == 200
    assert '<section id="put-up"' not in whole.text
    asked = {"deed": "eaten", "lot": lot, "quantity": "1"}
    assert client.get("/stock/ask", params=asked).status_code == 200


def test_how_jars_were_put_up_is_asked_with_the_acid_that_it_counts_on(client, records):
    for what in ("tomatoes", "green beans"):
        deed(client, deed="add", sentence=f"6 pint jars {what}, pantry, from Ida")
    forms = [
        client.get(f"/stock/lot/{lot}").text.split('<section id="put-up"')[1]
        for lot in stock_of(records.ledger).lots
    ]
    tomatoes, beans = (form.split("</form>")[0] for form in forms)
    assert "1 tbsp of bottled lemon juice" in tomatoes
    assert "acid" not in beans


def test_a_gauge_that_was_not_said_is_said_on_the_page_of_the_lot(client, records):
    farm = Farm()
    due = {"canner": "dial-gauge", "due_psi": 11.0, "process_min": 20, "due_min": 20}
    farm.made("7 pints green beans, pantry", **due, elevation_ft=500, pack="raw")
    entries = [to_entry(event) for event in farm.stock.events]
    records.ledger.append("stock", entries, after=0)
    said = str(linked(f"stillroom stock gauge {printed(farm.last)} READING"))
    href = re.search(r'href="([^"#]+)#gauge"', said)[1]
    form = client.get(href).text.split('<section id="gauge"')[1].split("</form>")[0]
    fields = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))
    typed = {**fields, "who": "Ada", "gauge": "9 psi"}
    page = client.post("/stock/book", data=typed).text
    assert "too low a pressure, which counts as none" in page
    assert '<section id="gauge"' not in page


def test_what_was_carried_and_booked_late_leads_to_its_form(client, records):
    farm = beans(30)
    assert farm.move(farm.last, "refrigerator", "1", place="set aside") is None
    entries = [to_entry(event) for event in farm.stock.events]
    records.ledger.append("stock", entries, after=0)
    client.app.state.clock.at = farm.at
    no = refused(
        client, deed="eaten", lot=farm.last, quantity="1", place="refrigerator"
    )
    code = printed(farm.last)
    assert f'(<a href="/stock/lot/{code}#moved">Moved earlier on the page of' in no
    assert "--on" not in no
    page = client.get(f"/stock/lot/{code}").text
    assert 'name="clock"' in page.split('id="moved"')[1].split("</form>")[0]


def test_what_was_put_up_cold_is_refused_a_shelf_in_words_of_the_page(client, records):
    farm = Farm()
    frozen = {"canned": False, "process_min": None, "due_min": None}
    farm.made("6 pints blueberries, freezer", **frozen)
    entries = [to_entry(event) for event in farm.stock.events]
    records.ledger.append("stock", entries, after=0)
    no = refused(client, deed="move", lot=farm.last, quantity="6", to="the shelf")
    words = " ".join(re.sub(r"<[^>]+>", "", no.split("<form")[0]).split())
    assert "book what is used now: Eaten on the stock page." in words
    assert "with the minutes that it had: the page Jars of your own" in words
    assert "--" not in words


@pytest.mark.parametrize(
    "text",
    [
        "<b>stillroom stock</b>",
        'x"stillroom stock count L26M25-2X"',
        "stillroom stocks",
    ],
)
def test_words_of_a_stranger_stay_words(text: str):
    said = str(linked(text))
    assert "<b>" not in said
    assert re.sub(r'<a href="[^"<>]*">[^<>]*</a>', "", said).count("<") == 0


def test_every_page_that_is_linked_is_there(client):
    for _, somewhere, _ in _ON_PAGES.values():
        assert client.get(somewhere).status_code == 200


def test_every_command_that_a_refusal_names_has_a_page_or_is_of_the_terminal():
    """A new command in a refusal is thought of here."""
    named: set[str] = set()
    for file in Path(package.__path__[0]).glob("*.py"):
        text = re.sub(r'"\n\s+f?"', "", file.read_text("utf-8"))
        named |= set(COMMAND.findall(text))
    of_the_terminal = {"made"}
    assert named <= set(_ON_PAGES) | of_the_terminal
