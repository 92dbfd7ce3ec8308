"""
How good a plan is, in the keeper's order, and what makes it calmer at no cost.

Read `goals` first. Every figure is counted from the timetable. No search is begun here.

::

    goals.py        how good a plan is, goal by goal, in the keeper's order and in her
                    words
    by_the_hour.py  cautions that hang on the hours of a plan
    calm.py         what makes a plan calmer and costs nothing
    given_up.py     what a plan on the way had, and the one that is given has not
    free_pieces.py  when people are free while the day goes on, and in how many pieces
    lateness.py     by how much a plan misses the wants, and the figure that plans are
                    compared by
    moments.py      moments that cannot wait, in whose hands they are, and how near they
                    come together
    nobody_near.py  clocks of a plan that nobody is there to start or to heed
    other_hands.py  the same plan in other hands
    rests_apart.py  rests moved so that somebody is there when a clock of a load starts
                    or ends, and while a canner is under pressure
    stands_less.py  what stands until it is cooked, done closer to that
    unwatched.py    hours at which a canner is under pressure, and nobody who could see
                    to it is there
    what_is_better.py
                    two plans of one day: by which goal the other is better
    what_sooner_costs.py
                    what a plan that ends sooner would ask for
    who_does.py     who does what in a plan, kept so that one change of hands is quickly
                    weighed
"""
