"""
The day beside other days: with changes, with one thing more, and the next day.

Read `what_if` first. These call the whole planner once for each day and compare the
answers.

::

    what_if.py        what if
    better_day.py     which of two days that make the same is better
    brought_back.py   what one more helper, burner or canner would bring back of what
                      was left out
    told_beside.py    what is said beside a changed day, each where it is so
    two_days.py       two days that follow one another
    what_if_words.py  what a comparison of days comes to, in a sentence, and what each
                      of them leaves out
"""
