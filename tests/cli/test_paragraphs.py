"""How lines are set in a terminal."""

import contextlib
import io
import textwrap

from hypothesis import given
from hypothesis import strategies as st

from stillroom.cli.paragraphs import columns, width

WIDE = (
    ("load 10", "speckled canner", "in 12:22", "boil 12:48", "10 min: 8 plum jelly 2"),
    ("load 2", "deep canner", "in 8:03", "boil 8:28", "10 min: 6 sour cherry jelly 2"),
)


def test_no_row_is_wider_than_the_terminal_and_no_word_is_lost(monkeypatch):
    monkeypatch.setenv("COLUMNS", "60")
    with contextlib.redirect_stdout(io.StringIO()) as said:
        columns([*WIDE, ("more", "", "", "", "and so on " * 9)])
    lines = said.getvalue().splitlines()
    assert max(map(len, lines)) <= 60
    words = {word for row in WIDE for cell in row for word in cell.split()}
    assert words <= set(said.getvalue().split())


@given(st.text("ab -\t\n\N{NO-BREAK SPACE}½\N{EM SPACE}", max_size=110))
def test_a_line_that_fits_is_set_as_one_that_is_broken(text: str):
    # Most lines of a history fit, and are not taken apart to be put together again.
    with contextlib.redirect_stdout(io.StringIO()) as said:
        columns([("1", text)], indent="")
    lines = textwrap.wrap(text, width() - 3, break_on_hyphens=False) or [""]
    expected = [f"1  {lines[0]}".rstrip(), *(f"   {line}" for line in lines[1:])]
    assert said.getvalue() == "".join(f"{line}\n" for line in expected)
