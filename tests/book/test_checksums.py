"""
The tables weigh what they weighed when they were copied from print.

Row counts and column sums were taken over the rows as collected from print, apart from
the book's own files. A row that is lost, or two columns that change places, is noticed:
the tests at the end do just that to copies.
"""

import csv
import io
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from stillroom.book import process_table
from stillroom.book import processes as look_up
from stillroom.book.names import product_named
from stillroom.book.of_which_fruit import by_its_table
from stillroom.book.processes import Process, process_for, read_processes
from stillroom.book.reader import table
from stillroom.refusal import Unreadable

SUMS = {
    "boiling_point": (
        12,
        {"elevation_ft": "62500", "water_boils_f": "2236", "household_boils_f": "1015"},
    ),
    "canner_facts": (29, {"low": "479", "high": "509"}),
    "densities": (19, {"density_g_per_cup": "4145.6"}),
    "food_facts": (
        47,
        {
            "lb_per_unit": "1008",
            "lb_per_quart": "62.75",
            "lb_per_7_quarts": "437.5",
            "lb_per_9_pints": "280",
            "ph_low": "170.38",
            "ph_high": "194.47",
        },
    ),
    "freezing_headspace": (12, {"headspace": "10.25"}),
    "from_memory": (
        32,
        {
            "minutes": "525",
            "pressure_psi": "120",
            "elevation_low_ft": "74022",
            "elevation_high_ft": "90000",
        },
    ),
    "jelly_juice": (
        5,
        {
            "water_cups_per_lb_low": "2.5",
            "water_cups_per_lb_high": "3",
            "simmer_min_low": "65",
            "simmer_min_high": "90",
            "sugar_cups_per_cup_low": "4",
            "sugar_cups_per_cup_high": "4.5",
            "lemon_tsp_per_cup": "1.5",
            "half_pints_low": "31",
            "half_pints_high": "36",
        },
    ),
    "jelly_point": (9, {"elevation_ft": "36000", "jellying_point_f": "1912"}),
    "juice_yields": (6, {"juice_cups_per_lb": "6.42064"}),
    "keeping": (57, {"low": "1651.5", "high": "2052.5"}),
    "procedure_ingredients": (
        474,
        {"order": "1764", "mass_g": "353717.1", "as_bought_lb": "140.408"},
    ),
    "procedures": (
        97,
        {
            "printed_yield_low": "568",
            "printed_yield_high": "604",
            "boil_min": "329.5",
            "headspace_in": "36",
        },
    ),
    "processes": (
        1298,
        {
            "minutes": "41151",
            "pressure_psi": "9195",
            "elevation_low_ft": "2885874",
            "elevation_high_ft": "4033000",
            "headspace_in": "854.875",
            "option": "1426",
        },
    ),
    "produce": (40, {"ph_low": "120.79", "ph_high": "136.99"}),
    "remake": (
        5,
        {
            "of_cups": "14",
            "sugar_cups": "1.125",
            "water_cups": "0.5625",
            "lemon_tbsp": "6.5",
            "powdered_pectin_tsp": "5.5",
            "liquid_pectin_tbsp": "2",
            "boil_min_low": "4.5",
            "boil_min_high": "5.5",
        },
    ),
    "soluble_solids": (
        26,
        {
            "solids_low_percent": "234.4",
            "solids_likely_percent": "311.1",
            "solids_high_percent": "371.7",
        },
    ),
    "yearly_amounts": (
        38,
        {
            "per_person_year": "853.5",
            "litres_per_person_year": "633.6",
            "family_year": "2621",
            "family_size": "156",
        },
    ),
}


def rows_of(path):
    return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8"))))


def weighs_as_printed(name, path):
    """Tell whether a table has the rows and sums that were copied from print."""
    count, sums = SUMS[name]
    rows = rows_of(path)
    return len(rows) == count and all(
        sum(Decimal(row[column] or 0) for row in rows) == Decimal(printed)
        for column, printed in sums.items()
    )


