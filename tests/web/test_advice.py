"""The question pages: trouble, soft jelly, half-way measures, the year, yields."""

import re
from html import unescape

import pytest
from starlette.testclient import TestClient

from stillroom.book.procedures import procedures
from stillroom.book.trouble import troubles
from stillroom.planning.day_file.dayfile import new_day_text
from stillroom.web.app import build_app
from stillroom.web.shop import Shop
from tests.web.conftest import MemoryStore
from tests.web.test_pages import plain

JAN = "2026-01-01 15:10"


def asked(client: TestClient, path: str, **fields: str) -> tuple[int, str]:
    answer = client.get(f"/book/{path}", params=fields)
    return answer.status_code, plain(answer.text)


def test_the_book_leads_to_each_question(client):
    html = client.get("/book").text
    for path in ("trouble", "soft-jelly", "measured", "year", "yields"):
        assert f'href="/book/{path}"' in html
        assert client.get(f"/book/{path}").status_code == 200


def test_what_goes_in_by_the_jar_says_so_on_the_page_of_the_recipes(client):
    """The lemon juice of 23 lb of tomatoes read "2 tbsp", which is that of a quart."""
    html = client.get("/book").text
    by_the_jar = [p for p in procedures() if any(i.per for i in p.ingredients)]
    for procedure in by_the_jar:
        lines = html.split(f"<b>{procedure.title}")[1].split("</ul>")[0]
        for one in (i for i in procedure.ingredients if i.per):
            assert f"{one.name} to a {one.per}" in lines, procedure.id
    assert len(by_the_jar) > 5
    assert "2 tbsp lemon juice to a quart, bottled" in html


def test_a_lid_that_clicks_after_thirty_hours(client):
    status, text = asked(client, "trouble", sign="the lid clicks", hours="30")
    assert status == 200
    assert "Discard it untasted" in text


def test_each_sign_that_is_listed_leads_to_its_answer(client):
    html = client.get("/book/trouble").text.split('id="every"')[1]
    listed = re.findall(r'<li><a href="([^"]+)">([^<]+)</a>', html)
    assert len(listed) == len(troubles()) - 1  # "eaten" answers beside a fault alone
    for link, sign in listed:
        answer = client.get(unescape(link))
        assert answer.status_code == 200, link
        assert sign in answer.text.split('id="every"')[0], link


def test_who_may_be_ill_is_told_so_before_any_jar(client):
    _, text = asked(client, "trouble", sign="lid bulges and my child ate some")
    assert text.index("get help") < text.index("Do not open or taste it")


def test_a_soft_jelly_waits_or_is_remade(client):
    status, text = asked(
        client, "soft-jelly", jars="20", filled="2026-01-01 15:10", jar="half-pint"
    )
    assert status == 200
    assert "first 1 cup as a trial; when that has set" in text
    assert "the rest in 4 batches of 4 3/4 cups, never all in one pot" in text
    # 2 tbsp of lemon juice and 1/4 cup of sugar to the quart: 1 cup, then 4 3/4 cups
    assert "1 1/2 tsp 7 mL bottled lemon juice" in text
    assert "2 tbsp + 1 1/4 tsp 35 mL bottled lemon juice" in text
    assert "1/4 cup + 2 1/4 tsp 59 g sugar" in text
    assert "new lids" in text


def test_a_remake_is_told_in_litres_where_the_kitchen_is_written_so():
    text = new_day_text().replace('elevation = "2150 ft" ', 'elevation = "655 m" ')
    app = build_app(Shop(MemoryStore(text)))
    client = TestClient(app, base_url="http://localhost")
    _, said = asked(
        client, "soft-jelly", jars="20", filled="2026-01-01 15:10", jar="half-pint"
    )
    assert "first 237 mL (1 cup) as a trial" in said
    assert "4 batches of 1.12 L (4 3/4 cups)" in said
    assert "1 1/2 tsp 7 mL bottled lemon juice" in said


def test_of_one_soft_jar_the_trial_is_the_whole(client):
    _, text = asked(
        client, "soft-jelly", jars="1", filled="2026-01-01 15:10", jar="half-pint"
    )
    assert "1 cup is all there is: the trial is the whole of it" in text
    assert "in each batch" not in text


def test_pulp_measured_short(client):
    status, text = asked(
        client, "measured", product="pear butter", quantity="7 1/4 cups"
    )
    assert status == 200
    assert "take back 3/8 cup" in text


