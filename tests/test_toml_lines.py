"""Where each key stands."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.planning.day_file.dayfile import demo_day_text, new_day_text
from stillroom.toml_lines import line_numbers

TRICKY = (
    '''\
# a comment with [brackets] and "quotes
title = "a # no comment, a \\" quote and a ] bracket"
dotted."quoted key".'single' = 1
long = """
[not.a.header]
x = 1 \\""" still inside ""\\"
"""
literal = \'\'\'
[[nor.this]]\'\'\'
list = [ # comment
  1,
  [2, 3], # two

  { a = 1, b = { c = [
     true ] } },
  2026-08-22 07:30:00,
]
when = 2026-08-22 07:30:00
[table.inner]
k = 1
  [[ table . "rows" ]] # indented
k = { }
[[table.rows]]
k = [ ]
[table.rows.below]
deep = 'it'''
    + """s'
[[table.rows.more]]
[[table.rows.more]]
end = 1.5e3"""
)

PLACES = {
    ("title",): 2,
    ("dotted", "quoted key", "single"): 3,
    ("long",): 4,
    ("literal",): 8,
    ("list",): 10,
    ("list", 0): 11,
    ("list", 1): 12,
    ("list", 1, 1): 12,
    ("list", 2, "a"): 14,
    ("list", 2, "b", "c", 0): 15,
    ("list", 3): 16,
    ("when",): 18,
    ("table", "inner"): 19,
    ("table", "inner", "k"): 20,
    ("table", "rows"): 21,
    ("table", "rows", 0): 21,
    ("table", "rows", 0, "k"): 22,
    ("table", "rows", 1): 23,
    ("table", "rows", 1, "k"): 24,
    ("table", "rows", 1, "below", "deep"): 26,
    ("table", "rows", 1, "more", 0): 27,
    ("table", "rows", 1, "more", 1, "end"): 29,
}


def paths_of(value, path=()):
    """All paths of a value that tomllib has read."""
    if path:
        yield path
    pairs = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value)
        if isinstance(value, list)
        else ()
    )
    for key, below in pairs:
        yield from paths_of(below, (*path, key))


def test_keys_stand_where_they_are_written():
    tomllib.loads(TRICKY)
    lines = line_numbers(TRICKY)
    assert {path: lines.get(path) for path in PLACES} == PLACES


def test_line_ends_of_other_systems_count_the_same():
    assert line_numbers(TRICKY.replace("\n", "\r\n")) == line_numbers(TRICKY)


@pytest.mark.parametrize("text", [TRICKY, demo_day_text(), new_day_text()])
def test_every_path_that_tomllib_reads_has_a_line_with_its_key_on_it(text):
    lines = line_numbers(text)
    written = text.splitlines()
    for path in paths_of(tomllib.loads(text)):
        line = written[lines[path] - 1]
        assert path[-1] in line if isinstance(path[-1], str) else line


@given(st.text("[]{}=.,\"'\\#\n a1-", max_size=60))
def test_it_never_stumbles_and_agrees_with_tomllib_on_what_is_there(text):
    lines = line_numbers(text)  # of any text, TOML or not
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    assert set(lines) == set(paths_of(values))


def test_a_megabyte_is_scanned_in_a_moment():
    text = "[[shelf]]\nis = 'sugar'\nquantity = '1 lb'\n" * 20_000
    assert line_numbers(text)["shelf", 19_999, "quantity"] == 60_000
