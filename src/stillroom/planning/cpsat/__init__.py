"""
The day as a model for OR-Tools' CP-SAT; the planner searches nowhere else.

Read `solve` first. It is the door; `variables` and `constraints` are the model,
`improve` searches on in parts, and `replan_search` plans the rest of a day again.

::

    solve.py          the search: a full hint, then stage after stage
    aimed.py          all of a large day asked for a plan that ends by so much
    calm.py           free time in one piece, for the solver
    clash.py          when nothing fits: which rules cannot hold together
    constraints.py    the rules of the day for the solver, one small function each
    from_nothing.py   any plan at all of a large day for which none is at hand
    give.py           the least that must give, shared among the hours of a day at once
    improve.py        the large search made of small ones
    large_day.py      a large day: aims, then parts, then one more look
    last_look.py      all of a large day once more: a minute sooner, or none is
    loads.py          the canner for the solver
    moments.py        hurried moments in one person's hands, for the solver
    names.py          which pot, burner and mill, by colouring intervals
    neighbourhood.py  a part of a plan set free, the rest held
    objective.py      what is made small: the end of the day and lateness, and loads
    one_part.py       one such part searched for something better, by one thread
    people.py         people for the solver
    reach.py          how far what is held may move beside a part that is set free
    reading.py        a solution as a timetable, and a timetable as a hint
    replan_goal.py    what is made small while the rest of a day is planned again
    replan_hint.py    where the search begins
    replan_loads.py   loads of the rest of a day
    replan_model.py   the rest of a day that has begun, for the solver
    replan_near.py    a slip taken up near to where it is, the day beyond in one piece
    replan_search.py  the search for the rest of a day
    rest.py           the rest of a day as solver variables
    rinse_parts.py    washes that may be rinses as solver variables
    rinses.py         pots and mills only rinsed between batches of one product
    rounds.py         the parts of a plan searched in rounds by two workers
    ruled_out.py      what no plan can beat, by all rules of a day at once
    search.py         how to search for a plan, and what a search came to
    soonest.py        the soonest end of a day, and no more
    solving.py        how the solver is called, so that it can be broken off
    stages.py         one goal after another, in the keeper's order
    variables.py      a day's decisions as solver variables
    walking.py        one worker of the search by parts
    watcher.py        who keeps a search's trace, and tells of better plans
    which_batches.py  which batches at all, as one question to the solver
    whole.py          a small day searched as one whole by counted work
"""
