"""``stillroom book``: the list, all about one, the sources, and every no."""

import pytest

from stillroom.book.procedures import procedures
from tests.cli.running import run

KEYS = {
    "product", "no_process", "processes", "procedures", "facts", "storage", "freezing",
    "yearly", "cautions",
}  # fmt: skip


def test_the_list_names_every_product_by_kind():
    said = run("book")
    assert said.code == 0
    assert "1,298 published process rows and 106 tested recipes" in said.out
    for name in ("plum jelly (3)", "Asian pears", "green beans", "choice salsa"):
        assert name in " ".join(said.out.split())
    # 115 are held; nine of them are refused, so no keeper can cook by them:
    # five berry jellies and one of red currants by an old bottle of pectin, apricot
    # butter, elderberry jelly, green tomato relish.
    assert len([p for p in procedures() if p.refuse]) == 9
    body = run("book", "--json").json
    assert (body["processes"], body["procedures"]) == (1298, 115 - 9)
    assert {"name": "plums", "kind": "fruit", "rows": 40, "recipes": 0} in body[
        "products"
    ]


def test_the_contract_of_one_product():
    body = run("book", "plum jelly", "--json").json
    assert set(body) == KEYS
    assert body["no_process"] is None
    assert len(body["processes"]) == 6
    assert [p["id"] for p in body["procedures"]] == [
        "jelly-plum-powdered",
        "jelly-plum-liquid",
        "jelly-plum-none",
    ]
    assert body["facts"]["pectin_group"] == "I"
    assert body["facts"]["ph"] == [2.8, 4.6]


def test_tomatoes_show_their_acid_and_every_pressure():
    said = run("book", "crushed tomatoes").out
    assert "20 min at 7 psi" in said
    assert "15 min at 12 psi" in " ".join(said.split())
    assert "1 tbsp of bottled lemon juice" in said


def test_a_food_without_a_process_is_shown_with_the_reason():
    said = run("book", "onions")
    assert said.code == 0
    assert "No process:" in said.out
    assert "5 to 8 months" in said.out
    elder = run("book", "elderberry jelly")
    assert elder.code == 0
    assert "For the record only" in elder.out
    assert "pH 4.92" in " ".join(elder.out.split())


def test_sources_by_table_and_by_publication():
    said = run("book", "--sources")
    assert said.code == 0
    assert "1298 looked up" in said.out
    assert "32 from memory" in said.out
    body = run("book", "--sources", "--json").json
    assert body["tables"]["processes"] == {"looked_up": 1298}
    assert all(set(one) == {"source", "tables", "how_known"} for one in body["sources"])


@pytest.mark.parametrize("word", ["bricks", "", "plum" * 100, "½ ☃"])
def test_what_it_does_not_know_is_refused(word):
    said = run("book", word)
    assert said.code == 3
    assert "Instead:" in said.err


def test_sources_are_of_the_whole_book():
    said = run("book", "plums", "--sources")
    assert said.code == 2
    assert "leave PRODUCT out" in said.err


def test_a_printed_pressure_is_chosen_by_name():
    ask = (
        "process", "crushed tomatoes", "--jar", "pint", "--elevation", "2150ft",
        "--canner", "dial-gauge",
    )  # fmt: skip
    # USDA Complete Guide, Guide 3: 20 min at 7 psi or 15 min at 12, 2,001-4,000 ft.
    assert run(*ask, "--json").json["minutes"] == 20
    assert run(*ask, "--psi", "12", "--json").json["minutes"] == 15
    assert run(*ask, "--psi", "9").code == 3


@pytest.mark.parametrize(
    ("product", "words"),
    [
        # Univ. of Maine Cooperative Extension: 3 min
        ("frozen green beans", "Until: blanched 3 min from the return of the boil."),
        ("frozen whole onions", "Until: blanched until the centre is hot: about 3 min"),
        ("frozen blackberries", "Until: packed and closed; it is not blanched."),
        # Univ. of Missouri Extension GH1563
        ("dried apples", "Until: soft and pliable, no moist spot in the middle when"),
        ("dried apples", "when cut; 6 to 12 h are printed."),
        (
            "dried green beans",
            "2 min in boiling water; dried in one layer. Until: very",
        ),
        ("dried green beans", "Until: very dry and brittle; 8 to 14 h are printed."),
    ],
)
def test_what_is_frozen_or_dried_ends_by_its_own_sign(product, words):
    assert words in " ".join(run("book", product).out.split())


def test_a_batch_to_dry_ends_by_its_own_sign():
    said = run("batch", "dried apples", "--have", "5 lb", "--pot", "8qt")
    assert "Until: soft and pliable" in " ".join(said.out.split())
