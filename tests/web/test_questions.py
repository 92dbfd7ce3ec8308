"""The pages before the pot is on: juice, batches, and a recipe of one's own."""

from html import unescape

import pytest
from markupsafe import escape
from playwright.sync_api import expect
from starlette.testclient import TestClient

from stillroom.methods.recipe_file import new_recipe_text, read_recipe
from tests.web.conftest import ADDRESS
from tests.web.forms import scripts_in
from tests.web.test_browser import overflow_px
from tests.web.test_pages import plain

PAGES = ("juice", "batch", "own-recipe")
PAGE = """<html><script type="application/ld+json">{"@type": "Recipe",
"name": "Invented plum jam", "recipeIngredient": ["6 cups crushed plums",
"1 (1.75 oz) box powdered pectin", "8 cups sugar", "a little salt"]}</script></html>"""


def asked(client: TestClient, path: str, **fields: str) -> tuple[int, str]:
    answer = client.get(f"/book/{path}", params=fields)
    return answer.status_code, plain(answer.text)


def checked(client: TestClient, text: str, **fields: str) -> tuple[int, str]:
    answer = client.post(
        "/book/own-recipe",
        data={"text": text, **fields},
        files={"file": ("", b"")},
        headers={"Origin": ADDRESS},
    )
    return answer.status_code, plain(answer.text)


def typed_again(page: str) -> str:
    """What stands in the text area of a page."""
    return unescape(
        page.split("<textarea")[1].split(">\n", 1)[1].split("</textarea")[0]
    )


@pytest.mark.parametrize("path", PAGES)
def test_the_book_leads_to_each_question(client, path):
    assert f'href="/book/{path}"' in client.get("/book").text
    answer = client.get(f"/book/{path}")
    assert answer.status_code == 200
    assert 'id="answer"' not in answer.text
    assert "style=" not in answer.text
    assert scripts_in(answer.text) == []


def test_redcurrants_that_gave_too_little(client):
    status, text = asked(
        client,
        "juice",
        fruit="red currants",
        need="6 1/2 cups",
        pressed="5 lb",
        got="5 1/4 cups",
    )
    assert status == 200
    assert "5 1/4 cups, 1 1/4 cups short of 6 1/2 cups." in text
    assert "At your 1.05 cups a pound that is 1 lb 4 oz (540 g) more fruit" in text
    assert "Wet the pulp and press it again." in text
    assert "never trimmed" in text
    assert "the keeper's own" in text


def test_a_product_says_what_its_recipe_asks_for(client):
    # 4.5 lb + 1 cup water give 5 cups: Univ. of Wisconsin Extension B2909, p.31-36
    status, text = asked(client, "juice", fruit="plums", product="plum jelly")
    assert status == 200
    assert "that is 4 lb 8 oz (2.05 kg) of fruit" in text
    assert "more fruit" not in text
    assert "B2909" in text


def test_grapes_are_no_plum_jelly(client):
    status, text = asked(client, "juice", fruit="grape", product="plum jelly")
    assert status == 422
    assert "is made of plum juice, and the fruit named is 'grape'" in text
    assert "a product of grape" in text
    assert (
        asked(client, "juice", fruit="tart cherry", product="sour cherry jelly")[0]
        == 200
    )


def test_juice_of_no_fruit_is_refused(client):
    status, text = asked(
        client, "juice", fruit="plums", need="6 cups", pressed="0 lb", got="4 cups"
    )
    assert status == 422
    assert "no fruit was pressed, and 4 cups of juice came" in text.casefold()
    assert "the printed yield is then used" in text


def test_a_fruit_without_a_printed_yield_says_so(client):
    _, text = asked(
        client,
        "juice",
        fruit="red currants",
        need="6 cups",
        pressed="4 lb",
        got="4 cups",
    )
    assert "No yield of juice is printed for it here." in text


def test_enough_juice_is_said_to_be_enough(client):
    status, text = asked(
        client, "juice", fruit="plums", need="5 cups", pressed="5 lb", got="6 cups"
    )
    assert status == 200
    assert "Enough: 5 cups are asked for." in text
    assert "What you may do" not in text


