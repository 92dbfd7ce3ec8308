"""A CSV file is booked whole, or not at all."""

import datetime as dt

import pytest

from stillroom.refusal import Unreadable
from stillroom.stock.csv_file import read_csv

TODAY = dt.date(2026, 11, 25)
HEAD = "quantity,what,place,each,day,best_before,supplier,paid,kind,note\n"
GOOD = "14 bags,redcurrant juice,freezer 2,4 cups,June,,,,,\n"


def read(text: str):
    return read_csv(text.encode(), today=TODAY)


def test_rows_are_read_as_sentences_are():
    things = read(HEAD + GOOD + "25 lb,pears,cellar,,,,Orchard Row,12.50,,for butter\n")
    assert [t.what for t in things] == ["redcurrant juice", "pears"]
    assert things[0].measure.words(things[0].number) == "14 bags (56 cups)"
    assert (things[1].supplier, things[1].paid) == ("Orchard Row", "12.50")
    assert things[1].note == "for butter"


def test_a_supplier_who_is_called_by_a_month_is_one_in_his_column():
    (thing,) = read("quantity,what,place,supplier\n25 lb,pears,cellar,June\n")
    assert (thing.supplier, thing.day) == ("June", "")


@pytest.mark.parametrize("line_end", ["\n", "\r\n"])
def test_any_line_ends_and_a_byte_order_mark(line_end):
    raw = "\ufeffquantity,what,place\n60,lids,drawer\n".replace("\n", line_end)
    assert read(raw)[0].number == 60


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("", "empty"),
        (HEAD, "nothing below it"),
        ("quantity,what\n1,x\n", "missing: place"),
        ("quantity,what,place,colour\n1,x,y,z\n", "not known: 'colour'"),
        ("quantity,what,place,what\n1,x,y,z\n", "there twice: what"),
        (HEAD + GOOD + "1,2\n", "line 3: 2 cells, and 10 columns"),
        (HEAD + "3 bags,=SUM(A1),freezer,,,,,,,\n", "line 2, what: '=SUM"),
        (HEAD + "3 bags,juice,@freezer,,,,,,,\n", "line 2, place: '@freezer"),
        (HEAD + "+3 bags,juice,freezer,,,,,,,\n", "formula"),
        (HEAD + "-3 bags,juice,freezer,,,,,,,\n", "formula"),
        (HEAD + GOOD + "some,juice,freezer,,,,,,,\n", "line 3"),
        (HEAD + "3 bags,juice,,,,,,,,\n", "name a place"),
        (HEAD + "3 bags,juice,freezer,,2027-06-01,,,,,\n", "future"),
        (HEAD + "3 bags,juice,freezer,,,,,,gold,\n", "'gold' is none of raw"),
        (HEAD + '3 bags,"juice, from me",freezer,,,,,,,\n', "leave commas out"),
        (HEAD + "3 bags,ju\u202eice,freezer,,,,,,,\n", "cannot be read"),
        (HEAD + '3 bags,"juice\n', "no CSV"),
        ("quantity,what,place\n1\x00,x,y\n", "zero bytes"),
    ],
)
def test_a_faulty_file_is_refused_with_its_rows(text, fault):
    with pytest.raises(Unreadable) as said:
        read(text)
    assert fault in str(said.value), str(said.value)


def test_a_file_of_ten_megabytes_is_refused():
    told = r"has 10\.0 MB; .*at most 1 MB.* Nothing was booked"
    with pytest.raises(Unreadable, match=told):
        read_csv(b"x" * 10_000_000, today=TODAY)


def test_a_file_that_is_not_utf_8_names_its_line():
    with pytest.raises(Unreadable, match="line 2: the file is not in UTF-8"):
        read_csv(HEAD.encode() + b"3 bags,caf\xe9,freezer\n", today=TODAY)


def test_many_faults_are_not_all_recited():
    with pytest.raises(Unreadable, match="and 80 faults more"):
        read(HEAD + "some,juice,freezer,,,,,,,\n" * 100)
