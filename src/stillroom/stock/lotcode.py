"""
The lot code: year, month letter, day, number of that day, load, check character.

31 characters are used, none of which is taken for another when it is read aloud or
written by hand: no I, L, O, S and U. The check character is the sum of position times
index, modulo 31. As 31 is a prime and no two positions weigh the same, every single
wrong character and every swap of two is seen. A code has no person, fruit or price in
it; the leading L of the print is the mark of a lot in Europe and no part of the code.
"""

from __future__ import annotations

import datetime as dt

from stillroom.refusal import Unreadable

ALPHABET = "0123456789ABCDEFGHJKMNPQRTVWXYZ"
MONTHS = "ABCDEFGHJKMN"
_BASE = len(ALPHABET)
_MISREAD = str.maketrans({"I": "1", "O": "0"})
LONGEST = 12
MOST_LOADS = _BASE - 1


def check_character(body: str) -> str:
    """
    Return the check character of a code without it.

    >>> check_character("26M2523"), check_character("26M252")
    ('G', 'V')
    """
    total = sum(i * ALPHABET.index(c) for i, c in enumerate(body, start=1))
    return ALPHABET[total % _BASE]


def lot_code(day: dt.date, number: int, load: int | None = None) -> str:
    """
    Return the code of the ``number``-th lot of a day, from canner load ``load``.

    Parameters
    ----------
    day : date
        When it was made or received; year 2000 to 2099.
    number : int
        Batch, or running number, of that day: 1 to 28,860.
    load : int, optional
        Canner load of that day, 1 to 30. One lot is one batch of one load: the
        smallest recall.

    Examples
    --------
    >>> lot_code(dt.date(2026, 11, 25), 2, 3)
    '26M2523G'
    """
    if not 2000 <= day.year <= 2099:
        raise ValueError(f"{day} is outside the years 2000 to 2099 of lot codes")
    if not (load is None or 1 <= load <= MOST_LOADS):
        raise ValueError(f"load {load} is outside 1 to {MOST_LOADS}")
    body = day_of_code(day) + _digits(number)
    if load is not None:
        body += ALPHABET[load]
    return body + check_character(body)


def day_of_code(day: dt.date) -> str:
    """
    Return the part of a code that tells the day.

    >>> day_of_code(dt.date(2026, 11, 25))
    '26M25'
    """
    return f"{day:%y}{MONTHS[day.month - 1]}{day:%d}"


def _digits(number: int) -> str:
    """
    One character up to 30; above it, zeros in front tell how many follow.

    So no two pairs of number and load are written alike.
    """
    if 1 <= number < _BASE:
        return ALPHABET[number]
    if number < _BASE**2:
        return f"0{ALPHABET[number // _BASE]}{ALPHABET[number % _BASE]}"
    rest = number - _BASE**2
    if not 0 <= rest < (_BASE - 1) * _BASE**2:
        raise ValueError(f"{number} lots in a day are more than a code can tell")
    high, rest = divmod(rest, _BASE**2)
    return f"00{ALPHABET[high + 1]}{ALPHABET[rest // _BASE]}{ALPHABET[rest % _BASE]}"


def printed(code: str) -> str:
    """
    Return the code as it is put on a jar, parted for reading aloud.

    >>> printed("26M2523G")
    'L26M25-23G'
    """
    return f"L{code[:5]}-{code[5:]}"


def looks_like_a_code(text: str) -> bool:
    """
    Whether it was meant as a lot code: year, month letter and day in front.

    >>> looks_like_a_code("L26M25-23G"), looks_like_a_code("26m25 23g")
    (True, True)
    """
    code = _bare(text)
    return (
        7 <= len(code) <= LONGEST
        and code.isascii()
        and code[:2].isdigit()
        and code[2] in MONTHS
        and code[3:5].isdigit()
    )


def read_code(text: str) -> str:
    """
    Read a lot code as it is printed, said or typed.

    Raises
    ------
    Unreadable
        If it is none, or a character in it is wrong.

    Examples
    --------
    >>> read_code("L26M25-23G"), read_code("26m25 23g")
    ('26M2523G', '26M2523G')
    """
    code = _bare(text)
    shown = text if len(text) <= 30 else f"{text[:27]}..."
    wrong = next((c for c in code if c not in ALPHABET), None)
    if not 7 <= len(code) <= LONGEST or wrong is not None:
        raise Unreadable(
            f"{shown!r} is no lot code"
            + (f" ({wrong!r} is never in one)" if wrong and wrong.isprintable() else "")
            + ": give it as it stands on the jar, such as L26M25-23G"
        )
    if check_character(code[:-1]) != code[-1]:
        raise Unreadable(
            f"{shown!r} has a wrong character in it: its last one does not fit the "
            "rest. Look at the jar again"
        )
    return code


def _bare(text: str) -> str:
    code = "".join(c for c in text.upper() if c not in " -")
    return code.removeprefix("L").translate(_MISREAD)
