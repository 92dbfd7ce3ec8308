"""How lines are set in a terminal."""

import contextlib
import io
import textwrap

from hypothesis import given
from hypothesis import strategies as st

from stillroom.cli.paragraphs import columns, width


@given(st.text("ab -\t\n\N{NO-BREAK SPACE}½\N{EM SPACE}", max_size=110))
def test_a_line_that_fits_is_set_as_one_that_is_broken(text: str):
    # Most lines of a history fit, and are not taken apart to be put together again.
    with contextlib.redirect_stdout(io.StringIO()) as said:
        columns([("1", text)], indent="")
    lines = textwrap.wrap(text, width() - 3, break_on_hyphens=False) or [""]
    expected = [f"1  {lines[0]}".rstrip(), *(f"   {line}" for line in lines[1:])]
    assert said.getvalue() == "".join(f"{line}\n" for line in expected)
