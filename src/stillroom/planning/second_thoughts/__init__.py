"""
Second thoughts: the rest of a day planned again, with least change.

Read `replan` first. It is the door, `replanned` says what matters of it, and
`leave_out` and `take_in` change which batches are made.

::

    replan.py          second thoughts
    before_its_hour.py  a day that was begun before its hour: the minutes before it are
                       used by whoever is there
    jars_kept_hot.py   empty jars that stand hot for longer than they should
    late_burners.py    burners that somebody else gets later: something is on them still
    leave_out.py       which batch to leave out when a day has slipped
    limits_over.py     longest waits and latest hours that a plan does not keep
    limit_words.py     what the judge says of a limit, in the words of the kitchen
    moves.py           what moves when a day is planned again
    moves_said.py      how much moves, in a few words
    no_room.py         what the planner leaves out of a day that has begun, and why
    overrun.py         planned absences that something in hand ran on into
    put_off_breaks.py  what the old order breaks where it is put off, and by how many
                       minutes
    replan_changed.py  the rest of a changed day planned again, and told beside the plan
                       as it was
    replanned.py       a day planned again beside the day as it was, and what matters of
                       it in words
    same_loads.py      which load of a plan made anew is which of the plan before
    standing_food.py   food that stands longer than it may, and what becomes of it
    take_in.py         a batch that was left out taken back into a day that has begun
    tools_kept.py      pots, fires and mills of the rest of a day by name
    until_it_fits.py   batches left out, the least wanted first, until the rest fits
"""
