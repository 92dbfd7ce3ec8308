import csv
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.book import processes as module
from stillroom.book.acid_foods import is_known_acid, may_mean
from stillroom.book.canner_rules import METHODS, canner_rules
from stillroom.book.names import (
    JELLY_TABLE,
    PUREE_TABLE,
    ProductName,
    product_named,
    product_names,
)
from stillroom.book.of_which_fruit import by_its_table
from stillroom.book.processes import JARS, Process, process_for, processes
from stillroom.refusal import Refusal

PUBLISHED = Path(__file__).parents[1] / "published"
with (PUBLISHED / "processes.csv").open(encoding="utf-8") as _stream:
    COLUMNS = list(csv.DictReader(_stream))


def bands(column):
    """Each band of a printed column: low, high (None: no end), minutes, psi."""
    low = 0
    ends = column["band_ends_ft"].split()
    minutes = column["minutes"].split()
    pressures = column["psi"].split() or [None] * len(ends)
    for end, minute, psi in zip(ends, minutes, pressures, strict=True):
        high = None if end == "up" else int(end)
        yield low, high, int(minute), None if psi is None else float(psi)
        low = (high or 0) + 1


ROWS = [(column, *band) for column in COLUMNS for band in bands(column)]


def asked(column, elevation_ft, **more):
    answer = process_for(
        by_its_table(column["product"]),
        jar=column["jar"],
        canner=column["canner"],
        pack=column["pack"],
        elevation_ft=elevation_ft,
        **more,
    )
    assert isinstance(answer, Process), answer
    return answer


def named(column):
    return "-".join(column[of] for of in ("product", "pack", "jar", "canner", "option"))


@pytest.mark.parametrize("column", COLUMNS, ids=named)
def test_every_printed_row_is_answered_as_printed(column):
    for low, high, minutes, psi in bands(column):
        last = 10_000 if high is None else high
        for elevation in {low, low + 0.4, (low + last) / 2, last}:
            process = asked(column, elevation, pressure_psi=psi)
            assert (process.minutes, process.pressure_psi) == (minutes, psi)
            assert (process.elevation_low_ft, process.elevation_high_ft) == (low, high)
            assert process.headspace_in == float(column["headspace_in"])
            assert process.jar == column["jar"]
            assert process.method == column["canner"]
            assert process.pack == column["pack"]
            assert process.how_known == "looked_up"
            words = column["source"].replace("USDA Complete Guide ", "")
            assert words in process.source


@pytest.mark.parametrize(
    "column", [c for c in COLUMNS if c["band_ends_ft"].split()[-1] != "up"], ids=named
)
def test_above_the_last_printed_band_there_is_no_answer(column):
    last = int(column["band_ends_ft"].split()[-1])
    first = next(bands(column))
    above = process_for(
        by_its_table(column["product"]),
        jar=column["jar"],
        canner=column["canner"],
        pack=column["pack"],
        elevation_ft=last + 0.4,
        pressure_psi=first[3],
    )
    if isinstance(above, Process):  # the same pressure printed for a shorter time
        assert above.option != int(column["option"])
        assert above.minutes > first[2]
    else:
        assert above.reason


def test_without_a_pressure_named_the_first_printed_one_is_meant():
    # Complete Guide, Guide 3, crushed tomatoes: 20 min at 6 psi, or 15 at 11.
    for psi, minutes in [(None, 20), (7.0, 20), (12.0, 15)]:
        process = process_for(
            "crushed tomatoes",
            jar="pint",
            canner="dial-gauge",
            elevation_ft=2150,
            pressure_psi=psi,
        )
        assert isinstance(process, Process)
        assert process.minutes == minutes
        assert "printed too" in words_of(process)
    for canner, psi, reason in [
        ("dial-gauge", 11.0, "at 11 psi is published for 2,150 ft"),
        ("boiling-water", 11.0, "boiling water has no gauge pressure"),
    ]:
        none = process_for(
            "crushed tomatoes",
            jar="pint",
            canner=canner,
            elevation_ft=2150,
            pressure_psi=psi,
        )
        assert isinstance(none, Refusal)
        assert reason in none.reason


def printed_as(column):
    """Name of the printed table that a product of ours is looked up in."""
    name = product_named(column["product"])
    assert isinstance(name, ProductName)
    return name.process_table


