"""
What waits for what in a plan, and why each thing begins when it does.

Read `precedence` first. It makes the network out of a timetable; the odds run through
it, and `why` walks it back from the end of the day.

::

    precedence.py           what waits for what in a plan
    because.py              a chain of reasons
    held_back.py            what is not begun far too soon, since what comes after it is
                            held until a minute
    load_names.py           loads as the kitchen calls them
    precedence_building.py  arcs of the network as they come
    precedence_net.py       the network of a plan as values
    precedence_nodes.py     steps, loads and rests of a plan as nodes
    precedence_ties.py      what ties them: links, loads, people, pots, burners
    why.py                  what holds a step, a load or the day at its minute, link by
                            link
    why_causes.py           everything that a node may have waited for
    why_walk.py             the walk back, link by link, along what was over last
"""
