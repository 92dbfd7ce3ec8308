"""``stillroom batch``: whole batches, the pot, the odd bag."""

import pytest

from tests.cli.running import run


def test_the_contract():
    said = run(
        "batch", "plum jelly", "--have", "11 cups", "--pot", "12qt",
        "--elevation", "2150ft", "--json",
    )  # fmt: skip
    body = said.json
    assert {
        "product", "multiple", "ingredients", "expected", "pot", "back_to_boil_min",
        "cautions", "source",
    } <= set(body)  # fmt: skip
    assert body["batches"] == 2
    assert body["process_min"] == 10
    assert [
        (i["name"], i["quantity"], i["unit"], i["mass_g"]) for i in body["ingredients"]
    ] == [
        ("plum juice", 5.0, "cup", 1240.0),
        ("sugar", 7.0, "cup", 1400.0),
        ("regular powdered pectin", 1.0, "package", 49.6),
    ]
    assert set(body["expected"]) >= {"jars", "low", "high", "printed", "basis"}
    assert body["expected"]["printed"] == "7 to 8"
    assert body["pot"] == {"needed_l": pytest.approx(8.25, abs=0.05), "given_l": 11.36}
    assert body["left"]["text"].startswith("1 cup, 4 cups short")


@pytest.mark.parametrize(
    ("product", "have", "jar"),
    [
        # each the printed batch of the Complete Guide's recipe, to the pound
        ("pickled hot peppers", "4 lb", "pint"),
        ("bread-and-butter pickles", "6 lb", "pint"),
        ("dilled beans", "2 lb", "pint"),
        ("fermented dill pickles", "4 lb", "pint"),
        ("pickled mixed vegetables", "4 lb", "pint"),
        ("reduced-sodium sliced dill pickles", "4 lb", "pint"),
        ("chile salsa", "5 lb", "pint"),
        ("pickled hot peppers", "64 oz", "pint"),
    ],
)
def test_the_very_batch_that_is_printed_is_a_batch(product, have, jar):
    said = run("batch", product, "--have", have, "--pot", "16qt", "--jar", jar)
    assert said.code == 0, said.out
    assert "1 batch, about " in said.out
    assert "each" not in said.out.partition(":")[2].partition("reckoned")[0]


def test_an_ounce_less_than_the_printed_batch_is_none():
    said = run(
        *("batch", "pickled hot peppers", "--have", "63 oz", "--pot", "16qt"),
        *("--jar", "pint"),
    )
    assert said.code == 3
    assert "less than one batch" in said.err
    assert "4 lb (1.82 kg) make one, 1 oz (29 g) more" in said.err


def test_her_own_multiple_doubles_the_pot_and_is_warned_of():
    one = run(
        "batch", "plum jelly", "--have", "11 cups", "--pot", "24qt", "--json"
    ).json
    two = run(
        "batch", "plum jelly", "--have", "11 cups", "--pot", "24qt", "--multiple", "2",
        "--json",
    ).json  # fmt: skip
    assert two["pot"]["needed_l"] == pytest.approx(2 * one["pot"]["needed_l"], abs=0.02)
    assert any("own choice" in c["text"] for c in two["cautions"])
    assert not any("own choice" in c["text"] for c in one["cautions"])


def test_without_an_elevation_no_process_is_given():
    body = run(
        "batch", "plum jelly", "--have", "5 cups", "--pot", "12qt", "--json"
    ).json
    assert body["process_min"] is None
    assert any("no process is shown" in c["text"] for c in body["cautions"])


def test_an_empty_elevation_gives_no_process():
    said = run(
        "batch", "plum jelly", "--have", "11 cups", "--pot", "12qt", "--elevation", ""
    )
    assert said.code == 2
    assert "--elevation" in said.err


@pytest.mark.parametrize(
    ("have", "batches"),
    [("1.2 l", 1), ("6 bags of 4 3/4 cups", 5), ("15 cups", 3), ("5 cups", 1)],
)
def test_any_measure_of_juice(have, batches):
    said = run("batch", "plum jelly", "--have", have, "--pot", "12qt", "--json")
    assert said.json["batches"] == batches


