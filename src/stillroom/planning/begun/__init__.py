"""
A day that has begun: what was said of it, the old order put off, what is left.

Read `put_off` first. `happened`, at the top, holds what is done. Here it is read and
filled up from the plan, and the rest becomes a problem of its own in `residual`.

::

    absences.py       who is not there until some hour
    put_off.py        the old order kept, each thing put off as far as need be
    as_known.py       the day up to now from what somebody said, and from the plan where
                      nobody did
    as_planned.py     the day up to now, all to plan but for what was late
    burners_left.py   burners that are taken, from the minute on at which they are free
    changes.py        what turns out otherwise
    handed_on.py      work of somebody who is not there in other hands, and loads of a
                      broken canner elsewhere
    happened_file.py  what has happened, read from a file or from words
    happened_json.py  its text, its rows, and what is wrong with them
    held.py           what somebody's hands are on by now, or have been
    in_hand.py        what somebody has in hand, and what is left of it
    moved_rests.py    breaks and absences to come that begin at another hour
    limits_said.py    how the limits of a day that has begun are called
    loads_seen.py     loads that are in a canner by now, seen to boil or not
    not_free.py       what nobody said to have begun, where its pot or fire is taken
    other_tools.py    what has begun in a pot, on a mill or on a fire that is not free
    over.py           loads whose jars all broke or were given up, out without a process
    promised_anew.py  for whom the jars are of a day that goes otherwise, and which
                      promises lack some
    residual.py       what is left of a day that has begun, as a problem of its own
    too_much_at_once.py
                      what nobody said to have begun, and somebody has no hands for
    slipped.py        the day up to now where a few steps ended late and nothing else
                      was said
    warming.py        canners whose water warms for their next load, lit or not
    was_before.py     what was before something told, also where nobody told it
    was_out.py        what was out of its pot, as another is told to have come there
    who_goes.py       who says when she goes: what she ends first, what others take over
    weak_fires.py     what has begun on a fire that is weaker than it asks for
"""
