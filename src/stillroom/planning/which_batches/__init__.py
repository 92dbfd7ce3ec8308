"""
From the shelf and the wants to whole batches, and what becomes of the rest.

Read `batches` first. It makes the batches, `choices` finds recipe, process and pots for
each want, and `kitchen_problem` hands them to the planner as steps and minutes.

::

    batches.py          whole batches, of what will not keep first
    around.py           what is done around the day
    batch_words.py      one batch as it is asked for and as it is said
    choices.py          recipe, process, pots and fire that serve one want
    counted_jars.py     how many jars each batch is counted on for
    day_divided.py      the day with its packs divided in one way
    division_told.py    what is said of each division that was tried
    divisions.py        how so many jars' worth may be divided into pots
    either_will_do.py   which of several things a batch takes, where any will do
    evening.py          the evening before: what is set out, thawed and counted
    idle_canners.py     canners without a load, though its jars have a table for them
    juice_words.py      fruit to juice as it is said, at the terminal and on the page
    kitchen_problem.py  the batches as steps, resources and minutes
    lacking.py          what one more batch or jar lacks
    leftovers.py        the odd bag: what is left, and what it may become
    missed_most.py      in which order batches would be missed
    names_on_shelf.py   which names on a shelf mean one thing
    not_counted.py      what lies on the shelf and does not count, by measure or name
    not_made.py         what was promised by an hour and is not made
    one_batch.py        how many whole batches, and does the pot hold them?
    out_of_the_freezer.py  what is moved the evening before, and what stays frozen
    pressed.py          fruit for a recipe that is measured by its juice
    served_since.py     whom batches serve once the day has gone otherwise
    shelf.py            the shelf as the planner draws on it
    shopping.py         what a day needs more of than the shelf has
    sizes.py            how large the pots of a pack should be
    spares.py           what was left out, kept to be taken in after all
    stood_before.py     when what stood overnight may be gone on with
    thawed_packs.py     what is to be known of packs of food that was frozen
    thawing.py          how long frozen bags thaw
    year.py             how much for the year
    yields.py           yields of all recipes, beside the printed figure
"""
