"""The lot code: read aloud, typed back, and every slip noticed."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.refusal import Unreadable
from stillroom.stock.lotcode import (
    ALPHABET,
    check_character,
    looks_like_a_code,
    lot_code,
    printed,
    read_code,
)

DAYS = st.dates(dt.date(2000, 1, 1), dt.date(2099, 12, 31))
CODES = st.builds(
    lot_code, DAYS, st.integers(1, 28_000), st.none() | st.integers(1, 30)
)


def test_the_second_batch_and_third_load_of_a_day():
    # By hand: 2*1 + 6*2 + M(20)*3 + 2*4 + 5*5 + 2*6 + 3*7 = 140 = 4*31 + 16 -> G.
    assert ALPHABET.index("M") == 20
    assert lot_code(dt.date(2026, 11, 25), 2, 3) == "26M2523G"
    assert check_character("26M2523") == ALPHABET[140 % 31] == "G"


@given(CODES)
def test_every_code_is_read_back_as_it_is_printed(code):
    assert read_code(printed(code)) == code
    assert looks_like_a_code(printed(code))
    spaced = f" {code.lower()[:5]} {code.lower()[5:]}"
    assert read_code(spaced) == code
    assert looks_like_a_code(spaced)


@given(CODES, st.data())
def test_every_wrong_character_is_noticed(code, data):
    at = data.draw(st.integers(0, len(code) - 1))
    other = data.draw(st.sampled_from([c for c in ALPHABET if c != code[at]]))
    with pytest.raises(Unreadable, match="wrong character"):
        read_code(code[:at] + other + code[at + 1 :])


@given(CODES, st.data())
def test_every_swap_of_two_is_noticed(code, data):
    one, two = data.draw(
        st.lists(st.integers(0, len(code) - 1), min_size=2, max_size=2, unique=True)
    )
    swapped = list(code)
    swapped[one], swapped[two] = swapped[two], swapped[one]
    if swapped != list(code):
        with pytest.raises(Unreadable):
            read_code("".join(swapped))


def test_no_two_lots_of_a_day_have_one_code():
    day = dt.date(2026, 11, 25)
    codes = [
        lot_code(day, number, load)
        for number in (*range(1, 1200), 28_000)
        for load in (None, 1, 7, 30)
    ]
    assert len(set(codes)) == len(codes)


@pytest.mark.parametrize("text", ["", "L", "plum jelly", "26M25-2$", "L26S2523G", "¹"])
def test_what_is_no_code_is_told_how_one_looks(text):
    with pytest.raises(Unreadable, match="no lot code"):
        read_code(text)
