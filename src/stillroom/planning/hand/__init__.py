"""
The plan that a careful person would write: batch after batch, nothing moved.

Read `by_hand` first. It takes the batches in order, `hand_batch` places one, and
`free_time` knows who and what is free at which minute.

::

    by_hand.py       the plan a careful person would write
    free_time.py     who and what is free at which minutes, for planning by hand
    hand_batch.py    one batch placed by hand
    hand_chain.py    chains of one batch placed by hand
    hand_fires.py    fires of a chain of steps, for planning by hand
    hand_loads.py    jars into the canner, by hand
    hand_repeats.py  a batch that finds no room, planned by hand
"""