def test_a_butter_is_not_made_of_juice(client):
    status, text = asked(client, "juice", fruit="pears", product="pear butter")
    assert status == 422
    assert "is not made of juice: it takes 8 cups pear pulp" in text
    assert "Instead: name a product" in text


def test_six_bags_of_plum_juice(client):
    # 5 cups juice, 7 cups sugar, 1 box: Univ. of Wisconsin Extension B2909, p.31-36;
    # 10 min at 1,001 to 6,000 ft: USDA Complete Guide, Guide 7
    status, text = asked(
        client,
        "batch",
        product="plum jelly",
        have="28 1/2 cups",
        pot="11 L",
        elevation="2150 ft",
    )
    assert status == 200
    assert "5 batches, each in its own pot" in text
    assert "7 cups 1.4 kg sugar" in text
    assert "The pot must hold 8.3 L" in text
    assert "Boils back in about" in text
    assert "Process: 10 min in boiling water, half-pint jars" in text
    assert "Left over: 3 1/2 cups, 1 1/2 cups short of another batch" in text
    assert "Do not double a batch" in text


def test_a_pot_that_is_too_small_is_refused(client):
    status, text = asked(
        client, "batch", product="plum jelly", have="30 cups", pot="8 L"
    )
    assert status == 422
    assert "the 8 L pot holds 8.0 L (8.5 qt), 0.3 L short" in text


def test_less_than_a_batch_is_refused_and_nothing_is_trimmed(client):
    status, text = asked(
        client, "batch", product="plum jelly", have="4 cups", pot="11 L"
    )
    assert status == 422
    assert "less than one batch" in text
    assert "Instead:" in text


def test_the_kitchens_own_height_counts_where_none_is_typed(client):
    _, text = asked(client, "batch", product="plum jelly", have="5 cups", pot="11 L")
    assert "Process: 10 min in boiling water" in text
    assert "no elevation was given" not in text


def test_without_any_height_no_process_is_shown(client, store):
    store.revisions.clear()
    status, text = asked(
        client, "batch", product="plum jelly", have="5 cups", pot="11 L"
    )
    assert status == 200
    assert "No elevation was given" in text
    assert "Process:" not in text


def test_what_goes_through_no_canner_says_where_it_keeps(client):
    status, text = asked(
        client,
        "batch",
        product="strawberry freezer jam",
        have="2 lb",
        pot="11 L",
        elevation="2150 ft",
    )
    assert status == 200
    assert "Kept: freezer; it goes through no canner." in text


def test_what_is_left_of_the_juice_may_become_something_else(client):
    # 4 cups of juice a batch with liquid pectin: Univ. of Wisconsin Extension B2909
    _, text = asked(
        client, "batch", product="plum jelly", have="9 1/2 cups", pot="11 L"
    )
    assert "Left over: 4 1/2 cups, 1/2 cup short of another batch" in text
    assert "Plum jelly, liquid pectin" in text


def test_the_pot_says_when_to_stir_and_how_far_apart_batches_are(client):
    _, text = asked(client, "batch", product="pear butter", have="14 lb", pot="11 L")
    assert "stir every few minutes" not in text
    assert "Cook the butter down stir all the time" in text
    assert "Stir the butter till it mounds stir all the time" in text
    assert "so far apart do batches begin that share one pot" in text
    _, text = asked(client, "batch", product="pear butter", have="7 lb", pot="11 L")
    assert "so far apart" not in text


def test_a_box_in_her_own_spoons_goes_by_mass(client):
    # 1 3/4 oz a box: USDA Complete Guide rev. 1994, Guide 7; 49.6 g / 3.1 g = 16
    fields = {"product": "plum jelly", "have": "5 cups", "pot": "11 L"}
    status, text = asked(client, "batch", **fields, teaspoon="3.1 g")
    assert status == 200
    assert "is 50 g: 16 level tsp of yours at 3.1 g each" in text
    assert "then 1 min by the clock" in text
    assert "Have 9 half-pint jars hot" in text
    status, text = asked(client, "batch", **fields, teaspoon="31 g")
    assert status == 400
    assert "not what a level teaspoon of powder weighs" in text
    assert "level tsp of yours" not in asked(client, "batch", **fields)[1]


