"""``stillroom process``: the published row, its contract, and every no."""

import pytest

from tests.cli.running import run

KEYS = {
    "product", "method", "jar", "pack", "minutes", "keeper_margin_min", "pressure_psi",
    "elevation_band_ft", "headspace_in", "acid", "source", "how_known", "cautions",
}  # fmt: skip


def test_the_contract():
    said = run(
        "process", "apple butter", "--jar", "pint", "--elevation", "2150ft", "--json"
    )
    assert said.code == 0
    body = said.json
    assert set(body) == KEYS
    # USDA Complete Guide, Guide 2 p. 2-6: pints 5/10/15 min by elevation.
    assert body["minutes"] == 10
    assert body["elevation_band_ft"] == [1001, 6000]
    assert body["how_known"] == "looked_up"
    assert body["cautions"]
    assert all(set(c) == {"text", "source"} for c in body["cautions"])


def test_the_terminal_form_says_minutes_band_and_source():
    said = run("process", "plum jellies", "--jar", "half pint", "--elevation", "655 m")
    assert said.code == 0
    assert "10 min" in said.out
    assert "1,001 to 6,000 ft" in said.out
    assert "USDA Complete Guide" in said.out


def test_it_is_read_in_fractions_and_in_lines_of_the_terminal():
    said = run("process", "Asian pears", "--jar", "quart", "--elevation", "1017ft")
    assert "Headspace 1/2 in" in said.out
    assert max(map(len, said.out.splitlines())) <= 100


def test_her_own_margin_is_hers():
    said = run(
        "process", "plum jelly", "--jar", "pint", "--elevation", "0ft", "--margin", "5"
    )
    assert "5 min" in said.out
    assert "of your own" in said.out


def test_a_pressure_canner_for_applesauce():
    body = run(
        "process", "applesauce", "--jar", "quart", "--elevation", "2150ft",
        "--canner", "dial-gauge", "--json",
    ).json  # fmt: skip
    # USDA Complete Guide, Guide 2, Applesauce: quarts 10 min; 7 lb at 2,001-4,000 ft.
    assert (body["minutes"], body["pressure_psi"]) == (10, 7)


@pytest.mark.parametrize(
    ("words", "code", "match"),
    [
        (("plum jelly", "--jar", "pint", "--elevation", "2150"), 2, "needs its unit"),
        (("plum jelly", "--jar", "pint", "--elevation", "-600ft"), 2, "-500 ft"),
        (("plum jelly", "--jar", "pint", "--elevation", "11000ft"), 2, "10,000 ft"),
        (("plum jelly", "--jar", "pint", "--elevation", "high"), 2, "--elevation"),
        (("plum jelly", "--jar", "pint", "--elevation", "nan ft"), 2, "--elevation"),
        (("plum jelly", "--jar", "pint"), 2, "--elevation"),
        (("plum jelly", "--jar", "bucket", "--elevation", "1000ft"), 3, "bucket"),
        (("plum jelly", "--jar", "quart", "--elevation", "1000ft"), 3, "quart"),
        (("brick", "--jar", "pint", "--elevation", "1000ft"), 3, "brick"),
        (("", "--jar", "pint", "--elevation", "1000ft"), 3, ""),
        (("x" * 5000, "--jar", "pint", "--elevation", "1000ft"), 3, ""),
        (("plum jelly", "--jar", "pint", "--elevation", "1000ft", "--pack", "raw"),
         3, "raw"),
        (("elderberry jelly", "--jar", "pint", "--elevation", "0ft"), 3, "elderberry"),
        (("apple butter", "--jar", "pint", "--elevation", "9000ft", "--canner",
          "dial-gauge"), 3, ""),
    ],
)  # fmt: skip
def test_every_no_is_in_words(words, code, match):
    said = run("process", *words)
    assert said.code == code
    assert match in said.err
    assert "Traceback" not in said.err
    assert len(said.err) < 4000


def test_acid_goes_into_each_jar_of_tomatoes():
    ask = ("--jar", "quart", "--elevation", "0ft", "--pack", "hot", "--json")
    # USDA Complete Guide, Guide 3: 2 tbsp lemon, 1/2 tsp citric acid, 4 tbsp vinegar.
    acid = run("process", "crushed tomatoes", *ask).json["acid"]
    assert [(a["quantity"], a["unit"]) for a in acid] == [
        ("2", "tbsp"),
        ("1/2", "tsp"),
        ("4", "tbsp"),
    ]
    assert run("process", "peaches", *ask).json["acid"] is None


@pytest.mark.parametrize(
    ("canner", "why"),
    [
        ("oven", "dry heat warms jars unevenly"),
        ("open kettle", "get no heat after filling"),
        ("upside down", "get no heat after filling"),
        ("paraffin", "mould grows under wax"),
        ("dishwasher", "never reaches the heat of boiling water"),
        ("microwave", "jars heat unevenly"),
        ("steam canner", "since 2015 boiling-water times of 45 min or less"),
        ("aspirin", "no powder takes the place of heat"),
        ("pressure canner", "a dial gauge or a weighted one"),
        ("campfire", "'campfire' is not a canner"),
        ("", "'' is not a canner"),
    ],
)
def test_what_is_no_canner_is_refused_with_its_reason(canner, why):
    said = run(
        *("process", "strawberry jam", "--jar", "pint", "--elevation", "500ft"),
        *("--canner", canner),
    )
    assert said.code == 3
    assert why in said.err
    assert "process it in a boiling-water canner" in said.err