def test_the_book_ships_these_rows_and_no_others():
    shipped = Counter(
        (
            *(p.published_as, p.pack, p.jar, p.method, p.option),
            *(p.elevation_low_ft, p.elevation_high_ft, p.minutes, p.pressure_psi),
        )
        for p in processes()
    )
    typed = Counter(
        (
            *(printed_as(c), c["pack"], c["jar"], c["canner"], int(c["option"])),
            *(low, high, minutes, psi),
        )
        for c, low, high, minutes, psi in ROWS
    )
    assert shipped == typed
    assert len(processes()) == len(ROWS) == 1298


def test_column_sums_of_the_table():
    # Summed over the columns as collected from print, apart from the loader.
    rows = processes()
    assert sum(p.minutes for p in rows) == 41_151
    assert sum(p.pressure_psi or 0 for p in rows) == 9_195
    assert sum(p.elevation_low_ft for p in rows) == 2_885_874
    assert sum(p.elevation_high_ft or 0 for p in rows) == 4_033_000
    assert sum(p.headspace_in for p in rows) == 854.875
    assert len({p.published_as for p in rows}) == 81
    assert Counter(p.method for p in rows) == {
        "boiling-water": 436,
        "dial-gauge": 564,
        "weighted-gauge": 298,
    }
    assert Counter(p.pack for p in rows) == {"hot": 896, "raw": 402}
    assert Counter(p.jar for p in rows) == {
        "half-pint": 53,
        "pint": 655,
        "quart": 584,
        "half-gallon": 6,
    }
    assert {p.how_known for p in rows} == {"looked_up"}


# The edge belongs to the lower band; anything above it to the upper.
@pytest.mark.parametrize(
    ("feet", "minutes"),
    [
        (-500, 5),
        (0, 5),
        (1000, 5),
        (1000.4, 10),
        (1000.5, 10),
        (1001, 10),
        (6000, 10),
        (6000.1, 15),
        (10_000, 15),
    ],
)
def test_the_edge_of_a_band_belongs_to_the_lower_band(feet, minutes):
    process = process_for("plum jelly", jar="half-pint", elevation_ft=feet)
    assert isinstance(process, Process)
    assert process.minutes == minutes


elevations = st.floats(-500, 10_000)

BY_COLUMN = {}
for _column, *_band in ROWS:
    _key = (_column["product"], _column["pack"], _column["canner"], _column["jar"])
    BY_COLUMN.setdefault(_key, []).append(_band)


@settings(deadline=None)  # the first call reads the tables
@given(
    st.sampled_from(sorted({c["product"] for c in COLUMNS} | {"pear butter"})),
    st.sampled_from(JARS),
    st.sampled_from(METHODS),
    elevations,
    st.sampled_from(["hot", "raw", None]),
    st.integers(0, 120),
    st.sampled_from([None, 5.0, 6.0, 10.0, 11.0, 12.0, 15.0]),
)
def test_no_answer_is_shorter_than_what_is_printed(
    product, jar, canner, feet, pack, margin, psi
):
    answer = process_for(
        product,
        jar=jar,
        canner=canner,
        elevation_ft=feet,
        pack=pack,
        margin_min=margin,
        pressure_psi=psi,
    )
    if isinstance(answer, Refusal):
        assert answer.reason
        assert answer.instead
        assert answer.source
        return
    table = "apple butter" if product == "pear butter" else product
    if (table, answer.pack) == ("firm berries", "raw"):
        table = "whole berries"
    own = BY_COLUMN.get((table, answer.pack, canner, jar))
    printed = own or BY_COLUMN[table, answer.pack, canner, "pint"]
    assert own or jar == "half-pint"
    here = [
        (minutes, pressure)
        for low, high, minutes, pressure in printed
        if (low == 0 or feet > low - 1) and (high is None or feet <= high)
    ]
    if product == "pear butter" and jar in ("half-pint", "pint") and feet <= 1000:
        here = [(10, None)]  # its own recipe prints 10 min, the longer of the two
    assert (answer.minutes, answer.pressure_psi) in here
    if psi is None:
        assert answer.minutes == max(minutes for minutes, _ in here)
    else:
        assert answer.pressure_psi == psi
    assert answer.total_min == answer.minutes + margin