@pytest.mark.parametrize(
    ("words", "code", "match"),
    [
        (("plum jelly", "--have", "3 cups", "--pot", "12qt"), 3, "less than one batch"),
        (("plum jelly", "--have", "11 cups", "--pot", "8L"), 3, "0.3 L short"),
        (("plum jelly", "--have", "11", "--pot", "12qt"), 2, "--have"),
        (("plum jelly", "--have", "0 cups", "--pot", "12qt"), 2, "--have"),
        (("plum jelly", "--have", "-3 cups", "--pot", "12qt"), 2, "--have"),
        (("plum jelly", "--have", "11 cups", "--pot", "wide"), 2, "--pot"),
        (("plum jelly", "--have", "11 cups", "--pot", "9000qt"), 2, "--pot"),
        (("plum jelly", "--have", "11 cups", "--pot", "12qt", "--burner", "3 MW"), 2,
         "--burner"),
        (("plum jelly", "--have", "11 cups", "--pot", "12qt", "--burner", "300 W"), 3,
         "full boil"),
        (("plum jelly", "--have", "11 cups", "--pot", "12qt", "--multiple", "0"), 3,
         "whole number"),
        (("quince jelly", "--have", "11 cups", "--pot", "12qt"), 3, "quince"),
        (("plum jelly", "--have", "11 cups", "--pot", "12qt", "--jar", "quart"), 3,
         "quart"),
    ],
)  # fmt: skip
def test_every_no_is_in_words(words, code, match):
    said = run("batch", *words)
    assert said.code == code
    assert match in said.err
    assert said.out == ""


def test_sauerkraut_may_be_canned_out_of_its_crock():
    said = run(
        "batch", "sauerkraut", "--have", "25 lb", "--pot", "20qt", "--jar", "quart",
        "--elevation", "500ft",
    )  # fmt: skip
    told = " ".join(said.out.split())
    assert "Kept: refrigerator; or in pint and quart jars for the shelf" in told
    assert "the process published for it (hot or raw pack)." in told
    assert "no canner" not in told


def test_what_is_reckoned_by_the_jar_is_shared_out_over_the_pots():
    said = run(
        "batch", "apple juice", "--have", "54 cups", "--pot", "12qt", "--jar", "pint",
        "--elevation", "2150ft",
    )  # fmt: skip
    assert "27 jars' worth of the recipe, in 2 batches of at most 14" in said.out
    assert "10 min in boiling water" in said.out
    small = run(
        "batch", "apple juice", "--have", "54 cups", "--pot", "4qt", "--jar", "pint",
        "--elevation", "2150ft", "--json",
    ).json  # fmt: skip
    assert small["batches"] > 2
    assert small["batches"] * small["multiple"] >= 27
    assert small["pot"]["needed_l"] <= small["pot"]["given_l"]


def test_low_acid_food_is_given_its_pressure():
    said = run(
        "batch", "green beans", "--have", "10 lb", "--pot", "12qt", "--jar", "pint",
        "--elevation", "500ft",
    )  # fmt: skip
    assert "20 min at 11 psi (dial gauge canner)" in said.out


@pytest.mark.parametrize(
    ("product", "kept"),
    [
        ("frozen strawberries", "freezer"),
        ("lard", "refrigerator"),
        ("dried apples", "dry and dark"),
    ],
)
def test_what_needs_no_canner_says_where_it_keeps(product, kept):
    said = run(
        "batch", product, "--have", "6 lb", "--pot", "12qt", "--jar", "pint",
        "--elevation", "2150ft",
    )  # fmt: skip
    assert f"Kept: {kept}; it goes through no canner." in said.out
    assert "Process:" not in said.out


def test_cups_of_crushed_fruit_are_weighed_as_the_recipe_weighs_them():
    # 2 cups crushed strawberries: Michigan State Univ. Extension leaflet 01600300
    said = run(
        "batch", "strawberry freezer jam", "--have", "5 cups", "--pot", "12qt", "--json"
    )
    assert said.json["batches"] == 2


def test_cups_of_pulp_are_no_cups_of_fruit():
    said = run("batch", "pear butter", "--have", "7 1/4 cups", "--pot", "12qt")
    assert said.code == 3
    assert "not a measure of pears" in said.err


def test_how_the_fruit_is_prepared_is_said_with_its_water():
    said = " ".join(
        run("batch", "plum jam", "--have", "4 lb", "--pot", "12qt").out.split()
    )
    assert (
        "To prepare: Stone and chop 4 lb of plums, skins on; simmer 5 min with" in said
    )
    assert "1/2 cup of water. 6 cups. Order:" in said


def test_the_contract_says_what_goes_in_by_the_jar():
    asked = run(
        "batch", "dilled beans", "--have", "8 lb", "--pot", "12qt", "--jar", "pint",
        "--json",
    )  # fmt: skip
    per = {part["name"]: part["per"] for part in asked.json["ingredients"]}
    assert per["dill heads"] == per["garlic"] == "pint"
    assert per["water"] is per["canning salt"] is None


