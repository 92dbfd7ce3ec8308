"""Tables of freezing, drying, rendering, brines, pickles; what stops a loader."""

from collections import Counter

import pytest

from stillroom.book.brines import brines, read_brines
from stillroom.book.drying import drying_rules, dryings, read_dryings
from stillroom.book.freezing_packs import (
    freezing_packs,
    freezing_rules,
    read_freezing_packs,
)
from stillroom.book.pickle_steps import read_boils, read_stands
from stillroom.book.procedures import procedures
from stillroom.book.processes import process_for
from stillroom.book.reader import table
from stillroom.book.rendering import read_renderings, renderings
from stillroom.book.uncanned import procedure_without_canner
from stillroom.refusal import Refusal, Unreadable, granted

READERS = {
    "freezing_packs": read_freezing_packs,
    "drying": read_dryings,
    "render": read_renderings,
    "brines": read_brines,
    "pickle_stands": read_stands,
    "pickle_boils": read_boils,
}


def text_of(name: str) -> str:
    return table(name).read_text(encoding="utf-8")


def changed(tmp_path, name: str, *swaps: tuple[str, str]):
    text = text_of(name)
    for old, new in swaps:
        assert old in text
        text = text.replace(old, new, 1)
    path = tmp_path / f"{name}.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_rows_and_sums():
    """Typed once and held: a row lost or a figure moved is seen."""
    packs = freezing_packs()
    assert len(packs) == 18
    assert sum(pack.blanch_high_min for pack in packs) == pytest.approx(35.5)
    assert Counter(pack.source.how_known for pack in packs) == {
        "looked_up": 17,
        "memory": 1,
    }
    assert len(dryings()) == 9
    assert sum(d.hours_low + d.hours_high for d in dryings()) == pytest.approx(342)
    assert len(renderings()) == len(brines()) == 2
    assert freezing_rules()["load high"][0] == 3
    assert (
        drying_rules()["conditioning"].low,
        drying_rules()["conditioning"].high,
    ) == (
        4,
        10,
    )


@pytest.mark.parametrize(("name", "reader"), READERS.items())
def test_a_row_without_a_source_stops_the_loader(tmp_path, name, reader):
    lines = text_of(name).splitlines()
    columns = lines[0].split(",").count("source")
    assert columns == 1
    path = tmp_path / f"{name}.csv"
    path.write_text(lines[0] + "\n" + "x," * lines[0].count(",") + "\n")
    with pytest.raises(Unreadable, match=f"{name}.csv|line 2"):
        reader(path)


@pytest.mark.parametrize(("name", "reader"), READERS.items())
def test_swapped_columns_stop_the_loader(tmp_path, name, reader):
    first, *rest = text_of(name).splitlines()
    columns = first.split(",")
    columns[0], columns[1] = columns[1], columns[0]
    path = tmp_path / f"{name}.csv"
    path.write_text("\n".join([",".join(columns), *rest]) + "\n", encoding="utf-8")
    with pytest.raises(Unreadable, match="the columns are"):
        reader(path)


@pytest.mark.parametrize(
    ("name", "old", "new", "message"),
    [
        (
            "freezing_packs",
            ",3,3,from the return",
            ",3,2,from the return",
            "allowed: 3",
        ),
        ("freezing_packs", "green-beans,", "onions-whole,", "stands there twice"),
        ("freezing_packs", ",fruit,sugar,", ",fruit,dry,", "does not go with pack"),
        ("freezing_packs", "1:1", "", "does not go with pack"),
        ("drying", ",6,12,", ",12,6,", "allowed: 12"),
        ("drying", "86.67", "186.67", "allowed: 0 to 99"),
        ("render", "0.70,0.90,0.10", "0.70,0.95,0.10", "more than the raw fat"),
        ("brines", ",3,5,1.5", ",3,,1.5", "go together"),
        ("brines", "pickle-sauerkraut,92.18", "pickle-sauerkraut,9.218", "allowed: 50"),
        ("pickle_stands", "relish-pickle,2", "relish-pickle,3", "must be 2"),
        ("pickle_stands", ",3,4,yes", ",4,3,yes", "allowed: 4"),
        ("pickle_stands", ",3/4,soak", ",3/4,bowl", "must be of soak"),
        ("pickle_stands", ",3/4,soak", ",some,soak", "not a fraction"),
        ("pickle_boils", ",hot; raw,", ",cold,", "hot, raw or both"),
        ("pickle_boils", ",hot,brine,", ",hot,some,", "allowed: none, brine"),
    ],
)
def test_a_figure_that_cannot_be_right_stops_the_loader(
    tmp_path, name, old, new, message
):
    path = changed(tmp_path, name, (old, new))
    with pytest.raises(Unreadable, match=message):
        READERS[name](path)


@pytest.mark.parametrize("name", ["pickle_boils", "pickle_stands", "brines"])
def test_recipes_of_the_tables_are_in_the_book(name):
    known = {procedure.id for procedure in procedures()}
    for line in text_of(name).splitlines()[1:]:
        assert line.split(",")[0] in known


def test_every_pickle_and_every_brine_has_its_row():
    boils = set(read_boils(table("pickle_boils")))
    pickles = {p.id for p in procedures() if p.method == "pickle"}
    assert boils - pickles == {"salsa-choice", "salsa-chile"}
    assert pickles <= boils
    assert {b.procedure for b in brines()} == {
        p.id for p in procedures() if p.method == "brined"
    }


@pytest.mark.parametrize(
    ("name", "id_"),
    [
        ("frozen onions", "freeze-onions-chopped"),
        ("Frozen Whole Onions", "freeze-onions-whole"),
        ("frozen strawberries", "freeze-strawberries-sugar"),
        ("dried apples", "dry-apples"),
        ("prunes, dried", None),
        ("Lard", "render_fat-lard"),
        ("leaf lard", "render_fat-lard"),
        ("plum jelly", None),
        ("dried beans", None),  # that is a canned pack of dried beans
    ],
)
def test_names_find_their_way(name, id_):
    found = procedure_without_canner(name)
    if id_ is None:
        assert found is None
    else:
        assert granted(found).id == id_


def test_no_jar_of_these_is_for_the_shelf():
    for name in ("frozen green beans", "dried apples", "lard"):
        procedure = granted(procedure_without_canner(name))
        assert procedure.keeping == "cold"
        assert not procedure.process_product


@pytest.mark.parametrize("name", ["frozen soup", "frozen peas", "frozen carrots"])
def test_what_is_not_known_is_refused_with_a_way_out(name):
    answer = procedure_without_canner(name)
    assert isinstance(answer, Refusal)
    assert answer.instead
    assert answer.source


@pytest.mark.parametrize("name", ["lard", "frozen green beans", "dried pears"])
def test_a_process_of_what_needs_no_canner_is_refused_with_how_it_is_kept(name):
    answer = process_for(name, jar="pint", elevation_ft=0)
    assert isinstance(answer, Refusal)
    assert "no process in a canner is published for" in answer.reason
    assert f'stillroom book "{name}' in answer.instead
