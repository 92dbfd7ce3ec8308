import csv
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.book import processes as module
from stillroom.book.canner_rules import METHODS, canner_rules
from stillroom.book.processes import JARS, Process, process_for, processes
from stillroom.refusal import Refusal

PUBLISHED = Path(__file__).parents[1] / "published"
PRINTED_AS = {
    "jelly": "jelly (any cooked fruit jelly, tested recipe)",
    "jam": "jam (any cooked fruit jam, tested recipe)",
    "jelly or jam, jars not sterilised": "jelly or jam, jars NOT pre-sterilised",
    "fruit puree": "fruit puree (any acid fruit; not banana, fig, Asian pear, tomato, "
    "melon, papaya, ripe mango, coconut)",
}

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
        column["product"],
        jar=column["jar"],
        canner=column["canner"],
        elevation_ft=elevation_ft,
        **more,
    )
    assert isinstance(answer, Process), answer
    return answer


@pytest.mark.parametrize(
    ("column", "low", "high", "minutes", "psi"),
    ROWS,
    ids=[f"{r[0]['product']}-{r[0]['jar']}-{r[0]['canner']}-{r[1]}" for r in ROWS],
)
def test_every_printed_row_is_answered_as_printed(column, low, high, minutes, psi):
    last = 10_000 if high is None else high
    for elevation in {low, low + 0.4, (low + last) / 2, last}:
        process = asked(column, elevation)
        if elevation == low and low:
            assert process.minutes == minutes
        assert (process.minutes, process.pressure_psi) == (minutes, psi)
        assert (process.elevation_low_ft, process.elevation_high_ft) == (low, high)
        assert process.headspace_in == float(column["headspace_in"])
        assert process.jar == column["jar"]
        assert process.method == column["canner"]
        assert process.pack == "hot"
        assert process.how_known == "looked_up"
        words = column["source"].replace("USDA Complete Guide ", "")
        assert words in process.source


def test_the_book_ships_these_rows_and_no_others():
    shipped = {
        (p.published_as, p.jar, p.method, p.elevation_low_ft, p.minutes)
        for p in processes()
    }
    typed = {
        (
            PRINTED_AS.get(c["product"], c["product"]),
            c["jar"],
            c["canner"],
            low,
            minutes,
        )
        for c, low, _, minutes, _ in ROWS
    }
    assert shipped == typed
    assert len(processes()) == len(ROWS) == 79


def test_column_sums_of_the_table():
    # By hand: jelly and jam 140, butter 105, sauce 298, puree 216, juices 210 min;
    # sauce 90, puree 90 psi; upper ends 211,000 ft.
    rows = processes()
    assert sum(p.minutes for p in rows) == 969
    assert sum(p.pressure_psi or 0 for p in rows) == 180
    assert sum(p.elevation_high_ft or 0 for p in rows) == 211_000
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


@given(
    st.sampled_from(sorted({c["product"] for c in COLUMNS} | {"pear butter"})),
    st.sampled_from(JARS),
    st.sampled_from(METHODS),
    elevations,
    st.sampled_from(["hot", "raw", None]),
    st.integers(0, 120),
)
def test_no_answer_is_shorter_than_what_is_printed(
    product, jar, canner, feet, pack, margin
):
    answer = process_for(
        product,
        jar=jar,
        canner=canner,
        elevation_ft=feet,
        pack=pack,
        margin_min=margin,
    )
    if isinstance(answer, Refusal):
        assert answer.reason
        assert answer.instead
        assert answer.source
        return
    printed_jar = "pint" if answer.jar != jar else jar
    table = "apple butter" if product == "pear butter" else product
    printed = [
        (minutes, psi)
        for column, low, high, minutes, psi in ROWS
        if column["product"] == table
        and column["canner"] == canner
        and column["jar"] in (jar, printed_jar if jar != "half-pint" else "pint")
        and (low == 0 or feet > low - 1)
        and (high is None or feet <= high)
    ]
    assert printed
    assert any(
        answer.minutes == minutes and answer.pressure_psi == psi
        for minutes, psi in printed
    )
    assert answer.minutes >= min(minutes for minutes, _ in printed)
    assert answer.total_min == answer.minutes + margin


@given(st.sampled_from(["jelly", "apple butter", "applesauce"]), elevations, elevations)
def test_higher_up_is_never_shorter(product, one, other):
    low, high = sorted((one, other))
    below = process_for(product, jar="pint", elevation_ft=low)
    above = process_for(product, jar="pint", elevation_ft=high)
    assert isinstance(below, Process)
    assert isinstance(above, Process)
    assert below.minutes <= above.minutes


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
        ({"canner": "dial-gauge"}, "no dial-gauge process for plum", "boiling-water"),
        ({"canner": "oven"}, "dry heat", "published time"),
        ({"canner": "microwave"}, "no table is published", "boiling-water canner"),
        ({"canner": "dishwasher"}, "never reaches the heat", "boiling-water canner"),
        ({"canner": "Slow cooker"}, "never reaches the heat", "boiling-water canner"),
        ({"canner": "open kettle"}, "no heat after filling", "published time"),
        ({"canner": "upside down"}, "no heat after filling", "published time"),
        ({"canner": "paraffin wax"}, "mould grows under wax", "freeze or refrigerate"),
        ({"canner": "steam canner"}, "no process row", "boiling-water canner"),
        ({"canner": "bucket"}, "is not a canner", "boiling-water, dial-gauge"),
        ({"margin_min": -1}, "never shortens", "add minutes"),
        ({"margin_min": 121}, "0 to 120", "leave the margin out"),
        ({"margin_min": 2.5}, "whole minutes", "leave the margin out"),
        ({"margin_min": float("nan")}, "whole minutes", "leave the margin out"),
        ({"product": "pumpkin butter"}, "low-acid", "cubes under pressure"),
        ({"product": "elderberry jelly"}, r"pH 4.92", "freeze"),
        ({"product": "fig jam"}, "not reliably acid", "acidified tested recipe"),
        ({"product": "plumb jelly"}, "knows no product", "plum jelly or"),
    ],
)
def test_what_is_not_published_is_refused_in_words(change, reason, instead):
    answer = process_for(**(PLUM | change))
    assert isinstance(answer, Refusal)
    assert reason in answer.reason
    assert instead in answer.instead
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
    process = process_for("jelly", jar="pint", elevation_ft=0)
    assert isinstance(process, Process)
    assert "the book holds none" not in words_of(process)
    assert "tested recipe with its own sugar" in words_of(process)