def copied(tmp_path, name, rows):
    path = tmp_path / f"{name}.csv"
    with path.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.DictWriter(stream, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    return path


@pytest.mark.parametrize("name", SUMS)
def test_row_count_and_column_sums(name):
    assert weighs_as_printed(name, table(name))


@pytest.mark.parametrize("name", SUMS)
def test_a_lost_row_is_noticed(tmp_path, name):
    rows = rows_of(table(name))
    for lost in (0, len(rows) // 2, len(rows) - 1):
        fewer = rows[:lost] + rows[lost + 1 :]
        assert not weighs_as_printed(name, copied(tmp_path, name, fewer))


@pytest.mark.parametrize(
    ("name", "one", "other"),
    [
        (name, one, other)
        for name, (_, sums) in SUMS.items()
        for one in sums
        for other in sums
        # Two of the remake have one sum by chance; test_facts.py names each figure.
        if one < other and sums[one] != sums[other]
    ],
)
def test_two_columns_that_change_places_are_noticed(tmp_path, name, one, other):
    rows = rows_of(table(name))
    swapped = [{**row, one: row[other], other: row[one]} for row in rows]
    assert not weighs_as_printed(name, copied(tmp_path, name, swapped))


# The table that jars rest on is held to print row by row, through the look-up.
with (Path(__file__).parents[1] / "published" / "processes.csv").open() as _stream:
    TYPED = list(csv.DictReader(_stream))


def answers_as_printed(path, monkeypatch):
    """Tell whether the look-up, on this table, still answers as printed."""
    try:
        changed = read_processes(path)
    except Unreadable:
        return False
    monkeypatch.setattr(look_up, "processes", lambda: changed)
    names = {process.published_as for process in changed}
    if names != {process.published_as for process in process_table.processes()}:
        return False
    return all(_column_as_printed(column) for column in TYPED)


def _column_as_printed(column):
    low = 0
    minutes, pressures = column["minutes"].split(), column["psi"].split()
    for at, end in enumerate(column["band_ends_ft"].split()):
        psi = float(pressures[at]) if pressures else None
        answer = process_for(
            by_its_table(column["product"]),
            jar=column["jar"],
            canner=column["canner"],
            pack=column["pack"],
            elevation_ft=low,
            pressure_psi=psi,
        )
        printed = (int(minutes[at]), psi, low, None if end == "up" else int(end))
        if not isinstance(answer, Process) or printed != (
            answer.minutes,
            answer.pressure_psi,
            answer.elevation_low_ft,
            answer.elevation_high_ft,
        ):
            return False
        low = 0 if end == "up" else int(end) + 1
    return True


def test_the_shipped_table_answers_as_printed(monkeypatch):
    assert answers_as_printed(table("processes"), monkeypatch)


@pytest.mark.parametrize("lost", [0, 1, 2, 91, 640, 900, 1283, 1284])
def test_a_lost_process_row_fails_the_look_up(tmp_path, monkeypatch, lost):
    rows = rows_of(table("processes"))
    path = copied(tmp_path, "processes", rows[:lost] + rows[lost + 1 :])
    assert not answers_as_printed(path, monkeypatch)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("minutes", "pressure_psi"),
        ("minutes", "elevation_high_ft"),
        ("elevation_low_ft", "elevation_high_ft"),
        ("pack", "jar"),
        ("method", "pack"),
    ],
)
def test_swapped_process_columns_fail_the_look_up(tmp_path, monkeypatch, one, other):
    rows = rows_of(table("processes"))
    swapped = [{**row, one: row[other], other: row[one]} for row in rows]
    path = copied(tmp_path, "processes", swapped)
    assert not answers_as_printed(path, monkeypatch)


@pytest.mark.parametrize("row", [4, 300, 777, 1200])
def test_a_minute_less_in_any_row_fails_the_look_up(tmp_path, monkeypatch, row):
    rows = rows_of(table("processes"))
    rows[row] = {**rows[row], "minutes": str(int(rows[row]["minutes"]) - 1)}
    path = copied(tmp_path, "processes", rows)
    assert not answers_as_printed(path, monkeypatch)


def test_half_pints_are_never_shorter_than_pints():
    # NCHFP, general rule: where a table names no half-pint, the pint time holds.
    for column in TYPED:
        if column["jar"] != "pint":
            continue
        name = product_named(column["product"])
        ask = {
            "canner": column["canner"],
            "pack": column["pack"],
            "elevation_ft": 0,
        }
        pint = process_for(by_its_table(column["product"]), jar="pint", **ask)
        half = process_for(by_its_table(column["product"]), jar="half-pint", **ask)
        assert isinstance(pint, Process), name
        assert isinstance(half, Process), name
        own = replace(half, jar=pint.jar, cautions=pint.cautions)
        assert own.minutes == pint.minutes
        assert own.pressure_psi == pint.pressure_psi