def test_hours_left_and_clean_jars_are_said_on_their_pages(client):
    assert "14 h are left" in asked(client, "trouble", sign="not sealed", hours="10")[1]
    _, text = asked(
        client, "process", product="plum jelly", jar="half-pint", elevation="500 ft"
    )
    assert "Jars need no sterilising" not in text
    _, text = asked(
        client, "process", product="plum jelly", jar="half-pint", elevation="2150 ft"
    )
    assert "Jars need no sterilising" in text


def test_terminal_and_page_say_the_same(client):
    from tests.cli.running import run

    said = run(
        *("batch", "pears", "--have", "50 lb", "--pot", "12qt", "--jar", "quart"),
        *("--elevation", "2150ft"),
    )
    _, text = asked(
        client,
        "batch",
        product="pears",
        have="50 lb",
        pot="12qt",
        jar="quart",
        elevation="2150 ft",
    )
    first = plain(said.out).split(". ")[0].partition(": ")[2]
    assert "20 jars' worth of the recipe" in first
    assert first in text


def test_ones_own_recipe_borrows_the_process_of_its_class(client):
    status, text = checked(client, new_recipe_text(), elevation="2150 ft")
    assert status == 200
    assert "10 min in a boiling water canner, half-pint jars" in text
    assert "untested" in text
    assert "an acid fruit" in text
    assert "1 box regular powdered pectin 1 3/4 oz" in text
    assert "stillroom plan DAY.toml --recipe recipe.toml" in text


def test_a_quart_is_stored_cold_and_says_why(client):
    text = new_recipe_text().replace('jar = "half-pint" ', 'jar = "quart" ')
    status, said = checked(client, text, elevation="2150 ft")
    assert status == 200
    assert "Stored cold: no published process covers it." in said
    assert "quart jars" in said
    assert "Who says so:" in said
    assert " min in a boiling water canner" not in said


def test_what_is_not_known_is_asked_first_with_its_line(client):
    text = new_recipe_text().replace('quantity = "6 cups"', 'quantity = ""')
    line = text.split("\n").index("[[ingredients]]") + 1
    status, said = checked(client, text, elevation="2150 ft")
    assert status == 400
    assert "Asked first." in said
    assert f"Line {line} , ingredients[1]: how much plums?" in said
    assert " min in a boiling water canner" not in said


def test_a_page_becomes_a_recipe_file_with_what_is_asked(client):
    answer = client.post(
        "/book/own-recipe",
        data={"text": "", "elevation": "2150 ft"},
        files={"file": ("page.html", PAGE.encode())},
    )
    said = plain(answer.text)
    assert answer.status_code == 200
    assert "This line could not be read for certain: a little salt" in said
    own = read_recipe(typed_again(answer.text))
    assert own.title == "Invented plum jam"
    assert [one.quantity for one in own.ingredients][2] == "8 cups"
    assert "boiling water canner" not in said


def test_the_text_goes_along_as_a_file(client):
    answer = client.post(
        "/book/own-recipe/recipe.toml",
        data={"text": new_recipe_text().replace("\n", "\r\n")},
        files={"file": ("", b"")},
    )
    assert answer.headers["content-disposition"].startswith("attachment")
    assert answer.text == new_recipe_text()


def test_nothing_is_kept_of_a_recipe(client, store):
    before = list(store.revisions)
    checked(client, new_recipe_text(), elevation="2150 ft")
    assert store.revisions == before


def test_a_recipe_from_a_foreign_page_is_turned_away(client):
    answer = client.post(
        "/book/own-recipe",
        data={"text": new_recipe_text()},
        headers={"Origin": "https://elsewhere.example"},
    )
    assert answer.status_code == 403


def test_a_line_is_a_text_and_never_the_name_of_a_file(client, tmp_path):
    file = tmp_path / "own.toml"
    file.write_text(new_recipe_text())
    status, said = checked(client, str(file), elevation="2150 ft")
    assert status == 400
    assert "Line 1" in said
    assert "My plum jam" not in said