@pytest.mark.parametrize(
    ("canner", "product", "method"),
    [
        ("water bath", "applesauce", "boiling-water"),
        ("Boiling water", "applesauce", "boiling-water"),
        ("dial", "green beans", "dial-gauge"),
        ("weighted", "green beans", "weighted-gauge"),
        ("weighted gauge canner", "green beans", "weighted-gauge"),
    ],
)
def test_canners_by_their_plain_words(canner, product, method):
    body = run(
        *("process", product, "--jar", "pint", "--elevation", "500ft", "--pack"),
        *("hot", "--canner", canner, "--json"),
    ).json
    assert body["method"] == method


@pytest.mark.parametrize(
    ("product", "pack", "acids"),
    [
        ("tomato sauce", "hot", ["bottled lemon juice", "citric acid"]),
        ("crushed tomatoes", "hot", ["bottled lemon juice", "citric acid"]),
        ("tomatoes packed in water", "raw", ["bottled lemon juice", "citric acid"]),
        ("figs", "hot", ["bottled lemon juice", "citric acid"]),
        ("Asian pears", "hot", ["bottled lemon juice"]),
    ],
)
def test_a_half_pint_takes_the_whole_dose_of_a_pint(product, pack, acids):
    def asked(jar):
        return run(
            *("process", product, "--jar", jar, "--pack", pack),
            *("--elevation", "500ft", "--json"),
        ).json

    half, pint = asked("half-pint"), asked("pint")
    assert [dose["acid"] for dose in half["acid"]] == acids
    assert half["acid"] == pint["acid"]
    said = [caution["text"] for caution in half["cautions"]]
    assert any("whole dose of a pint" in text for text in said)
    assert not any("whole dose of a pint" in c["text"] for c in pint["cautions"])


def test_a_batch_of_half_pints_has_the_process_that_is_told_for_them():
    """It was refused, as the recipe names pints and quarts, and `process` gave it."""
    ask = ("--jar", "half-pint", "--elevation", "500ft", "--json")
    process = run("process", "figs", "--pack", "hot", *ask).json
    batch = run("batch", "figs", "--have", "40 lb", "--pot", "20qt", *ask).json
    assert batch["process_min"] == process["minutes"] == 45
    for words in ("The table names no half-pint", "whole dose of a pint"):
        (told,) = [c for c in process["cautions"] if words in c["text"]]
        assert told in batch["cautions"]
    (acid,) = [i for i in batch["ingredients"] if i["name"] == "bottled lemon juice"]
    jars = batch["expected"]["jars"]
    assert (acid["quantity"], acid["unit"]) == (jars, "tbsp")  # a pint's in each
    pints = run("batch", "figs", "--have", "40 lb", "--pot", "20qt", *ask[2:])
    assert pints.json["cautions"] == batch["cautions"]  # half-pints are the default


def test_quarts_of_what_is_printed_for_pints_are_refused_as_before():
    refused = run(
        *("batch", "chile salsa", "--have", "5 lb", "--pot", "16qt"),
        *("--jar", "quart"),
    )
    assert "the recipe of chile salsa is printed for" in refused.err


def test_acid_of_the_recipe_is_no_dose_of_a_jar():
    body = run(
        *("process", "choice salsa", "--jar", "half-pint", "--elevation", "500ft"),
        "--json",
    ).json
    assert body["acid"] == []
    assert not any("whole dose of a pint" in c["text"] for c in body["cautions"])


def test_the_folk_rule_is_shown_beside_and_not_used():
    ask = ("process", "applesauce", "--jar", "half-pint", "--elevation", "7000ft")
    said = run(*ask, "--folk-rule").out
    # Applesauce, pints: 15 min in the first band, 25 in the last.
    assert "25 min" in said
    assert "21 to 27 min" in said
    assert "is not used" in said
    body = run(*ask, "--folk-rule", "--json").json
    assert (body["minutes"], body["folk_rule"]["would_say_min"]) == (25, [21, 27])
    quart = run(
        "process", "applesauce", "--jar", "quart", "--elevation", "3000ft",
        "--folk-rule", "--json",
    ).json  # fmt: skip
    # Quarts: 20 min in the first band, 25 to 3,000 ft; the rule adds 2 to 4.
    assert (quart["minutes"], quart["folk_rule"]["would_say_min"]) == (25, [22, 24])
    under = run(
        "process", "green beans", "--jar", "quart", "--elevation", "7000ft",
        "--canner", "dial-gauge", "--pack", "raw", "--folk-rule", "--json",
    ).json  # fmt: skip
    assert under["folk_rule"]["would_say_min"] is None
    assert (under["minutes"], under["pressure_psi"]) == (25, 14)


def test_a_margin_is_taken_as_far_as_the_page_takes_it():
    """The page took 90 min and the terminal 60 at most."""
    asked = ("process", "plum jelly", "--jar", "pint", "--elevation", "310m")
    said = run(*asked, "--margin", "120", "--json")
    assert said.json["keeper_margin_min"] == 120
    no = run(*asked, "--margin", "121")
    assert no.code == 2
    assert "120" in no.err
