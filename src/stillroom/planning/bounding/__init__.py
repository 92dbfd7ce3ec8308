"""
What no plan can beat, found without any search for a plan.

Read `bounds` first. It has the plain floors, `windows` counts the work that must fall
into each window, and `together` asks hands, fires, pots and canners at once.

::

    bounds.py           lower bounds on the finish, the plain ones
    beside.py           the bound, reckoned beside the search for a plan, and for no
                        longer than that
    canning.py          canner loads, and how jars come to them
    cheapest.py         the cheapest way to place one batch, when every minute of
                        everything has its price
    kinds.py            batches that differ in nothing but their name, and what one of
                        them asks for
    longer_than_day.py  batches that are longer than the day, each alone
    marks.py            what something asks of a supply, as marks in time, and what that
                        costs at a price
    one_fire.py         jars that would wait too long, as pot and canner have one fire
    pairs.py            two stirrings at once in one pair of hands
    pans.py             why two boils are never one person's at once, though each takes
                        but half of them
    prices.py           prices as a proof that a day cannot end by some minute, in whole
                        figures throughout
    proposal.py         the linear program that proposes prices
    stirrings.py        slow stirring beside a pan
    supplies.py         what a kitchen has, minute by minute, that batches and loads ask
                        for
    together.py         what no plan can beat, everything asked for together
    too_many_jars.py    batches that fill more jars than the canners here take before
                        the wait is over
    windows.py          what no plan can beat, window by window
    words.py            which supplies a proof rests on, in words
"""
