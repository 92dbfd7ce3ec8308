"""Reasons that need no search: what is counted, and from where it is too much."""

from __future__ import annotations

import pytest
from planning.small_days import butter, canner, day, jelly

from stillroom.planning.problem import Counter
from stillroom.planning.why_not.explain import plain_reasons

END = 480
ALL_DAY = 1440


@pytest.mark.parametrize(
    ("places", "taken", "cooling", "said"),
    [
        # 8 jars of jelly and 7 of butter: 15, and 10 that are still there at the end
        (
            24,
            ((10, END),),
            ALL_DAY,
            "15 jars are to cool; 10 of the day before still stand on the counter all "
            "day, and it has room for 24",
        ),
        (25, ((10, END),), ALL_DAY, ""),
        (24, ((10, END - 1),), ALL_DAY, ""),  # fetched a minute sooner they make room
        (24, ((10, END),), END - 1, ""),  # the first of the day are cold by its end
        (24, ((4, END), (6, END + 60)), END, "15 jars are to cool; 10 of the day"),
        (14, (), END, "15 jars are to cool for 8 h; the counter has room for 14"),
        (14, (), END - 1, ""),
        (15, (), END, ""),
    ],
)
def test_jars_of_the_day_before_take_places_where_they_stand_all_day(
    places: int, taken: tuple[tuple[int, int], ...], cooling: int, said: str
) -> None:
    counter = Counter(places=places, cooling_min=cooling, taken=taken)
    two = canner(places={"half_pint": 16, "pint": 16})
    found = plain_reasons(day(jelly(), butter(), counter=counter, canners=(two,)))
    about = [one for one in found if "counter" in one]
    assert len(about) == bool(said)
    assert all(one.startswith(said) for one in about)


def test_one_jar_is_to_cool_and_goods_of_no_canner_are_none() -> None:
    counter = Counter(places=5, cooling_min=ALL_DAY, taken=((5, END),))
    cold = jelly("cold", process=None)
    (said,) = plain_reasons(day(jelly(jars=1), cold, counter=counter))
    assert said.startswith("1 jar is to cool; 5 of the day before")