def test_who_has_litres_is_answered_in_litres():
    said = run(
        *("batch", "plum jelly", "--have", "2.6 L", "--pot", "12qt"),
        *("--elevation", "2150ft"),
    )
    assert "1.18 L (5 cups)  1240 g  plum juice" in said.out
    assert "1.4 kg (7 cups)          sugar" in said.out
    assert "5 cups) plum juice" in " ".join(said.out.split())
    assert "Left over\n234 mL, 949 mL short of another batch" in said.out
    cups = run("batch", "plum jelly", "--have", "11 cups", "--pot", "11L")
    assert "5 cups     1240 g  plum juice" in cups.out


def test_who_asks_in_metric_is_refused_in_metric():
    said = run("batch", "plum jelly", "--have", "1 L", "--pot", "11L")
    err = " ".join(said.err.split())
    assert "1.19 L (5 cups) make one, 183 mL more" in err


def test_a_measure_half_way_and_a_press_are_answered_in_litres_too():
    pulp = run("measured", "pear butter", "1.7 L").out
    assert "1.70 L is 90% of" in pulp
    assert "719 g (3 5/8 cups)" in pulp
    assert "was 800 g (4 cups): take back 81 g" in " ".join(pulp.split())
    fixed = " ".join(run("measured", "plum jelly", "1 L").err.split())
    assert "it lacks 183 mL of plum juice" in fixed
    press = run(
        "juice", "plums", "--for", "plum jelly", "--fruit", "2 kg", "--got", "1L"
    )
    assert "1.00 L, 183 mL short of 1.18 L (5 cups)." in press.out
    assert "that is 366 g (13 oz) more fruit" in " ".join(press.out.split())
    assert "freeze 1.00 L as one lot" in press.out


@pytest.mark.parametrize(
    ("product", "have", "batches", "taken"),
    [
        # 4 1/2 lb of plums give 5 cups: Univ. of Wisconsin Extension B2909
        ("plum jelly", "5 kg", 2, "plums to press: by the printed yield 2.05 kg"),
        ("plum jelly", "9 lb", 2, "plums to press: by the printed yield 4 lb 8 oz"),
        # 3 1/2 lb of grapes give a quart: Complete Guide, Guide 2; 5 cups a batch
        ("grape jelly", "10 lb", 2, "(3.5 lb give a quart; USDA Complete Guide"),
        # 1 cup of juice a pound of apples: Complete Guide, Guide 7; 4 cups a batch
        ("jelly-apple-none", "9 lb", 2, "apples to press: by the printed yield 4 lb"),
        # of no general yield, but 6 lb of peaches give 3 1/2 cups in its own recipe
        ("peach jelly", "18 lb", 3, "6 lb give 3 1/2 cups in this recipe"),
        # 4 cups of pulp, and 1 cup of it from a pound and a third of peaches
        ("peach butter", "8 lb", 2, "the weight of peaches, of which peach pulp"),
        # 4 lb of plums for 6 cups: as the recipe prints them
        ("plum jam", "8 lb", 2, "the weight of plums as they are bought"),
    ],
)
def test_a_weight_is_of_the_fruit_and_says_so(product, have, batches, taken):
    """For a jelly it was taken as a weight of juice: 5 kg of plums made 4 batches."""
    body = run("batch", product, "--have", have, "--pot", "12L", "--json").json
    assert body["batches"] == batches
    assert body["taken_as"].startswith(f"{have} is taken as the weight of ")
    assert taken in body["taken_as"]
    said = run("batch", product, "--have", have, "--pot", "12L").out
    assert taken in " ".join(said.split())


def test_juice_in_jars_goes_by_the_fruit_that_is_pressed_for_it():
    # 1 cup of clear juice a pound: Complete Guide, Guide 7; a pint takes 2 lb
    said = run(
        "batch", "apple juice", "--have", "30 lb", "--pot", "12qt", "--jar", "pint",
    )  # fmt: skip
    assert "15 jars' worth of the recipe" in said.out


def test_cups_of_juice_are_cups_of_juice():
    body = run(
        "batch", "plum jelly", "--have", "10 cups", "--pot", "12L", "--json"
    ).json
    assert (body["batches"], body["taken_as"]) == (2, None)


def test_a_weight_is_no_measure_of_juice_that_is_bought():
    said = run("batch", "apple jelly", "--have", "5 lb", "--pot", "12qt")
    assert said.code == 3
    assert "measured by the cup" in said.err
    assert "4 cups make one batch" in said.err
    assert 'for apples of your own ask for "jelly-apple-none"' in said.err


@pytest.mark.parametrize("product", ["crabapple jelly", "jelly-plum-none"])
def test_frozen_juice_is_cautioned_once(product):
    said = run("batch", product, "--have", "12 cups", "--pot", "12qt", "--json").json
    about = [c for c in said["cautions"] if "frozen" in c["text"]]
    assert len(about) == 1
    assert "Fresh juice and fruit only" in about[0]["text"]