@settings(deadline=None)  # the first call reads the tables
@given(
    st.sampled_from(["plum jelly", "apple butter", "applesauce", "piccalilli"]),
    elevations,
    elevations,
)
def test_higher_up_is_never_shorter(product, one, other):
    low, high = sorted((one, other))
    below = process_for(product, jar="pint", elevation_ft=low)
    above = process_for(product, jar="pint", elevation_ft=high)
    assert isinstance(below, Process)
    assert isinstance(above, Process)
    assert below.minutes <= above.minutes


@pytest.mark.parametrize(
    ("product", "pack", "canner", "feet", "instead"),
    [
        # hot sauerkraut is printed up to 1,000 ft here, raw all the way
        ("sauerkraut", "hot", "boiling-water", 2000, "pack it raw: 30 min in the same"),
        ("sauerkraut", "hot", "boiling-water", 8000, "pack it raw: 40 min in the same"),
        (
            "tomato sauce",
            "hot",
            "dial-gauge",
            9000,
            "a boiling-water canner or a press",
        ),
        (
            "green beans",
            "raw",
            "dial-gauge",
            9000,
            "a pressure canner (weighted gauge)",
        ),
    ],
)
def test_where_rows_end_it_is_led_to_what_reaches_and_never_back(
    product, pack, canner, feet, instead
):
    answer = process_for(
        product, jar="quart", elevation_ft=feet, pack=pack, canner=canner
    )
    assert isinstance(answer, Refusal)
    assert instead in answer.instead
    asked = {"boiling-water": "a boiling-water canner", "dial-gauge": "(dial"}[canner]
    assert asked not in answer.instead


def test_a_half_pint_takes_the_time_of_the_pint_and_says_so():
    process = process_for("applesauce", jar="half-pint", elevation_ft=0)
    assert isinstance(process, Process)
    assert (process.minutes, process.jar) == (15, "half-pint")
    assert any("names no half-pint" in c.text for c in process.cautions)


def words_of(process):
    return " ".join(caution.text for caution in process.cautions)


def test_under_ten_minutes_jars_are_sterilised_and_the_alternative_is_named():
    process = process_for("plum jelly", jar="pint", elevation_ft=400)
    assert isinstance(process, Process)
    assert "needs sterilised jars: boil them empty 10 min" in words_of(process)
    assert "Or process 10 min with jars that are only clean" in words_of(process)
    assert "published for 0 to 1,000 ft" in words_of(process)


def test_a_short_butter_or_juice_names_no_alternative_that_is_not_printed():
    for product in ("apple butter", "apple juice"):
        process = process_for(product, jar="pint", elevation_ft=400)
        assert isinstance(process, Process)
        assert "needs sterilised jars" in words_of(process)
        assert "Or process" not in words_of(process)


def test_ten_minutes_need_no_sterilised_jars():
    process = process_for("plum jelly", jar="half-pint", elevation_ft=2150)
    assert isinstance(process, Process)
    assert "sterilise" not in words_of(process)


@pytest.mark.parametrize(
    "words",
    [
        "180 °F",
        "1 to 2 inches of water over the lids",
        "Start the clock at a full boil with the lid on",
        "If the boil is lost",
        "5 min of rest",
    ],
)
def test_boiling_water_cautions_are_there_with_a_source(words):
    process = process_for("plum jelly", jar="half-pint", elevation_ft=2150)
    assert isinstance(process, Process)
    said = [caution for caution in process.cautions if words in caution.text]
    assert len(said) == 1
    assert said[0].source


def test_a_process_over_half_an_hour_takes_two_inches_over_the_lids():
    long = process_for("applesauce", jar="quart", elevation_ft=7000)
    assert isinstance(long, Process)
    assert long.minutes == 35
    assert "2 inches of water over the lids: the process is longer" in words_of(long)
    assert "1 to 2 inches" not in words_of(long)


def test_raw_packs_go_into_cooler_water_than_hot_ones():
    # Penn State Extension; USDA Guide 1: 140 °F for raw packs, 180 °F for hot ones.
    for pack, words, others in [("raw", "140 °F", "180 °F"), ("hot", "180 °F", "140")]:
        process = process_for("peaches", jar="quart", elevation_ft=0, pack=pack)
        assert isinstance(process, Process)
        assert words in words_of(process)
        assert others not in words_of(process)


