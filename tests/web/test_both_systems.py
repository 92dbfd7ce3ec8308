"""Who writes metres, litres and °C reads no figure of her own in feet and °F alone."""

import re

import pytest
from starlette.testclient import TestClient

from stillroom.planning.day_file.dayfile import new_day_text
from stillroom.records.days import open_records
from stillroom.web.app import build_app
from tests.web.conftest import MemoryStore
from tests.web.forms import begin_the_day, forms, send, words

METRIC = (
    new_day_text()
    .replace('elevation = "2150 ft"', 'elevation = "655 m"')
    .replace(
        "[[kitchen.burners]]", 'thermometer_boils = "98.5 C"\n\n[[kitchen.burners]]', 1
    )
    .replace('is = "plum juice"', 'is = "apple juice"')
    .replace('product = "plum jelly"', 'product = "apple jelly without pectin"')
)
ALONE = re.compile(
    r"(?<![\w.])[\d.,]+\s°F(?! \([+-]?[\d.]+ °C\))(?!\s[\d.]+\s°C)(?! above the boil)"
)
"""Degrees of one scale with none of the other beside them; no source as it prints."""


@pytest.fixture
def store() -> MemoryStore:
    return MemoryStore(METRIC)


def alone(text: str) -> list[str]:
    return [text[max(0, m.start() - 40) : m.end() + 30] for m in ALONE.finditer(text)]


def test_the_day_has_each_degree_in_both_scales(client: TestClient, shop) -> None:
    shop.plan_within(60)
    page = words(client.get("/day").text)
    assert "On your thermometer" in page
    assert "on your thermometer, the sheet test asked from" in page
    assert alone(page) == []


@pytest.mark.parametrize(
    ("elevation", "barometer"), [("2300 m", "1013 hPa"), ("655 m", "700 hPa")]
)
def test_a_barometer_that_cannot_be_is_told_with_her_metres(
    client: TestClient, shop, store: MemoryStore, elevation: str, barometer: str
) -> None:
    """It said "a barometer at 7,546 ft" to who had written 2300 m."""
    text = METRIC.replace(
        'elevation = "655 m"',
        f'elevation = "{elevation}"\nbarometer = "{barometer}"\n'
        'barometer_is = "station"',
    )
    store.revisions.append((text, "typed"))
    shop.plan_within(60)
    page = words(client.get("/day").text)
    metres = f"{int(elevation.split()[0]):,} m"
    assert re.search(rf"a barometer at [\d,]+ ft \({metres}\) does not read", page)


def test_a_thermometer_that_is_far_off_is_told_in_both_scales(
    client: TestClient, shop, store: MemoryStore
) -> None:
    text = METRIC.replace('"98.5 C"', '"70 C"')
    store.revisions.append((text, "typed"))
    shop.plan_within(60)
    page = words(client.get("/day").text)
    assert re.search(r"off by -\d+\.\d °F \(-\d+\.\d °C\) in boiling water", page)
    assert alone(page) == []


def test_the_form_of_the_kitchen_says_by_what_her_measures_are_known(client) -> None:
    page = words(client.get("/kitchen").text)
    assert "With one litre or metre here your day is told in litres and grams" in page


@pytest.mark.parametrize("path", ["/book/process", "/book/batch"])
def test_a_form_asks_with_the_height_as_she_typed_it(
    client: TestClient, shop, path: str
) -> None:
    """It stood there as 2149 ft, which is not what she knows her kitchen by."""
    assert 'name="elevation" value="655 m"' in client.get(path).text


def test_a_height_beyond_the_tables_is_told_in_both(client: TestClient, shop) -> None:
    page = words(client.get("/book/process?product=plum+jelly&elevation=4000+m").text)
    assert re.search(r"to 10,000 ft \(3,048 m\)", page)


def test_headspace_and_water_are_in_both_where_the_hand_is(
    client: TestClient, shop
) -> None:
    shop.plan_within(60)
    page = words(client.get("/day").text)
    assert "1/4 in (6 mm) headspace in each" in page
    assert "1 to 2 inches (2.5 to 5 cm) of water over the lids" in page
    assert not re.search(r"\d in headspace", page)


def test_a_process_has_its_headspace_in_both(client: TestClient) -> None:
    asked = {"product": "plum jelly", "jar": "half-pint", "elevation": "655 m"}
    page = words(client.get("/book/process", params=asked).text)
    assert "Headspace 1/4 in (6 mm)" in page
    rows = client.get("/book", params={"q": "plum jelly"}).text
    said = re.findall(r'data-label="headspace">([^<]+)<', rows)
    assert said
    assert all(re.fullmatch(r"[\d /]+ in \(\d+ mm\)", each) for each in said)


@pytest.mark.parametrize("topic", ["boil", "canner", "jelly-rise"])
def test_what_is_to_be_done_by_a_why_is_in_both_scales(
    client: TestClient, topic: str
) -> None:
    page = words(client.get(f"/why/{topic}").text)
    for done in ("and add 8", "So keep to 8", "published starts are"):
        for found in re.finditer(rf"{done}[^.;]*", page):
            assert "°C)" in page[found.start() : found.end() + 20]


CUPS = re.compile(r"(?:\S+ ){3}\(?\S+ ?(?:\d/\d )?cups?\b\)?")
QUOTED = (
    "4 to 6 cups",
    "min with 1 cup",
    "strain. 5 cups",
    "takes 1/2 cup",
    "known from memory",
)
"""Of the recipe's own sentences and of published advice, which stay as printed."""


def without_metric(page: str) -> list[str]:
    said = (found[0] for found in CUPS.finditer(page))
    no = re.compile(r"\d (?:mL|L|kg|g) \([^)]*cups?\)")
    return [text for text in said if not no.search(text)]


def test_no_cup_stands_alone_where_she_measures(
    client: TestClient, shop, store: MemoryStore, tmp_path
) -> None:
    """She wrote metres and litres, and was told 4 cups of juice and 3 of sugar."""
    text = METRIC.replace('"apple jelly without pectin"', '"plum jelly"')
    text = text.replace('"apple juice"', '"plum juice"')
    store.revisions.append((text, "typed"))
    shop.plan_within(60)
    with open_records(tmp_path / "stillroom.db") as records:
        app = build_app(shop, records=records)
        stove = TestClient(app, base_url="http://127.0.0.1")
        page = begin_the_day(stove).text
        send(stove, "/stove/done", forms(page, "/stove/done")[0])  # jars are washed
        pages = {
            "day": client.get("/day"),
            "batch": client.get("/batch/plum jelly 1"),
            "stove": stove.get("/stove"),
            "answer": client.get(
                "/book/batch?product=plum jelly&have=2.6 L&pot=11 L&elevation=655 m"
            ),
        }
    for name, answer in pages.items():
        page = words(answer.text)
        assert "1.18 L (5 cups)" in page or name == "stove", name
        assert "1.4 kg (7 cups)" in page, name
        alone = without_metric(page)
        assert [t for t in alone if not any(q in t for q in QUOTED)] == [], name
