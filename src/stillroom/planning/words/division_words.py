"""How the jars of a pack were divided into pots, as it is said of the day."""

from __future__ import annotations

from collections import Counter

from stillroom.in_a_list import all_of
from stillroom.planning.dayplan import Divided
from stillroom.planning.daytime import clock_time, said_minutes

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight")


def division_words(divided: Divided, starts_at: str) -> str:
    """
    One sentence: which pots, rather than which, and what the search found for each.

    Parameters
    ----------
    divided : Divided
        What was compared.
    starts_at : str
        Clock time of minute 0, "07:30".

    Examples
    --------
    >>> pears = Divided(product="pears", jar="quart", plain=(7, 7), other=(5, 5, 4),
    ...     taken=True, why="more, smaller pots", plain_ends_min=500,
    ...     other_ends_min=475, plain_loads=2, other_loads=3, searched=True, ways=4)
    >>> said = division_words(pears, "07:30")
    >>> said.partition(" (")[0]
    'pears: three batches, two of 5 quarts and one of 4'
    >>> said[-48:]
    '25 min sooner, with 3 canner loads rather than 2'
    """
    plain = _batches(divided, divided.plain)
    few = _few_words(divided)
    if divided.other is None:
        others = divided.ways - 1
        none = (
            f"the one other way to divide {_them(divided)} does not end"
            if others == 1
            else f"of {others} other ways to divide {_them(divided)} none ends"
        )
        return (
            f"{divided.product}: {plain}, {few}; {none} clearly sooner in a plan by "
            "hand"
        )
    other = f"{_batches(divided, divided.other)} ({_why(divided)})"
    how = "in a short search of each" if divided.searched else "planned by hand"
    if not divided.taken:
        mine, its = divided.other_ends_min, divided.plain_ends_min
        sooner = mine is not None and its is not None and mine < its
        verdict = "little better" if sooner else "no better"
        return (
            f"{divided.product}: {plain}, {few}; {other} would be {verdict}: {how}, "
            f"{_against(divided, starts_at, taken=False)}"
        )
    return (
        f"{divided.product}: {other}, rather than {plain}: "
        f"{how}, {_against(divided, starts_at, taken=True)}"
    )


def _batches(divided: Divided, sizes: tuple[int, ...]) -> str:
    """How many batches of how much: pounds where it is no jar's worth that counts."""
    return batches_words(sizes, divided.one_is or divided.jar)


def _few_words(divided: Divided) -> str:
    """What the plain rule is, of what goes into pots, and canners, or neither."""
    if not divided.in_pots:
        return "as few even batches as may be"
    if not divided.canned:
        return "as few even pots as hold it"
    return "as few even pots as a canner load holds"


def _why(divided: Divided) -> str:
    if divided.in_pots:
        return divided.why
    said = divided.why.replace("the pot full", "as much as one batch may be")
    return said.replace("pots", "batches")


def batches_words(sizes: tuple[int, ...], jar: str) -> str:
    """
    Say how many batches of how many jars.

    >>> batches_words((7, 7), "quart"), batches_words((9,), "pint")
    ('two batches of 7 quarts', 'one batch of 9 pints')
    >>> batches_words((9, 9, 3), "quart")
    'three batches, two of 9 quarts and one of 3'
    >>> batches_words((5, 5), "lb")
    'two batches of 5 lb'
    """
    counted = Counter(sizes)
    number = f"{_number(len(sizes))} {'batch' if len(sizes) == 1 else 'batches'}"
    jars = [(size, counted[size]) for size in sorted(counted, reverse=True)]
    unit = f"{jar}{'' if jars[0][0] == 1 or jar == 'lb' else 's'}"
    if len(jars) == 1:
        return f"{number} of {jars[0][0]} {unit}"
    said = [f"{_number(count)} of {size}" for size, count in jars]
    said[0] += f" {unit}"
    return f"{number}, {all_of(said)}"


def _against(divided: Divided, starts_at: str, *, taken: bool) -> str:
    """Compare the two: hours, the difference, canner loads."""
    mine, its = divided.other_ends_min, divided.plain_ends_min
    if its is None or mine is None:
        return "only the first finds room in the day"
    ends = f"done by {clock_time(starts_at, mine)} rather than"
    gained = its - mine
    said = f"{ends} {clock_time(starts_at, its)}"
    if gained:
        said += f", {said_minutes(abs(gained))} {'sooner' if gained > 0 else 'later'}"
    if mine == its:
        said = f"done by {clock_time(starts_at, mine)} either way"
    if divided.canned and divided.other_loads:
        loads = "load" if divided.other_loads == 1 else "loads"
        said += f", with {divided.other_loads} canner {loads} "
        level = divided.other_loads == divided.plain_loads
        said += "either way" if level else f"rather than {divided.plain_loads}"
    if not taken and gained > 0:
        more = "one pot more to wash" if divided.in_pots else "one batch more"
        said += f"; {more}, or the noise of a search, outweighs that"
    return said


def _them(divided: Divided) -> str:
    units = sum(divided.plain)
    if units == 1:
        return "it"
    if divided.one_is:
        return f"the {units} {divided.one_is}{'' if divided.one_is == 'lb' else 's'}"
    return f"the {units} jars' worth"


def _number(count: int) -> str:
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)