def test_pressure_rows_come_with_venting_and_their_gauge():
    dial = process_for("applesauce", jar="pint", elevation_ft=10, canner="dial gauge")
    weighted = process_for(
        "applesauce", jar="pint", elevation_ft=10, canner="weighted-gauge"
    )
    assert isinstance(dial, Process)
    assert isinstance(weighted, Process)
    for process in (dial, weighted):
        assert "vent for 10 min" in words_of(process)
        assert "Never force a pressure canner to cool" in words_of(process)
        assert "over the lids" not in words_of(process)
        assert "sterilise" not in words_of(process)
    assert "dial gauge checked every year" in words_of(dial)
    assert "dial gauge" not in words_of(weighted)


def test_butters_by_the_leaflet_cite_both_sources_and_say_so():
    for fruit in ("pear", "crab apple", "plum", "peach", "grape", "apricot"):
        process = process_for(f"{fruit} butter", jar="pint", elevation_ft=2150)
        assert isinstance(process, Process)
        assert process.minutes == 10
        assert "01600362" in process.source
        assert "01600550" in process.source
        assert "as apple butter" in process.cautions[0].text
    apple = process_for("apple butter", jar="pint", elevation_ft=2150)
    assert isinstance(apple, Process)
    assert "01600550" not in apple.source


def test_rows_from_memory_never_answer():
    names = {process.published_as for process in processes()}
    assert not any(name.startswith("fruit butter other than apple") for name in names)
    answer = process_for(
        "fruit butter other than apple (pear, peach, plum, apricot, grape)",
        jar="pint",
        elevation_ft=0,
    )
    assert isinstance(answer, Refusal)


def test_a_jelly_without_a_recipe_in_the_book_says_so():
    quince = process_for("quince jelly", jar="half-pint", elevation_ft=0)
    plum = process_for("plum jelly", jar="half-pint", elevation_ft=0)
    assert isinstance(quince, Process)
    assert isinstance(plum, Process)
    assert "the book holds none for this yet" in words_of(quince)
    assert "the book holds none" not in words_of(plum)


def test_fruit_with_a_reservation_says_so():
    peach = process_for("peach jam", jar="pint", elevation_ft=0)
    assert isinstance(peach, Process)
    assert "Yellow-fleshed only" in words_of(peach)


def test_below_sea_level_the_first_band_stands():
    process = process_for("plum jelly", jar="pint", elevation_ft=-200)
    assert isinstance(process, Process)
    assert process.minutes == 5
    assert "begin at 0 ft" in words_of(process)


def test_a_margin_is_shown_as_hers():
    process = process_for("plum jelly", jar="pint", elevation_ft=2150, margin_min=5)
    assert isinstance(process, Process)
    assert (process.minutes, process.margin_min, process.total_min) == (10, 5, 15)
    assert process.cautions[-1].source == "the keeper"


def test_bands_are_written_as_printed():
    for feet, band in [
        (0, "0 to 1,000 ft"),
        (1017, "1,001 to 6,000 ft"),
        (7000, "above 6,000 ft"),
    ]:
        process = process_for("plum jelly", jar="pint", elevation_ft=feet)
        assert isinstance(process, Process)
        assert process.band_ft == band


PLUM = {"product": "plum jelly", "jar": "half-pint", "elevation_ft": 2150}


