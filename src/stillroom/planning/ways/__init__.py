"""
Ways out of a day that does not fit, each with the plan that proves it.

Read `ways_out` first. It is the door. `held_plan` and `put_behind` find at once what a
plan of one day is worth on another; what may be changed is `way_changes`, at the top.

::

    ways_out.py     the cheapest ways out, each of them solved
    held_loads.py   the canner loads of a plan, some of whose jars are not made
    held_plan.py    a plan of one day, as far as it holds for another that is like it
    put_behind.py   a plan of some batches, and the others put behind by hand
    way_begun.py    where they begin: what fits, and others put behind it
    way_cheaper.py  ways out made cheaper
    way_costs.py    what a way out costs at least, before any search
    way_found.py    a way out: what changes, what it costs, a plan of it
    way_hours.py    hours that give: the day's, and somebody's
    way_less.py     what follows from a way out without a search
    way_plans.py    how soon a changed day can end
    way_search.py   the search for ways out
    way_shared.py   ways out of a small day made cheaper by sharing
    way_tight.py    minutes that a plan of a way out does not need
    way_typed.py    a way out as a change of the day file, and the proof that it is one
"""
