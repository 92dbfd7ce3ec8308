"""
The demo smallholding, Hollow Larch, and its year. ALL OF IT IS INVENTED.

::

    calendar.py   what comes in and what is made, and when
    farm.py       the record, a clock of its own, and a seed
    stove_day.py  one day at the stove, tap by tap
    after_days.py the day after, and what is eaten, sold, given and counted
    year.py       the whole year, into a record of its own
    invented.py   the mark by which such a record is known

Everything goes through the real commands; nothing is written into tables.
"""
