"""The page of a lot leads to where its checks are booked, and says what it knows."""

import pytest

from stillroom.stock.events import Seen
from stillroom.stock.lotcode import printed
from tests.web.forms import words
from tests.web.test_every_lid_sealed import farm
from tests.web.test_every_lid_sealed import open_page as pages

__all__ = ["farm", "pages"]  # fixtures


def test_a_lot_on_hold_leads_to_where_its_seals_are_said(pages, farm):
    """It said that nobody had looked, and led nowhere."""
    jelly = printed(next(iter(farm.stock.lots)))
    client, _ = pages(20)
    page = client.get(f"/stock/lot/{jelly}").text
    assert "its seals have not been looked at" in words(page)
    assert f'href="/stock/after#{jelly}"' in page
    assert f'id="{jelly}"' in client.get("/stock/after").text


def test_a_lot_with_all_its_checks_leads_nowhere(pages, farm):
    jelly = next(iter(farm.stock.lots))
    farm.later(25)
    farm.check(jelly, 8, seen=Seen.SET)
    client, _ = pages(1)
    page = client.get(f"/stock/lot/{printed(jelly)}").text
    assert ("to-after" in page) is (printed(jelly) in client.get("/stock/after").text)


@pytest.mark.parametrize("gone", ["", "5 cups of plum juice; 8 lids"])
def test_what_was_made_here_did_not_come_in_as_it_is(pages, farm, gone):
    farm.made("3 half-pints pear jam, pantry", food="jam", unbooked=gone)
    client, _ = pages(20)
    page = words(client.get(f"/stock/lot/{printed(farm.last)}").text)
    assert "it came in as it is" not in page
    assert f"No lot that the record knows{': ' + gone if gone else ''}." in page


def test_a_lot_leads_to_all_that_its_supplier_brought(pages, farm):
    plums = farm.add("25 lb plums, cellar, from Orchard & Row")
    farm.made("8 half-pints plum jam, pantry", (plums, "4 lb"), food="jam")
    jam = printed(farm.last)
    client, _ = pages(20)
    lead = 'href="/stock/from?whom=Orchard%20%26%20Row"'
    assert lead in client.get(f"/stock/lot/{printed(plums)}").text
    assert lead in client.get(f"/stock/lot/{jam}").text
    page = client.get("/stock/from?whom=Orchard%20%26%20Row").text
    assert f'href="/stock/lot/{jam}"' in page
    assert "Pantry: 8 half-pints of plum jam" in words(page)
    assert 'href="/stock/from"' in client.get("/stock").text
    assert lead in client.get("/stock/from").text
    nobody = client.get("/stock/from?whom=Zeb")
    assert nobody.status_code == 422
    assert "Orchard & Row" in words(nobody.text)


def test_where_nobody_was_written_down_it_says_how(pages):
    client, _ = pages(20)
    page = words(client.get("/stock/from").text)
    assert "Nobody was written down yet." in page
    assert "from Orchard Row" in page
