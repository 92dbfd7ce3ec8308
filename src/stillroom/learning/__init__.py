"""
What past days teach: own durations, yields, seals, sets and shrink.

::

    quantiles.py  of Student's t and of the beta distribution
    pace.py       how many times the book's figure: log-normal, shrunk to the book
    shares.py     so many of a hundred: beta-binomial, shrunk to the book
    days.py       durations that the runs at the stove tell honestly
    lots.py       yields, seals, sets and counts that the stock tells
    slow_days.py  how much of the spread all steps of a day have in common
    learn.py      all of it together: what a plan takes in
    record.py     the shell: read a record, and learn from it
    said.py       each figure in words, beside the book's

Plain functions: entries in, values out. A published time is never learned.
"""