def test_a_jelly_measured_short_is_refused(client):
    status, text = asked(client, "measured", product="plum jelly", quantity="4 cups")
    assert status == 422
    assert "never trimmed" in text


def test_the_year(client):
    status, text = asked(client, "year", food="pears", persons="4", jar="pint")
    assert status == 200
    assert "pint jars of pears for 4" in text


def test_the_year_says_why_it_takes_the_lowest_figure(client):
    # 16.25 quarts a person to 63 of all citrus fruit and tomatoes
    _, text = asked(client, "year", food="tomatoes", persons="4", jar="pint")
    assert (
        "130 pint jars of tomatoes for 4, by the lowest of 6 printed figures "
        "(the highest is 504): a jar too many is work for nothing." in text
    )


def test_printed_yields_name_the_impossible(client):
    _, text = asked(client, "yields")
    assert "printed is more than there can be" in text


@pytest.mark.parametrize(
    ("path", "fields", "match"),
    [
        ("trouble", {"sign": "lid", "hours": "soon"}, "no number of hours"),
        ("trouble", {"sign": "the moon"}, "has no trouble like"),
        (
            "soft-jelly",
            {"jars": "many", "filled": JAN},
            "no whole number",
        ),
        (
            "soft-jelly",
            {"jars": "1000000", "filled": JAN},
            "1000000 is outside 1 to 400",
        ),
        (
            "soft-jelly",
            {"jars": "0", "filled": JAN},
            "0 is outside 1 to 400",
        ),
        ("year", {"food": "pears", "persons": "100000"}, "more than 9999"),
        ("soft-jelly", {"jars": "20", "filled": "yesterday"}, "no date and time"),
        ("soft-jelly", {"jars": "20", "filled": "2026-01-01"}, "at which hour"),
        (
            "soft-jelly",
            {"jars": "20", "filled": "2999-01-01 00:00"},
            "filled after now",
        ),
        ("soft-jelly", {"jars": "2", "filled": "1826-01-01 15:10"}, "filled in 1826"),
        (
            "soft-jelly",
            {"jars": "20", "filled": JAN, "jar": "quart"},
            "for jelly in quart jars",
        ),
        (
            "soft-jelly",
            {"jars": "20", "filled": JAN, "jar": "bathtub"},
            "is not a jar size",
        ),
        (
            "soft-jelly",
            {"jars": "20", "filled": JAN, "looks": "blue"},
            "choose syrup, soft, set",
        ),
        ("measured", {"product": "pear butter", "quantity": "7"}, "needs its unit"),
        ("measured", {"product": "sand", "quantity": "7 cups"}, "sand"),
        ("year", {"food": "sand", "persons": "4"}, "sand"),
        ("year", {"food": "pears", "persons": "-1"}, "no whole number"),
        ("trouble", {"sign": "<script>" * 20}, "no trouble like"),
    ],
)
def test_nonsense_is_answered_and_kept_in_its_field(client, path, fields, match):
    status, text = asked(client, path, **fields)
    assert status in (400, 422)
    assert match in text
    assert "Traceback" not in text


def test_the_folk_rule_is_shown_beside_and_not_used(client):
    answer = client.get(
        "/book/process",
        params={"product": "pears", "jar": "quart", "elevation": "5000 ft"},
    )
    text = plain(answer.text)
    assert "So many minutes per 1,000 ft?" in text
    assert "is not used" in text
    assert "35 min" in text  # USDA Guide 2: hot-packed quarts at 3,001 to 6,000 ft


def test_the_remake_is_said_in_all_and_in_her_own_spoons(client):
    fields = {"jars": "20", "filled": JAN, "teaspoon": "3.1 g"}
    status, text = asked(client, "soft-jelly", **fields)
    assert status == 200
    assert "20 tsp regular powdered pectin (62 g by your spoon)" in text
    status, text = asked(client, "soft-jelly", **fields | {"teaspoon": "1 lb"})
    assert status == 400
    assert "is not what a level teaspoon of powder weighs" in text


def test_the_page_says_first_what_the_clock_still_leaves_to_do(client):
    """It said "discard" first, to somebody at the stove whose clock still ran."""
    _, text = asked(client, "trouble", sign="boil stopped")
    assert text.index("Bring it back to a full boil") < text.index("broken off is none")
    _, late = asked(client, "trouble", sign="boil stopped", hours="5")
    assert "Bring it back to a full boil" not in late
