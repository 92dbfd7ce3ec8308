"""
The odds of a plan: ten thousand days under the same order of work.

Read `odds` first. `draws` makes the durations, `forward` runs the days through the
network of `waits`, and `odds` counts them.

::

    odds.py           the odds of a plan
    broken_limits.py  limits that give way on uncertain days: how often, and by how much
    draws.py          durations of many days, drawn at once
    finishing.py      only the finish of many days
    forward.py        one pass forward through the network of a plan, for many days at
                      once; and one back
    implied.py        arcs of a network that need not be looked at
    in_time.py        what a plan is kept by: nothing so soon that a wait gives way
    odds_promises.py  how likely each promise is kept
    odds_words.py     the odds as people say them
    one_more.py       what one more helper, burner or canner would bring
"""
