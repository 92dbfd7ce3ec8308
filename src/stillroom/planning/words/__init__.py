"""
The day sheet, and how steps, loads and hours are called wherever they are said.

Read `sheet` first. Only what can be said of a timetable alone. What is said of odds, of
batches or of a plan that is not found stands with those.

::

    sheet.py           the day sheet
    entries.py         its lines
    lanes.py           its lanes of people, fires and canners
    canner_moved.py    where a canner is moved between two of its loads, for a pot takes
                       its fire
    division_words.py  how the jars of a pack were divided into pots, as it is said of
                       the day
    hour_words.py      somebody's hours in words, and what nobody else does while they
                       are not there
    how_long.py        how long a day takes to plan, said before it is planned
    learned_words.py   which figures of a plan were learned, each beside the book's
    load_words.py      what is said beside a load on the day sheet, for boiling water
                       and for pressure
    nothing_made.py    why a day has no batch at all, and what to do about it
    stood_closed.py    closed jars that stand too long to be canned, said at their load
    step_words.py      steps as their keeper calls them
    too_few_quarters.py
                       who has less attention to give than any step asks for
"""