@pytest.mark.parametrize(
    ("text", "match"),
    [
        ("", "nothing is written here"),
        ("   \n", "nothing is written here"),
        ("[recipe]\ntitle = 3\n", "is no text"),
        ("\0\0\0", "not TOML"),
        ("plum jam, " * 1000, "not TOML"),
        ("<html>no recipe</html>", "no recipe in it"),
        ("{" * 10_000, "no recipe in it"),
        ("[" * 10_000, "TOML"),
        ("<script>alert(1)</script>\n", "no recipe in it"),
        (new_recipe_text().replace("6 cups", "6 cubits"), "cubits"),
        (new_recipe_text() + "\n" + "# " + "x" * 1_100_000, "MB"),
    ],
)
def test_an_unreadable_recipe_is_answered_and_shown_again(client, text, match):
    answer = client.post(
        "/book/own-recipe",
        data={"text": text, "elevation": "2150 ft"},
        files={"file": ("", b"")},
    )
    assert answer.status_code == 400
    said = plain(answer.text)
    assert match in said
    assert "Traceback" not in said
    assert scripts_in(answer.text) == []
    assert typed_again(answer.text) == text


LONG = "plum " * 2_000
INJECTED = '"><script>alert(1)</script>'


@pytest.mark.parametrize(
    ("path", "fields", "match"),
    [
        ("juice", {"fruit": "plums"}, "Give what the recipe asks for"),
        ("juice", {"fruit": "plums", "need": "3 cubits"}, "'cubits'"),
        ("juice", {"fruit": "plums", "need": "-3 cups"}, "Cannot read"),
        ("juice", {"fruit": "plums", "need": "0 cups"}, "no quantity of juice"),
        ("juice", {"fruit": "plums", "need": "nan cups"}, "Cannot read"),
        ("juice", {"fruit": "plums", "need": "5 lb"}, "Cannot read"),
        ("juice", {"fruit": "sand", "need": "5 cups"}, "sand"),
        ("juice", {"need": "5 cups"}, "Name the fruit"),
        ("juice", {"fruit": LONG, "need": LONG}, "Cannot read"),
        ("juice", {"fruit": INJECTED, "need": "5 cups"}, "no fruit called"),
        ("juice", {"fruit": "\0plum\0", "need": "\0"}, "Give what the recipe"),
        ("juice", {"fruit": "plums", "pressed": "4 lb", "need": "5 cups"}, "gave"),
        (
            "juice",
            {"fruit": "plums", "need": "5 cups", "product": "plum jelly"},
            "one of the two",
        ),
        (
            "juice",
            {"fruit": "plums", "need": "5 cups", "pressed": "1 lb", "got": "9 L"},
            "do not give",
        ),
        ("batch", {"product": "plum jelly"}, "Say what you have"),
        ("batch", {"have": "5 cups", "pot": "11 L"}, "Name what it becomes"),
        ("batch", {"product": "sand", "have": "5 cups", "pot": "11 L"}, "sand"),
        ("batch", {"product": LONG, "have": LONG, "pot": LONG}, "Cannot read"),
        ("batch", {"product": INJECTED, "have": "5 cups", "pot": "11 L"}, "No:"),
        ("batch", {"have": "5 boxes"}, "no quantity of fruit or juice"),
        ("batch", {"have": "-5 cups"}, "Cannot read"),
        ("batch", {"have": "9999999 lb"}, "not what a domestic kitchen has"),
        ("batch", {"pot": "11"}, "11"),
        ("batch", {"pot": "1000 L"}, "not what a domestic kitchen has"),
        ("batch", {"burner": "9 hogsheads"}, "hogsheads"),
        ("batch", {"stove": "wood"}, "is not offered here"),
        ("batch", {"multiple": "two"}, "no whole number"),
        ("batch", {"multiple": "٣"}, "no whole number"),
        ("batch", {"elevation": "99999 ft"}, "where published tables end"),
        ("batch", {"elevation": "high"}, "Cannot read"),
        (
            "batch",
            {"product": "plum jelly", "have": "9 cups", "pot": "11 L", "jar": "tub"},
            "tub",
        ),
        (
            "batch",
            {
                "product": "plum jelly",
                "have": "9 cups",
                "pot": "11 L",
                "multiple": "0",
            },
            "whole batches",
        ),
    ],
)
def test_nonsense_is_answered_and_kept_in_its_field(client, path, fields, match):
    answer = client.get(f"/book/{path}", params=fields)
    assert answer.status_code in (400, 422)
    text = plain(answer.text)
    assert match in text
    assert "Traceback" not in text
    assert scripts_in(answer.text) == []
    for typed in fields.values():
        kept = typed.replace("\0", " ").strip()[:100]
        if typed not in ("wood", "tub"):  # a choice shows what it offers
            assert f'value="{escape(kept)}' in answer.text