@pytest.mark.parametrize(
    ("change", "reason", "instead"),
    [
        (
            {"jar": "quart"},
            "no process for plum jelly in quart jars",
            "half-pint or pint",
        ),
        ({"jar": "half-gallon"}, "half-gallon jars is published", "half-pint or pint"),
        ({"jar": "litre"}, "'litre' is not a jar size", "half-pint, pint, quart"),
        ({"jar": "250 ml"}, "'250 ml' is not a jar size", "half-pint, pint, quart"),
        ({"jar": "4 oz"}, "is not a jar size", "its own jar only"),
        ({"jar": ""}, "is not a jar size", "half-pint"),
        (
            {"product": "pear butter", "jar": "quart"},
            "in quart jars",
            "half-pint or pint",
        ),
        (
            {"product": "applesauce", "jar": "half-gallon"},
            "half-gallon",
            "pint or quart",
        ),
        ({"elevation_ft": -501}, "lies below", "check the elevation"),
        ({"elevation_ft": 10_000.1}, "lies above 10,000 ft", "extension service"),
        ({"elevation_ft": float("nan")}, "cannot be read", "number of feet"),
        ({"elevation_ft": float("inf")}, "cannot be read", "number of feet"),
        (
            {"product": "applesauce", "jar": "pint", "canner": "dial-gauge"}
            | {"elevation_ft": 8000.5},
            "lies above 8,000 ft",
            "boiling-water canner",
        ),
        (
            {"product": "applesauce", "jar": "pint", "canner": "weighted-gauge"}
            | {"elevation_ft": 12_000},
            "nothing is extrapolated",
            "freeze or refrigerate",
        ),
        (
            {"product": "jelly or jam, jars not sterilised", "elevation_ft": 1000.4},
            "up to 1,000 ft only",
            "ask for jelly or jam",
        ),
        ({"pack": "raw"}, "no raw pack of plum jelly", "pack it hot"),
        ({"pack": "cold"}, "no cold pack of plum jelly", "pack it hot"),
        (
            {"canner": "dial-gauge"},
            "no dial-gauge process for plum jelly is in this book",
            "boiling-water",
        ),
        (
            {"product": "Mexican tomato sauce", "jar": "quart"},
            "published: it is a mixture with low-acid food",
            "pressure canner (dial or weighted gauge)",
        ),
        ({"canner": "oven"}, "dry heat", "published time"),
        ({"canner": "microwave"}, "no table is published", "boiling-water canner"),
        ({"canner": "dishwasher"}, "never reaches the heat", "boiling-water canner"),
        ({"canner": "Slow cooker"}, "never reaches the heat", "boiling-water canner"),
        ({"canner": "open kettle"}, "no heat after filling", "published time"),
        ({"canner": "upside down"}, "no heat after filling", "published time"),
        ({"canner": "paraffin wax"}, "mould grows under wax", "freeze or refrigerate"),
        ({"canner": "steam canner"}, "no process row", "boiling-water canner"),
        ({"canner": "bucket"}, "is not a canner", "in a boiling-water canner"),
        ({"margin_min": -1}, "never shortens", "add minutes"),
        ({"margin_min": 121}, "0 to 120", "leave the margin out"),
        ({"margin_min": 2.5}, "whole minutes", "leave the margin out"),
        ({"margin_min": float("nan")}, "whole minutes", "leave the margin out"),
        ({"product": "pumpkin butter"}, "low-acid", "cubes under pressure"),
        (
            {"product": "green beans", "jar": "pint"},
            "spores live through boiling water",
            "process it in a pressure canner (dial or weighted gauge), or freeze it",
        ),
        (
            {"product": "chicken without bones", "jar": "quart"},
            "it is low-acid",
            "or freeze it",
        ),
        (
            {"product": "spaghetti sauce without meat", "jar": "quart"},
            "no boiling-water process",
            "pressure canner (dial or weighted gauge)",
        ),
        (
            {"product": "green beans", "jar": "pint", "canner": "dial-gauge"}
            | {"elevation_ft": 8001, "pack": "hot"},
            "lies above 8,000 ft",
            "process it in a pressure canner (weighted gauge) with its own",
        ),
        (
            {
                "product": "sauerkraut",
                "jar": "quart",
                "elevation_ft": 1001,
                "pack": "hot",
            },
            "rows of sauerkraut end in this book",
            "freeze or refrigerate",
        ),
        (
            {"product": "mint jelly", "jar": "pint"},
            "in pint jars",
            "use half-pint jars",
        ),
        ({"product": "golden pepper jelly", "jar": "pint"}, "pint", "half-pint jars"),
        ({"product": "chutney"}, "one chutney", "cranberry orange chutney"),
        (
            {"product": "tomatoes"},
            "each with times of its own",
            "crushed tomatoes, tomatoes packed in water",
        ),
        *(
            (
                {"product": name},
                "each with times of its own",
                "tomatoes packed raw without liquid",
            )
            for name in (
                "raw tomatoes",
                "tomatoes packed raw",
                "raw packed tomatoes",
                "tomatoes packed hot",
                "peeled tomatoes",
                "tomatoes in jars",
            )
        ),
        ({"product": "sweet pepper relish"}, "from memory only", "pickle relish"),
        ({"product": "fermented pickles"}, "fermented in a crock", "sauerkraut"),
        ({"product": "peach salsa"}, "only the tested salsas", "choice salsa"),
        ({"product": "chicken noodle soup"}, "keep heat from the middle", "thicken"),
        ({"product": "refried beans"}, "too dense", "freeze it"),
        ({"product": "tuna"}, "fish and seafood are low-acid", "freeze it"),
        ({"canner": "canning powder"}, "no powder", "published time"),
        (
            {"canner": "electric multi cooker"},
            "was published for it",
            "process it in a boiling-water canner",
        ),
        ({"jar": "mayonnaise jar"}, "not tempered", "home canning"),
        ({"jar": "gallon"}, "no process is published for jars so large", "quarts"),
        ({"product": "elderberry jelly"}, r"pH 4.92", "freeze"),
        ({"product": "fig preserves"}, "not reliably acid", "acidified tested recipe"),
        ({"product": "plumb jelly"}, "knows no product", "plum jelly or"),
    ],
)
def test_what_is_not_published_is_refused_in_words(change, reason, instead):
    answer = process_for(**(PLUM | change))
    assert isinstance(answer, Refusal)
    assert reason in answer.reason
    assert instead in answer.instead


