"""The form holds all that a day file may hold, and hands on just what was typed."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.measures import read_mass_kg
from stillroom.planning.day_file.dayfile import (
    check_day,
    demo_day_text,
    new_day_text,
    read_day,
)
from stillroom.planning.day_file.dayschema import TABLES
from stillroom.web.day_fields import BREAK_FIELDS, SECTIONS, Kind, nested_fields
from stillroom.web.day_tree import (
    Tree,
    add_row,
    file_of_tree,
    remove_row,
    tree_of_file,
    tree_of_form,
    without_blank_rows,
)


def sent_of(tree: Tree) -> list[tuple[str, str]]:
    """What a browser sends of a form that was drawn from a tree."""
    sent = []
    for section in SECTIONS:
        for number, row in enumerate(tree[section.path], start=1):
            at = f"{section.path}[{number}]" if section.many else section.path
            for field in section.fields:
                name, value = f"{at}:{field.key}", row[field.key]
                match field.kind:
                    case Kind.FLAG:
                        sent += [(name, "yes")] if value else []
                    case Kind.WORDS | Kind.BURNERS:
                        sent += [(name, word) for word in value]
                    case Kind.PER_JAR:
                        sent += [(f"{name}:{jar}", n) for jar, n in value.items()]
                    case Kind.ROWS | Kind.PAIRS:
                        sent += [
                            (f"{name}[{i}]:{f.key}", inner[f.key])
                            for i, inner in enumerate(value, start=1)
                            for f in nested_fields(field.kind)
                        ]
                    case _:
                        sent.append((name, value))
    return sent


def test_the_form_has_every_key_of_the_day_file_and_no_other() -> None:
    for section in SECTIONS:
        below = {
            path.removeprefix(section.path + ".")
            for path in TABLES
            if path.startswith(section.path + ".") and path != "people.breaks"
        }
        assert {f.key for f in section.fields} == (
            set(TABLES[section.path].known) - below
        ), section.path
        needed = {f.key for f in section.fields if f.required}
        assert needed == set(TABLES[section.path].required) - below, section.path
    assert {f.key for f in BREAK_FIELDS} == set(TABLES["people.breaks"].known)
    assert {s.path for s in SECTIONS} | {"", "people.breaks"} == set(TABLES)


SUPPER = demo_day_text().replace(
    'power = "3 kW"', 'power = "3 kW"\ntaken = [["17:30", "18:15"], ["08:00", "08:20"]]'
)


@pytest.mark.parametrize("text", [demo_day_text(), new_day_text(), SUPPER])
def test_a_day_comes_back_from_the_form_as_it_went_in(text: str) -> None:
    tree = tree_of_file(text)
    from_form = tree_of_form(sent_of(tree))
    assert from_form == tree
    written = file_of_tree(without_blank_rows(from_form))
    assert tomllib.loads(written) == tomllib.loads(text)
    assert read_day(written) == read_day(text)


@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=40))
def test_whatever_is_typed_is_valid_toml_and_stays_as_typed(typed: str) -> None:
    tree = tree_of_file(new_day_text())
    tree["kitchen.pots"][0]["volume"] = typed
    tree["wants"][0]["jars"] = typed
    tree["day"][0]["date"] = typed
    tree["people"][0]["breaks"][0]["minutes"] = typed
    tree["people"][0]["away"] = [{"from": typed, "to": typed}]
    tree["kitchen.canners"][0]["stands_on"] = [typed]
    values = tomllib.loads(file_of_tree(tree))
    assert values["kitchen"]["pots"][0].get("volume", "") == typed
    assert values["people"][0]["away"] == [[typed, typed]]
    assert values["kitchen"]["canners"][0]["stands_on"] == [typed]
    jars = values["wants"][0].get("jars", "")
    assert jars == typed or (typed.isdigit() and jars == int(typed))


def test_each_fault_names_a_field_that_the_form_has() -> None:
    tree = tree_of_file(demo_day_text())
    tree["kitchen.pots"][1]["volume"] = "huge"
    tree["people"][0]["breaks"][0]["latest"] = "25:00"
    tree["wants"][2]["jars"] = "many"
    tree["kitchen.canners"][0]["holds"] = {"pint": "some"}
    keys = {fault.key for fault in check_day(file_of_tree(tree))}
    assert keys == {
        "kitchen.pots[2].volume",
        "people[1].breaks[1].latest",
        "wants[3].jars",
        "kitchen.canners[1].holds",
    }


def test_rows_come_and_go() -> None:
    tree = tree_of_file(new_day_text())
    pots = len(tree["kitchen.pots"])
    add_row(tree, "kitchen.pots")
    add_row(tree, "people[1].breaks")
    assert len(tree["kitchen.pots"]) == pots + 1
    assert len(tree["people"][0]["breaks"]) == 2
    assert without_blank_rows(tree) == tree_of_file(new_day_text())
    remove_row(tree, "people[1].breaks[1]")
    remove_row(tree, "kitchen.pots[1]")
    assert len(tree["people"][0]["breaks"]) == 1
    assert len(tree["kitchen.pots"]) == pots


@pytest.mark.parametrize(
    "path",
    ["", "soup", "kitchen", "kitchen.pots[9]", "kitchen.pots[0]", "people[1].can[1]",
     "people[99].breaks", "people[1].breaks[7]", "wants[-1]", "wants[1", "[1]"],
)  # fmt: skip
def test_rows_that_are_not_there_change_nothing(path: str) -> None:
    tree = tree_of_file(demo_day_text())
    add_row(tree, path)
    remove_row(tree, path)
    assert tree == tree_of_file(demo_day_text())


@given(st.lists(st.tuples(st.text(max_size=30), st.text(max_size=10)), max_size=5))
def test_names_that_no_form_of_ours_has_are_left_out(
    sent: list[tuple[str, str]],
) -> None:
    nothing = tree_of_form([])
    known = [name for name, _ in sent if name.startswith(("day:", "kitchen"))]
    assert known or tree_of_form(sent) == nothing


def test_a_row_beyond_what_a_file_may_have_is_left_out() -> None:
    most = TABLES["wants"].at_most
    tree = tree_of_form([(f"wants[{most + 1}]:product", "eel jelly")])
    assert tree["wants"] == []


def test_a_row_with_only_its_choices_made_is_blank() -> None:
    tree = tree_of_form([("wants[1]:jar", "pint"), ("wants[1]:for", "pantry")])
    assert without_blank_rows(tree)["wants"] == []


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        *(("7:30", "07:30"), ("6 pm", "18:00"), ("12:15 am", "00:15")),
        *(("half past nine", "half past nine"), ("9", "9"), ("25:00", "25:00")),
    ],
)
def test_a_clock_time_may_be_typed_as_people_say_it(typed: str, written: str) -> None:
    tree = tree_of_file(demo_day_text())
    tree["day"][0]["ends"] = typed
    tree["people"][0]["away"] = [{"from": typed, "to": "6 pm"}]
    said = tomllib.loads(file_of_tree(tree))
    assert said["day"]["ends"] == written
    assert said["people"][0]["away"] == [[written, "18:00"]]


def test_a_burner_is_taken_and_free_again_by_keys_of_the_form() -> None:
    tree = tree_of_file(demo_day_text())
    at = "kitchen.burners[2].taken"
    add_row(tree, at)
    typed = {"from": "5:30 pm", "to": "6:15 pm"}
    tree["kitchen.burners"][1]["taken"][0] = typed
    said = tomllib.loads(file_of_tree(tree))
    assert said["kitchen"]["burners"][1]["taken"] == [["17:30", "18:15"]]
    remove_row(tree, f"{at}[1]")
    assert file_of_tree(tree) == file_of_tree(tree_of_file(demo_day_text()))


def test_a_number_of_jars_may_be_a_word() -> None:
    tree = tree_of_file(demo_day_text())
    tree["wants"][0]["jars"] = "a dozen"
    tree["shelf"][0]["quantity"] = "ten pounds"
    said = tomllib.loads(file_of_tree(tree))
    assert said["wants"][0]["jars"] == 12
    assert read_mass_kg(said["shelf"][0]["quantity"]) == read_mass_kg("10 lb")


@pytest.mark.parametrize(
    ("paid", "typed"),
    [("79.80", "79.80"), ("24.0", "24.00"), ("12", "12"), ("0.125", "0.125")],
)
def test_what_was_paid_is_written_as_a_price(paid: str, typed: str) -> None:
    text = f'[[shelf]]\nwhat = "sugar"\namount = "10 lb"\npaid = {paid}\n'
    tree = tree_of_file(text)
    (row,) = tree["shelf"]
    assert row["paid"] == typed
    again = tomllib.loads(file_of_tree(tree))["shelf"][0]["paid"]
    assert again == tomllib.loads(text)["shelf"][0]["paid"]