@pytest.mark.parametrize("width", [390, 1280])
def test_each_form_is_filled_in_a_browser(open_page, site, width):
    page = open_page(width=width)
    page.goto(f"{site}/book")
    page.get_by_role("link", name="Fruit to juice").click()
    page.get_by_label("Fruit", exact=True).fill("red currants")
    page.get_by_label("Juice that the recipe asks for").fill("6 1/2 cups")
    page.get_by_label("Fruit that was pressed").fill("5 lb")
    page.get_by_label("Juice that it gave").fill("5 1/4 cups")
    page.get_by_role("button", name="Reckon").click()
    answer = page.locator("#answer")
    expect(answer).to_contain_text("1 1/4 cups short")
    assert overflow_px(page) <= 0

    page.get_by_role("link", name="The book").click()
    page.get_by_role("link", name="How many batches").click()
    expect(page.get_by_label("Height of the kitchen")).to_have_value("2150 ft")
    page.get_by_label("What it becomes").fill("plum jelly")
    page.get_by_label("What you have").fill("three bags")
    page.get_by_label("The pot holds").fill("11 L")
    page.get_by_role("button", name="Reckon").click()
    expect(page.locator("#fault-have")).to_contain_text("three bags")
    expect(page.get_by_label("What you have")).to_have_value("three bags")
    assert overflow_px(page) <= 0
    page.get_by_label("What you have").fill("6 bags of 5 cups")
    page.get_by_role("button", name="Reckon").click()
    expect(answer).to_contain_text("6 batches")
    assert overflow_px(page) <= 0

    page.get_by_role("link", name="The book").click()
    page.get_by_role("link", name="A recipe of your own").click()
    page.get_by_role("button", name="Check it").click()
    expect(answer).to_contain_text("10 min in a boiling water canner")
    assert overflow_px(page) <= 0
    text = page.get_by_label("The recipe as a text")
    expect(text).to_have_value(new_recipe_text())
    text.fill(new_recipe_text().replace("8 cups", "some"))
    page.get_by_role("button", name="Check it").click()
    expect(page.locator("#asked")).to_contain_text("Line")
    text.fill(PAGE)
    page.get_by_role("button", name="Check it").click()
    expect(page.locator("#unread")).to_contain_text("a little salt")
    assert overflow_px(page) <= 0
    with page.expect_download() as taken:
        page.get_by_role("button", name="Take the text with you").click()
    assert taken.value.suggested_filename == "recipe.toml"


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_on_paper_there_is_the_answer_and_no_form(open_page, site, scheme):
    page = open_page(color_scheme=scheme)
    page.goto(f"{site}/book/batch?product=plum+jelly&have=28+1/2+cups&pot=11+L")
    page.emulate_media(media="print")
    expect(page.locator("#answer")).to_contain_text("At the pot")
    expect(page.locator("form")).to_be_hidden()


def test_from_the_process_to_ones_own_thermometer(client):
    page = client.get("/book/process", params={"elevation": "1017 ft"}).text
    assert 'href="/why/thermometer?elevation=1017%20ft"' in page
    answer = client.get(
        "/why/thermometer", params={"elevation": "1017 ft", "probe_boils": "208.5 F"}
    )
    # 8 °F above boiling water: USDA Complete Guide, Guide 7
    assert "216.5" in answer.text


@pytest.mark.parametrize("path", PAGES)
def test_every_key_is_large_enough_for_a_wet_hand(open_page, site, path):
    page = open_page(width=390, height=844)
    page.goto(f"{site}/book/{path}")
    small = page.evaluate(
        """() => [...document.querySelectorAll(
            "a, button, summary, input:not([type=hidden]), select, textarea"
        )].filter(e => e.checkVisibility() && !e.matches(".skip, p a:not(.key)"))
        .filter(e => e.getBoundingClientRect().height < 47.5)
        .map(e => e.outerHTML.slice(0, 80))"""
    )
    assert small == []