def test_a_puree_says_of_which_fruits_its_time_is_none():
    answer = process_for("peach puree", jar="pint", elevation_ft=0.0)
    assert any("Not for bananas, figs" in str(c) for c in answer.cautions)


@pytest.mark.parametrize("product", ["fruit puree", "Fruit purees", "fruit purée"])
def test_a_puree_of_no_named_fruit_is_asked_for_it_and_has_no_minutes(product):
    """It had 15 min, with the fruit beside them that they are not for."""
    answer = process_for(product, jar="pint", elevation_ft=0.0)
    assert isinstance(answer, Refusal)
    assert "minutes are for acid fruit" in answer.reason
    assert all(fruit in answer.reason for fruit in ("figs", "bananas", "tomatoes"))
    assert "name its fruit" in answer.instead
    assert not is_known_acid(product)
    assert "plum puree" in may_mean(product)
    assert process_for(PUREE_TABLE, jar="pint", elevation_ft=0.0).minutes == 15


NOT_BOILED = sorted(
    name
    for name in product_names()
    if "no boiling-water process"
    in getattr(process_for(name, jar="pint", elevation_ft=0.0), "reason", "")
)


@pytest.mark.parametrize("product", NOT_BOILED)
def test_what_has_no_boiling_water_process_is_never_sent_to_boiling_water(product):
    canners = [*METHODS, "steam canner", "oven", "bucket", "electric multi cooker"]
    refused = [
        answer
        for canner in canners
        for jar in ("pint", "quart")
        for pack in (None, "hot", "raw")
        for height in (0.0, 4000.0, 8000.5, 9999.0, 10_001.0)
        if isinstance(
            answer := process_for(
                product, jar=jar, elevation_ft=height, canner=canner, pack=pack
            ),
            Refusal,
        )
    ]
    assert refused
    for answer in refused:
        assert "boiling-water" not in answer.instead, (product, answer.instead)
    assert answer.source


def test_every_rule_of_the_canner_has_words_and_a_source():
    for rule in canner_rules().values():
        assert rule.caution.text.endswith(".")
        assert rule.caution.source
        assert ("memory" in rule.caution.source) == (rule.how_known == "memory")


def test_no_caution_calls_anything_safe():
    for process in processes():
        answer = process_for(
            process.published_as,
            jar=process.jar,
            canner=process.method,
            pack=process.pack,
            elevation_ft=process.elevation_low_ft,
        )
        assert isinstance(answer, Process)
        assert " safe" not in words_of(answer)


def test_where_two_packs_are_published_the_keeper_says_which(monkeypatch):
    # Invented: the table as if a raw pack with longer times were printed as well.
    raw = tuple(replace(p, pack="raw", minutes=p.minutes + 10) for p in processes())
    both = processes() + raw
    monkeypatch.setattr(module, "processes", lambda: both)
    unsaid = process_for("applesauce", jar="pint", elevation_ft=0)
    assert isinstance(unsaid, Refusal)
    assert "hot and raw pack" in unsaid.reason
    assert unsaid.instead == "say which pack it is"
    for pack, minutes in [("hot", 15), ("raw pack", 25)]:
        said = process_for("applesauce", jar="pint", elevation_ft=0, pack=pack)
        assert isinstance(said, Process)
        assert said.minutes == minutes


def test_a_spread_of_no_named_fruit_is_not_told_that_a_recipe_is_missing():
    process = process_for(JELLY_TABLE, jar="pint", elevation_ft=0)
    assert isinstance(process, Process)
    assert "the book holds none" not in words_of(process)
    assert "tested recipe with its own sugar" in words_of(process)


def test_minutes_of_a_fruit_that_is_not_acid_come_with_the_acid_of_its_recipe():
    # USDA Home & Garden Bulletin 56, fig jam: 1/2 cup lemon juice to 4 cups figs
    figs = process_for("fig jam", jar="half-pint", elevation_ft=1017)
    assert isinstance(figs, Process)
    said = [c for c in figs.cautions if "with its acid" in c.text]
    assert len(said) == 1
    assert "1/2 cup of bottled lemon juice to 4 cups of figs" in said[0].text
    assert "Bulletin 56" in said[0].source
    plums = process_for("plum jam", jar="half-pint", elevation_ft=1017)
    assert isinstance(plums, Process)
    assert not any("with its acid" in c.text for c in plums.cautions)


@pytest.mark.parametrize(
    "said",
    ["zucchini", "courgettes", "summer squash", "spaghetti squash", "broccoli soup"],
)
@pytest.mark.parametrize("canner", ["boiling-water", "weighted-gauge"])
def test_a_vegetable_without_a_table_borrows_none(said, canner):
    """The cubes' table is of pumpkin and winter squash alone."""
    answer = process_for(said, jar="pint", elevation_ft=500, canner=canner)
    assert isinstance(answer, Refusal)
    assert "no table of this book is of this one" in answer.reason
    assert "cubes" not in answer.instead
    assert "freeze it" in answer.instead


def test_winter_squash_is_still_led_to_its_cubes():
    answer = process_for("winter squash", jar="pint", elevation_ft=500)
    assert isinstance(answer, Refusal)
    assert "can cubes under pressure" in answer.instead


def test_sweetcorn_is_corn():
    answer = process_for("sweetcorn", jar="pint", elevation_ft=500)
    assert isinstance(answer, Refusal)
    assert "whole-kernel corn" in answer.instead
    assert "cherries" not in answer.instead


@pytest.mark.parametrize(
    ("product", "word"),
    [("pears", "Asian"), ("peaches", "ellow-fleshed"), ("pineapple", "reliably acid")],
)
def test_a_fruit_is_cautioned_about_once(product, word):
    process = process_for(product, jar="pint", elevation_ft=500, pack="hot")
    assert isinstance(process, Process)
    assert sum(word in caution.text for caution in process.cautions) == 1


@pytest.mark.parametrize(
    ("product", "word"), [("peach jam", "ellow-fleshed"), ("figs", "reliably acid")]
)
def test_what_nobody_else_says_of_a_fruit_stays_said(product, word):
    process = process_for(product, jar="pint", elevation_ft=500)
    assert isinstance(process, Process)
    assert word in words_of(process)


@pytest.mark.parametrize("said", ["jam", "Jelly", "fruit jam", "homemade jelly"])
@pytest.mark.parametrize("jar", ["half-pint", "pint"])
def test_jam_alone_is_asked_of_which_fruit_it_is(said, jar):
    """It was given 10 min without a word, whatever was in it."""
    asked = process_for(said, jar=jar, elevation_ft=1017)
    assert isinstance(asked, Refusal)
    for fruit in ("figs", "white peaches", "melons", "mulberries"):
        assert fruit in asked.reason
    kind = said.lower().split()[-1]
    named = process_for(f"plum {kind}", jar=jar, elevation_ft=1017)
    assert isinstance(named, Process)
    assert f"plum {kind}" in asked.instead
